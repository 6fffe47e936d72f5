//! From the score to the sheet: the passes in their order.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;

use crate::bar::ringing::Ringing;
use crate::bar::{BarContent, BarSpace, barres, boxes, collect, measure, space};
use crate::draw::notation::lines as notation_lines;
use crate::draw::{staff, system};
use crate::frame::Frame;
use crate::glyph::{self, Face};
use crate::look;
use crate::options::{Layout, SheetOptions};
use crate::page::{boxes as boxes_page, finish, heading};
use crate::points::Points;
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
    /// Letters of title, composer and section names that no font of the sheet has, each once; they are left out.
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
    let (pages, outline) = match options.layout {
        Layout::Boxes => (boxes_page::pages(score, *options), Vec::new()),
        Layout::Tablature | Layout::StaffAndTablature | Layout::Staff => systems(score, *options),
    };
    let scale = options.print.scale();
    let outline = outline.into_iter().map(|entry| OutlineEntry { y: entry.y * scale, ..entry });
    Sheet {
        title: heading::title(score).to_owned(),
        author: score.tune.composer().trim().to_owned(),
        pages: pages.into_iter().map(|page| page.enlarged(scale)).collect(),
        outline: outline.collect(),
        missing: missing(score),
    }
}

/// The pages of systems, and where the sections begin.
fn systems(score: &Score, options: SheetOptions) -> (Vec<Frame>, Vec<OutlineEntry>) {
    let contents = collect::collect(score, options.layout);
    let boxes = boxes::boxes(score);
    let bars = score.tune.bars();
    let spaces: Vec<BarSpace> =
        contents.iter().map(|content| spaced(score, content, &boxes, options.layout)).collect();
    let keys = bars.iter().map(|bar| notation_lines::head_width(bar.key));
    let head = if options.layout.has_staff() { keys.fold(look::CLEF, Points::max) } else { look::CLEF };
    let widths = Widths { line: finish::type_area(options).width(), head };
    let begins_section: Vec<bool> = bars.iter().map(|bar| bar.section.is_some()).collect();
    let breaks = lines(&spaces, &begins_section, widths);
    let barres = barres::barres(score);
    let source = system::Source {
        score,
        ringing: Ringing::new(score),
        contents: &contents,
        boxes: &boxes,
        barres: &barres,
        options,
    };
    let lines = justify(&spaces, &breaks, widths);
    let systems =
        lines.iter().enumerate().map(|(number, line)| system::system(source, line, number)).collect();
    let (pages, places) = finish::finish(score, systems, options);
    let outline = bars.iter().enumerate().filter_map(|(index, bar)| {
        let line = breaks.iter().position(|line| line.contains(&index))?;
        let (page, y) = *places.get(line)?;
        Some(OutlineEntry { title: bar.section.clone()?, page, y })
    });
    (pages, outline.collect())
}

fn spaced(score: &Score, content: &BarContent, boxes: &[Option<Grip>], layout: Layout) -> BarSpace {
    let bar = &score.tune.bars()[content.bar];
    let extents = measure::measure(score, content, boxes, layout);
    space::space(content, &extents, bar.end(), staff::signs_width(score.tune.bars(), content))
}

fn missing(score: &Score) -> Vec<char> {
    let mut letters = glyph::missing(Face::Bold, score.tune.title());
    letters.extend(glyph::missing(Face::Italic, score.tune.composer()));
    for section in score.tune.bars().iter().filter_map(|bar| bar.section.as_deref()) {
        letters.extend(glyph::missing(Face::Bold, section));
    }
    letters.sort_unstable();
    letters.dedup();
    letters
}
