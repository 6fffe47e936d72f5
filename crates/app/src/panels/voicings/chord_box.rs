//! A small chord box: strings upright, the lowest at the left, fingers in their places.

use eframe::egui::{Align2, CornerRadius, FontId, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};
use handspan_core::grip::Grip;
use handspan_core::neck::StringIndex;

use crate::panels::Look;
use crate::theme::strong;

/// Strings apart.
const ACROSS: f32 = 12.0;
/// Frets apart.
const DOWN: f32 = 13.0;
/// Fewest frets in a box.
const FRETS: u8 = 4;
/// Room over the nut for open and silent strings.
const OVER: f32 = 10.0;
/// Room at the left for the number of the first fret.
const LEFT: f32 = 22.0;

/// The size of the box of a grip.
pub(super) fn size(strings: usize) -> Vec2 {
    vec2(LEFT + ACROSS * (strings as f32 - 1.0) + 8.0, OVER + DOWN * f32::from(FRETS) + 4.0)
}

/// Paints the box of a grip with its corner at a point.
pub(super) fn paint(painter: &Painter, look: &Look, corner: Pos2, grip: &Grip, strings: usize) {
    let first = first_fret(grip);
    let frets = frets_shown(grip, first);
    let down = DOWN * f32::from(FRETS) / f32::from(frets);
    let x = |string: usize| corner.x + LEFT + ACROSS * (strings - 1 - string) as f32;
    let y = |fret: u8| corner.y + OVER + down * f32::from(fret);
    let thin = Stroke::new(1.0, look.palette.wire);
    for string in 0..strings {
        painter.vline(x(string), y(0)..=y(frets), thin);
    }
    for fret in 0..=frets {
        painter.hline(x(strings - 1)..=x(0), y(fret), thin);
    }
    let small = FontId::proportional(look.sizes.quiet);
    if first == 1 {
        painter.hline(x(strings - 1) - 0.5..=x(0) + 0.5, y(0) - 1.0, Stroke::new(3.0, look.palette.ink));
    } else {
        let at = pos2(x(strings - 1) - 9.0, y(0) + down / 2.0);
        painter.text(at, Align2::RIGHT_CENTER, first, small.clone(), look.palette.quiet);
    }
    for (_, fret, over) in grip.digits().iter() {
        if let (Some(high), Some(low)) =
            (over.iter().next(), over.iter().next_back().filter(|_| over.len() > 1))
        {
            let middle = y(fret.number() - first) + down / 2.0;
            let bar =
                Rect::from_min_max(pos2(x(low.index()), middle - 3.0), pos2(x(high.index()), middle + 3.0));
            painter.rect_filled(bar, CornerRadius::same(3), look.palette.other);
        }
    }
    for string in StringIndex::all(strings) {
        let top = pos2(x(string.index()), corner.y + OVER / 2.0 - 1.0);
        match grip.hold(string) {
            None => {
                let cross = Stroke::new(1.0, look.palette.quiet);
                painter.line_segment([top - vec2(2.5, 2.5), top + vec2(2.5, 2.5)], cross);
                painter.line_segment([top - vec2(2.5, -2.5), top + vec2(2.5, -2.5)], cross);
            }
            Some(hold) => match hold.finger {
                None => {
                    painter.circle_stroke(top, 2.8, Stroke::new(1.25, look.palette.ink));
                }
                Some(finger) => {
                    let at = pos2(top.x, y(hold.fret.number() - first) + down / 2.0);
                    painter.circle_filled(at, 6.0, look.palette.other);
                    painter.text(at, Align2::CENTER_CENTER, finger, strong(9.5), look.palette.on_mark);
                }
            },
        }
    }
}

/// The first fret shown: the first of all where the grip lies low enough.
fn first_fret(grip: &Grip) -> u8 {
    let frets = || grip.stopped().map(|(place, _)| place.fret.number());
    match frets().max() {
        Some(highest) if highest > FRETS => frets().min().unwrap_or(1),
        _ => 1,
    }
}

fn frets_shown(grip: &Grip, first: u8) -> u8 {
    let highest = grip.stopped().map(|(place, _)| place.fret.number()).max();
    FRETS.max(highest.map_or(0, |h| h + 1 - first))
}
