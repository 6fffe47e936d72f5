//! What the player chooses among at a moment.
//!
//! In a lead sheet these are voicings of the chord under the melody note; where the music is written out, every way to
//! place and finger its own notes.

use super::arrangement::{Arrangement, Moment, Work};
use super::fingered::demands_around;
use crate::demand::{Demand, Harmonic, MelodyDemand, Part, WrittenNote, demands};
use crate::grip::ranking::each_grip;
use crate::grip::{
    BassChoice, Effort, Filter, Grip, Hold, Listed, Listing, Previous, RankedGrip, Reach, StringSet,
    VoicingWish, listed, weighed,
};
use crate::harmony::{Chord, ChordSymbol, ToneSet};
use crate::neck::StringIndex;
use crate::pitch::Pitch;
use crate::route::right_hand::can_pluck;
use crate::route::{Shapes, written_grips};
use crate::tune::Tune;

/// The grips that a moment can have, in the order asked for: both hands can play each of them, and what has to sound on
/// stays as it lies.
///
/// There is none where neither chord nor melody sounds, and none at a moment that the arrangement does not have.
pub fn choices_at(
    work: &Work,
    arrangement: &Arrangement,
    moment: usize,
    previous: Option<Previous>,
    listing: &Listing,
) -> Listed {
    let list = |listing: &Listing| {
        let is_written_out = arrangement.score.tune.written_out().is_some();
        let found = if is_written_out {
            written_choices(work, arrangement, moment, previous, listing)
        } else {
            voicing_choices(work, arrangement, moment, previous, listing)
        };
        let Some((held, mut list)) = found else { return Listed::default() };
        let can_be_struck = |row: &RankedGrip| {
            let struck = row.grip.strings().without(held.strings());
            listing.also == Some(row.grip) || can_pluck(&work.plan.hand, struck)
        };
        list.grips.retain(can_be_struck);
        list.of = list.grips.len();
        list
    };
    let all = list(&Listing { filter: Filter::default(), ..listing.clone() });
    if listing.filter.is_open() { all } else { Listed { of: all.of, ..list(listing) } }
}

fn voicing_choices(
    work: &Work,
    arrangement: &Arrangement,
    moment: usize,
    previous: Option<Previous>,
    listing: &Listing,
) -> Option<(Grip, Listed)> {
    let wish = wish_at(work, arrangement, moment)?;
    let list = listed(&arrangement.score.instrument, &work.plan.hand, &wish, previous, listing);
    Some((wish.held, list))
}

fn written_choices(
    work: &Work,
    arrangement: &Arrangement,
    moment: usize,
    previous: Option<Previous>,
    listing: &Listing,
) -> Option<(Grip, Listed)> {
    let there = arrangement.moments.get(moment)?;
    let tune = &arrangement.score.tune;
    let reach = Reach::new(&arrangement.score.instrument, &work.plan.hand);
    let kept = there.grip.only(there.grip.strings().without(there.struck));
    let struck = struck_notes(work, arrangement, there);
    let mut grips = Vec::new();
    if !struck.is_empty() {
        written_grips(&reach, &kept, &struck, |grip| grips.push(grip));
    }
    let tones = match tune.chord_at(there.at).and_then(ChordSymbol::chord) {
        Some(chord) => chord.tones(),
        None => struck.iter().map(|note| note.pitch.class()).collect(),
    };
    let around = demands_around(&reach, tune, &work.plan.locks, there.at);
    let shapes = Shapes::new(&reach, &around.demands);
    let shape = |grip: &Grip| around.index.map_or(Effort::NONE, |index| shapes.effort(&reach, index, grip));
    Some((kept, weighed(&reach, grips, tones, previous, listing, shape)))
}

/// The notes that a moment strikes, the melody on its string where that is locked.
fn struck_notes(work: &Work, arrangement: &Arrangement, there: &Moment) -> Vec<WrittenNote> {
    let melody = begins(&arrangement.score.tune, there);
    let locked = work.plan.locks.at(there.at).melody;
    let struck = there.grip.only(there.struck);
    let note = |(string, hold): (StringIndex, Hold)| {
        let pitch = hold.sounds(&arrangement.score.instrument, string)?;
        let string = locked.filter(|_| melody == Some(pitch));
        Some(WrittenNote { string, harmonic: Harmonic::of(hold.touch()), ..WrittenNote::plain(pitch) })
    };
    struck.holds().filter_map(note).collect()
}

/// The melody note that begins at a moment.
fn begins(tune: &Tune, there: &Moment) -> Option<Pitch> {
    tune.melody_at(there.at).filter(|note| note.at == there.at).map(crate::tune::MelodyNote::pitch)
}

/// The voicings of three to five notes with the moment's melody note on top and its bass beneath.
///
/// They sound all tones that the chord cannot do without; where no hand can hold any such voicing, at least the guide
/// tones; where that cannot be either, whatever tones there are room for. None where neither chord nor melody sounds.
fn wish_at(work: &Work, arrangement: &Arrangement, moment: usize) -> Option<VoicingWish> {
    let tune = &arrangement.score.tune;
    let at = arrangement.moments.get(moment)?.at;
    let demand = demands(tune, &work.plan).into_iter().find(|demand| demand.at == at)?;
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    let mut wish = match (chord, demand.melody.pitch()) {
        (Some(chord), melody) => VoicingWish { melody, ..VoicingWish::for_chord(chord) },
        (None, Some(melody)) => VoicingWish::melody_alone(melody),
        (None, None) => return None,
    };
    wish.held = held(arrangement, moment, &demand);
    let line = demand.lines.bass;
    let written = line.begins().or_else(|| line.sounds_on().filter(|pitch| sounds(&wish, work, *pitch)));
    wish.bass = written.map(BassChoice::Exact).or(demand.lock.bass).unwrap_or(wish.bass);
    wish.melody_string = demand.lock.melody;
    wish.required = chord.map_or(ToneSet::EMPTY, |chord| most_required(work, chord, &wish));
    Some(wish)
}

/// What sounds on of melody and lines, on its strings under its fingers.
fn held(arrangement: &Arrangement, moment: usize, demand: &Demand) -> Grip {
    let of_part = |part| match part {
        Part::Melody => {
            demand.melody.pitch().filter(|_| matches!(demand.melody, MelodyDemand::SoundsOn { .. }))
        }
        Part::Bass => demand.lines.bass.sounds_on(),
        Part::Hook => demand.lines.hook.sounds_on(),
        Part::Inner | Part::Tap => None,
    };
    let sounding = arrangement.score.sounding_at(demand.at).filter(|note| note.at < demand.at);
    let held = sounding.filter(|note| of_part(note.part) == Some(note.pitch()));
    arrangement.moments[moment].grip.only(held.map(|note| note.place.string).collect::<StringSet>())
}

/// Whether what is held already sounds a pitch.
fn sounds(wish: &VoicingWish, work: &Work, pitch: Pitch) -> bool {
    wish.held.pitches(&work.plan.instrument).any(|held| held == pitch)
}

/// The most of a chord's needed tones that some grip can sound.
fn most_required(work: &Work, chord: &Chord, wish: &VoicingWish) -> ToneSet {
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let can_be = |required: &ToneSet| {
        let mut any = false;
        each_grip(&reach, &VoicingWish { required: *required, ..wish.clone() }, |_| any = true);
        any
    };
    [chord.required(), chord.guide_tones()].into_iter().find(can_be).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::sync::Arc;

    use super::*;
    use crate::arrangement::{Edit, arrange};
    use crate::grip::{GripTerm, MoveTerm, Order};
    use crate::harmony::Key;
    use crate::neck::StringIndex;
    use crate::plan::Plan;
    use crate::spelling::{SpelledPitch, Spelling};
    use crate::time::{Metre, Ticks};
    use crate::tune::{Bar, GivenNote, MelodyNote, TuneParts, WrittenOut};
    use crate::watch::Unwatched;

    fn spelled(midi: u8) -> SpelledPitch {
        let pitch = Pitch::new(midi);
        SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), 0))
    }

    /// A bar of four quarters over a bass that is held, an inner voice with the first two.
    fn written() -> Work {
        let q = |quarters: i64| Ticks::QUARTER * quarters;
        let melody = [67, 74, 72, 76].iter().zip(0..).map(|(midi, at)| MelodyNote {
            at: q(at),
            length: q(1),
            written: spelled(*midi),
            tied_in: false,
            tied_out: false,
        });
        let below = |at: i64, length: i64, midi: u8, is_bass: bool| GivenNote {
            at: q(at),
            length: q(length),
            written: spelled(midi),
            is_bass,
            tied_in: false,
            tied_out: false,
        };
        let notes = vec![below(0, 4, 48, true), below(0, 1, 64, false), below(1, 1, 65, false)];
        let tune = Tune::try_new(TuneParts {
            bars: vec![Bar::plain("1", q(4), Metre::COMMON, Key::default())],
            melody: melody.collect(),
            written_out: Some(WrittenOut { notes, ..WrittenOut::default() }),
            ..TuneParts::default()
        });
        Work { tune: Arc::new(tune.expect("a bar is a tune")), plan: Plan::default() }
    }

    /// Eighths of a melody alone, in one bar of four quarters after the other.
    fn spelled_out(pitches: &[u8]) -> Work {
        let eighth = Ticks::new(Ticks::PER_QUARTER / 2);
        let melody = pitches.iter().zip(0..).map(|(midi, index)| MelodyNote {
            at: eighth * index,
            length: eighth,
            written: spelled(*midi),
            tied_in: false,
            tied_out: false,
        });
        let bars = pitches.chunks(8).zip(1..);
        let bar =
            |number: i32| Bar::plain(number.to_string(), Metre::COMMON.bar(), Metre::COMMON, Key::default());
        let tune = Tune::try_new(TuneParts {
            bars: bars.map(|(_, number)| bar(number)).collect(),
            melody: melody.collect(),
            written_out: Some(WrittenOut::default()),
            ..TuneParts::default()
        });
        Work { tune: Arc::new(tune.expect("its bars are full")), plan: Plan::default() }
    }

    #[test]
    fn written_music_offers_every_way_to_play_its_own_notes() {
        let work = written();
        let arranged = arrange(&work, &Unwatched).expect("it can be played");
        let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
        for (index, moment) in arranged.moments.iter().enumerate() {
            let list = choices_at(&work, &arranged, index, None, &Listing::default());
            let pitches =
                |grip: &Grip| -> BTreeSet<Pitch> { grip.voicing().pitches(&work.plan.instrument).collect() };
            assert!(list.grips.iter().all(|row| pitches(&row.grip) == pitches(&moment.grip)));
            assert!(list.grips.iter().any(|row| row.grip == moment.grip));
            let kept = moment.grip.only(moment.grip.strings().without(moment.struck));
            assert!(list.grips.iter().all(|row| row.grip.only(kept.strings()) == kept));
            // Nothing is missing: of all ways to hold all ways to lay the notes, those that keep what sounds on.
            let plain: Vec<WrittenNote> = pitches(&moment.grip).into_iter().map(WrittenNote::plain).collect();
            let mut every = BTreeSet::new();
            written_grips(&reach, &Grip::SILENT, &plain, |grip| {
                if grip.only(kept.strings()) == kept {
                    every.insert(grip);
                }
            });
            assert_eq!(list.grips.iter().map(|row| row.grip).collect::<BTreeSet<_>>(), every);
        }
    }

    #[test]
    fn the_list_counts_what_the_route_counts() {
        let work = spelled_out(&[48, 52, 55, 60, 64, 60, 55, 52, 45, 52, 57, 60, 64, 60, 57, 52]);
        let arranged = arrange(&work, &Unwatched).expect("it can be played");
        let (mut shaped, mut others) = (0, 0);
        for (index, moment) in arranged.moments.iter().enumerate() {
            let list = choices_at(&work, &arranged, index, None, &Listing::default());
            let listed = list.grips.iter().find(|row| row.grip == moment.grip).expect("it is in the list");
            assert_eq!(listed.effort, moment.effort, "moment {index}");
            let shape = |row: &&RankedGrip| row.effort.term(GripTerm::Shape) != Effort::NONE;
            shaped += usize::from(shape(&listed));
            others += list.grips.iter().filter(shape).count();
        }
        assert!(others > shaped, "{others} of the lists and {shaped} of the route fit no shape");
    }

    #[test]
    fn the_list_counts_the_move_of_the_route_after_open_strings_too() {
        let work = spelled_out(&[67, 64, 80, 64, 68, 64, 83, 64]);
        let arranged = arrange(&work, &Unwatched).expect("it can be played");
        let mut shifts = 0;
        for (index, moment) in arranged.moments.iter().enumerate().skip(1) {
            let before = &arranged.moments[..index];
            let stood = before.iter().rev().find_map(|moment| moment.grip.position());
            let grip = before[index - 1].grip;
            let previous = Previous { grip, stood, milliseconds: moment.milliseconds };
            let list = choices_at(&work, &arranged, index, Some(previous), &Listing::default());
            let listed = list.grips.iter().find(|row| row.grip == moment.grip).expect("it is in the list");
            assert_eq!(listed.moved, Some(moment.moved), "moment {index}");
            let is_open = grip.position().is_none();
            shifts += usize::from(is_open && moment.moved.term(MoveTerm::Shift) != Effort::NONE);
        }
        assert!(shifts > 0, "the hand travels nowhere while an open string sounds");
    }

    #[test]
    fn one_of_them_is_locked_and_the_melody_string_is_kept() {
        let mut work = written();
        let arranged = arrange(&work, &Unwatched).expect("it can be played");
        let at = arranged.moments[0].at;
        let list = |work: &Work| {
            let listing = Listing { order: Order::LeastMove, ..Listing::default() };
            choices_at(work, &arranged, 0, None, &listing).grips
        };
        let other = list(&work).into_iter().find(|row| row.grip != arranged.moments[0].grip);
        let other = other.expect("there is more than one way").grip;
        let second = StringIndex::new(1);
        Edit::MelodyString { at, string: Some(second) }.apply(&mut work);
        let on_second = list(&work);
        assert!(!on_second.is_empty());
        let melody = work.tune.melody()[0].pitch();
        let fret = work.plan.instrument.fret_of(melody, second);
        assert!(on_second.iter().all(|row| row.grip.hold(second).map(Hold::fret) == fret));
        Edit::MelodyString { at, string: None }.apply(&mut work);
        Edit::Grip { at, grip: Some(other) }.apply(&mut work);
        let again = arrange(&work, &Unwatched).expect("it can be played as it is locked");
        assert_eq!(again.moments[0].grip, other);
    }
}
