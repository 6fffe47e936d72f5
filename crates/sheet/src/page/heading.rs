//! The heading of the first page: title, composer, tempo, key, tuning, capo, legend.

use handspan_core::arrangement::Score;
use handspan_core::neck::Instrument;

use crate::bar::barres::barres;
use crate::draw::{pen, signs};
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::options::Layout;
use crate::points::{Point, Points};

const TITLE: Points = Points::new(23.0);
/// A title that does not fit on one line.
const LONG_TITLE: Points = Points::new(16.0);
const LINE: Points = Points::new(10.5);
const LEGEND: Points = Points::new(8.0);

/// What the signs of a layout mean, for whoever sees them for the first time.
const fn legend(layout: Layout) -> &'static str {
    match layout {
        Layout::Tablature => {
            "Bold figures: frets.  Small italic figures: left-hand fingers.  p i m a: right-hand fingers.  Grey line: \
             let it ring.  Short stem: half note; no stem: whole note."
        }
        Layout::StaffAndTablature => {
            "Bold figures: frets.  Small italic figures: left-hand fingers.  p i m a: right-hand fingers.  Grey line \
             or open tie: let it ring."
        }
        Layout::Staff => {
            "Small italic figures: left-hand fingers.  p i m a: right-hand fingers.  Open tie: let it ring."
        }
        Layout::Boxes => {
            "Dots: where fingers stand.  Figures below: left-hand fingers.  Ring: open string.  Cross: not played.  \
             Roman numeral: the fret of the uppermost row."
        }
    }
}

/// What a bracket over a barre means, where there is one.
const BARRES: &str = "  C: barre.";

/// The title, or a word in its place.
pub(crate) fn title(score: &Score) -> &str {
    match score.tune.title().trim() {
        "" => "Untitled",
        title => title,
    }
}

/// The heading, so wide, from the upper margin down; gives its height as well.
pub(crate) fn heading(score: &Score, layout: Layout, width: Points) -> (Group, Points) {
    let mut group = Group::new(Role::Heading);
    let mut y = title_lines(title(score), width, &mut group) + Points::new(21.0);
    let left = tempo_and_key(score, y, &mut group);
    let composer = score.tune.composer().trim();
    if !composer.is_empty() {
        let natural = pen::width(Face::Italic, LINE, composer);
        let size = LINE * (width / natural).min(1.0);
        if left + natural > width {
            y += Points::new(14.0);
        }
        group.push(pen::text_until(Face::Italic, size, composer, Point::new(width, y)));
    }
    y += Points::new(14.0);
    let tuning = tuning(&score.instrument);
    group.push(pen::text_from(Face::Regular, LINE, &tuning, Point::new(Points::ZERO, y)));
    y += Points::new(12.5);
    let barred = layout != Layout::Boxes && !barres(score).is_empty();
    let words = [legend(layout), if barred { BARRES } else { "" }].concat();
    for (number, line) in wrapped(&words, Face::Italic, LEGEND, width).iter().enumerate() {
        y += LEGEND * (1.25 * f64::from(u8::from(number > 0)));
        group.push(pen::text_from(Face::Italic, LEGEND, line, Point::new(Points::ZERO, y)));
    }
    (group, y + Points::new(17.0))
}

/// The title on one line, or smaller on as many as it needs; gives the last baseline.
fn title_lines(title: &str, width: Points, group: &mut Group) -> Points {
    let lines = wrapped(title, Face::Bold, TITLE, width);
    let (lines, size) = match lines.len() {
        0 | 1 => (lines, TITLE),
        _ => (wrapped(title, Face::Bold, LONG_TITLE, width), LONG_TITLE),
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

/// The words of a text on lines that are no wider than the width, where single words allow it.
fn wrapped(text: &str, face: Face, size: Points, width: Points) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if pen::width(face, size, &format!("{line} {word}")) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Tempo and key on a line; gives how far they reach.
fn tempo_and_key(score: &Score, y: Points, group: &mut Group) -> Points {
    let mut x = Points::ZERO;
    let Some(first) = score.tune.bars().first() else {
        return x;
    };
    if let Some(tempo) = score.tune.tempi().first() {
        for mut run in signs::tempo(tempo.tempo, first.metre) {
            run.at = run.at.moved(Points::ZERO, y);
            x = run.at.x + run.advance();
            group.push(run);
        }
        x += Points::new(14.0);
    }
    let key = signs::key_name(first.key);
    let run = pen::text_from(Face::Regular, LINE, &key, Point::new(x, y));
    let right = x + run.advance();
    group.push(run);
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
