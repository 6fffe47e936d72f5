//! A chord box: strings upright, the lowest at the left, fingers in their places. Large enough to be read from a metre.

use eframe::egui::{Align2, CornerRadius, FontId, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};
use handspan_core::grip::{Grip, Hold};
use handspan_core::neck::StringIndex;

use crate::panels::Look;
use crate::theme::strong;

/// Strings apart.
const ACROSS: f32 = 17.0;
/// Frets apart.
const DOWN: f32 = 19.0;
/// Fewest frets in a box.
const FRETS: u8 = 4;
/// Room over the nut for open and silent strings.
const OVER: f32 = 14.0;
/// Room at the left for the number of the first fret, and for half a finger.
const LEFT: f32 = 26.0;
/// Room at the right for half a finger.
const RIGHT: f32 = 9.0;
/// Half a finger.
const FINGER: f32 = 8.0;

/// What a box shows besides the grip.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Boxed {
    /// How many strings there are.
    pub strings: usize,
    /// Whether the highest string stands at the left.
    pub left_handed: bool,
}

/// The size of the box of a grip, so much larger than it has to be.
pub fn size(strings: usize, scale: f32) -> Vec2 {
    scale * vec2(LEFT + ACROSS * (strings as f32 - 1.0) + RIGHT, OVER + DOWN * f32::from(FRETS) + 2.0)
}

/// Where a box lies, and what it is drawn with.
struct Ruled<'a> {
    painter: &'a Painter,
    look: &'a Look,
    corner: Pos2,
    boxed: Boxed,
    scale: f32,
    /// The first fret shown, and how many are.
    first: u8,
    frets: u8,
}

/// Paints the box of a grip with its corner at a point. A stopped string that no finger holds is a hollow circle.
pub fn paint(painter: &Painter, look: &Look, corner: Pos2, grip: &Grip, (boxed, scale): (Boxed, f32)) {
    let first = first_fret(grip);
    let ruled = Ruled { painter, look, corner, boxed, scale, first, frets: frets_shown(grip, first) };
    ruled.lines();
    ruled.barres(grip);
    for string in StringIndex::all(boxed.strings) {
        ruled.string(string, grip.hold(string));
    }
}

impl Ruled<'_> {
    fn x(&self, string: usize) -> f32 {
        let from_left = if self.boxed.left_handed { string } else { self.boxed.strings - 1 - string };
        self.corner.x + self.scale * (LEFT + ACROSS * from_left as f32)
    }

    fn down(&self) -> f32 {
        self.scale * DOWN * f32::from(FRETS) / f32::from(self.frets)
    }

    fn y(&self, fret: u8) -> f32 {
        self.corner.y + self.scale * OVER + self.down() * f32::from(fret)
    }

    fn lines(&self) {
        let (painter, palette) = (self.painter, &self.look.palette);
        let left = self.corner.x + self.scale * LEFT;
        let right = left + self.scale * ACROSS * (self.boxed.strings - 1) as f32;
        let thin = Stroke::new(1.0, palette.wire);
        for string in 0..self.boxed.strings {
            painter.vline(self.x(string), self.y(0)..=self.y(self.frets), thin);
        }
        for fret in 0..=self.frets {
            painter.hline(left..=right, self.y(fret), thin);
        }
        if self.first == 1 {
            let nut = Stroke::new(3.0 * self.scale, palette.ink);
            painter.hline(left - 0.5..=right + 0.5, self.y(0) - self.scale, nut);
        } else {
            let at = pos2(left - self.scale * (FINGER + 3.0), self.y(0) + self.down() / 2.0);
            let font = FontId::proportional(self.scale * self.look.sizes.body);
            painter.text(at, Align2::RIGHT_CENTER, self.first, font, palette.ink);
        }
    }

    fn barres(&self, grip: &Grip) {
        for (_, fret, over) in grip.digits().iter().filter(|(.., over)| over.len() > 1) {
            let (Some(high), Some(low)) = (over.iter().next(), over.iter().next_back()) else { continue };
            let (middle, half) = (self.middle(fret.number()), 4.0 * self.scale);
            let bar = Rect::from_two_pos(
                pos2(self.x(low.index()), middle - half),
                pos2(self.x(high.index()), middle + half),
            );
            self.painter.rect_filled(bar, CornerRadius::same(half as u8), self.look.palette.other);
        }
    }

    fn middle(&self, fret: u8) -> f32 {
        self.y(fret - self.first) + self.down() / 2.0
    }

    fn string(&self, string: StringIndex, hold: Option<Hold>) {
        let (painter, palette, scale) = (self.painter, &self.look.palette, self.scale);
        let over = pos2(self.x(string.index()), self.corner.y + scale * (OVER / 2.0 - 1.0));
        let Some(hold) = hold else {
            let (cross, half) = (Stroke::new(scale, palette.quiet), 3.0 * scale);
            painter.line_segment([over - vec2(half, half), over + vec2(half, half)], cross);
            painter.line_segment([over - vec2(half, -half), over + vec2(half, -half)], cross);
            return;
        };
        if hold.fret().is_open() {
            painter.circle_stroke(over, 3.5 * scale, Stroke::new(1.5 * scale, palette.ink));
            return;
        }
        let at = pos2(over.x, self.middle(hold.fret().number()));
        let Some(finger) = hold.finger() else {
            let rim = Stroke::new(1.5 * scale, palette.other);
            painter.circle(at, scale * (FINGER - 1.5), palette.ground, rim);
            return;
        };
        painter.circle_filled(at, scale * FINGER, palette.other);
        let font = strong(scale * self.look.sizes.body);
        painter.text(at, Align2::CENTER_CENTER, finger, font, palette.on_mark);
    }
}

fn stopped(grip: &Grip) -> impl Iterator<Item = u8> {
    grip.holds().map(|(_, hold)| hold.fret().number()).filter(|fret| *fret > 0)
}

/// The first fret shown: the first of all where the grip lies low enough.
fn first_fret(grip: &Grip) -> u8 {
    match stopped(grip).max() {
        Some(highest) if highest > FRETS => stopped(grip).min().unwrap_or(1),
        _ => 1,
    }
}

fn frets_shown(grip: &Grip, first: u8) -> u8 {
    FRETS.max(stopped(grip).max().map_or(0, |highest| highest + 1 - first))
}
