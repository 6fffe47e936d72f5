//! What the neck shows, in millimetres from the nut and without a pixel.

use handspan_core::arrangement::Score;
use handspan_core::grip::{Grip, StringSet};
use handspan_core::harmony::Key;
use handspan_core::neck::geometry::wire;
use handspan_core::neck::{Fret, Instrument, Place, StringIndex};

use crate::names;
use crate::session::{Session, Shown};

/// Everything that is drawn on the neck.
#[derive(Clone, PartialEq, Debug)]
pub struct NeckModel {
    /// Where the fret wires lie; the first is the nut.
    pub wires: Vec<f32>,
    /// Nut to bridge.
    pub scale: f32,
    /// The fret of the capo, 0 for none.
    pub capo: usize,
    /// The strings, highest first.
    pub strings: Vec<NeckString>,
    /// The notes of the grip.
    pub marks: Vec<Mark>,
    /// Fingers over several strings.
    pub barres: Vec<Barre>,
    /// Where the fingers were before.
    pub before: Vec<Before>,
    /// Other places where the melody note can be played.
    pub elsewhere: Vec<Elsewhere>,
    /// The whole in words.
    pub words: String,
}

/// A string.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NeckString {
    /// The letter of the open string.
    pub name: String,
    /// Whether it sounds in the grip.
    pub sounds: bool,
    /// The notes along it, from the nut or capo on.
    pub notes: Vec<String>,
}

/// A spot on the neck: a string, and a fret as counted from the nut; none for an open string.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Spot {
    /// The string's index, 0 for the highest.
    pub string: usize,
    /// The fret from the nut.
    pub fret: Option<usize>,
}

/// What a note is in the grip.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Role {
    /// A ring.
    Melody,
    /// A square.
    Bass,
    /// A disc.
    Other,
}

/// A note of the grip.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Mark {
    /// Where.
    pub spot: Spot,
    /// What it is.
    pub role: Role,
    /// The finger's digit.
    pub finger: Option<char>,
    /// Struck now; otherwise still ringing.
    pub struck: bool,
    /// Locked to stay.
    pub locked: bool,
}

/// A finger over several strings at one fret.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Barre {
    /// The fret from the nut.
    pub fret: usize,
    /// The highest string under it.
    pub from: usize,
    /// The lowest string under it.
    pub to: usize,
}

/// A finger of the grip before and where it goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Before {
    /// Where it was.
    pub spot: Spot,
    /// Where it goes; none when it leaves the strings.
    pub to: Option<Spot>,
}

/// Another place of the melody note.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Elsewhere {
    /// Where.
    pub spot: Spot,
    /// The string.
    pub string: StringIndex,
    /// In words: `Play E5 on string 2, fret 17`.
    pub label: String,
}

impl NeckModel {
    /// The neck as the session stands: bare before anything is arranged.
    pub fn of(session: &Session) -> Self {
        Self::with_grip(session)
            .unwrap_or_else(|| Self::bare(&session.work().plan.instrument, session.written_key()))
    }

    /// The neck alone.
    fn bare(instrument: &Instrument, key: Key) -> Self {
        let wires =
            (0..=instrument.frets_from_nut()).map(|f| wire(instrument.scale(), f).millimetres() as f32);
        Self {
            wires: wires.collect(),
            scale: instrument.scale().millimetres() as f32,
            capo: usize::from(instrument.capo()),
            strings: instrument.strings().map(|s| string(instrument, s, &Grip::SILENT, key)).collect(),
            marks: Vec::new(),
            barres: Vec::new(),
            before: Vec::new(),
            elsewhere: Vec::new(),
            words: "The neck: nothing is held".to_owned(),
        }
    }

    fn with_grip(session: &Session) -> Option<Self> {
        let score = &session.arrangement()?.score;
        let shown = session.shown()?;
        let instrument = &score.instrument;
        let key = names::key_at(score, session.playhead());
        let marks = marks(session, &shown);
        Some(Self {
            strings: instrument.strings().map(|s| string(instrument, s, &shown.grip, key)).collect(),
            barres: barres(&shown.grip, instrument),
            before: before(session, &shown.grip),
            elsewhere: elsewhere(session, key),
            words: words(score, &marks, key),
            marks,
            ..Self::bare(instrument, key)
        })
    }

    /// The place on the neck that a spot is; none where its fret does not exist.
    pub fn place(&self, spot: Spot) -> Option<Place> {
        let beyond_capo = spot.fret.unwrap_or(self.capo).checked_sub(self.capo)?;
        let exists = self.strings.get(spot.string)?.notes.get(beyond_capo).is_some();
        let fret = Fret::try_new(i32::try_from(beyond_capo).ok()?)?;
        exists.then(|| Place { string: StringIndex::new(spot.string), fret })
    }

    /// The note that sounds at a spot, with its string and fret.
    pub fn note_at(&self, spot: Spot) -> Option<String> {
        let beyond_capo = spot.fret.unwrap_or(self.capo).checked_sub(self.capo)?;
        let note = self.strings.get(spot.string)?.notes.get(beyond_capo)?;
        let place = match beyond_capo {
            0 => "open".to_owned(),
            fret => format!("fret {fret}"),
        };
        Some(format!("{note} · string {}, {place}", spot.string + 1))
    }
}

fn spot(place: Place, instrument: &Instrument) -> Spot {
    Spot {
        string: place.string.index(),
        fret: (!place.fret.is_open()).then(|| usize::from(place.fret.number() + instrument.capo())),
    }
}

fn string(instrument: &Instrument, string: StringIndex, grip: &Grip, key: Key) -> NeckString {
    let frets = (0..=instrument.last_fret().number()).map(Fret::new);
    let sounding = |fret| instrument.sounding(Place { string, fret });
    let notes: Vec<String> =
        frets.map(|fret| sounding(fret).map_or_else(String::new, |p| names::pitch(p, key))).collect();
    NeckString {
        name: notes[0].trim_end_matches(|c: char| c.is_ascii_digit()).to_owned(),
        sounds: grip.hold(string).is_some(),
        notes,
    }
}

fn marks(session: &Session, shown: &Shown) -> Vec<Mark> {
    let (Some(arrangement), Some(moment)) = (session.arrangement(), session.moment()) else {
        return Vec::new();
    };
    let (melody, bass) = (session.melody_place(), session.bass_place());
    let lock = session.lock_here();
    let struck = if shown.is_preview { StringSet::ALL } else { moment.struck };
    let mark = |(string, hold): (StringIndex, handspan_core::grip::Hold)| {
        let place = Place { string, fret: hold.fret };
        let role = match Some(place) {
            here if here == melody => Role::Melody,
            here if here == bass => Role::Bass,
            _ => Role::Other,
        };
        let locked = match role {
            Role::Melody => lock.melody == Some(string),
            Role::Bass => lock.bass.is_some(),
            Role::Other => false,
        };
        Mark {
            spot: spot(place, &arrangement.score.instrument),
            role,
            finger: hold.finger.map(handspan_core::hand::Finger::letter),
            struck: struck.contains(string),
            locked: locked || lock.grip.is_some_and(|g| g.hold(string) == Some(hold)),
        }
    };
    shown.grip.holds().map(mark).collect()
}

fn barres(grip: &Grip, instrument: &Instrument) -> Vec<Barre> {
    let barre = |strings: StringSet, fret: Fret| {
        let mut over = strings.iter().map(StringIndex::index);
        Some(Barre {
            fret: usize::from(fret.number() + instrument.capo()),
            from: over.next()?,
            to: over.next_back()?,
        })
    };
    grip.digits().iter().filter_map(|(_, fret, strings)| barre(strings, fret)).collect()
}

/// Fingers that have moved since the moment before; those that stay are seen in the grip itself.
fn before(session: &Session, grip: &Grip) -> Vec<Before> {
    let (Some(arrangement), Some(before)) = (session.arrangement(), session.moment_before()) else {
        return Vec::new();
    };
    let instrument = &arrangement.score.instrument;
    let now: Vec<_> = grip.stopped().collect();
    let went = |(place, finger): (Place, handspan_core::hand::Finger)| {
        let to = now.iter().find(|(_, f)| *f == finger).map(|(p, _)| *p);
        (!now.contains(&(place, finger)))
            .then(|| Before { spot: spot(place, instrument), to: to.map(|p| spot(p, instrument)) })
    };
    before.grip.stopped().filter_map(went).collect()
}

fn elsewhere(session: &Session, key: Key) -> Vec<Elsewhere> {
    let (Some(arrangement), Some(melody)) = (session.arrangement(), session.melody_here()) else {
        return Vec::new();
    };
    // Where the tune is written a click on the neck writes, wherever it is.
    if session.place() == crate::session::Place::Tune {
        return Vec::new();
    }
    let instrument = &arrangement.score.instrument;
    let here = session.melody_place();
    let other = |place: Place| Elsewhere {
        spot: spot(place, instrument),
        string: place.string,
        label: format!("Lock {} to {place}", names::pitch(melody, key)),
    };
    let places = instrument.places(melody).filter(|p| Some(*p) != here);
    places.map(other).collect()
}

/// The grip from the lowest string to the highest, for ears and for tests.
fn words(score: &Score, marks: &[Mark], key: Key) -> String {
    let word = |mark: &Mark| {
        let from_nut = mark.spot.fret.map_or(0, |fret| fret as u8 - score.instrument.capo());
        let place = Place { string: StringIndex::new(mark.spot.string), fret: Fret::new(from_nut) };
        let role = match mark.role {
            Role::Melody => ", melody",
            Role::Bass => ", bass",
            Role::Other => "",
        };
        let finger = mark.finger.map_or_else(String::new, |f| format!(", finger {f}"));
        let ringing = if mark.struck { "" } else { ", ringing on" };
        format!("{} on {place}{finger}{role}{ringing}", names::sounding(score, place, key))
    };
    let words: Vec<String> = marks.iter().rev().map(word).collect();
    format!("The neck: {}", words.join("; "))
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Browse, Command, Go, LockWish};

    #[test]
    fn the_neck_in_words() {
        let session = Session::on_demo();
        expect!["The neck: G3 on string 3 open, bass; B3 on string 2 open"]
            .assert_eq(&NeckModel::of(&session).words);
        let session = session.after(Command::Go(Go::NextBar)).after(Command::Browse(Browse::Down));
        expect!["The neck: G2 on string 6, fret 3, finger 1, bass; F♯3 on string 4, fret 4, finger 3; G3 on string 3 open; B3 on string 2 open; G4 on string 1, fret 3, finger 2, melody"].assert_eq(&NeckModel::of(&session).words);
    }

    #[test]
    fn a_finger_that_stays_is_not_drawn_as_gone() {
        let mut session = Session::on_demo();
        let mut moved = 0;
        for _ in 0..40 {
            session = session.after(Command::Go(Go::Next));
            let neck = NeckModel::of(&session);
            let places: Vec<_> = neck.marks.iter().map(|m| (m.spot, m.finger)).collect();
            for before in &neck.before {
                moved += 1;
                assert!(!before.to.is_some_and(|to| to == before.spot), "{before:?} in {places:?}");
            }
        }
        assert!(moved > 10);
    }

    #[test]
    fn the_melody_is_marked_and_its_other_places_are_offered() {
        let session =
            Session::on_demo().after(Command::Go(Go::NextBar)).after(Command::Lock(LockWish::MelodyString));
        let neck = NeckModel::of(&session);
        let melody: Vec<_> = neck.marks.iter().filter(|m| m.role == Role::Melody).collect();
        assert!(matches!(melody[..], [Mark { locked: true, .. }]), "{melody:?}");
        assert!(neck.elsewhere.iter().all(|e| e.spot != melody[0].spot));
        assert!(!neck.elsewhere.is_empty());
    }
}
