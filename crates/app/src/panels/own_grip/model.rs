//! What is said of the grip that is being built.

use handspan_core::check::GripFault;
use handspan_core::grip::{Grip, Voicing};
use handspan_core::harmony::{Chord, Key, NamedChord, ToneSet, names as names_of};
use handspan_core::neck::Place;

use crate::names;
use crate::panels::chord_box::Boxed;
use crate::session::{Judgement, NotTaken, OwnGrip, Session, count};

/// How many other names are said besides the first.
const OTHER_NAMES: usize = 3;

/// Everything that is said of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OwnGripModel {
    /// What chord it is; none where no name fits.
    pub chord: Option<String>,
    /// What else it is and what is missing from it: `without the 5; also C6/A`.
    pub also: String,
    /// Its notes from the lowest up, each with its degree in the chord.
    pub notes: Vec<String>,
    /// Whether it can be held, in a sentence.
    pub sentence: String,
    /// Whether it can be held.
    pub can_be_held: bool,
    /// Why not, a sentence each.
    pub reasons: Vec<String>,
    /// The ways to hold it, the easiest first.
    pub ways: Vec<Way>,
    /// What comes nearest where nobody can hold it.
    pub nearest: Option<Way>,
    /// Why it cannot be locked here; none where it can be.
    pub not_taken: Option<String>,
    /// The string that keys change: `string 2, fret 5`.
    pub at: String,
    /// How a chord box is drawn.
    pub boxed: Boxed,
}

/// A way to hold a grip.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Way {
    /// The grip.
    pub grip: Grip,
    /// What it costs to hold.
    pub effort: i32,
    /// Whether the neck shows it.
    pub chosen: bool,
    /// In words.
    pub words: String,
}

impl OwnGripModel {
    /// What is said as the session stands; none while nothing is being built.
    pub fn of(session: &Session) -> Option<Self> {
        let own = session.own()?;
        let score = &session.arrangement()?.score;
        let key = names::key_at(score, session.playhead());
        let instrument = &session.work().plan.instrument;
        let named = named(own, instrument, key);
        let chord = named.first().map(|name| &name.chord).or_else(|| session.chord_here());
        let note = |place: Place| {
            let pitch = instrument.sounding(place)?;
            let degree = chord.map_or_else(String::new, |c| format!(" {}", c.degree_name(pitch.class())));
            Some(format!("{}{degree}", names::sounding(score, place, session.playhead())))
        };
        let (ways, nearest, reasons) = judged(own, instrument.string_count());
        Some(Self {
            chord: named.first().map(|name| format!("{:#}", name.chord)),
            also: also(&named),
            notes: own.voicing.places().rev().filter_map(note).collect(),
            sentence: sentence(own),
            can_be_held: matches!(own.judgement, Judgement::Held(_)),
            reasons,
            ways,
            nearest,
            not_taken: session.why_own_is_not_taken().map(|why| not_taken(why, key)),
            at: own.voicing.fret(own.string).map_or_else(
                || format!("string {}, silent", own.string),
                |fret| Place { string: own.string, fret }.to_string(),
            ),
            boxed: session.boxed(),
        })
    }
}

fn named(own: &OwnGrip, instrument: &handspan_core::neck::Instrument, key: Key) -> Vec<NamedChord> {
    let tones: ToneSet = own.voicing.pitches(instrument).map(handspan_core::pitch::Pitch::class).collect();
    let lowest = own.voicing.pitches(instrument).min();
    lowest.map_or_else(Vec::new, |lowest| names_of(tones, lowest.class(), key))
}

fn also(named: &[NamedChord]) -> String {
    let Some(first) = named.first() else {
        return "No chord symbol names these notes".to_owned();
    };
    let degree = |chord: &Chord, class| format!("the {}", chord.degree_name(class));
    let without: Vec<String> = first.omitted.iter().map(|class| degree(&first.chord, *class)).collect();
    let others: Vec<String> =
        named.iter().skip(1).take(OTHER_NAMES).map(|name| format!("{:#}", name.chord)).collect();
    let parts = [
        (!without.is_empty()).then(|| format!("without {}", without.join(" and "))),
        (!others.is_empty()).then(|| format!("also {}", others.join(", "))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn sentence(own: &OwnGrip) -> String {
    match &own.judgement {
        Judgement::Nothing => "Click strings and frets on the neck to begin".to_owned(),
        Judgement::Held(ways) => {
            format!("A hand can hold it in {}", count(ways.len(), "way", "ways"))
        }
        Judgement::Impossible { .. } => "No hand can hold it".to_owned(),
    }
}

fn judged(own: &OwnGrip, strings: usize) -> (Vec<Way>, Option<Way>, Vec<String>) {
    match &own.judgement {
        Judgement::Nothing => (Vec::new(), None, Vec::new()),
        Judgement::Held(found) => {
            let way = |(index, (grip, effort)): (usize, &(Grip, handspan_core::grip::GripEffort))| Way {
                grip: *grip,
                effort: effort.total().points(),
                chosen: index == own.way,
                words: format!("Fingers {}, effort {}", fingers(grip, strings), effort.total()),
            };
            (found.iter().enumerate().map(way).collect(), None, Vec::new())
        }
        Judgement::Impossible { faults, nearest } => {
            let nearest = nearest.map(|near| Way {
                grip: near.grip,
                effort: near.effort.total().points(),
                chosen: false,
                words: format!(
                    "{}, {} changed",
                    written(&near.grip.voicing(), strings),
                    count(near.changed, "string", "strings")
                ),
            });
            (Vec::new(), nearest, faults.iter().map(reason).collect())
        }
    }
}

/// The rule in the judge's words; where a finger would have to be in two places, what that means.
fn reason(fault: &GripFault) -> String {
    match fault {
        GripFault::TwoPlaces { .. } => format!("It needs more fingers than a hand has: {fault}"),
        other => names::capital(&other.to_string()),
    }
}

/// The digits from the lowest string to the highest: `3 2 0 0 0 4`.
fn fingers(grip: &Grip, strings: usize) -> String {
    let digit = |string| match grip.hold(string) {
        None => 'x',
        Some(hold) => hold.finger().map_or('0', handspan_core::hand::Finger::letter),
    };
    let digits = handspan_core::neck::StringIndex::all(strings).rev().map(digit);
    digits.map(String::from).collect::<Vec<_>>().join(" ")
}

fn written(voicing: &Voicing, strings: usize) -> String {
    let fret = |string| voicing.fret(string).map_or_else(|| "x".to_owned(), |fret| fret.to_string());
    handspan_core::neck::StringIndex::all(strings).rev().map(fret).collect::<Vec<_>>().join("-")
}

fn not_taken(why: NotTaken, key: Key) -> String {
    match why {
        NotTaken::Nothing => "It can be locked here once a string sounds".to_owned(),
        NotTaken::Impossible => "It can be locked here once a hand can hold it".to_owned(),
        NotTaken::NotTheMelody { melody, top } => format!(
            "It can't be locked here: the melody note is {}, but its highest note is {}",
            names::pitch(melody, key),
            names::pitch(top, key)
        ),
        NotTaken::MelodyTwice(melody) => format!(
            "It can't be locked here: the melody note {} stands in it twice",
            names::pitch(melody, key)
        ),
        NotTaken::RingsOn(place) => {
            format!("It can't be locked here: the melody note on {place} rings on and keeps its finger")
        }
        NotTaken::TooManyToPluck => {
            "It can't be locked here: the right hand does not pluck so many strings at once".to_owned()
        }
        NotTaken::OtherNotes => {
            "It can't be locked here: the music is written out, and these are not its notes".to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Command, Go, OwnWish};
    use handspan_core::neck::{Fret, StringIndex};

    fn building(voicing: &str) -> Session {
        let mut session = Session::on_demo()
            .after(Command::Go(Go::NextBar))
            .after(Command::Own(OwnWish::Toggle))
            .after(Command::Own(OwnWish::Clear));
        let voicing: Voicing = voicing.parse().unwrap();
        for place in voicing.places() {
            session = session.after(Command::Own(OwnWish::Touch(place)));
        }
        session
    }

    fn told(session: &Session) -> String {
        let model = OwnGripModel::of(session).unwrap();
        let ways: Vec<String> = model.ways.iter().take(2).map(|way| way.words.clone()).collect();
        let nearest = model.nearest.map_or_else(String::new, |near| near.words);
        [
            model.chord.unwrap_or_default(),
            model.also,
            model.notes.join(", "),
            model.sentence,
            model.reasons.join("; "),
            ways.join("; "),
            nearest,
            model.not_taken.unwrap_or_default(),
        ]
        .join("\n")
    }

    #[test]
    fn a_grip_that_can_be_held() {
        expect![[r"
            G
            also Bm/G
            G2 1, D3 5, G3 1, B3 3, G4 1
            A hand can hold it in 9 ways

            Fingers 2 x 0 0 0 4, effort 11; Fingers 1 x 0 0 0 4, effort 16

            It can't be locked here: the right hand does not pluck so many strings at once"]]
        .assert_eq(&told(&building("3-x-0-0-0-3")));
        expect![[r"
            C
            also Em/C
            C3 1, E3 3, G3 5, C4 1, E4 3
            A hand can hold it in 4 ways

            Fingers x 3 2 0 1 0, effort 23; Fingers x 4 2 0 1 0, effort 62

            It can't be locked here: the melody note is G4, but its highest note is E4"]]
        .assert_eq(&told(&building("x32010")));
    }

    #[test]
    fn a_grip_that_no_hand_holds() {
        expect![[r"
            C♯7/E♯
            without the 5; also Bsus2/F
            F2 3, B3 ♭7, C♯5 1
            No hand can hold it
            Fingers 1 and 4 are 229.0 mm apart, farther than the 137.5 mm they reach

            7-x-x-x-0-9, 1 string changed
            It can be locked here once a hand can hold it"]]
        .assert_eq(&told(&building("1-x-x-x-0-9")));
        expect![[r"
            E5/F
            also Bsus4/F
            F2 (♭2), B2 5, F3 (♭2), B3 5, E4 1
            No hand can hold it
            It needs more fingers than a hand has: finger 1 is on string 2, fret 5 and on string 3, fret 4 at once

            0-2-3-4-5-x, 1 string changed
            It can be locked here once a hand can hold it"]].assert_eq(&told(&building("1-2-3-4-5-x")));
    }

    #[test]
    fn the_nearest_takes_its_place() {
        let session = building("1-x-x-x-0-9").after(Command::Own(OwnWish::Nearest));
        assert!(OwnGripModel::of(&session).unwrap().can_be_held);
    }

    #[test]
    fn keys_go_along_and_across_the_strings() {
        let second = StringIndex::new(1);
        let keys = [OwnWish::String(second), OwnWish::Higher, OwnWish::Higher, OwnWish::Higher];
        let mut session = building("xxxxxx");
        for wish in keys {
            session = session.after(Command::Own(wish));
        }
        let own = session.own().unwrap();
        assert_eq!((own.string, own.voicing.fret(second)), (second, Some(Fret::new(2))));
        let session = session.after(Command::Own(OwnWish::StringBelow)).after(Command::Own(OwnWish::Higher));
        assert_eq!(OwnGripModel::of(&session).unwrap().at, "string 3 open");
        let session = session.after(Command::Own(OwnWish::Lower)).after(Command::Own(OwnWish::Lower));
        assert_eq!(OwnGripModel::of(&session).unwrap().at, "string 3, silent");
    }

    #[test]
    fn other_fingers_are_chosen_and_kept_while_the_player_steps() {
        let session = building("x32010").after(Command::Own(OwnWish::NextWay));
        let chosen = session.own().unwrap().way;
        assert_eq!(chosen, 1);
        let session = session.after(Command::Go(Go::Next));
        assert_eq!(session.own().unwrap().way, chosen);
    }
}
