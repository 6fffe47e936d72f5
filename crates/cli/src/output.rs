//! What `handspan arrange` writes: each file's kind follows from its extension.

use std::fs;
use std::path::{Path, PathBuf};

use handspan_core::arrangement::{Arrangement, Work};
use handspan_formats::{musicxml, project, save};
use handspan_sheet::Sheet;
use handspan_sheet::frame::Frame;
use handspan_sheet::write::{pdf, png, svg};

use crate::failure::{Ended, Failure};

/// A kind of file that can be written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Kind {
    MusicXml,
    Pdf,
    Svg,
    Png,
    Project,
}

/// A file to be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Output {
    path: PathBuf,
    kind: Kind,
}

impl Output {
    /// A file of the kind that its extension names.
    pub(crate) fn new(path: &Path) -> Result<Self, String> {
        let extension = path.extension().unwrap_or_default().to_string_lossy().to_lowercase();
        let kind = match extension.as_str() {
            "musicxml" | "xml" => Kind::MusicXml,
            "pdf" => Kind::Pdf,
            "svg" => Kind::Svg,
            "png" => Kind::Png,
            "handspan" => Kind::Project,
            _ => {
                return Err(
                    "a file ends in .musicxml, .pdf, .svg, .png or .handspan, which says what it becomes"
                        .to_owned(),
                );
            }
        };
        Ok(Self { path: path.to_owned(), kind })
    }

    /// Whether pages are written.
    pub(crate) const fn is_paper(&self) -> bool {
        matches!(self.kind, Kind::Pdf | Kind::Svg | Kind::Png)
    }

    /// Refuses to write over the file that is read.
    pub(crate) fn spare(&self, source: &Path) -> Ended {
        let same =
            |a: &Path, b: &Path| fs::canonicalize(a).is_ok_and(|a| fs::canonicalize(b).is_ok_and(|b| a == b));
        if same(&self.path, source) {
            return Err(Failure::fault(format!(
                "writing there would destroy the tune that is read; choose another name than {}",
                self.path.display()
            )));
        }
        Ok(())
    }

    /// Writes the file, or one a page, and names what was written.
    pub(crate) fn write(&self, work: &Work, arrangement: &Arrangement, sheet: &Sheet) -> Ended<Vec<String>> {
        match self.kind {
            Kind::MusicXml => write_file(&self.path, musicxml::write_score(&arrangement.score)),
            Kind::Project => write_file(&self.path, project::write(work)),
            Kind::Pdf => {
                let bytes = pdf::pdf(sheet).map_err(Failure::fault)?;
                write_file(&self.path, bytes)
            }
            Kind::Svg => self.write_pages(sheet, |page| Ok(svg::svg(page).into_bytes())),
            Kind::Png => {
                self.write_pages(sheet, |page| png::png(page, png::DOTS_AN_INCH).map_err(Failure::fault))
            }
        }
    }

    /// One file a page: `piece.svg` for a single page, `piece-1.svg`, `piece-2.svg` … for several.
    fn write_pages(&self, sheet: &Sheet, drawn: impl Fn(&Frame) -> Ended<Vec<u8>>) -> Ended<Vec<String>> {
        let mut written = Vec::new();
        for (index, page) in sheet.pages.iter().enumerate() {
            let path =
                if sheet.pages.len() == 1 { self.path.clone() } else { numbered(&self.path, index + 1) };
            written.extend(write_file(&path, drawn(page)?)?);
        }
        Ok(written)
    }
}

fn write_file(path: &Path, bytes: impl AsRef<[u8]>) -> Ended<Vec<String>> {
    save(path, bytes).map_err(|error| {
        Failure::fault(format!("the file can't be written: {error} ({})", path.display()))
    })?;
    Ok(vec![path.display().to_string()])
}

/// `piece.svg` with the number of its page: `piece-2.svg`.
fn numbered(path: &Path, page: usize) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let extension = path.extension().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-{page}.{extension}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_follow_from_extensions() {
        let kind = |path: &str| Output::new(Path::new(path)).map(|output| output.kind);
        assert_eq!(kind("a/piece.MusicXML"), Ok(Kind::MusicXml));
        assert_eq!(kind("piece.handspan"), Ok(Kind::Project));
        assert!(kind("piece").is_err());
        assert!(kind("piece.doc").is_err());
    }

    #[test]
    fn pages_are_numbered_before_the_extension() {
        assert_eq!(numbered(Path::new("a/my piece.svg"), 2), Path::new("a/my piece-2.svg"));
    }
}
