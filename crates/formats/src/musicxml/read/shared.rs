//! What a score prints once for all its parts, over one of them: chord symbols, tempi, sections and signs of playing
//! order.

use roxmltree::Node;

use super::part::{self, ReadBar};
use super::report::Report;

/// Takes from the first of the other parts that has it what stands over none of the bars.
pub(super) fn complete(bars: &mut [ReadBar], others: &[Node<'_, '_>], scratch: &mut Report) {
    let stands_over = |part: &&Node<'_, '_>| {
        part.descendants().any(|node| node.has_tag_name("harmony") || node.has_tag_name("direction"))
    };
    // What is wrong with parts that are not read is nobody's concern.
    let others = others.iter().filter(stands_over).filter_map(|other| part::read(*other, scratch).ok());
    let others: Vec<Vec<ReadBar>> = others.collect();
    take(bars, &others, |bar| !bar.chords.is_empty(), |bar, other| bar.chords.clone_from(&other.chords));
    take(bars, &others, |bar| !bar.tempi.is_empty(), |bar, other| bar.tempi.clone_from(&other.tempi));
    take(
        bars,
        &others,
        |bar| bar.bar.section.is_some(),
        |bar, other| bar.bar.section.clone_from(&other.bar.section),
    );
    take(bars, &others, has_sign, take_signs);
}

/// Takes one kind of thing.
fn take(
    bars: &mut [ReadBar],
    others: &[Vec<ReadBar>],
    has: fn(&ReadBar) -> bool,
    take: fn(&mut ReadBar, &ReadBar),
) {
    if bars.iter().any(has) {
        return;
    }
    let from = others.iter().find(|bars| bars.iter().any(has));
    for (bar, other) in bars.iter_mut().zip(from.into_iter().flatten()) {
        take(bar, other);
    }
}

fn has_sign(bar: &ReadBar) -> bool {
    let bar = &bar.bar;
    bar.segno || bar.coda || bar.to_coda || bar.fine || bar.jump.is_some()
}

fn take_signs(bar: &mut ReadBar, other: &ReadBar) {
    let (bar, other) = (&mut bar.bar, &other.bar);
    bar.segno = other.segno;
    bar.coda = other.coda;
    bar.to_coda = other.to_coda;
    bar.fine = other.fine;
    bar.jump = other.jump;
}
