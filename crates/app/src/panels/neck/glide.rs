//! Fingers glide from one grip to the next, so that the eye sees which of them moves where.
//!
//! How long it takes is the style's animation time; nothing moves where that is nothing, as the system asks that wants
//! less motion.

use eframe::egui::{Pos2, Ui};

use super::model::{Mark, NeckModel, Spot};

/// Where the fingers were when the grip changed, and since when they are on their way.
#[derive(Debug, Default)]
pub(super) struct Glide {
    grip: Vec<(char, Spot)>,
    /// The moment of the grip and the width it was drawn in; other widths are other places.
    drawn: Option<(usize, u32)>,
    from: Vec<(char, Pos2)>,
    began: f64,
}

impl Glide {
    /// Where every mark is drawn now.
    pub(super) fn places(&mut self, ui: &Ui, model: &NeckModel, at: impl Fn(Spot) -> Pos2) -> Vec<Pos2> {
        let (now, time) = (ui.input(|input| input.time), f64::from(ui.style().animation_time));
        let fingers = |marks: &[Mark]| -> Vec<(char, Spot)> {
            marks.iter().filter_map(|mark| Some((mark.finger?, mark.spot))).collect()
        };
        let grip = fingers(&model.marks);
        let drawn = Some((model.moment, ui.max_rect().width().to_bits()));
        if self.grip != grip {
            let same_size = self.drawn.is_some_and(|(_, width)| drawn.is_some_and(|(_, now)| now == width));
            let share = self.share(now, time);
            let before =
                self.grip.iter().map(|(finger, spot)| (*finger, self.between(*finger, at(*spot), share)));
            self.from = if same_size { before.collect() } else { Vec::new() };
            self.began = now;
            self.grip = grip;
        }
        self.drawn = drawn;
        let share = self.share(now, time);
        if share < 1.0 && !self.from.is_empty() {
            ui.ctx().request_repaint();
        }
        let place = |mark: &Mark| {
            let to = at(mark.spot);
            mark.finger.map_or(to, |finger| self.between(finger, to, share))
        };
        model.marks.iter().map(place).collect()
    }

    fn share(&self, now: f64, time: f64) -> f32 {
        if time <= 0.0 { 1.0 } else { ((now - self.began) / time).clamp(0.0, 1.0) as f32 }
    }

    /// Between where a finger was and where it goes; a finger that was in the air is there at once.
    fn between(&self, finger: char, to: Pos2, share: f32) -> Pos2 {
        let from = self.from.iter().find(|(other, _)| *other == finger).map_or(to, |(_, from)| *from);
        // Fast away, gently down.
        let eased = 1.0 - (1.0 - share) * (1.0 - share);
        from.lerp(to, eased)
    }
}
