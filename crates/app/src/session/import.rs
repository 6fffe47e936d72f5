//! What was said about the file that the tune came from.

use handspan_core::time::Ticks;
use handspan_core::tune::Tune;
use handspan_formats::{Diagnostic, Severity, Whereabouts};

use super::Session;
use super::notice::{Level, Notice, count};
use crate::file::{Opened, is_project};

/// The file and what was said about it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Import {
    file: String,
    is_sheet: bool,
    remarks: Vec<Remark>,
}

/// Something that could not be kept as it is in the file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Remark {
    /// What was said.
    pub diagnostic: Diagnostic,
    /// Seen to, or put up with.
    pub is_settled: bool,
}

impl Import {
    pub(super) fn of(opened: &Opened) -> Self {
        let name = opened.path.file_name().unwrap_or(opened.path.as_os_str());
        let remark = |diagnostic: &Diagnostic| Remark { diagnostic: diagnostic.clone(), is_settled: false };
        Self {
            file: name.to_string_lossy().into_owned(),
            is_sheet: !is_project(&opened.path),
            remarks: opened.diagnostics.iter().map(remark).collect(),
        }
    }

    /// The file's name.
    pub fn file(&self) -> &str {
        &self.file
    }

    /// Whether it is a lead sheet, and no project with decisions of its own.
    pub const fn is_sheet(&self) -> bool {
        self.is_sheet
    }

    /// What could not be kept, in the order in which it was met.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// Whether music is missing, or the file contradicts itself.
    pub(super) fn is_worth_a_look(&self) -> bool {
        self.remarks.iter().any(|remark| remark.diagnostic.severity > Severity::Note)
    }

    pub(super) fn notice(&self) -> Option<Notice> {
        (!self.remarks.is_empty()).then(|| Notice {
            level: Level::Mind,
            text: format!("{} could not be kept as written", count(self.remarks.len(), "thing", "things")),
            details: self.remarks.iter().map(|remark| remark.diagnostic.to_string()).collect(),
        })
    }
}

impl Remark {
    /// Where in the tune it is; none for the file as a whole.
    pub fn at(&self, tune: &Tune) -> Option<Ticks> {
        let bar = |number: &str| tune.bars().iter().find(|bar| bar.number == number);
        match &self.diagnostic.place {
            Whereabouts::File => None,
            Whereabouts::Bar(number) => bar(number).map(|bar| bar.start),
            Whereabouts::Beat(place) => {
                let bar = bar(&place.bar)?;
                // A pickup is counted from where its full bar would have begun.
                let missing = tune.bar_beat(bar.start).since_bar;
                Some((bar.start + place.since_bar - missing).clamp(bar.start, bar.end()))
            }
        }
    }
}

impl Session {
    /// What was said about the file that the tune came from.
    pub const fn import(&self) -> Option<&Import> {
        self.import.as_ref()
    }

    pub(super) fn settle_remark(&mut self, index: usize) {
        let remark = self.import.as_mut().and_then(|import| import.remarks.get_mut(index));
        if let Some(remark) = remark {
            remark.is_settled = !remark.is_settled;
        }
    }
}
