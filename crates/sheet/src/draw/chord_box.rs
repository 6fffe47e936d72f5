//! Chord boxes: the neck upright, a dot for every fingertip, digits below, open and silent strings above.

use handspan_core::grip::Grip;
use handspan_core::neck::{Fret, Instrument, StringIndex};

use super::chord_name::SET_BACK;
use super::pen;
use crate::frame::{Group, Ink, Path, Role, Stroke};
use crate::glyph::Face;
use crate::points::{Point, Points};

const STRING_GAP: Points = Points::new(4.5);
const FRET_GAP: Points = Points::new(5.4);
const LINE: Points = Points::new(0.45);
const NUT: Points = Points::new(1.5);
/// The radius of a fingertip.
pub(crate) const DOT: Points = Points::new(1.8);
const SIGN: Points = Points::new(1.25);
/// Room for the signs of open and silent strings.
const ABOVE: Points = Points::new(5.2);
/// Digits below the grid.
const DIGIT: Points = Points::new(6.2);
const BELOW: Points = Points::new(6.6);
/// Numbers of frets.
const NUMERAL: Points = Points::new(7.0);
const NUMERAL_GAP: Points = Points::new(3.8);

/// How boxes are drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style<'a> {
    /// The guitar.
    pub instrument: &'a Instrument,
    /// Whether the highest string stands to the left.
    pub left_handed: bool,
}

/// The part of the neck that a box shows.
#[derive(Clone, Debug)]
pub(crate) struct Window {
    first: u8,
    rows: u8,
}

impl Window {
    /// From the nut where all grips lie within four frets of it, otherwise from their lowest fret; four rows or more.
    pub(crate) fn around(grips: &[&Grip]) -> Self {
        let frets = || grips.iter().flat_map(|grip| grip.stopped_frets());
        let highest = frets().max().unwrap_or(0);
        let first = if highest <= 4 { 1 } else { frets().min().unwrap_or(1) };
        Self { first, rows: (highest + 1).saturating_sub(first).max(4) }
    }

    /// The same with more rows below, so that boxes side by side are equally high.
    pub(crate) fn lengthened(self, rows: u8) -> Self {
        Self { rows: self.rows.max(rows), ..self }
    }

    /// How many frets it shows.
    pub(crate) const fn rows(&self) -> u8 {
        self.rows
    }
}

trait StoppedFrets {
    fn stopped_frets(&self) -> impl Iterator<Item = u8>;
}

impl StoppedFrets for Grip {
    /// The frets above the nut, whether or not a finger is named.
    fn stopped_frets(&self) -> impl Iterator<Item = u8> {
        self.holds().map(|(_, hold)| hold.fret()).filter(|f| !f.is_open()).map(Fret::number)
    }
}

/// How high the box of a grip is, from the signs above to the digits below.
pub(crate) fn height(grip: &Grip) -> Points {
    height_of(&Window::around(&[grip]))
}

/// How high a box is that shows a part of the neck.
pub(crate) fn height_of(window: &Window) -> Points {
    ABOVE + FRET_GAP * f64::from(window.rows) + BELOW
}

/// How wide the box of a grip is, its numeral included, from the symbol's left edge.
pub(crate) fn width(grip: &Grip, instrument: &Instrument) -> Points {
    width_of(&Window::around(&[grip]), instrument)
}

/// How wide a box is that shows a part of the neck.
pub(crate) fn width_of(window: &Window, instrument: &Instrument) -> Points {
    let numeral =
        numeral(window).map_or(Points::ZERO, |text| NUMERAL_GAP + pen::width(Face::Regular, NUMERAL, &text));
    DOT + STRING_GAP * (instrument.string_count() - 1) as f64 + numeral.max(DOT)
}

/// The fret of the uppermost row, where the box does not begin at the nut; in Arabic figures, since Roman ones say where
/// the hand stands.
fn numeral(window: &Window) -> Option<String> {
    (window.first > 1).then(|| window.first.to_string())
}

/// A small number in Roman numerals.
pub(crate) fn roman(number: u8) -> String {
    const VALUES: [(u8, &str); 5] = [(10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I")];
    let mut left = number;
    let mut text = String::new();
    for (value, letters) in VALUES {
        while left >= value {
            text.push_str(letters);
            left -= value;
        }
    }
    text
}

/// The box of a grip by itself over its column, its lower edge on a line.
pub(crate) fn draw(grip: &Grip, style: Style<'_>, x: Points, bottom: Points) -> Group {
    draw_on(grip, &Window::around(&[grip]), style, x, bottom)
}

/// The same on a chosen part of the neck, which has to hold the whole grip.
pub(crate) fn draw_on(grip: &Grip, window: &Window, style: Style<'_>, x: Points, bottom: Points) -> Group {
    let mut group = Group::new(Role::ChordBox);
    let height = FRET_GAP * f64::from(window.rows);
    group.at = Point::new(x - SET_BACK + DOT, bottom - BELOW - height);
    grid(window, style.instrument.string_count(), &mut group);
    barres(grip, window, style, &mut group);
    for string in style.instrument.strings() {
        string_signs(grip, string, window, style, &mut group);
    }
    group
}

/// Where a string lies: the lowest one to the left, or to the right for a left-handed player.
fn string_x(string: StringIndex, style: Style<'_>) -> Points {
    let from_lowest = style.instrument.string_count() - 1 - string.index();
    STRING_GAP * if style.left_handed { string.index() } else { from_lowest } as f64
}

/// Where a fingertip stands.
fn fret_y(fret: u8, window: &Window) -> Points {
    FRET_GAP * (f64::from(fret - window.first) + 0.5)
}

/// Where a fingertip stands in a box's own coordinates.
pub(crate) fn tip(string: StringIndex, fret: Fret, window: &Window, style: Style<'_>) -> Point {
    Point::new(string_x(string, style), fret_y(fret.number(), window))
}

fn grid(window: &Window, strings: usize, group: &mut Group) {
    let width = STRING_GAP * (strings - 1) as f64;
    let height = FRET_GAP * f64::from(window.rows);
    let at = Point::new;
    for row in 0..=window.rows {
        let y = FRET_GAP * f64::from(row);
        group.push(Path::line(at(-LINE / 2.0, y), at(width + LINE / 2.0, y), LINE, Ink::BLACK));
    }
    for string in 0..strings {
        let x = STRING_GAP * string as f64;
        group.push(Path::line(at(x, Points::ZERO), at(x, height), LINE, Ink::BLACK));
    }
    if let Some(text) = numeral(window) {
        let place = at(width + NUMERAL_GAP, FRET_GAP / 2.0 + NUMERAL * 0.33);
        group.push(pen::text_from(Face::Regular, NUMERAL, &text, place));
    } else {
        let y = -NUT / 2.0;
        group.push(Path::line(at(-LINE / 2.0, y), at(width + LINE / 2.0, y), NUT, Ink::BLACK));
    }
}

/// A finger that holds more than one string is drawn as one bar.
fn barres(grip: &Grip, window: &Window, style: Style<'_>, group: &mut Group) {
    for (_, fret, strings) in grip.digits().iter().filter(|(_, _, strings)| strings.len() > 1) {
        let xs: Vec<Points> = strings.iter().map(|s| string_x(s, style)).collect();
        let (Some(right), Some(left)) = (xs.first(), xs.last()) else { continue };
        let y = fret_y(fret.number(), window);
        let mut bar = Path::line(Point::new(*left, y), Point::new(*right, y), DOT * 2.0, Ink::BLACK);
        bar.stroke = bar.stroke.map(|stroke| Stroke { round: true, ..stroke });
        group.push(bar);
    }
}

fn string_signs(grip: &Grip, string: StringIndex, window: &Window, style: Style<'_>, group: &mut Group) {
    let x = string_x(string, style);
    let above = -NUT - Points::new(2.2);
    let thin = Stroke { width: Points::new(0.55), ink: Ink::BLACK, round: false };
    match grip.hold(string) {
        None => {
            let arm = |dx: f64, dy: f64| Point::new(x + SIGN * dx, above + SIGN * dy);
            for (from, to) in [(arm(-1.0, -1.0), arm(1.0, 1.0)), (arm(-1.0, 1.0), arm(1.0, -1.0))] {
                group.push(Path::line(from, to, thin.width, Ink::BLACK));
            }
        }
        Some(hold) if hold.fret().is_open() => {
            group.push(Path::circle(Point::new(x, above), SIGN, None, Some(thin)));
        }
        Some(hold) => {
            let tip = Point::new(x, fret_y(hold.fret().number(), window));
            group.push(Path::circle(tip, DOT, Some(Ink::BLACK), None));
            if let Some(finger) = hold.finger() {
                let baseline = FRET_GAP * f64::from(window.rows) + Points::new(5.9);
                let place = Point::new(x, baseline);
                group.push(pen::text_around(Face::Italic, DIGIT, &finger.to_string(), place));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numerals() {
        let written: Vec<String> = [1, 4, 5, 9, 14, 19].into_iter().map(roman).collect();
        assert_eq!(written, ["I", "IV", "V", "IX", "XIV", "XIX"]);
    }
}
