//! The file that the tune came from: what was said about it, and which of its parts are read as what.

use std::path::{Path, PathBuf};

use handspan_core::time::Ticks;
use handspan_core::tune::Tune;
use handspan_formats::musicxml::{PartChoice, ScorePart};
use handspan_formats::{Diagnostic, Severity, Whereabouts};

use super::Session;
use super::notice::{Level, Notice, count};
use crate::file::{Opened, is_project};

/// The file and what was said about it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Import {
    path: PathBuf,
    remarks: Vec<Remark>,
    parts: Vec<ScorePart>,
    choice: PartChoice,
}

/// What a part of a score is read as.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Role {
    Melody,
    BassLine,
    Hook,
    NotRead,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 4] = [Self::Melody, Self::BassLine, Self::Hook, Self::NotRead];

    /// The role in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Melody => "melody",
            Self::BassLine => "bass line",
            Self::Hook => "hook",
            Self::NotRead => "not read",
        }
    }
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
        let remark = |diagnostic: &Diagnostic| Remark { diagnostic: diagnostic.clone(), is_settled: false };
        let remarks = opened.diagnostics.iter().map(remark).collect();
        let (parts, choice) = (opened.parts.clone(), opened.choice.clone());
        let mut import = Self { path: opened.path.clone(), remarks, parts, choice };
        // The reader takes the first that is sung of those that are free where nobody has chosen.
        let is_free = |index: &usize| import.parts[*index].has_notes && import.role(*index) == Role::NotRead;
        let first =
            (0..import.parts.len()).filter(is_free).min_by_key(|index| import.parts[*index].sung).map(named);
        import.choice.melody = import.choice.melody.or(first);
        import
    }

    /// Where it lies.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// The file's name.
    pub fn file(&self) -> String {
        self.path.file_name().unwrap_or(self.path.as_os_str()).to_string_lossy().into_owned()
    }

    /// Whether it is a lead sheet, and no project with decisions of its own.
    pub fn is_sheet(&self) -> bool {
        !is_project(&self.path)
    }

    /// The parts of the score, each with what it is read as.
    pub fn parts(&self) -> impl ExactSizeIterator<Item = (&ScorePart, Role)> {
        self.parts.iter().enumerate().map(|(index, part)| (part, self.role(index)))
    }

    fn role(&self, index: usize) -> Role {
        let PartChoice { melody, bass, hook } = &self.choice;
        let roles = [(melody, Role::Melody), (bass, Role::BassLine), (hook, Role::Hook)];
        let its = roles.into_iter().find(|(chosen, _)| chosen.as_deref() == Some(&*named(index)));
        its.map_or(Role::NotRead, |(_, role)| role)
    }

    /// The choice in which a part has another role; whichever part had that role is read no longer.
    pub fn choosing(&self, index: usize, role: Role) -> PartChoice {
        let mut choice = self.choice.clone();
        let part = named(index);
        for chosen in [&mut choice.melody, &mut choice.bass, &mut choice.hook] {
            if chosen.as_deref() == Some(&*part) {
                *chosen = None;
            }
        }
        match role {
            Role::Melody => choice.melody = Some(part),
            Role::BassLine => choice.bass = Some(part),
            Role::Hook => choice.hook = Some(part),
            Role::NotRead => {}
        }
        choice
    }

    /// What could not be kept, in the order in which it was met.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// Whether music is missing, the file contradicts itself, or there are parts to choose from.
    pub(super) fn is_worth_a_look(&self) -> bool {
        let is_loss = |remark: &Remark| remark.diagnostic.severity > Severity::Note;
        self.parts.len() > 1 || self.remarks.iter().any(is_loss)
    }

    pub(super) fn notice(&self) -> Option<Notice> {
        (!self.remarks.is_empty()).then(|| Notice {
            level: Level::Mind,
            text: format!("{} could not be kept as written", count(self.remarks.len(), "thing", "things")),
            details: self.remarks.iter().map(|remark| remark.diagnostic.to_string()).collect(),
        })
    }
}

/// How the reader is told of a part.
fn named(index: usize) -> String {
    (index + 1).to_string()
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
