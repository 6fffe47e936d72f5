//! The voices of a bar put on the staff, what stands at one time after the other, rests apart.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::heads::{self, Chord, Way};
use super::moment::{InVoice, Moment, boxes};
use super::{MIDDLE, SPACE, Steps, accidentals, digits, stems, steps, ties, tuplets, y_of};
use crate::bar::notation::{Notation, StaffVoice};
use crate::bar::voices::Rank;
use crate::draw::{column, pen, taps};
use crate::frame::{Group, Role};
use crate::glyph::smufl::{Sign, width};
use crate::points::{Point, Points};
use crate::rhythm::{Element, Kind};

/// A bar as the staff draws it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BarNotes<'a> {
    pub score: &'a Score,
    pub bar: &'a Bar,
    pub notation: &'a Notation,
}

/// The moments of a bar by their times.
type Moments = BTreeMap<Ticks, Moment>;

impl BarNotes<'_> {
    /// The heights of the lowest and the highest note over which the thumb brushes at a time.
    fn brush(self, at: Ticks) -> Option<(Steps, Steps)> {
        let notes = &self.score.notes;
        let struck = &notes[notes.partition_point(|n| n.at < at)..notes.partition_point(|n| n.at <= at)];
        let (lowest, highest) = column::brushed(struck)?;
        let on = |string| struck.iter().find(|n| n.place.string == string).map(|n| steps(n.written));
        Some((on(lowest)?, on(highest)?))
    }

    /// How far what stands at a time reaches to the left and to the right of its column.
    pub(crate) fn extent(self, at: Ticks) -> (Points, Points) {
        let (left, right) = self.note_extent(at);
        let tap = taps::at(self.score, at)
            .map_or((Points::ZERO, Points::ZERO), |_| taps::extent(self.beside_tap(at, right)));
        (left.max(tap.0), right.max(tap.1))
    }

    /// How far reaches what a tap stands beside; none where nothing is in the way of its column.
    fn beside_tap(self, at: Ticks, right: Points) -> Option<Points> {
        let drawn = || self.notation.voices.iter().flat_map(StaffVoice::drawn).map(|(_, element)| element);
        let rests = drawn().filter(|e| e.at + self.bar.start == at && e.kind == Kind::Rest);
        let reach = |rest: &Element| {
            pen::sign_width(Sign::Rest(rest.value.power), SPACE) / 2.0
                + SPACE * (0.3 + 0.65 * f64::from(rest.value.dots))
        };
        let widest = rests.map(reach).reduce(Points::max);
        let chords = self.moment(at, Points::ZERO).chords;
        let in_the_way = |chord: &Chord| boxes(chord).iter().any(|ink| ink.overlaps(&taps::cross()));
        match widest {
            Some(rest) => Some(right.max(rest)),
            None => chords.iter().any(|part| in_the_way(&part.chord)).then_some(right),
        }
    }

    /// How far what notes and rests put at a time reaches to the left and to the right of its column.
    fn note_extent(self, at: Ticks) -> (Points, Points) {
        let moment = self.moment(at, Points::ZERO);
        let (mut left, mut right) = (Points::ZERO, Points::ZERO);
        for part in &moment.chords {
            let (from, to) = part.chord.edges();
            let ledger = part.chord.ledger_lines().next().map_or(0.0, |_| width::LEDGER_EXTENSION);
            left = left.min(from - SPACE * ledger);
            let flag = stems::flag_reach(&part.chord);
            let dots = moment.dots_edge(part, flag) + stems::dots_reach(&part.chord);
            right = right.max(to + flag.max(SPACE * ledger)).max(dots);
            if part.chord.notes.iter().any(|(note, _)| self.goes_on_elsewhere(part, *note)) {
                right = right.max(dots.max(moment.right()) + SPACE * ties::OPEN);
            }
            if part.chord.notes.iter().any(|(note, _)| self.score.notes[*note].tied_in) {
                left = left.min(from - SPACE * ties::OPEN);
            }
        }
        let signs = left.min(moment.signs_edge()) - accidentals::reach(&moment.accidentals);
        let digits = digits::left(&moment.digits, |height| moment.edge_at(height));
        let brush = self.brush(at).map_or(Points::ZERO, |_| column::BRUSH);
        (brush - digits.map_or(signs, |digits| digits.min(signs)), right)
    }

    /// All that stands in the bar; `x_of` gives the column of a time.
    pub(crate) fn moments(self, x_of: impl Fn(Ticks) -> Points) -> Moments {
        let elements = self.notation.voices.iter().flat_map(StaffVoice::drawn);
        let times: BTreeSet<Ticks> = elements.map(|(_, e)| e.at + self.bar.start).collect();
        times.into_iter().map(|at| (at, self.moment(at, x_of(at)))).collect()
    }

    /// Draws the bar; `x_of` gives the column of a time.
    pub(crate) fn draw(self, x_of: impl Fn(Ticks) -> Points, ends: (Points, Points), into: &mut Group) {
        let moments = self.moments(&x_of);
        for (at, moment) in &moments {
            accidentals::draw(&moment.accidentals, moment.signs_edge(), into);
            digits::draw(&moment.digits, |height| moment.edge_at(height), into);
            if let Some((lowest, highest)) = self.brush(*at) {
                let left = x_of(*at) - self.note_extent(*at).0 + column::BRUSH;
                column::brush(left, y_of(lowest), y_of(highest), into);
            }
            self.heads(*at, moment, into);
        }
        let tapped = self.score.taps.iter().enumerate();
        for (tap, at) in tapped.map(|(tap, found)| (tap, found.at)) {
            if self.bar.start <= at && at < self.bar.end() {
                let right = self.beside_tap(at, self.note_extent(at).1);
                taps::on_staff(tap, x_of(at), right, into);
            }
        }
        for voice in &self.notation.voices {
            let chords = self.chords(voice, &moments);
            stems::draw(&voice.voice, &chords, into);
            self.rests(voice, &moments, &x_of, ends, into);
        }
        for voice in &self.notation.voices {
            let chords = self.chords(voice, &moments);
            let xs: Vec<Points> = voice.voice.elements.iter().map(|e| x_of(e.at + self.bar.start)).collect();
            tuplets::draw(&voice.voice, &chords, &stems::tips(&voice.voice, &chords), &xs, into);
        }
    }

    /// The chord of every element of a voice; none for a rest.
    pub(crate) fn chords(self, voice: &StaffVoice, moments: &Moments) -> Vec<Option<Chord>> {
        let chord = |element: &Element| {
            let moment = moments.get(&(element.at + self.bar.start))?;
            let part = moment.chords.iter().find(|part| part.rank == voice.rank)?;
            Some(part.chord.clone())
        };
        voice.voice.elements.iter().map(chord).collect()
    }

    /// Heads, dots and open ties of all voices at a time.
    fn heads(self, at: Ticks, moment: &Moment, into: &mut Group) {
        let mut dotted = heads::Dotted::default();
        for part in &moment.chords {
            let chord = &part.chord;
            let starts = |note: usize| self.score.notes[note].at == at;
            heads::draw(chord, starts, into);
            let right = moment.dots_edge(part, self.flag(part));
            heads::dots(chord, right, &mut dotted, into);
            let open = chord
                .notes
                .iter()
                .filter(|(note, _)| self.goes_on_elsewhere(part, *note))
                .map(|(_, steps)| *steps);
            let edge = (right + stems::dots_reach(chord)).max(moment.right());
            ties::open(open, chord.way, (edge, edge + SPACE * ties::OPEN), into);
            let tied =
                chord.notes.iter().filter(|(note, _)| self.score.notes[*note].tied_in && starts(*note));
            let left = chord.edges().0;
            ties::open(tied.map(|(_, steps)| *steps), chord.way, (left - SPACE * ties::OPEN, left), into);
        }
    }

    /// Whether a note of a chord is tied to another place of the tune, where a repeat or a jump leads.
    fn goes_on_elsewhere(self, part: &InVoice, note: usize) -> bool {
        let voice = self.voice(part.rank);
        let last = voice.notes.iter().rposition(|notes| notes.contains(&note)) == Some(part.element);
        let note = &self.score.notes[note];
        note.tied_out && last && note.end() <= self.bar.end()
    }

    /// The rests of a voice that are not clutter: clear of the other voices by more than a step, on a line or, for the
    /// whole rest, hanging from one; all rests of a bar at one height.
    fn rests(
        self,
        voice: &StaffVoice,
        moments: &Moments,
        x_of: &impl Fn(Ticks) -> Points,
        ends: (Points, Points),
        into: &mut Group,
    ) {
        let rests = || voice.drawn().map(|(_, e)| e).filter(|e| e.kind == Kind::Rest);
        let whole_bar = voice.voice.elements.len() == 1;
        let (up, down) = rests()
            .map(|e| reach(if whole_bar { 0 } else { e.value.power }))
            .fold((0, 0), |(up, down), (higher, lower)| (up.max(higher), down.max(lower)));
        let others = || {
            moments.iter().flat_map(|(at, moment)| {
                let beside = rests().any(|rest| rest.at + self.bar.start == *at);
                let parts = moment.chords.iter().filter(|part| part.rank != voice.rank);
                parts.map(move |part| reach_of(part, beside))
            })
        };
        let place = if self.is_alone(voice.rank) {
            MIDDLE
        } else if voice.rank == Rank::Upper {
            (others().map(|(_, up)| up).max().unwrap_or(MIDDLE) + 2 + down + 1).div_euclid(2).max(4) * 2
        } else {
            (others().map(|(down, _)| down).min().unwrap_or(MIDDLE) - 2 - up).div_euclid(2).min(-1) * 2
        };
        for element in rests() {
            let (power, x) = if whole_bar {
                (0, ends.0 + (ends.1 - ends.0) / 2.0)
            } else {
                (element.value.power, x_of(element.at + self.bar.start))
            };
            into.push(rest(element, power, x, place));
        }
    }
}

/// The lowest and the highest place that a rest of another voice keeps clear of: the heads, and the stem of a
/// middle chord on its own column.
fn reach_of(part: &InVoice, beside: bool) -> (Steps, Steps) {
    let (lowest, highest) = (part.chord.lowest(), part.chord.highest());
    let stem = stems::reach(&part.chord).filter(|_| beside && part.rank == Rank::Middle);
    let in_steps = |y: Points| libm::round(-y / (SPACE * 0.5)) as Steps;
    match (stem, part.chord.way) {
        (Some(stem), Way::Up) => (lowest, in_steps(stem.top)),
        (Some(stem), Way::Down) => (in_steps(stem.bottom), highest),
        (None, _) => (lowest, highest),
    }
}

/// How many steps the ink of a rest reaches above and below its place.
fn reach(power: u8) -> (Steps, Steps) {
    let ink = pen::sign_at(Sign::Rest(power), SPACE, Point::ORIGIN).bounds();
    let steps = |length: Points| libm::ceil(length / (SPACE * 0.5)) as Steps;
    // A whole rest hangs from the line above.
    let hung = if power == 0 { 2 } else { 0 };
    ink.map_or((0, 0), |ink| (steps(-ink.top) + hung, steps(ink.bottom) - hung))
}

fn rest(element: &Element, power: u8, x: Points, place: Steps) -> Group {
    // A whole rest hangs from the line above the middle.
    let y = y_of(if power == 0 { place + 2 } else { place });
    let sign = Sign::Rest(power);
    let half = pen::sign_width(sign, SPACE) / 2.0;
    let mut group = Group::of(Role::Rest, pen::sign_at(sign, SPACE, Point::new(x - half, y)));
    for dot in 0..element.value.dots {
        let at = Point::new(x + half + SPACE * (0.3 + 0.65 * f64::from(dot)), y_of(place + 1));
        group.push(pen::sign_at(Sign::Dot, SPACE, at));
    }
    group
}
