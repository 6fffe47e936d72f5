//! Why no hand holds a voicing: the fingering that comes closest, and the rules that it still breaks.

use super::grip::grip as faults_of;
use super::left::GripFault;
use crate::grip::{Grip, Hold, Voicing};
use crate::hand::{Finger, Hand};
use crate::neck::geometry::Micrometres;
use crate::neck::{Instrument, Place};

/// The fingering of a voicing that breaks the fewest rules, with the rules that it breaks.
///
/// Only fingerings in the natural order are compared: finger by finger up the neck, at one fret from the bass to the
/// treble. So the rules are the answer to "why not" where nothing can be held; whether something can be held is told by
/// every fingering ([`crate::grip::ways_to_hold`]), also those with neighbours reversed.
pub fn least_wrong(instrument: &Instrument, hand: &Hand, voicing: &Voicing) -> (Grip, Vec<GripFault>) {
    let open = voicing.places().filter(|place| place.fret.is_open());
    let mut stopped: Vec<Place> = voicing.places().filter(|place| !place.fret.is_open()).collect();
    stopped.sort_by_key(|place| (place.fret, std::cmp::Reverse(place.string)));
    let mut search = Search { instrument, hand, stopped, best: None };
    search.place(0, Finger::Index, Grip::from_holds(open.map(|place| (place.string, Hold::OPEN))));
    search.best.map_or_else(|| (Grip::SILENT, Vec::new()), |(_, grip, faults)| (grip, faults))
}

/// How wrong a fingering is: what breaks its rules, how many rules it breaks, how much reach it lacks.
type Wrong = (usize, usize, Micrometres);

/// How wrong a broken rule is: a longer hand would reach farther, but no finger is in two places.
const fn weight(fault: &GripFault) -> usize {
    match fault {
        GripFault::OutOfReach { .. } => 0,
        GripFault::TwoPlaces { .. } => 4,
        _ => 1,
    }
}

struct Search<'a> {
    instrument: &'a Instrument,
    hand: &'a Hand,
    stopped: Vec<Place>,
    best: Option<(Wrong, Grip, Vec<GripFault>)>,
}

impl Search<'_> {
    /// Gives fingers to the places from `next` on, none lower than `from`.
    fn place(&mut self, next: usize, from: Finger, grip: Grip) {
        let Some(place) = self.stopped.get(next).copied() else {
            self.judge(grip);
            return;
        };
        let with = |finger| grip.with(&Grip::from_holds([(place.string, Hold::stopped(place.fret, finger))]));
        if self.hand.thumb && place.string == self.instrument.lowest_string() {
            self.place(next + 1, from, with(Finger::Thumb));
        }
        for finger in Finger::FOUR.into_iter().filter(|finger| *finger >= from) {
            self.place(next + 1, finger, with(finger));
        }
    }

    fn judge(&mut self, grip: Grip) {
        let faults = faults_of(self.instrument, self.hand, &grip);
        let beyond = faults.iter().filter_map(|fault| match fault {
            GripFault::OutOfReach { apart, limit, .. } => Some(*apart - *limit),
            _ => None,
        });
        let broken = faults.iter().map(weight).sum();
        let wrong = (broken, faults.len(), beyond.max().unwrap_or_default());
        if self.best.as_ref().is_none_or(|(least, ..)| wrong < *least) {
            self.best = Some((wrong, grip, faults));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::HandSize;

    #[track_caller]
    fn check(text: &str, sentence: &str) {
        let voicing: Voicing = text.parse().unwrap();
        let (grip, faults) = least_wrong(&Instrument::classical(), &Hand::default(), &voicing);
        assert_eq!(grip.voicing(), voicing);
        let sentences: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(sentences.join("; "), sentence, "{text}");
    }

    #[test]
    fn what_can_be_held_breaks_no_rule() {
        check("x32010", "");
        check("000000", "");
        check("133211", "");
    }

    #[test]
    fn the_rule_that_forbids_it_is_named() {
        check("1-x-x-x-x-9", "fingers 1 and 4 are 229.0 mm apart, farther than the 137.5 mm they reach");
        check("2-4-0-3-2-4", "the barre of finger 1 at fret 2 lies over string 4 open");
    }

    #[test]
    fn a_larger_hand_is_asked_for_nothing_it_can_do() {
        let stretch: Voicing = "1-x-x-x-x-5".parse().unwrap();
        let faults = |size| {
            let hand = Hand { size, ..Hand::default() };
            least_wrong(&Instrument::classical(), &hand, &stretch).1.len()
        };
        assert_eq!((faults(HandSize::Small), faults(HandSize::Large)), (1, 0));
    }
}
