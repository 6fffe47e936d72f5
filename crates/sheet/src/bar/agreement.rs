//! How the notes of one chord are spelled beside one another.
//!
//! Every note comes spelled by its chord symbol or key, the melody as it is written. Where a chord would have one letter
//! both with a sharp and with a flat, a note below the melody is written with another letter (common practice of the
//! notation handbooks: two unlike accidentals on one line are misread).

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::spelling::{SpelledPitch, Spelling, Step};

/// The same score with chords spelled alike.
pub(crate) fn agreed(score: &Score) -> Score {
    let mut agreed = score.clone();
    for stroke in agreed.notes.chunk_by_mut(|a, b| a.at == b.at) {
        let bar = &score.tune.bars()[score.tune.bar_index(stroke[0].at)];
        let key = i32::from(bar.key.fifths());
        for index in 0..stroke.len() {
            if let Some(written) = other_letter(stroke, index, key) {
                stroke[index].written = written;
            }
        }
    }
    agreed
}

/// Another way to write a note below the melody that quarrels with a note of its stroke; none where it needs none, or
/// where there is none.
fn other_letter(stroke: &[ScoreNote], index: usize, key: i32) -> Option<SpelledPitch> {
    let note = &stroke[index];
    let others = || stroke.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, other)| other);
    let quarrels = |spelling: Spelling| {
        others().any(|other| {
            let other = other.written.spelling;
            other.step == spelling.step && other.alter.signum() * spelling.alter.signum() < 0
        })
    };
    if note.part == Part::Melody || !quarrels(note.written.spelling) {
        return None;
    }
    let spellings = Step::ALL.into_iter().flat_map(|step| [0, -1, 1].map(|alter| Spelling::new(step, alter)));
    let fitting = spellings.filter(|s| s.class() == note.pitch().class() && !quarrels(*s));
    // The middle of a major scale lies two fifths above its keynote.
    let nearest = fitting.min_by_key(|s| (s.fifths() - key - 2).abs())?;
    Some(SpelledPitch::new(note.pitch(), nearest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bar::sample::score_of;

    /// The notes of a stroke, the melody first, spelled as given and as they agree.
    fn told(notes: &[&str], spelled: &[&str]) -> Vec<String> {
        let mut score = score_of(notes);
        score.notes[0].part = Part::Melody;
        for (note, spelling) in score.notes.iter_mut().zip(spelled) {
            let (spelling, _) = Spelling::read(spelling).unwrap();
            note.written = SpelledPitch::new(note.pitch(), spelling);
        }
        agreed(&score).notes.iter().map(|note| note.written.to_string()).collect()
    }

    #[test]
    fn a_chord_has_no_letter_both_sharp_and_flat() {
        // D♭7 with a melody that is written C♯.
        let seventh = ["0 1 2 2 1", "0 1 3 4 4", "0 1 4 3 2", "0 1 5 4 3"];
        assert_eq!(told(&seventh, &["C#", "Cb", "F", "Db"]), ["C#4", "B3", "F3", "Db3"]);
        // The melody keeps its spelling, in whichever octave the other one lies.
        assert_eq!(told(&["0 1 1 7 1", "0 1 5 4 3"], &["Cb", "C#"]), ["Cb5", "Db3"]);
    }

    #[test]
    fn what_agrees_stays() {
        assert_eq!(told(&["0 1 1 4 1", "0 1 3 0 -"], &["G#", "G"]), ["G#4", "G3"]);
        assert_eq!(told(&["0 1 1 4 1", "1 1 5 4 3"], &["Ab", "C#"]), ["Ab4", "C#3"]);
    }
}
