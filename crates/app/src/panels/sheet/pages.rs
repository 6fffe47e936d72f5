//! Draws the pages: as many side by side as there is room for, the others below.

use eframe::egui::{
    Color32, CornerRadius, Pos2, Rect, Role as AccessRole, ScrollArea, Sense, Stroke, StrokeKind, Ui, Vec2,
    WidgetInfo, pos2, vec2,
};
use handspan_sheet::Sheet;

use super::strips::{Grade, STRIPS, StripAt, Strips};
use crate::command::{Command, SheetWish};
use crate::panels::{Look, Queue};
use crate::session::{Session, Zoom};
use crate::theme::STEP;

/// Points of the screen in a point of the paper at 100 %: screens are reckoned at 96 points an inch, paper at 72.
const FULL_SIZE: f32 = 96.0 / 72.0;
/// Room around a page.
const ROOM: f32 = 3.0 * STEP;
/// The largest picture of a strip, in pixels across: what every graphics card can hold.
const WIDEST: f32 = 8192.0;

/// What the pages remember from frame to frame.
#[derive(Debug, Default)]
pub(super) struct Pages {
    strips: Strips,
    /// The page that the window was last moved to, or was read when it was moved by hand.
    read: Option<(usize, u64)>,
    percent: f32,
}

impl Pages {
    /// How large the pages were last shown, in percent of their size on paper.
    pub(super) const fn percent(&self) -> u16 {
        self.percent as u16
    }

    /// Draws the pages in what room there is.
    pub(super) fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let Some(sheet) = session.paper().sheet() else {
            return;
        };
        let Some(spread) = Spread::new(sheet, session.paper().zoom(), ui.available_size()) else {
            return;
        };
        self.percent = spread.scale / FULL_SIZE * 100.0;
        let edition = session.paper().edition();
        let moved = self.read != Some((session.paper().page(), edition));
        let scroll = ScrollArea::both().auto_shrink(false).show_viewport(ui, |ui, view| {
            let (all, _) = ui.allocate_exact_size(spread.size(), Sense::hover());
            let pages = spread.pages(all.min);
            let in_sight = view.translate(all.min.to_vec2());
            if moved && let Some(page) = pages.get(session.paper().page()) {
                ui.scroll_to_rect(page.expand(ROOM), Some(eframe::egui::Align::Min));
            }
            let per_point = ui.ctx().pixels_per_point();
            let high = (spread.page.y * per_point / STRIPS as f32).round();
            let high = high.min(WIDEST / spread.page.x * spread.page.y / STRIPS as f32).max(1.0);
            let grade = Grade { edition, pixels: high as usize };
            let strips = strips_in_sight(&pages, in_sight);
            self.strips.refresh(ui.ctx(), session.lane(), sheet, grade, &strips);
            for (index, rect) in pages.iter().enumerate().filter(|(_, rect)| rect.intersects(in_sight)) {
                self.page(ui, look, session, (index, *rect), &strips);
            }
            pages.iter().position(|page| page.bottom() > in_sight.top() + page.height() / 3.0)
        });
        let read = if moved { Some(session.paper().page()) } else { scroll.inner };
        if let Some(page) = read {
            self.read = Some((page, edition));
            if page != session.paper().page() {
                queue.push(Command::Sheet(SheetWish::Read(page)));
            }
        }
        let zoomed = ui.input(eframe::egui::InputState::zoom_delta);
        let pointed_at = ui.rect_contains_pointer(scroll.inner_rect);
        if pointed_at && (zoomed - 1.0).abs() > f32::EPSILON {
            let zoom = Zoom::percent((self.percent * zoomed).round() as u16);
            queue.push(Command::Sheet(SheetWish::Zoom(zoom)));
        }
    }

    fn page(
        &mut self,
        ui: &Ui,
        look: &Look,
        session: &Session,
        (index, rect): (usize, Rect),
        strips: &[StripAt],
    ) {
        let response = ui.interact(rect, ui.scope_id().with(("page", index)), Sense::hover());
        let pages = session.paper().pages();
        let title = session.tune().title().to_owned();
        response.widget_info(|| {
            WidgetInfo::labeled(AccessRole::Image, true, format!("Page {} of {pages}: {title}", index + 1))
        });
        let painter = ui.painter_at(rect.expand(2.0).intersect(ui.clip_rect()));
        painter.rect_filled(rect, CornerRadius::ZERO, Color32::WHITE);
        let dim = if session.paper().is_current() { Color32::WHITE } else { Color32::from_gray(225) };
        let whole = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
        for (_, strip) in strips.iter().filter(|(page, _)| *page == index) {
            if let Some(picture) = self.strips.picture((index, *strip)) {
                painter.image(picture.id(), strip_rect(rect, *strip), whole, dim);
            }
        }
        painter.rect_stroke(
            rect,
            CornerRadius::ZERO,
            Stroke::new(1.0, look.palette.line),
            StrokeKind::Outside,
        );
    }
}

fn strip_rect(page: Rect, strip: usize) -> Rect {
    let high = page.height() / STRIPS as f32;
    let top = page.top() + high * strip as f32;
    Rect::from_min_size(pos2(page.left(), top), vec2(page.width(), high))
}

fn strips_in_sight(pages: &[Rect], in_sight: Rect) -> Vec<StripAt> {
    let all = pages
        .iter()
        .enumerate()
        .flat_map(|(page, rect)| (0..STRIPS).map(move |strip| ((page, strip), strip_rect(*rect, strip))));
    all.filter(|(_, rect)| rect.intersects(in_sight)).map(|(at, _)| at).collect()
}

/// How the pages lie.
struct Spread {
    /// Points of the screen in a point of the paper.
    scale: f32,
    /// A page on the screen.
    page: Vec2,
    /// How many pages lie side by side.
    across: usize,
    count: usize,
    /// The room there is, less the bar for scrolling.
    room: Vec2,
}

impl Spread {
    /// None where there are no pages.
    fn new(sheet: &Sheet, zoom: Zoom, room: Vec2) -> Option<Self> {
        let first = sheet.pages.first()?;
        let paper = vec2(first.width.count() as f32, first.height.count() as f32);
        let room = (room - Vec2::splat(4.0 * STEP)).max(Vec2::splat(80.0));
        let inside = room - Vec2::splat(2.0 * ROOM);
        let scale = match zoom {
            Zoom::Width => inside.x / paper.x,
            Zoom::Page => (inside.x / paper.x).min(inside.y / paper.y),
            Zoom::Percent(percent) => FULL_SIZE * f32::from(percent) / 100.0,
        };
        let page = paper * scale;
        let fit = ((room.x - ROOM) / (page.x + ROOM)).floor() as usize;
        let count = sheet.pages.len();
        Some(Self { scale, page, across: fit.clamp(1, count), count, room })
    }

    fn size(&self) -> Vec2 {
        let rows = self.count.div_ceil(self.across) as f32;
        vec2(
            (self.page.x + ROOM).mul_add(self.across as f32, ROOM).max(self.room.x),
            (self.page.y + ROOM).mul_add(rows, ROOM),
        )
    }

    fn pages(&self, corner: Pos2) -> Vec<Rect> {
        let row = (self.page.x + ROOM).mul_add(self.across as f32, -ROOM);
        let left = corner.x + ((self.size().x - row) / 2.0).max(ROOM);
        let place = |index: usize| {
            let (column, line) = ((index % self.across) as f32, (index / self.across) as f32);
            let at = pos2(
                (self.page.x + ROOM).mul_add(column, left),
                (self.page.y + ROOM).mul_add(line, corner.y + ROOM),
            );
            Rect::from_min_size(at.round(), self.page)
        };
        (0..self.count).map(place).collect()
    }
}
