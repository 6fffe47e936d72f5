//! Keys, tunings and capo positions side by side: how easily a tune lies in each.
//!
//! Every combination gets the route that arranging the tune so gives, the easiest there is, or a proven reason why not.
//! What cannot come among the best is not searched: it has to give up more basses than they do, whatever the hands can
//! do between. Combinations depend on no other, so they are worked out side by side; the answer is the same in whichever
//! order they are done.

use std::ops::RangeInclusive;
use std::sync::{Arc, Mutex, PoisonError};

use itertools::Itertools as _;

use super::arrange::{assemble, tied};
use super::arrangement::Work;
use super::ease::Ease;
use super::edit::basses_only;
use super::impossible::{Impossible, transpositions};
use super::seams::Tied;
use crate::demand::demands;
use crate::grip::{BassChoice, Reach};
use crate::neck::{Instrument, Tuning};
use crate::pitch::Interval;
use crate::plan::{Lie, Plan};
use crate::route::Finder;
use crate::tune::Tune;
use crate::watch::{Beside, Piece, Watch};

/// So many of the best are always searched.
pub const BEST_LIES: usize = 12;

/// So many for each processor are given out at a time, so that one which was busy elsewhere is soon used again.
const AT_A_TIME: usize = 4;

/// So many tunings are compared unless the arranger says otherwise: those that one tunes to in a minute.
const TUNINGS: usize = 6;
/// The capo goes so far up unless the arranger says otherwise: beyond, the melody has little neck left.
const HIGHEST_CAPO: u8 = 4;

/// Semitones from a key to the next of its name.
const OCTAVE: i16 = 12;

/// What is compared: every key in every tuning with every capo.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LieScope {
    /// The tunings, of as many strings as the guitar has; others are left out.
    pub tunings: Vec<Tuning>,
    /// The frets that the capo may sit at, 0 for none; those that leave too little neck are left out.
    pub capos: RangeInclusive<u8>,
    /// Which octaves of a key are tried.
    pub octaves: Octaves,
}

impl LieScope {
    /// What an arranger asks for who has nothing else in mind: the guitar's own tuning and the most common others, with
    /// and without a capo.
    pub fn usual(guitar: &Instrument) -> Self {
        let tunings = tunings(guitar).into_iter().take(TUNINGS).collect();
        Self { tunings, capos: 0..=HIGHEST_CAPO, octaves: Octaves::Nearest }
    }
}

/// The tunings that a guitar can be compared in: its own first, then the common ones of as many strings.
pub fn tunings(guitar: &Instrument) -> Vec<Tuning> {
    let own = guitar.tuning().clone();
    let others = |tuning: &Tuning| {
        tuning.open_strings().len() == own.open_strings().len() && tuning.open_strings() != own.open_strings()
    };
    let common = Tuning::COMMON.iter().filter_map(|(name, _)| Tuning::named(name)).filter(others);
    std::iter::once(own.clone()).chain(common).collect()
}

/// Which octaves of a key are tried.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Octaves {
    /// The one nearest to the tune as written in which the whole melody lies on the guitar.
    #[default]
    Nearest,
    /// Each of them, up to two octaves from the tune as written; the easiest stands for the key.
    Every,
}

/// A way to lie, and what came of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LieRow {
    /// Key, tuning and capo, in the easiest octave, or the nearest one where none was searched.
    pub lie: Lie,
    /// How easy it is, or why not.
    pub found: LieFound,
}

/// What came of a way to lie.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LieFound {
    /// The easiest route there is.
    Easiest(Ease),
    /// Not searched: at least so many basses have to be given up, more than the best of the others lose.
    BassesGiveWay(usize),
    /// The melody does not lie on the guitar, in whichever octave is tried.
    OutOfRange,
    /// No hand can hold what has to be held: a note that is tied over a repeat, on one string.
    NoRoute,
}

impl LieFound {
    /// Why there is no route, as a player says it; none where there is one.
    pub fn why_not(&self) -> Option<String> {
        match self {
            Self::Easiest(_) => None,
            Self::BassesGiveWay(1) => {
                Some("at least 1 bass would have to give way, more than in the best".to_owned())
            }
            Self::BassesGiveWay(basses) => {
                Some(format!("at least {basses} basses would have to give way, more than in the best"))
            }
            Self::OutOfRange => Some("not all of the melody lies on the neck".to_owned()),
            Self::NoRoute => Some("no hand can hold what is tied over a repeat".to_owned()),
        }
    }
}

/// All that is compared.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LieTable {
    /// The rows: the best first, then those that were not searched.
    pub rows: Vec<LieRow>,
    /// How many there will be.
    pub all: usize,
}

impl LieTable {
    /// Whether nothing is missing.
    pub fn is_whole(&self) -> bool {
        self.rows.len() == self.all
    }
}

/// Compares ways for a tune to lie on the guitar of a plan, under its hand and aim, what is locked of basses moved
/// along; other locks belong to one way alone and are left aside.
///
/// `tell` hears of the table whenever a row more is known, from whichever thread found it; what it hears is not yet
/// final. Stopped early, the table lacks what was not looked at.
///
/// # Errors
/// Where there is no melody, or the tune is written out for the guitar already.
pub fn compare_lies(
    work: &Work,
    scope: &LieScope,
    watch: &dyn Watch,
    tell: &(dyn Fn(LieTable) + Sync),
) -> Result<LieTable, Impossible> {
    if work.tune.melody().is_empty() {
        return Err(Impossible::NoMelody);
    }
    if work.tune.written_out().is_some() {
        return Err(Impossible::WrittenOut);
    }
    let asked = asked(work, scope);
    let known = Mutex::new(Known { asked: &asked, solved: Vec::with_capacity(asked.len()) });
    let most_given_up = || known.lock().unwrap_or_else(PoisonError::into_inner).most_given_up();
    let piece = |(number, asked): (usize, &Asked)| {
        if let Some(solved) = asked.solve(number, work, most_given_up(), watch) {
            let mut known = known.lock().unwrap_or_else(PoisonError::into_inner);
            let table = known.with(Some(solved));
            watch.progress(table.rows.len(), table.all);
            tell(table);
        }
    };
    let numbered: Vec<(usize, &Asked)> = asked.iter().enumerate().collect();
    for some in numbered.chunks(AT_A_TIME * watch.at_once()) {
        if watch.should_stop() {
            break;
        }
        watch.side_by_side(some.iter().map(|asked| -> Piece<'_> { Box::new(|| piece(*asked)) }).collect());
    }
    Ok(known.into_inner().unwrap_or_else(PoisonError::into_inner).with(None))
}

/// Whether what [`compare_lies`] finds for one work holds for another: the tune, the hand, the aim, the locked basses and
/// the guitar but for tuning and capo are the same.
pub fn compare_alike(one: &Work, other: &Work) -> bool {
    let guitar = |guitar: &Instrument| (guitar.string_count(), guitar.frets_from_nut(), guitar.scale());
    let lie = one.plan.lie();
    Arc::ptr_eq(&one.tune, &other.tune)
        && guitar(&lie.instrument) == guitar(&other.plan.instrument)
        && planned(one, &lie, lie.transpose) == planned(other, &lie, lie.transpose)
}

/// A key in a tuning with a capo, and the octaves to try.
struct Asked {
    /// The nearest octave of the key.
    key: Lie,
    octaves: Vec<Interval>,
    /// How hard it is likely to be.
    outlook: i64,
}

/// Everything that is asked for, what is likely to be easiest first.
fn asked(work: &Work, scope: &LieScope) -> Vec<Asked> {
    let mut all = Vec::new();
    for instrument in instruments(&work.plan.instrument, scope) {
        let within = transpositions(&work.tune, &instrument);
        for key in (-OCTAVE / 2..OCTAVE / 2).map(Interval::new) {
            let is_in_key = |t: &&Interval| (t.semitones() - key.semitones()) % OCTAVE == 0;
            // A bass line may leave the range of notes that exist where the melody does not.
            let in_key = within.iter().filter(is_in_key).filter(|t| work.tune.transposed(**t).is_some());
            let most = if scope.octaves == Octaves::Every { usize::MAX } else { 1 };
            let octaves: Vec<Interval> = in_key.copied().take(most).collect();
            let lie = Lie { transpose: key, instrument: instrument.clone() };
            let outlook = octaves.first().map_or(i64::MAX, |octave| outlook(work, &lie, *octave));
            all.push(Asked { key: lie, octaves, outlook });
        }
    }
    all.sort_by_key(|asked| asked.outlook);
    all
}

/// The guitar in every tuning with every capo.
fn instruments(guitar: &Instrument, scope: &LieScope) -> Vec<Instrument> {
    let tunings = scope.tunings.iter().filter(|t| t.open_strings().len() == guitar.string_count());
    let with_capo = tunings.cartesian_product(scope.capos.clone());
    let instrument = |(tuning, capo): (&Tuning, u8)| {
        Instrument::try_new(tuning.clone(), guitar.frets_from_nut(), guitar.scale(), capo).ok()
    };
    with_capo.filter_map(instrument).collect()
}

/// How hard a way to lie is likely to be, counted without a search: the frets of the melody where it lies lowest, less so
/// many for every bass that an open string sounds. Only what is tried first depends on it; on four tunes the best twelve
/// of 360 were among the first 14 to 68.
fn outlook(work: &Work, lie: &Lie, octave: Interval) -> i64 {
    const OPEN_BASS: i64 = 5;
    let Some(tune) = work.tune.transposed(octave) else { return i64::MAX };
    let open = |bass: BassChoice| {
        let mut strings = lie.instrument.strings().map(|string| lie.instrument.open_pitch(string));
        bass != BassChoice::Free && strings.any(|pitch| bass.admits(pitch))
    };
    let lowest = |pitch| lie.instrument.places(pitch).map(|place| i64::from(place.fret.number())).min();
    let frets: i64 = tune.melody().iter().filter_map(|note| lowest(note.pitch())).sum();
    let demands = demands(&tune, &planned(work, lie, octave));
    let basses = demands.iter().filter_map(|demand| demand.accompaniment).filter(|wanted| open(wanted.bass));
    frets - OPEN_BASS * basses.count() as i64
}

/// The plan of a way to lie in one octave.
fn planned(work: &Work, lie: &Lie, octave: Interval) -> Plan {
    let further = Interval::new(octave.semitones() - work.plan.transpose.semitones());
    Plan {
        instrument: lie.instrument.clone(),
        transpose: octave,
        locks: basses_only(&work.plan.locks, further),
        ..work.plan
    }
}

/// What has been found out about one key, tuning and capo.
struct Solved {
    /// Which of all that are asked for.
    number: usize,
    /// How many basses have to be given up for certain.
    certain: usize,
    /// The easiest octave; none where none was searched, or no hand can hold what is tied.
    best: Option<Best>,
}

/// The easiest route in one octave.
struct Best {
    octave: Interval,
    /// What routes are compared by.
    rank: (i64, i32, i64),
    basses_given_up: usize,
    ease: Ease,
}

impl Asked {
    /// Works it out, unless it has to give up more basses than that; none when stopped, as soon as can be.
    fn solve(&self, number: usize, work: &Work, most_given_up: usize, watch: &dyn Watch) -> Option<Solved> {
        let octaves = self.octaves.iter().take_while(|_| !watch.should_stop());
        let octaves: Vec<InOctave> =
            octaves.filter_map(|octave| InOctave::new(work, &self.key, *octave)).collect();
        let certain = octaves.iter().map(|octave| octave.certain).min().unwrap_or(0);
        let mut best: Option<Best> = None;
        for mut octave in octaves.into_iter().filter(|_| certain <= most_given_up) {
            if best.as_ref().is_none_or(|best| octave.certain <= best.basses_given_up) {
                let found = octave.easiest(watch);
                best = best.into_iter().chain(found).min_by_key(|best| best.rank);
            }
        }
        (!watch.should_stop()).then_some(Solved { number, certain, best })
    }

    fn row(&self, solved: &Solved, most_given_up: usize) -> LieRow {
        let lie = self.in_octave(self.octaves.first().copied().unwrap_or(self.key.transpose));
        match &solved.best {
            _ if self.octaves.is_empty() => LieRow { lie, found: LieFound::OutOfRange },
            _ if solved.certain > most_given_up => {
                LieRow { lie, found: LieFound::BassesGiveWay(solved.certain) }
            }
            None => LieRow { lie, found: LieFound::NoRoute },
            Some(Best { octave, ease, .. }) => {
                LieRow { lie: self.in_octave(*octave), found: LieFound::Easiest(ease.clone()) }
            }
        }
    }

    fn in_octave(&self, octave: Interval) -> Lie {
        Lie { transpose: octave, ..self.key.clone() }
    }
}

/// A tune as it lies in one octave, and what is known of its strokes.
struct InOctave {
    tune: Arc<Tune>,
    plan: Plan,
    finder: Finder,
    /// How many basses have to be given up for certain.
    certain: usize,
}

impl InOctave {
    fn new(work: &Work, lie: &Lie, octave: Interval) -> Option<Self> {
        let tune = Arc::new(work.tune.transposed(octave)?);
        let plan = planned(work, lie, octave);
        let mut finder = Finder::new(&Reach::new(&plan.instrument, &plan.hand));
        let certain = finder.basses_given_up_for_certain(&demands(&tune, &plan));
        Some(Self { tune, plan, finder, certain })
    }

    /// The easiest route; none where no hand can hold what is tied.
    fn easiest(&mut self, watch: &dyn Watch) -> Option<Best> {
        let Self { tune, plan, finder, .. } = self;
        let Tied { demands, route } = tied(finder, tune, plan, &Beside(watch)).ok()?;
        Some(Best {
            octave: plan.transpose,
            rank: route.rank(plan.aim),
            basses_given_up: route.basses_given_up(),
            ease: Ease::of(&assemble(finder.reach(), Arc::clone(tune), &demands, &route)),
        })
    }
}

/// What is known so far.
struct Known<'a> {
    asked: &'a [Asked],
    solved: Vec<Solved>,
}

impl Known<'_> {
    /// How many basses a way may give up to be among the best.
    fn most_given_up(&self) -> usize {
        let given_up =
            self.solved.iter().filter_map(|solved| solved.best.as_ref()).map(|best| best.basses_given_up);
        given_up.sorted_unstable().nth(BEST_LIES - 1).unwrap_or(usize::MAX)
    }

    /// Takes in what has been found out, and gives the table as far as it is known.
    fn with(&mut self, solved: Option<Solved>) -> LieTable {
        self.solved.extend(solved);
        let rank = |solved: &Solved| solved.best.as_ref().map(|best| best.rank);
        let most_given_up = self.most_given_up();
        let is_searched = |solved: &Solved| solved.best.is_some() && solved.certain <= most_given_up;
        self.solved.sort_by_key(|solved| {
            (!is_searched(solved), rank(solved).filter(|_| is_searched(solved)), solved.number)
        });
        let rows =
            self.solved.iter().map(|solved| self.asked[solved.number].row(solved, most_given_up)).collect();
        LieTable { rows, all: self.asked.len() }
    }
}
