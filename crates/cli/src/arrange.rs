//! `handspan arrange`: a lead sheet or a project becomes a piece for one guitar.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use handspan_core::arrangement::{Arrangement, Edit, Work, arrange};
use handspan_core::pitch::Interval;
use handspan_core::plan::{Aim, Lie};
use handspan_sheet::{SheetOptions, engrave};

use crate::console::Console;
use crate::explain;
use crate::failure::{Ended, Failure};
use crate::guitar::GuitarOptions;
use crate::input::{PartOptions, open_work};
use crate::json::{self, ArrangeJson};
use crate::output::Output;
use crate::progress::Progress;
use crate::sheet::PaperOptions;

/// Arranges a tune for one guitar and writes the piece
///
/// The melody stays as written: never delayed, moved or shortened. At every chord change and every bar's beginning the
/// bass and as many chord tones as are worth their effort are struck and ring on. The route from grip to grip is the
/// easiest there is. What two hands cannot do gives way, inner voices before the bass, and is listed with bar, beat
/// and reason.
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Options {
    #[command(flatten)]
    making: Making,

    #[command(flatten)]
    parts: PartOptions,
}

// What it takes to make a piece of anything: no doc comment, since that would stand in the commands' help.
#[derive(Args, Debug)]
pub(crate) struct Making {
    /// A piece of music (MusicXML, compressed or not) or a project (.handspan), whose own plan is kept where no option
    /// says otherwise; another key, tuning or capo moves locked basses along and releases locked grips
    #[arg(value_name = "FILE")]
    file: PathBuf,

    /// A file to write, any number of times: .musicxml, .pdf, .svg or .png (a file a page) or .handspan
    #[arg(long = "out", value_name = "FILE", value_parser = |text: &str| Output::new(Path::new(text)))]
    outputs: Vec<Output>,

    /// Semitones up, or down with a minus [0: the melody sounds at the pitch it is written]
    #[arg(long, value_name = "SEMITONES", allow_negative_numbers = true, value_parser = read_semitones)]
    transpose: Option<i16>,

    /// What the easiest route is [default: the project's own, otherwise least-total]
    #[arg(long, value_enum)]
    aim: Option<AimOption>,

    #[command(flatten)]
    paper: PaperOptions,

    #[arg(
        long,
        help = "Prints one JSON object with outcome, transpose, moments, effort, give_ways (bar, beat, part, reason) and cut_short (how many basses and inner notes end before the next stroke)"
    )]
    json: bool,

    #[command(flatten)]
    guitar: GuitarOptions,
}

const EXAMPLES: &str = "\
Examples:
  handspan arrange demo-data/gangway-at-six.musicxml --out gangway.musicxml --out gangway.pdf
  handspan arrange tune.mxl --out tune.handspan --transpose -2 --hand small
  handspan arrange tune.handspan --out tune.pdf --paper letter --layout staff-and-tablature --print large
  handspan arrange tune.handspan --aim gentlest --out tune.musicxml
  handspan arrange tune.handspan --out boxes.pdf --layout boxes --left-handed-boxes
  handspan arrange tune.handspan --out lesson.pdf --bars 5-8 --remark \"6: keep finger 2 down\" --practice
  handspan arrange band.musicxml --melody Voice --bass-line Bass --hook Horns --out band.pdf
  handspan arrange tune.musicxml --json --tuning \"D A D G A D\" --capo 2";

#[derive(ValueEnum, Clone, Copy, Debug)]
pub(crate) enum AimOption {
    /// The least effort of all grips and moves together
    LeastTotal,
    /// The gentlest hardest move, and among routes with no harder one the least effort together
    Gentlest,
}

impl From<AimOption> for Aim {
    fn from(option: AimOption) -> Self {
        match option {
            AimOption::LeastTotal => Self::LeastTotal,
            AimOption::Gentlest => Self::Gentlest,
        }
    }
}

/// How far a tune is moved at the most, in semitones: five octaves.
const FARTHEST: i16 = 60;

fn read_semitones(text: &str) -> Result<i16, String> {
    let semitones = text.parse().ok().filter(|semitones| (-FARTHEST..=FARTHEST).contains(semitones));
    semitones.ok_or_else(|| format!("a tune moves by whole semitones, {FARTHEST} up or down at the most"))
}

/// Arranges the tune.
pub(crate) fn run(options: &Options, console: &mut Console<'_>) -> Ended {
    run_with(&options.making, |path, console| open_work(path, &options.parts.choice(), console), console)
}

/// Opens the file in one way or another, finds the easiest route and writes what was asked for.
pub(crate) fn run_with(
    options: &Making,
    open: impl FnOnce(&Path, &mut Console<'_>) -> Ended<(Work, Vec<String>)>,
    console: &mut Console<'_>,
) -> Ended {
    for output in &options.outputs {
        output.spare(&options.file)?;
    }
    let (given, mut remarks) = open(&options.file, console)?;
    let locked = given.plan.locks.count();
    let work = options.planned(given)?;
    let released = locked - work.plan.locks.count();
    if released > 0 {
        let remark = explain::released(released);
        console.say(&remark);
        remarks.push(remark);
    }
    let sheet = options.paper.of(&work.tune)?;
    let found = {
        let progress = Progress::new("Arranging", console.is_watched());
        arrange(&work, &progress)
    };
    match found {
        Ok(arrangement) => options.finish(&work, &arrangement, &sheet, remarks, console),
        Err(why) => {
            if options.json {
                let answer = ArrangeJson::impossible(work.tune.title(), work.plan.transpose, &why, remarks);
                console.print(&json::text(&answer));
            }
            Err(Failure::not_to_be_had(why))
        }
    }
}

impl Making {
    /// The work with the options laid over its plan.
    ///
    /// What is locked of a project goes along as far as it can: grips belong to the pitches of their strings.
    fn planned(&self, mut work: Work) -> Ended<Work> {
        let plan = &work.plan;
        let edits = [
            Edit::Lie(Lie {
                transpose: self.transpose.map_or(plan.transpose, Interval::new),
                instrument: self.guitar.instrument(&plan.instrument)?,
            }),
            Edit::Hand(self.guitar.hand(plan.hand)),
            Edit::Aim(self.aim.map_or(plan.aim, Aim::from)),
        ];
        for edit in &edits {
            edit.apply(&mut work);
        }
        Ok(work)
    }

    /// Writes the files and says what came of the tune.
    fn finish(
        &self,
        work: &Work,
        arrangement: &Arrangement,
        sheet: &SheetOptions,
        remarks: Vec<String>,
        console: &mut Console<'_>,
    ) -> Ended {
        let sheet = engrave(&arrangement.score, sheet);
        let mut written = Vec::new();
        for output in &self.outputs {
            written.extend(output.write(work, arrangement, &sheet)?);
        }
        if self.outputs.iter().any(Output::is_paper) && !sheet.missing.is_empty() {
            let letters: Vec<String> = sheet.missing.iter().map(char::to_string).collect();
            console.say(&format!(
                "The sheet's fonts lack {}: left out on paper, kept in every other file.",
                letters.join(" ")
            ));
        }
        let title = work.tune.title();
        if self.json {
            let answer = ArrangeJson::done(title, work.plan.transpose, arrangement, remarks, written);
            console.print(&json::text(&answer));
            return Ok(());
        }
        for line in explain::arrangement(title, &work.plan.instrument, arrangement) {
            console.print(&line);
        }
        if !written.is_empty() {
            console.print(&format!("Written: {}.", written.join(", ")));
        }
        Ok(())
    }
}
