//! What the ribbon shows, in quarter notes from the beginning and shares of its height.

use handspan_core::arrangement::{Arrangement, Moment};
use handspan_core::pitch::Pitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Line, LineNote};

use crate::names;
use crate::session::Session;

/// Everything that is drawn on the ribbon.
#[derive(Clone, PartialEq, Debug)]
pub struct RibbonModel {
    /// How long the tune is, in quarter notes.
    pub length: f32,
    /// The bars.
    pub bars: Vec<RibbonBar>,
    /// Chord symbols.
    pub chords: Vec<(f32, String)>,
    /// The melody.
    pub melody: Vec<Contour>,
    /// The hooks, as high as they stand beside the melody.
    pub hooks: Vec<Contour>,
    /// The lowest note that is struck, where more than the melody is.
    pub bass: Vec<Contour>,
    /// The moments.
    pub moments: Vec<RibbonMoment>,
}

/// Where the player stands, and what is selected.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Chosen {
    /// The index of the moment.
    pub here: usize,
    /// The passage.
    pub passage: Option<(f32, f32)>,
}

impl Chosen {
    /// What is chosen as the session stands.
    pub fn of(session: &Session) -> Self {
        let passage = session.passage().map(|p| (quarters(p.start), quarters(p.end)));
        Self { here: session.moment_index(), passage }
    }
}

/// A bar.
#[derive(Clone, PartialEq, Debug)]
pub struct RibbonBar {
    /// When it begins.
    pub at: f32,
    /// Its printed number.
    pub number: String,
    /// The section that begins with it.
    pub section: Option<String>,
}

/// A note as part of a contour.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Contour {
    /// From when.
    pub from: f32,
    /// Until when.
    pub to: f32,
    /// How high: 0 for the lowest note of its lane, 1 for the highest.
    pub height: f32,
}

/// A moment: how hard it is, and what is locked.
#[derive(Clone, PartialEq, Debug)]
pub struct RibbonMoment {
    /// From when.
    pub from: f32,
    /// Until when.
    pub to: f32,
    /// Grip and move together, as a share of the hardest moment's.
    pub effort: f32,
    /// Whether anything is locked.
    pub locked: bool,
}

impl RibbonModel {
    /// The ribbon as the session stands; none before anything is arranged.
    pub fn of(session: &Session) -> Option<Self> {
        let arrangement = session.arrangement()?;
        let tune = &arrangement.score.tune;
        let hooks = || tune.lines().iter().filter(|note| note.line == Line::Hook);
        let wider = |(low, high): (Pitch, Pitch), pitch: Pitch| (low.min(pitch), high.max(pitch));
        let (low, high) = hooks().map(LineNote::pitch).fold(tune.melody_range(), wider);
        let notes = tune.melody().iter();
        Some(Self {
            length: quarters(tune.end()),
            bars: bars(session),
            chords: tune.chords().iter().map(|c| (quarters(c.at), names::chord(&c.symbol))).collect(),
            melody: notes.map(|n| contour(n.at, n.length, share(n.pitch(), low, high))).collect(),
            hooks: hooks().map(|n| contour(n.at, n.length, share(n.pitch(), low, high))).collect(),
            bass: bass(arrangement),
            moments: moments(session, arrangement),
        })
    }

    /// The index of the moment that lasts at so many quarter notes.
    pub fn moment_at(&self, quarters: f32) -> Option<usize> {
        self.moments.partition_point(|m| m.from <= quarters).checked_sub(1)
    }

    /// The time at so many quarter notes.
    pub fn time(&self, quarters: f32) -> Ticks {
        let within = f64::from(quarters.clamp(0.0, self.length));
        Ticks::new((within * Ticks::PER_QUARTER as f64) as i64)
    }
}

/// A moment in words: `bar 7, beat 2: effort 23`.
pub fn moment_in_words(session: &Session, index: usize) -> Option<String> {
    let arrangement = session.arrangement()?;
    let moment = arrangement.moments.get(index)?;
    Some(format!("{}: effort {}", arrangement.score.tune.bar_beat(moment.at), effort(moment)))
}

fn effort(moment: &Moment) -> i32 {
    (moment.effort.total() + moment.moved.total()).points().max(0)
}

fn quarters(time: Ticks) -> f32 {
    time.quarters() as f32
}

fn contour(at: Ticks, length: Ticks, height: f32) -> Contour {
    Contour { from: quarters(at), to: quarters(at + length), height }
}

fn share(pitch: Pitch, low: Pitch, high: Pitch) -> f32 {
    let range = f32::from((high - low).semitones()).max(1.0);
    f32::from((pitch - low).semitones()) / range
}

fn bars(session: &Session) -> Vec<RibbonBar> {
    let bars = session.tune().bars().iter();
    bars.map(|bar| RibbonBar {
        at: quarters(bar.start),
        number: bar.number.clone(),
        section: bar.section.clone(),
    })
    .collect()
}

fn bass(arrangement: &Arrangement) -> Vec<Contour> {
    let instrument = &arrangement.score.instrument;
    let lowest = |m: &Moment| {
        let struck = m.grip.only(m.struck);
        let pitch = struck.voicing().pitches(instrument).min();
        pitch.filter(|_| struck.len() > 1).map(|p| (m.at, p))
    };
    let found: Vec<(Ticks, Pitch)> = arrangement.moments.iter().filter_map(lowest).collect();
    let Some(low) = found.iter().map(|(_, p)| *p).min() else {
        return Vec::new();
    };
    let high = found.iter().map(|(_, p)| *p).max().unwrap_or(low);
    // A bass note is drawn until the next one.
    let ends = found.iter().skip(1).map(|(at, _)| *at).chain([arrangement.score.tune.end()]);
    found
        .iter()
        .zip(ends)
        .map(|((at, pitch), end)| contour(*at, end - *at, share(*pitch, low, high)))
        .collect()
}

fn moments(session: &Session, arrangement: &Arrangement) -> Vec<RibbonMoment> {
    let hardest = arrangement.moments.iter().map(effort).max().unwrap_or(0).max(1);
    let moment = |m: &Moment| RibbonMoment {
        from: quarters(m.at),
        to: quarters(m.at + m.length),
        effort: effort(m) as f32 / hardest as f32,
        locked: !session.work().plan.locks.at(m.at).is_empty(),
    };
    arrangement.moments.iter().map(moment).collect()
}

#[cfg(test)]
mod tests {
    use handspan_core::arrangement::Edit;
    use handspan_core::tune::Mend;

    use super::*;
    use crate::command::{Command, Go, LockWish};

    #[test]
    fn the_ribbon_holds_the_whole_tune() {
        let session = Session::on_demo().after(Command::Go(Go::Next)).after(Command::Lock(LockWish::Grip));
        let ribbon = RibbonModel::of(&session).unwrap();
        let tune = session.tune();
        assert_eq!(ribbon.bars.len(), tune.bars().len());
        assert_eq!(ribbon.chords.len(), tune.chords().len());
        assert_eq!(ribbon.melody.len(), tune.melody().len());
        assert_eq!(Chosen::of(&session), Chosen { here: 1, passage: None });
        let locked: Vec<usize> = (0..ribbon.moments.len()).filter(|i| ribbon.moments[*i].locked).collect();
        assert_eq!(locked, [1]);
        let hardest = ribbon.moments.iter().map(|m| m.effort).fold(0.0, f32::max);
        assert!((hardest - 1.0).abs() < f32::EPSILON);
    }

    #[test]
    fn hooks_stand_beside_the_melody() {
        let session = Session::on_demo();
        assert_eq!(RibbonModel::of(&session).unwrap().hooks, []);
        // The first note of the tune becomes a hook.
        let first = session.tune().melody()[0];
        let mark = Mend::MarkAsLine { line: Line::Hook, passage: first.at..first.end() };
        let session = session.after(Command::Edit(Edit::Tune(mark)));
        let ribbon = RibbonModel::of(&session).unwrap();
        assert_eq!(ribbon.hooks.len(), 1);
        assert!((ribbon.hooks[0].from - quarters(first.at)).abs() < f32::EPSILON);
        assert!((0.0..=1.0).contains(&ribbon.hooks[0].height));
        assert_eq!(ribbon.melody.len(), session.tune().melody().len());
    }

    #[test]
    fn contours_keep_their_order() {
        let ribbon = RibbonModel::of(&Session::on_demo()).unwrap();
        for voice in [&ribbon.melody, &ribbon.bass] {
            assert!(!voice.is_empty());
            assert!(voice.windows(2).all(|pair| pair[0].to <= pair[1].from + 0.001));
            assert!(voice.iter().all(|note| (0.0..=1.0).contains(&note.height)));
        }
    }
}
