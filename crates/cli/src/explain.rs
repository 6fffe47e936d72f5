//! Results and refusals as a musician would say them.

use handspan_core::arrangement::{Arrangement, GiveWay, GiveWayReason, Impossible};
use handspan_core::demand::Part;
use handspan_core::neck::Instrument;
use handspan_core::pitch::Interval;

use crate::json::VoicingJson;

/// Why a demand gave way.
pub(crate) const fn give_way_reason(reason: GiveWayReason) -> &'static str {
    match reason {
        GiveWayReason::NoRoomBelowMelody => "the guitar has no such note below the melody",
        GiveWayReason::OutOfReach => "no hand holds it together with the melody and what rings on",
        GiveWayReason::NotWorthItsEffort => "it would cost a more important part or a far harder way",
        GiveWayReason::LetGo => "no hand can hold it on and play what follows; it ends here",
        GiveWayReason::CutAtSeam => "it ends here, where playing may go on elsewhere",
        GiveWayReason::LockedOtherwise => "something else is locked in its place",
        GiveWayReason::MarkRefused => {
            "no hand can hold these notes as they are marked; its marks are not kept"
        }
        GiveWayReason::ThumbPlucks => "the thumb plucks there and cannot tap",
        GiveWayReason::HarmonicRefused => {
            "no hand can play it there as a harmonic; it is played as an ordinary note"
        }
    }
}

/// `bar 7, beat 2: the bass gives way: the guitar has no such note below the melody`.
fn give_way(give_way: &GiveWay) -> String {
    format!(
        "{}: the {} gives way: {}",
        give_way.bar_beat,
        give_way.part.name(),
        give_way_reason(give_way.reason)
    )
}

/// The transpositions that would work, where the melody cannot be played as asked.
pub(crate) fn transpositions(why: &Impossible) -> &[Interval] {
    match why {
        Impossible::OutOfRange { transpositions, .. } => transpositions,
        Impossible::NoMelody
        | Impossible::WrittenOut
        | Impossible::BeyondMidi(_)
        | Impossible::Lock { .. } => &[],
    }
}

/// What came of a tune: one line, then a line for everything that gave way.
pub(crate) fn arrangement(title: &str, instrument: &Instrument, arrangement: &Arrangement) -> Vec<String> {
    let title = if title.is_empty() { "The tune" } else { title };
    let capo = match instrument.capo() {
        0 => String::new(),
        fret => format!(", capo at fret {fret}"),
    };
    let proven =
        if arrangement.proven { "the easiest route there is" } else { "the easiest route found so far" };
    let first = format!(
        "{title}, for guitar in {} tuning{capo}: {}, effort {}, {proven}.",
        instrument.tuning().name(),
        counted(arrangement.moments.len(), "moment"),
        arrangement.effort
    );
    let given = &arrangement.give_ways;
    let mut lines = vec![first];
    if !given.is_empty() {
        let stands = if arrangement.score.tune.written_out().is_some() {
            "All else stands as written"
        } else {
            "The melody stands as written"
        };
        lines.push(format!("{stands}; {} gave way:", counted(given.len(), "demand")));
        lines.extend(given.iter().map(|g| format!("  {}", give_way(g))));
    }
    lines.extend(cut_short(arrangement));
    lines
}

/// `4 of 32 basses and 9 of 71 inner notes end before the next stroke, because the hand goes on.`
fn cut_short(arrangement: &Arrangement) -> Option<String> {
    let of = |part: Part| {
        let cut = arrangement.cut_short.iter().filter(|(_, cut)| *cut == part).count();
        (cut, arrangement.score.notes.iter().filter(|note| note.part == part).count())
    };
    let told = |(cut, all): (usize, usize), noun: &str| format!("{cut} of {}", counted(all, noun));
    let (basses, inner) = (of(Part::Bass), of(Part::Inner));
    let which = match (basses.0, inner.0) {
        (0, 0) => return None,
        (_, 0) => told(basses, "bass"),
        (0, _) => told(inner, "inner note"),
        _ => format!("{} and {}", told(basses, "bass"), told(inner, "inner note")),
    };
    Some(format!("{which} end before the next stroke, because the hand goes on."))
}

/// `1 moment`, `3 moments`.
pub(crate) fn counted(count: usize, noun: &str) -> String {
    let plural = match (count, noun.ends_with('s')) {
        (1, _) => "",
        (_, true) => "es",
        (_, false) => "s",
    };
    format!("{count} {noun}{plural}")
}

/// A table of voicings, a line each, its columns aligned.
pub(crate) fn voicing_table(rows: impl Iterator<Item = VoicingJson>) -> Vec<String> {
    let titles = ["", "frets", "fingers", "notes", "effort"].map(str::to_owned);
    let mut lines = vec![(titles, "term by term".to_owned())];
    for (index, row) in rows.enumerate() {
        let cells = [
            (index + 1).to_string(),
            joined(row.frets.iter().map(|f| f.map(|f| f.to_string()))),
            joined(row.fingers.iter().map(|f| f.as_ref().map(ToString::to_string))),
            row.names.join(" "),
            signed(row.effort),
        ];
        let terms: Vec<String> =
            row.terms.0.iter().map(|(name, points)| format!("{name} {}", signed(*points))).collect();
        lines.push((cells, terms.join(", ")));
    }
    let width =
        |column: usize| lines.iter().map(|(cells, _)| cells[column].chars().count()).max().unwrap_or(0);
    let widths = [0, 1, 2, 3, 4].map(width);
    let line = |(cells, terms): &([String; 5], String)| {
        let [number, frets, fingers, notes, effort] = cells;
        let [w0, w1, w2, w3, w4] = widths;
        format!("{number:>w0$}  {frets:w1$}  {fingers:w2$}  {notes:w3$}  {effort:>w4$}  {terms}")
    };
    lines.iter().map(line).collect()
}

/// Strings from the lowest on, x where silent; with dashes between where a fret has two figures.
fn joined(strings: impl Iterator<Item = Option<String>>) -> String {
    let cells: Vec<String> = strings.map(|s| s.unwrap_or_else(|| "x".to_owned())).collect();
    let wide = cells.iter().any(|cell| cell.len() > 1);
    cells.join(if wide { "-" } else { "" })
}

/// A number of points with a real minus sign.
fn signed(points: i32) -> String {
    points.to_string().replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_are_joined_as_players_write_them() {
        let strings = |frets: [Option<u8>; 4]| joined(frets.iter().map(|f| f.map(|f| f.to_string())));
        assert_eq!(strings([None, Some(3), Some(2), Some(0)]), "x320");
        assert_eq!(strings([None, Some(10), Some(12), Some(0)]), "x-10-12-0");
    }
}
