//! What the neck shows, in millimetres from the nut and without a pixel.

use handspan_core::arrangement::Score;
use handspan_core::grip::{Grip, StringSet};
use handspan_core::hand::Finger;
use handspan_core::harmony::{Chord, Key};
use handspan_core::neck::geometry::wire;
use handspan_core::neck::{Fret, Instrument, Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Line, LineNote};

use crate::names;
use crate::session::{Session, Shown};

use super::around::{label, tones, waiting, ways};

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
    /// Where the fingers were before, or where they go next.
    pub ways: Vec<Way>,
    /// Fingers that may be down already, though they aren't needed yet.
    pub waiting: Vec<Waiting>,
    /// Whether the ways lead to the next grip and not from the one before.
    pub ahead: bool,
    /// Other places of the chord's tones, faint.
    pub tones: Vec<Tone>,
    /// The string that keys change, while a grip is built.
    pub building: Option<usize>,
    /// Whether the nut is at the right.
    pub left_handed: bool,
    /// Which moment it shows, so that fingers glide from one to the next.
    pub moment: usize,
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
    /// What they are in the chord in force.
    pub degrees: Vec<String>,
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
    /// A diamond.
    Hook,
    /// A disc.
    Other,
}

/// A note of the grip.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mark {
    /// Where.
    pub spot: Spot,
    /// What it is.
    pub role: Role,
    /// The finger's digit.
    pub finger: Option<char>,
    /// What stands in the mark.
    pub label: String,
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

/// A finger on its way from one grip to the next.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Way {
    /// Where it stands in the grip that is not shown: the one before or the next.
    pub spot: Spot,
    /// Where it stands in the grip shown; none where it does not.
    pub here: Option<Spot>,
}

/// A finger that may be down already for a later moment.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Waiting {
    /// Where it presses; several for a barre.
    pub spots: Vec<Spot>,
    /// The finger's digit.
    pub finger: char,
    /// In words: `Finger 3 may go down here already, for beat 3`.
    pub label: String,
}

/// A place of a chord tone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tone {
    /// Where.
    pub spot: Spot,
    /// What it is: its name or its degree; nothing while fingers are shown.
    pub label: String,
    /// Whether it is the root.
    pub root: bool,
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
            strings: instrument
                .strings()
                .map(|s| string((instrument, None), s, &Grip::SILENT, key))
                .collect(),
            marks: Vec::new(),
            barres: Vec::new(),
            ways: Vec::new(),
            waiting: Vec::new(),
            ahead: false,
            tones: Vec::new(),
            building: None,
            left_handed: false,
            moment: 0,
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
        let chord = session.chord_here();
        Some(Self {
            strings: instrument.strings().map(|s| string((instrument, chord), s, &shown.grip, key)).collect(),
            barres: barres(&shown.grip, instrument),
            ways: ways(session, &shown.grip),
            waiting: waiting(session),
            ahead: session.neck_view().ahead,
            tones: tones(session, &shown.grip),
            building: session.own().map(|own| own.string.index()),
            left_handed: session.neck_view().left_handed,
            moment: session.moment_index(),
            elsewhere: elsewhere(session, key),
            words: words(score, &marks, session.playhead()),
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

    /// The note that sounds at a spot, with its degree, string and fret.
    pub fn note_at(&self, spot: Spot) -> Option<String> {
        let beyond_capo = spot.fret.unwrap_or(self.capo).checked_sub(self.capo)?;
        let note = self.strings.get(spot.string)?.notes.get(beyond_capo)?;
        let degree = self.strings.get(spot.string)?.degrees.get(beyond_capo)?;
        let place = match beyond_capo {
            0 => "open".to_owned(),
            fret => format!("fret {fret}"),
        };
        let degree = if degree.is_empty() { String::new() } else { format!(", the {degree}") };
        Some(format!("{note}{degree} · string {}, {place}", spot.string + 1))
    }
}

pub(super) fn spot(place: Place, instrument: &Instrument) -> Spot {
    Spot {
        string: place.string.index(),
        fret: (!place.fret.is_open()).then(|| usize::from(place.fret.number() + instrument.capo())),
    }
}

fn string(
    (instrument, chord): (&Instrument, Option<&Chord>),
    string: StringIndex,
    grip: &Grip,
    key: Key,
) -> NeckString {
    let frets = || (0..=instrument.last_fret().number()).map(Fret::new);
    let pitches = || frets().filter_map(|fret| instrument.sounding(Place { string, fret }));
    let degree = |pitch: Pitch| chord.map_or_else(String::new, |chord| chord.degree_name(pitch.class()));
    let notes: Vec<String> = pitches().map(|pitch| names::pitch(pitch, key)).collect();
    NeckString {
        name: notes[0].trim_end_matches(|c: char| c.is_ascii_digit()).to_owned(),
        sounds: grip.hold(string).is_some(),
        degrees: pitches().map(degree).collect(),
        notes,
    }
}

fn marks(session: &Session, shown: &Shown) -> Vec<Mark> {
    let (Some(arrangement), Some(moment)) = (session.arrangement(), session.moment()) else {
        return Vec::new();
    };
    let (melody, bass) = (session.melody_place(), session.bass_place());
    let lock = session.lock_here();
    let hook = session.tune().line_at(Line::Hook, moment.at).map(LineNote::pitch);
    let instrument = &arrangement.score.instrument;
    let is_hook = |place: Place| hook.is_some() && instrument.sounding(place) == hook;
    let struck = if shown.is_preview { StringSet::ALL } else { moment.struck };
    let mark = |(string, hold): (StringIndex, handspan_core::grip::Hold)| {
        let place = Place { string, fret: hold.fret() };
        let role = match Some(place) {
            here if here == melody => Role::Melody,
            here if here == bass => Role::Bass,
            _ if is_hook(place) => Role::Hook,
            _ => Role::Other,
        };
        let locked = match role {
            Role::Melody => lock.melody == Some(string),
            Role::Bass => lock.bass.is_some(),
            Role::Hook | Role::Other => false,
        };
        Mark {
            spot: spot(place, &arrangement.score.instrument),
            role,
            finger: hold.finger().map(Finger::letter),
            label: label(session, place, hold.finger()),
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
fn words(score: &Score, marks: &[Mark], at: Ticks) -> String {
    let word = |mark: &Mark| {
        let from_nut = mark.spot.fret.map_or(0, |fret| fret as u8 - score.instrument.capo());
        let place = Place { string: StringIndex::new(mark.spot.string), fret: Fret::new(from_nut) };
        let role = match mark.role {
            Role::Melody => ", melody",
            Role::Bass => ", bass",
            Role::Hook => ", hook",
            Role::Other => "",
        };
        let finger = mark.finger.map_or_else(String::new, |f| format!(", finger {f}"));
        let ringing = if mark.struck { "" } else { ", ringing on" };
        format!("{} on {place}{finger}{role}{ringing}", names::sounding(score, place, at))
    };
    let words: Vec<String> = marks.iter().rev().map(word).collect();
    format!("The neck: {}", words.join("; "))
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Browse, Command, Go, LockWish, OwnWish, ViewWish};
    use crate::session::NeckLabels;

    #[test]
    fn the_neck_in_words() {
        let session = Session::on_demo();
        expect!["The neck: G3 on string 3 open, bass; B3 on string 2 open"]
            .assert_eq(&NeckModel::of(&session).words);
        let session = session.after(Command::Go(Go::NextBar)).after(Command::Browse(Browse::Down));
        expect!["The neck: G2 on string 6, fret 3, finger 1, bass; F♯3 on string 4, fret 4, finger 3; B3 on string 2 open; G4 on string 1, fret 3, finger 2, melody"].assert_eq(&NeckModel::of(&session).words);
    }

    #[test]
    fn a_finger_that_stays_is_not_drawn_as_gone() {
        let mut session = Session::on_demo();
        let mut moved = 0;
        for _ in 0..40 {
            session = session.after(Command::Go(Go::Next));
            let neck = NeckModel::of(&session);
            let places: Vec<_> = neck.marks.iter().map(|m| (m.spot, m.finger)).collect();
            for way in &neck.ways {
                moved += 1;
                assert!(way.here != Some(way.spot), "{way:?} in {places:?}");
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

    #[test]
    fn the_way_ahead_is_the_way_back_from_the_next_moment() {
        let moving = |way: &Way| way.here.map(|here| (here, way.spot));
        // A barre goes ahead from one of its strings and comes back to another.
        let barred = |session: &Session| {
            session.moment().is_some_and(|m| m.grip.digits().iter().any(|(_, _, strings)| strings.len() > 1))
        };
        let mut session = Session::on_demo();
        let mut compared = 0;
        for _ in 0..12 {
            session = session.after(Command::View(ViewWish::Ahead));
            let ahead = NeckModel::of(&session);
            let forth: Vec<_> = ahead.ways.iter().filter_map(moving).collect();
            let from_barre = barred(&session);
            session = session.after(Command::View(ViewWish::Ahead)).after(Command::Go(Go::Next));
            if from_barre || barred(&session) {
                continue;
            }
            let back = NeckModel::of(&session);
            let back: Vec<_> = back.ways.iter().filter_map(moving).map(|(to, from)| (from, to)).collect();
            assert!(ahead.ahead && forth.iter().all(|pair| back.contains(pair)), "{forth:?} {back:?}");
            compared += forth.len();
        }
        assert!(compared > 0);
    }

    #[test]
    fn marks_say_fingers_notes_or_degrees() {
        let mut session = Session::on_demo().after(Command::Go(Go::NextBar));
        let mut said = Vec::new();
        for _ in NeckLabels::ALL {
            let neck = NeckModel::of(&session);
            said.push(neck.marks.iter().rev().map(|m| m.label.clone()).collect::<Vec<_>>().join(" "));
            session = session.after(Command::View(ViewWish::NextLabels));
        }
        expect![[r"
            1 0 0 2
            G D B G
            1 5 3 1"]]
        .assert_eq(&said.join("\n"));
        assert_eq!(session.neck_view().labels, NeckLabels::Fingers);
    }

    #[test]
    fn every_other_place_of_a_chord_tone_is_there() {
        let session = Session::on_demo().after(Command::Go(Go::NextBar));
        let neck = NeckModel::of(&session);
        let tones = session.chord_here().unwrap().tones();
        let instrument = &session.arrangement().unwrap().score.instrument;
        for tone in &neck.tones {
            let place = neck.place(tone.spot).unwrap();
            assert!(tones.contains(instrument.sounding(place).unwrap().class()));
            assert!(neck.marks.iter().all(|mark| mark.spot != tone.spot));
        }
        assert!(neck.tones.len() > 20, "{}", neck.tones.len());
        assert!(neck.tones.iter().any(|tone| tone.root));
    }

    #[test]
    fn a_note_is_told_with_its_degree_string_and_fret() {
        let neck = NeckModel::of(&Session::on_demo().after(Command::Go(Go::NextBar)));
        let told = |string, fret| neck.note_at(Spot { string, fret }).unwrap();
        expect!["G4, the 1 · string 1, fret 3; B3, the 3 · string 2, open; C3, the (4) · string 5, fret 3"]
            .assert_eq(&[told(0, Some(3)), told(1, None), told(4, Some(3))].join("; "));
    }

    #[test]
    fn a_grip_that_nobody_holds_is_shown_without_fingers() {
        let spot = |string, fret| Place { string: StringIndex::new(string), fret: Fret::new(fret) };
        let session = Session::on_demo()
            .after(Command::Own(OwnWish::Toggle))
            .after(Command::Own(OwnWish::Clear))
            .after(Command::Own(OwnWish::Touch(spot(0, 9))))
            .after(Command::Own(OwnWish::Touch(spot(5, 1))));
        let neck = NeckModel::of(&session);
        assert_eq!(neck.building, Some(5));
        assert!(neck.marks.len() == 2 && neck.marks.iter().all(|mark| mark.finger.is_none()));
    }
}
