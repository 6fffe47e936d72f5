//! A whole arrangement, judged by its own signs.

use std::collections::BTreeMap;

use super::left::{self, Stop};
use super::violation::{Rule, Violation};
use super::{harmonic, right, taps, ties};
use crate::arrangement::{Score, ScoreNote};
use crate::grip::StringSet;
use crate::hand::Hand;
use crate::neck::{StringIndex, Touch};
use crate::time::Ticks;

/// Every broken rule of the neck and of both hands, in order of time.
///
/// The left hand is judged over everything that sounds at each moment, notes held from before included; a note that
/// ends at a moment is gone by then. What was wrong before and goes on is not told again.
pub fn score(score: &Score, hand: &Hand) -> Vec<Violation> {
    let mut violations = Vec::new();
    for note in &score.notes {
        let rules = faults_of_note(score, note);
        violations.extend(rules.map(|rule| Violation::new(&score.tune, note.at, rule)));
    }
    violations.extend(strings_in_use(score));
    violations.extend(ties::broken(score));
    violations.extend(taps::broken(score));
    for moment in moments(score) {
        let left = left::judge(&score.instrument, hand, &moment.stops)
            .into_iter()
            .filter(|fault| fault.concerns(&moment.stops, moment.new))
            .map(Rule::from);
        let right = right::judge(hand, &moment.struck).into_iter().map(Rule::from);
        violations.extend(left.chain(right).map(|rule| Violation::new(&score.tune, moment.at, rule)));
    }
    violations.sort_by_key(|v| v.at);
    violations
}

fn faults_of_note(score: &Score, note: &ScoreNote) -> impl Iterator<Item = Rule> {
    let sounds = harmonic::sounds(&score.instrument, note.place, note.touch);
    let wrong_pitch = sounds.filter(|s| *s != note.pitch()).map(|sounds| Rule::Pitch {
        place: note.place,
        sounds,
        written: note.pitch(),
    });
    let no_length = (note.length <= Ticks::ZERO).then_some(Rule::NoLength(note.place.string));
    let touched = note.touch != Touch::Natural || note.finger.is_some();
    let not_touched = (!touched).then_some(Rule::NotTouched(note.place));
    wrong_pitch.into_iter().chain(no_length).chain(not_touched)
}

/// Strings that carry two notes at once.
fn strings_in_use(score: &Score) -> Vec<Violation> {
    let mut last: BTreeMap<StringIndex, &ScoreNote> = BTreeMap::new();
    let mut violations = Vec::new();
    let mut notes: Vec<&ScoreNote> = score.notes.iter().collect();
    notes.sort_by_key(|n| n.at);
    for note in notes {
        let string = note.place.string;
        let before = last.get(&string).copied();
        if let Some(before) = before.filter(|b| b.end() > note.at) {
            let rule = if before.at == note.at {
                Rule::StringTwice(string)
            } else {
                Rule::StillSounding { string, since: score.tune.bar_beat(before.at) }
            };
            violations.push(Violation::new(&score.tune, note.at, rule));
        }
        if before.is_none_or(|b| b.end() <= note.end()) {
            last.insert(string, note);
        }
    }
    violations
}

/// What both hands do when something is struck or tied in.
struct Moment {
    at: Ticks,
    stops: Vec<Stop>,
    /// The strings whose notes begin now.
    new: StringSet,
    struck: Vec<ScoreNote>,
}

fn moments(score: &Score) -> Vec<Moment> {
    let mut notes: Vec<ScoreNote> = score.notes.clone();
    notes.sort_by_key(|n| (n.at, n.place));
    let mut moments: Vec<Moment> = Vec::new();
    let mut live: Vec<ScoreNote> = Vec::new();
    for beginning in notes.chunk_by(|a, b| a.at == b.at) {
        let at = beginning[0].at;
        live.retain(|n| n.end() > at);
        // A natural harmonic that sounds is touched no longer.
        live.iter_mut().filter(|n| n.touch == Touch::Natural).for_each(|n| n.finger = None);
        live.extend_from_slice(beginning);
        moments.push(Moment {
            at,
            stops: live.iter().map(|n| Stop { place: n.place, touch: n.touch, finger: n.finger }).collect(),
            new: beginning.iter().map(|n| n.place.string).collect(),
            struck: beginning.iter().filter(|n| !n.tied_in).copied().collect(),
        });
    }
    moments
}

#[cfg(test)]
mod tests {
    use super::super::sample::{self, score_of};
    use super::*;
    use crate::harmony::ChordSymbol;

    fn sentences_of(hand: Hand, notes: &[&str]) -> Vec<String> {
        let score = score_of(notes, &ChordSymbol::NoChord);
        super::score(&score, &hand).iter().map(ToString::to_string).collect()
    }

    /// The sentences about a score whose notes are written `at length string fret finger pluck`, in quarters.
    fn sentences(notes: &[&str]) -> Vec<String> {
        sentences_of(Hand::default(), notes)
    }

    #[track_caller]
    fn fine(notes: &[&str]) {
        assert_eq!(sentences(notes), [""; 0]);
    }

    #[test]
    fn an_honest_score_is_fine() {
        fine(&["0 4 5 3 3 p", "0 1 2 1 1 m", "0 1 3 0 - i", "1 1 2 3 4 m", "2 2 1 0 - a"]);
    }

    #[test]
    fn a_note_sounds_what_its_place_sounds() {
        let mut score = score_of(&["0 1 2 1 1 m"], &ChordSymbol::NoChord);
        score.notes[0].place.fret = crate::neck::Fret::new(3);
        let violations = super::score(&score, &Hand::default());
        assert_eq!(violations[0].to_string(), "bar 1, beat 1: string 2, fret 3 sounds D4, but C4 is written");
        assert_eq!(violations.len(), 1);
    }

    #[test]
    fn a_note_has_a_length() {
        assert_eq!(sentences(&["1 0 2 1 1 m"]), ["bar 1, beat 2: the note on string 2 has no length"]);
    }

    #[test]
    fn a_string_sounds_one_note_at_a_time() {
        assert_eq!(
            sentences(&["0 3 2 1 1 m", "2 1 2 1 1 m"]),
            ["bar 1, beat 3: string 2 is struck while its note from bar 1, beat 1 still sounds"]
        );
        assert_eq!(
            sentences(&["0 1 2 1 1 m", "0 1 2 1 1 m"])[0],
            "bar 1, beat 1: string 2 is used for two notes at once"
        );
        fine(&["0 2 2 1 1 m", "2 1 2 1 1 m"]);
    }

    #[test]
    fn held_notes_keep_their_fingers() {
        assert_eq!(
            sentences(&["0 4 3 5 2 i", "5 1 1 7 2 m", "3 1 1 7 2 m"]),
            ["bar 1, beat 4: finger 2 is on string 3, fret 5 and on string 1, fret 7 at once"]
        );
        // A note that ends when the next begins is gone.
        fine(&["0 3 3 5 2 i", "3 1 1 7 2 m"]);
    }

    #[test]
    fn what_was_told_is_not_told_again() {
        assert_eq!(
            sentences(&["0 4 3 5 2 i", "0 4 1 7 2 m", "1 1 2 0 - a", "2 1 5 0 - p"]),
            ["bar 1, beat 1: finger 2 is on string 1, fret 7 and on string 3, fret 5 at once"]
        );
    }

    #[test]
    fn an_open_string_under_a_held_barre_is_told_when_it_is_struck() {
        assert_eq!(
            sentences(&["0 4 1 3 1 m", "0 4 3 3 1 i", "1 1 2 0 - m"]),
            ["bar 1, beat 2: the barre of finger 1 at fret 3 lies over string 2 open"]
        );
        fine(&["0 4 1 3 1 m", "0 4 3 3 1 i", "1 1 4 0 - p"]);
    }

    #[test]
    fn every_stroke_has_a_finger() {
        assert_eq!(sentences(&["0 1 2 1 1 -"]), ["bar 1, beat 1: no right-hand finger strikes string 2"]);
    }

    #[test]
    fn what_is_tied_in_rings_on_from_before() {
        let mut score = score_of(&["2 2 2 1 1 m", "4 1 2 1 1 - tied"], &ChordSymbol::NoChord);
        let told = super::score(&score, &Hand::default());
        assert_eq!(
            told.iter().map(ToString::to_string).collect::<Vec<_>>(),
            [
                "bar 2, beat 1: string 2, fret 1 is tied to the note before, but none that is played right before rings on there"
            ]
        );
        score.notes[0].tied_out = true;
        assert_eq!(super::score(&score, &Hand::default()), []);
        score.notes[0].finger = None;
        assert_eq!(super::score(&score, &Hand::default()).len(), 2);
    }

    #[test]
    fn the_little_finger_plucks_only_where_it_may() {
        let notes = ["0 1 1 0 - c"];
        assert_eq!(sentences(&notes).len(), 1);
        let five = Hand { little_plucks: true, ..Hand::default() };
        assert_eq!(sentences_of(five, &notes), [""; 0]);
    }

    #[test]
    fn fingers_strike_one_string_and_the_thumb_brushes_neighbours() {
        assert_eq!(
            sentences(&["0 1 1 0 - i", "0 1 2 0 - i"]),
            ["bar 1, beat 1: i strikes strings 1 and 2 at once"]
        );
        assert_eq!(
            sentences(&["0 1 4 0 - p", "0 1 6 0 - p"]),
            ["bar 1, beat 1: the brush of p from string 6 to string 4 misses a string between them"]
        );
        fine(&["0 1 4 0 - p", "0 1 5 0 - p", "0 1 6 0 - p", "0 1 1 0 - i"]);
    }

    #[test]
    fn letters_run_from_bass_to_treble() {
        assert_eq!(
            sentences(&["0 1 3 0 - m", "0 1 1 0 - i"]),
            ["bar 1, beat 1: m on string 3 lies below i on string 1: p i m a run from bass to treble"]
        );
        fine(&["0 1 3 0 - i", "0 1 1 0 - m"]);
    }

    #[test]
    fn four_strings_at_once_and_more_only_with_a_brush() {
        let five = |last: &'static str| ["0 1 5 0 - p", "0 1 4 0 - i", "0 1 3 0 - m", "0 1 2 0 - a", last];
        let told = sentences(&five("0 1 1 0 - -"));
        assert!(told.contains(
            &"bar 1, beat 1: 5 strings are struck at once without a brush, and this hand plucks 4".to_owned()
        ));
        fine(&["0 1 6 0 - p", "0 1 5 0 - p", "0 1 4 0 - i", "0 1 3 0 - m", "0 1 2 0 - a"]);
    }

    #[test]
    fn a_natural_harmonic_rings_without_its_finger() {
        fine(&["0 4 4 <12> 4 p", "1 1 1 1 1 m", "2 1 1 5 4 i"]);
        assert_eq!(
            sentences(&["0 1 4 <12> - p"]),
            ["bar 1, beat 1: no finger touches string 4, fret 12 for its harmonic"]
        );
        assert_eq!(
            sentences(&["0 4 4 <12> 4 p", "1 1 5 2 1 p", "1 1 3 2 1 i"]),
            ["bar 1, beat 2: finger 1 at fret 2 lies over string 4, which sounds a natural harmonic"]
        );
    }

    #[test]
    fn harmonics_sound_by_their_nodes() {
        let mut score = score_of(&["0 1 1 <7> 1 m"], &ChordSymbol::NoChord);
        assert_eq!(score.notes[0].pitch(), crate::pitch::Pitch::new(64 + 19));
        assert_eq!(super::score(&score, &Hand::default()), []);
        score.notes[0].touch = Touch::Plain;
        let told = super::score(&score, &Hand::default());
        assert_eq!(told[0].to_string(), "bar 1, beat 1: string 1, fret 7 sounds B4, but B5 is written");
        assert_eq!(
            sentences(&["0 1 1 <6> 1 m"]),
            ["bar 1, beat 1: there is no harmonic at string 1, fret 6"]
        );
    }

    #[test]
    fn the_right_hand_touches_one_string_with_i() {
        fine(&["0 1 1 3<15> 1 a", "0 1 6 0 - p"]);
        assert_eq!(
            sentences(&["0 1 1 3<15> 1 a", "0 1 3 0 - m", "0 1 6 0 - p"]),
            ["bar 1, beat 1: m strikes string 3 while i touches string 1 for its harmonic"]
        );
        assert_eq!(
            sentences(&["0 1 1 3<15> 1 a", "0 1 2 3<15> 1 p"]),
            ["bar 1, beat 1: artificial harmonics on strings 1 and 2 at once: i touches one string"]
        );
    }

    #[test]
    fn places_are_told_by_bar_and_beat() {
        let told = sentences(&["5.5 1 2 1 1 -"]);
        assert_eq!(told, ["bar 2, beat 2.5: no right-hand finger strikes string 2"]);
        assert_eq!(sample::BARS, 2);
    }
}
