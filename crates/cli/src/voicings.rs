//! `handspan voicings`: every way to play a chord under a melody note, ranked and explained.

use std::ops::RangeInclusive;

use clap::{Args, ValueEnum};
use handspan_core::grip::fingering::fingerings;
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{
    BassChoice, Grip, Order, Previous, RankedGrip, Reach, Voicing, VoicingWish, ranked, voicings,
};
use handspan_core::hand::Hand;
use handspan_core::harmony::{Chord, ChordSymbol, Key, ToneSet};
use handspan_core::neck::Instrument;
use handspan_core::pitch::Pitch;
use handspan_core::spelling::SpelledPitch;

use crate::console::Console;
use crate::explain;
use crate::failure::{Ended, Failure};
use crate::guitar::GuitarOptions;
use crate::json::{self, VoicingJson};
use crate::words::{read_bass, read_count, read_melody};

/// How many are listed without `--all`.
const LISTED: usize = 20;

/// Lists the ways to play a chord with a melody note on top and a bass beneath
///
/// Every voicing that a hand can hold is found, each in its easiest fingering, with what it costs term by term.
/// Root, third, seventh and named tensions always sound; the fifth may be missing, in large chords the ninth or the
/// eleventh as well.
/// Effort is a whole number; smaller is easier, and what makes things easier than most counts below zero.
/// Frets and fingers are written from the lowest string to the highest: x is silent, 0 open, T the thumb.
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Options {
    /// The chord, as lead sheets write it: Cmaj7, Dm7b5/Ab, E7#9, F6/9, Bsus4
    #[arg(long, value_name = "CHORD", value_parser = read_chord)]
    chord: Chord,

    /// The melody note on top, with its octave: E5; C4 is the middle C
    #[arg(long, value_name = "NOTE", value_parser = read_melody)]
    melody: SpelledPitch,

    /// The lowest note: in any octave (C), this very note (C3), or free [the chord's bass]
    #[arg(long, value_name = "NOTE", value_parser = read_bass)]
    bass: Option<BassChoice>,

    /// How many strings sound: 4, or 3-5
    #[arg(long, value_name = "COUNT", default_value = "3-5", value_parser = read_count)]
    notes: RangeInclusive<usize>,

    /// The grip before, a fret or x for every string from the lowest: x32010; the move from it counts as well
    #[arg(long, value_name = "FRETS", value_parser = Voicing::read)]
    after: Option<(Voicing, usize)>,

    /// What comes first
    #[arg(long, value_enum, default_value_t = OrderOption::Easiest)]
    order: OrderOption,

    /// Lists every one, not only the first 20
    #[arg(long)]
    all: bool,

    /// Prints a JSON list of objects with frets, fingers, notes (MIDI), names, effort and terms
    #[arg(long)]
    json: bool,

    #[command(flatten)]
    guitar: GuitarOptions,
}

const EXAMPLES: &str = "\
Examples:
  handspan voicings --chord Cmaj7 --melody E5
  handspan voicings --chord Am7 --melody G4 --bass free --notes 4 --order most-open
  handspan voicings --chord D7 --melody F#4 --after x02010 --order least-move --json
  handspan voicings --chord G --melody B4 --bass G2 --tuning DADGAD --capo 2 --hand small";

#[derive(ValueEnum, Clone, Copy, Debug)]
enum OrderOption {
    /// Least effort, the move included
    Easiest,
    /// Fingers closest together
    LeastStretch,
    /// Most open strings
    MostOpen,
    /// Least movement from the grip before (--after)
    LeastMove,
    /// Most strings sounding
    Fullest,
}

impl From<OrderOption> for Order {
    fn from(option: OrderOption) -> Self {
        match option {
            OrderOption::Easiest => Self::Easiest,
            OrderOption::LeastStretch => Self::LeastStretch,
            OrderOption::MostOpen => Self::MostOpen,
            OrderOption::LeastMove => Self::LeastMove,
            OrderOption::Fullest => Self::Fullest,
        }
    }
}

fn read_chord(text: &str) -> Result<Chord, String> {
    match ChordSymbol::parse(text) {
        Ok(ChordSymbol::Chord(chord)) => Ok(chord),
        Ok(ChordSymbol::NoChord) => {
            Err("N.C. says that no chord sounds, so there is nothing to hold".to_owned())
        }
        Err(unread) => Err(unread.to_string()),
    }
}

/// Lists the voicings.
pub(crate) fn run(options: &Options, console: &mut Console<'_>) -> Ended {
    let instrument = options.guitar.instrument(&Instrument::classical())?;
    let hand = options.guitar.hand(Hand::default());
    let wish = options.wish();
    let previous = match options.after {
        Some(voicing) => Some(easiest_hold(&instrument, &hand, voicing)?),
        None => None,
    };
    let previous = previous.map(Previous::at_usual_pace);
    let found = ranked(&instrument, &hand, &wish, previous, options.order.into());
    if found.is_empty() {
        return Err(Failure::not_to_be_had(options.why_none(&instrument, &wish)));
    }
    let listed = if options.all { found.len() } else { found.len().min(LISTED) };
    let rows = || {
        let list = found[..listed].iter();
        list.map(|ranked| options.row(&instrument, ranked))
    };
    if options.json {
        console.print(&json::list(rows()));
    } else {
        console.print(&options.heading(found.len(), listed));
        for line in explain::voicing_table(rows()) {
            console.print(&line);
        }
    }
    Ok(())
}

impl Options {
    fn wish(&self) -> VoicingWish {
        let wish = VoicingWish::for_chord(&self.chord);
        VoicingWish {
            melody: self.melody.pitch(),
            bass: self.bass.unwrap_or(wish.bass),
            required: self.chord.required(),
            notes: self.notes.clone(),
            ..wish
        }
    }

    fn row(&self, instrument: &Instrument, ranked: &RankedGrip) -> VoicingJson {
        let spell = |pitch: Pitch| self.spelled(pitch).to_string();
        VoicingJson::new(instrument, ranked, spell)
    }

    /// The pitch as the chord spells it; the melody as it was asked for.
    fn spelled(&self, pitch: Pitch) -> SpelledPitch {
        if self.melody.pitch() == Some(pitch) {
            return self.melody;
        }
        SpelledPitch::new(pitch, self.chord.spell(pitch.class(), Key::default()))
    }

    /// `Cmaj7, E5 on top, C beneath, 3 to 5 notes`.
    fn asked(&self) -> String {
        let bass = match self.bass {
            None => format!("{} beneath", self.chord.bass.unwrap_or(self.chord.root)),
            Some(BassChoice::Free) => "any bass".to_owned(),
            Some(BassChoice::Class(class)) => format!("{} beneath", self.chord.spell(class, Key::default())),
            Some(BassChoice::Exact(pitch)) => format!("{} beneath", self.spelled(pitch)),
        };
        let notes = match (self.notes.start(), self.notes.end()) {
            (1, 1) => "1 note".to_owned(),
            (least, most) if least == most => format!("{least} notes"),
            (least, most) => format!("{least} to {most} notes"),
        };
        format!("{} with {} on top, {bass}, {notes}", self.chord, self.melody)
    }

    fn heading(&self, found: usize, listed: usize) -> String {
        let order = Order::from(self.order).name();
        let all = match (found, listed) {
            (1, _) => "one voicing".to_owned(),
            (_, all) if all == found => format!("{found} voicings, {order} first"),
            _ => format!("{found} voicings, {order} first; here are {listed}, --all lists every one"),
        };
        format!("{}: {all}.", self.asked())
    }

    /// Why nothing was found.
    fn why_none(&self, instrument: &Instrument, wish: &VoicingWish) -> String {
        let (lowest, highest) = instrument.range();
        let melody = self.melody;
        if melody.pitch().is_none_or(|p| instrument.places(p).next().is_none()) {
            return format!("{melody} lies nowhere on this guitar, which sounds from {lowest} to {highest}");
        }
        let mut needed = wish.required;
        needed.insert(melody.spelling.class());
        if needed.len() > *wish.notes.end() {
            let names: Vec<String> =
                needed.iter().map(|class| self.chord.spell(class, Key::default()).to_string()).collect();
            return format!(
                "{} with {melody} on top needs at least {} notes: {}",
                self.chord,
                needed.len(),
                names.join(", ")
            );
        }
        let alone = VoicingWish { notes: 2..=2, required: ToneSet::EMPTY, ..wish.clone() };
        if wish.bass != BassChoice::Free && !is_on_the_neck(instrument, &alone) {
            return format!(
                "no string is left for that bass below {melody}: choose another bass, or --bass free"
            );
        }
        if is_on_the_neck(instrument, wish) {
            return format!(
                "{} lies on the neck, but no hand of this size can hold it: try other numbers of notes, another bass or another octave",
                self.asked()
            );
        }
        format!("{} lies nowhere on this neck: try other numbers of notes or another bass", self.asked())
    }
}

/// Whether a wish has any voicing, hands aside.
fn is_on_the_neck(instrument: &Instrument, wish: &VoicingWish) -> bool {
    let mut any = false;
    voicings(instrument, None, wish, |_| any = true);
    any
}

/// The easiest way to hold the grip before.
fn easiest_hold(instrument: &Instrument, hand: &Hand, (voicing, strings): (Voicing, usize)) -> Ended<Grip> {
    if strings != instrument.string_count() {
        return Err(Failure::fault(format!(
            "the grip before names {}, but the guitar has {}: write x for every string that is silent",
            explain::counted(strings, "string"),
            instrument.string_count()
        )));
    }
    let written = voicing.written(instrument.string_count());
    let fits = voicing.places().all(|place| instrument.sounding(place).is_some());
    if !fits {
        return Err(Failure::fault(format!("the grip before, {written}, goes beyond this neck")));
    }
    let reach = Reach::new(instrument, hand);
    let mut easiest: Option<(i32, Grip)> = None;
    fingerings(&reach, &voicing, &Grip::SILENT, |grip| {
        let effort = grip_effort(&reach, &grip).total().points();
        easiest = Some(easiest.map_or((effort, grip), |best| best.min((effort, grip))));
    });
    easiest
        .map(|(_, grip)| grip)
        .ok_or_else(|| Failure::fault(format!("no hand of this size can hold the grip before, {written}")))
}
