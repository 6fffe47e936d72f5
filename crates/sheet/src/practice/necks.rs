//! A move as two small necks side by side; on the second one, where the fingers come from.

use handspan_core::grip::Grip;
use handspan_core::neck::Instrument;

use crate::draw::chord_box::{self, Style, Window};
use crate::draw::chord_name::SET_BACK;
use crate::frame::{Group, Ink, Path, Role, Stroke};
use crate::points::{Point, Points};

/// How much larger than above a system the necks are drawn.
const SCALE: f64 = 1.9;
/// More frets than this are not drawn on one neck: each hand then has its own.
const MOST_ROWS: u8 = 8;
/// From the first neck to the arrow and on to the second, before enlarging.
const ARROW_GAP: Points = Points::new(5.0);
const ARROW: Points = Points::new(12.0);
/// The lines of the fingers' ways, and the tips of all arrows.
const THIN: Points = Points::new(0.6);
const TIP: Points = Points::new(2.4);

/// The two necks from the upper left corner.
pub(super) fn necks(instrument: &Instrument, from: &Grip, to: &Grip, left_handed: bool) -> Group {
    let style = Style { instrument, left_handed };
    let both = Window::around(&[from, to]);
    let shared = both.rows() <= MOST_ROWS;
    let window_of = |grip: &Grip| if shared { both } else { Window::around(&[grip]) };
    let (first, second) = (window_of(from), window_of(to));
    let bottom = chord_box::height_of(&first).max(chord_box::height_of(&second));
    let mut group = Group::new(Role::ChordBox);
    group.push(chord_box::draw_on(from, &first, style, SET_BACK, bottom));
    let beside = chord_box::width_of(&first, instrument) + ARROW_GAP;
    let middle = bottom * 0.5;
    arrow(Point::new(beside, middle), Point::new(beside + ARROW, middle), Ink::BLACK, &mut group);
    let mut neck = chord_box::draw_on(to, &second, style, SET_BACK + beside + ARROW + ARROW_GAP, bottom);
    if shared {
        origins(from, to, &both, style, &mut neck);
    }
    group.push(neck);
    group.enlarged(SCALE)
}

/// Rings where fingers stood that stand elsewhere now, with arrows to where they go.
fn origins(from: &Grip, to: &Grip, window: &Window, style: Style<'_>, neck: &mut Group) {
    let (old, new) = (from.digits(), to.digits());
    for (finger, fret, strings) in old.iter() {
        let Some((next, next_strings)) = new.of(finger) else { continue };
        let (Some(string), Some(next_string)) = (strings.iter().next_back(), next_strings.iter().next_back())
        else {
            continue;
        };
        let tip = |string, fret| chord_box::tip(string, fret, window, style);
        let (a, b) = (tip(string, fret), tip(next_string, next));
        if a == b {
            continue;
        }
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let length = Points::new(libm::hypot(dx.count(), dy.count()));
        let on = |from_end: Points| {
            let part = (length - from_end) / length;
            Point::new(a.x + dx * part, a.y + dy * part)
        };
        let ring = Stroke { width: THIN, ink: Ink::GREY, round: false };
        neck.push(Path::circle(a, chord_box::DOT, Some(Ink::PAPER), Some(ring)));
        arrow(on(length - chord_box::DOT), on(chord_box::DOT + THIN), Ink::MIDDLE, neck);
    }
}

/// A straight arrow.
fn arrow(from: Point, to: Point, ink: Ink, into: &mut Group) {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = libm::hypot(dx.count(), dy.count());
    if length < TIP.count() {
        return;
    }
    let (ux, uy) = (dx.count() / length, dy.count() / length);
    let back = to.moved(TIP * -ux, TIP * -uy);
    let half = TIP * 0.45;
    into.push(Path::line(from, back, THIN, ink));
    let corners = [to, back.moved(half * -uy, half * ux), back.moved(half * uy, half * -ux)];
    into.push(Path::polygon(&corners, ink));
}
