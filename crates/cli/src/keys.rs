//! `handspan keys`: keys, tunings and capo positions for a tune, side by side.

use std::ops::RangeInclusive;
use std::path::PathBuf;

use clap::{Args, ValueEnum as _};
use handspan_core::arrangement::{
    BEST_LIES, LieFound, LieRow, LieScope, LieTable, Octaves, Work, compare_lies,
};
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::plan::{Aim, Lie};

use crate::arrange::AimOption;
use crate::console::Console;
use crate::explain::{self, counted};
use crate::failure::{Ended, Failure};
use crate::guitar::{PlayerOptions, option_of_tuning, read_tunings};
use crate::input::{PartOptions, open_work};
use crate::json::{self, LieJson};
use crate::progress::Progress;
use crate::words::read_capos;

/// Compares keys, tunings and capo positions for a tune
///
/// Every key is tried in every tuning with every capo, each by the easiest route there is, and the easiest come first,
/// as routes are chosen: effort weighed against what the notes are worth to the ear, so that a row with more inner
/// notes may stand before one of less effort. A row says which key sounds and as which key the hand grips it at the
/// capo, how far the tune is moved from where it is written, in semitones, how many basses are open strings, how much
/// gives way, how far up the melody goes (counted from the capo), and what the hardest move costs and where it comes.
/// The basses that are locked in a project are kept and move along; other locks belong to one way to play alone and are
/// left aside.
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Options {
    /// A piece of music (MusicXML, compressed or not) or a project (.handspan), whose own plan gives guitar, hand, aim
    /// and locked basses
    #[arg(value_name = "FILE")]
    file: PathBuf,

    /// The tunings, each a name or its open strings as in --tuning of the other commands; several with semicolons
    /// between them ("drop D; D A D G A D"), by commas where they are names (standard,DADGAD), or by naming the option
    /// again [default: the guitar's own
    /// and the most common others, six in all]
    #[arg(long, value_name = "TUNINGS", value_parser = read_tunings)]
    tunings: Vec<Vec<Tuning>>,

    /// The frets that the capo may sit at, like 2 or 0-4; 0 for no capo
    #[arg(
        long,
        value_name = "FRETS",
        default_value = "0-4",
        allow_hyphen_values = true,
        value_parser = read_capos
    )]
    capos: RangeInclusive<u8>,

    /// Tries every octave of a key, up to two from the tune as written, and shows the easiest; otherwise the nearest
    /// one in which the melody lies on the guitar
    #[arg(long)]
    octaves: bool,

    #[command(flatten)]
    player: PlayerOptions,

    /// What the easiest route is [default: the project's own, otherwise least-total]
    #[arg(long, value_enum)]
    aim: Option<AimOption>,

    #[command(flatten)]
    parts: PartOptions,

    /// Lists every combination, not only the first 12, and why some cannot be among them
    #[arg(long)]
    all: bool,

    #[arg(
        long,
        help = "Prints a JSON list of objects with key, gripped_as, tuning, open_strings (the lowest first), capo, transpose, effort, hardest (effort, bar, beat), basses, open_basses, inner_notes, give_ways, highest_fret, room_below and room_above (semitones between the melody and the ends of the guitar's range); basses_given_up (how many at least) and reason are null where there is a route, the others where there is none, which only --all lists"
    )]
    json: bool,
}

const EXAMPLES: &str = "\
Examples:
  handspan keys demo-data/gangway-at-six.musicxml
  handspan keys tune.handspan --tunings \"drop D; D A D G B D\" --capos 0-2 --octaves
  handspan keys tune.mxl --tunings standard,DADGAD --capos 0 --hand small --aim gentlest
  handspan keys band.musicxml --melody Voice --bass-line Bass --all --json";

/// Compares them.
pub(crate) fn run(options: &Options, console: &mut Console<'_>) -> Ended {
    let (given, _) = open_work(&options.file, &options.parts.choice(), console)?;
    let (work, scope) = options.asked(given)?;
    let found = {
        let progress = Progress::new("Comparing", console.is_watched());
        compare_lies(&work, &scope, &progress, &|_| {})
    };
    let LieTable { rows, .. } = found.map_err(Failure::not_to_be_had)?;
    let searched = rows.iter().take_while(|row| is_searched(row)).count();
    if searched == 0 {
        return Err(Failure::not_to_be_had(none(&rows)));
    }
    let listed = if options.all { &rows } else { &rows[..searched.min(BEST_LIES)] };
    if options.json {
        console.print(&json::list(listed.iter().map(|row| LieJson::new(&work.tune, row))));
        return Ok(());
    }
    console.print(&heading(&work, &scope, rows.len(), listed.len()));
    for line in explain::lie_table(&work.tune, listed) {
        console.print(&line);
    }
    if let Some(sentence) = explain::left_out(&rows[listed.len()..]) {
        console.print(&sentence);
    }
    console.print(&format!("To take the first: {}", options.taking(&rows[0].lie)));
    Ok(())
}

impl Options {
    /// The work with the options laid over its plan, and what to compare for it.
    fn asked(&self, mut work: Work) -> Ended<(Work, LieScope)> {
        let plan = &mut work.plan;
        plan.hand = self.player.hand(plan.hand);
        plan.aim = self.aim.map_or(plan.aim, Aim::from);
        let tunings = if self.tunings.is_empty() {
            LieScope::usual(&plan.instrument).tunings
        } else {
            once(self.tunings.concat())
        };
        let (frets, scale) = (plan.instrument.frets_from_nut(), plan.instrument.scale());
        for tuning in &tunings {
            // With the highest capo, so that nothing that was asked for is left out in silence.
            let guitar = Instrument::try_new(tuning.clone(), frets, scale, *self.capos.end());
            let guitar = guitar.map_err(Failure::fault)?;
            if *tuning == tunings[0] {
                plan.instrument = guitar;
            } else if guitar.string_count() != plan.instrument.string_count() {
                return Err(Failure::fault(format!(
                    "tunings are compared for one guitar, but “{}” has {} and “{}” {}",
                    tunings[0].name(),
                    counted(plan.instrument.string_count(), "string"),
                    tuning.name(),
                    guitar.string_count()
                )));
            }
        }
        let octaves = if self.octaves { Octaves::Every } else { Octaves::Nearest };
        Ok((work, LieScope { tunings, capos: self.capos.clone(), octaves }))
    }

    /// The command that arranges the tune as a row says.
    fn taking(&self, lie: &Lie) -> String {
        let parts = self.parts.choice();
        let aim = self.aim.and_then(|aim| Some(aim.to_possible_value()?.get_name().to_owned()));
        let said = [
            ("melody", parts.melody),
            ("bass-line", parts.bass),
            ("hook", parts.hook),
            ("hand", self.player.written()),
            ("aim", aim),
            ("transpose", Some(lie.transpose.semitones().to_string())),
            ("capo", Some(lie.instrument.capo().to_string())),
            ("tuning", Some(option_of_tuning(lie.instrument.tuning()))),
        ];
        let said =
            said.into_iter().filter_map(|(name, value)| Some(format!(" --{name} {}", quoted(&value?))));
        let file = quoted(&self.file.display().to_string());
        format!("handspan arrange {file}{} --out piece.pdf", said.collect::<String>())
    }
}

/// Each tuning once, under the first name it is given.
fn once(tunings: impl IntoIterator<Item = Tuning>) -> Vec<Tuning> {
    let mut kept: Vec<Tuning> = Vec::new();
    for tuning in tunings {
        if kept.iter().all(|other| other.open_strings() != tuning.open_strings()) {
            kept.push(tuning);
        }
    }
    kept
}

const fn is_searched(row: &LieRow) -> bool {
    matches!(row.found, LieFound::Easiest(_))
}

/// What is compared, in which order, and how many are listed.
fn heading(work: &Work, scope: &LieScope, all: usize, listed: usize) -> String {
    let order = match work.plan.aim {
        Aim::LeastTotal => "the easiest first, effort weighed against what the notes are worth to the ear",
        Aim::Gentlest => "the gentlest hardest move first",
    };
    let shown = if listed == all {
        "here are all of them".to_owned()
    } else {
        format!("here are {listed} of {all}, --all lists every one")
    };
    format!(
        "{} in 12 keys, {} and {}, {order}; {shown}.",
        explain::named(work.tune.title()),
        counted(scope.tunings.len(), "tuning"),
        counted(scope.capos.clone().count(), "capo position"),
    )
}

/// Why there is nothing to list.
fn none(rows: &[LieRow]) -> &'static str {
    if rows.iter().any(|row| row.found == LieFound::NoRoute) {
        "no hand can hold what is tied over a repeat in any of these keys, tunings and capo positions; try others"
    } else {
        "not all of the melody lies on the neck in any of these keys, tunings and capo positions: its range is too wide; try \
         other tunings, or a capo farther down"
    }
}

/// A value as a shell takes it for one word.
fn quoted(value: &str) -> String {
    let is_plain = |c: char| c.is_alphanumeric() || "-_./+,:".contains(c);
    let is_word = !value.is_empty() && value.chars().all(is_plain);
    if is_word { value.to_owned() } else { format!("'{}'", value.replace('\'', r"'\''")) }
}
