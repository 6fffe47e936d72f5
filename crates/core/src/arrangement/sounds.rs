//! Everything that sounds in written-out music, melody and all, with what is printed beside it.

use crate::demand::{Harmonic, Part, WrittenNote};
use crate::hand::RightFinger;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::{GivenNote, MelodyNote, Tune, WrittenOut};

/// A note of written-out music.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Sound {
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    pub(super) written: SpelledPitch,
    pub(super) part: Part,
    pub(super) tied_in: bool,
    pub(super) tied_out: bool,
    /// What the search is asked to play.
    pub(super) note: WrittenNote,
    /// The printed right-hand letter.
    pub(super) pluck: Option<RightFinger>,
}

impl Sound {
    pub(super) fn end(&self) -> Ticks {
        self.at + self.length
    }

    /// The same without the string and the digit that are printed.
    pub(super) fn without_marks(&self) -> Self {
        let harmonic = self.note.harmonic.map(Harmonic::anywhere);
        Self { note: WrittenNote { harmonic, ..WrittenNote::plain(self.note.pitch) }, ..*self }
    }

    /// The same as an ordinary note.
    pub(super) fn as_ordinary(&self) -> Self {
        Self { note: WrittenNote { harmonic: None, ..self.note }, ..*self }
    }

    fn melody(note: &MelodyNote) -> Self {
        Self {
            at: note.at,
            length: note.length,
            written: note.written,
            part: Part::Melody,
            tied_in: note.tied_in,
            tied_out: note.tied_out,
            note: WrittenNote::plain(note.pitch()),
            pluck: None,
        }
    }

    fn below(note: &GivenNote) -> Self {
        Self {
            at: note.at,
            length: note.length,
            written: note.written,
            part: if note.is_bass { Part::Bass } else { Part::Inner },
            tied_in: note.tied_in,
            tied_out: note.tied_out,
            note: WrittenNote::plain(note.pitch()),
            pluck: None,
        }
    }
}

/// Every note once, by time and then in part rank.
///
/// A pitch that two voices begin together is one stroke. A pitch that is struck again ends what sounded of it: it is
/// played on the string where it sounds.
pub(super) fn sounds(tune: &Tune, written_out: &WrittenOut) -> Vec<Sound> {
    let melody = tune.melody().iter().map(Sound::melody);
    let mut all: Vec<Sound> = melody.chain(written_out.notes.iter().map(Sound::below)).collect();
    all.sort_by_key(|sound| (sound.at, sound.note.pitch, sound.part));
    all.dedup_by(|other, first| {
        let doubled = other.at == first.at && other.note.pitch == first.note.pitch;
        if doubled && first.part != Part::Melody {
            first.length = first.length.max(other.length);
        }
        doubled
    });
    end_where_struck_again(&mut all);
    for mark in &written_out.marks {
        let marked = all.iter_mut().find(|s| s.at == mark.at && s.note.pitch == mark.pitch);
        if let Some(sound) = marked {
            sound.note.string = sound.note.string.or(mark.string);
            sound.note.mark = sound.note.mark.or(mark.left);
            sound.pluck = sound.pluck.or(mark.right);
            sound.note.harmonic = sound.note.harmonic.or(mark.harmonic);
        }
    }
    all.sort_by_key(|sound| (sound.at, sound.part, sound.note.pitch));
    all
}

fn end_where_struck_again(sounds: &mut [Sound]) {
    for index in 0..sounds.len() {
        let Sound { at, note, .. } = sounds[index];
        for before in sounds[..index].iter_mut().filter(|s| s.note.pitch == note.pitch && s.end() > at) {
            before.length = at - before.at;
        }
    }
}
