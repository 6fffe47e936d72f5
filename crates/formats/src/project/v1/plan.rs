//! The plan as version 1 writes it.

use handspan_core::hand;
use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{self, StringIndex, Tuning};
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::plan as model;
use handspan_core::tune::Tune;
use serde::{Deserialize, Serialize};

use super::{is_default, text, tune};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Plan {
    instrument: Instrument,
    hand: Hand,
    /// In semitones.
    transpose: i16,
    #[serde(default, skip_serializing_if = "is_default")]
    aim: Aim,
    locks: Vec<Lock>,
}

#[derive(Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
enum Aim {
    #[default]
    LeastTotal,
    Gentlest,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Instrument {
    tuning: String,
    /// The open strings without capo, lowest first.
    strings: Vec<String>,
    frets: u8,
    scale_micrometres: i32,
    capo: u8,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Hand {
    size: HandSize,
    thumb: bool,
    little_plucks: bool,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
enum HandSize {
    Small,
    Medium,
    Large,
    /// From finger 1 to finger 4, in micrometres.
    Measured(i32),
}

/// A lock, at so many ticks after the line of the bar that is the `bar`th in written order, counted from 1.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lock {
    bar: usize,
    ticks: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    melody_string: Option<u8>,
    #[serde(default, skip_serializing_if = "is_default")]
    bass: Option<String>,
    #[serde(default, skip_serializing_if = "is_default")]
    grip: Option<Grip>,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Grip {
    frets: String,
    fingers: String,
}

impl Plan {
    pub(super) fn of(plan: &model::Plan, tune: &Tune) -> Self {
        let strings = plan.instrument.string_count();
        Self {
            instrument: Instrument::from(&plan.instrument),
            hand: Hand::from(&plan.hand),
            transpose: plan.transpose.semitones(),
            aim: Aim::from(plan.aim),
            locks: plan
                .locks
                .iter()
                .map(|(at, lock)| {
                    let bar = tune.bar_index(at);
                    let since = at - tune.bars()[bar].start;
                    Lock::of(bar + 1, since.count(), &lock, strings)
                })
                .collect(),
        }
    }

    pub(super) fn read(self, tune: &Tune) -> Result<model::Plan, String> {
        let instrument = self.instrument.read()?;
        if !(-60..=60).contains(&self.transpose) {
            return Err(format!("a transposition by {} semitones is too far", self.transpose));
        }
        let mut locks = model::Locks::default();
        for lock in self.locks {
            let bar = lock.bar.checked_sub(1).and_then(|bar| tune.bars().get(bar));
            let bar = bar.ok_or_else(|| format!("a lock is in bar {} of {}", lock.bar, tune.bars().len()))?;
            let at = bar.start + tune::time(lock.ticks)?;
            locks.set(at, lock.read(&instrument)?);
        }
        Ok(model::Plan {
            instrument,
            hand: self.hand.read(),
            transpose: Interval::new(self.transpose),
            aim: self.aim.read(),
            locks,
        })
    }
}

impl From<model::Aim> for Aim {
    fn from(aim: model::Aim) -> Self {
        match aim {
            model::Aim::LeastTotal => Self::LeastTotal,
            model::Aim::Gentlest => Self::Gentlest,
        }
    }
}

impl Aim {
    const fn read(self) -> model::Aim {
        match self {
            Self::LeastTotal => model::Aim::LeastTotal,
            Self::Gentlest => model::Aim::Gentlest,
        }
    }
}

impl From<&neck::Instrument> for Instrument {
    fn from(instrument: &neck::Instrument) -> Self {
        let open = instrument.tuning().open_strings();
        Self {
            tuning: instrument.tuning().name().to_owned(),
            strings: open.iter().rev().map(Pitch::to_string).collect(),
            frets: instrument.frets_from_nut(),
            scale_micrometres: instrument.scale().count(),
            capo: instrument.capo(),
        }
    }
}

impl Instrument {
    fn read(self) -> Result<neck::Instrument, String> {
        let pitch = |name: &String| text::pitch(name).ok_or_else(|| format!("“{name}” is no open string"));
        let strings: Vec<Pitch> = self.strings.iter().map(pitch).collect::<Result<_, _>>()?;
        let tuning = Tuning::from_low_to_high(self.tuning, strings);
        let scale = Micrometres::new(self.scale_micrometres);
        neck::Instrument::try_new(tuning, self.frets, scale, self.capo).map_err(|fault| fault.to_string())
    }
}

impl From<&hand::Hand> for Hand {
    fn from(hand: &hand::Hand) -> Self {
        Self {
            size: match hand.size {
                hand::HandSize::Small => HandSize::Small,
                hand::HandSize::Medium => HandSize::Medium,
                hand::HandSize::Large => HandSize::Large,
                hand::HandSize::Measured(reach) => HandSize::Measured(reach.count()),
            },
            thumb: hand.thumb,
            little_plucks: hand.little_plucks,
        }
    }
}

impl Hand {
    const fn read(&self) -> hand::Hand {
        hand::Hand {
            size: match self.size {
                HandSize::Small => hand::HandSize::Small,
                HandSize::Medium => hand::HandSize::Medium,
                HandSize::Large => hand::HandSize::Large,
                HandSize::Measured(reach) => hand::HandSize::Measured(Micrometres::new(reach)),
            },
            thumb: self.thumb,
            little_plucks: self.little_plucks,
        }
    }
}

impl Lock {
    fn of(bar: usize, ticks: i64, lock: &model::Lock, strings: usize) -> Self {
        Self {
            bar,
            ticks,
            melody_string: lock.melody.map(StringIndex::number),
            bass: lock.bass.map(text::bass_text),
            grip: lock.grip.map(|grip| {
                let (frets, fingers) = text::grip_text(&grip, strings);
                Grip { frets, fingers }
            }),
        }
    }

    fn read(self, instrument: &neck::Instrument) -> Result<model::Lock, String> {
        let place =
            |what: String| format!("{what} (lock in bar {}, {} ticks after its line)", self.bar, self.ticks);
        let melody = self.melody_string.map(|number| {
            let string = StringIndex::from_number(number);
            let exists = string.filter(|s| s.index() < instrument.string_count());
            exists.ok_or_else(|| place(format!("there is no string {number}")))
        });
        let bass = self
            .bass
            .as_ref()
            .map(|bass| text::bass(bass).ok_or_else(|| place(format!("“{bass}” is no bass"))));
        let grip = self.grip.as_ref().map(|grip| {
            let read = text::grip(&grip.frets, &grip.fingers, instrument.string_count());
            read.ok_or_else(|| {
                place(format!("frets {} under fingers {} are no grip", grip.frets, grip.fingers))
            })
        });
        Ok(model::Lock { melody: melody.transpose()?, bass: bass.transpose()?, grip: grip.transpose()? })
    }
}
