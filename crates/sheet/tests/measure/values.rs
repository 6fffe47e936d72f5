//! The written values of every note held against its length, and the ties on paper against the heads between which they
//! stand.

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_sheet::bar::BarContent;
use handspan_sheet::bar::collect::collect;
use handspan_sheet::bar::notation::StaffVoice;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::{Points, Rect};
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

/// Ties that do not lead from one head of a note to the next one, or over the edge of a line. Where a note is tied to
/// another place of the tune, open ties are right and nothing is looked for.
fn loose_ties(score: &Score, sheet: &Sheet) -> Vec<String> {
    if score.notes.iter().any(|note| note.tied_in || note.tied_out) {
        return Vec::new();
    }
    let mut faults = Vec::new();
    for line in sheet.pages.iter().flat_map(lines) {
        let ties = line.iter().filter(|(role, _)| *role == Role::Tie);
        let loose = ties.filter(|(_, tie)| !is_between(*tie, &line));
        faults.extend(loose.map(|(_, tie)| format!("the tie at {tie:?} leads nowhere")));
    }
    faults
}

/// Heads and ties of every line of music.
fn lines(page: &Frame) -> Vec<Vec<(Role, Rect)>> {
    let mut lines: Vec<Vec<(Role, Rect)>> = Vec::new();
    for (role, ink) in page.groups() {
        match role {
            Role::Notation => lines.push(Vec::new()),
            Role::Head(_) | Role::TiedHead(_) | Role::Tie => {
                lines.last_mut().into_iter().for_each(|line| line.push((role, ink)));
            }
            _ => {}
        }
    }
    lines
}

/// Whether a tie ends at a tied head and begins at a head of the same note or at the edge of the line, or begins at a head
/// and goes on over the edge.
fn is_between(tie: Rect, line: &[(Role, Rect)]) -> bool {
    let is_near = |head: &Rect| {
        let high = head.height();
        tie.top < head.bottom + high && head.top - high < tie.bottom
    };
    let heads = || {
        line.iter().filter_map(|(role, ink)| match role {
            Role::Head(note) | Role::TiedHead(note) => Some((*note, matches!(role, Role::TiedHead(_)), *ink)),
            _ => None,
        })
    };
    let begins_at =
        |head: &Rect| is_near(head) && head.left < tie.left && tie.left < head.right + head.width();
    let ends_at =
        |head: &Rect| is_near(head) && head.left - head.width() < tie.right && tie.right < head.right;
    let begins_with = |note| heads().any(|(other, _, ink)| other == note && begins_at(&ink));
    let first = heads().map(|(.., ink)| ink.left).fold(tie.right, Points::min);
    let from_before = |head: &Rect| head.left <= first + head.width();
    let mut ends = heads().filter(|(_, tied, ink)| *tied && ends_at(ink));
    let goes_on = heads().all(|(.., ink)| ink.left < tie.right) && heads().any(|(.., ink)| begins_at(&ink));
    goes_on || ends.any(|(note, _, ink)| begins_with(note) || from_before(&ink))
}
