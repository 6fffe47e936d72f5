//! What the list of grips shows.

use handspan_core::grip::{BassChoice, Filter, Grip, Order, Voicing};
use handspan_core::neck::StringIndex;
use handspan_core::pitch::PitchClass;
use handspan_core::spelling::Spelling;

use crate::names;
use crate::panels::chord_box::Boxed;
use crate::panels::terms::{Term, grip_terms, move_terms};
use crate::session::Session;

/// The list as a whole; its rows are made when they come into sight.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct VoicingsModel {
    /// How many rows there are.
    pub rows: usize,
    /// How many there would be without a filter.
    pub of: usize,
    /// How they are ranked.
    pub order: Order,
    /// What is left out.
    pub filter: Filter,
    /// The row that is looked at.
    pub looked_at: Option<usize>,
    /// The row that the route has.
    pub in_route: Option<usize>,
    /// Whether that row is there although the filter leaves it out.
    pub route_fails_filter: bool,
    /// Whether the rows belong to this moment.
    pub is_current: bool,
    /// The strings that the melody note can be played on; none where none begins.
    pub melody: Vec<MelodyChoice>,
    /// What the bass can be, the chord's tones first.
    pub basses: Vec<BassRow>,
    /// The bass that is locked, as it is called.
    pub bass: Option<String>,
    /// The strings of the instrument.
    pub strings: usize,
    /// The highest fret.
    pub last_fret: u8,
}

/// A string that the melody note can be played on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MelodyChoice {
    /// The string.
    pub string: StringIndex,
    /// `string 2, fret 5`
    pub name: String,
    /// Whether the melody is locked there.
    pub locked: bool,
}

/// A bass that can be chosen.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BassRow {
    /// The choice.
    pub bass: BassChoice,
    /// `G, 3`
    pub name: String,
    /// Whether it is a tone of the chord.
    pub chord_tone: bool,
}

impl VoicingsModel {
    /// The list as the session stands; none before anything is arranged.
    pub fn of(session: &Session) -> Option<Self> {
        let browsing = session.browsing();
        let instrument = &session.arrangement()?.score.instrument;
        let locked = session.lock_here().melody;
        let places = session.melody_here().into_iter().flat_map(|pitch| instrument.places(pitch));
        let melody = places.map(|place| MelodyChoice {
            string: place.string,
            name: place.to_string(),
            locked: locked == Some(place.string),
        });
        Some(Self {
            rows: browsing.grips().len(),
            of: browsing.of(),
            order: browsing.order(),
            filter: browsing.filter().clone(),
            looked_at: browsing.row(),
            in_route: session.route_row(),
            route_fails_filter: session.route_fails_filter(),
            is_current: browsing.is_current(),
            melody: melody.collect(),
            basses: basses(session),
            bass: bass_name(session),
            strings: instrument.string_count(),
            last_fret: instrument.last_fret().number(),
        })
    }

    /// How many rows pass the filter.
    pub fn passing(&self) -> usize {
        self.rows - usize::from(self.route_fails_filter && self.rows > 0)
    }

    /// `12 of 143 shown`, `143 can be held`.
    pub fn count(&self) -> String {
        match (self.passing(), self.of) {
            (0, 0) if !self.is_current => "being ranked".to_owned(),
            (0, 0) => "nothing to hold".to_owned(),
            (1, 1) => "1 can be held".to_owned(),
            (rows, of) if rows == of => format!("{of} can be held"),
            (rows, of) => format!("{rows} of {of} shown"),
        }
    }
}

fn class_name(session: &Session, class: PitchClass) -> Option<String> {
    let key = names::key_at(&session.arrangement()?.score, session.playhead());
    let spelled = session.chord_here().map_or_else(
        || Spelling::of_class_in(class, i32::from(key.fifths())),
        |chord| chord.spell(class, key),
    );
    Some(format!("{spelled:#}"))
}

fn bass_name(session: &Session) -> Option<String> {
    let key = names::key_at(&session.arrangement()?.score, session.playhead());
    match session.lock_here().bass? {
        BassChoice::Free => Some("any chord tone".to_owned()),
        BassChoice::Class(class) => class_name(session, class),
        BassChoice::Exact(pitch) => Some(names::pitch(pitch, key)),
    }
}

fn basses(session: &Session) -> Vec<BassRow> {
    let Some(chord) = session.chord_here().filter(|_| !session.is_written_out()) else {
        return Vec::new();
    };
    let tones = chord.tones();
    let root = chord.root.class();
    let row = |class: PitchClass| {
        let name = class_name(session, class)?;
        let chord_tone = tones.contains(class);
        let name = if chord_tone { format!("{name}, the {}", chord.degree_name(class)) } else { name };
        Some(BassRow { bass: BassChoice::Class(class), name, chord_tone })
    };
    let mut all: Vec<BassRow> = PitchClass::ALL.into_iter().filter_map(row).collect();
    let above_root = |row: &BassRow| match row.bass {
        BassChoice::Class(class) => class.above(root),
        BassChoice::Free | BassChoice::Exact(_) => 0,
    };
    all.sort_by_key(|row| (!row.chord_tone, above_root(row)));
    all
}

/// A row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct VoicingRow {
    /// The grip, for its chord box.
    pub grip: Grip,
    /// How its chord box is drawn.
    pub boxed: Boxed,
    /// The frets as players write them.
    pub frets: String,
    /// The notes from the lowest up.
    pub notes: String,
    /// What it costs and gains, by name.
    pub terms: Vec<Term>,
    /// Everything together.
    pub total: i32,
}

impl VoicingRow {
    /// A row of the list, if there are so many.
    pub fn of(session: &Session, row: usize) -> Option<Self> {
        let ranked = session.browsing().grips().get(row)?;
        let score = &session.arrangement()?.score;
        let voicing = ranked.grip.voicing();
        let notes: Vec<String> =
            voicing.places().rev().map(|place| names::sounding(score, place, session.playhead())).collect();
        let moved = ranked.moved.as_ref();
        Some(Self {
            grip: ranked.grip,
            boxed: session.boxed(),
            frets: frets(&voicing, score.instrument.string_count()),
            notes: notes.join(" "),
            terms: grip_terms(&ranked.effort).chain(moved.into_iter().flat_map(move_terms)).collect(),
            total: ranked.total().points(),
        })
    }

    /// The terms in words: `fingers 9 · stretch 2 · open strings −3`.
    pub fn terms_in_words(&self) -> String {
        let words: Vec<String> =
            self.terms.iter().map(|t| format!("{} {}", t.name, names::points(t.points))).collect();
        words.join(" · ")
    }

    /// The row in words, for ears and for tests.
    pub fn words(&self, row: usize) -> String {
        format!(
            "Grip {}: {}, effort {}, {}",
            row + 1,
            self.frets,
            names::points(self.total),
            self.terms_in_words()
        )
    }
}

/// The frets from the lowest string to the highest, always apart, so that no font makes a sign of `0x0`.
fn frets(voicing: &Voicing, strings: usize) -> String {
    let fret = |string| voicing.fret(string).map_or_else(|| "x".to_owned(), |fret| fret.to_string());
    StringIndex::all(strings).rev().map(fret).collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Browse, Command, Go, LockWish};

    #[test]
    fn the_first_rows_in_words() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let rows: Vec<String> =
            (0..3).filter_map(|row| Some(VoicingRow::of(&session, row)?.words(row))).collect();
        expect![[r"
            Grip 1: 3-x-0-x-0-3, effort 157, how fingers lie 17 · fingers 43 · position 14 · strings −31 · open strings −10 · shift 90 · fingers landing 4 · finger hopping 29 · fingers following on a string 12 · repeated note 10 · fingers of the top voice −19 · open string ringing −2
            Grip 2: 3-x-4-x-0-3, effort 225, how fingers lie 14 · fingers 73 · position 14 · strings −6 · open strings −5 · shift 90 · fingers landing 15 · finger hopping 29 · fingers following on a string 12 · repeated note 10 · fingers of the top voice −19 · open string ringing −2
            Grip 3: 3-x-4-4-x-3, effort 253, how fingers lie 18 · barre 50 · fingers 60 · position 14 · shift 90 · fingers landing 15 · guide finger 4 · barre or stretch in a hurry 3 · fingers of the top voice −1"]].assert_eq(&rows.join("\n"));
    }

    #[test]
    fn another_order_ranks_the_same_grips() {
        let session = Session::on_demo();
        let rows = VoicingsModel::of(&session).unwrap().rows;
        let session = session.after(Command::Browse(Browse::By(Order::Fullest)));
        let model = VoicingsModel::of(&session).unwrap();
        assert_eq!((model.rows, model.order), (rows, Order::Fullest));
        let notes = |row: usize| session.browsing().grips()[row].grip.len();
        assert!((1..rows).all(|row| notes(row - 1) >= notes(row)));
    }

    #[test]
    fn a_filter_says_how_many_it_leaves_out_and_is_cleared() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let all = VoicingsModel::of(&session).unwrap();
        let filter = Filter { no_barre: true, open_bass: true, ..Filter::default() };
        let session = session.after(Command::Browse(Browse::Only(filter)));
        let some = VoicingsModel::of(&session).unwrap();
        assert!(some.rows < all.rows && some.rows > 0, "{} of {}", some.rows, all.rows);
        assert_eq!(some.count(), format!("{} of {} shown", some.passing(), all.of));
        // The route's own grip has a row all the same, and is not counted.
        assert!(some.route_fails_filter && some.passing() + 1 == some.rows);
        // It stays while the player steps on.
        let session = session.after(Command::Go(Go::NextBar));
        assert!(!VoicingsModel::of(&session).unwrap().filter.is_open());
        let session = session.after(Command::Browse(Browse::Everything));
        let model = VoicingsModel::of(&session).unwrap();
        assert_eq!(model.rows, model.of);
    }

    #[test]
    fn the_list_follows_the_melody_to_its_locked_string() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let other = VoicingsModel::of(&session).unwrap().melody.iter().map(|m| m.string).next_back().unwrap();
        let session = session.after(Command::Lock(LockWish::MelodyOn(other)));
        let melody = session.melody_here().unwrap();
        assert_eq!(session.melody_place().map(|place| place.string), Some(other));
        let instrument = &session.arrangement().unwrap().score.instrument;
        let fret = instrument.fret_of(melody, other);
        let all = session.browsing().grips();
        assert!(!all.is_empty());
        assert!(all.iter().all(|row| row.grip.hold(other).map(handspan_core::grip::Hold::fret) == fret));
    }

    #[test]
    fn any_note_can_be_the_bass_chord_tones_first() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let basses = VoicingsModel::of(&session).unwrap().basses;
        let names: Vec<&str> = basses.iter().map(|row| row.name.as_str()).collect();
        assert_eq!(names.len(), 12);
        expect!["G, the 1; B, the 3; D, the 5; F♯, the 7; G♯; A; B♭; C; C♯; E♭; E; F"]
            .assert_eq(&names.join("; "));
    }

    #[test]
    fn a_locked_grip_has_a_row_even_under_fingers_that_are_not_the_easiest() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let at = session.playhead();
        let grip = session.moment().unwrap().grip;
        let harder = handspan_core::grip::ways_to_hold(
            &handspan_core::grip::Reach::new(&session.work().plan.instrument, &session.work().plan.hand),
            &grip.voicing(),
        );
        let hardest = harder.last().unwrap().0;
        assert_ne!(hardest, grip);
        let edit = handspan_core::arrangement::Edit::Grip { at, grip: Some(hardest) };
        let session = session.after(Command::Edit(edit));
        let row = session.route_row().expect("the locked grip has a row");
        assert_eq!(session.browsing().grips()[row].grip, hardest);
    }
}
