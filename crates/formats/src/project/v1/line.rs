//! A bass line and hooks as version 1 writes them.

use handspan_core::tune as model;
use serde::{Deserialize, Serialize};

use super::text;
use super::tune::time;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LineNote {
    line: Line,
    at: i64,
    length: i64,
    pitch: String,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
enum Line {
    Bass,
    Hook,
}

impl From<&model::LineNote> for LineNote {
    fn from(note: &model::LineNote) -> Self {
        Self {
            line: match note.line {
                model::Line::Bass => Line::Bass,
                model::Line::Hook => Line::Hook,
            },
            at: note.at.count(),
            length: note.length.count(),
            pitch: note.written.to_string(),
        }
    }
}

impl LineNote {
    pub(super) fn read(&self) -> Result<model::LineNote, String> {
        let line = match self.line {
            Line::Bass => model::Line::Bass,
            Line::Hook => model::Line::Hook,
        };
        let unknown = || format!("“{}” is no note ({} at {} ticks)", self.pitch, line.name(), self.at);
        Ok(model::LineNote {
            at: time(self.at)?,
            length: time(self.length)?,
            written: text::spelled_pitch(&self.pitch).ok_or_else(unknown)?,
            line,
        })
    }
}
