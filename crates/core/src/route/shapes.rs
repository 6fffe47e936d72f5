//! The shapes of chords that written music spells out, one note after another.
//!
//! Moments that follow one another in a bar make one shape as long as one hand could hold all their notes together. A
//! grip is judged by the easiest grip of the whole shape that has it within: a finger that would be wrong for the
//! notes around costs effort at once, and nothing needs to be remembered from moment to moment.

use std::collections::BTreeMap;
use std::ops::Range;
use std::rc::Rc;

use super::written::{strings_of, written_grips};
use crate::demand::{WrittenDemand, WrittenNote};
use crate::grip::strain::grip_effort;
use crate::grip::weights::Table;
use crate::grip::{Effort, Grip, Reach};
use crate::pitch::Pitch;

/// Notes nearer to one another are steps of a line and no chord, in semitones: a minor third (the project's own).
const NEAREST: u8 = 3;
/// A shape has no more notes: six strings, and more are no chord.
const MOST_NOTES: usize = 6;
/// A shape has no more moments.
const MOST_MOMENTS: usize = 16;
/// From so many points dearer than the easiest grip of the shape on, the next entry of the table counts.
const DEARER: [i32; 5] = [5, 10, 20, 35, 60];

/// The shapes of all moments of written music.
#[derive(Clone, Debug)]
pub struct Shapes {
    moments: Vec<Vec<(Grip, i32)>>,
}

impl Shapes {
    /// Finds the shapes of all moments.
    pub fn new(reach: &Reach, demands: &[WrittenDemand]) -> Self {
        Self::within(reach, demands, 0..demands.len())
    }

    /// Finds the shapes of some moments alone: a shape goes back to the beginning of its bar, but no farther.
    pub(super) fn within(reach: &Reach, demands: &[WrittenDemand], asked: Range<usize>) -> Self {
        let mut chords = Chords { reach, known: BTreeMap::new() };
        let bar = demands[..asked.start].iter().rposition(|demand| demand.begins_bar).unwrap_or(0);
        let begins = demands.get(asked.start).is_none_or(|demand| demand.begins_bar);
        let mut moments = vec![Vec::new(); if begins { asked.start } else { bar }];
        while moments.len() < asked.end {
            let (shape, count) = chords.longest(&demands[moments.len()..]);
            for demand in &demands[moments.len()..moments.len() + count] {
                moments.push(chords.judged(&shape, demand));
            }
        }
        moments.resize(demands.len(), Vec::new());
        Self { moments }
    }

    /// Which entry of [`Table::Shape`] counts for a grip at a moment; none where it fits the shape, or where there is
    /// no shape.
    pub fn entry(&self, moment: usize, grip: &Grip) -> Option<usize> {
        let judged = &self.moments[moment];
        if judged.is_empty() {
            return None;
        }
        match judged.binary_search_by_key(grip, |(within, _)| *within) {
            Ok(found) => DEARER.iter().filter(|dearer| judged[found].1 >= **dearer).count().checked_sub(1),
            Err(_) => Some(DEARER.len()),
        }
    }

    /// What a grip at a moment costs because it does not fit the shape.
    pub fn effort(&self, reach: &Reach, moment: usize, grip: &Grip) -> Effort {
        let points = self.entry(moment, grip).map(|entry| reach.weights().get(Table::Shape, entry));
        Effort::new(points.unwrap_or_default())
    }
}

/// Every grip of a chord, with its effort.
type Grips = Rc<Vec<(Grip, i32)>>;

/// The chords of some music, each gone through once.
struct Chords<'a> {
    reach: &'a Reach,
    known: BTreeMap<Vec<Pitch>, Grips>,
}

impl Chords<'_> {
    /// Every grip of these notes; none where they make no chord.
    fn grips(&mut self, notes: &[Pitch]) -> Grips {
        let near = |pair: &[Pitch]| pair[1].midi() - pair[0].midi() < NEAREST;
        if notes.len() > MOST_NOTES || notes.windows(2).any(near) {
            return Grips::default();
        }
        if let Some(known) = self.known.get(notes) {
            return Rc::clone(known);
        }
        let plain: Vec<WrittenNote> = notes.iter().copied().map(WrittenNote::plain).collect();
        let mut grips = Vec::new();
        written_grips(self.reach, &Grip::SILENT, &plain, |grip| {
            grips.push((grip, grip_effort(self.reach, &grip).total().points()));
        });
        let grips = Rc::new(grips);
        self.known.insert(notes.to_vec(), Rc::clone(&grips));
        grips
    }

    /// The notes of as many moments as make one shape with the first, and how many these are.
    fn longest(&mut self, demands: &[WrittenDemand]) -> (Vec<Pitch>, usize) {
        let mut shape = sounding(&demands[0]);
        let mut count = 1;
        for demand in demands.iter().take(MOST_MOMENTS).skip(1).take_while(|demand| !demand.begins_bar) {
            let more = with(&shape, demand.struck.iter().map(|note| note.pitch));
            if self.grips(&more).is_empty() {
                break;
            }
            shape = more;
            count += 1;
        }
        (shape, count)
    }

    /// Every grip of a moment that lies within one of the shape, and how much dearer than the easiest of all that is;
    /// nothing where the moment is the whole shape.
    fn judged(&mut self, shape: &[Pitch], demand: &WrittenDemand) -> Vec<(Grip, i32)> {
        let here = sounding(demand);
        let all = with(shape, here.iter().copied());
        if all.len() == here.len() {
            return Vec::new();
        }
        let grips = self.grips(&all);
        let easiest = grips.iter().map(|(_, effort)| *effort).min().unwrap_or_default();
        let part = |grip: &Grip| grip.only(strings_of(self.reach, grip, &here));
        let mut within: Vec<_> = grips.iter().map(|(grip, effort)| (part(grip), effort - easiest)).collect();
        within.sort_unstable();
        // The least of each part comes first.
        within.dedup_by_key(|(part, _)| *part);
        within
    }
}

/// Everything that sounds at a moment, lowest first.
fn sounding(demand: &WrittenDemand) -> Vec<Pitch> {
    let on = demand.sounding_on.iter().map(|note| note.pitch);
    with(&[], on.chain(demand.struck.iter().map(|note| note.pitch)))
}

/// Some notes with others, lowest first, each once.
fn with(notes: &[Pitch], others: impl Iterator<Item = Pitch>) -> Vec<Pitch> {
    let mut all: Vec<Pitch> = notes.iter().copied().chain(others).collect();
    all.sort_unstable();
    all.dedup();
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grip::Hold;
    use crate::hand::{Finger, Hand};
    use crate::neck::{Fret, Instrument, StringIndex};

    /// One note after another.
    fn spelled(pitches: &[u8]) -> Vec<WrittenDemand> {
        let demand = |pitch: &u8| WrittenDemand {
            milliseconds: 300,
            begins_bar: false,
            struck: vec![WrittenNote::plain(Pitch::new(*pitch))],
            sounding_on: Vec::new(),
        };
        pitches.iter().map(demand).collect()
    }

    fn stopped(string: usize, fret: u8, finger: Finger) -> Grip {
        Grip::from_holds([(StringIndex::new(string), Hold::stopped(Fret::new(fret), finger))])
    }

    #[test]
    fn a_broken_chord_wants_the_fingers_of_the_chord() {
        let reach = Reach::new(&Instrument::classical(), &Hand::default());
        // C E G C: the first on the fifth string is the ring finger's, as in the whole chord.
        let shapes = Shapes::new(&reach, &spelled(&[48, 52, 55, 60]));
        let entry = |finger| shapes.entry(0, &stopped(4, 3, finger));
        assert_eq!(entry(Finger::Ring), None);
        assert!(entry(Finger::Index) > entry(Finger::Little), "{shapes:?}");
        // The index finger stands behind the others: no grip of the chord has it there.
        assert_eq!(entry(Finger::Index), Some(DEARER.len()));
    }

    #[test]
    fn some_moments_have_the_same_shapes_alone_as_among_all() {
        let reach = Reach::new(&Instrument::classical(), &Hand::default());
        let mut demands = spelled(&[48, 52, 55, 60, 45, 52, 57, 60, 50, 57, 62, 65]);
        demands[4].begins_bar = true;
        demands[8].begins_bar = true;
        let all = Shapes::new(&reach, &demands);
        for first in 0..demands.len() {
            for end in first..=demands.len() {
                let some = Shapes::within(&reach, &demands, first..end);
                assert_eq!(some.moments[first..end], all.moments[first..end], "{first}..{end}");
            }
        }
    }

    #[test]
    fn a_step_or_a_bar_line_ends_a_shape() {
        let reach = Reach::new(&Instrument::classical(), &Hand::default());
        let ring = stopped(4, 3, Finger::Ring);
        let scale = Shapes::new(&reach, &spelled(&[48, 50, 52, 53]));
        assert_eq!(scale.entry(0, &stopped(4, 3, Finger::Index)), None);
        let mut demands = spelled(&[48, 52, 55, 60]);
        demands[1].begins_bar = true;
        let shapes = Shapes::new(&reach, &demands);
        assert_eq!(shapes.entry(0, &stopped(4, 3, Finger::Index)), None);
        assert_eq!(shapes.entry(0, &ring), None);
    }
}
