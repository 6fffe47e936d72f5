//! A chord box: strings upright, the lowest at the left, fingers in their places. Large enough to be read from a metre.

use eframe::egui::{Align2, CornerRadius, FontId, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};
use handspan_core::grip::Grip;
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

/// The size of the box of a grip.
pub fn size(strings: usize) -> Vec2 {
    vec2(LEFT + ACROSS * (strings as f32 - 1.0) + RIGHT, OVER + DOWN * f32::from(FRETS) + 2.0)
}

/// Paints the box of a grip with its corner at a point. A stopped string that no finger holds is a hollow circle.
pub fn paint(painter: &Painter, look: &Look, corner: Pos2, grip: &Grip, boxed: Boxed) {
    let strings = boxed.strings;
    let first = first_fret(grip);
    let frets = frets_shown(grip, first);
    let down = DOWN * f32::from(FRETS) / f32::from(frets);
    let from_left = |string: usize| if boxed.left_handed { string } else { strings - 1 - string };
    let x = |string: usize| corner.x + LEFT + ACROSS * from_left(string) as f32;
    let (left, right) = (corner.x + LEFT, corner.x + LEFT + ACROSS * (strings - 1) as f32);
    let y = |fret: u8| corner.y + OVER + down * f32::from(fret);
    let thin = Stroke::new(1.0, look.palette.wire);
    for string in 0..strings {
        painter.vline(x(string), y(0)..=y(frets), thin);
    }
    for fret in 0..=frets {
        painter.hline(left..=right, y(fret), thin);
    }
    if first == 1 {
        painter.hline(left - 0.5..=right + 0.5, y(0) - 1.0, Stroke::new(3.0, look.palette.ink));
    } else {
        let at = pos2(left - FINGER - 3.0, y(0) + down / 2.0);
        let font = FontId::proportional(look.sizes.body);
        painter.text(at, Align2::RIGHT_CENTER, first, font, look.palette.ink);
    }
    for (_, fret, over) in grip.digits().iter() {
        if let (Some(high), Some(low)) =
            (over.iter().next(), over.iter().next_back().filter(|_| over.len() > 1))
        {
            let middle = y(fret.number() - first) + down / 2.0;
            let bar =
                Rect::from_two_pos(pos2(x(low.index()), middle - 4.0), pos2(x(high.index()), middle + 4.0));
            painter.rect_filled(bar, CornerRadius::same(4), look.palette.other);
        }
    }
    for string in StringIndex::all(strings) {
        let over = pos2(x(string.index()), corner.y + OVER / 2.0 - 1.0);
        let stopped = |fret: u8| pos2(over.x, y(fret - first) + down / 2.0);
        match grip.hold(string) {
            None => {
                let cross = Stroke::new(1.0, look.palette.quiet);
                painter.line_segment([over - vec2(3.0, 3.0), over + vec2(3.0, 3.0)], cross);
                painter.line_segment([over - vec2(3.0, -3.0), over + vec2(3.0, -3.0)], cross);
            }
            Some(hold) if hold.fret.is_open() => {
                painter.circle_stroke(over, 3.5, Stroke::new(1.5, look.palette.ink));
            }
            Some(hold) => match hold.finger {
                None => {
                    let at = stopped(hold.fret.number());
                    painter.circle(
                        at,
                        FINGER - 1.5,
                        look.palette.ground,
                        Stroke::new(1.5, look.palette.other),
                    );
                }
                Some(finger) => {
                    let at = stopped(hold.fret.number());
                    painter.circle_filled(at, FINGER, look.palette.other);
                    let font = strong(look.sizes.body);
                    painter.text(at, Align2::CENTER_CENTER, finger, font, look.palette.on_mark);
                }
            },
        }
    }
}

fn stopped(grip: &Grip) -> impl Iterator<Item = u8> {
    grip.holds().map(|(_, hold)| hold.fret.number()).filter(|fret| *fret > 0)
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
