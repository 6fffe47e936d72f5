//! Draws one bar of the grid and takes clicks in it.

use eframe::egui::{
    Align2, Color32, CornerRadius, FontId, Painter, Pos2, Rect, Role as AccessRole, Sense, Shape, Stroke,
    StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::model::{BarCell, ChordCell, NoteCell};
use crate::command::{Caret, Command, TuneWish};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, medium, strong};
use handspan_core::tune::Line;

/// How high a row of bars is.
pub(super) const ROW: f32 = 148.0;
/// Lanes from the top of a row down: from, to.
const HEAD: (f32, f32) = (2.0, 20.0);
pub(super) const CHORDS: (f32, f32) = (24.0, 50.0);
const MELODY: (f32, f32) = (56.0, 130.0);
const BEATS: f32 = 136.0;
/// Room within a bar before the first and after the last beat.
const PAD: (f32, f32) = (10.0, 6.0);
/// How high a note is drawn.
const NOTE: f32 = 20.0;
/// Size of chord symbols, to be read from a metre away.
const SYMBOL: f32 = 18.0;
/// A note narrower than this has no room for its name.
const NAMED: f32 = 13.0;

/// A bar where it stands on the screen.
pub(super) struct Cell<'a> {
    pub(super) bar: &'a BarCell,
    pub(super) rect: Rect,
    pub(super) look: &'a Look,
}

impl Cell<'_> {
    pub(super) fn x(&self, place: f32) -> f32 {
        let width = self.rect.width() - PAD.0 - PAD.1;
        self.rect.left() + PAD.0 + place * width
    }

    fn place(&self, x: f32) -> f32 {
        (x - self.rect.left() - PAD.0) / (self.rect.width() - PAD.0 - PAD.1)
    }

    fn lane(&self, from: f32, to: f32, lane: (f32, f32)) -> Rect {
        let top = self.rect.top();
        Rect::from_min_max(pos2(self.x(from), top + lane.0), pos2(self.x(to), top + lane.1))
    }

    pub(super) fn show(&self, ui: &Ui, session: &Session, queue: &mut Queue) {
        self.listen(ui, session, queue);
        let painter = ui.painter();
        self.ground(painter);
        self.lines(painter);
        self.head(painter);
        self.beats(painter);
        self.chords(ui, session, queue);
        for note in &self.bar.notes {
            self.note(ui, note, queue);
        }
        self.caret(painter);
    }

    /// A click between the notes puts the caret there.
    fn listen(&self, ui: &Ui, session: &Session, queue: &mut Queue) {
        let lane = self.lane(self.bar.span.0, self.bar.span.1, (MELODY.0, ROW));
        let id = ui.scope_id().with(("bar", self.bar.index));
        let response = ui.interact(lane, id, Sense::CLICK);
        response.widget_info(|| {
            WidgetInfo::labeled(AccessRole::Group, true, format!("Melody of bar {}", self.bar.number))
        });
        if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
            let grid = session.writing().value().length();
            let time = self.bar.time_at(&session.work().tune, self.place(at.x), grid);
            queue.push(Command::Tune(TuneWish::Caret(Caret::To(time))));
        }
        if let Some(remark) = &self.bar.remark {
            response.on_hover_text_at_pointer(remark);
        }
    }

    fn ground(&self, painter: &Painter) {
        let palette = &self.look.palette;
        if let Some((from, to)) = self.bar.moment {
            let span = self.lane(from, to, (CHORDS.0 - 2.0, BEATS + 5.0));
            painter.rect_filled(span, CornerRadius::ZERO, palette.panel);
        }
        if self.bar.remark.is_some() {
            let edge = Rect::from_min_max(
                pos2(self.rect.left() + 2.0, self.rect.top() + HEAD.0),
                pos2(self.rect.right() - 2.0, self.rect.top() + BEATS + 8.0),
            );
            let radius = CornerRadius::same(self.look.sizes.radius);
            painter.rect_stroke(edge, radius, Stroke::new(1.5, palette.careful), StrokeKind::Inside);
        }
    }

    /// Bar lines, repeats and endings.
    fn lines(&self, painter: &Painter) {
        let palette = &self.look.palette;
        let top = self.rect.top();
        let y = top + CHORDS.0..=top + BEATS + 4.0;
        let line =
            |x: f32, width: f32, colour: Color32| painter.vline(x, y.clone(), Stroke::new(width, colour));
        line(self.rect.left(), 1.0, palette.quiet);
        line(self.rect.right(), 1.0, palette.quiet);
        let dots = |x: f32| {
            for share in [0.4, 0.6] {
                let at = pos2(x, top + MELODY.0 + share * (MELODY.1 - MELODY.0));
                painter.circle_filled(at, 2.5, palette.ink);
            }
        };
        if self.bar.repeat_start {
            line(self.rect.left() + 1.0, 3.0, palette.ink);
            dots(self.rect.left() + 7.0);
        }
        if self.bar.repeat_end {
            line(self.rect.right() - 1.0, 3.0, palette.ink);
            dots(self.rect.right() - 7.0);
        }
        if self.bar.ending.is_some() {
            let over = self.rect.left() + 1.0..=self.rect.right() - 2.0 * STEP;
            painter.hline(over, top + CHORDS.0 - 2.0, Stroke::new(1.0, palette.ink));
        }
    }

    /// Number, ending, section, and what changes here.
    fn head(&self, painter: &Painter) {
        let palette = &self.look.palette;
        let y = self.rect.top() + f32::midpoint(HEAD.0, HEAD.1);
        let mut x = self.rect.left() + STEP;
        let quiet = FontId::proportional(self.look.sizes.quiet);
        let number =
            painter.text(pos2(x, y), Align2::LEFT_CENTER, &self.bar.number, quiet.clone(), palette.quiet);
        x = number.right() + 2.0 * STEP;
        if let Some(ending) = &self.bar.ending {
            let font = medium(self.look.sizes.quiet);
            let ending = painter.text(pos2(x, y), Align2::LEFT_CENTER, ending, font, palette.ink);
            x = ending.right() + 2.0 * STEP;
        }
        if let Some(section) = &self.bar.section {
            let font = strong(self.look.sizes.body);
            let words = painter.layout_no_wrap(section.clone(), font, palette.on_mark);
            let tag = Rect::from_min_size(pos2(x, y - 9.0), words.size() + vec2(3.0 * STEP, 2.0));
            let tag = Rect::from_min_max(tag.min, pos2(tag.right().min(self.rect.right() - STEP), y + 9.0));
            painter.rect_filled(tag, CornerRadius::same(self.look.sizes.radius), palette.other);
            let inside = painter.with_clip_rect(tag.intersect(painter.clip_rect()));
            inside.galley(pos2(x + 1.5 * STEP, y - words.size().y / 2.0), words, palette.on_mark);
            x = tag.right() + 2.0 * STEP;
        }
        let inside = painter.with_clip_rect(self.rect.intersect(painter.clip_rect()));
        inside.text(pos2(x, y), Align2::LEFT_CENTER, self.bar.words.join(" · "), quiet, palette.quiet);
    }

    fn beats(&self, painter: &Painter) {
        for beat in &self.bar.beats {
            let at = pos2(self.x(beat.place), self.rect.top() + BEATS);
            painter.circle_filled(at, 1.75, self.look.palette.quiet);
        }
    }

    /// Chord symbols, and beats over which one can be written.
    fn chords(&self, ui: &Ui, session: &Session, queue: &mut Queue) {
        let typing = session.writing().chord();
        for beat in &self.bar.beats {
            if !self.bar.chords.iter().any(|chord| chord.at == beat.at) {
                let end = self.next_chord_place(beat.place);
                self.free_beat(ui, beat, self.lane(beat.place, end, CHORDS), queue);
            }
        }
        for chord in self.bar.chords.iter().filter(|chord| typing != Some(chord.at)) {
            self.chord(ui, chord, queue);
        }
    }

    /// Where the next beat or chord symbol begins, or the bar ends.
    fn next_chord_place(&self, place: f32) -> f32 {
        let beats = self.bar.beats.iter().map(|beat| beat.place);
        let chords = self.bar.chords.iter().map(|chord| chord.place);
        beats.chain(chords).filter(|other| *other > place + 0.001).fold(self.bar.span.1, f32::min)
    }

    fn free_beat(&self, ui: &Ui, beat: &super::model::Beat, lane: Rect, queue: &mut Queue) {
        let id = ui.scope_id().with(("beat", beat.at.count()));
        let response = ui.interact(lane, id, Sense::CLICK);
        response.widget_info(|| {
            WidgetInfo::labeled(AccessRole::Button, true, format!("Write a chord in {}", beat.words))
        });
        if response.hovered() {
            let at = pos2(lane.left(), lane.center().y);
            let font = FontId::proportional(self.look.sizes.quiet);
            ui.painter().text(at, Align2::LEFT_CENTER, "chord", font, self.look.palette.quiet);
        }
        if response.clicked() {
            queue.push(Command::Tune(TuneWish::Caret(Caret::To(beat.at))));
            queue.push(Command::Tune(TuneWish::Chord(Some(beat.at))));
        }
    }

    fn chord(&self, ui: &Ui, chord: &ChordCell, queue: &mut Queue) {
        let lane = self.lane(chord.place, self.next_chord_place(chord.place), CHORDS);
        let colour = self.look.palette.ink;
        // A symbol that has no room is set smaller, down to half its size.
        let full = ui.painter().layout_no_wrap(chord.text.clone(), medium(SYMBOL), colour);
        let share = ((lane.width() - 2.0) / full.size().x).clamp(0.5, 1.0);
        let text = ui.painter().layout_no_wrap(chord.text.clone(), medium(SYMBOL * share), colour);
        let rect = Rect::from_min_max(lane.min, pos2(lane.left() + text.size().x.max(24.0), lane.bottom()));
        let response = ui.interact(rect, ui.scope_id().with(("chord", chord.at.count())), Sense::CLICK);
        response.widget_info(|| WidgetInfo::labeled(AccessRole::Button, true, &chord.words));
        if response.hovered() {
            ui.painter().rect_filled(
                rect.expand(2.0),
                CornerRadius::same(self.look.sizes.radius),
                self.look.palette.lifted,
            );
        }
        ui.painter().galley(pos2(lane.left(), lane.center().y - text.size().y / 2.0), text, colour);
        if response.clicked() {
            queue.push(Command::Tune(TuneWish::Caret(Caret::To(chord.at))));
            queue.push(Command::Tune(TuneWish::Chord(Some(chord.at))));
        }
    }

    /// A note: as long as it sounds, as high as it lies, with its name at its head.
    fn note(&self, ui: &Ui, note: &NoteCell, queue: &mut Queue) {
        let palette = &self.look.palette;
        let y = self.rect.top() + MELODY.1 - NOTE / 2.0 - note.height * (MELODY.1 - MELODY.0 - NOTE);
        let right = self.x(note.to) - if note.sounds_on { 0.0 } else { 2.0 };
        let rect = Rect::from_min_max(pos2(self.x(note.from), y - NOTE / 2.0), pos2(right, y + NOTE / 2.0));
        let id = ui.scope_id().with(("note", note.at.count(), note.line.map(Line::name), self.bar.index));
        let response = ui.interact(rect, id, Sense::CLICK);
        let words = if note.name.is_empty() {
            format!("{}, sounding on in bar {}", note.words, self.bar.number)
        } else {
            note.words.clone()
        };
        response.widget_info(|| WidgetInfo::labeled(AccessRole::Button, true, &words));
        // Shape says the voice before colour does.
        let (colour, round) = match note.line {
            None => (palette.melody, NOTE / 2.0),
            Some(Line::Bass) => (palette.bass, 3.0),
            Some(Line::Hook) => (palette.hook, 0.0),
        };
        let radius = CornerRadius::same(round as u8);
        let fill = if note.in_hand || response.hovered() { palette.lifted } else { palette.panel };
        let width = if note.in_hand { 2.5 } else { 1.25 };
        ui.painter().rect(rect, radius, fill, Stroke::new(width, colour), StrokeKind::Inside);
        if rect.width() >= NAMED {
            let wide = rect.width() >= 24.0;
            let size = if wide { self.look.sizes.body } else { self.look.sizes.quiet };
            let at = if wide { pos2(rect.left() + 2.0 * STEP, y) } else { rect.center() };
            let anchor = if wide { Align2::LEFT_CENTER } else { Align2::CENTER_CENTER };
            ui.painter().text(at, anchor, &note.name, strong(size), colour);
        }
        if response.clicked() {
            queue.push(Command::Tune(TuneWish::Voice(note.line)));
            queue.push(Command::Tune(TuneWish::Caret(Caret::To(note.at))));
        }
        response.on_hover_text(&words);
    }

    fn caret(&self, painter: &Painter) {
        let Some(place) = self.bar.caret else {
            return;
        };
        let colour = self.look.palette.melody;
        let x = self.x(place) - 2.0;
        let (top, bottom) = (self.rect.top() + MELODY.0 - 4.0, self.rect.top() + BEATS + 4.0);
        painter.vline(x, top..=bottom, Stroke::new(2.0, colour));
        let tip = |dx: f32, y: f32| Pos2::new(x + dx, y);
        let head = vec![tip(-5.0, top - 5.0), tip(5.0, top - 5.0), tip(0.0, top + 2.0)];
        painter.add(Shape::convex_polygon(head, colour, Stroke::NONE));
    }
}
