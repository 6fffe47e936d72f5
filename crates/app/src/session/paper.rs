//! The sheet as it prints: engraved as a job, anew when the arrangement or a choice changes, and where it is read.

use std::sync::Arc;

use handspan_core::arrangement::Arrangement;
use handspan_sheet::{Sheet, SheetOptions, engrave};

use super::notice::Notice;
use super::{Place, Session};
use crate::command::SheetWish;
use crate::job::{Job, Outcome};

/// How large the pages are shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Zoom {
    /// As wide as there is room.
    #[default]
    Width,
    /// A whole page.
    Page,
    /// So many percent of the size on paper.
    Percent(u16),
}

impl Zoom {
    /// The steps of larger and smaller, in percent.
    const STEPS: [u16; 12] = [25, 35, 50, 70, 85, 100, 120, 145, 175, 210, 300, 400];

    /// A size in percent, within what is offered.
    pub fn percent(percent: u16) -> Self {
        Self::Percent(percent.clamp(Self::STEPS[0], Self::STEPS[11]))
    }

    /// The next step above or below a size.
    pub fn stepped(from: u16, larger: bool) -> Self {
        let mut steps = Self::STEPS.into_iter();
        let step = if larger { steps.find(|s| *s > from) } else { steps.rfind(|s| *s < from) };
        Self::percent(step.unwrap_or(from))
    }
}

/// The pages and how they are looked at.
#[derive(Debug, Default)]
pub struct Paper {
    job: Job<Sheet>,
    sheet: Option<Arc<Sheet>>,
    options: SheetOptions,
    of: Option<Arc<Arrangement>>,
    edition: u64,
    page: usize,
    zoom: Zoom,
}

impl Paper {
    /// The pages last engraved; none before the first time.
    pub const fn sheet(&self) -> Option<&Arc<Sheet>> {
        self.sheet.as_ref()
    }

    /// How many times pages have been engraved: pictures of an older edition are out of date.
    pub const fn edition(&self) -> u64 {
        self.edition
    }

    /// What is chosen for the pages.
    pub const fn options(&self) -> &SheetOptions {
        &self.options
    }

    /// The page that is read, counted from 0.
    pub const fn page(&self) -> usize {
        self.page
    }

    /// How large the pages are shown.
    pub const fn zoom(&self) -> Zoom {
        self.zoom
    }

    /// Whether the pages belong to the present arrangement and choices.
    pub const fn is_current(&self) -> bool {
        !self.job.is_running()
    }

    /// Shows no pages until others are engraved; what is chosen for them stays.
    pub(super) fn clear(&mut self) {
        self.job.stop();
        self.sheet = None;
        self.of = None;
    }

    /// How many pages there are.
    pub fn pages(&self) -> usize {
        self.sheet.as_ref().map_or(0, |sheet| sheet.pages.len())
    }
}

impl Session {
    pub(super) fn paper_wish(&mut self, wish: &SheetWish) {
        let last = self.paper.pages().saturating_sub(1);
        let paper = &mut self.paper;
        match wish {
            SheetWish::NextPage => paper.page = (paper.page + 1).min(last),
            SheetWish::PageBefore => paper.page = paper.page.saturating_sub(1),
            SheetWish::Read(page) => paper.page = (*page).min(last),
            SheetWish::Zoom(zoom) => paper.zoom = *zoom,
            // The window knows how large a page is that fills it.
            SheetWish::Larger | SheetWish::Smaller => {}
            SheetWish::Choose(options) => {
                if *options != paper.options {
                    paper.options = options.clone();
                    paper.of = None;
                }
            }
        }
        self.engrave();
    }

    /// Whether a wish would do something now.
    pub(super) fn can_read(&self, wish: &SheetWish) -> bool {
        let shown = self.place == Place::Sheet && self.paper.pages() > 0;
        match wish {
            SheetWish::NextPage => shown && self.paper.page + 1 < self.paper.pages(),
            SheetWish::PageBefore => shown && self.paper.page > 0,
            SheetWish::Choose(_) => true,
            _ => shown,
        }
    }

    /// Engraves the arrangement where the sheet is shown and has not been engraved so.
    pub(super) fn engrave(&mut self) {
        let Some(arrangement) = self.arrangement.clone().filter(|_| self.place == Place::Sheet) else {
            return;
        };
        if self.paper.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, &arrangement)) {
            return;
        }
        self.paper.of = Some(Arc::clone(&arrangement));
        let options = self.paper.options.clone();
        self.paper.job.start(&self.lane, "engrave", move |_| engrave(&arrangement.score, &options));
    }

    pub(super) fn poll_paper(&mut self) -> bool {
        match self.paper.job.poll() {
            None => return false,
            Some(Outcome::Answer(sheet)) => {
                self.paper.page = self.paper.page.min(sheet.pages.len().saturating_sub(1));
                self.paper.sheet = Some(Arc::new(sheet));
                self.paper.edition += 1;
            }
            Some(Outcome::Lost) => {
                self.notice = Some(Notice::failed(
                    "The sheet could not be engraved, by a fault of this program; your work is unharmed",
                ));
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zoom_goes_in_steps_and_stays_within_bounds() {
        assert_eq!(Zoom::stepped(100, true), Zoom::Percent(120));
        assert_eq!(Zoom::stepped(103, false), Zoom::Percent(100));
        assert_eq!(Zoom::stepped(400, true), Zoom::Percent(400));
        assert_eq!(Zoom::percent(3), Zoom::Percent(25));
    }
}
