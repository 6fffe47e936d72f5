//! All voices of the staff at one time: chords side by side where they would collide, with their accidentals and
//! digits.

use std::ops::Range;

use handspan_core::time::Ticks;

use super::accidentals::{self, Accidental};
use super::digits::Digit;
use super::heads::{self, Chord, Shape, Way};
use super::voices::BarNotes;
use super::{MIDDLE, SPACE, Steps, stems, steps, y_of};
use crate::bar::digits::printed;
use crate::bar::notation::StaffVoice;
use crate::bar::voices::Rank;
use crate::glyph::smufl::width;
use crate::points::{Points, Rect};
use crate::rhythm::Kind;

/// A digit stands clear of heads and accidentals so many steps away.
const NEAR_HEAD: Steps = 2;
const NEAR_SIGN: Steps = 5;
/// The white between chords side by side.
const BESIDE: f64 = 0.25;

/// A chord of a voice with the number of its element.
pub(crate) struct InVoice {
    pub rank: Rank,
    pub element: usize,
    pub chord: Chord,
}

/// All voices at one time.
pub(crate) struct Moment {
    pub chords: Vec<InVoice>,
    pub accidentals: Vec<Accidental>,
    pub digits: Vec<Digit>,
}

impl Moment {
    /// The left edge of all heads.
    pub(crate) fn left(&self) -> Points {
        let edges = self.chords.iter().map(|part| part.chord.edges().0);
        edges.reduce(Points::min).unwrap_or(Points::ZERO)
    }

    /// What accidentals stand to the left of: all heads, and their ledger lines where one stands beside those.
    pub(crate) fn signs_edge(&self) -> Points {
        let mut lines = self.chords.iter().flat_map(|part| part.chord.ledger_lines());
        let is_beside = |line| self.accidentals.iter().any(|sign| accidentals::is_beside(*sign, line));
        let beside_ledger = lines.any(is_beside);
        let ledger = if beside_ledger { SPACE * width::LEDGER_EXTENSION } else { Points::ZERO };
        self.left() - ledger
    }

    /// The right edge of all heads.
    pub(crate) fn right(&self) -> Points {
        let edges = self.chords.iter().map(|part| part.chord.edges().1);
        edges.reduce(Points::max).unwrap_or(Points::ZERO)
    }

    /// The right edge of what the dots of a chord stand beside: its own heads with a flag, and what other voices have in
    /// their way.
    pub(crate) fn dots_edge(&self, part: &InVoice, flag: Points) -> Points {
        let spaces = heads::dot_spaces(&part.chord);
        let others = self.chords.iter().filter(|other| other.rank != part.rank);
        let with_flags = |other: &InVoice| {
            let flag = stems::reach(&other.chord)
                .map(|stem| Rect { right: stem.right + stems::flag_downwards(&other.chord), ..stem });
            boxes(&other.chord).into_iter().chain(flag)
        };
        let boxes: Vec<Rect> = others.flat_map(with_flags).collect();
        let reach = stems::dots_reach(&part.chord);
        let mut right = part.chord.edges().1 + flag;
        // Every step passes at least one box.
        for _ in 0..boxes.len() {
            let row = |space: &Steps| {
                let (y, high) = (y_of(*space), SPACE * 0.25);
                Rect { left: right, top: y - high, right: right + reach, bottom: y + high }
            };
            let rows: Vec<Rect> = spaces.iter().map(row).collect();
            let in_the_way = boxes.iter().filter(|b| rows.iter().any(|row| row.overlaps(b)));
            right = in_the_way.map(|b| b.right).fold(right, Points::max);
        }
        right
    }

    /// The left edge of what a digit at a height stands beside: the heads and accidentals near it, or all heads where
    /// voices stand aside from one another or on ledger lines.
    pub(crate) fn edge_at(&self, height: Steps) -> Points {
        let aside = self.chords.windows(2).any(|pair| pair[0].chord.x != pair[1].chord.x);
        let whole = aside || !(-1..=9).contains(&height);
        let heads = self.chords.iter().flat_map(|part| part.chord.lefts());
        let near_heads = heads.filter(|(steps, _)| whole || (steps - height).abs() <= NEAR_HEAD);
        let signs = accidentals::lefts(&self.accidentals, self.signs_edge()).into_iter();
        let near_signs = signs.filter(|(steps, _)| (steps - height).abs() <= NEAR_SIGN);
        near_heads.chain(near_signs).map(|(_, left)| left).reduce(Points::min).unwrap_or(self.left())
    }
}

impl BarNotes<'_> {
    pub(super) fn voice(&self, rank: Rank) -> &StaffVoice {
        &self.notation.voices[rank as usize]
    }

    /// The element of a voice that begins at a time.
    pub(super) fn element(self, voice: &StaffVoice, at: Ticks) -> Option<usize> {
        voice.voice.elements.iter().position(|e| e.at + self.bar.start == at)
    }

    /// What stands at a time, its column at a place. Where the heads of upper and lower voice would touch, the lower
    /// ones stand to the right of the upper ones, so that both stems lie between them (common practice of the notation
    /// handbooks); a middle chord that touches nothing shares the column, another one stands to the right of the
    /// others. What stands aside leaves room for the dots of the heads on the column.
    pub(crate) fn moment(self, at: Ticks, x: Points) -> Moment {
        let mut chords: Vec<InVoice> = self.outer(at, x);
        if let Some((element, middle)) = self.chord_at(Rank::Middle, at, x, self.middle_way(at)) {
            let mut chord = middle;
            if self.clashes(at, &chord, &chords) {
                let right = chords.iter().map(|part| self.dots_end(part)).reduce(Points::max).unwrap_or(x);
                chord.x += right + SPACE * BESIDE - chord.edges().0.min(chord.stem_x());
            }
            chords.push(InVoice { rank: Rank::Middle, element, chord });
        }
        let notes = || chords.iter().flat_map(|part| part.chord.notes.iter());
        let digits = notes().filter(|(note, _)| self.score.notes[*note].at == at);
        let digits = digits.filter_map(|(note, steps)| Some((*note, printed(self.score, *note)?, *steps)));
        let here = |note: &usize| self.score.notes[*note].at == at;
        let signs = notes().filter(|(note, _)| here(note));
        let signs = signs.filter_map(|(note, steps)| Some((*self.notation.accidentals.get(note)?, *steps)));
        Moment { accidentals: signs.collect(), digits: digits.collect(), chords }
    }

    /// The chords of upper and lower voice at a time.
    fn outer(self, at: Ticks, x: Points) -> Vec<InVoice> {
        let chord = |rank| {
            let element = self.element(self.voice(rank), at)?;
            self.chord_at(rank, at, x, self.outer_way(rank, element))
        };
        let part = |rank: Rank| move |(element, chord): (usize, Chord)| InVoice { rank, element, chord };
        let (above, mut below) = (chord(Rank::Upper).map(part(Rank::Upper)), chord(Rank::Lower));
        let above_end = above.as_ref().map_or(x, |above| self.dots_end(above));
        if let (Some(InVoice { chord: above, .. }), Some((_, below))) = (&above, &mut below)
            && above.lowest() - below.highest() < 2
            && !self.one_head(above, below)
        {
            below.x += above_end - below.edges().0 + SPACE * BESIDE;
        }
        above.into_iter().chain(below.map(part(Rank::Lower))).collect()
    }

    fn chord_at(self, rank: Rank, at: Ticks, x: Points, way: Way) -> Option<(usize, Chord)> {
        let voice = self.voice(rank);
        let element = self.element(voice, at)?;
        let place = |index: &usize| (*index, steps(self.score.notes[*index].written));
        let mut notes: Vec<(usize, Steps)> = voice.notes[element].iter().map(place).collect();
        notes.sort_by_key(|(_, steps)| *steps);
        let value = voice.voice.elements[element].value;
        let shapes = notes.iter().map(|(index, _)| Shape::of(&self.score.notes[*index])).collect();
        (!notes.is_empty()).then_some((element, Chord { notes, shapes, value, way, x }))
    }

    /// The elements under one beam with an element, or it alone.
    fn under_one_beam(voice: &StaffVoice, element: usize) -> Range<usize> {
        let beam = voice.voice.beams.iter().find(|beam| beam.contains(&element));
        beam.cloned().unwrap_or(element..element + 1)
    }

    /// Two voices point away from each other. A single one points to the middle line from the note that is farthest
    /// from it, downwards from the line itself (Read, "Music Notation", 1969, and Gould, "Behind Bars", 2011, both on
    /// stem direction; from memory).
    fn outer_way(self, rank: Rank, element: usize) -> Way {
        if !self.is_alone(rank) {
            return if rank == Rank::Upper { Way::Up } else { Way::Down };
        }
        let voice = self.voice(rank);
        let away = |i: &usize| steps(self.score.notes[*i].written) - MIDDLE;
        let places = voice.notes[Self::under_one_beam(voice, element)].iter().flatten();
        let farthest = places.map(away).max_by_key(|steps| (steps.abs(), *steps));
        if farthest.is_some_and(|steps| steps < 0) { Way::Up } else { Way::Down }
    }

    /// Whether no other voice sounds in the bar.
    pub(super) fn is_alone(self, rank: Rank) -> bool {
        self.notation.voices.iter().all(|voice| voice.rank == rank || voice.is_silent())
    }

    /// The right end of a chord's heads, or of its dots.
    fn dots_end(self, part: &InVoice) -> Points {
        let right = part.chord.edges().1;
        match stems::dots_reach(&part.chord) {
            Points::ZERO => right,
            dots => right + self.flag(part) + dots,
        }
    }

    /// How far a flag reaches beyond the heads of a chord that is under no beam.
    pub(super) fn flag(self, part: &InVoice) -> Points {
        let beams = &self.voice(part.rank).voice.beams;
        let beamed = beams.iter().any(|beam| beam.contains(&part.element));
        if beamed { Points::ZERO } else { stems::flag_reach(&part.chord) }
    }

    /// The way of the middle voice at a time: downwards where the melody is struck on a column under the same beam, since
    /// of voices that share a beat only the upper one has its stems up (Gould, "Behind Bars", 2011, from memory);
    /// elsewhere upwards unless it touches less on its way down.
    fn middle_way(self, at: Ticks) -> Way {
        let voice = self.voice(Rank::Middle);
        let Some(element) = self.element(voice, at) else { return Way::Down };
        let group = Self::under_one_beam(voice, element);
        let times = || voice.voice.elements[group.clone()].iter().map(|e| e.at + self.bar.start);
        let upper = self.voice(Rank::Upper);
        let sings = |at| self.element(upper, at).is_some_and(|e| upper.voice.elements[e].kind != Kind::Rest);
        if times().any(sings) {
            return Way::Down;
        }
        let touches = |way: Way| {
            let clashes = times().filter(|at| {
                let chord = self.chord_at(Rank::Middle, *at, Points::ZERO, way);
                chord.is_some_and(|(_, chord)| self.clashes(*at, &chord, &self.outer(*at, Points::ZERO)))
            });
            clashes.count()
        };
        if touches(Way::Up) <= touches(Way::Down) { Way::Up } else { Way::Down }
    }

    /// Whether a middle chord would touch what stands at a time: heads, stems, and a rest above it in its way.
    fn clashes(self, at: Ticks, chord: &Chord, others: &[InVoice]) -> bool {
        let upper = self.voice(Rank::Upper);
        let rest = self.element(upper, at).is_some_and(|e| upper.voice.elements[e].kind == Kind::Rest);
        if rest && chord.way == Way::Up && chord.value.power > 0 {
            return true;
        }
        let own = boxes(chord);
        let shares =
            |other: &Chord| chord.way == Way::Down && other.way == Way::Up && self.one_head(other, chord);
        let touched = |other: &Chord| boxes(other).iter().any(|a| own.iter().any(|b| a.overlaps(b)));
        others.iter().any(|part| !shares(&part.chord) && touched(&part.chord))
    }

    /// Whether two voices meet on one note that one head shows: the same pitch and the same head with the same dots,
    /// on a stem each.
    fn one_head(self, above: &Chord, below: &Chord) -> bool {
        let written = |note: Option<&(usize, Steps)>| note.map(|(note, _)| self.score.notes[*note].written);
        let head = |chord: &Chord| (chord.value.power.min(2), chord.value.dots);
        written(above.notes.first()) == written(below.notes.last())
            && above.shapes.first() == below.shapes.last()
            && head(above) == head(below)
            && above.value.power > 0
    }
}

/// The boxes of heads and stem.
pub(super) fn boxes(chord: &Chord) -> Vec<Rect> {
    let mut boxes = chord.boxes();
    boxes.extend(stems::reach(chord));
    boxes
}
