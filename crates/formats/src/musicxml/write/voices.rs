//! Shares the notes of a score out among voices, so that no two notes of a voice overlap.
//!
//! Voice 1 is the melody and voice 2 the bass, each as far as it is of one voice; what sounds with the bass for the
//! same time shares its stem. Everything else takes the first voice from 3 on that is free. A note keeps its voice
//! over bar lines, so that its ties find one another.

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_core::demand::Part;
use handspan_core::time::Ticks;

/// Notes on one stem.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Chord {
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    pub(super) tied_in: bool,
    pub(super) tied_out: bool,
    /// Indices of the score's notes, lowest pitch first.
    pub(super) notes: Vec<usize>,
}

impl Chord {
    pub(super) fn end(&self) -> Ticks {
        self.at + self.length
    }
}

/// The chords of every voice in order of time; the first voice is the melody, the second the bass.
pub(super) fn assign(score: &Score) -> Vec<Vec<Chord>> {
    let mut voices: Vec<Vec<Chord>> = vec![Vec::new(), Vec::new()];
    for (own, chord) in chords(score) {
        let free = |voice: &Vec<Chord>| voice.last().is_none_or(|last| last.end() <= chord.at);
        let own = own.filter(|own| free(&voices[*own]));
        let other = || (2..voices.len()).find(|index| free(&voices[*index]));
        match own.or_else(other) {
            Some(index) => voices[index].push(chord),
            None => voices.push(vec![chord]),
        }
    }
    voices
}

/// Chords in order of time with the voice that is theirs by right.
fn chords(score: &Score) -> Vec<(Option<usize>, Chord)> {
    // Only notes that begin, end and are tied alike can share a stem.
    let mut alike: BTreeMap<(Ticks, Ticks, bool, bool), Vec<usize>> = BTreeMap::new();
    for (index, note) in score.notes.iter().enumerate() {
        let key = (note.at, note.length, note.tied_in, note.tied_out);
        alike.entry(key).or_default().push(index);
    }
    let mut chords = Vec::new();
    for ((at, length, tied_in, tied_out), mut notes) in alike {
        notes.sort_by_key(|index| score.notes[*index].pitch());
        let mut push = |own, notes: Vec<usize>| {
            if !notes.is_empty() {
                chords.push((own, Chord { at, length, tied_in, tied_out, notes }));
            }
        };
        let part_of = |index: &usize| score.notes[*index].part;
        let melody = notes.iter().rposition(|i| part_of(i) == Part::Melody);
        push(Some(0), melody.map(|m| notes.remove(m)).into_iter().collect());
        let bass = notes.iter().copied().find(|i| part_of(i) == Part::Bass);
        // Read back, the lowest note of the bass's stem is the bass.
        let (with_bass, others) = notes.into_iter().partition(|index| {
            bass.is_some_and(|b| *index == b || score.notes[*index].pitch() > score.notes[b].pitch())
        });
        push(Some(1), with_bass);
        push(None, others);
    }
    chords
}
