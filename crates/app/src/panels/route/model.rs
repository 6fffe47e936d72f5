//! What the place of routes shows.

use std::ops::Range;

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{Arrangement, Moment};
use handspan_core::demand::Part;
use handspan_core::grip::{Effort, MoveEffort};
use handspan_core::plan::Lock;
use handspan_core::time::Ticks;
use handspan_core::tune::Tune;

use crate::names;
use crate::panels::status::give_way_in_words;
use crate::session::{ROUTES_COMPARED, Routes, Session, count};

/// How many hardest moves a card names.
const HARDEST: usize = 3;

/// Everything that is shown.
#[derive(Clone, PartialEq, Debug)]
pub struct RouteModel {
    /// What is compared: `the whole tune`, `bars 5 to 8`.
    pub scope: String,
    /// What a route is taken for.
    pub taken_for: String,
    /// The route as it is now, then those that were found.
    pub cards: Vec<RouteCard>,
    /// Whether routes were looked for and are shown.
    pub is_compared: bool,
    /// Whether they were found for the work as it is.
    pub is_current: bool,
    /// Why there are fewer than were looked for.
    pub few: Option<&'static str>,
    /// What is locked in the scope and stands in the way of easier ones.
    pub locks: Vec<(Ticks, String)>,
    /// The effort of every moment of the route as it is, and, of the one looked at, of the moments that differ.
    pub curves: Vec<Curve>,
    /// The bars with their numbers, in quarter notes.
    pub bars: Vec<(f64, String)>,
    /// The passage in quarter notes.
    pub passage: Option<(f64, f64)>,
}

/// A route as a card.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RouteCard {
    /// `As it is now`, `Route 2`.
    pub title: String,
    /// The number of the route among those found; none for the one as it is.
    pub index: Option<usize>,
    /// Effort of all grips, and of all moves into the passage, through it and out of it.
    pub total: i32,
    /// How much more (or, below zero, less) than the route as it is; none for that one, and where the work has changed
    /// since, so that the two cannot be compared.
    pub difference: Option<i32>,
    /// The hardest moves.
    pub hardest: Vec<(Ticks, String)>,
    /// What sounds more or less than in the route as it is: `2 inner notes fewer`, `bass notes ring 1.5 quarters less in
    /// all`. An effort is no gain by itself where less sounds.
    pub fuller: Vec<String>,
    /// Whether less sounds or other notes do: then less effort is no gain by itself.
    pub costs_notes: bool,
    /// Strokes on open strings, changes of position.
    pub facts: Vec<String>,
    /// What gave way.
    pub give_ways: Vec<(Ticks, String)>,
    /// Whether the neck shows it.
    pub looked_at: bool,
}

/// The effort of every moment of a route.
#[derive(Clone, PartialEq, Debug)]
pub struct Curve {
    /// What it is called.
    pub name: String,
    /// When, for how long, and how much, in words too.
    pub steps: Vec<Step>,
}

/// A moment's effort.
#[derive(Clone, PartialEq, Debug)]
pub struct Step {
    /// When.
    pub at: Ticks,
    /// The same in quarter notes.
    pub from: f64,
    /// Until when.
    pub to: f64,
    /// The effort of grip and move.
    pub effort: f64,
    /// `bar 7, beat 2: effort 23, the move there included`
    pub words: String,
}

impl RouteModel {
    /// What is shown as the session stands; none before anything is arranged.
    pub fn of(session: &Session) -> Option<Self> {
        let arrangement = session.arrangement()?;
        let routes = session.routes();
        let tune = session.tune();
        let is_compared = !routes.found().is_empty();
        let compared = if is_compared { routes.passage() } else { session.passage() };
        let whole = Ticks::ZERO..tune.end();
        let scope = compared.cloned().unwrap_or_else(|| whole.clone());
        let taken_for = routes.passage().or_else(|| session.passage()).cloned().unwrap_or(whole);
        let is_current = session.routes_are_current();
        let found = routes.found().iter().enumerate().map(|(index, route)| {
            let looked_at = routes.looked_at() == Some(index);
            card(Some(index), route, is_current.then_some(arrangement), &scope, looked_at)
        });
        let cards = std::iter::once(card(None, arrangement, None, &scope, false)).chain(found).collect();
        Some(Self {
            scope: in_words(tune, &scope),
            taken_for: in_words(tune, &taken_for),
            cards,
            is_compared,
            is_current,
            few: few(routes),
            locks: locks(session, &scope),
            curves: curves(session, arrangement),
            bars: tune.bars().iter().map(|bar| (bar.start.quarters(), bar.number.clone())).collect(),
            passage: session.passage().map(|p| (p.start.quarters(), p.end.quarters())),
        })
    }

    /// The time of the moment that lasts at so many quarter notes.
    pub fn time(quarters: f64) -> Ticks {
        Ticks::new((quarters.max(0.0) * Ticks::PER_QUARTER as f64) as i64)
    }
}

/// Why fewer routes are shown than were looked for; nothing while they are being looked for.
fn few(routes: &Routes) -> Option<&'static str> {
    let is_few = (1..ROUTES_COMPARED).contains(&routes.found().len()) && routes.comparing().is_none();
    is_few.then_some(if routes.were_stopped() {
        "Stopped before it was known whether there are more"
    } else {
        "No more routes are different enough"
    })
}

fn in_words(tune: &Tune, passage: &Range<Ticks>) -> String {
    if passage.start <= Ticks::ZERO && passage.end >= tune.end() {
        "the whole tune".to_owned()
    } else {
        bars(tune, passage)
    }
}

/// The card of a route found, or of the one as it is; with the one as it is where the two can be compared.
fn card(
    index: Option<usize>,
    route: &Arrangement,
    now: Option<&Arrangement>,
    scope: &Range<Ticks>,
    looked_at: bool,
) -> RouteCard {
    let passage = route.excerpt(scope);
    let total = route.effort_through(scope);
    let differences = now.map_or_else(Vec::new, |now| differences(&passage, &now.excerpt(scope)));
    RouteCard {
        title: index.map_or_else(|| "As it is now".to_owned(), |index| format!("Route {}", index + 1)),
        index,
        total: total.points(),
        difference: now.map(|now| (total - now.effort_through(scope)).points()),
        fuller: differences.iter().map(Difference::in_words).collect(),
        costs_notes: differences.iter().any(Difference::is_less),
        hardest: hardest(route, scope),
        facts: vec![
            count(passage.open_strings(), "open string", "open strings"),
            count(passage.shifts(), "shift", "shifts"),
        ],
        give_ways: passage.give_ways.iter().map(|g| (g.at, give_way_in_words(g))).collect(),
        looked_at,
    }
}

/// The hardest moves into the passage, in it and out of it.
fn hardest(route: &Arrangement, scope: &Range<Ticks>) -> Vec<(Ticks, String)> {
    let reached = route.reached_through(scope);
    let of_move = |(index, moved): (usize, MoveEffort)| {
        let at = route.moments[index].at;
        let why = moved.terms().max_by_key(|(_, points)| *points).map_or("", |(term, _)| term.name());
        (at, format!("{}: {}, {why}", route.score.tune.bar_beat(at), moved.total()))
    };
    let all = route.hardest_moves(route.moments.len()).into_iter();
    let hard = all.filter(|(index, moved)| reached.contains(index) && moved.total() > Effort::NONE);
    hard.take(HARDEST).map(of_move).collect()
}

/// What of a part sounds more, or below zero less, than in the route as it is.
enum Difference {
    /// So many notes.
    Notes(Part, i64),
    /// As many notes, which ring for so long in all.
    Ring(Part, Ticks),
    /// As many notes, of which so many are others.
    Others(Part, usize),
}

impl Difference {
    fn is_less(&self) -> bool {
        match self {
            Self::Notes(_, more) => *more < 0,
            Self::Ring(_, more) => *more < Ticks::ZERO,
            Self::Others(..) => true,
        }
    }

    /// `2 inner notes fewer`, `bass notes ring 1.5 quarters less in all`
    fn in_words(&self) -> String {
        let (Self::Notes(part, _) | Self::Ring(part, _) | Self::Others(part, _)) = self;
        let part = if *part == Part::Inner { "inner" } else { part.name() };
        let notes = |many| count(many, &format!("{part} note"), &format!("{part} notes"));
        match self {
            Self::Notes(_, more) => {
                let many = notes(more.unsigned_abs() as usize);
                format!("{many} {}", if self.is_less() { "fewer" } else { "more" })
            }
            Self::Others(_, many) => format!("{} changed", notes(*many)),
            Self::Ring(_, more) => {
                let long = ((more.quarters().abs() * 100.0).round() / 100.0).to_string();
                let quarters = if long == "1" { "quarter" } else { "quarters" };
                let more = if self.is_less() { "less" } else { "more" };
                format!("{part} notes ring {long} {quarters} {more} in all")
            }
        }
    }
}

fn differences(route: &Arrangement, now: &Arrangement) -> Vec<Difference> {
    let parts = [Part::Melody, Part::Bass, Part::Hook, Part::Inner];
    parts.into_iter().flat_map(|part| differences_of(part, route, now)).collect()
}

fn differences_of(part: Part, route: &Arrangement, now: &Arrangement) -> Vec<Difference> {
    let of = |of: &Arrangement| {
        let notes = of.score.notes.iter().filter(|note| note.part == part);
        let ring = notes.clone().map(|note| note.length).sum::<Ticks>();
        (notes.filter(|note| !note.tied_in).map(|note| (note.at, note.pitch())).collect::<Vec<_>>(), ring)
    };
    let ((struck, ring), (struck_now, ring_now)) = (of(route), of(now));
    if struck.len() != struck_now.len() {
        return vec![Difference::Notes(part, struck.len() as i64 - struck_now.len() as i64)];
    }
    let others = struck.iter().filter(|note| !struck_now.contains(note)).count();
    let others = (others > 0).then_some(Difference::Others(part, others));
    let ring = (ring != ring_now).then(|| Difference::Ring(part, ring - ring_now));
    others.into_iter().chain(ring).collect()
}

fn locks(session: &Session, scope: &Range<Ticks>) -> Vec<(Ticks, String)> {
    let named = |lock: &Lock| {
        let parts =
            [lock.grip.map(|_| "grip"), lock.melody.map(|_| "melody's string"), lock.bass.map(|_| "bass")];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    };
    let inside = session.work().plan.locks.iter().filter(|(at, _)| scope.contains(at));
    inside.map(|(at, lock)| (at, format!("{}: {}", session.tune().bar_beat(at), named(&lock)))).collect()
}

fn curves(session: &Session, arrangement: &Arrangement) -> Vec<Curve> {
    let looked_at = session.routes().looked_at();
    let other = looked_at.and_then(|index| Some((index, session.routes().found().get(index)?)));
    let other = other.map(|(index, route)| {
        let differs = |moment: &Moment| !is_as_in(arrangement, moment);
        Curve { name: format!("Route {}", index + 1), steps: steps(route, differs) }
    });
    [Curve { name: "As it is now".to_owned(), steps: steps(arrangement, |_| true) }]
        .into_iter()
        .chain(other)
        .collect()
}

/// Whether a route does the same at a moment: the grip, and how much it costs to hold and to get there.
fn is_as_in(route: &Arrangement, moment: &Moment) -> bool {
    let there = route.moments.get(route.moment_index(moment.at)).filter(|there| there.at == moment.at);
    there.is_some_and(|there| {
        (there.grip, there.struck, there.effort, there.moved)
            == (moment.grip, moment.struck, moment.effort, moment.moved)
    })
}

fn steps(route: &Arrangement, is_meant: impl Fn(&Moment) -> bool) -> Vec<Step> {
    let step = |moment: &Moment| {
        let effort = (moment.effort.total() + moment.moved.total()).points();
        Step {
            at: moment.at,
            from: moment.at.quarters(),
            to: (moment.at + moment.length).quarters(),
            effort: f64::from(effort.max(0)),
            words: format!(
                "{}: effort {}, the move there included",
                route.score.tune.bar_beat(moment.at),
                names::points(effort)
            ),
        }
    };
    route.moments.iter().filter(|moment| is_meant(moment)).map(step).collect()
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Command, Go, LockWish, RouteWish};

    fn on_two_bars() -> Session {
        Session::on_demo()
            .after(Command::Go(Go::NextBar))
            .after(Command::Widen(true))
            .after(Command::Widen(true))
    }

    fn told(model: &RouteModel) -> String {
        let card = |card: &RouteCard| {
            let hardest: Vec<&str> = card.hardest.iter().map(|(_, words)| words.as_str()).collect();
            format!(
                "{}: {}{}; {:?}; {}; {}; {} gave way",
                card.title,
                card.total,
                card.difference.map_or_else(String::new, |more| format!(" ({more})")),
                card.fuller,
                hardest.join(" | "),
                card.facts.join(", "),
                card.give_ways.len()
            )
        };
        model.cards.iter().map(card).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn routes_through_a_passage_side_by_side() {
        let session = on_two_bars().after(Command::Route(RouteWish::Compare));
        let model = RouteModel::of(&session).unwrap();
        assert_eq!(model.scope, "bars 2 to 3");
        assert!(model.is_compared && model.is_current && model.cards.len() > 1);
        expect![[r#"
            As it is now: 685; []; bar 3, beat 4: 132, shift | bar 2, beat 1: 124, shift | bar 3, beat 2: 101, shift; 8 open strings, 2 shifts; 0 gave way
            Route 1: 685 (0); []; bar 3, beat 4: 132, shift | bar 2, beat 1: 124, shift | bar 3, beat 2: 101, shift; 8 open strings, 2 shifts; 0 gave way
            Route 2: 733 (48); []; bar 4, beat 1: 143, shift | bar 2, beat 1: 124, shift | bar 3, beat 2: 113, shift; 7 open strings, 4 shifts; 0 gave way
            Route 3: 741 (56); ["1 inner note changed"]; bar 3, beat 4: 132, shift | bar 3, beat 2: 128, shift | bar 2, beat 1: 92, shift; 6 open strings, 5 shifts; 0 gave way"#]].assert_eq(&told(&model));
    }

    #[test]
    fn what_a_route_costs_more_is_what_the_whole_tune_does() {
        // The next bar begins with open strings, so that the hand still stands as the passage left it.
        let mut session = Session::on_demo();
        for _ in 0..6 {
            session = session.after(Command::Go(Go::NextBar));
        }
        for _ in 0..2 {
            session = session.after(Command::Widen(true));
        }
        let session = session.after(Command::Route(RouteWish::Compare));
        let model = RouteModel::of(&session).unwrap();
        assert_eq!(model.scope, "bars 7 to 8");
        let now = session.arrangement().unwrap();
        let more = session.routes().found().iter().map(|route| (route.effort - now.effort).points());
        let told: Vec<_> = model.cards[1..].iter().map(|card| card.difference.unwrap()).collect();
        assert_eq!(told, more.collect::<Vec<_>>());
        let end = session.routes().passage().unwrap().end;
        let second = now.moments.iter().position(|moment| moment.at > end).unwrap();
        let differs = |route: &Arrangement| route.moments[second].moved != now.moments[second].moved;
        assert!(session.routes().found().iter().any(differs), "no route tells");
    }

    #[test]
    fn less_effort_for_fewer_or_other_notes_is_said_to_be_that() {
        let on_bars = |first: usize, count: usize| {
            let mut session = Session::on_demo();
            for _ in 1..first {
                session = session.after(Command::Go(Go::NextBar));
            }
            for _ in 0..count {
                session = session.after(Command::Widen(true));
            }
            RouteModel::of(&session.after(Command::Route(RouteWish::Compare))).unwrap()
        };
        for (first, count, scope, told_of) in
            [(2, 3, "bars 2 to 4", "1 inner note fewer"), (3, 2, "bars 3 to 4", "1 inner note changed")]
        {
            let model = on_bars(first, count);
            assert_eq!(model.scope, scope);
            let is_less = |card: &&RouteCard| card.difference.is_some_and(|more| more < 0);
            let less: Vec<_> = model.cards.iter().filter(is_less).collect();
            assert!(!less.is_empty() && less.iter().all(|card| card.costs_notes), "{}", told(&model));
            assert_eq!(less[0].fuller.join(", "), told_of);
        }
    }

    #[test]
    fn a_route_is_looked_at_and_taken() {
        let session = on_two_bars().after(Command::Route(RouteWish::Compare));
        let before = session.arrangement().unwrap().clone();
        let session = session.after(Command::Route(RouteWish::LookAt(1)));
        let looked_at = session.routes().found()[1].clone();
        let curves = RouteModel::of(&session).unwrap().curves;
        assert_eq!(curves.len(), 2);
        // Only what differs is marked: nothing outside the passage, but for the move out of it.
        let passage = session.routes().passage().unwrap().clone();
        let marked: Vec<Ticks> = curves[1].steps.iter().map(|step| step.at).collect();
        let inside = marked.iter().filter(|at| passage.contains(at)).count();
        assert!(inside > 0 && marked.len() <= inside + 1, "{marked:?}");
        assert_eq!(session.shown().unwrap().grip, looked_at.moments[session.moment_index()].grip);
        let session = session.after(Command::Route(RouteWish::Take(1)));
        let passage = session.routes().passage().unwrap().clone();
        let struck = |a: &Arrangement| -> Vec<_> {
            a.excerpt(&passage).moments.iter().map(|m| m.grip.only(m.struck)).collect()
        };
        let now = session.arrangement().unwrap();
        assert_eq!(struck(now), struck(&looked_at));
        assert_ne!(struck(now), struck(&before));
        let model = RouteModel::of(&session).unwrap();
        assert!(!model.is_current && !model.locks.is_empty());
        assert!(model.cards.iter().all(|card| card.difference.is_none()), "found for another work");
        let session = session.after(Command::Undo);
        assert_eq!(session.arrangement().unwrap(), &before);
    }

    #[test]
    fn locks_in_the_way_are_named() {
        let session = on_two_bars().after(Command::Lock(LockWish::Bass)).after(Command::Lock(LockWish::Grip));
        let locks = RouteModel::of(&session).unwrap().locks;
        expect!["bar 2, beat 1: grip, bass"]
            .assert_eq(&locks.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>().join("; "));
    }

    #[test]
    fn the_curve_has_every_moment() {
        let session = Session::on_demo();
        let model = RouteModel::of(&session).unwrap();
        let moments = session.arrangement().unwrap().moments.len();
        assert_eq!(model.curves[0].steps.len(), moments);
        assert_eq!(model.scope, "the whole tune");
        let third = &model.curves[0].steps[2];
        let at = RouteModel::time(f64::midpoint(third.from, third.to));
        assert_eq!(session.after(Command::Go(Go::To(at))).moment_index(), 2);
    }
}
