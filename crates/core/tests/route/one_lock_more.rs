//! A lock leaves less to choose from.

use handspan_core::demand::Accompaniment;
use handspan_core::grip::BassChoice;
use handspan_core::neck::StringIndex;
use handspan_core::pitch::Pitch;

use crate::cases;
use crate::dice::Dice;
use crate::locks;
use crate::rules::Rules;

/// One bass of those that were admitted; a free one is a tone of the chord.
fn narrower(dice: &mut Dice, wanted: Accompaniment) -> BassChoice {
    let admitted = |pitch: &Pitch| {
        wanted.bass.admits(*pitch)
            && (wanted.bass != BassChoice::Free || wanted.tones.contains(pitch.class()))
    };
    let low: Vec<Pitch> = (36..=60).map(Pitch::new).filter(admitted).collect();
    if low.is_empty() { wanted.bass } else { BassChoice::Exact(dice.pick(&low)) }
}

#[test]
fn one_lock_more_never_makes_a_route_cheaper() {
    let mut dice = Dice::new(3);
    let (mut same, mut dearer, mut none) = (0, 0, 0);
    for number in 0..1_500 {
        let mut case = cases::case(&mut dice);
        let before = case.easiest().map_or(i64::MAX, |route| route.cost);
        let moment = dice.from(0, case.demands.len() as i64 - 1) as usize;
        let grip = locks::playable(&mut dice, &Rules::new(&case.reach, &case.demands), moment);
        let demand = &mut case.demands[moment];
        match (dice.from(1, 3), &mut demand.accompaniment) {
            (1, _) => {
                let string = StringIndex::new(dice.from(0, 3) as usize);
                demand.lock.melody = demand.lock.melody.or(Some(string));
            }
            (2, Some(wanted)) => {
                wanted.bass = narrower(&mut dice, *wanted);
                demand.lock.bass = Some(wanted.bass);
            }
            _ => demand.lock.grip = demand.lock.grip.or(grip),
        }
        let after = case.easiest().map_or(i64::MAX, |route| route.cost);
        assert!(after >= before, "case {number}: {before} became {after}: {case:?}");
        let count = if after == before {
            &mut same
        } else if after == i64::MAX {
            &mut none
        } else {
            &mut dearer
        };
        *count += 1;
    }
    assert!(same > 100 && dearer > 100 && none > 50, "{same} the same, {dearer} dearer, {none} impossible");
}
