//! The heading of the first page: title, composer, tempo, tuning, capo, legend.

use handspan_core::arrangement::Score;
use handspan_core::neck::Instrument;

use crate::bar::barres::{Barre, barres};
use crate::draw::column::brushed;
use crate::draw::{pen, signs};
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::options::{Layout, SheetOptions};
use crate::points::{Point, Points};

const TITLE: Points = Points::new(23.0);
/// A title that does not fit on one line.
const LONG_TITLE: Points = Points::new(16.0);
/// The bars of a handout.
const PASSAGE: Points = Points::new(12.5);
const LINE: Points = Points::new(10.5);
const LEGEND: Points = Points::new(8.0);

/// What the signs on these pages mean, for whoever sees them for the first time.
fn legend(score: &Score, options: &SheetOptions) -> String {
    let layout = options.layout;
    let frets = "Bold figures: frets.";
    let fingers = "Small italic figures: left-hand fingers.  p i m a: right-hand fingers.";
    let mut words = match layout {
        Layout::Tablature => {
            vec![frets, fingers, "Grey line: let it ring.  Short stem: half note; no stem: whole note."]
        }
        Layout::StaffAndTablature => vec![frets, fingers, "Grey line: let it ring."],
        Layout::Staff => vec![fingers],
        Layout::Boxes => vec![
            "Dots: where fingers stand.  Figures below: left-hand fingers.  Ring: open string.  Cross: not played.  \
             Number beside: the fret of the uppermost row.",
        ],
    };
    if layout.has_staff() {
        words.push("Roman numeral: position.");
    }
    let barres = if layout == Layout::Boxes { Vec::new() } else { barres(score) };
    if barres.iter().any(Barre::is_full) {
        words.push("C: barre.");
    }
    if !barres.iter().all(Barre::is_full) {
        words.push("½C: barre over four strings or fewer.");
    }
    if layout != Layout::Boxes && !score.taps.is_empty() {
        words.push("Cross: tap on strings or body, with the thumb while fingers pluck.");
    }
    if score.notes.iter().any(|note| note.touch.is_harmonic()) {
        words.extend(match layout {
            Layout::Boxes => None,
            Layout::Tablature => Some("‹12›: harmonic touched at this fret."),
            Layout::StaffAndTablature => {
                Some("Diamond, ‹12›: harmonic touched at this fret, written as it sounds.")
            }
            Layout::Staff => Some("Diamond: harmonic, written as it sounds.  Harm.: touched at this fret."),
        });
    }
    if layout != Layout::Boxes && score.notes.chunk_by(|a, b| a.at == b.at).any(|s| brushed(s).is_some()) {
        words.push("Arrow: brush.");
    }
    words.join("  ")
}

/// The title, or a word in its place.
pub(crate) fn title(score: &Score) -> &str {
    match score.tune.title().trim() {
        "" => "Untitled",
        title => title,
    }
}

/// The heading, so wide, from the upper margin down; gives its height as well.
pub(crate) fn heading(score: &Score, options: &SheetOptions, width: Points) -> (Group, Points) {
    let mut group = Group::new(Role::Heading);
    let mut title_group = Group::new(Role::Title);
    let mut y = title_lines(title(score), width, &mut title_group);
    group.push(title_group);
    if let Some(bars) = passage(score, options) {
        y += Points::new(16.0);
        let run = pen::text_around(Face::Regular, PASSAGE, &bars, Point::new(width / 2.0, y));
        group.push(Group::of(Role::Paragraph, run));
    }
    y += Points::new(21.0);
    let mut line = Group::new(Role::Paragraph);
    let left = tempo(score, options, y, &mut line);
    group.push(line);
    let composer = score.tune.composer().trim();
    if !composer.is_empty() {
        let natural = pen::width(Face::Italic, LINE, composer);
        let size = LINE * (width / natural).min(1.0);
        if left + natural > width {
            y += Points::new(14.0);
        }
        let run = pen::text_until(Face::Italic, size, composer, Point::new(width, y));
        group.push(Group::of(Role::Paragraph, run));
    }
    y += Points::new(14.0);
    for (words, face, size) in
        [(tuning(&score.instrument), Face::Regular, LINE), (legend(score, options), Face::Italic, LEGEND)]
    {
        let mut block = Group::new(Role::Paragraph);
        let lines = pen::paragraph(&words, face, size, Point::new(Points::ZERO, y), width);
        y += size * (pen::LEADING * lines.len().saturating_sub(1) as f64);
        for line in lines {
            block.push(line);
        }
        group.push(block);
        y += Points::new(12.5);
    }
    (group, y + Points::new(4.5))
}

/// The title on one line, or smaller on as many as it needs; gives the last baseline.
fn title_lines(title: &str, width: Points, group: &mut Group) -> Points {
    let lines = pen::wrapped(title, Face::Bold, TITLE, width);
    let (lines, size) = match lines.len() {
        0 | 1 => (lines, TITLE),
        _ => (pen::wrapped(title, Face::Bold, LONG_TITLE, width), LONG_TITLE),
    };
    let mut y = Points::new(18.0);
    for (number, line) in lines.iter().enumerate() {
        if number > 0 {
            y += size * 1.15;
        }
        // A single word wider than the page is set smaller rather than cut off.
        let fitting = size * (width / pen::width(Face::Bold, size, line)).min(1.0);
        group.push(pen::text_around(Face::Bold, fitting, line, Point::new(width / 2.0, y)));
    }
    y
}

/// The bars of a handout, as a line of its own.
fn passage(score: &Score, options: &SheetOptions) -> Option<String> {
    let bars = score.tune.bars();
    let printed = options.printed(bars.len());
    let (first, last) = (bars.get(printed.start)?, bars.get(printed.end.checked_sub(1)?)?);
    let words = match printed.len() {
        1 => format!("Bar {}", first.number),
        _ => format!("Bars {}–{}", first.number, last.number),
    };
    (printed.len() < bars.len()).then_some(words)
}

/// The tempo on a line, where the tune names one; gives how far it reaches. The key is the signature's to say, and
/// tablature needs none: which of the two keys of a signature is meant, a file often leaves open.
fn tempo(score: &Score, options: &SheetOptions, y: Points, group: &mut Group) -> Points {
    let mut right = Points::ZERO;
    let bars = score.tune.bars();
    let first = bars.get(options.printed(bars.len()).start).filter(|_| !score.tune.tempi().is_empty());
    for mut run in first.into_iter().flat_map(|bar| signs::tempo(score.tune.tempo_at(bar.start), bar.metre)) {
        run.at = run.at.moved(Points::ZERO, y);
        right = run.at.x + run.advance();
        group.push(run);
    }
    right
}

/// The tuning from the lowest string to the highest, and the capo.
fn tuning(instrument: &Instrument) -> String {
    let open = instrument.tuning().open_strings().iter().rev();
    let names: Vec<String> = open.map(|pitch| pitch.class().to_string().replace('#', "♯")).collect();
    let capo = match instrument.capo() {
        0 => String::new(),
        fret => format!(".  Capo at fret {fret}; frets count from the capo"),
    };
    format!("Tuning: {} ({}){capo}", instrument.tuning().name(), names.join(" "))
}
