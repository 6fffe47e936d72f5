//! Ties between note heads, half ones at the ends of a line included.

use handspan_core::arrangement::Score;

use super::{SPACE, steps, y_of};
use crate::bar::BarContent;
use crate::bar::notation::{Notation, StaffVoice};
use crate::draw::ties::bow;
use crate::frame::{Group, Role};
use crate::points::Points;
use crate::rhythm::Kind;
use crate::system::Line;

/// Takes one of the two voices of a bar.
type VoiceOf = fn(&Notation) -> &StaffVoice;

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
