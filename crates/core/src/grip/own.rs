//! A grip that a player puts together: every way to hold it, and what is nearest where there is none.

use super::effort::GripEffort;
use super::fingering::fingerings;
use super::grip::Grip;
use super::reach::Reach;
use super::strain::grip_effort;
use super::voicing::Voicing;
use crate::harmony::ToneSet;
use crate::neck::{Fret, Place, StringIndex};
use crate::pitch::Pitch;

/// Every way for a hand to hold a voicing, the easiest first; ties go to the lower grip. Empty where there is none.
pub fn ways_to_hold(reach: &Reach, voicing: &Voicing) -> Vec<(Grip, GripEffort)> {
    let mut ways = Vec::new();
    fingerings(reach, voicing, &Grip::SILENT, |grip| ways.push((grip, grip_effort(reach, &grip))));
    ways.sort_by_key(|(grip, effort)| (effort.total(), *grip));
    ways
}

/// A grip near a voicing that no hand holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Nearest {
    /// The grip, in its easiest fingering.
    pub grip: Grip,
    /// What it costs.
    pub effort: GripEffort,
    /// How many strings are other than in the voicing.
    pub changed: usize,
}

/// The grip that comes nearest to a voicing: with the fewest strings changed, then with the least effort.
///
/// A string is changed by falling silent or by sounding at another fret, where it sounds one of the notes of the
/// voicing in any octave, so that the harmony stays. The highest pitch stays as it is as long as anything else can
/// give way: the tune lies there. None where not even one string can be held.
pub fn nearest(reach: &Reach, voicing: &Voicing) -> Option<Nearest> {
    let top = voicing.places().max_by_key(|place| (reach.instrument().sounding(*place), place.string));
    [top, None].into_iter().find_map(|kept| nearest_keeping(reach, voicing, kept.map(|place| place.string)))
}

fn nearest_keeping(reach: &Reach, voicing: &Voicing, kept: Option<StringIndex>) -> Option<Nearest> {
    let mut search = Search { reach, voicing, choices: choices(reach, voicing, kept), best: None };
    for changes in 0..voicing.len() {
        search.change(changes, 0, *voicing);
        if let Some((effort, grip)) = search.best {
            debug_assert_eq!(effort, grip_effort(reach, &grip), "the effort is the grip's");
            return Some(Nearest { grip, effort, changed: changes });
        }
    }
    None
}

/// What else every sounding string could do: nothing, or sound one of the notes elsewhere.
fn choices(
    reach: &Reach,
    voicing: &Voicing,
    kept: Option<StringIndex>,
) -> Vec<(StringIndex, Vec<Option<Fret>>)> {
    let instrument = reach.instrument();
    let tones: ToneSet = voicing.pitches(instrument).map(Pitch::class).collect();
    let frets = || (0..=instrument.last_fret().number()).map(Fret::new);
    let of = |place: Place| {
        let sounds = |fret: &Fret| {
            let there = instrument.sounding(Place { fret: *fret, ..place });
            *fret != place.fret && there.is_some_and(|pitch| tones.contains(pitch.class()))
        };
        let elsewhere = frets().filter(sounds).map(Some);
        (place.string, elsewhere.chain([None]).collect())
    };
    voicing.places().filter(|place| Some(place.string) != kept).map(of).collect()
}

struct Search<'a> {
    reach: &'a Reach,
    voicing: &'a Voicing,
    choices: Vec<(StringIndex, Vec<Option<Fret>>)>,
    best: Option<(GripEffort, Grip)>,
}

impl Search<'_> {
    /// Changes so many strings more, from the `from`th on.
    fn change(&mut self, changes: usize, from: usize, voicing: Voicing) {
        if changes == 0 {
            self.weigh(&voicing);
            return;
        }
        for index in from..self.choices.len() {
            let (string, frets) = self.choices[index].clone();
            for fret in frets {
                let mut changed = voicing;
                changed.set(string, fret);
                self.change(changes - 1, index + 1, changed);
            }
        }
    }

    fn weigh(&mut self, voicing: &Voicing) {
        if voicing.is_empty() || !self.keeps_top(voicing) || !within_reach(self.reach, voicing) {
            return;
        }
        fingerings(self.reach, voicing, &Grip::SILENT, |grip| {
            let effort = grip_effort(self.reach, &grip);
            let key = |(effort, grip): (GripEffort, Grip)| (effort.total(), grip);
            if self.best.is_none_or(|best| key((effort, grip)) < key(best)) {
                self.best = Some((effort, grip));
            }
        });
    }

    /// Whether nothing sounds above what was highest.
    fn keeps_top(&self, voicing: &Voicing) -> bool {
        let highest = |v: &Voicing| v.pitches(self.reach.instrument()).max();
        highest(voicing) <= highest(self.voicing)
    }
}

/// Whether the outer stopped frets are no farther apart than any two digits reach: most of what fails does so here.
fn within_reach(reach: &Reach, voicing: &Voicing) -> bool {
    let stopped = || voicing.places().map(|place| place.fret).filter(|fret| !fret.is_open());
    // The thumb may stand apart from the rest.
    let lowest = stopped().min().filter(|_| !reach.hand().thumb);
    lowest.is_none_or(|lowest| stopped().all(|fret| reach.around(lowest).contains(fret)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::neck::Instrument;

    fn reach() -> Reach {
        Reach::new(&Instrument::classical(), &Hand::default())
    }

    fn voicing(text: &str) -> Voicing {
        text.parse().unwrap()
    }

    #[test]
    fn ways_are_easiest_first_and_all_hold_the_voicing() {
        let ways = ways_to_hold(&reach(), &voicing("x32010"));
        assert!(ways.len() > 1);
        assert!(ways.windows(2).all(|pair| pair[0].1.total() <= pair[1].1.total()));
        assert!(ways.iter().all(|(grip, _)| grip.voicing() == voicing("x32010")));
    }

    #[test]
    fn what_can_be_held_is_nearest_to_itself() {
        let near = nearest(&reach(), &voicing("320003")).unwrap();
        assert_eq!((near.grip.voicing(), near.changed), (voicing("320003"), 0));
    }

    #[test]
    fn one_string_gives_way_before_two() {
        // From fret 1 to fret 9 reaches no hand; the outer strings cannot both stay.
        let asked = voicing("1-x-x-2-3-9");
        assert!(ways_to_hold(&reach(), &asked).is_empty());
        let near = nearest(&reach(), &asked).unwrap();
        assert!(near.changed >= 1);
        let fewer = (1..near.changed).flat_map(|changes| every_change(&asked, changes));
        assert!(fewer.into_iter().all(|changed| ways_to_hold(&reach(), &changed).is_empty()));
    }

    #[test]
    fn the_nearest_is_the_easiest_of_those_as_near() {
        for text in ["1-x-x-2-3-9", "1-5-2-6-3-7", "1-2-3-4-1-2", "x-9-x-2-x-1"] {
            let asked = voicing(text);
            let near = nearest(&reach(), &asked).unwrap();
            assert!(ways_to_hold(&reach(), &asked).is_empty(), "{text}");
            let best = every_change(&asked, near.changed)
                .into_iter()
                .flat_map(|changed| ways_to_hold(&reach(), &changed))
                .map(|(grip, effort)| (effort.total(), grip))
                .min()
                .unwrap();
            assert_eq!((near.effort.total(), near.grip), best, "{text}");
        }
    }

    /// Plainly: every voicing that differs in so many strings, keeps the notes and has the same top.
    fn every_change(asked: &Voicing, changes: usize) -> Vec<Voicing> {
        let reach = reach();
        let instrument = reach.instrument();
        let classes: ToneSet = asked.pitches(instrument).map(Pitch::class).collect();
        let top = asked.pitches(instrument).max();
        let mut all = vec![Voicing::SILENT];
        for string in instrument.strings() {
            let mut choices = vec![None];
            if asked.fret(string).is_some() {
                choices.extend((0..=19).map(|fret| Some(Fret::new(fret))));
            }
            let extend = |voicing: &Voicing| {
                let more = choices.iter().map(|fret| {
                    let mut with = *voicing;
                    with.set(string, *fret);
                    with
                });
                more.filter(|v| differences(v, asked, string) <= changes).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(extend).collect();
        }
        all.retain(|voicing| {
            let pitches = || voicing.pitches(instrument);
            let top_place = asked.places().max_by_key(|p| (instrument.sounding(*p), p.string)).unwrap();
            differences(voicing, asked, StringIndex::new(5)) == changes
                && pitches().all(|p| classes.contains(p.class()))
                && pitches().max() == top
                && voicing.fret(top_place.string) == Some(top_place.fret)
        });
        all
    }

    fn differences(voicing: &Voicing, asked: &Voicing, until: StringIndex) -> usize {
        StringIndex::all(6).filter(|s| *s <= until && voicing.fret(*s) != asked.fret(*s)).count()
    }
}
