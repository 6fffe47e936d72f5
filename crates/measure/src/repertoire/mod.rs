//! Measures the engine against published guitar music.
//!
//! Every piece is solved twice: without any mark, and with every second printed finger as a lock. What is printed is
//! compared with what was found; no figure looks at what was locked.

mod agreement;
mod best_of_five;
mod differences;
mod figures;
pub(crate) mod piece;
mod refusals;
pub(crate) mod route;
mod table;
pub(crate) mod voicing;

use std::path::PathBuf;

use clap::Args;
use handspan_core::demand::WrittenNote;
use handspan_core::grip::Reach;
use handspan_core::hand::Hand;

use crate::Findings;
use crate::clock::{rounded, timed};
use crate::fault::Fault;
use agreement::{HalfLocked, printed};
use differences::differences;
use figures::Figures;
use piece::{Piece, pieces};
use route::{PieceRoute, has_grip, is_held_on, is_played};

/// What stands below the options in the help.
const KEYS: &str = "\
FOLDER holds manifest.jsonl (a line a piece: piece, file, tempo_qpm, tuning, capo) and a file a piece (a line an
onset: the notes struck with their printed marks, the notes held). The neck has 19 frets, the hand is a medium one.

Keys:
  onsets                     all of them
  reachable                  every sounding pitch has a string of its own, whatever a hand may say
  with_grip                  a hand can hold everything that sounds, each onset by itself
  with_route                 the route strikes every note and keeps on its string under its finger whatever it holds
  with_every_held_note       of these, the onsets at which nothing is missing that had to be let go there or earlier
  cuts                       onsets at which something is let go that should sound on: where no grip keeps it all, the
                             fewest notes are; of what no hand can strike together the fewest notes are left out
  fingers_printed, _agree    printed digits 1 to 4, and those that the route has
  open_…, strings_…          the same for digits 0 and for string numbers
  fingers_half_locked, fingers_agree_half_locked
                             the same for the digits left free when every second one is a lock
  voicings                   places where three or more notes are struck together
  voicing_first, _top3, _top10, _mrr
                             where the published pitches stand among all voicings with this top, bass and number of
                             notes and no other pitch classes, ranked by effort and sonority after the grip before:
                             first, among the first three, among the first ten, and the mean of one divided by the
                             rank
  left_hand_printed          digits 0 to 4
  left_hand_agree_best_of_five
                             of the five best really different routes of every four bars the one that has most of the
                             printed digits is taken, and what it has is counted; the hand comes from the route of
                             the whole piece and goes on in it";

/// Measures the engine against published guitar music and prints one JSON object
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// The folder with manifest.jsonl
    folder: PathBuf,
    /// Print a table by piece on the standard error, with every reachable onset that has no grip and every one at which something is let go
    #[arg(long)]
    pieces: bool,
    /// Print so many places on the standard error where a printed finger and the program differ, spread over the pieces
    #[arg(long, value_name = "N", default_value_t = 0)]
    differences: usize,
}

/// Measures every piece of a folder.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let mut all = Figures::default();
    let mut remarks = Vec::new();
    let mut routed = Vec::new();
    if options.pieces {
        remarks.push(table::head());
    }
    for piece in pieces(&options.folder)? {
        let (measured, milliseconds) = timed(|| measure(&piece));
        let (figures, route) = measured?;
        let figures = Figures { seconds: milliseconds / 1000.0, ..figures };
        if options.pieces {
            remarks.push(table::row(&piece.name, &figures));
            remarks.extend(refusals::without_grip(&piece));
            remarks.extend(refusals::cuts(&piece, &route));
        }
        all = all + figures;
        routed.push((piece, route));
    }
    remarks.extend(differences(&routed, options.differences)?);
    all.voicing_mrr = rounded(all.voicing_mrr);
    all.seconds = rounded(all.seconds);
    let json = serde_json::to_string_pretty(&all).expect("numbers can always be written");
    Ok(Findings { json, remarks })
}

/// The figures of a piece, but for the time, and the route that was found without any mark.
fn measure(piece: &Piece) -> Result<(Figures, PieceRoute), Fault> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let unmarked: Vec<Vec<WrittenNote>> = piece.onsets.iter().map(piece::Onset::plain).collect();
    let free = PieceRoute::find(&reach, piece, &unmarked)?;
    let half = HalfLocked::of(&reach, piece);
    let locked = PieceRoute::find(&reach, piece, &half.notes)?;

    let played = (0..piece.onsets.len()).filter(|index| is_played(&reach, piece, &free, *index));
    let mut figures = Figures {
        onsets: piece.onsets.len(),
        reachable: piece.onsets.iter().filter(|o| o.is_reachable(&piece.instrument)).count(),
        with_grip: piece.onsets.iter().filter(|onset| has_grip(&reach, &onset.sounding())).count(),
        with_route: played.clone().count(),
        with_every_held_note: played.filter(|index| is_held_on(&reach, piece, &free, *index)).count(),
        cuts: free.cuts(&reach).len(),
        fingers_half_locked: half.free.len(),
        fingers_agree_half_locked: half.agreeing(&reach, &locked),
        ..printed(&reach, piece, &free)
    };
    best_of_five::count(&reach, piece, &free, &mut figures);
    voicing::rank_all(&reach, piece, &free, &mut figures);
    Ok((figures, free))
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::*;

    #[test]
    fn two_bars_are_counted() {
        let folder = piece::tests::folder();
        let options = Options { folder: folder.path().to_path_buf(), pieces: true, differences: 3 };
        let findings = run(&options).unwrap();
        let json: Value = serde_json::from_str(&findings.json).unwrap();
        let count = |key: &str| json[key].as_u64().unwrap_or_else(|| panic!("{key} is missing"));
        assert_eq!((count("onsets"), count("reachable"), count("with_grip")), (6, 5, 4));
        assert_eq!((count("with_route"), count("with_every_held_note"), count("cuts")), (4, 4, 0));
        assert_eq!((count("fingers_printed"), count("open_printed"), count("strings_printed")), (6, 1, 1));
        assert_eq!((count("open_agree"), count("strings_agree")), (1, 1));
        assert_eq!(count("fingers_half_locked"), 3);
        assert!(count("fingers_agree") <= 6 && count("fingers_agree_half_locked") <= 3);
        assert_eq!(count("voicings"), 3);
        assert!(count("voicing_first") <= count("voicing_top3"));
        assert!(json["voicing_mrr"].is_number() && json["seconds"].is_number());
        assert_eq!(count("left_hand_printed"), 7);
        let of_one = count("fingers_agree") + count("open_agree");
        assert!((of_one..=7).contains(&count("left_hand_agree_best_of_five")));
        let refused =
            findings.remarks.iter().find(|line| line.starts_with("  no grip: bar 1, onset 2, F2 A#3 D#5"));
        assert!(refused.is_some_and(|line| line.contains("farther than")), "{:?}", findings.remarks);
    }

    #[test]
    fn what_no_hand_can_hold_on_is_let_go_once_and_missed_as_long_as_it_should_sound() {
        let folder = piece::tests::folder();
        let g_below = r#"
{"onset":"0","bar":1,"new":[{"p":43},{"p":67}],"held":[]}
{"onset":"1","bar":1,"new":[{"p":74}],"held":[{"p":43}]}
{"onset":"2","bar":1,"new":[{"p":69}],"held":[{"p":43}]}
"#;
        std::fs::write(folder.path().join("a.jsonl"), g_below).unwrap();
        let piece = pieces(folder.path()).unwrap().remove(0);
        let (figures, route) = measure(&piece).unwrap();
        assert_eq!((figures.with_grip, figures.with_route, figures.with_every_held_note), (2, 3, 1));
        assert_eq!(route.cuts(&Reach::new(&piece.instrument, &Hand::default())), [1]);
    }

    #[test]
    fn a_folder_without_a_manifest_is_a_sentence() {
        let folder = tempfile::tempdir().unwrap();
        let options = Options { folder: folder.path().to_path_buf(), pieces: false, differences: 0 };
        let fault = run(&options).err().unwrap().to_string();
        assert!(fault.contains("manifest.jsonl can't be read: "), "{fault}");
    }

    #[test]
    fn the_same_folder_gives_the_same_figures() {
        let folder = piece::tests::folder();
        let piece = || pieces(folder.path()).unwrap().remove(0);
        assert_eq!(measure(&piece()).unwrap().0, measure(&piece()).unwrap().0);
    }

    #[test]
    fn a_locked_finger_is_not_counted_as_agreeing() {
        let folder = piece::tests::folder();
        let piece = pieces(folder.path()).unwrap().remove(0);
        let reach = Reach::new(&piece.instrument, &Hand::default());
        let half = HalfLocked::of(&reach, &piece);
        let locked = half.notes.iter().flatten().filter(|note| note.mark.is_some()).count();
        assert_eq!((locked, half.free.len()), (3, 3));
    }
}
