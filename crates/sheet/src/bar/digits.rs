//! Which left-hand digits are printed: none where a stroke repeats what the hand holds already (common practice of guitar
//! editions, no source).

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::hand::Finger;

/// The digit printed for a note: its finger, unless every finger of its stroke has just played the same note in the same
/// place. A bar line brings all digits back.
pub(crate) fn printed(score: &Score, note: usize) -> Option<Finger> {
    let finger = score.notes[note].finger?;
    let at = score.notes[note].at;
    let stroke = score.notes.partition_point(|n| n.at < at)..score.notes.partition_point(|n| n.at <= at);
    let bar = score.tune.bar_index(at);
    let begin = score.tune.bars()[bar].start;
    let before = &score.notes[score.notes.partition_point(|n| n.at < begin)..stroke.start];
    let is_new = |note: &ScoreNote| note.finger.is_some() && !goes_on(before, note);
    score.notes[stroke].iter().any(is_new).then_some(finger)
}

/// Whether the last note before on the string of another is the same one under the same finger, up to that time.
fn goes_on(before: &[ScoreNote], note: &ScoreNote) -> bool {
    let last = before.iter().rfind(|other| other.place.string == note.place.string);
    last.is_some_and(|last| (last.place, last.finger) == (note.place, note.finger) && last.end() >= note.at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bar::sample::score_of;

    fn digits(notes: &[&str]) -> String {
        let score = score_of(notes);
        let digit = |note| printed(&score, note).map_or("-".to_owned(), |finger| finger.to_string());
        (0..score.notes.len()).map(digit).collect()
    }

    #[test]
    fn a_note_repeated_in_its_place_needs_no_digit_again() {
        assert_eq!(digits(&["0 1 1 5 4", "1 1 1 5 4", "2 1 1 5 4"]), "4--");
        // After silence, under another finger, in another place.
        assert_eq!(digits(&["0 1 1 5 4", "2 1 1 5 4", "3 1 1 5 3", "4 1 1 7 3"]), "4433");
        // An open string between leaves the others where they are; another note on the string does not.
        assert_eq!(digits(&["0 2 1 5 4", "1 1 2 0 -", "2 1 1 5 4"]), "4--");
        assert_eq!(digits(&["0 1 1 5 4", "1 1 1 3 2", "2 1 1 5 4"]), "424");
    }

    #[test]
    fn a_stroke_in_which_one_finger_is_new_has_all_its_digits() {
        assert_eq!(digits(&["0 1 1 5 4", "0 1 5 3 1", "1 1 1 5 4", "1 1 5 5 2"]), "4142");
        assert_eq!(digits(&["0 1 1 5 4", "0 1 5 3 1", "1 1 1 5 4", "1 1 5 3 1"]), "41--");
    }
}
