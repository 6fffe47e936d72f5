//! What the bar grid shows: bars in written order with chords, melody and signs, as the tune is given.
//!
//! A bar is made only when it is in sight, so that a long tune costs no more than a short one.

use handspan_core::pitch::Pitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, ChordAt, Jump, Line, LineNote, MelodyNote, Tune};

use crate::names;
use crate::session::value::length_name;
use crate::session::{Place, Session, Written};

/// The contour is never higher than so many semitones from the lowest to the highest note, or small steps would look
/// like leaps.
const LEAST_RANGE: i16 = 12;

/// A bar of the grid. Places in it are shares of the time that its metre has.
#[derive(Clone, PartialEq, Debug)]
pub struct BarCell {
    /// Its index in the tune.
    pub index: usize,
    /// When it begins.
    pub start: Ticks,
    /// Its printed number.
    pub number: String,
    /// The section that begins here.
    pub section: Option<String>,
    /// What changes here: key, metre, tempo, signs.
    pub words: Vec<String>,
    /// From where to where it sounds; a pickup begins late.
    pub span: (f32, f32),
    /// Its beats.
    pub beats: Vec<Beat>,
    /// Chord symbols.
    pub chords: Vec<ChordCell>,
    /// Melody, bass line and hooks; a note over the bar line stands in both bars.
    pub notes: Vec<NoteCell>,
    /// A repeat begins.
    pub repeat_start: bool,
    /// A repeat ends.
    pub repeat_end: bool,
    /// A numbered ending begins: `1.`
    pub ending: Option<String>,
    /// Something was said about the file here and has not been settled.
    pub remark: Option<String>,
    /// The moment that neck and ribbon show.
    pub moment: Option<(f32, f32)>,
    /// Where the caret stands.
    pub caret: Option<f32>,
}

/// A beat of a bar.
#[derive(Clone, PartialEq, Debug)]
pub struct Beat {
    /// When.
    pub at: Ticks,
    /// Where in the bar.
    pub place: f32,
    /// In words: `bar 7, beat 2`.
    pub words: String,
}

/// A chord symbol.
#[derive(Clone, PartialEq, Debug)]
pub struct ChordCell {
    /// From when on it holds.
    pub at: Ticks,
    /// Where in the bar.
    pub place: f32,
    /// With real signs.
    pub text: String,
    /// In words: `Chord Am7 in bar 7, beat 2`.
    pub words: String,
}

/// A note of the melody, as far as it lies in the bar.
#[derive(Clone, PartialEq, Debug)]
pub struct NoteCell {
    /// When it begins.
    pub at: Ticks,
    /// From where in the bar.
    pub from: f32,
    /// To where in the bar.
    pub to: f32,
    /// How high: 0 for the lowest note of the tune, 1 for the highest.
    pub height: f32,
    /// Its name without octave; empty where it only sounds on.
    pub name: String,
    /// It sounds on over the bar line.
    pub sounds_on: bool,
    /// The line that it belongs to; none for the melody.
    pub line: Option<Line>,
    /// It is the note that a change concerns.
    pub in_hand: bool,
    /// In words: `Note C♯5, quarter, in bar 7, beat 2`.
    pub words: String,
}

/// How the contour lies: the lowest note and how many semitones it is high.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Range {
    low: i16,
    semitones: i16,
}

impl Range {
    /// The range of a tune's melody, bass line and hooks.
    pub fn of(tune: &Tune) -> Self {
        let melody = tune.melody().iter().map(MelodyNote::pitch);
        let all = || melody.clone().chain(tune.lines().iter().map(LineNote::pitch));
        let (low, high) = all().min().zip(all().max()).unwrap_or((Pitch::new(64), Pitch::new(76)));
        let semitones = (high - low).semitones();
        let wider = (LEAST_RANGE - semitones).max(0);
        Self { low: i16::from(low.midi()) - wider / 2, semitones: semitones.max(LEAST_RANGE) }
    }

    fn share(self, pitch: Pitch) -> f32 {
        f32::from(i16::from(pitch.midi()) - self.low) / f32::from(self.semitones)
    }
}

/// A time as a share of its bar's metre.
#[derive(Clone, Copy)]
struct Scale {
    from: Ticks,
    whole: f32,
}

impl Scale {
    fn of(tune: &Tune, bar: &Bar) -> Self {
        // A pickup stands where the end of its full bar would.
        let missing = tune.bar_beat(bar.start).since_bar;
        let whole = (bar.length + missing).max(bar.metre.bar());
        Self { from: bar.start - missing, whole: whole.count() as f32 }
    }

    fn share(self, at: Ticks) -> f32 {
        (at - self.from).count() as f32 / self.whole
    }
}

impl BarCell {
    /// A bar of the tune as given.
    pub fn of(session: &Session, range: Range, index: usize) -> Option<Self> {
        let tune = &session.work().tune;
        let bar = tune.bars().get(index)?;
        let scale = Scale::of(tune, bar);
        let caret = session.writing().caret();
        let is_last = index + 1 == tune.bars().len();
        let caret_here = (bar.start..bar.end()).contains(&caret) || (is_last && caret >= bar.end());
        Some(Self {
            index,
            start: bar.start,
            number: bar.number.clone(),
            section: bar.section.clone(),
            words: words(tune, index),
            span: (scale.share(bar.start), scale.share(bar.end())),
            beats: beats(tune, bar, scale),
            chords: chords(tune, bar, scale),
            notes: notes(session, bar, scale, range),
            repeat_start: bar.repeat_start,
            repeat_end: bar.repeat_end.is_some(),
            ending: bar.ending.as_ref().map(|ending| passes(&ending.passes)),
            remark: remark(session, bar),
            moment: moment(session, bar, scale),
            caret: (session.place() == Place::Tune && caret_here).then(|| scale.share(caret.min(bar.end()))),
        })
    }

    /// The time at a place in the bar, on a grid of a length.
    pub fn time_at(&self, tune: &Tune, place: f32, grid: Ticks) -> Ticks {
        let Some(bar) = tune.bars().get(self.index) else {
            return self.start;
        };
        let scale = Scale::of(tune, bar);
        let since = (place * scale.whole) as i64 - (bar.start - scale.from).count();
        let grid = grid.count().max(1);
        let last = (bar.length.count() - 1).max(0);
        bar.start + Ticks::new(since.clamp(0, last) / grid * grid)
    }
}

fn passes(passes: &[u8]) -> String {
    let numbers: Vec<String> = passes.iter().map(|pass| format!("{pass}.")).collect();
    numbers.join(" ")
}

/// What is new with a bar, and the signs at its lines.
fn words(tune: &Tune, index: usize) -> Vec<String> {
    let bar = &tune.bars()[index];
    let before = index.checked_sub(1).map(|before| &tune.bars()[before]);
    let after = tune.tempi().partition_point(|mark| mark.at < bar.start);
    let tempo = tune.tempi().get(after).filter(|mark| mark.at < bar.end());
    let times = bar.repeat_end.filter(|times| *times > 2).map(|times| format!("{times} times"));
    let signs = [
        (bar.segno, "segno"),
        (bar.coda, "coda"),
        (bar.to_coda, "to coda"),
        (bar.fine, "fine"),
        (bar.jump == Some(Jump::DaCapo), "D.C."),
        (bar.jump == Some(Jump::DalSegno), "D.S."),
    ];
    [
        before.is_none_or(|before| before.key != bar.key).then(|| format!("{:#}", bar.key)),
        before.is_none_or(|before| before.metre != bar.metre).then(|| bar.metre.to_string()),
        tempo.map(|mark| format!("♩ {}", mark.tempo.quarters_a_minute())),
        times,
    ]
    .into_iter()
    .flatten()
    .chain(signs.iter().filter(|(stands, _)| *stands).map(|(_, sign)| (*sign).to_owned()))
    .collect()
}

fn beats(tune: &Tune, bar: &Bar, scale: Scale) -> Vec<Beat> {
    let beat = bar.metre.beat();
    // Beats of a pickup are counted from where its full bar would have begun.
    let times = (0..).map(|n| scale.from + beat * n).skip_while(|at| *at < bar.start);
    times
        .take_while(|at| *at < bar.end())
        .map(|at| Beat { at, place: scale.share(at), words: tune.bar_beat(at).to_string() })
        .collect()
}

fn chords(tune: &Tune, bar: &Bar, scale: Scale) -> Vec<ChordCell> {
    let chord = |chord: &ChordAt| {
        let text = names::chord(&chord.symbol);
        ChordCell {
            at: chord.at,
            place: scale.share(chord.at),
            words: format!("Chord {text} in {}", tune.bar_beat(chord.at)),
            text,
        }
    };
    let first = tune.chords().partition_point(|chord| chord.at < bar.start);
    tune.chords()[first..].iter().take_while(|chord| chord.at < bar.end()).map(chord).collect()
}

/// The notes of lines first, so that the melody lies on top.
fn notes(session: &Session, bar: &Bar, scale: Scale, range: Range) -> Vec<NoteCell> {
    let tune = &session.work().tune;
    let melody = tune.melody();
    let first = melody.partition_point(|note| note.end() <= bar.start);
    let melody = melody[first..].iter().map(|note| (None, Written::from(note)));
    let lines = tune.lines().iter().map(|note| (Some(note.line), Written::from(note)));
    let sound_here = |(_, note): &(Option<Line>, Written)| note.end() > bar.start && note.at < bar.end();
    let lines = lines.filter(sound_here);
    let melody = melody.take_while(|(_, note)| note.at < bar.end());
    lines.chain(melody).map(|(line, note)| note_cell(session, bar, (scale, range), line, &note)).collect()
}

fn note_cell(
    session: &Session,
    bar: &Bar,
    (scale, range): (Scale, Range),
    line: Option<Line>,
    note: &Written,
) -> NoteCell {
    let in_hand = session.note_in_hand().filter(|_| session.writing().voice() == line);
    let kind = match line {
        None => "Note",
        Some(Line::Bass) => "Bass",
        Some(Line::Hook) => "Hook",
    };
    NoteCell {
        at: note.at,
        from: scale.share(note.at.max(bar.start)),
        to: scale.share(note.end().min(bar.end())),
        height: note.written.pitch().map_or(0.0, |pitch| range.share(pitch)),
        name: if note.at >= bar.start { format!("{:#}", note.written.spelling) } else { String::new() },
        sounds_on: note.end() > bar.end(),
        line,
        in_hand: in_hand.is_some_and(|in_hand| in_hand.at == note.at),
        words: format!(
            "{kind} {:#}, {}, in {}",
            note.written,
            length_name(note.length),
            session.work().tune.bar_beat(note.at)
        ),
    }
}

fn remark(session: &Session, bar: &Bar) -> Option<String> {
    let tune = &session.work().tune;
    let open = session.import()?.remarks().iter().filter(|remark| !remark.is_settled);
    let here = |at: Option<Ticks>| at.is_some_and(|at| (bar.start..bar.end()).contains(&at));
    let messages: Vec<&str> = open
        .filter(|remark| here(remark.at(tune)))
        .map(|remark| remark.diagnostic.message.as_str())
        .collect();
    (!messages.is_empty()).then(|| messages.join("\n"))
}

fn moment(session: &Session, bar: &Bar, scale: Scale) -> Option<(f32, f32)> {
    let moment = session.moment()?;
    let (from, to) = (moment.at.max(bar.start), (moment.at + moment.length).min(bar.end()));
    (from < to).then(|| (scale.share(from), scale.share(to)))
}

/// How far the arrangement sounds from the tune as written, in a sentence; none where it does not.
pub fn transposed(session: &Session) -> Option<String> {
    let work = session.work();
    let key = work.tune.bars()[0].key.transposed(work.plan.transpose).0;
    match work.plan.transpose.semitones() {
        0 => None,
        n => {
            let semitones = crate::session::count(usize::from(n.unsigned_abs()), "semitone", "semitones");
            let way = if n > 0 { "higher" } else { "lower" };
            Some(format!("as written; it is played {semitones} {way}, in {key:#}"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, FileWish, NewTune, TuneWish};

    fn cell(session: &Session, index: usize) -> BarCell {
        BarCell::of(session, Range::of(&session.work().tune), index).expect("a bar")
    }

    #[test]
    fn the_grid_holds_the_whole_tune() {
        let session = Session::on_demo();
        let tune = &session.work().tune;
        let cells: Vec<BarCell> = (0..tune.bars().len()).map(|index| cell(&session, index)).collect();
        let chords: usize = cells.iter().map(|cell| cell.chords.len()).sum();
        let begin = cells.iter().flat_map(|cell| &cell.notes).filter(|note| !note.name.is_empty());
        assert_eq!((chords, begin.count()), (tune.chords().len(), tune.melody().len()));
        for note in cells.iter().flat_map(|cell| &cell.notes) {
            assert!(note.from < note.to && (0.0..=1.0).contains(&note.height), "{note:?}");
        }
        assert!(BarCell::of(&session, Range::of(tune), cells.len()).is_none());
    }

    #[test]
    fn a_tune_from_nothing_is_empty_bars_and_fills_with_notes() {
        let new = NewTune {
            title: "Two Bars".into(),
            composer: String::new(),
            key: handspan_core::harmony::Key::default(),
            metre: handspan_core::time::Metre::COMMON,
            bars: 2,
            tempo: handspan_core::time::Tempo::MODERATE,
        };
        let session = Session::on_demo().after(Command::File(FileWish::Begin(new)));
        let empty = cell(&session, 0);
        assert!(empty.notes.is_empty() && empty.chords.is_empty());
        assert_eq!((empty.beats.len(), empty.caret), (4, Some(0.0)));
        assert_eq!(empty.words, ["C major", "4/4", "♩ 96"]);
        let session = session.after(Command::Tune(TuneWish::Note(handspan_core::spelling::Step::C)));
        let written = cell(&session, 0);
        assert_eq!((written.notes.len(), written.caret), (1, Some(0.25)));
        assert_eq!(written.notes[0].words, "Note C4, quarter, in bar 1, beat 1");
        assert!(written.notes[0].in_hand);
    }
}
