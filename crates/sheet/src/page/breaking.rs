//! First pass over pages: where to turn.
//!
//! All page breaks are weighed together, as line breaks are: full pages, if possible no last page with a single system,
//! and turns where the hands are free (common practice of the notation handbooks). None of this leaves more than a quarter
//! of a page blank on which another system would fit.

use std::ops::Range;

use handspan_core::time::Ticks;

use crate::points::Points;

/// What a last page with a single system costs.
const LONELY: f64 = 0.22;
/// What stands for the emptiness of a page whose one system is too high for it.
const TOO_HIGH: f64 = 30.0;
/// What it costs to turn a page while the music goes on without a beat's rest.
const BUSY_TURN: f64 = 0.22;
/// What the square of the empty part of a page costs.
const EMPTY: f64 = 2.0;
/// The most that may stay blank of a page where another system would fit, and what it costs beyond: more than all else.
const MOST_BLANK: f64 = 0.25;
const EARLY: f64 = 10.0;
/// What a page costs as such.
const PAGE: f64 = 1.0;

/// The room on pages.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rooms {
    /// On the first page, below the heading.
    pub first: Points,
    /// On every other page.
    pub other: Points,
    /// The least white between two systems.
    pub gap: Points,
}

/// The systems of each page; `turns` says how long the hands are free at the end of each system.
pub(crate) fn pages(heights: &[Points], turns: &[Ticks], rooms: Rooms) -> Vec<Range<usize>> {
    let mut best: Vec<(f64, usize)> = vec![(0.0, 0)];
    for end in 1..=heights.len() {
        let last = end == heights.len();
        let costs = (0..end).rev().map_while(|start| {
            let room = if start == 0 { rooms.first } else { rooms.other };
            let empty = emptiness(&heights[start..end], room, rooms.gap)?;
            let lonely = if last && start > 0 && end - start == 1 { LONELY } else { 0.0 };
            let unfilled = if last { 0.0 } else { EMPTY * empty * empty };
            let one_more = heights.get(start..=end).and_then(|more| emptiness(more, room, rooms.gap));
            let early = if empty > MOST_BLANK && one_more.is_some() { EARLY } else { 0.0 };
            let busy = !last && turns[end - 1] < Ticks::QUARTER;
            let turn = if busy { BUSY_TURN } else { 0.0 };
            Some((best[start].0 + PAGE + lonely + unfilled + early + turn, start))
        });
        let cheapest = costs.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, end - 1));
        best.push(cheapest);
    }
    let mut pages = Vec::new();
    let mut end = heights.len();
    while end > 0 {
        let start = best[end].1;
        pages.push(start..end);
        end = start;
    }
    pages.reverse();
    pages
}

/// The part of a page that these systems leave empty; none where they do not fit.
fn emptiness(systems: &[Points], room: Points, gap: Points) -> Option<f64> {
    let needed = systems.iter().copied().sum::<Points>() + gap * (systems.len() - 1) as f64;
    if needed > room {
        return (systems.len() == 1).then_some(TOO_HIGH);
    }
    Some(1.0 - needed / room)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOMS: Rooms =
        Rooms { first: Points::new(300.0), other: Points::new(420.0), gap: Points::new(10.0) };

    #[test]
    fn no_last_page_has_a_single_system() {
        let pages = pages(&[Points::new(60.0); 11], &[Ticks::ZERO; 11], ROOMS);
        assert_eq!(pages, [0..4, 4..9, 9..11]);
    }

    #[test]
    fn a_page_is_filled_where_another_system_fits() {
        // Neither for company on the last page nor for a free turn.
        let mut turns = [Ticks::ZERO; 8];
        turns[1] = Ticks::QUARTER;
        assert_eq!(pages(&[Points::new(90.0); 8], &turns, ROOMS), [0..3, 3..7, 7..8]);
        // One that is too high for the rest of the page begins the next one.
        let heights = [90.0, 90.0, 110.0, 110.0].map(Points::new);
        assert_eq!(pages(&heights, &turns[..4], ROOMS), [0..2, 2..4]);
    }

    #[test]
    fn a_system_higher_than_a_page_stands_alone() {
        let heights = [90.0, 900.0, 90.0].map(Points::new);
        assert_eq!(pages(&heights, &[Ticks::ZERO; 3], ROOMS), [0..1, 1..2, 2..3]);
    }

    #[test]
    fn a_page_is_turned_where_the_hands_are_free() {
        let mut turns = [Ticks::ZERO; 12];
        let heights = [Points::new(60.0); 12];
        assert_eq!(pages(&heights, &turns, ROOMS), [0..4, 4..10, 10..12]);
        turns[8] = Ticks::QUARTER;
        assert_eq!(pages(&heights, &turns, ROOMS), [0..4, 4..9, 9..12]);
    }
}
