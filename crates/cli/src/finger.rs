//! `handspan finger`: music in which every note is given gets its strings, frets and fingers.

use clap::Args;

use crate::arrange;
use crate::console::Console;
use crate::failure::Ended;
use crate::input::open_written_out;

/// Fingers guitar music whose notes are all given and writes the piece
///
/// Every note keeps its pitch and its length, and gets a string, a fret and both hands' fingers: the easiest way there
/// is through the whole piece. Strings, digits and letters that are printed in the file are kept. What no hand can do
/// is listed with bar, beat and reason: marks that contradict their notes, notes that cannot be held on.
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Options {
    #[command(flatten)]
    making: arrange::Making,
}

const EXAMPLES: &str = "\
Examples:
  handspan finger study.musicxml --out study-fingered.musicxml --out study.pdf --layout staff-and-tablature
  handspan finger study.mxl --out study.handspan --hand small
  handspan finger study.handspan --json";

/// Fingers the piece.
pub(crate) fn run(options: &Options, console: &mut Console<'_>) -> Ended {
    arrange::run_with(&options.making, open_written_out, console)
}
