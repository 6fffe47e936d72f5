//! Signs above the system: section names, numbered endings, segno, coda, D.C., D.S., fine, changes of tempo.
//!
//! A sign is drawn around the height 0; rows and heights are given to all of them together.

use handspan_core::time::{Metre, Tempo};
use handspan_core::tune::{Bar, Jump, Tune};

use super::pen;
use crate::frame::{GlyphRun, Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::glyph::smufl::{Sign, width};
use crate::look::{self, SPACE};
use crate::points::{Point, Points};
use crate::system::{Line, PlacedBar};

/// From the line of a row up to the bracket of an ending.
const BRACKET: Points = Points::new(9.5);
/// The signs of a system; those that come first have the right to the lower rows.
pub(crate) fn signs(tune: &Tune, line: &Line) -> Vec<Group> {
    let endings = endings(tune.bars(), line);
    let jumps = line.bars.iter().flat_map(|placed| jumps(tune, placed));
    let sections = line.bars.iter().enumerate().map(|(i, placed)| section(tune, placed, i == 0));
    endings.into_iter().chain(jumps).chain(sections).collect()
}

/// The brackets of the endings that run through a system.
fn endings(bars: &[Bar], line: &Line) -> Vec<Group> {
    let mut pending = Vec::new();
    let mut open: Option<(Points, Option<String>)> = None;
    if let Some(first) = line.bars.first()
        && runs_on_into(bars, first.bar)
    {
        open = Some((first.left, None));
    }
    for placed in &line.bars {
        let bar = &bars[placed.bar];
        if let Some(ending) = &bar.ending {
            let passes: Vec<String> = ending.passes.iter().map(|p| format!("{p}.")).collect();
            open = Some((placed.left, Some(passes.join(" "))));
        }
        if bar.ending_stops
            && let Some((left, label)) = open.take()
        {
            pending.push(bracket(left, placed.right, label.as_deref(), bar.repeat_end.is_some()));
        }
    }
    if let Some((left, label)) = open {
        pending.push(bracket(left, line.width, label.as_deref(), false));
    }
    pending
}

/// Whether an ending began before a bar and has not stopped.
fn runs_on_into(bars: &[Bar], bar: usize) -> bool {
    if bars[bar].ending.is_some() {
        return false;
    }
    let before = bars[..bar].iter().rev().find(|b| b.ending.is_some() || b.ending_stops);
    before.is_some_and(|b| b.ending.is_some() && !b.ending_stops)
}

fn bracket(left: Points, right: Points, label: Option<&str>, closed: bool) -> Group {
    let thick = SPACE * width::ENDING;
    let (left, right) = (left + Points::new(1.0), right - Points::new(2.0));
    let mut group = Group::new(Role::Ending);
    let line = |from: Point, to: Point| Path::line(from, to, thick, Ink::BLACK);
    let at = Point::new;
    let half = thick / 2.0;
    group.push(line(at(left - half, -BRACKET), at(right + half, -BRACKET)));
    if let Some(label) = label {
        group.push(line(at(left, -BRACKET), at(left, Points::ZERO)));
        let place = at(left + Points::new(3.5), Points::new(-1.2));
        group.push(pen::text_from(Face::Regular, look::SIGN_TEXT, label, place));
    }
    if closed {
        group.push(line(at(right, -BRACKET), at(right, Points::ZERO)));
    }
    group
}

/// Where to go on, at a bar's end.
fn jumps(tune: &Tune, placed: &PlacedBar) -> Vec<Group> {
    let bar = &tune.bars()[placed.bar];
    let mut pending = Vec::new();
    let words = [
        bar.to_coda.then(|| "To Coda".to_owned()),
        bar.fine.then(|| "Fine".to_owned()),
        bar.jump.map(|jump| jump_words(tune.bars(), jump)),
    ];
    for words in words.into_iter().flatten() {
        let mut group = Group::new(Role::Jump);
        let mut right = placed.right - Points::new(1.0);
        if bar.to_coda && words == "To Coda" {
            let sign = pen::sign_around(
                Sign::Coda,
                Points::new(2.8),
                Point::new(right - Points::new(6.0), Points::new(-3.6)),
            );
            right -= Points::new(14.0);
            group.push(sign);
        }
        group.push(pen::text_until(Face::Italic, look::SIGN_TEXT, &words, Point::new(right, Points::ZERO)));
        pending.push(group);
    }
    pending
}

/// D.C. or D.S., and where the tune ends after it.
fn jump_words(bars: &[Bar], jump: Jump) -> String {
    let from = match jump {
        Jump::DaCapo => "D.C.",
        Jump::DalSegno => "D.S.",
    };
    let until = if bars.iter().any(|b| b.to_coda) {
        " al Coda"
    } else if bars.iter().any(|b| b.fine) {
        " al Fine"
    } else {
        ""
    };
    format!("{from}{until}")
}

/// Segno or coda, the name of a section and a change of tempo at a bar's beginning.
fn section(tune: &Tune, placed: &PlacedBar, begins_line: bool) -> Group {
    let bar = &tune.bars()[placed.bar];
    let mut x = if begins_line { Points::ZERO } else { placed.left };
    let mut group = Group::new(Role::Section);
    for (here, sign) in [(bar.segno, Sign::Segno), (bar.coda, Sign::Coda)] {
        if here {
            let at = Point::new(x + Points::new(6.0), Points::new(-3.9));
            group.push(Group::of(Role::Jump, pen::sign_around(sign, Points::new(3.4), at)));
            x += Points::new(19.0);
        }
    }
    if let Some(name) = &bar.section {
        let run = pen::text_from(Face::Bold, look::SECTION, name, Point::new(x, Points::ZERO));
        x += run.advance() + Points::new(10.0);
        group.push(run);
    }
    if placed.bar > 0 {
        let changed = tune.tempi().iter().rfind(|t| t.at >= bar.start && t.at < bar.end());
        if let Some(change) = changed {
            let mut mark = Group::new(Role::Tempo);
            mark.at = Point::new(x, Points::ZERO);
            for run in tempo(change.tempo, bar.metre) {
                mark.push(run);
            }
            group.push(mark);
        }
    }
    group
}

/// A tempo: the note that is counted, and how many a minute. Beginning at the origin.
pub(crate) fn tempo(tempo: Tempo, metre: Metre) -> Vec<GlyphRun> {
    let space = Points::new(2.9);
    let (power, dotted) = if metre.is_compound() {
        (if metre.unit() == 8 { 2 } else { 3 }, true)
    } else {
        (metre.unit().trailing_zeros() as u8, false)
    };
    let mut runs = vec![pen::sign_at(Sign::TempoNote(power), space, Point::ORIGIN)];
    let mut x = runs[0].advance() + Points::new(0.6);
    if dotted {
        let dot = pen::sign_at(Sign::TempoDot, space, Point::new(x, Points::ZERO));
        x += dot.advance();
        runs.push(dot);
    }
    let place = Point::new(x + Points::new(2.4), Points::ZERO);
    runs.push(pen::text_from(
        Face::Regular,
        Points::new(10.5),
        &format!("= {}", beats_a_minute(tempo, metre)),
        place,
    ));
    runs
}

/// A tempo as players say it: how many beats a minute.
pub(crate) fn beats_a_minute(tempo: Tempo, metre: Metre) -> f64 {
    libm::round(f64::from(tempo.quarters_a_minute()) / metre.beat().quarters())
}
