//! Written-out music gets its strings, frets and fingers: every pitch is demanded and nothing is added.
//!
//! Marks that are printed beside a note are kept like locks. What no hand can do gives way and is listed: a mark that
//! contradicts its notes, then a note that would have to be held on, then a note of the lowest part rank.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use super::arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
use super::impossible::Impossible;
use super::score::{Score, ScoreNote, ScoreTap, TapBy};
use super::sounds::{Sound, sounds};
use crate::demand::{Harmonic, Part, SoundingNote, WrittenDemand, WrittenNote};
use crate::grip::{Grip, Hold, Reach, StringSet};
use crate::hand::Hand;
use crate::neck::{Instrument, Node, Place, StringIndex, Touch};
use crate::pitch::Pitch;
use crate::plan::{Aim, Lock, Locks};
use crate::route::right_hand::{Plucks, Stroke, can_tap, right_hand};
use crate::route::{Step, different_written, early, easiest_written, written_grips};
use crate::time::Ticks;
use crate::tune::{Tap, Tune, WrittenOut};
use crate::watch::{Unwatched, Watch};

/// The time before the first moment, in milliseconds: as long as one likes.
const BEFORE_THE_FIRST: i64 = 5_000;

/// Finds the easiest way to play every note of a tune that is written out. Its melody lies on the instrument.
///
/// # Errors
/// Where a lock of the plan leaves nothing that a hand can hold.
pub(super) fn finger(
    work: &Work,
    tune: &Arc<Tune>,
    written_out: &WrittenOut,
    watch: &dyn Watch,
) -> Result<Arrangement, Impossible> {
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let piece = Piece::new(&reach, tune, written_out, &work.plan.locks)?;
    let steps = piece.easiest(work.plan.aim, watch)?;
    Ok(piece.arrangement(work, &steps))
}

/// Finds the best ways to play a passage of it that are really different; everything outside of it stays as is easiest.
///
/// # Errors
/// As [`finger`].
pub(super) fn finger_differently(
    work: &Work,
    tune: &Arc<Tune>,
    written_out: &WrittenOut,
    passage: &Range<Ticks>,
    count: usize,
    watch: &dyn Watch,
) -> Result<Vec<Arrangement>, Impossible> {
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let piece = Piece::new(&reach, tune, written_out, &work.plan.locks)?;
    let current = piece.easiest(work.plan.aim, watch)?;
    let index = |at: Ticks| piece.demands.partition_point(|demand| demand.at < at);
    let within = index(passage.start)..index(passage.end);
    let found = different_written(&reach, &piece.written(), &current, within, count, watch);
    Ok(found.iter().map(|steps| piece.clone().arrangement(work, steps)).collect())
}

/// What the music of a bar asks of the search.
pub(super) struct Around {
    pub(super) demands: Vec<WrittenDemand>,
    /// Which of them is that of the moment in question.
    pub(super) index: Option<usize>,
}

/// What is asked in the bar around a moment: no shape of a chord reaches farther.
pub(super) fn demands_around(reach: &Reach, tune: &Arc<Tune>, locks: &Locks, at: Ticks) -> Around {
    let bar = tune.bar_index(at);
    let piece = tune.written_out().and_then(|written_out| {
        Piece::within(reach, tune, written_out, locks, |at| tune.bar_index(at) == bar).ok()
    });
    let asked = piece.map(|piece| piece.demands).unwrap_or_default();
    Around {
        index: asked.iter().position(|asked| asked.at == at),
        demands: asked.into_iter().map(|asked| asked.written).collect(),
    }
}

/// The times at which something begins, each with the one before it.
fn moments(sounds: &[Sound]) -> Vec<(Ticks, Option<Ticks>)> {
    let times: BTreeSet<Ticks> = sounds.iter().map(|sound| sound.at).collect();
    let before = std::iter::once(None).chain(times.iter().copied().map(Some));
    times.iter().copied().zip(before).collect()
}

/// A moment of the piece: what is asked of the search, and which sounds it is asked for.
#[derive(Clone)]
struct Asked {
    at: Ticks,
    /// What begins here and can be played.
    begins: Vec<Sound>,
    written: WrittenDemand,
}

/// A piece being fingered.
#[derive(Clone)]
struct Piece<'a> {
    reach: &'a Reach,
    tune: &'a Arc<Tune>,
    demands: Vec<Asked>,
    give_ways: Vec<GiveWay>,
}

impl<'a> Piece<'a> {
    /// What is asked at every moment.
    fn new(
        reach: &'a Reach,
        tune: &'a Arc<Tune>,
        written_out: &WrittenOut,
        locks: &Locks,
    ) -> Result<Self, Impossible> {
        Self::within(reach, tune, written_out, locks, |_| true)
    }

    /// What is asked at some moments alone.
    fn within(
        reach: &'a Reach,
        tune: &'a Arc<Tune>,
        written_out: &WrittenOut,
        locks: &Locks,
        is_within: impl Fn(Ticks) -> bool,
    ) -> Result<Self, Impossible> {
        let mut piece = Self { reach, tune, demands: Vec::new(), give_ways: Vec::new() };
        let mut sounds = sounds(tune, written_out);
        piece.keep_harmonics(&mut sounds, |sound| beyond(reach.instrument(), sound));
        for (at, previous) in moments(&sounds).into_iter().filter(|(at, _)| is_within(*at)) {
            let demand = piece.demand(&sounds, at, previous, locks.at(at))?;
            piece.demands.push(demand);
        }
        Ok(piece)
    }

    /// The steps of the easiest route.
    fn easiest(&self, aim: Aim, watch: &dyn Watch) -> Result<Vec<Step>, Impossible> {
        let written = self.written();
        let found = easiest_written(self.reach, &written, aim, watch).and_then(|found| match found {
            // Stopped: this search is short enough to be run to its end all the same.
            None => easiest_written(self.reach, &written, aim, &Unwatched),
            found => Ok(found),
        });
        let route = found.map_err(|impasse| self.lock_fault(self.demands[impasse.demand].at))?;
        Ok(route.map(|route| route.steps).unwrap_or_default())
    }

    /// What is asked of the search.
    fn written(&self) -> Vec<WrittenDemand> {
        self.demands.iter().map(|demand| demand.written.clone()).collect()
    }

    /// Puts the notes, moments and give-ways together.
    fn arrangement(mut self, work: &Work, steps: &[Step]) -> Arrangement {
        let demands = std::mem::take(&mut self.demands);
        let (notes, taps) = self.strokes(&demands, steps, work);
        let moments = self.moments(&demands, steps);
        self.give_ways.sort_by_key(|give_way| (give_way.at, give_way.part));
        let score =
            Score { tune: Arc::clone(self.tune), instrument: work.plan.instrument.clone(), notes, taps };
        let grips: Vec<Grip> = steps.iter().map(|step| step.grip).collect();
        Arrangement {
            early: early(self.reach, &grips),
            effort: moments.iter().map(|m| m.effort.total() + m.moved.total()).sum(),
            score,
            moments,
            give_ways: self.give_ways,
            cut_short: Vec::new(),
            proven: true,
        }
    }

    fn give_way(&mut self, at: Ticks, part: Part, reason: GiveWayReason) {
        self.give_ways.push(GiveWay { at, bar_beat: self.tune.bar_beat(at), part, reason });
    }

    fn lock_fault(&self, at: Ticks) -> Impossible {
        Impossible::Lock { at, bar_beat: self.tune.bar_beat(at) }
    }

    /// What a moment demands, less what no hand can do there.
    fn demand(
        &mut self,
        sounds: &[Sound],
        at: Ticks,
        previous: Option<Ticks>,
        lock: Lock,
    ) -> Result<Asked, Impossible> {
        let instrument = self.reach.instrument();
        let mut begins: Vec<Sound> = sounds.iter().filter(|sound| sound.at == at).copied().collect();
        for sound in begins.extract_if(.., |sound| beyond(instrument, sound)).collect::<Vec<_>>() {
            self.give_way(at, sound.part, GiveWayReason::NoRoomBelowMelody);
        }
        let sounds_on = |sound: &&Sound| sound.at < at && sound.end() > at && !beyond(instrument, sound);
        let sounding_on: Vec<Sound> = sounds.iter().filter(sounds_on).map(Sound::without_marks).collect();
        self.keep_marks(&mut begins, &sounding_on, at);
        if !self.can_be_struck(&begins, &[]) {
            self.keep_harmonics(&mut begins, |_| true);
        }
        for sound in &mut begins {
            lock_note(instrument, sound, &lock);
        }
        if !lock.is_empty() && !self.can_be_struck(&begins, &[]) {
            return Err(self.lock_fault(at));
        }
        self.keep_playable(&mut begins, at);
        let milliseconds =
            previous.map_or(BEFORE_THE_FIRST, |before| self.tune.tempo_at(before).milliseconds(at - before));
        let begins_bar = previous.is_none_or(|before| self.tune.bar_index(before) != self.tune.bar_index(at));
        let struck = begins.iter().map(|sound| sound.note).collect();
        let note = |sound: &Sound| SoundingNote { pitch: sound.note.pitch, part: sound.part };
        let sounding_on = sounding_on.iter().map(note).collect();
        Ok(Asked { at, begins, written: WrittenDemand { milliseconds, begins_bar, struck, sounding_on } })
    }

    /// Whether some hand can hold what begins together with what sounds on.
    fn can_be_struck(&self, begins: &[Sound], sounding_on: &[Sound]) -> bool {
        // A natural harmonic that rings needs no finger.
        let needs_hand = |sound: &&Sound| !matches!(sound.note.harmonic, Some(Harmonic::Natural(_)));
        let held = sounding_on.iter().filter(needs_hand);
        let all: Vec<WrittenNote> = begins.iter().chain(held).map(|sound| sound.note).collect();
        let mut any = false;
        written_grips(self.reach, &Grip::SILENT, &all, |_| any = true);
        any
    }

    /// Gives up harmonics; a note that sounds in no other way is left as it is.
    fn keep_harmonics(&mut self, sounds: &mut [Sound], is_refused: impl Fn(&Sound) -> bool) {
        for sound in sounds.iter_mut().filter(|sound| sound.note.harmonic.is_some() && is_refused(sound)) {
            if !beyond(self.reach.instrument(), &sound.as_ordinary()) {
                *sound = sound.as_ordinary();
                self.give_way(sound.at, sound.part, GiveWayReason::HarmonicRefused);
            }
        }
    }

    /// Gives up the marks of a moment that contradict its notes.
    fn keep_marks(&mut self, begins: &mut [Sound], sounding_on: &[Sound], at: Ticks) {
        let plain: Vec<Sound> = begins.iter().map(Sound::without_marks).collect();
        if plain == *begins || self.can_be_struck(begins, sounding_on) {
            return;
        }
        if self.can_be_struck(&plain, sounding_on) || !self.can_be_struck(begins, &[]) {
            let marked = begins.iter().zip(&plain).find(|(marked, plain)| marked != plain);
            let part = marked.map_or(Part::Inner, |(sound, _)| sound.part);
            begins.copy_from_slice(&plain);
            self.give_way(at, part, GiveWayReason::MarkRefused);
        }
    }

    /// Gives up notes in part rank until a hand can hold the others.
    fn keep_playable(&mut self, begins: &mut Vec<Sound>, at: Ticks) {
        while begins.len() > 1 && !self.can_be_struck(begins, &[]) {
            let last = (0..begins.len()).max_by_key(|i| (begins[*i].part, begins[*i].note.pitch));
            let gone = begins.remove(last.unwrap_or(0));
            self.give_way(at, gone.part, GiveWayReason::OutOfReach);
        }
    }

    /// Every note with its place and both hands' fingers, and every tap that the right hand has room for.
    fn strokes(&mut self, demands: &[Asked], steps: &[Step], work: &Work) -> (Vec<ScoreNote>, Vec<ScoreTap>) {
        let mut strokes: Vec<Stroke> =
            steps.iter().zip(demands).map(|(step, demand)| stroke(self.reach, step, demand)).collect();
        let taps = self.taps(demands, &mut strokes, &work.plan.hand);
        let plucks = right_hand(&work.plan.hand, work.plan.instrument.string_count(), &strokes);
        (self.notes(demands, steps, &plucks), taps)
    }

    /// The taps: with the hand where nothing is plucked, else with the thumb where the fingers can do without it. What
    /// is plucked comes before a tap, which gives way.
    fn taps(&mut self, demands: &[Asked], strokes: &mut [Stroke], hand: &Hand) -> Vec<ScoreTap> {
        let given = self.tune.written_out().map_or(&[][..], |written_out| &written_out.taps);
        let mut taps = Vec::new();
        for Tap { at, length } in given.iter().copied() {
            let with = demands.binary_search_by_key(&at, |demand| demand.at).ok();
            let with = with.filter(|index| !strokes[*index].struck.is_empty());
            match with {
                None => taps.push(ScoreTap { at, length, by: TapBy::Hand }),
                Some(index) if can_tap(hand, &strokes[index]) => {
                    strokes[index].tapped = true;
                    taps.push(ScoreTap { at, length, by: TapBy::Thumb });
                }
                Some(_) => self.give_way(at, Part::Tap, GiveWayReason::ThumbPlucks),
            }
        }
        taps
    }

    fn notes(&mut self, demands: &[Asked], steps: &[Step], plucks: &[Plucks]) -> Vec<ScoreNote> {
        let mut notes = Vec::new();
        for (index, (demand, step)) in demands.iter().zip(steps).enumerate() {
            for sound in &demand.begins {
                let Some(string) = string_of(self.reach, step, sound.note.pitch) else { continue };
                let let_go = let_go(demands, steps, index, string, sound.end());
                if let Some(at) = let_go {
                    self.give_way(at, sound.part, GiveWayReason::LetGo);
                }
                let Some(hold) = step.grip.hold(string) else { continue };
                notes.push(ScoreNote {
                    at: sound.at,
                    length: let_go.map_or(sound.length, |at| at - sound.at),
                    written: sound.written,
                    place: Place { string, fret: hold.fret() },
                    touch: hold.touch(),
                    finger: hold.finger(),
                    pluck: plucks[index].finger(string),
                    part: sound.part,
                    tied_in: sound.tied_in,
                    tied_out: sound.tied_out && let_go.is_none(),
                });
            }
        }
        notes.sort_by_key(|note| (note.at, note.place.string));
        strike_what_is_not_held(&mut notes);
        notes
    }

    fn moments(&self, demands: &[Asked], steps: &[Step]) -> Vec<Moment> {
        let next = demands.iter().skip(1).map(|demand| demand.at).chain([self.tune.end()]);
        let moments = steps.iter().zip(demands).zip(next).map(|((step, demand), next)| Moment {
            at: demand.at,
            length: next - demand.at,
            milliseconds: demand.written.milliseconds,
            grip: step.grip,
            struck: stroke(self.reach, step, demand).struck,
            effort: step.effort,
            moved: step.moved,
        });
        moments.collect()
    }
}

/// Whether an instrument has no such note.
fn beyond(instrument: &Instrument, sound: &Sound) -> bool {
    sound.without_marks().note.holds(instrument).is_empty()
}

/// When a note that a step strikes is let go, if a hand cannot keep it to its end.
fn let_go(demands: &[Asked], steps: &[Step], index: usize, string: StringIndex, end: Ticks) -> Option<Ticks> {
    let hold = steps[index].grip.hold(string).map(Hold::struck);
    let later = demands.iter().zip(steps).skip(index + 1).take_while(|(demand, _)| demand.at < end);
    let mut gone = later.filter(|(_, step)| step.grip.hold(string) != hold);
    gone.next().map(|(demand, _)| demand.at)
}

/// The string on which a step strikes a pitch.
fn string_of(reach: &Reach, step: &Step, pitch: Pitch) -> Option<StringIndex> {
    let struck = step.grip.only(step.struck);
    let sounds = |(string, hold): (StringIndex, Hold)| hold.sounds(reach.instrument(), string) == Some(pitch);
    struck.holds().find(|there| sounds(*there)).map(|(string, _)| string)
}

/// What the right hand does at a moment: everything that begins there and is not tied in.
fn stroke(reach: &Reach, step: &Step, demand: &Asked) -> Stroke {
    let on_string = |sound: &Sound| Some((string_of(reach, step, sound.note.pitch)?, *sound));
    let sounds = || demand.begins.iter().filter(|sound| !sound.tied_in).filter_map(on_string);
    Stroke {
        struck: sounds().map(|(string, _)| string).collect::<StringSet>(),
        tapped: false,
        touched: sounds().any(|(_, sound)| sound.note.harmonic == Some(Harmonic::Artificial)),
        bass: sounds().find(|(_, sound)| sound.part == Part::Bass).map(|(string, _)| string),
        printed: sounds().filter_map(|(string, sound)| Some((string, sound.pluck?))).collect(),
        milliseconds: demand.written.milliseconds,
    }
}

/// Lays the arranger's locks over what is printed.
fn lock_note(instrument: &Instrument, sound: &mut Sound, lock: &Lock) {
    use crate::tune::Mark;
    if sound.part == Part::Melody && lock.melody.is_some() {
        sound.note.string = lock.melody;
    }
    let plays = |string, hold: Hold| hold.sounds(instrument, string) == Some(sound.note.pitch);
    let locked = lock.grip.and_then(|grip| grip.holds().find(|(string, hold)| plays(*string, *hold)));
    if let Some((string, hold)) = locked {
        sound.note.string = Some(string);
        sound.note.mark = Some(hold.finger().map_or(Mark::Open, Mark::Stopped));
        sound.note.harmonic = match hold.touch() {
            Touch::Natural => Some(Harmonic::Natural(Node::at(hold.fret()))),
            touch => Harmonic::of(touch),
        };
    }
}

/// A note that is tied over a repeat is struck where it does not lie as it lay before.
fn strike_what_is_not_held(notes: &mut [ScoreNote]) {
    let rings_in = |notes: &[ScoreNote], note: &ScoreNote| {
        let mut before = notes.iter().filter(|other| other.tied_out && other.pitch() == note.pitch());
        before.all(|other| {
            other.place == note.place && other.touch == note.touch && other.finger == note.finger
        })
    };
    for index in 0..notes.len() {
        if notes[index].tied_in && !rings_in(notes, &notes[index]) {
            notes[index].tied_in = false;
        }
    }
}
