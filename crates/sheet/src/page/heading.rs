//! The heading of the first page: title, composer, tempo, key, tuning, capo, legend.

use handspan_core::arrangement::Score;
use handspan_core::neck::Instrument;

use crate::draw::{pen, signs};
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::points::{Point, Points};

const TITLE: Points = Points::new(23.0);
const LINE: Points = Points::new(10.5);
const LEGEND: Points = Points::new(8.0);

/// What the sheet's signs mean, for whoever sees tablature of this kind for the first time.
const WORDS: &str = "Bold figures: frets.  Small italic figures: left-hand fingers.  p i m a: right-hand fingers.  \
                     Grey line: let it ring.  Short stem: half note; no stem: whole note.";

/// The title, or a word in its place.
pub(crate) fn title(score: &Score) -> &str {
    match score.tune.title().trim() {
        "" => "Untitled",
        title => title,
    }
}

/// The heading, so wide, from the upper margin down; gives its height as well.
pub(crate) fn heading(score: &Score, width: Points) -> (Group, Points) {
    let mut group = Group::new(Role::Heading);
    let mut y = Points::new(18.0);
    // A long title is set smaller rather than cut off.
    let natural = pen::width(Face::Bold, TITLE, title(score));
    let size = TITLE * (width / natural).min(1.0);
    group.push(pen::text_around(Face::Bold, size, title(score), Point::new(width / 2.0, y)));
    y += Points::new(21.0);
    let composer = score.tune.composer().trim();
    if !composer.is_empty() {
        group.push(pen::text_until(Face::Italic, LINE, composer, Point::new(width, y)));
    }
    tempo_and_key(score, y, &mut group);
    y += Points::new(14.0);
    let tuning = tuning(&score.instrument);
    group.push(pen::text_from(Face::Regular, LINE, &tuning, Point::new(Points::ZERO, y)));
    y += Points::new(12.5);
    let legend = pen::text_from(Face::Italic, LEGEND, WORDS, Point::new(Points::ZERO, y));
    group.push(legend);
    (group, y + Points::new(20.0))
}

fn tempo_and_key(score: &Score, y: Points, group: &mut Group) {
    let mut x = Points::ZERO;
    let Some(first) = score.tune.bars().first() else { return };
    if let Some(tempo) = score.tune.tempi().first() {
        for mut run in signs::tempo(tempo.tempo, first.metre) {
            run.at = run.at.moved(Points::ZERO, y);
            x = run.at.x + run.advance();
            group.push(run);
        }
        x += Points::new(14.0);
    }
    let key = signs::key_name(first.key);
    group.push(pen::text_from(Face::Regular, LINE, &key, Point::new(x, y)));
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
