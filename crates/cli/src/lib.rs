//! Handspan without a window: every command, what it reads, what it writes and how it ends.
//!
//! [`run`] is all that the binary calls. A command ends in one of three ways, and the exit code says which:
//! 0 it is done, 1 the input or the options are at fault, 2 what was asked cannot be had. Commands print only
//! through [`Console`], so that tests read what a player would.

mod arrange;
mod check;
mod console;
mod explain;
mod failure;
mod finger;
mod guitar;
mod input;
mod json;
mod keys;
mod output;
mod progress;
mod sheet;
mod voicings;
mod words;

use std::error::Error as _;
use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Parser, Subcommand};

pub use console::Console;
use failure::Failure;
pub use guitar::read_tuning;

/// What stands below the commands in the help.
const AFTER: &str = "\
With no command the window opens, with a FILE alone on that: a lead sheet, written-out guitar music or a project. The
first time it shows a demo tune, already arranged.

Examples:
  handspan demo-data/gangway-at-six.musicxml
  handspan arrange demo-data/gangway-at-six.musicxml --out gangway.musicxml --out gangway.pdf
  handspan keys demo-data/gangway-at-six.musicxml --tunings \"standard; drop D\" --capos 0-3
  handspan finger study.musicxml --out study-fingered.musicxml --out study.pdf
  handspan voicings --chord Cmaj7 --melody E5 --bass C
  handspan check gangway.musicxml --against demo-data/gangway-at-six.musicxml

Exit codes: 0 done; 1 the input or the options are at fault; 2 what was asked cannot be had, with the reasons.

Wide stretches, long barres and repetition can hurt a hand. Warm up, rest, stop when it hurts, ask a teacher or a doctor.";

/// Turns a tune into a piece for one guitar, played by one pair of hands.
#[derive(Parser, Debug)]
#[command(name = "handspan", bin_name = "handspan", version, after_help = AFTER, subcommand_required = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand, Debug)]
enum Command {
    Arrange(arrange::Options),
    Keys(keys::Options),
    Finger(finger::Options),
    Voicings(voicings::Options),
    Check(check::Options),
}

/// Runs a command on the process's own outputs and gives the exit code. The first argument is the program's name.
pub fn run(args: impl IntoIterator<Item = OsString>) -> u8 {
    run_on(args, &mut Console::of_process())
}

/// Runs a command on any console and gives the exit code.
pub fn run_on(args: impl IntoIterator<Item = OsString>, console: &mut Console<'_>) -> u8 {
    let arguments = match Arguments::try_parse_from(args) {
        Ok(arguments) => arguments,
        Err(answer) => return not_a_command(&answer, console),
    };
    let ended = match &arguments.command {
        Command::Arrange(options) => arrange::run(options, console),
        Command::Keys(options) => keys::run(options, console),
        Command::Finger(options) => finger::run(options, console),
        Command::Voicings(options) => voicings::run(options, console),
        Command::Check(options) => check::run(options, console),
    };
    match ended {
        Ok(()) => 0,
        Err(failure) => {
            console.say(&failure.sentence());
            failure.exit_code()
        }
    }
}

/// Help and version go to the player and end well; anything else was no command.
fn not_a_command(answer: &clap::Error, console: &mut Console<'_>) -> u8 {
    let text = answer.render().to_string();
    if !answer.use_stderr() {
        console.print(text.trim_end());
        return 0;
    }
    let failure = match misread(answer).or_else(|| neither(answer)).or_else(|| left_over(answer)) {
        Some(sentence) => Failure::fault(sentence),
        None => Failure::fault(text.strip_prefix("error: ").unwrap_or(&text)),
    };
    console.say(&failure.sentence());
    failure.exit_code()
}

/// What was asked for, where it is no command and, as the window has not opened, no file either.
fn neither(answer: &clap::Error) -> Option<String> {
    let Some(ContextValue::String(word)) = answer.get(ContextKind::InvalidSubcommand) else { return None };
    let meant = match answer.get(ContextKind::SuggestedSubcommand) {
        Some(ContextValue::Strings(words)) => words.first(),
        _ => None,
    };
    let help = meant.map_or_else(
        || "handspan --help lists the commands".to_owned(),
        |command| format!("handspan {command} may have been meant"),
    );
    Some(format!("“{word}” is neither a command nor a file; {help}"))
}

/// A word that belongs to nothing: most often the second one of a value that was not put in quotes.
fn left_over(answer: &clap::Error) -> Option<String> {
    let Some(ContextValue::String(word)) = answer.get(ContextKind::InvalidArg) else { return None };
    let is_left_over = answer.kind() == ErrorKind::UnknownArgument && !word.starts_with('-');
    is_left_over.then(|| {
        format!(
            "“{word}” belongs to nothing before it; put several words in quotes, like --tuning \"drop D\""
        )
    })
}

/// What a value of an option should have been, where that is what went wrong.
fn misread(answer: &clap::Error) -> Option<String> {
    let context = |kind| match answer.get(kind) {
        Some(ContextValue::String(text)) => Some(text.as_str()),
        _ => None,
    };
    let why = answer.source()?;
    let (option, value) = (context(ContextKind::InvalidArg)?, context(ContextKind::InvalidValue)?);
    Some(format!("{option} can't be “{value}”: {why}"))
}
