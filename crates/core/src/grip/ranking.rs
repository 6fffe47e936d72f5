//! Grips in the order a player asked for, each with its effort explained.

use super::effort::{Effort, GripEffort, GripTerm};
use super::filter::Filter;
use super::fingering::fingerings;
use super::grip::Grip;
use super::moves::{HandAt, MoveEffort, Pace};
use super::reach::Reach;
use super::sonority::{Sonority, Taste, sonority};
use super::strain::grip_effort;
use super::voicings::{VoicingWish, voicings};
use crate::hand::{Finger, Hand};
use crate::harmony::ToneSet;
use crate::neck::{Fret, Instrument};

/// What comes first in a list of grips. Ties go to the easier grip, then to the lower frets.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Order {
    /// Least effort of grip and move together.
    #[default]
    Easiest,
    /// Fingers closest together.
    LeastStretch,
    /// Most open strings.
    MostOpen,
    /// Least effort of the move from the previous grip.
    LeastMove,
    /// Most strings sounding.
    Fullest,
    /// Least effort and best sound together, as guitarists choose.
    BestSounding,
    /// The hand nearest to a fret.
    Nearest(Fret),
}

impl Order {
    /// Every order that needs nothing else, as offered to the player.
    pub const ALL: [Self; 6] = [
        Self::Easiest,
        Self::BestSounding,
        Self::LeastStretch,
        Self::MostOpen,
        Self::LeastMove,
        Self::Fullest,
    ];

    /// The order in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Easiest => "easiest",
            Self::LeastStretch => "least stretch",
            Self::MostOpen => "most open strings",
            Self::LeastMove => "least movement",
            Self::Fullest => "fullest",
            Self::BestSounding => "best sounding",
            Self::Nearest(_) => "nearest a position",
        }
    }
}

/// What a hand holds before it moves on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Previous {
    /// The grip that it leaves.
    pub grip: Grip,
    /// Where the hand stood last, which is where it stands under a grip without a finger.
    pub stood: Option<Fret>,
    /// How much time the move has.
    pub milliseconds: i64,
}

impl Previous {
    /// A grip that is left when nothing says where the hand stood before and how fast the tune goes.
    pub const fn at_usual_pace(grip: Grip) -> Self {
        Self { grip, stood: None, milliseconds: super::moves::USUAL_MILLISECONDS }
    }

    /// The hand that moves on.
    pub fn hand(&self, reach: &Reach) -> HandAt {
        HandAt::holding(reach, &self.grip).coming_from(self.stood)
    }
}

/// A grip with what it costs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RankedGrip {
    /// The grip.
    pub grip: Grip,
    /// What holding it costs.
    pub effort: GripEffort,
    /// What the move from the previous grip costs; none where there is no previous grip.
    pub moved: Option<MoveEffort>,
    /// How it sounds: a term of its own, no part of the effort.
    pub sonority: Sonority,
}

impl RankedGrip {
    /// Grip and move together.
    pub fn total(&self) -> Effort {
        self.effort.total() + self.move_total()
    }

    fn move_total(&self) -> Effort {
        self.moved.map_or(Effort::NONE, |moved| moved.total())
    }

    /// What sorts it under an order; smaller comes first. The grip itself breaks every tie.
    fn key(&self, reach: &Reach, order: Order) -> (i32, i32, Grip) {
        let first = match order {
            Order::Easiest => 0,
            Order::LeastStretch => spread(reach, &self.grip),
            Order::MostOpen => -(self.grip.holds().filter(|(_, hold)| hold.fret().is_open()).count() as i32),
            Order::LeastMove => self.move_total().points(),
            Order::Fullest => -(self.grip.len() as i32),
            Order::BestSounding => (self.total() + self.sonority.total()).points(),
            // Open strings alone can be played from anywhere.
            Order::Nearest(fret) => {
                self.grip.position().map_or(0, |at| i32::from(at.number()) - i32::from(fret.number())).abs()
            }
        };
        (first, self.total().points(), self.grip)
    }
}

/// How far apart the outer fingers are, in micrometres.
fn spread(reach: &Reach, grip: &Grip) -> i32 {
    let frets = || grip.stopped().filter(|(_, finger)| *finger != Finger::Thumb).map(|(place, _)| place.fret);
    match (frets().min(), frets().max()) {
        (Some(lowest), Some(highest)) => reach.apart(lowest, highest).count(),
        _ => 0,
    }
}

/// Every grip that meets a wish: every voicing in every way a hand can hold it, none twice.
pub fn grips(instrument: &Instrument, hand: &Hand, wish: &VoicingWish) -> Vec<Grip> {
    let reach = Reach::new(instrument, hand);
    let mut all = Vec::new();
    each_grip(&reach, wish, |grip| all.push(grip));
    all
}

/// Calls `found` with every grip that meets a wish, voicing by voicing.
pub fn each_grip(reach: &Reach, wish: &VoicingWish, mut found: impl FnMut(Grip)) {
    voicings(reach.instrument(), Some(reach), wish, |voicing| {
        fingerings(reach, &voicing, &wish.held, &mut found);
    });
}

/// How a list of grips is made.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Listing {
    /// What comes first.
    pub order: Order,
    /// What is left out.
    pub filter: Filter,
    /// The guide tones of the chord, for a filter that asks for them.
    pub guide_tones: ToneSet,
    /// A grip that has a row in any case, under its own fingers and whatever is left out.
    pub also: Option<Grip>,
}

/// A list of grips, and how many there would be if none were left out.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Listed {
    /// The grips, in order.
    pub grips: Vec<RankedGrip>,
    /// How many rows there would be without a filter.
    pub of: usize,
}

/// The voicings that meet a wish, each in its easiest fingering that the filter lets through, in the order asked for.
pub fn listed(
    instrument: &Instrument,
    hand: &Hand,
    wish: &VoicingWish,
    previous: Option<Previous>,
    listing: &Listing,
) -> Listed {
    let reach = Reach::new(instrument, hand);
    let weigh = weigher(&reach, wish.tones, previous);
    let easier = |this: &RankedGrip, than: Option<RankedGrip>| {
        than.is_none_or(|that| this.key(&reach, Order::Easiest) < that.key(&reach, Order::Easiest))
    };
    let mut all = Listed::default();
    let mut is_easiest = false;
    voicings(instrument, Some(&reach), wish, |voicing| {
        let (mut easiest, mut admitted) = (None, None);
        fingerings(&reach, &voicing, &wish.held, |grip| {
            let this = weigh(grip);
            if easier(&this, easiest) {
                easiest = Some(this);
            }
            if listing.filter.admits(&reach, listing.guide_tones, &grip) && easier(&this, admitted) {
                admitted = Some(this);
            }
        });
        all.of += usize::from(easiest.is_some());
        is_easiest |= listing.also.is_some() && easiest.map(|this| this.grip) == listing.also;
        all.grips.extend(admitted);
    });
    all.of += usize::from(listing.also.is_some() && !is_easiest);
    let missing = |grip: &Grip| all.grips.iter().all(|other| other.grip != *grip);
    if let Some(grip) = listing.also.filter(missing) {
        all.grips.push(weigh(grip));
    }
    all.grips.sort_by_cached_key(|ranked| ranked.key(&reach, listing.order));
    all
}

/// Grips of the same notes in the order asked for, each a row of its own under its own fingers; `shape` says what one
/// costs besides because it does not fit the chord around.
pub fn weighed(
    reach: &Reach,
    grips: impl IntoIterator<Item = Grip>,
    tones: ToneSet,
    previous: Option<Previous>,
    listing: &Listing,
    shape: impl Fn(&Grip) -> Effort,
) -> Listed {
    let alone = weigher(reach, tones, previous);
    let weigh = |grip: Grip| {
        let mut ranked = alone(grip);
        ranked.effort.add(GripTerm::Shape, shape(&grip).points());
        ranked
    };
    let mut all = Listed::default();
    for grip in grips {
        all.of += 1;
        if listing.also == Some(grip) || listing.filter.admits(reach, listing.guide_tones, &grip) {
            all.grips.push(weigh(grip));
        }
    }
    if let Some(grip) = listing.also.filter(|grip| all.grips.iter().all(|other| other.grip != *grip)) {
        all.of += 1;
        all.grips.push(weigh(grip));
    }
    all.grips.sort_by_cached_key(|ranked| ranked.key(reach, listing.order));
    all
}

/// What each grip costs where a hand comes from another, and how it sounds as a chord of these tones.
fn weigher(reach: &Reach, tones: ToneSet, previous: Option<Previous>) -> impl Fn(Grip) -> RankedGrip {
    let from = previous.map(|before| (before.hand(reach), Pace::new(reach, before.milliseconds)));
    move |grip| RankedGrip {
        grip,
        effort: grip_effort(reach, &grip),
        sonority: sonority(&Taste::LEARNED, reach.instrument(), tones, &grip.voicing()),
        moved: from.as_ref().map(|(from, pace)| {
            pace.effort(from, &HandAt::holding(reach, &grip).coming_from(from.position()))
        }),
    }
}

/// The voicings that meet a wish, each in its easiest fingering, in the order asked for.
pub fn ranked(
    instrument: &Instrument,
    hand: &Hand,
    wish: &VoicingWish,
    previous: Option<Previous>,
    order: Order,
) -> Vec<RankedGrip> {
    listed(instrument, hand, wish, previous, &Listing { order, ..Listing::default() }).grips
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::grip::{StringSet, Voicing};
    use crate::harmony::{Chord, ChordSymbol};
    use crate::neck::StringIndex;
    use crate::pitch::Pitch;

    fn chord(text: &str) -> Chord {
        ChordSymbol::parse(text).unwrap().chord().cloned().unwrap()
    }

    fn filters() -> Vec<Filter> {
        let open = Filter::default;
        let upper = (0..4).map(StringIndex::new).collect::<StringSet>();
        vec![
            open(),
            Filter { notes: Some(4..=4), ..open() },
            Filter { highest_fret: Some(Fret::new(5)), ..open() },
            Filter { position: Some(Fret::new(3)..=Fret::new(6)), ..open() },
            Filter { no_barre: true, ..open() },
            Filter { strings: upper, ..open() },
            Filter { guide_tones: true, ..open() },
            Filter { open_bass: true, ..open() },
            Filter { no_barre: true, open_bass: true, guide_tones: true, ..open() },
        ]
    }

    /// A list under a filter is the full list with the rest struck out, voicing by voicing.
    #[test]
    fn filtering_equals_striking_out() {
        let (guitar, hand) = (Instrument::classical(), Hand::default());
        let reach = Reach::new(&guitar, &hand);
        let mut narrowed = 0;
        for (text, melody) in [("Cmaj7", 71), ("Am7", 72), ("G7", 67), ("D", 74)] {
            let chord = chord(text);
            let wish = VoicingWish { melody: Some(Pitch::new(melody)), ..VoicingWish::for_chord(&chord) };
            let all = grips(&guitar, &hand, &wish);
            let voicings: BTreeSet<Voicing> = all.iter().map(Grip::voicing).collect();
            for filter in filters() {
                let listing = Listing { filter, guide_tones: chord.guide_tones(), ..Listing::default() };
                let listed = listed(&guitar, &hand, &wish, None, &listing);
                let passes = |grip: &Grip| listing.filter.admits(&reach, listing.guide_tones, grip);
                let expected: BTreeSet<Voicing> =
                    all.iter().filter(|grip| passes(grip)).map(Grip::voicing).collect();
                let found: BTreeSet<Voicing> = listed.grips.iter().map(|r| r.grip.voicing()).collect();
                assert_eq!((listed.of, listed.grips.len()), (voicings.len(), found.len()));
                assert_eq!(found, expected, "{text} under {:?}", listing.filter);
                for ranked in &listed.grips {
                    let same = all.iter().filter(|g| g.voicing() == ranked.grip.voicing() && passes(g));
                    let least = same.map(|g| grip_effort(&reach, g).total()).min();
                    assert_eq!(least, Some(ranked.total()), "{:?}", ranked.grip);
                }
                narrowed += usize::from(found.len() < voicings.len() && !found.is_empty());
            }
        }
        assert!(narrowed > 20, "{narrowed}");
    }

    #[test]
    fn a_grip_under_fingers_of_its_own_has_a_row_too() {
        let (guitar, hand) = (Instrument::classical(), Hand::default());
        let wish = VoicingWish { notes: 5..=5, ..VoicingWish::for_chord(&chord("C")) };
        let plain = listed(&guitar, &hand, &wish, None, &Listing::default());
        let mut all = grips(&guitar, &hand, &wish).into_iter();
        let harder = all.find(|grip| plain.grips.iter().all(|row| row.grip != *grip)).unwrap();
        let with = listed(&guitar, &hand, &wish, None, &Listing { also: Some(harder), ..Listing::default() });
        assert_eq!((with.of, with.grips.len()), (plain.of + 1, plain.grips.len() + 1));
        assert!(with.grips.iter().any(|row| row.grip == harder));
        let easiest = Listing { also: Some(plain.grips[0].grip), ..Listing::default() };
        assert_eq!(listed(&guitar, &hand, &wish, None, &easiest), plain);
    }

    #[test]
    fn the_nearest_position_comes_first() {
        let (guitar, hand) = (Instrument::classical(), Hand::default());
        let wish = VoicingWish::for_chord(&chord("Em7"));
        let list = ranked(&guitar, &hand, &wish, None, Order::Nearest(Fret::new(7)));
        let off = |row: &RankedGrip| row.grip.position().map_or(0, |at| i32::from(at.number()).abs_diff(7));
        assert!(list.windows(2).all(|pair| off(&pair[0]) <= off(&pair[1])));
        assert!(list.iter().any(|row| off(row) > 3));
    }
}
