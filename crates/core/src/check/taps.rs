//! Taps: what of the right hand taps cannot pluck as well.

use super::violation::{Rule, Violation};
use crate::arrangement::{Score, TapBy};
use crate::hand::RightFinger;
use crate::time::Ticks;
use crate::tune::Tune;

/// Taps without length, two at once, and taps that pluck at the same time.
pub(super) fn broken(score: &Score) -> Vec<Violation> {
    let mut violations = Vec::new();
    for (index, tap) in score.taps.iter().enumerate() {
        let mut say = |rule| violations.push(Violation::new(&score.tune, tap.at, rule));
        if tap.length <= Ticks::ZERO {
            say(Rule::TapWithoutLength);
        }
        if score.taps[..index].iter().any(|other| other.at == tap.at) {
            say(Rule::TwoTaps);
        }
        let mut plucked = score.notes.iter().filter(|n| n.at == tap.at && !n.tied_in);
        let busy = plucked.find(|n| tap.by == TapBy::Hand || n.pluck == Some(RightFinger::Thumb));
        if let Some(note) = busy {
            say(Rule::TapsAndPlucks(note.place.string));
        }
    }
    violations
}

/// The taps of `source` that do not stand in the score, in order of time.
pub fn taps(score: &Score, source: &Tune) -> Vec<Violation> {
    let given = source.written_out().map_or(&[][..], |written_out| &written_out.taps);
    let missing = given.iter().filter(|tap| !score.taps.iter().any(|kept| kept.at == tap.at));
    missing.map(|tap| Violation::new(source, tap.at, Rule::TapMissing)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrangement::ScoreTap;
    use crate::check::sample::score_of;
    use crate::harmony::ChordSymbol;

    fn sentences(by: TapBy, notes: &[&str]) -> Vec<String> {
        let mut score = score_of(notes, &ChordSymbol::NoChord);
        score.taps = vec![ScoreTap { at: Ticks::ZERO, length: Ticks::QUARTER, by }];
        broken(&score).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn what_taps_plucks_nothing() {
        assert_eq!(sentences(TapBy::Thumb, &["0 1 1 0 - i", "0 1 6 0 - m"]), [""; 0]);
        assert_eq!(
            sentences(TapBy::Thumb, &["0 1 1 0 - i", "0 1 6 0 - p"]),
            ["bar 1, beat 1: what plucks string 6 taps at the same time"]
        );
        assert_eq!(
            sentences(TapBy::Hand, &["0 1 1 0 - i"]),
            ["bar 1, beat 1: what plucks string 1 taps at the same time"]
        );
        assert_eq!(sentences(TapBy::Hand, &["1 1 1 0 - i"]), [""; 0]);
    }
}
