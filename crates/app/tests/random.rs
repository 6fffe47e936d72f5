//! A hundred thousand random commands with undo and redo: no panic, and undo and redo give the work back exactly.

use std::sync::Arc;

use handspan_app::command::{
    Browse, Command, Go, LockWish, RouteWish, SheetWish, TuneWish, ViewWish, entries,
};
use handspan_app::job::Lane;
use handspan_app::session::{Place, Session};
use handspan_core::arrangement::{Edit, Work};
use handspan_core::grip::Order;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::neck::{Instrument, StringIndex, Tuning};
use handspan_core::pitch::Interval;
use handspan_core::plan::Plan;
use handspan_core::time::Ticks;
use handspan_formats::musicxml;

/// How many commands are tried.
const COMMANDS: usize = 100_000;
/// Jobs answer after so many commands on average; in between commands meet answers that are not there yet.
const ANSWERS: usize = 400;
/// Longer tunes are cut short again, so that arranging stays quick.
const MOST_BARS: usize = 4;
/// How many steps undo remembers.
const STEPS: usize = 100;

/// Two bars of quarter notes: quickly arranged.
const TUNE: &str = r#"<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes>
<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>
<note><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration></note>
<note><pitch><step>G</step><octave>5</octave></pitch><duration>1</duration></note></measure>
<measure number="2"><harmony><root><root-step>G</root-step></root><kind>dominant</kind></harmony>
<note><pitch><step>D</step><octave>5</octave></pitch><duration>2</duration></note></measure></part></score-partwise>"#;

/// A small generator of our own (xorshift, Marsaglia 2003), so that every run draws the same commands.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides as u64) as usize
    }

    fn flip(&mut self) -> bool {
        self.roll(2) == 0
    }
}

/// What undo and redo have to give.
struct Model {
    works: Vec<Arc<Work>>,
    now: usize,
}

impl Model {
    fn changed(&mut self, work: &Work) {
        if *work != *self.works[self.now] {
            self.works.truncate(self.now + 1);
            self.works.push(Arc::new(work.clone()));
            if self.works.len() > STEPS + 1 {
                self.works.remove(0);
            }
            self.now = self.works.len() - 1;
        }
    }
}

fn random_edit(dice: &mut Dice) -> Edit {
    match dice.roll(4) {
        0 => Edit::Transpose(Interval::new(dice.roll(7) as i16 - 3)),
        1 => Edit::Hand(Hand {
            size: [HandSize::Small, HandSize::Medium, HandSize::Large][dice.roll(3)],
            thumb: dice.flip(),
            little_plucks: dice.flip(),
        }),
        _ => {
            let tuning = Tuning::named(Tuning::COMMON[dice.roll(3)].0).expect("a common tuning has a name");
            let capo = dice.roll(3) as u8;
            Edit::Instrument(
                Instrument::try_new(tuning, 19, Instrument::CLASSICAL_SCALE, capo)
                    .expect("a guitar with a capo"),
            )
        }
    }
}

fn random_command(dice: &mut Dice, table: &[Command]) -> Command {
    let at = |dice: &mut Dice| Ticks::new(dice.roll(5) as i64 * Ticks::PER_QUARTER);
    match dice.roll(12) {
        0 => Command::Edit(random_edit(dice)),
        1 => Command::Browse(Browse::Row(dice.roll(40))),
        2 => Command::Browse(Browse::By(Order::ALL[dice.roll(Order::ALL.len())])),
        3 => Command::Lock(LockWish::MelodyOn(StringIndex::new(dice.roll(6)))),
        4 => Command::Go(Go::To(at(dice))),
        5 => {
            let (from, to) = (at(dice), at(dice));
            Command::Select((dice.roll(3) > 0).then_some(from.min(to)..from.max(to)))
        }
        6 | 7 => Command::Undo,
        8 => Command::Redo,
        _ => table[dice.roll(table.len())].clone(),
    }
}

/// The commands of the table that need neither a file nor a sheet to be engraved.
fn table() -> Vec<Command> {
    let cheap = |command: &Command| {
        !matches!(
            command,
            Command::File(_)
                | Command::Undo
                | Command::Redo
                | Command::View(ViewWish::Place(Place::Sheet))
                | Command::Route(RouteWish::Passage)
        )
    };
    let mut table: Vec<Command> = entries().map(|e| e.command.clone()).filter(cheap).collect();
    table.push(Command::Sheet(SheetWish::Read(7)));
    table.push(Command::Lock(LockWish::Take));
    table
}

#[test]
fn random_commands_never_panic_and_undo_gives_the_work_back() {
    let tune = musicxml::read_tune(TUNE.as_bytes()).unwrap().value;
    let mut session = Session::new(Work { tune: Arc::new(tune), plan: Plan::default() }, Lane::Inline);
    while session.poll() {}
    let mut model = Model { works: vec![Arc::new(session.work().clone())], now: 0 };
    let (mut dice, table) = (Dice(0x5EED_CAFE), table());
    let (mut undone, mut redone, mut changed) = (0, 0, 0);
    for _ in 0..COMMANDS {
        let long = session.work().tune.bars().len() > MOST_BARS;
        let command =
            if long { Command::Tune(TuneWish::RemoveBar) } else { random_command(&mut dice, &table) };
        // A gesture ends with its command here; how gestures join is shown beside the history.
        session.run(Command::CloseGesture);
        match command {
            Command::Undo => {
                let possible = model.now > 0;
                assert_eq!(session.can(&Command::Undo), possible);
                model.now = model.now.saturating_sub(1);
                undone += usize::from(possible);
            }
            Command::Redo => {
                let possible = model.now + 1 < model.works.len();
                assert_eq!(session.can(&Command::Redo), possible);
                model.now += usize::from(possible);
                redone += usize::from(possible);
            }
            _ => {}
        }
        let steps = matches!(command, Command::Undo | Command::Redo);
        session.run(command.clone());
        if !steps {
            let before = model.now;
            model.changed(session.work());
            changed += usize::from(model.now != before);
        }
        assert!(*session.work() == *model.works[model.now], "after {command:?}");
        if dice.roll(ANSWERS) == 0 {
            while session.poll() {}
            model.changed(session.work());
        }
    }
    // The dice have to reach what they are thrown for.
    assert!(
        undone > 5_000 && redone > 1_000 && changed > 10_000,
        "{undone} undone, {redone} redone, {changed} changed"
    );
}
