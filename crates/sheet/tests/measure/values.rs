//! The written values of every note held against its length, and the ties on paper against the heads between which they
//! stand.

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_sheet::bar::BarContent;
use handspan_sheet::bar::collect::collect;
use handspan_sheet::bar::notation::StaffVoice;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::Rect;
use handspan_sheet::rhythm::{Element, Kind, Tuplet};
use handspan_sheet::{Sheet, SheetOptions};

/// How long an element lasts as it is written.
fn written(element: &Element, tuplets: &[Tuplet]) -> Ticks {
    let length = element.value.length().count();
    let tuplet = element.tuplet.map(|index| &tuplets[index]);
    Ticks::new(tuplet.map_or(length, |t| length * i64::from(t.normal) / i64::from(t.actual)))
}

/// When every note's heads begin and how long they last together as written, by the index of the note.
fn heads(score: &Score, contents: &[BarContent]) -> BTreeMap<usize, (Vec<Ticks>, Ticks)> {
    let mut heads: BTreeMap<usize, (Vec<Ticks>, Ticks)> = BTreeMap::new();
    for content in contents {
        let start = score.tune.bars()[content.bar].start;
        for StaffVoice { voice, notes, .. } in content.notation.iter().flat_map(|n| &n.voices) {
            for (element, notes) in voice.elements.iter().zip(notes) {
                for note in notes {
                    let (times, length) = heads.entry(*note).or_default();
                    times.push(element.at + start);
                    *length += written(element, &voice.tuplets);
                }
            }
        }
    }
    heads
}

/// What is wrong with values and ties, as sentences.
pub(crate) fn faults(score: &Score, options: &SheetOptions, sheet: &Sheet) -> Vec<String> {
    let contents = collect(score, options.layout, 0);
    let heads = heads(score, &contents);
    let lengths = score.notes.iter().enumerate().filter_map(|(note, found)| {
        let (times, written) = heads.get(&note)?;
        let whole = *written == found.length && times[0] == found.at;
        (!whole).then(|| {
            format!(
                "note {note} at {:?}, {:?} long, is written {written:?} from {times:?}",
                found.at, found.length
            )
        })
    });
    let voices = contents.iter().filter_map(|content| content.notation.as_ref()).flat_map(|n| &n.voices);
    let lonely = voices.filter(|voice| {
        let elements = &voice.voice.elements;
        let sounds = |index| elements.iter().any(|e| e.tuplet == Some(index) && e.kind != Kind::Rest);
        (0..voice.voice.tuplets.len())
            .any(|index| sounds(index) && voice.drawn().filter(|(_, e)| e.tuplet == Some(index)).count() < 2)
    });
    let lonely = lonely.map(|voice| format!("a tuplet of a single value in {:?}", voice.voice));
    lengths.chain(lonely).chain(loose_ties(score, sheet)).collect()
}

/// Ties that do not lead from one head of a note to the next one, or over the edge of a line.
fn loose_ties(score: &Score, sheet: &Sheet) -> Vec<String> {
    let elsewhere = score.notes.iter().any(|note| note.tied_in || note.tied_out);
    let mut faults = Vec::new();
    for (role, ink) in sheet.pages.iter().flat_map(lines).flat_map(|line| {
        let (heads, ties): (Vec<_>, Vec<_>) = line.into_iter().partition(|(role, _)| *role != Role::Tie);
        let loose = ties.into_iter().filter(move |(_, tie)| !is_between(*tie, &heads));
        loose.collect::<Vec<_>>()
    }) {
        if !elsewhere {
            faults.push(format!("{role:?} at {ink:?} leads nowhere"));
        }
    }
    faults
}

/// Staff, heads and ties of every line of music.
fn lines(page: &Frame) -> Vec<Vec<(Role, Rect)>> {
    let mut lines: Vec<Vec<(Role, Rect)>> = Vec::new();
    for (role, ink) in page.groups() {
        match role {
            Role::Notation => lines.push(Vec::new()),
            // The rhythm under a tablature has ties of its own.
            Role::System(_) => {}
            Role::Staff | Role::Head(_) | Role::TiedHead(_) | Role::Tie => {
                lines.last_mut().into_iter().for_each(|line| line.push((role, ink)));
            }
            _ => {}
        }
    }
    lines
}

/// Whether a tie ends at a tied head, and begins at a head of the same note or at the edge of the line, or the other
/// way about.
fn is_between(tie: Rect, others: &[(Role, Rect)]) -> bool {
    let near = |head: &Rect| {
        let high = head.height();
        tie.top < head.bottom + high && head.top - high < tie.bottom
    };
    let note = |role| match role {
        Role::Head(note) | Role::TiedHead(note) => Some(note),
        _ => None,
    };
    let heads = || others.iter().filter_map(|(role, ink)| Some((note(*role)?, *role, *ink)));
    let at_left = |note| {
        heads().any(|(other, _, ink)| {
            other == note && near(&ink) && ink.left < tie.left && tie.left < ink.right + ink.width()
        })
    };
    let ends = heads().filter(|(_, role, ink)| {
        matches!(role, Role::TiedHead(_))
            && near(ink)
            && ink.left - ink.width() < tie.right
            && tie.right < ink.right
    });
    let first = heads().map(|(.., ink)| ink.left).reduce(handspan_sheet::points::Points::min);
    let mut ends = ends.peekable();
    let goes_on = ends.peek().is_none()
        && heads().any(|(note, ..)| at_left(note))
        && heads().all(|(.., ink)| ink.left < tie.right);
    goes_on
        || ends
            .any(|(note, _, ink)| at_left(note) || first.is_some_and(|first| ink.left <= first + ink.width()))
}
