//! What a written bass line and hooks demand, moment by moment.

use crate::pitch::Pitch;
use crate::plan::Lock;
use crate::time::Ticks;
use crate::tune::{Line, LineNote, Tune};

/// What one line does at a moment.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum LineDemand {
    /// Nothing sounds, and nothing did at the moment before.
    #[default]
    Rest,
    /// Nothing sounds any more: a note has ended since the moment before.
    Ends,
    /// A note begins: this very pitch, anywhere below the melody.
    Begins {
        /// What sounds.
        pitch: Pitch,
        /// When it ends.
        until: Ticks,
    },
    /// A note that began earlier sounds on, on its string under its finger.
    SoundsOn {
        /// What sounds.
        pitch: Pitch,
        /// When it ends.
        until: Ticks,
    },
}

impl LineDemand {
    /// The note that begins.
    pub const fn begins(self) -> Option<Pitch> {
        match self {
            Self::Begins { pitch, .. } => Some(pitch),
            _ => None,
        }
    }

    /// The note that sounds on.
    pub const fn sounds_on(self) -> Option<Pitch> {
        match self {
            Self::SoundsOn { pitch, .. } => Some(pitch),
            _ => None,
        }
    }

    /// When the note ends that begins or sounds on.
    pub const fn until(self) -> Option<Ticks> {
        match self {
            Self::Begins { until, .. } | Self::SoundsOn { until, .. } => Some(until),
            Self::Rest | Self::Ends => None,
        }
    }
}

/// What the lines do at a moment.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct LineDemands {
    /// The bass line.
    pub bass: LineDemand,
    /// The hook.
    pub hook: LineDemand,
}

impl LineDemands {
    /// Nothing sounds, and nothing did.
    pub const SILENT: Self = Self { bass: LineDemand::Rest, hook: LineDemand::Rest };

    /// Whether nothing sounds, and nothing did at the moment before.
    pub fn are_silent(&self) -> bool {
        *self == Self::SILENT
    }

    /// What one of the lines does.
    pub const fn of(&self, line: Line) -> LineDemand {
        match line {
            Line::Bass => self.bass,
            Line::Hook => self.hook,
        }
    }

    /// The same notes, all ending at one time: the search does not look at when.
    #[must_use]
    pub const fn ending_at(self, until: Ticks) -> Self {
        const fn ending(line: LineDemand, until: Ticks) -> LineDemand {
            match line {
                LineDemand::Begins { pitch, .. } => LineDemand::Begins { pitch, until },
                LineDemand::SoundsOn { pitch, .. } => LineDemand::SoundsOn { pitch, until },
                silent => silent,
            }
        }
        Self { bass: ending(self.bass, until), hook: ending(self.hook, until) }
    }

    /// The same under a lock: a locked bass ends a bass line that has another note there.
    #[must_use]
    pub(super) fn under(self, lock: Lock) -> Self {
        let note = self.bass.begins().or(self.bass.sounds_on());
        match (lock.bass, note) {
            (Some(locked), Some(note)) if !locked.admits(note) => Self { bass: LineDemand::Ends, ..self },
            _ => self,
        }
    }

    /// What begins.
    pub fn begin(self) -> impl Iterator<Item = Pitch> {
        [self.bass, self.hook].into_iter().filter_map(LineDemand::begins)
    }
}

/// What the lines of a tune do at a time; `before` says what they did at the moment before.
pub(super) fn lines(tune: &Tune, at: Ticks, before: &LineDemands) -> LineDemands {
    let demand = |line| match tune.line_at(line, at).map(|note| (note, end(tune, note))) {
        Some((note, until)) if note.at == at => LineDemand::Begins { pitch: note.pitch(), until },
        Some((note, until)) if until > at => LineDemand::SoundsOn { pitch: note.pitch(), until },
        _ if before.of(line).until().is_some() => LineDemand::Ends,
        _ => LineDemand::Rest,
    };
    LineDemands { bass: demand(Line::Bass), hook: demand(Line::Hook) }
}

/// When a note ends at the latest: at a bar line where playing may go on or come from elsewhere.
fn end(tune: &Tune, note: &LineNote) -> Ticks {
    tune.seam_after(note.at).map_or(note.end(), |seam| seam.min(note.end()))
}
