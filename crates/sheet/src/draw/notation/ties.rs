//! Ties between note heads, half ones at the ends of a line included.

use handspan_core::arrangement::Score;

use super::heads::Way;
use super::{SPACE, Steps, steps, y_of};
use crate::bar::BarContent;
use crate::bar::notation::{Notation, StaffVoice};
use crate::draw::ties::bow;
use crate::frame::{Group, Role};
use crate::points::Points;
use crate::rhythm::Kind;
use crate::system::Line;

/// Takes one of the two voices of a bar.
type VoiceOf = fn(&Notation) -> &StaffVoice;

/// The length of an open tie.
pub(crate) const OPEN: f64 = 2.0;

/// Draws the open ties of notes that ring on while their voice goes on: a short bow into the white to the right of an
/// edge, the sign that handbooks give for letting a note ring.
pub(crate) fn open(places: impl Iterator<Item = Steps>, way: Way, edge: Points, into: &mut Group) {
    let up = if way == Way::Up { 1.0 } else { -1.0 };
    for place in places {
        let y = y_of(place) - SPACE * (0.3 * up);
        into.push(Group::of(Role::Tie, bow(edge + SPACE * 0.3, edge + SPACE * (OPEN - 0.2), y, up)));
    }
}

/// Draws the ties of both voices; the melody's bow upwards, the others downwards.
pub(crate) fn ties(score: &Score, contents: &[BarContent], line: &Line, into: &mut Group) {
    let voices: [(VoiceOf, f64); 2] = [(|n| &n.upper, 1.0), (|n| &n.lower, -1.0)];
    for (voice_of, up) in voices {
        let tie = |notes: &[usize], from: Points, to: Points, into: &mut Group| {
            for index in notes {
                let y = y_of(steps(score.notes[*index].written)) - SPACE * (0.62 * up);
                into.push(Group::of(Role::Tie, bow(from + SPACE * 0.5, to - SPACE * 0.5, y, up)));
            }
        };
        let mut before: Option<Points> = None;
        for placed in &line.bars {
            let content = &contents[placed.bar];
            let Some(notation) = &content.notation else { continue };
            let voice = voice_of(notation);
            for (element, notes) in voice.voice.elements.iter().zip(&voice.notes) {
                let start = score.tune.bars()[placed.bar].start + element.at;
                let column = content.columns.iter().position(|c| c.at == start);
                let x = column.map_or(placed.left, |column| placed.columns[column]);
                if element.kind == Kind::Tied {
                    tie(notes, before.unwrap_or(x - SPACE * 3.5), x, into);
                }
                before = Some(x);
            }
        }
        let next = line.bars.last().and_then(|b| contents.get(b.bar + 1)).and_then(|c| c.notation.as_ref());
        let first = next.map(voice_of).and_then(|v| Some((v.voice.elements.first()?, v.notes.first()?)));
        if let (Some(x), Some((element, notes))) = (before, first)
            && element.kind == Kind::Tied
        {
            tie(notes, x, line.width + SPACE * 0.4, into);
        }
    }
}
