//! Learns what guitarists prefer in a voicing beside its ease: wherever three or more notes are struck together in
//! published music, the voicing that was printed against all that could have stood in its place.
//!
//! The choice is taken as a conditional logit (D. `McFadden`, 1974, from memory): a voicing is the likelier the less it
//! costs, effort and sonority together. Points are what a case weighs against one point of effort.

mod fit;
mod places;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;

use clap::Args;
use handspan_core::grip::sonority::CASES;
use handspan_core::grip::{SoundTerm, Taste};
use serde::Serialize;

use crate::Findings;
use crate::clock::rounded;
use crate::fault::Fault;
use crate::repertoire::piece::pieces;
use fit::fit;
use places::{Place, places};

/// What stands below the options in the help.
const KEYS: &str = "\
FOLDER is one of the format that `repertoire` reads. The points are learned from all pieces; the figures come from
folds by composer, each measured with points learned from the other composers.

Keys:
  places              where three or more notes are struck together and the published voicing can be held
  ease, ease_and_sonority
                      first, top3, top10, mrr: where the published voicing stands among all, ranked by effort alone
                      and by effort and sonority together
  points              what every case of every term costs, in points of effort, learned from all pieces";

/// Learns what guitarists prefer beside ease and prints it as one JSON object
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// The folder with manifest.jsonl
    folder: PathBuf,
}

/// What was learned and how well it tells published voicings from others.
#[derive(Serialize, Debug)]
struct Learned {
    places: usize,
    ease: Ranks,
    ease_and_sonority: Ranks,
    points: BTreeMap<&'static str, Vec<i32>>,
}

/// Shares of places, in per cent, and the mean reciprocal rank.
#[derive(Serialize, Debug, Default)]
struct Ranks {
    first: f64,
    top3: f64,
    top10: f64,
    mrr: f64,
}

/// Learns from every piece of a folder.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let mut by_composer: BTreeMap<String, Vec<Place>> = BTreeMap::new();
    for piece in pieces(&options.folder)? {
        // Names begin with the composer's.
        let composer = piece.name.split('_').next().unwrap_or_default().to_owned();
        by_composer.entry(composer).or_default().extend(places(&piece)?);
    }
    let none = Taste::new([0; CASES]);
    let (mut by_ease, mut by_both) = (Vec::new(), Vec::new());
    for (composer, held_out) in &by_composer {
        let others = by_composer.iter().filter(|(name, _)| *name != composer);
        let taste = fit(&others.flat_map(|(_, places)| places).collect::<Vec<_>>());
        by_ease.extend(held_out.iter().map(|place| place.rank(&none)));
        by_both.extend(held_out.iter().map(|place| place.rank(&taste)));
    }
    let taste = fit(&by_composer.values().flatten().collect::<Vec<_>>());
    let learned = Learned {
        places: by_ease.len(),
        ease: ranks(&by_ease),
        ease_and_sonority: ranks(&by_both),
        points: SoundTerm::ALL.into_iter().map(|term| (term.name(), points(&taste, term))).collect(),
    };
    let json = serde_json::to_string_pretty(&learned).expect("numbers can always be written");
    Ok(Findings { json, remarks: vec![source(&taste)] })
}

fn points(taste: &Taste, term: SoundTerm) -> Vec<i32> {
    (0..term.cases()).map(|case| taste.points(term, case)).collect()
}

/// The constant as it stands in the code.
fn source(taste: &Taste) -> String {
    let mut text = String::from("Taste::new([");
    for (index, term) in SoundTerm::ALL.into_iter().enumerate() {
        let figures: Vec<String> = points(taste, term).iter().map(ToString::to_string).collect();
        let comma = if index == 0 { "" } else { ", " };
        write!(text, "{comma}{}", figures.join(", ")).expect("a text takes any text");
    }
    text + "])"
}

fn ranks(all: &[usize]) -> Ranks {
    let count = all.len().max(1) as f64;
    let within =
        |most: usize| rounded(100.0 * all.iter().filter(|rank| **rank <= most).count() as f64 / count);
    let mrr = all.iter().map(|rank| 1.0 / *rank as f64).sum::<f64>() / count;
    Ranks { first: within(1), top3: within(3), top10: within(10), mrr: rounded(mrr) }
}
