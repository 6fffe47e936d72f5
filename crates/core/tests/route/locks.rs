//! Random locks: what could be played there, and now and then what could not.

use handspan_core::demand::{Demand, MelodyDemand};
use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, StringIndex};
use handspan_core::pitch::{Pitch, PitchClass};
use handspan_core::plan::Lock;

use crate::dice::Dice;
use crate::rules::Rules;

/// A lock for one of the demands.
pub(crate) fn lock(dice: &mut Dice, rules: &Rules<'_>, moment: usize) -> Lock {
    let demand = &rules.demands()[moment];
    let mut lock = Lock::default();
    if dice.percent(35) {
        lock.melody = melody_string(dice, rules, demand);
    }
    if dice.percent(25) && demand.accompaniment.is_some() {
        lock.bass = Some(bass(dice));
    }
    if dice.percent(if lock.is_empty() { 100 } else { 10 }) {
        let grip = playable(dice, rules, moment);
        lock.grip = grip.map(|grip| if dice.percent(20) { spoilt(dice, grip) } else { grip });
    }
    lock
}

/// A string on which the melody note sounds, seldom one where it does not.
fn melody_string(dice: &mut Dice, rules: &Rules<'_>, demand: &Demand) -> Option<StringIndex> {
    demand.melody.pitch()?;
    let strings: Vec<StringIndex> =
        rules.melody_holds(demand).into_iter().map(|(string, _)| string).collect();
    if strings.is_empty() || dice.percent(6) {
        return Some(StringIndex::new(dice.from(0, 3) as usize));
    }
    Some(dice.pick(&strings))
}

fn bass(dice: &mut Dice) -> BassChoice {
    match dice.from(1, 5) {
        1 => BassChoice::Free,
        2 | 3 => BassChoice::Exact(Pitch::new(dice.from(38, 60) as u8)),
        _ => BassChoice::Class(dice.pick(&PitchClass::ALL)),
    }
}

/// The strings struck by any choice that a moment has, whatever came before.
pub(crate) fn playable(dice: &mut Dice, rules: &Rules<'_>, moment: usize) -> Option<Grip> {
    let mut state = rules.beginning();
    if matches!(rules.demands()[moment].melody, MelodyDemand::SoundsOn { .. }) {
        let holds = rules.melody_holds(&Demand { lock: Lock::default(), ..rules.demands()[moment] });
        let (string, hold) = dice.pick(&holds);
        state.grip = Grip::from_holds([(string, hold)]);
        state.melody = Some(string);
    }
    let choices = rules.choices(moment, &state);
    if choices.is_empty() {
        return None;
    }
    let chosen = &choices[dice.from(0, choices.len() as i64 - 1) as usize];
    Some(chosen.grip.only(chosen.struck))
}

/// The same grip with one string under another finger, at another fret, or silent.
fn spoilt(dice: &mut Dice, mut grip: Grip) -> Grip {
    let holds: Vec<(StringIndex, Hold)> = grip.holds().collect();
    if holds.is_empty() {
        return grip;
    }
    let (string, hold) = dice.pick(&holds);
    let fingers =
        [Some(Finger::Thumb), Some(Finger::Index), Some(Finger::Middle), Some(Finger::Little), None];
    let other = match dice.from(1, 4) {
        1 => None,
        2 => Some(Hold::plain(Fret::new(dice.from(0, 14) as u8), hold.finger())),
        _ => Some(Hold::plain(hold.fret(), dice.pick(&fingers))),
    };
    grip.set(string, other);
    grip
}
