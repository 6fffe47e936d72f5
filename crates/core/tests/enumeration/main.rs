//! The enumeration finds every grip that exists and no other: on random cases it equals a plain product over strings,
//! frets and fingers, filtered by the independent judge.

#![expect(clippy::unwrap_used, reason = "a test says what is wrong by failing")]

mod case;
mod product;

use std::collections::BTreeSet;

use case::{Case, Cases};
use handspan_core::grip::{Grip, grips};
use handspan_core::hand::Finger;

/// How many cases are compared.
const CASES: usize = 1_600;

/// What the cases hold, to be sure that they ask something.
#[derive(Debug, Default)]
struct Shares {
    open: usize,
    barres: usize,
    thumbs: usize,
    held: usize,
    capos: usize,
    melodies: usize,
    /// The neck has the notes, but no hand holds them.
    impossible: usize,
    /// The neck has not the notes.
    nowhere: usize,
    strings: [usize; 9],
}

impl Shares {
    fn count(&mut self, case: &Case, voicings: usize, found: &BTreeSet<Grip>) {
        let any = |is: &dyn Fn(&Grip) -> bool| usize::from(found.iter().any(is));
        self.open += any(&|grip| grip.holds().any(|(_, hold)| hold.fret().is_open()));
        self.barres += any(&|grip| holds_several(grip));
        self.thumbs += any(&|grip| grip.stopped().any(|(_, finger)| finger == Finger::Thumb));
        self.held += usize::from(!case.wish.held.is_empty() && !found.is_empty());
        self.capos += usize::from(case.instrument.capo() > 0);
        self.melodies += usize::from(case.wish.melody.is_some() && !found.is_empty());
        self.impossible += usize::from(voicings > 0 && found.is_empty());
        self.nowhere += usize::from(voicings == 0);
        self.strings[case.instrument.string_count()] += usize::from(!found.is_empty());
    }

    /// The generator is tested too: every kind of case has its share, in percent.
    fn assert_all_there(&self) {
        let percent = |count: usize| 100 * count / CASES;
        assert!(percent(self.open) >= 30, "{self:?}");
        assert!(percent(self.barres) >= 30, "{self:?}");
        assert!(percent(self.thumbs) >= 5, "{self:?}");
        assert!(percent(self.held) >= 10, "{self:?}");
        assert!(percent(self.capos) >= 30, "{self:?}");
        assert!(percent(self.melodies) >= 20, "{self:?}");
        assert!(percent(self.impossible) >= 3, "{self:?}");
        assert!(percent(self.nowhere) <= 50, "{self:?}");
        assert!(self.strings[4..=8].iter().all(|count| percent(*count) >= 5), "{self:?}");
    }
}

/// Whether a finger holds more than one string.
fn holds_several(grip: &Grip) -> bool {
    let fingers: BTreeSet<Finger> = grip.stopped().map(|(_, finger)| finger).collect();
    fingers.len() < grip.stopped().count()
}

#[test]
fn enumeration_equals_the_filtered_product() {
    let mut shares = Shares::default();
    let small_enough = Cases::new(0x5EED).filter_map(|case| {
        let voicings = product::voicings(&case)?;
        Some((case, voicings))
    });
    for (number, (case, voicings)) in small_enough.take(CASES).enumerate() {
        let expected = product::grips(&case, &voicings);
        let listed = grips(&case.instrument, &case.hand, &case.wish);
        let found: BTreeSet<Grip> = listed.iter().copied().collect();
        assert_eq!(listed.len(), found.len(), "case {number} lists a grip twice: {case:?}");
        let missing: Vec<&Grip> = expected.difference(&found).collect();
        let wrong: Vec<&Grip> = found.difference(&expected).collect();
        assert!(
            missing.is_empty() && wrong.is_empty(),
            "case {number}: missing {missing:?}, not to be held {wrong:?}, of {case:?}"
        );
        shares.count(&case, voicings.len(), &found);
    }
    println!("{shares:?}");
    shares.assert_all_there();
}
