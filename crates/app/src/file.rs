//! Files by their kind: what is opened, saved and exported, with sentences where it cannot be done.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{Score, Work};
use handspan_core::plan::Plan;
use handspan_formats::musicxml::{PartChoice, ScorePart};
use handspan_formats::{Diagnostic, Imported, ReadError, load, musicxml, project};
use handspan_sheet::frame::Frame;
use handspan_sheet::write::{pdf::pdf, png, svg::svg};
use handspan_sheet::{Sheet, SheetOptions, engrave};

/// The ending of a project file.
pub const PROJECT: &str = "handspan";

/// A kind of file that the sheet can be written as.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Kind {
    Pdf,
    Svg,
    Png,
    MusicXml,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 4] = [Self::Pdf, Self::Svg, Self::Png, Self::MusicXml];

    /// The ending of its files.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Png => "png",
            Self::MusicXml => "musicxml",
        }
    }

    /// The kind that a path's ending names.
    fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_string_lossy().to_lowercase();
        let ending = if ending == "xml" { "musicxml" } else { &ending };
        Self::ALL.into_iter().find(|kind| kind.ending() == ending)
    }
}

/// A work read from a file.
#[derive(Debug)]
pub struct Opened {
    /// The work.
    pub work: Work,
    /// Where it was read.
    pub path: PathBuf,
    /// What could not be kept.
    pub diagnostics: Vec<Diagnostic>,
    /// The parts of a lead sheet; none of anything else.
    pub parts: Vec<ScorePart>,
    /// Which of them were chosen.
    pub choice: PartChoice,
}

/// Whether a path names a project.
pub fn is_project(path: &Path) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case(PROJECT))
}

/// The path with the ending of a project.
pub fn with_project_ending(path: PathBuf) -> PathBuf {
    if is_project(&path) { path } else { path.with_added_extension(PROJECT) }
}

/// Reads a project, a lead sheet of chosen parts, or guitar music in which every note is given; what is no project is
/// begun with `plan`.
///
/// # Errors
/// A sentence that names the file and what is wrong with it.
pub fn open(path: &Path, choice: PartChoice, plan: Plan) -> Result<Opened, String> {
    let bytes = load(path).map_err(|e| e.to_string())?;
    let read = if is_project(path) {
        project::read(&bytes).map(|imported| (imported, Vec::new()))
    } else if choice == PartChoice::default() && musicxml::is_written_out(&bytes) {
        written_out(&bytes, plan).map(|imported| (imported, Vec::new()))
    } else {
        lead_sheet(&bytes, &choice, plan)
    };
    let (Imported { value: work, diagnostics }, parts) =
        read.map_err(|e| format!("{} can't be opened: {e}", path.display()))?;
    Ok(Opened { work, path: path.to_path_buf(), diagnostics, parts, choice })
}

fn written_out(bytes: &[u8], plan: Plan) -> Result<Imported<Work>, ReadError> {
    let Imported { value: (tune, instrument), diagnostics } = musicxml::read_written_out(bytes)?;
    let plan = Plan { instrument, ..plan };
    Ok(Imported { value: Work { tune: Arc::new(tune), plan }, diagnostics })
}

fn lead_sheet(
    bytes: &[u8],
    choice: &PartChoice,
    plan: Plan,
) -> Result<(Imported<Work>, Vec<ScorePart>), ReadError> {
    let Imported { value: tune, diagnostics } = musicxml::read_tune_with(bytes, choice)?;
    let work = Work { tune: Arc::new(tune), plan };
    Ok((Imported { value: work, diagnostics }, musicxml::parts(bytes)?))
}

/// Saves a project so that no half-written file can be left.
///
/// # Errors
/// A sentence that names the file and why nothing was written.
pub fn save_project(path: &Path, work: &Work) -> Result<(), String> {
    write(path, project::write(work).as_bytes())
}

/// Writes the score in the kind that the ending names.
///
/// # Errors
/// A sentence that names the file and why nothing was written.
pub fn export(path: &Path, score: &Score, options: &SheetOptions) -> Result<(), String> {
    let sheet = || engrave(score, options);
    match Kind::of(path) {
        Some(Kind::Pdf) => write(path, &pdf(&sheet()).map_err(|e| e.to_string())?),
        Some(Kind::Svg) => export_pages(path, &sheet(), |page| Ok(svg(page).into_bytes())),
        Some(Kind::Png) => {
            let picture = |page: &Frame| png::png(page, png::DOTS_AN_INCH).map_err(|e| e.to_string());
            export_pages(path, &sheet(), picture)
        }
        Some(Kind::MusicXml) => write(path, musicxml::write_score(score).as_bytes()),
        None => Err(format!(
            "Nothing was written: the ending says what is wanted, .pdf, .svg, .png or .musicxml, and {} has none of them",
            path.display()
        )),
    }
}

/// One file a page; from the second page on the number stands before the ending.
fn export_pages(
    path: &Path,
    sheet: &Sheet,
    drawn: impl Fn(&Frame) -> Result<Vec<u8>, String>,
) -> Result<(), String> {
    for (index, page) in sheet.pages.iter().enumerate() {
        let path = match index {
            0 => path.to_path_buf(),
            _ => numbered(path, index + 1),
        };
        write(&path, &drawn(page)?)?;
    }
    Ok(())
}

/// The number before the ending: `quay.svg` becomes `quay.2.svg`.
fn numbered(path: &Path, number: usize) -> PathBuf {
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    path.with_extension(format!("{number}.{ending}"))
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    handspan_formats::save(path, bytes)
        .map_err(|e| format!("Nothing was written, and what was there is unharmed: {e}, {}", path.display()))
}
