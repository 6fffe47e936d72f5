//! What commands read: a lead sheet or a project, and the remarks about what could not be kept.

use std::cell::Cell;
use std::path::Path;
use std::sync::Arc;

use clap::Args;
use handspan_core::arrangement::Work;
use handspan_core::plan::Plan;
use handspan_core::tune::Tune;
use handspan_formats::musicxml::PartChoice;
use handspan_formats::{Imported, ReadError, Severity, load, musicxml, project};

use crate::console::Console;
use crate::failure::{Ended, Failure};

// Which part of a score is what: no doc comment, since that would stand in the commands' help.
#[derive(Args, Debug)]
pub(crate) struct PartOptions {
    /// The part of the score that is the melody, by name or number [default: the first one that is sung, or else
    /// the first one with notes that is no other's]
    #[arg(long, value_name = "PART")]
    melody: Option<String>,

    /// The part of the score that is its bass line, by name or number: kept note for note
    #[arg(long, value_name = "PART")]
    bass_line: Option<String>,

    /// The part of the score that holds its hooks, by name or number: kept where melody and bass leave room
    #[arg(long, value_name = "PART")]
    hook: Option<String>,
}

impl PartOptions {
    /// The parts asked for.
    pub(crate) fn choice(&self) -> PartChoice {
        PartChoice { melody: self.melody.clone(), bass: self.bass_line.clone(), hook: self.hook.clone() }
    }
}

/// Whether a file is a project by its name.
pub(crate) fn is_project(path: &Path) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case("handspan"))
}

/// Opens a lead sheet or a project, and says what could not be kept of it; the remarks come back as well.
///
/// Of a score, parts may be chosen as melody, bass line and hook; a project has its own.
pub(crate) fn open_work(
    path: &Path,
    choice: &PartChoice,
    console: &mut Console<'_>,
) -> Ended<(Work, Vec<String>)> {
    if is_project(path) {
        if *choice != PartChoice::default() {
            return Err(Failure::fault(format!(
                "a project has its own melody, bass line and hooks; name parts where a score is read ({})",
                path.display()
            )));
        }
        return open(path, project::read, console);
    }
    let all_given = Cell::new(false);
    let read = |bytes: &[u8]| {
        all_given.set(*choice == PartChoice::default() && musicxml::is_written_out(bytes));
        musicxml::read_tune_with(bytes, choice)
    };
    let (tune, remarks) = open(path, read, console)?;
    if all_given.get() {
        console.say(&format!(
            "{}: this looks like guitar music whose notes are all given; only its melody is arranged here, “handspan \
             finger” keeps every note",
            path.display()
        ));
    }
    let plan = Plan::default();
    Ok((Work { tune: Arc::new(tune), plan }, remarks))
}

/// Opens guitar music in which every note is given, or a project of such music.
pub(crate) fn open_written_out(path: &Path, console: &mut Console<'_>) -> Ended<(Work, Vec<String>)> {
    if !is_project(path) {
        let ((tune, instrument), remarks) = open(path, musicxml::read_written_out, console)?;
        return Ok((Work { tune: Arc::new(tune), plan: Plan { instrument, ..Plan::default() } }, remarks));
    }
    let (work, remarks) = open(path, project::read, console)?;
    if work.tune.written_out().is_none() {
        return Err(Failure::fault(format!(
            "the project holds a lead sheet, whose notes are still to be found; arrange it ({})",
            path.display()
        )));
    }
    Ok((work, remarks))
}

/// Opens what an arrangement was made from: a lead sheet, whose melody may be chosen, or music in which every note is
/// given.
pub(crate) fn open_given(
    path: &Path,
    choice: &PartChoice,
    console: &mut Console<'_>,
) -> Ended<(Tune, Vec<String>)> {
    let read = |bytes: &[u8]| {
        if *choice != PartChoice::default() || !musicxml::is_written_out(bytes) {
            return musicxml::read_tune_with(bytes, choice);
        }
        let Imported { value: (tune, _), diagnostics } = musicxml::read_written_out(bytes)?;
        Ok(Imported { value: tune, diagnostics })
    };
    open(path, read, console)
}

/// Opens a file with a reader of its kind.
///
/// A file that contradicts its own standard is refused: in a batch nobody would see what went lost.
pub(crate) fn open<T>(
    path: &Path,
    read: impl Fn(&[u8]) -> Result<Imported<T>, ReadError>,
    console: &mut Console<'_>,
) -> Ended<(T, Vec<String>)> {
    let bytes = load(path).map_err(|error| Failure::fault(format!("the file {error}")))?;
    let imported = read(&bytes).map_err(|error| Failure::fault(format!("{error} ({})", path.display())))?;
    let remarks: Vec<String> = imported.diagnostics.iter().map(ToString::to_string).collect();
    for remark in &remarks {
        console.say(&format!("{}: {remark}", path.display()));
    }
    match imported.diagnostics.iter().find(|d| d.severity == Severity::Fault) {
        Some(fault) => Err(Failure::fault(format!(
            "{fault}; the file breaks its own standard there, so nothing was made of it ({})",
            path.display()
        ))),
        None => Ok((imported.value, remarks)),
    }
}
