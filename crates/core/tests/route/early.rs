//! Fingers that may go down early: whatever was found, with all of them down every pitch sounds as before, the hand can
//! hold them by the independent check, and each is free from then on until it lands.

use handspan_core::check;
use handspan_core::grip::{Grip, Hold, Reach};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Place, StringIndex};
use handspan_core::plan::Aim;
use handspan_core::route::{Early, early, easiest_written};
use handspan_core::watch::Unwatched;

use crate::cases;
use crate::dice::Dice;
use crate::written::music;

/// How many routes of each kind are looked at.
const CASES: usize = 2_000;

/// What was found in some routes.
#[derive(Debug, Default)]
struct Found {
    all: usize,
    /// Over more than one moment.
    long: usize,
    /// Behind a finger that stops the same string.
    behind: usize,
    barres: usize,
    /// Beside others at the same moment.
    together: usize,
}

fn places(early: &Early) -> impl Iterator<Item = Place> + '_ {
    early.strings.iter().map(|string| Place { string, fret: early.fret })
}

/// The grip with a finger laid over it, in place of what its strings have.
fn with(grip: &Grip, early: &Early) -> Grip {
    let hold = |place: Place| (place.string, Hold::stopped(place.fret, early.finger));
    grip.with(&Grip::from_holds(places(early).map(hold)))
}

/// What sounds on every string once every finger of `down` presses as well: the highest pressed fret of each string.
fn sounding(grip: &Grip, down: &[&Early]) -> Vec<(StringIndex, Fret)> {
    let highest = |(string, hold): (StringIndex, Hold)| {
        let over = |early: &&&Early| {
            let (top, bottom) = (early.strings.iter().next(), early.strings.iter().next_back());
            Some(string) >= top && Some(string) <= bottom
        };
        let pressed = down.iter().filter(over).map(|early| early.fret);
        (string, pressed.chain([hold.pressed()]).max().unwrap_or(hold.pressed()))
    };
    grip.holds().map(highest).collect()
}

fn judge(reach: &Reach, grips: &[Grip], found: &mut Found) {
    let all = early(reach, grips);
    for early in &all {
        let landed = grips[early.lands].digits().of(early.finger);
        assert_eq!(landed, Some((early.fret, early.strings)), "{early:?} in {grips:?}");
        assert!(early.since < early.lands, "{early:?}");
        found.all += 1;
        found.long += usize::from(early.since + 1 < early.lands);
        found.barres += usize::from(early.strings.len() > 1);
    }
    for (moment, grip) in grips.iter().enumerate() {
        let down: Vec<&Early> = all.iter().filter(|early| early.waits_at(moment)).collect();
        let told = || format!("moment {moment} of {grips:?} with {down:?}");
        let as_before: Vec<_> = grip.holds().map(|(string, hold)| (string, hold.pressed())).collect();
        assert_eq!(sounding(grip, &down), as_before, "{}", told());
        found.together += usize::from(down.len() > 1);
        for (index, early) in down.iter().enumerate() {
            assert_eq!(grip.digits().of(early.finger), None, "{} is in use: {}", early.finger, told());
            // Every string has one finger in a grip: with each pair of those that wait, in both orders.
            for other in &down[index..] {
                for both in [with(&with(grip, early), other), with(&with(grip, other), early)] {
                    let faults = check::grip(reach.instrument(), reach.hand(), &both);
                    assert!(faults.is_empty(), "{faults:?}: {}", told());
                }
            }
            found.behind += usize::from(behind(reach, grip, early));
        }
    }
}

/// Whether a finger waits behind another one, which must then lie farther up and within reach.
fn behind(reach: &Reach, grip: &Grip, early: &Early) -> bool {
    let others = grip.stopped().filter(|(place, _)| early.strings.contains(place.string));
    let mut any = false;
    for (place, finger) in others {
        let press = |fret| reach.instrument().press_point(fret);
        let ordered = early.finger == Finger::Thumb || finger == Finger::Thumb || early.finger < finger;
        assert!(ordered && early.fret < place.fret, "{early:?} behind {finger} in {grip:?}");
        let limit = reach.hand().span(early.finger, finger).practical;
        assert!(
            (press(place.fret) - press(early.fret)).abs() <= limit,
            "{early:?} behind {finger} in {grip:?}"
        );
        any = true;
    }
    any
}

#[test]
fn fingers_that_are_down_early_change_nothing() {
    let mut dice = Dice::new(17);
    let (mut arranged, mut written) = (Found::default(), Found::default());
    for _ in 0..CASES {
        let case = cases::case(&mut dice);
        if let Some(route) = case.easiest() {
            let grips: Vec<Grip> = route.steps.iter().map(|step| step.grip).collect();
            judge(&case.reach, &grips, &mut arranged);
        }
        let music = music(&mut dice, &case.reach);
        if let Ok(Some(route)) = easiest_written(&case.reach, &music, Aim::LeastTotal, &Unwatched) {
            let grips: Vec<Grip> = route.steps.iter().map(|step| step.grip).collect();
            judge(&case.reach, &grips, &mut written);
        }
    }
    for found in [&arranged, &written] {
        let enough = found.all > 100 && found.long > 10 && found.behind > 5 && found.together > 10;
        assert!(enough, "arranged {arranged:?}, written {written:?}");
    }
    assert!(arranged.barres + written.barres > 5, "arranged {arranged:?}, written {written:?}");
}
