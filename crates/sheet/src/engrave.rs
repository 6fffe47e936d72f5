//! From the score to the sheet: the passes in their order.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;
use handspan_core::time::Ticks;

use crate::bar::positions::positions;
use crate::bar::ringing::Ringing;
use crate::bar::space::AtLines;
use crate::bar::{BarContent, BarSpace, agreement, barres, boxes, collect, measure, space};
use crate::draw::notation::lines as notation_lines;
use crate::draw::{remarks, staff, system};
use crate::frame::Frame;
use crate::glyph::{self, Face};
use crate::look;
use crate::options::{Layout, SheetOptions};
use crate::page::finish::Block;
use crate::page::{boxes as boxes_page, finish, heading};
use crate::points::Points;
use crate::practice;
use crate::system::Line;
use crate::system::breaking::{Widths, lines};
use crate::system::justify::justify;

/// An engraved arrangement.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// The title.
    pub title: String,
    /// Who wrote the tune; may be empty.
    pub author: String,
    /// The pages in order.
    pub pages: Vec<Frame>,
    /// The sections, for a reader's table of contents.
    pub outline: Vec<OutlineEntry>,
    /// Letters of title, composer, section names and remarks that no font of the sheet has, each once; they are left out.
    pub missing: Vec<char>,
}

/// A section and where it begins.
#[derive(Clone, PartialEq, Debug)]
pub struct OutlineEntry {
    /// Its name.
    pub title: String,
    /// The page, counted from 0.
    pub page: usize,
    /// How far down the page its system begins.
    pub y: Points,
}

/// Engraves a score.
pub fn engrave(score: &Score, options: &SheetOptions) -> Sheet {
    let score = &agreement::agreed(score);
    let (mut pages, mut outline) = match options.layout {
        Layout::Boxes => (boxes_page::pages(score, options), Vec::new()),
        Layout::Tablature | Layout::StaffAndTablature | Layout::Staff => systems(score, options),
    };
    if options.practice {
        let place = OutlineEntry { title: "Practice".to_owned(), page: pages.len(), y: Points::ZERO };
        outline.push(place);
        pages.extend(practice::page::pages(score, options));
    }
    finish::footers(score, options, &mut pages);
    let scale = options.print.scale();
    let outline = outline.into_iter().map(|entry| OutlineEntry { y: entry.y * scale, ..entry });
    Sheet {
        title: heading::title(score).to_owned(),
        author: score.tune.composer().trim().to_owned(),
        outline: outline.collect(),
        pages: pages.into_iter().map(|page| page.enlarged(scale)).collect(),
        missing: missing(score, options),
    }
}

/// The pages of systems, and where the sections begin.
fn systems(score: &Score, options: &SheetOptions) -> (Vec<Frame>, Vec<OutlineEntry>) {
    let bars = score.tune.bars();
    let printed = options.printed(bars.len());
    let first = printed.start;
    let contents = collect::collect(score, options.layout, first);
    let boxes = boxes::boxes(score, &options.printed_times(score));
    let spaces: Vec<BarSpace> = contents[printed.clone()]
        .iter()
        .map(|content| spaced(score, content, &boxes, options.layout))
        .collect();
    let widths = widths(score, options, &contents);
    let begins_section: Vec<bool> = bars[printed].iter().map(|bar| bar.section.is_some()).collect();
    let breaks = lines(&spaces, &begins_section, &widths);
    let source = system::Source {
        score,
        ringing: Ringing::new(score),
        contents: &contents,
        boxes: &boxes,
        barres: &barres::barres(score),
        positions: &if options.layout.has_staff() { positions(score) } else { Vec::new() },
        options,
        width: widths.line,
        height: finish::type_area(options).height(),
    };
    let lines = justify(&spaces, &breaks, first, &widths);
    let mut blocks: Vec<Block> = Vec::new();
    let mut begins: Vec<usize> = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        begins.push(blocks.len());
        let rest = remarks::left_over(source, line);
        let groups = std::iter::once(system::system(source, line, number)).chain(rest);
        blocks.extend(groups.map(|group| Block { group, free: free_at_end(score, line) }));
    }
    let (pages, places) = finish::finish(score, blocks, options);
    let entries = lines.iter().zip(begins).flat_map(|(line, begin)| {
        let (page, y) = places[begin];
        let sections = line.bars.iter().filter_map(|placed| bars[placed.bar].section.clone());
        sections.map(move |title| OutlineEntry { title, page, y })
    });
    (pages, entries.collect())
}

fn widths(score: &Score, options: &SheetOptions, contents: &[BarContent]) -> Widths {
    let bars = score.tune.bars();
    let printed = options.printed(bars.len());
    let keys = bars[printed.clone()].iter().map(|bar| notation_lines::head_width(bar.key));
    let head = if options.layout.has_staff() { keys.fold(look::CLEF, Points::max) } else { look::CLEF };
    let tails = contents[printed].iter().enumerate();
    let tail = |(index, content)| if index == 0 { Points::ZERO } else { staff::tail_width(bars, content) };
    Widths { line: finish::type_area(options).width(), head, tails: tails.map(tail).collect() }
}

/// How long both hands are free for a page at the end of a line: from the last stroke to the last bar line.
fn free_at_end(score: &Score, line: &Line) -> Ticks {
    let end = line.bars.last().map_or(Ticks::ZERO, |placed| score.tune.bars()[placed.bar].end());
    let before = score.notes.partition_point(|note| note.at < end);
    end - before.checked_sub(1).map_or(Ticks::ZERO, |last| score.notes[last].at)
}

fn spaced(score: &Score, content: &BarContent, boxes: &[Option<Grip>], layout: Layout) -> BarSpace {
    let bar = &score.tune.bars()[content.bar];
    let extents = measure::measure(score, content, boxes, layout);
    let bars = score.tune.bars();
    let at_lines = AtLines { begin: staff::signs_width(bars, content), end: staff::end_width(bars, content) };
    space::space(content, &extents, bar.end(), at_lines)
}

fn missing(score: &Score, options: &SheetOptions) -> Vec<char> {
    let mut letters = glyph::missing(Face::Bold, score.tune.title());
    letters.extend(glyph::missing(Face::Italic, score.tune.composer()));
    for section in score.tune.bars().iter().filter_map(|bar| bar.section.as_deref()) {
        letters.extend(glyph::missing(Face::Bold, section));
    }
    for remark in options.remarks.values() {
        letters.extend(glyph::missing(Face::Italic, remark).into_iter().filter(|c| !c.is_control()));
    }
    letters.sort_unstable();
    letters.dedup();
    letters
}
