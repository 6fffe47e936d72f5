//! The project file: the whole work, tune and plan, as versioned RON text.
//!
//! The file mirrors the model in structs of its own, one module a version, so that the model can change while old
//! files stay readable. Its ending is `.handspan`.

mod v1;

use handspan_core::arrangement::Work;
use ron::Options;
use ron::error::SpannedError;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Deserialize;

use crate::diagnostic::Imported;
use crate::error::ReadError;
use crate::save::LARGEST;

/// The ending of a project file, without its dot.
pub const EXTENSION: &str = "handspan";

/// The newest version that is read, and the one that is written.
const VERSION: u32 = 1;

/// As much of a file of any version as says which it is.
#[derive(Deserialize)]
#[serde(rename = "Project")]
struct AnyVersion {
    version: u32,
}

/// Reads a project file.
///
/// # Errors
/// A sentence that names the place of what can't be read, what can't be in music, or that the file is newer.
pub fn read(bytes: &[u8]) -> Result<Imported<Work>, ReadError> {
    if bytes.is_empty() {
        return Err(ReadError::Empty);
    }
    if bytes.len() as u64 > LARGEST {
        return Err(ReadError::TooLarge { limit: LARGEST >> 20 });
    }
    let text = str::from_utf8(bytes).map_err(|error| ReadError::Project {
        line: 1 + String::from_utf8_lossy(&bytes[..error.valid_up_to()]).matches('\n').count(),
        column: 1,
        reason: "the text is damaged".to_owned(),
    })?;
    let AnyVersion { version } = options().from_str(text).map_err(|error| damaged(&error))?;
    match version {
        1 => {
            let project: v1::Project = options().from_str(text).map_err(|error| damaged(&error))?;
            Ok(Imported {
                value: Work::try_from(project).map_err(ReadError::ProjectValue)?,
                diagnostics: Vec::new(),
            })
        }
        0 => Err(ReadError::ProjectValue("there is no version 0".to_owned())),
        newer => Err(ReadError::Newer { found: newer, known: VERSION }),
    }
}

/// Writes a work as a project file. The same work gives the same text, and [`read`] gives the same work back.
///
/// # Panics
/// Never: texts and numbers can always be written.
pub fn write(work: &Work) -> String {
    let pretty = PrettyConfig::new().struct_names(false).depth_limit(3).new_line("\n");
    let text = options()
        .to_string_pretty(&v1::Project::from(work), pretty)
        .expect("texts and numbers can always be written");
    format!("// A Handspan project. Times are in ticks, 20160 a quarter note.\n{text}\n")
}

/// How the text is read and written: an optional value stands there without `Some`.
fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// The reader's own reasons speak of types, which say nothing to a musician.
fn damaged(error: &SpannedError) -> ReadError {
    let reason = match error.code {
        ron::Error::Eof => "it ends too early",
        _ => "what stands there is no part of a project",
    };
    ReadError::Project {
        line: error.span.start.line,
        column: error.span.start.col,
        reason: reason.to_owned(),
    }
}
