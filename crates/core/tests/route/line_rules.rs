//! The rules where a bass line or hooks are written, stated without the search.
//!
//! What sounds on of them is held or let go, what begins of them is struck or lost. Under a stroke the bass line is the
//! stroke's bass; between strokes whatever rings may ring on: all that can stay, the chord's bass alone, or nothing.

use handspan_core::demand::{Accompaniment, Demand, LineDemand, MelodyDemand};
use handspan_core::grip::{BassChoice, Grip, grips};
use handspan_core::neck::StringIndex;
use handspan_core::pitch::Pitch;
use handspan_core::route::{LineStrings, candidates, worth};
use handspan_core::time::Ticks;

use crate::rules::{BASS_LOST, Choice, HIGHEST_UNDER_REST, Note, Rules, State};

/// What it costs that a note of a hook is lost, and that notes of either line are let go.
const HOOK_LOST: i64 = 10_000;
const BASS_LET_GO: i64 = 20_000;
const HOOK_LET_GO: i64 = 3_000;

/// What is held of the moment before: a melody note that sounds on, and of lines what is not let go.
#[derive(Clone, Copy)]
struct Held {
    melody: Option<Note>,
    bass: Option<Note>,
    hook: Option<Note>,
    /// What it costs to have let the others go.
    cost: i64,
}

impl Held {
    fn notes(self) -> impl Iterator<Item = Note> {
        self.melody.into_iter().chain(self.bass).chain(self.hook)
    }

    /// Everything that may be held.
    ///
    /// What sounds on at or above the melody has to be let go.
    fn all(rules: &Rules<'_>, demand: &Demand, before: &State) -> Vec<Self> {
        let note = |string: Option<StringIndex>| Some((string?, before.grip.hold(string?)?));
        let on =
            |line: LineDemand, string| note(string).filter(|_| matches!(line, LineDemand::SoundsOn { .. }));
        let melody = note(before.melody).filter(|_| matches!(demand.melody, MelodyDemand::SoundsOn { .. }));
        let bass = on(demand.lines.bass, before.lines.bass);
        let hook = on(demand.lines.hook, before.lines.hook);
        let mut all = vec![Self { melody, bass, hook, cost: 0 }];
        if bass.is_some() {
            all.push(Self { bass: None, cost: BASS_LET_GO, ..all[0] });
        }
        if hook.is_some() {
            let without: Vec<Self> =
                all.iter().map(|held| Self { hook: None, cost: held.cost + HOOK_LET_GO, ..*held }).collect();
            all.extend(without);
        }
        let top = demand.melody.pitch();
        let is_below = |note: Note| top.is_none_or(|top| rules.pitch(note) < Some(top));
        all.retain(|held| held.bass.into_iter().chain(held.hook).all(is_below));
        all
    }
}

impl Rules<'_> {
    /// Everything that may happen at a moment of lines.
    pub(crate) fn lined(&self, demand: &Demand, before: &State) -> Vec<Choice> {
        let go_on = |held: Held| match demand.accompaniment {
            Some(wanted) => self.lined_strokes(demand, wanted, held),
            None => self.lined_songs(demand, before, held),
        };
        Held::all(self, demand, before).into_iter().flat_map(go_on).collect()
    }

    /// The holds that sound a pitch below the melody, and none.
    fn holds_below(&self, demand: &Demand, pitch: Option<Pitch>) -> Vec<Option<Note>> {
        let pitch = pitch.filter(|pitch| demand.melody.pitch().is_none_or(|melody| *pitch < melody));
        let holds = pitch.map(|pitch| self.holds_of(pitch)).unwrap_or_default();
        [None].into_iter().chain(holds.into_iter().map(Some)).collect()
    }

    fn lined_strokes(&self, demand: &Demand, wanted: Accompaniment, held: Held) -> Vec<Choice> {
        let bass = held.bass.and_then(|note| self.pitch(note)).map_or(wanted.bass, BassChoice::Exact);
        let wanted = Accompaniment { bass, ..wanted };
        let kept = Grip::from_holds(held.notes());
        let mut all = Vec::new();
        if let Some(locked) = demand.lock.grip {
            if let Some(grip) = self.together(kept.holds().chain(locked.holds())) {
                all.extend(self.lined_stroke(demand, wanted, held, None, grip));
            }
            return all;
        }
        for hook in self.holds_below(demand, demand.lines.hook.begins()) {
            let Some(base) = self.together(kept.holds().chain(hook)) else { continue };
            let wish = candidates::wish(demand, wanted, &base, self.reach);
            let mut found = grips(self.reach.instrument(), self.reach.hand(), &wish);
            if matches!(demand.melody, MelodyDemand::Begins { .. }) {
                let sung = self.melody_holds(demand).into_iter();
                found.extend(sung.filter_map(|note| self.together(base.holds().chain([note]))));
            } else {
                found.push(base);
            }
            all.extend(found.into_iter().filter_map(|g| self.lined_stroke(demand, wanted, held, hook, g)));
        }
        all
    }

    /// The grip of these notes; none where two are on one string or no hand can hold them.
    fn together(&self, notes: impl Iterator<Item = Note>) -> Option<Grip> {
        let notes: Vec<Note> = notes.collect();
        let grip = Grip::from_holds(notes.iter().copied());
        (grip.len() == notes.len() && self.playable(&grip)).then_some(grip)
    }

    fn lined_stroke(
        &self,
        demand: &Demand,
        wanted: Accompaniment,
        held: Held,
        struck_hook: Option<Note>,
        grip: Grip,
    ) -> Option<Choice> {
        let top = demand.melody.pitch();
        let locked = demand.lock.grip.is_some();
        let melody = match demand.melody {
            MelodyDemand::Begins { .. } => Some(grip.holds().find(|note| self.pitch(*note) == top)?.0),
            MelodyDemand::SoundsOn { .. } => Some(held.melody?.0),
            MelodyDemand::Rest => None,
        };
        if melody.is_some() && demand.lock.melody.is_some_and(|only| Some(only) != melody) {
            return None;
        }
        let hook = held.hook.or(struck_hook);
        let is_hook = |string: StringIndex| hook.is_some_and(|(on, _)| on == string);
        let mut beneath: Vec<(Pitch, StringIndex)> = Vec::new();
        for note in grip.holds().filter(|(string, _)| Some(*string) != melody) {
            let pitch = self.pitch(note)?;
            let free = locked || is_hook(note.0);
            if top.map_or(pitch > HIGHEST_UNDER_REST && !free, |top| pitch >= top) {
                return None;
            }
            beneath.push((pitch, note.0));
        }
        beneath.sort_unstable();
        let lowest = beneath.iter().copied().find(|(_, string)| !is_hook(*string));
        let bass = lowest.filter(|(pitch, _)| locked || wanted.bass.admits(*pitch));
        // A hook lies above the bass; without one nothing else sounds but the melody.
        let figure = hook.and_then(|note| self.pitch(note));
        if figure.is_some_and(|figure| bass.map_or(beneath.len() > 1, |(pitch, _)| pitch >= figure)) {
            return None;
        }
        if held.bass.is_some_and(|(string, _)| bass.map(|(_, on)| on) != Some(string)) {
            return None;
        }
        let inner: Vec<Pitch> =
            beneath.iter().filter(|note| Some(**note) != bass).map(|(pitch, _)| *pitch).collect();
        let worth = worth::accompaniment(&wanted, top, bass.map(|(pitch, _)| pitch), &inner);
        let on_held = |string| held.notes().any(|(on, _)| on == string);
        let figures = |(pitch, string): &(Pitch, StringIndex)| {
            Some(*pitch) == demand.lines.hook.begins() && Some((*pitch, *string)) != bass && !on_held(*string)
        };
        let mut by_string = beneath.clone();
        by_string.sort_by_key(|(_, string)| *string);
        let in_lock = by_string.into_iter().find(figures).filter(|_| locked).map(|(_, string)| string);
        let of_line = bass.filter(|(pitch, _)| Some(*pitch) == demand.lines.bass.begins());
        let lines = LineStrings {
            bass: held.bass.map(|(string, _)| string).or(of_line.map(|(_, string)| string)),
            hook: hook.map(|(string, _)| string).or(in_lock),
        };
        let lost = if bass.is_none() { BASS_LOST } else { 0 } + hook_lost(demand, lines) + held.cost;
        let struck = grip.strings().without(held.notes().map(|(string, _)| string).collect());
        let choice = self.choice(grip, struck, melody, bass.map(|(_, string)| string));
        let cost = choice.cost - i64::from(worth) + lost;
        Some(Choice { cost, lines, loses_bass: bass.is_none(), ..choice })
    }

    fn lined_songs(&self, demand: &Demand, before: &State, held: Held) -> Vec<Choice> {
        let melodies = match demand.melody {
            MelodyDemand::Begins { .. } => self.melody_holds(demand).into_iter().map(Some).collect(),
            _ => vec![None],
        };
        let basses = self.holds_below(demand, demand.lines.bass.begins());
        let hooks = self.holds_below(demand, demand.lines.hook.begins());
        let mut choices = Vec::new();
        for melody in &melodies {
            for bass in &basses {
                for hook in &hooks {
                    let struck = [*melody, *bass, *hook];
                    choices.extend(self.lined_song(demand, before, held, struck));
                }
            }
        }
        choices
    }

    /// The ways to go on over what rings once it is clear what is struck of melody, bass line and hook.
    fn lined_song(
        &self,
        demand: &Demand,
        before: &State,
        held: Held,
        struck: [Option<Note>; 3],
    ) -> Vec<Choice> {
        let [melody, bass, hook] = struck;
        let struck = Grip::from_holds(struck.into_iter().flatten());
        let Some(base) = self.together(held.notes().chain(melody).chain(bass).chain(hook)) else {
            return Vec::new();
        };
        let lines = [bass.or(held.bass), hook.or(held.hook)];
        if let [Some(low), Some(high)] = lines.map(|note| self.pitch(note?))
            && low >= high
        {
            return Vec::new();
        }
        if demand.lock.grip.is_some_and(|locked| locked != struck) {
            return Vec::new();
        }
        let lines = LineStrings { bass: lines[0].map(|(s, _)| s), hook: lines[1].map(|(s, _)| s) };
        let loses_bass = matches!(demand.lines.bass, LineDemand::Begins { .. }) && lines.bass.is_none();
        let lost = if loses_bass { BASS_LOST } else { 0 } + hook_lost(demand, lines) + held.cost;
        let rings_on = demand.rings_on();
        let ringing = ringing(demand, before);
        let may_stay = |note: &&Note| {
            let pitch = self.pitch(**note);
            let under = demand.melody.pitch().is_none_or(|top| pitch < Some(top));
            under && bass.is_none_or(|bass| pitch > self.pitch(bass))
        };
        let may_stay: Vec<Note> = ringing.iter().filter(may_stay).copied().collect();
        let kept = self.kept_over(&may_stay, before.bass, base);
        let cost_of = |kept: &Grip| -> i64 {
            let gone = ringing.iter().filter(|(string, _)| kept.hold(*string).is_none());
            gone.map(|(string, _)| worth::cut(before.bass == Some(*string), rings_on)).sum()
        };
        let melody = melody.or(held.melody).map(|(string, _)| string);
        let choice = |kept: Grip| {
            let grip = Grip::from_holds(base.holds().chain(kept.holds()));
            let ringing_bass = before.bass.filter(|bass| kept.hold(*bass).is_some());
            let choice = self.choice(grip, struck.strings(), melody, lines.bass.or(ringing_bass));
            Choice { cost: choice.cost + cost_of(&kept) + lost, lines, loses_bass, ..choice }
        };
        kept.into_iter().map(choice).collect()
    }

    /// All that can stay of what may, the bass first; the bass alone; nothing.
    fn kept_over(&self, may_stay: &[Note], bass: Option<StringIndex>, base: Grip) -> Vec<Grip> {
        let with = |kept: Grip, note: Note| {
            let more = Grip::from_holds(kept.holds().chain([note]));
            self.together(base.holds().chain(more.holds())).map(|_| more)
        };
        let (low, inner): (Vec<Note>, Vec<Note>) =
            may_stay.iter().partition(|(string, _)| Some(*string) == bass);
        let most =
            low.iter().chain(&inner).fold(Grip::SILENT, |kept, note| with(kept, *note).unwrap_or(kept));
        let alone = low.first().and_then(|note| with(Grip::SILENT, *note));
        [most, Grip::SILENT].into_iter().chain(alone).collect()
    }
}

fn hook_lost(demand: &Demand, lines: LineStrings) -> i64 {
    let begins = matches!(demand.lines.hook, LineDemand::Begins { .. });
    if begins && lines.hook.is_none() { HOOK_LOST } else { 0 }
}

/// The accompaniment that rings into a moment. The bass before has ended where the bass line goes on.
fn ringing(demand: &Demand, before: &State) -> Vec<Note> {
    let over = before.bass.filter(|_| matches!(demand.lines.bass, LineDemand::Begins { .. }));
    let ended = [before.melody, before.lines.bass, before.lines.hook, over];
    let rings = |(string, _): &Note| demand.rings_on() > Ticks::ZERO && !ended.contains(&Some(*string));
    before.grip.holds().filter(rings).collect()
}
