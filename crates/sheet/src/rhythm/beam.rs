//! Which notes are beamed together.

use std::ops::Range;

use handspan_core::time::{Metre, Ticks};

use super::voice::{Element, Kind};

/// The beamed groups of a bar as ranges of its elements, each of two or more.
///
/// A beam covers one beat; in a bar of four, two beats of plain eighths are joined, but never across the middle
/// (common practice of the notation handbooks). Rests end a beam.
pub(crate) fn beams(elements: &[Element], offset: Ticks, metre: Metre) -> Vec<Range<usize>> {
    let beat = metre.beat().count().max(Ticks::PER_QUARTER);
    let mut groups: Vec<Range<usize>> = Vec::new();
    for (index, element) in elements.iter().enumerate() {
        if element.kind == Kind::Rest || element.value.flags() == 0 {
            continue;
        }
        let window = |e: &Element| (e.at + offset).count().div_euclid(beat);
        let joins = groups.last().is_some_and(|group| {
            let first = &elements[group.start];
            group.end == index
                && (window(first) == window(element) || joined(&elements[group.start..=index], offset, metre))
        });
        match groups.last_mut() {
            Some(group) if joins => group.end = index + 1,
            _ => groups.push(index..index + 1),
        }
    }
    groups.retain(|group| group.len() > 1);
    groups
}

/// Whether a run of elements may share a beam over two beats.
fn joined(run: &[Element], offset: Ticks, metre: Metre) -> bool {
    let half = Ticks::PER_QUARTER * 2;
    let window = |e: &Element| (e.at + offset).count().div_euclid(half);
    let plain = run.iter().all(|e| e.value.power == 3 && e.value.dots == 0 && e.tuplet.is_none());
    let full = (run[0].at + offset).count() % Ticks::PER_QUARTER == 0;
    metre == Metre::COMMON && plain && full && window(&run[0]) == window(&run[run.len() - 1])
}
