//! Learns what grips and moves cost from published fingerings.
//!
//! Effort is linear in the weights of the core, so the route that is printed can teach them: a weight that counts more
//! in the printed route than in the program's goes down, one that counts less goes up. What grips and moves count is
//! stated once, in the core, for effort and for learning.

mod by_hand;
mod chance;
mod compare;
mod decode;
mod folds;
mod kin;
mod lattice;
mod sense;
mod slope;
mod source;
mod teach;

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use handspan_core::grip::Weights;
use serde::Serialize;

use crate::Findings;
use crate::fault::Fault;
use crate::repertoire::piece::{Piece, pieces};
use compare::{Counts, Share, difference, share};
use decode::{Agreement, agreement};
use lattice::Lattice;

/// How many folds there are.
const FOLDS: usize = 5;

/// What stands below the options in the help.
const KEYS: &str = "\
FOLDER is read as by the command repertoire. Only marked pieces teach; of pieces that are nearly the same (three in ten
runs of six onsets, in any key) the first one teaches and no other one is measured.

Without --folds all pieces teach, and the weights are printed as they stand in the core.

With --folds every piece is measured with weights that were learned from the pieces of the other folds: by composer, so
that no composer is in two folds, or by work, so that every fold has works of every composer.

Keys:
  fingers, open, half, strings  printed digits 1 to 4, digits 0, every second digit with the others locked, string
                                numbers: the share in percent that the easiest route has as well, learned and set by
                                hand, and the difference, each with its interval (bootstrap over works, 95 %)
  marks                         how many there are
  left_out                      pieces that are nearly the same as another one";

/// Learns the effort constants from published fingerings and prints them
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// The folder with manifest.jsonl
    folder: PathBuf,
    /// Measure what was learned on pieces that it was not learned from
    #[arg(long, value_name = "BY")]
    folds: Option<By>,
}

/// How pieces are sorted into folds.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum By {
    /// No composer is in two folds
    Composer,
    /// Every fold has works of every composer
    Work,
}

/// What was found on pieces that nothing was learned from.
#[derive(Serialize)]
struct HeldOut {
    fingers: Compared,
    open: Compared,
    half: Compared,
    strings: Compared,
    left_out: Vec<String>,
}

/// One kind of mark.
#[derive(Serialize)]
struct Compared {
    learned: Share,
    by_hand: Share,
    difference: Share,
}

/// Learns from a folder, or measures in folds.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let mut marked = pieces(&options.folder)?;
    marked.retain(is_marked);
    let duplicates = folds::near_duplicates(&marked);
    let left_out: Vec<String> = duplicates.iter().map(|number| marked[*number].name.clone()).collect();
    marked.retain(|piece| !left_out.contains(&piece.name));
    let Some(by) = options.folds else {
        let all: Vec<&Piece> = marked.iter().collect();
        return Ok(Findings { json: source::source(&taught(&all)), remarks: Vec::new() });
    };
    let folds = match by {
        By::Composer => folds::by_composer(&marked, FOLDS),
        By::Work => folds::by_work(marked.len(), FOLDS),
    };
    let (held_out, remarks) = measure(&marked, &folds);
    let found = held_out.compared(left_out);
    let json = serde_json::to_string_pretty(&found).expect("numbers can always be written");
    Ok(Findings { json, remarks })
}

fn is_marked(piece: &Piece) -> bool {
    piece.marks() > 0
}

/// The weights that these pieces teach.
///
/// They are learned twice: the shapes of chords are judged by the weights set by hand first, then by those learned, for
/// which one draw of chance is enough.
fn taught(pieces: &[&Piece]) -> Weights {
    let learned = |judging: &Weights, draws| {
        let lattices: Vec<Lattice> =
            pieces.iter().map(|piece| Lattice::new(piece, judging).around_marks()).collect();
        teach::learn(&lattices, draws)
    };
    learned(&learned(&teach::by_hand(), 1), teach::DRAWS)
}

/// The agreement of every piece: learned elsewhere, and set by hand.
#[derive(Default)]
struct Measured {
    learned: Vec<Agreement>,
    by_hand: Vec<Agreement>,
}

/// Measures every fold with what the others teach. A remark a fold.
fn measure(pieces: &[Piece], folds: &[Vec<usize>]) -> (Measured, Vec<String>) {
    let mut measured = Measured::default();
    let mut remarks = Vec::new();
    let hand = teach::by_hand();
    for fold in folds {
        let others = (0..pieces.len()).filter(|number| !fold.contains(number));
        let weights = taught(&others.map(|number| &pieces[number]).collect::<Vec<_>>());
        let (mut learned, mut by_hand) = (Agreement::default(), Agreement::default());
        for piece in fold.iter().map(|number| &pieces[*number]) {
            let lattice = Lattice::new(piece, &weights);
            measured.learned.push(agreement(&lattice, &weights));
            measured.by_hand.push(agreement(&lattice, &hand));
            learned += measured.learned.last().copied().unwrap_or_default();
            by_hand += measured.by_hand.last().copied().unwrap_or_default();
        }
        let first = fold.first().map_or("nobody", |number| folds::composer(&pieces[*number]));
        remarks.push(format!("fold of {first}: learned {learned:?}, by hand {by_hand:?}"));
    }
    (measured, remarks)
}

impl Measured {
    fn compared(&self, left_out: Vec<String>) -> HeldOut {
        let compared = |of: fn(&Agreement) -> Counts| {
            let counts = |works: &[Agreement]| works.iter().map(of).collect::<Vec<_>>();
            let (learned, by_hand) = (counts(&self.learned), counts(&self.by_hand));
            Compared {
                learned: share(&learned),
                by_hand: share(&by_hand),
                difference: difference(&learned, &by_hand),
            }
        };
        HeldOut {
            fingers: compared(|a| a.fingers),
            open: compared(|a| a.open),
            half: compared(|a| a.half),
            strings: compared(|a| a.strings),
            left_out,
        }
    }
}
