//! Results and refusals as a musician would say them.

use handspan_core::arrangement::{Arrangement, Ease, GiveWay, GiveWayReason, Impossible, LieFound, LieRow};
use handspan_core::demand::Part;
use handspan_core::harmony::Key;
use handspan_core::neck::Instrument;
use handspan_core::pitch::Interval;
use handspan_core::tune::Tune;

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

/// A tune by its title, where it has one.
pub(crate) const fn named(title: &str) -> &str {
    if title.is_empty() { "The tune" } else { title }
}

/// What came of a tune: one line, then a line for everything that gave way.
pub(crate) fn arrangement(title: &str, instrument: &Instrument, arrangement: &Arrangement) -> Vec<String> {
    let title = named(title);
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

/// What is said of locks that options of a command release.
pub(crate) fn released(count: usize) -> String {
    format!(
        "{} of the project released: in another key or tuning, or with another capo, its notes lie elsewhere.",
        counted(count, "lock")
    )
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
    let mut lines =
        vec![["", "frets", "fingers", "notes", "effort", "term by term"].map(str::to_owned).to_vec()];
    for (index, row) in rows.enumerate() {
        let terms = row.terms.0.iter().map(|(name, points)| format!("{name} {}", signed(*points)));
        lines.push(vec![
            (index + 1).to_string(),
            joined(row.frets.iter().map(|f| f.map(|f| f.to_string()))),
            joined(row.fingers.iter().map(|f| f.as_ref().map(ToString::to_string))),
            row.names.join(" "),
            signed(row.effort),
            terms.collect::<Vec<_>>().join(", "),
        ]);
    }
    aligned(&lines, &[1, 2, 3])
}

/// Lines with their columns aligned: texts at the left, the others, numbers, at the right. The last cell of a line takes
/// the room it needs.
fn aligned(lines: &[Vec<String>], texts: &[usize]) -> Vec<String> {
    let width = |column: usize| {
        let cells = lines.iter().filter(|cells| column + 1 < cells.len()).map(|cells| &cells[column]);
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let cell = |(column, text): (usize, &String)| match width(column) {
        width if texts.contains(&column) => format!("{text:width$}"),
        width => format!("{text:>width$}"),
    };
    let line = |cells: &Vec<String>| cells.iter().enumerate().map(cell).collect::<Vec<_>>().join("  ");
    lines.iter().map(|cells| line(cells).trim_end().to_owned()).collect()
}

/// A table of keys, tunings and capo positions, its columns aligned.
pub(crate) fn lie_table(tune: &Tune, rows: &[LieRow]) -> Vec<String> {
    const TITLES: [[&str; 13]; 2] = [
        ["", "", "gripped", "", "", "", "", "open", "inner", "gives", "melody", "hardest", ""],
        [
            "", "key", "as", "tuning", "capo", "moved", "effort", "basses", "notes", "way", "to fret",
            "move", "where",
        ],
    ];
    let mut lines: Vec<Vec<String>> =
        TITLES.iter().map(|titles| titles.map(str::to_owned).to_vec()).collect();
    for (index, LieRow { lie, found }) in rows.iter().enumerate() {
        let (gripped, capo) = match lie.instrument.capo() {
            0 => (String::new(), "-".to_owned()),
            fret => (key_moved(tune, lie.gripped()), fret.to_string()),
        };
        let (rank, rest) = match found {
            LieFound::Easiest(ease) => ((index + 1).to_string(), eased(tune, ease)),
            other => (String::new(), other.why_not().into_iter().collect()),
        };
        let moved = match lie.transpose.semitones() {
            up if up > 0 => format!("+{up}"),
            down => signed(down.into()),
        };
        let tuning = lie.instrument.tuning().name().to_owned();
        let mut cells = vec![rank, key_moved(tune, lie.transpose), gripped, tuning, capo, moved];
        cells.extend(rest);
        lines.push(cells);
    }
    aligned(&lines, &[1, 2, 3])
}

/// The cells of a row that was searched.
fn eased(tune: &Tune, ease: &Ease) -> Vec<String> {
    let (at, hardest) = ease.hardest.unzip();
    vec![
        signed(ease.effort.points()),
        format!("{} of {}", ease.open_basses, ease.basses),
        ease.inner_notes.to_string(),
        ease.give_ways.to_string(),
        ease.highest_fret.to_string(),
        hardest.map_or_else(String::new, |effort| signed(effort.points())),
        at.map_or_else(String::new, |at| tune.bar_beat(at).to_string()),
    ]
}

/// The key that a tune begins in, once it is moved.
pub(crate) fn key_moved(tune: &Tune, interval: Interval) -> String {
    tune.bars().first().map_or(Key::default(), |bar| bar.key).transposed(interval).0.to_string()
}

/// How many rows have no route, by their reasons; none where every one has.
pub(crate) fn left_out(rows: &[LieRow]) -> Option<String> {
    let count = |is: fn(&LieFound) -> bool| rows.iter().filter(|row| is(&row.found)).count();
    let told = [
        (
            count(|found| matches!(found, LieFound::BassesGiveWay(_))),
            "where more basses would have to give way than in the best (not searched)",
        ),
        (count(|found| *found == LieFound::OutOfRange), "where not all of the melody lies on the neck"),
        (count(|found| *found == LieFound::NoRoute), "where no hand can hold what is tied over a repeat"),
    ];
    let told = told.iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!("{count} {what}"));
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("Left out: {}.", told.join(", ")))
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
