//! Second pass over pages: systems spread over the height, heading, footer, page numbers.

use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;

use super::breaking::{Rooms, pages};
use super::heading::{heading, title};
use crate::draw::pen;
use crate::frame::{Frame, Group, Item, Role};
use crate::glyph::Face;
use crate::look;
use crate::options::SheetOptions;
use crate::points::{Point, Points, Rect};

/// The usual caution, on the first page.
const CAUTION: &str = "Warm up, rest often, stop when it hurts; ask a teacher or a doctor.";
/// The size of the footer's type.
const FOOTER: Points = Points::new(8.0);
/// The least white between the parts of the footer.
const GAP: Points = Points::new(10.0);

/// The area inside the margins.
pub(crate) fn type_area(options: &SheetOptions) -> Rect {
    Rect {
        left: look::MARGIN_SIDE,
        top: look::MARGIN_TOP,
        right: options.page_width() - look::MARGIN_SIDE,
        bottom: options.page_height() - look::MARGIN_BOTTOM,
    }
}

/// What stands across a page: a system, or what of a remark is too long to stand under it.
pub(crate) struct Block {
    pub group: Group,
    /// How long the hands are free at its end.
    pub free: Ticks,
}

/// The pages with their blocks and without footers, and on which page and how far down each block begins.
pub(crate) fn finish(
    score: &Score,
    blocks: Vec<Block>,
    options: &SheetOptions,
) -> (Vec<Frame>, Vec<(usize, Points)>) {
    let area = type_area(options);
    let (mut title_block, title_height) = heading(score, options, area.width());
    title_block.at = Point::new(area.left, area.top);
    let extents: Vec<(Points, Points)> = blocks.iter().map(|block| extent(&block.group)).collect();
    let turns: Vec<Ticks> = blocks.iter().map(|block| block.free).collect();
    let heights: Vec<Points> = extents.iter().map(|(up, down)| *up + *down).collect();
    let other = area.height() - look::FOOTER;
    let rooms = Rooms { first: other - title_height, other, gap: look::SYSTEM_GAP };
    let breaks = pages(&heights, &turns, rooms);
    let mut places = Vec::new();
    let mut left = blocks.into_iter().map(|block| block.group);
    let mut frames = Vec::new();
    for (number, range) in breaks.iter().enumerate() {
        let mut items: Vec<Item> = Vec::new();
        let (mut y, room) = if number == 0 {
            items.push(title_block.clone().into());
            (area.top + title_height, rooms.first)
        } else {
            (area.top, rooms.other)
        };
        let gap = gap(&heights, range, room, number + 1 == breaks.len());
        for (mut system, (up, down)) in left.by_ref().take(range.len()).zip(&extents[range.clone()]) {
            places.push((number, y));
            system.at = Point::new(area.left, y + *up);
            items.push(system.into());
            y += *up + *down + gap;
        }
        frames.push(page(items, options));
    }
    (frames, places)
}

/// A page with what stands on it.
pub(crate) fn page(items: Vec<Item>, options: &SheetOptions) -> Frame {
    Frame { width: options.page_width(), height: options.page_height(), items }
}

/// Gives every page its footer.
pub(crate) fn footers(score: &Score, options: &SheetOptions, pages: &mut [Frame]) {
    let count = pages.len();
    for (number, page) in pages.iter_mut().enumerate() {
        page.items.push(footer(score, number, count, type_area(options)).into());
    }
}

/// How far a system reaches above and below its origin.
fn extent(system: &Group) -> (Points, Points) {
    system.bounds().map_or((Points::ZERO, Points::ZERO), |ink| (-ink.top, ink.bottom))
}

/// The white between the systems of a page: a full page is spread, a last one is not.
fn gap(heights: &[Points], range: &Range<usize>, room: Points, last: bool) -> Points {
    let gaps = range.len().saturating_sub(1);
    if gaps == 0 {
        return look::SYSTEM_GAP;
    }
    let free = room - heights[range.clone()].iter().copied().sum::<Points>();
    let spread = free / gaps as f64;
    let most = if last { look::SYSTEM_GAP_USUAL } else { look::SYSTEM_GAP_MOST };
    spread.min(most)
}

fn footer(score: &Score, number: usize, count: usize, area: Rect) -> Group {
    let mut group = Group::new(Role::Footer);
    let at = |x: Points| Point::new(x, area.bottom - Points::new(2.5));
    let page = format!("{} / {count}", number + 1);
    let page = pen::text_until(Face::Regular, FOOTER, &page, at(area.right));
    let beside = page.advance() + GAP;
    // On a narrow page, or under a long title, the words are set smaller, so that they stay clear of the number.
    let fitting =
        |words: &str, room: Points| FOOTER * (room / pen::width(Face::Italic, FOOTER, words)).min(1.0);
    if number == 0 {
        let size = fitting(CAUTION, area.width() - beside * 2.0);
        group.push(pen::text_around(Face::Italic, size, CAUTION, at(area.left + area.width() / 2.0)));
    } else {
        let title = title(score);
        let size = fitting(title, area.width() - beside);
        group.push(pen::text_from(Face::Italic, size, title, at(area.left)));
    }
    group.push(page);
    group
}
