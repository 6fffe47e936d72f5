//! The two voices of a bar put on the staff: chords side by side where they would collide, rests apart.

use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::accidentals::{self, Accidental};
use super::digits::{self, Digit};
use super::heads::{self, Chord, Way};
use super::{MIDDLE, SPACE, Steps, stems, steps, ties, tuplets, y_of};
use crate::bar::notation::{Notation, StaffVoice};
use crate::draw::{column, pen};
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

/// A digit stands clear of heads and accidentals so many steps away.
const NEAR_HEAD: Steps = 2;
const NEAR_SIGN: Steps = 5;

/// Both voices at one time; each with the number of its element.
struct Moment {
    chords: Vec<(usize, Chord)>,
    accidentals: Vec<Accidental>,
    digits: Vec<Digit>,
}

impl Moment {
    /// The left edge of all heads.
    fn left(&self) -> Points {
        let edges = self.chords.iter().map(|(_, chord)| chord.edges().0);
        edges.reduce(Points::min).unwrap_or(Points::ZERO)
    }

    /// The left edge of what a digit at a height stands beside: the heads and accidentals near it, or all heads where
    /// the two voices stand aside from one another or on ledger lines.
    fn edge_at(&self, height: Steps) -> Points {
        let aside = self.chords.windows(2).any(|pair| pair[0].1.x != pair[1].1.x);
        let whole = aside || !(-1..=9).contains(&height);
        let heads = self.chords.iter().flat_map(|(_, chord)| chord.lefts());
        let near_heads = heads.filter(|(steps, _)| whole || (steps - height).abs() <= NEAR_HEAD);
        let signs = accidentals::lefts(&self.accidentals, self.left()).into_iter();
        let near_signs = signs.filter(|(steps, _)| (steps - height).abs() <= NEAR_SIGN);
        near_heads.chain(near_signs).map(|(_, left)| left).reduce(Points::min).unwrap_or(self.left())
    }
}

impl BarNotes<'_> {
    /// The element of a voice that begins at a time.
    fn element(self, voice: &StaffVoice, at: Ticks) -> Option<usize> {
        voice.voice.elements.iter().position(|e| e.at + self.bar.start == at)
    }

    fn chord(self, voice: &StaffVoice, element: usize, x: Points) -> Option<Chord> {
        let mut notes: Vec<(usize, Steps)> =
            voice.notes[element].iter().map(|i| (*i, steps(self.score.notes[*i].written))).collect();
        notes.sort_by_key(|(_, steps)| *steps);
        let value = voice.voice.elements[element].value;
        (!notes.is_empty()).then(|| Chord { notes, value, way: self.way(voice, element), x })
    }

    /// Two voices point away from each other; a single one keeps its stems within the staff.
    fn way(self, voice: &StaffVoice, element: usize) -> Way {
        let is_upper = std::ptr::eq(voice, &raw const self.notation.upper);
        let alone = if is_upper { self.notation.lower.is_silent() } else { self.notation.upper.is_silent() };
        if !alone {
            return if is_upper { Way::Up } else { Way::Down };
        }
        let beam = voice.voice.beams.iter().find(|b| b.contains(&element)).cloned();
        let members: Range<usize> = beam.unwrap_or(element..element + 1);
        let away = |i: &usize| steps(self.score.notes[*i].written) - MIDDLE;
        let places = voice.notes[members].iter().flatten();
        let farthest = places.map(away).max_by_key(|steps| steps.abs());
        if farthest.is_some_and(|steps| steps < 0) { Way::Up } else { Way::Down }
    }

    /// The chords at a time; where the heads would touch, the lower one stands to the right of the upper one, so that
    /// both stems lie between them (common practice of the notation handbooks).
    fn moment(self, at: Ticks, x: Points) -> Moment {
        let Notation { upper, lower, accidentals } = self.notation;
        let chord = |voice| {
            let element = self.element(voice, at)?;
            Some((element, self.chord(voice, element, x)?))
        };
        let (above, mut below) = (chord(upper), chord(lower));
        if let (Some((_, above)), Some((_, below))) = (&above, &mut below)
            && above.lowest() - below.highest() < 2
            && !self.one_head(above, below)
        {
            below.x += above.edges().1 - below.edges().0 + SPACE * 0.15;
        }
        let digits = [(upper, &above), (lower, &below)].into_iter().flat_map(|(voice, chord)| {
            let struck =
                chord.iter().filter(|(element, _)| voice.voice.elements[*element].kind == Kind::Struck);
            struck
                .flat_map(|(_, chord)| &chord.notes)
                .filter_map(|(note, steps)| Some((*note, self.score.notes[*note].finger?, *steps)))
        });
        let digits = digits.collect();
        let chords: Vec<(usize, Chord)> = above.into_iter().chain(below).collect();
        let notes = chords.iter().flat_map(|(_, chord)| chord.notes.iter());
        let accidentals =
            notes.filter_map(|(index, steps)| Some((*accidentals.get(index)?, *steps))).collect();
        Moment { chords, accidentals, digits }
    }

    /// Whether two voices meet on one note that one head shows: the same pitch and the same head with the same dots,
    /// on a stem each.
    fn one_head(self, above: &Chord, below: &Chord) -> bool {
        let written = |note: Option<&(usize, Steps)>| note.map(|(note, _)| self.score.notes[*note].written);
        let head = |chord: &Chord| (chord.value.power.min(2), chord.value.dots);
        written(above.notes.first()) == written(below.notes.last())
            && head(above) == head(below)
            && above.value.power > 0
    }

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
        let moment = self.moment(at, Points::ZERO);
        let (mut left, mut right) = (Points::ZERO, Points::ZERO);
        for (_, chord) in &moment.chords {
            let (from, to) = chord.edges();
            let ledger = chord.ledger_lines().next().map_or(0.0, |_| width::LEDGER_EXTENSION);
            left = left.min(from - SPACE * ledger);
            right = right.max(to + stems::right_reach(chord).max(SPACE * ledger));
        }
        let voices = [&self.notation.upper, &self.notation.lower];
        let rings = |voice: &&StaffVoice| {
            self.element(voice, at).is_some_and(|element| !voice.ringing_on[element].is_empty())
        };
        if voices.iter().any(rings) {
            right += SPACE * ties::OPEN;
        }
        let signs = left - accidentals::reach(&moment.accidentals);
        let digits = digits::left(&moment.digits, |height| moment.edge_at(height));
        let brush = self.brush(at).map_or(Points::ZERO, |_| column::BRUSH);
        (brush - digits.map_or(signs, |digits| digits.min(signs)), right)
    }

    /// Draws the bar; `x_of` gives the column of a time.
    pub(crate) fn draw(self, x_of: impl Fn(Ticks) -> Points, ends: (Points, Points), into: &mut Group) {
        let Notation { upper, lower, .. } = self.notation;
        let mut times: Vec<Ticks> = Vec::new();
        for voice in [upper, lower] {
            times.extend(voice.voice.elements.iter().map(|e| e.at + self.bar.start));
        }
        times.sort_unstable();
        times.dedup();
        for at in times {
            let moment = self.moment(at, x_of(at));
            accidentals::draw(&moment.accidentals, moment.left(), into);
            digits::draw(&moment.digits, |height| moment.edge_at(height), into);
            if let Some((lowest, highest)) = self.brush(at) {
                let x = x_of(at);
                let left = x - self.extent(at).0 + column::BRUSH;
                column::brush(left, y_of(lowest), y_of(highest), into);
            }
        }
        for voice in [upper, lower] {
            let chords: Vec<Option<Chord>> = (0..voice.voice.elements.len())
                .map(|element| {
                    let at = voice.voice.elements[element].at + self.bar.start;
                    let moment = self.moment(at, x_of(at));
                    let mine = |(i, c): &(usize, Chord)| {
                        *i == element
                            && c.notes.first().is_some_and(|(n, _)| voice.notes[element].contains(n))
                    };
                    moment.chords.into_iter().find(mine).map(|(_, chord)| chord)
                })
                .collect();
            self.voice(voice, &chords, &x_of, into);
            self.rests(voice, &x_of, ends, into);
        }
    }

    fn voice(
        self,
        voice: &StaffVoice,
        chords: &[Option<Chord>],
        x_of: &impl Fn(Ticks) -> Points,
        into: &mut Group,
    ) {
        for (index, (element, chord)) in voice.voice.elements.iter().zip(chords).enumerate() {
            if let Some(chord) = chord {
                let beamed = voice.voice.beams.iter().any(|beam| beam.contains(&index));
                let flag = if beamed { Points::ZERO } else { stems::flag_reach(chord) };
                heads::draw(chord, element.kind == Kind::Struck, into);
                let at = element.at + self.bar.start;
                let beside = self.moment(at, x_of(at)).chords;
                let right = beside.iter().map(|(_, c)| c.edges().1).fold(chord.edges().1 + flag, Points::max);
                heads::dots(chord, right, into);
                let rings = &voice.ringing_on[index];
                let open =
                    chord.notes.iter().filter(|(note, _)| rings.contains(note)).map(|(_, steps)| *steps);
                ties::open(open, chord.way, right + stems::dots_reach(chord), into);
            }
        }
        stems::draw(&voice.voice, chords, into);
        let xs: Vec<Points> = voice.voice.elements.iter().map(|e| x_of(e.at + self.bar.start)).collect();
        tuplets::draw(&voice.voice, chords, &stems::tips(&voice.voice, chords), &xs, into);
    }

    /// Rests of the melody; those of the accompaniment only where it sounds in the bar at all.
    fn rests(
        self,
        voice: &StaffVoice,
        x_of: &impl Fn(Ticks) -> Points,
        ends: (Points, Points),
        into: &mut Group,
    ) {
        let is_upper = std::ptr::eq(voice, &raw const self.notation.upper);
        let other = if is_upper { &self.notation.lower } else { &self.notation.upper };
        if voice.is_silent() && (!is_upper || !other.is_silent()) {
            return;
        }
        let rests = || voice.voice.elements.iter().filter(|e| e.kind == Kind::Rest);
        let whole_bar = voice.voice.elements.len() == 1;
        // Clear of the other voice by more than a step, on a line or, for the whole rest, hanging from one; all rests of
        // a bar at one height.
        let others = || other.notes.iter().flatten().map(|note| steps(self.score.notes[*note].written));
        let (up, down) = rests()
            .map(|e| reach(if whole_bar { 0 } else { e.value.power }))
            .fold((0, 0), |(up, down), (higher, lower)| (up.max(higher), down.max(lower)));
        let place = match (other.is_silent(), is_upper) {
            (true, _) => MIDDLE,
            (false, true) => (others().max().unwrap_or(MIDDLE) + 2 + down + 1).div_euclid(2).max(4) * 2,
            (false, false) => (others().min().unwrap_or(MIDDLE) - 2 - up).div_euclid(2).min(-1) * 2,
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
