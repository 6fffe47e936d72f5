//! What commands print for other programs: plain structs, one object a command.

use std::fmt;

use handspan_core::arrangement::{Arrangement, Ease, GiveWay, Impossible, LieFound, LieRow};
use handspan_core::grip::{Effort, RankedGrip};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Instrument};
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::tune::{BarBeat, Tune};
use serde::Serialize;
use serde::ser::{SerializeMap as _, Serializer};

use crate::explain;
use crate::guitar::notes_of;

/// Any of the structs below as text.
pub(crate) fn text(value: &impl Serialize) -> String {
    serde_json::to_string_pretty(value).expect("plain structs with text keys are JSON")
}

/// A list of them, an object a line.
pub(crate) fn list(values: impl Iterator<Item = impl Serialize>) -> String {
    let line = |value| serde_json::to_string(&value).expect("plain structs with text keys are JSON");
    let lines: Vec<String> = values.map(line).collect();
    format!("[\n  {}\n]", lines.join(",\n  "))
}

/// One voicing of `handspan voicings --json`; strings from the lowest to the highest.
#[derive(Serialize, Debug)]
pub(crate) struct VoicingJson {
    /// A fret, null where the string is silent.
    pub(crate) frets: Vec<Option<u8>>,
    /// A finger, null where the string is silent.
    pub(crate) fingers: Vec<Option<FingerJson>>,
    /// What sounds, as MIDI numbers, from the lowest string to the highest.
    pub(crate) notes: Vec<u8>,
    /// The same by name.
    pub(crate) names: Vec<String>,
    /// The sum of all terms.
    pub(crate) effort: i32,
    /// What it costs, term by term; the move from the grip before included.
    pub(crate) terms: Terms,
}

/// 0 for an open string, 1 to 4, or `"T"`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FingerJson(pub(crate) Option<Finger>);

impl fmt::Display for FingerJson {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            None => f.write_str("0"),
            Some(finger) => finger.fmt(f),
        }
    }
}

impl Serialize for FingerJson {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            None => serializer.serialize_u8(0),
            Some(Finger::Thumb) => serializer.serialize_char(Finger::Thumb.letter()),
            Some(finger) => serializer.serialize_u8(finger.number()),
        }
    }
}

/// Names of terms with their points, in the order in which they are shown.
#[derive(Clone, Debug)]
pub(crate) struct Terms(pub(crate) Vec<(&'static str, i32)>);

impl Serialize for Terms {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, points) in &self.0 {
            map.serialize_entry(name, points)?;
        }
        map.end()
    }
}

impl VoicingJson {
    pub(crate) fn new(instrument: &Instrument, ranked: &RankedGrip, spell: impl Fn(Pitch) -> String) -> Self {
        let low_to_high = || instrument.strings().rev();
        let voicing = ranked.grip.voicing();
        let mut pitches: Vec<Pitch> = voicing.pitches(instrument).collect();
        pitches.reverse();
        let points = |(name, effort): (&'static str, Effort)| (name, effort.points());
        let grip_terms = ranked.effort.terms().map(|(term, effort)| (term.name(), effort));
        let moved = ranked.moved.unwrap_or_default();
        let move_terms = moved.terms().map(|(term, effort)| (term.name(), effort));
        Self {
            frets: low_to_high().map(|s| voicing.fret(s).map(Fret::number)).collect(),
            fingers: low_to_high()
                .map(|s| ranked.grip.hold(s).map(|hold| FingerJson(hold.finger())))
                .collect(),
            notes: pitches.iter().map(|p| p.midi()).collect(),
            names: pitches.into_iter().map(spell).collect(),
            effort: ranked.total().points(),
            terms: Terms(grip_terms.map(points).chain(move_terms.map(points)).collect()),
        }
    }
}

/// The object of `handspan arrange --json`. What an impossible tune has none of is null.
#[derive(Serialize, Debug)]
pub(crate) struct ArrangeJson {
    /// `proven`: no easier route exists; `impossible`.
    outcome: &'static str,
    title: String,
    /// Semitones from the tune as written.
    transpose: i16,
    /// How many moments the route has.
    moments: Option<usize>,
    effort: Option<i32>,
    give_ways: Vec<GiveWayJson>,
    /// How many basses and inner notes end before the next stroke.
    cut_short: Option<usize>,
    /// Why it is impossible.
    reason: Option<String>,
    /// The transpositions at which the melody can be played, where it cannot as asked.
    transpositions: Vec<i16>,
    /// What could not be kept of the file.
    remarks: Vec<String>,
    /// The files that were written.
    written: Vec<String>,
}

#[derive(Serialize, Debug)]
struct GiveWayJson {
    bar: String,
    beat: f64,
    part: &'static str,
    reason: &'static str,
}

/// A beat to a thousandth.
fn beat(bar_beat: &BarBeat) -> f64 {
    (bar_beat.beat() * 1000.0).round() / 1000.0
}

impl From<&GiveWay> for GiveWayJson {
    fn from(give_way: &GiveWay) -> Self {
        Self {
            bar: give_way.bar_beat.bar.clone(),
            beat: beat(&give_way.bar_beat),
            part: give_way.part.name(),
            reason: explain::give_way_reason(give_way.reason),
        }
    }
}

impl ArrangeJson {
    /// A tune that could be arranged.
    pub(crate) fn done(
        title: &str,
        transpose: Interval,
        arrangement: &Arrangement,
        remarks: Vec<String>,
        written: Vec<String>,
    ) -> Self {
        Self {
            outcome: if arrangement.proven { "proven" } else { "stopped" },
            title: title.to_owned(),
            transpose: transpose.semitones(),
            moments: Some(arrangement.moments.len()),
            effort: Some(arrangement.effort.points()),
            give_ways: arrangement.give_ways.iter().map(GiveWayJson::from).collect(),
            cut_short: Some(arrangement.cut_short.len()),
            reason: None,
            transpositions: Vec::new(),
            remarks,
            written,
        }
    }

    /// A tune that could not.
    pub(crate) fn impossible(
        title: &str,
        transpose: Interval,
        why: &Impossible,
        remarks: Vec<String>,
    ) -> Self {
        Self {
            outcome: "impossible",
            title: title.to_owned(),
            transpose: transpose.semitones(),
            moments: None,
            effort: None,
            give_ways: Vec::new(),
            cut_short: None,
            reason: Some(why.to_string()),
            transpositions: explain::transpositions(why).iter().map(|i| i.semitones()).collect(),
            remarks,
            written: Vec::new(),
        }
    }
}

/// One row of `handspan keys --json`. What a row without a route has none of is null.
#[derive(Serialize, Debug)]
pub(crate) struct LieJson {
    /// The key that sounds.
    key: String,
    /// The key that the hand grips at the capo.
    gripped_as: String,
    /// What the tuning is called.
    tuning: String,
    /// Its strings without the capo, the lowest first.
    open_strings: Vec<String>,
    /// A fret, 0 for none.
    capo: u8,
    /// Semitones from the tune as written.
    transpose: i16,
    effort: Option<i32>,
    /// The hardest move; null also where there is none.
    hardest: Option<HardestJson>,
    basses: Option<usize>,
    /// How many of them are open strings.
    open_basses: Option<usize>,
    inner_notes: Option<usize>,
    /// How many demands give way.
    give_ways: Option<usize>,
    /// The melody's highest fret, counted from the capo.
    highest_fret: Option<u8>,
    /// Semitones from the lowest open string to the melody's lowest note.
    room_below: Option<i16>,
    /// Semitones from the melody's highest note to the highest fret of the highest string.
    room_above: Option<i16>,
    /// How many basses give way at the least, where that is why nothing was searched.
    basses_given_up: Option<usize>,
    /// Why there is no route.
    reason: Option<String>,
}

#[derive(Serialize, Debug)]
struct HardestJson {
    effort: i32,
    bar: String,
    beat: f64,
}

impl LieJson {
    pub(crate) fn new(tune: &Tune, LieRow { lie, found }: &LieRow) -> Self {
        let ease = if let LieFound::Easiest(ease) = found { Some(ease) } else { None };
        let hardest = |ease: &Ease| {
            let (at, moved) = ease.hardest?;
            let at = tune.bar_beat(at);
            Some(HardestJson { effort: moved.points(), beat: beat(&at), bar: at.bar })
        };
        Self {
            key: explain::key_moved(tune, lie.transpose),
            gripped_as: explain::key_moved(tune, lie.gripped()),
            tuning: lie.instrument.tuning().name().to_owned(),
            open_strings: notes_of(lie.instrument.tuning()),
            capo: lie.instrument.capo(),
            transpose: lie.transpose.semitones(),
            effort: ease.map(|ease| ease.effort.points()),
            hardest: ease.and_then(hardest),
            basses: ease.map(|ease| ease.basses),
            open_basses: ease.map(|ease| ease.open_basses),
            inner_notes: ease.map(|ease| ease.inner_notes),
            give_ways: ease.map(|ease| ease.give_ways),
            highest_fret: ease.map(|ease| ease.highest_fret.number()),
            room_below: ease.map(|ease| ease.room_below),
            room_above: ease.map(|ease| ease.room_above),
            basses_given_up: if let LieFound::BassesGiveWay(basses) = found { Some(*basses) } else { None },
            reason: found.why_not(),
        }
    }
}
