//! Looks for common chord grips among those that the engine finds.
//!
//! A grip that players use is judged by the check, which shares no code with the enumeration, and looked for among all
//! grips that the enumeration gives for its notes. Both should take it, or a rule of the hand says why not.

use std::fs;
use std::path::PathBuf;

use clap::Args;
use handspan_core::check;
use handspan_core::grip::ranking::each_grip;
use handspan_core::grip::{BassChoice, Grip, Hold, Reach, VoicingWish};
use handspan_core::hand::{Finger, Hand};
use handspan_core::harmony::ToneSet;
use handspan_core::neck::{Fret, Instrument, StringIndex};
use handspan_core::pitch::Pitch;
use serde::{Deserialize, Serialize};

use crate::Findings;
use crate::fault::Fault;

/// What stands below the options in the help.
const KEYS: &str = "\
FILE lists grips with frets and fingers from the lowest string to the highest (-1 silent, 0 open).

Keys:
  shapes      all of them
  flagged     left out, since the source itself finds fault with their fingers or notes
  accepted    no rule of the hand is broken
  found       the enumeration gives this very grip for its notes
  exceptions  what is not both, with the rules that are broken";

/// Looks for common chord grips among those that the engine finds and prints one JSON object
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// The list of grips
    file: PathBuf,
}

#[derive(Deserialize)]
struct Library {
    shapes: Vec<Shape>,
}

/// A grip as the library writes it.
#[derive(Deserialize)]
struct Shape {
    name: String,
    variant: usize,
    frets: Vec<i32>,
    fingers: Vec<i8>,
    fingers_consistent: bool,
    /// Pitch classes that do not belong to the chord of its name; null where the source did not look.
    foreign_pcs: Option<Vec<u8>>,
    /// Pitch classes of that chord that do not sound.
    missing_pcs: Option<Vec<u8>>,
}

/// What was counted.
#[derive(Serialize, Default)]
struct Counts {
    shapes: usize,
    flagged: usize,
    accepted: usize,
    found: usize,
    exceptions: Vec<Exception>,
}

/// A grip that is not both accepted and found.
#[derive(Serialize)]
struct Exception {
    name: String,
    variant: usize,
    frets: Vec<i32>,
    fingers: Vec<i8>,
    found: bool,
    /// The rules that it breaks, as sentences.
    rules: Vec<String>,
}

/// Judges every grip of a file.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let path = || options.file.clone();
    let text = fs::read_to_string(&options.file).map_err(|why| Fault::Unread { path: path(), why })?;
    let library: Library = serde_json::from_str(&text).map_err(|why| Fault::Shapes { path: path(), why })?;
    let json =
        serde_json::to_string_pretty(&count(library.shapes)).expect("texts and numbers can be written");
    Ok(Findings { json, remarks: Vec::new() })
}

fn count(shapes: Vec<Shape>) -> Counts {
    let reach = Reach::new(&Instrument::classical(), &Hand::default());
    let mut counts = Counts { shapes: shapes.len(), ..Counts::default() };
    for shape in shapes {
        if shape.is_flagged() {
            counts.flagged += 1;
            continue;
        }
        let Some(grip) = shape.grip() else {
            counts.exceptions.push(shape.excepted(false, vec!["it is no grip of six strings".to_owned()]));
            continue;
        };
        let faults = check::grip(reach.instrument(), reach.hand(), &grip);
        let found = is_found(&reach, &grip);
        counts.accepted += usize::from(faults.is_empty());
        counts.found += usize::from(found);
        if !faults.is_empty() || !found {
            counts.exceptions.push(shape.excepted(found, faults.iter().map(ToString::to_string).collect()));
        }
    }
    counts
}

impl Shape {
    /// Whether its source finds fault with it: fingers that contradict the frets, or notes that contradict the name.
    fn is_flagged(&self) -> bool {
        let any = |classes: &Option<Vec<u8>>| classes.as_ref().is_some_and(|classes| !classes.is_empty());
        !self.fingers_consistent || any(&self.foreign_pcs) || any(&self.missing_pcs)
    }

    /// The grip; none where frets and fingers are not six of each or lie beyond every neck.
    fn grip(&self) -> Option<Grip> {
        let strings = Instrument::classical().string_count();
        if self.frets.len() != strings || self.fingers.len() != strings {
            return None;
        }
        let mut grip = Grip::SILENT;
        for (string, (fret, finger)) in
            StringIndex::all(strings).rev().zip(self.frets.iter().zip(&self.fingers))
        {
            if *fret >= 0 {
                let finger = u8::try_from(*finger).ok().and_then(Finger::from_number);
                let hold = Hold::plain(Fret::try_new(*fret)?, finger);
                grip.set(string, Some(hold));
            }
        }
        Some(grip)
    }

    fn excepted(self, found: bool, rules: Vec<String>) -> Exception {
        let Self { name, variant, frets, fingers, .. } = self;
        Exception { name, variant, frets, fingers, found, rules }
    }
}

/// Whether the enumeration gives a grip when asked for its bass, its pitch classes and its number of notes.
fn is_found(reach: &Reach, grip: &Grip) -> bool {
    let sounding = |(string, hold): (StringIndex, Hold)| hold.sounds(reach.instrument(), string);
    let pitches: Vec<Pitch> = grip.holds().filter_map(sounding).collect();
    let Some(bass) = pitches.iter().min() else { return false };
    let wish = VoicingWish {
        melody: None,
        melody_string: None,
        bass: BassChoice::Exact(*bass),
        tones: pitches.iter().map(|pitch| pitch.class()).collect(),
        required: ToneSet::EMPTY,
        notes: pitches.len()..=pitches.len(),
        held: Grip::SILENT,
    };
    let mut found = false;
    each_grip(reach, &wish, |one| found |= one == *grip);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(name: &str, frets: [i32; 6], fingers: [i8; 6], fingers_consistent: bool) -> Shape {
        let (frets, fingers) = (frets.to_vec(), fingers.to_vec());
        Shape {
            name: name.to_owned(),
            variant: 0,
            frets,
            fingers,
            fingers_consistent,
            foreign_pcs: Some(Vec::new()),
            missing_pcs: None,
        }
    }

    #[test]
    fn a_grip_of_players_is_accepted_and_found() {
        let counts = count(vec![
            shape("C", [-1, 3, 2, 0, 1, 0], [0, 3, 2, 0, 1, 0], true),
            shape("F", [1, 3, 3, 2, 1, 1], [1, 3, 4, 2, 1, 1], true),
        ]);
        assert_eq!((counts.accepted, counts.found, counts.exceptions.len()), (2, 2, 0));
    }

    #[test]
    fn a_broken_rule_is_an_exception_with_its_sentence() {
        let counts = count(vec![shape("wide", [-1, -1, -1, 1, 7, -1], [0, 0, 0, 1, 4, 0], true)]);
        assert_eq!((counts.shapes, counts.accepted, counts.found), (1, 0, 0));
        assert!(counts.exceptions[0].rules[0].starts_with("fingers 1 and 4 are"));
    }

    #[test]
    fn flagged_grips_are_left_out_and_bad_ones_are_not_lost() {
        let mut short = shape("short", [0; 6], [0; 6], true);
        short.frets.pop();
        let mut wrong_name = shape("foreign", [0; 6], [0; 6], true);
        wrong_name.foreign_pcs = Some(vec![3]);
        let counts = count(vec![shape("flagged", [0; 6], [1; 6], false), wrong_name, short]);
        assert_eq!((counts.shapes, counts.flagged, counts.accepted), (3, 2, 0));
        assert_eq!(counts.exceptions[0].rules, ["it is no grip of six strings"]);
    }
}
