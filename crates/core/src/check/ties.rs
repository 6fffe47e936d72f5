//! Notes that ring on across a repeat or a jump: what is tied in has to come from somewhere.

use std::collections::BTreeMap;

use super::violation::{Rule, Violation};
use crate::arrangement::{Score, ScoreNote};
use crate::time::Ticks;
use crate::tune::{Bar, playing_order};

/// Notes that are tied in, though no note played right before is tied out to them from the same place under the same
/// finger.
pub(super) fn broken(score: &Score) -> Vec<Violation> {
    let ends = ends_before(score.tune.bars());
    let tied_in = score.notes.iter().filter(|n| n.tied_in);
    tied_in
        .filter(|note| {
            let before = ends.get(&note.at).map_or(&[][..], Vec::as_slice);
            !score.notes.iter().any(|from| before.contains(&from.end()) && continues(from, note))
        })
        .map(|note| Violation::new(&score.tune, note.at, Rule::TiedToNothing(note.place)))
        .collect()
}

fn continues(from: &ScoreNote, note: &ScoreNote) -> bool {
    from.tied_out && from.place == note.place && from.touch == note.touch && from.finger == note.finger
}

/// For the beginning of every bar the ends of the bars that are played right before it.
fn ends_before(bars: &[Bar]) -> BTreeMap<Ticks, Vec<Ticks>> {
    let mut ends: BTreeMap<Ticks, Vec<Ticks>> = BTreeMap::new();
    for pair in playing_order(bars).windows(2) {
        let (end, start) = (bars[pair[0]].end(), bars[pair[1]].start);
        let known = ends.entry(start).or_default();
        if !known.contains(&end) {
            known.push(end);
        }
    }
    ends
}
