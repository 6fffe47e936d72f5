//! `handspan check`: is an arrangement true and playable.

use std::path::PathBuf;

use clap::Args;
use handspan_core::check::{self, Violation};
use handspan_core::hand::Hand;
use handspan_core::pitch::Interval;
use handspan_formats::musicxml::{self, PartChoice};

use crate::console::Console;
use crate::explain::counted;
use crate::failure::{Ended, Failure};
use crate::guitar::PlayerOptions;
use crate::input::{is_project, open, open_given};

/// Lists every rule that an arrangement breaks, one a line
///
/// Judged from first principles, whoever made the file: pitches against strings, frets and capo, strings used twice,
/// what either hand can and cannot do, and notes that are let go too early. With a lead sheet beside it, the melody
/// and the chord symbols are compared as well; with music in which every note is given, all of them. Nothing broken: exit code 0; something: 2.
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Options {
    /// An arrangement as MusicXML with strings, frets and fingers
    #[arg(value_name = "FILE")]
    file: PathBuf,

    /// The lead sheet whose melody it has to keep, or the music whose notes
    #[arg(long, value_name = "LEADSHEET")]
    against: Option<PathBuf>,

    /// The part of the lead sheet that is its melody, by name or number [default: the first one that is sung, or
    /// else the first one with notes]
    #[arg(long, value_name = "PART", requires = "against")]
    melody: Option<String>,

    /// Semitones that the arrangement sounds above the lead sheet [0]
    #[arg(
        long,
        value_name = "SEMITONES",
        default_value_t = 0,
        hide_default_value = true,
        allow_negative_numbers = true,
        requires = "against"
    )]
    transpose: i16,

    #[command(flatten)]
    player: PlayerOptions,
}

const EXAMPLES: &str = "\
Examples:
  handspan check piece.musicxml
  handspan check piece.musicxml --against tune.musicxml --transpose -2 --hand small";

/// Judges the arrangement.
pub(crate) fn run(options: &Options, console: &mut Console<'_>) -> Ended {
    if is_project(&options.file) {
        return Err(Failure::fault(format!(
            "a project holds the tune and the plan, not the notes; check the MusicXML that was arranged from it ({})",
            options.file.display()
        )));
    }
    let (score, _) = open(&options.file, musicxml::read_score, console)?;
    let mut broken = check::score(&score, &options.player.hand(Hand::default()));
    if let Some(lead_sheet) = &options.against {
        let choice = PartChoice { melody: options.melody.clone(), ..PartChoice::default() };
        let (tune, _) = open_given(lead_sheet, &choice, console)?;
        let transpose = Interval::new(options.transpose);
        broken.extend(check::melody(&score, &tune, transpose));
        broken.extend(check::below_the_melody(&score, &tune, transpose));
        broken.extend(check::taps(&score, &tune));
        broken.sort_by_key(|violation| violation.at);
    }
    report(&broken, console)
}

fn report(broken: &[Violation], console: &mut Console<'_>) -> Ended {
    for violation in broken {
        console.print(&violation.to_string());
    }
    if broken.is_empty() {
        console.print("No rule is broken.");
        return Ok(());
    }
    Err(Failure::not_to_be_had(format!(
        "{} broken: it can't be played as it stands",
        counted(broken.len(), "rule") + if broken.len() == 1 { " is" } else { " are" }
    )))
}
