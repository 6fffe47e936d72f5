//! Keys, tunings and capo positions side by side, each against arranging the tune that way alone.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use handspan_core::arrangement::{
    BEST_LIES, Ease, Edit, Impossible, LieFound, LieRow, LieScope, LieTable, Octaves, ScoreNote, Work,
    arrange, compare_alike, compare_lies, transpositions,
};
use handspan_core::demand::demands;
use handspan_core::grip::{BassChoice, Reach};
use handspan_core::harmony::{ChordSymbol, Key};
use handspan_core::neck::Tuning;
use handspan_core::pitch::PitchClass;
use handspan_core::plan::{Aim, Plan};
use handspan_core::route::{Finder, Route, easiest};
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, ChordAt, MelodyNote, Mend, Tune, TuneParts};
use handspan_core::watch::{Piece, Unwatched, Watch};

/// Two bars over two chords, the melody in an octave.
fn work(octave: i8) -> Work {
    let half = Ticks::QUARTER * 2;
    let note = |(index, step): (i64, Step)| MelodyNote {
        at: half * index,
        length: half,
        written: SpelledPitch { spelling: Spelling::new(step, 0), octave },
        tied_in: false,
        tied_out: false,
    };
    let chord = |bar: i64, name: &str| ChordAt {
        at: half * (2 * bar),
        symbol: ChordSymbol::parse(name).expect("a chord symbol"),
    };
    let bar = |n: i64| Bar::plain((n + 1).to_string(), half * 2, Metre::COMMON, Key::default());
    let tune = Tune::try_new(TuneParts {
        bars: (0..2).map(bar).collect(),
        melody: (0..).zip([Step::E, Step::G, Step::F, Step::D]).map(note).collect(),
        chords: vec![chord(0, "C"), chord(1, "G7")],
        ..TuneParts::default()
    });
    Work { tune: Arc::new(tune.expect("two bars are a tune")), plan: Plan::default() }
}

fn scope(names: &[&str], highest_capo: u8, octaves: Octaves) -> LieScope {
    let tunings = names.iter().map(|name| Tuning::named(name).expect("a common tuning")).collect();
    LieScope { tunings, capos: 0..=highest_capo, octaves }
}

fn compared(work: &Work, scope: &LieScope) -> LieTable {
    compare_lies(work, scope, &Unwatched, &|_| {}).expect("a tune to compare")
}

/// The work as it is once a way to lie is taken.
fn taken(work: &Work, row: &LieRow) -> Work {
    let mut work = work.clone();
    Edit::Lie(row.lie.clone()).apply(&mut work);
    work
}

/// The easiest route, found for this way alone.
fn route(work: &Work) -> Route {
    let tune = work.tune.transposed(work.plan.transpose).expect("notes that exist");
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    easiest(&reach, &demands(&tune, &work.plan), work.plan.aim, &Unwatched).expect("a route")
}

#[test]
fn every_row_is_the_arrangement_that_taking_it_gives() {
    let work = work(5);
    let table = compared(&work, &scope(&["standard", "DADGAD"], 2, Octaves::Nearest));
    assert!(table.is_whole() && table.rows.len() == 12 * 2 * 3);
    let mut ranks = Vec::new();
    for row in &table.rows {
        let LieFound::Easiest(ease) = &row.found else { continue };
        let taken = taken(&work, row);
        assert_eq!(*ease, Ease::of(&arrange(&taken, &Unwatched).unwrap()), "{:?}", row.lie);
        ranks.push(route(&taken).rank(work.plan.aim));
    }
    assert!(ranks.len() > BEST_LIES && ranks.is_sorted(), "{ranks:?}");
    assert!(table.rows[0] != table.rows[1] && ranks[0] < ranks[BEST_LIES], "keys are not all the same");
}

#[test]
fn the_easiest_octave_stands_for_a_key() {
    let work = work(5);
    let [nearest, every] =
        [Octaves::Nearest, Octaves::Every].map(|octaves| compared(&work, &scope(&["standard"], 0, octaves)));
    let lower = every.rows.iter().filter(|row| row.lie.transpose.semitones() < -6).count();
    assert!(lower > 0, "{every:?}");
    let within = transpositions(&work.tune, &work.plan.instrument);
    for row in nearest.rows.iter().filter(|row| matches!(row.found, LieFound::Easiest(_))) {
        let semitones = row.lie.transpose.semitones();
        let mut in_key = within.iter().filter(|other| (other.semitones() - semitones) % 12 == 0);
        assert_eq!(in_key.next(), Some(&row.lie.transpose));
    }
    for row in &every.rows {
        let class = |row: &LieRow| row.lie.transpose.semitones().rem_euclid(12);
        let same_key = nearest.rows.iter().find(|other| class(other) == class(row)).unwrap();
        let rank = |row: &LieRow| route(&taken(&work, row)).rank(work.plan.aim);
        if matches!(row.found, LieFound::Easiest(_)) {
            assert!(rank(row) <= rank(same_key));
        }
    }
}

#[test]
fn what_must_give_up_more_basses_than_the_best_is_not_searched() {
    // So low that many keys leave no room for a bass.
    let work = work(2);
    let scope = scope(&["standard", "drop D"], 1, Octaves::Nearest);
    let table = compared(&work, &scope);
    let lost = |row: &LieRow| {
        let taken = taken(&work, row);
        let tune = taken.tune.transposed(taken.plan.transpose).expect("notes that exist");
        let mut finder = Finder::new(&Reach::new(&taken.plan.instrument, &taken.plan.hand));
        let certain = finder.basses_given_up_for_certain(&demands(&tune, &taken.plan));
        let lost = route(&taken).basses_given_up();
        assert!(certain <= lost, "{certain} and {lost}: {row:?}");
        lost
    };
    let mut best: Vec<usize> =
        table.rows.iter().filter(|row| row.found != LieFound::OutOfRange).map(lost).collect();
    best.sort_unstable();
    let most = best[BEST_LIES - 1];
    let mut left_out = 0;
    for row in &table.rows {
        match &row.found {
            LieFound::Easiest(_) => {}
            LieFound::BassesGiveWay(basses) => {
                assert!(*basses > most && lost(row) >= *basses, "{row:?}");
                left_out += 1;
            }
            LieFound::OutOfRange => {
                let refused = arrange(&taken(&work, row), &Unwatched).unwrap_err();
                assert!(matches!(refused, Impossible::OutOfRange { .. } | Impossible::BeyondMidi(_)));
            }
            LieFound::NoRoute => panic!("nothing is tied"),
        }
    }
    assert!(left_out > 0, "{table:?}");
}

#[test]
fn a_locked_bass_moves_along() {
    let mut work = work(5);
    let bass = Some(BassChoice::Class(PitchClass::from_semitones(4)));
    Edit::Bass { at: Ticks::ZERO, bass }.apply(&mut work);
    let table = compared(&work, &scope(&["standard"], 0, Octaves::Nearest));
    for row in table.rows.iter().filter(|row| matches!(row.found, LieFound::Easiest(_))) {
        let taken = taken(&work, row);
        let arranged = arrange(&taken, &Unwatched).unwrap();
        let LieFound::Easiest(ease) = &row.found else { continue };
        assert_eq!(*ease, Ease::of(&arranged));
        let lowest =
            arranged.score.notes.iter().filter(|note| note.at == Ticks::ZERO).map(ScoreNote::pitch).min();
        assert_eq!(lowest.unwrap().class(), PitchClass::from_semitones(4) + row.lie.transpose);
    }
}

/// Does the last piece first.
struct Backwards;

impl Watch for Backwards {
    fn should_stop(&self) -> bool {
        false
    }

    fn progress(&self, _done: usize, _total: usize) {}

    fn at_once(&self) -> usize {
        100
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        pieces.into_iter().rev().for_each(|piece| piece());
    }
}

/// Stops once so many rows are known, and counts how often it is asked from then on.
struct StopsAfter(usize, AtomicUsize, AtomicUsize);

impl Watch for StopsAfter {
    fn should_stop(&self) -> bool {
        let stops = self.1.load(Ordering::Relaxed) >= self.0;
        self.2.fetch_add(usize::from(stops), Ordering::Relaxed);
        stops
    }

    fn progress(&self, done: usize, _total: usize) {
        self.1.store(done, Ordering::Relaxed);
    }
}

#[test]
fn whatever_is_done_first_the_table_is_the_same() {
    let mut left_out = 0;
    for (octave, octaves) in [(2, Octaves::Nearest), (2, Octaves::Every), (5, Octaves::Every)] {
        let (work, scope) = (work(octave), scope(&["standard", "drop D"], 1, octaves));
        let backwards = compare_lies(&work, &scope, &Backwards, &|_| {}).unwrap();
        assert!(compared(&work, &scope) == backwards);
        left_out +=
            backwards.rows.iter().filter(|row| matches!(row.found, LieFound::BassesGiveWay(_))).count();
    }
    assert!(left_out > 0, "what is left out is what is asked about");
}

#[test]
fn what_is_known_is_told_and_kept_when_stopped() {
    let work = work(5);
    let told = Mutex::new(Vec::new());
    let tell = |table: LieTable| told.lock().unwrap().push(table.rows.len());
    let watch = StopsAfter(3, AtomicUsize::new(0), AtomicUsize::new(0));
    let scope = scope(&["standard"], 0, Octaves::Nearest);
    let table = compare_lies(&work, &scope, &watch, &tell).unwrap();
    assert_eq!((told.into_inner().unwrap(), table.rows.len(), table.all), (vec![1, 2, 3], 3, 12));
    assert!(!table.is_whole() && watch.2.load(Ordering::Relaxed) <= 12, "{:?}", watch.2);
}

#[test]
fn a_table_holds_as_long_as_the_question_is_the_same() {
    let work = work(5);
    let table = compared(&work, &scope(&["DADGAD"], 1, Octaves::Nearest));
    let changed = |edit: Edit| {
        let mut changed = work.clone();
        edit.apply(&mut changed);
        compare_alike(&work, &changed)
    };
    let bass = Some(BassChoice::Class(PitchClass::from_semitones(4)));
    let grip = Some(arrange(&work, &Unwatched).unwrap().moments[0].grip);
    assert!(changed(Edit::Lie(table.rows[0].lie.clone())));
    assert!(changed(Edit::Grip { at: Ticks::ZERO, grip }));
    assert!(!changed(Edit::Bass { at: Ticks::ZERO, bass }));
    assert!(!changed(Edit::Aim(Aim::Gentlest)));
    assert!(!changed(Edit::Tune(Mend::Title("Another".to_owned()))));
}

#[test]
fn a_capo_lowers_what_is_gripped() {
    let table = compared(&work(5), &scope(&["standard"], 2, Octaves::Nearest));
    let row = table.rows.iter().find(|row| row.lie.instrument.capo() == 2).unwrap();
    assert_eq!(row.lie.gripped().semitones() + 2, row.lie.transpose.semitones());
}
