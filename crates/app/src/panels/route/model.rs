//! What the place of routes shows.

use std::ops::Range;

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{Arrangement, Moment};
use handspan_core::demand::Part;
use handspan_core::grip::MoveEffort;
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
    /// Effort of all grips and moves.
    pub total: i32,
    /// How much more (or, below zero, less) than the route as it is.
    pub difference: i32,
    /// The hardest moves.
    pub hardest: Vec<(Ticks, String)>,
    /// What sounds more or less than in the route as it is: `2 inner notes fewer`. An effort is no gain by itself where
    /// less is played.
    pub fuller: Vec<String>,
    /// Whether less sounds.
    pub is_thinner: bool,
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
    /// `bar 7, beat 2: effort 23`
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
        let now = arrangement.excerpt(&scope);
        let mut cards = vec![card("As it is now".to_owned(), None, &now, &now, false)];
        for (index, route) in routes.found().iter().enumerate() {
            let looked_at = routes.looked_at() == Some(index);
            let title = format!("Route {}", index + 1);
            cards.push(card(title, Some(index), &route.excerpt(&scope), &now, looked_at));
        }
        Some(Self {
            scope: in_words(tune, &scope),
            taken_for: in_words(tune, &taken_for),
            cards,
            is_compared,
            is_current: session.routes_are_current(),
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

fn card(
    title: String,
    index: Option<usize>,
    route: &Arrangement,
    now: &Arrangement,
    looked_at: bool,
) -> RouteCard {
    let differences = differences(route, now);
    let tune = &route.score.tune;
    let hardest = route.hardest_moves(HARDEST).into_iter().filter(|(_, moved)| moved.total().points() > 0);
    let of_move = |(index, moved): (usize, MoveEffort)| {
        let at = route.moments.get(index)?.at;
        let why = moved.terms().max_by_key(|(_, points)| *points).map_or("", |(term, _)| term.name());
        Some((at, format!("{}: {}, {why}", tune.bar_beat(at), moved.total())))
    };
    RouteCard {
        title,
        index,
        total: route.effort.points(),
        difference: (route.effort - now.effort).points(),
        fuller: differences.iter().map(|(part, more)| difference_in_words(*part, *more)).collect(),
        is_thinner: differences.iter().any(|(_, more)| *more < 0),
        hardest: hardest.filter_map(of_move).collect(),
        facts: vec![
            count(route.open_strings(), "open string", "open strings"),
            count(route.shifts(), "shift", "shifts"),
        ],
        give_ways: route.give_ways.iter().map(|g| (g.at, give_way_in_words(g))).collect(),
        looked_at,
    }
}

/// How many notes more, or below zero fewer, are struck of each part where that differs.
fn differences(route: &Arrangement, now: &Arrangement) -> Vec<(Part, i64)> {
    let struck = |of: &Arrangement, part| {
        of.score.notes.iter().filter(|note| note.part == part && !note.tied_in).count() as i64
    };
    let parts = [Part::Melody, Part::Bass, Part::Hook, Part::Inner];
    let more = parts.map(|part| (part, struck(route, part) - struck(now, part)));
    more.into_iter().filter(|(_, more)| *more != 0).collect()
}

/// `2 inner notes fewer`
fn difference_in_words(part: Part, more: i64) -> String {
    let part = if part == Part::Inner { "inner" } else { part.name() };
    let notes = count(more.unsigned_abs() as usize, &format!("{part} note"), &format!("{part} notes"));
    format!("{notes} {}", if more < 0 { "fewer" } else { "more" })
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
            words: format!("{}: effort {}", route.score.tune.bar_beat(moment.at), names::points(effort)),
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
                "{}: {} ({}); {:?}; {}; {}; {} gave way",
                card.title,
                card.total,
                card.difference,
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
        expect![[r"
            As it is now: 558 (0); []; bar 2, beat 1: 121, shift | bar 3, beat 2: 88, shift | bar 3, beat 3: 26, shift; 8 open strings, 4 shifts; 0 gave way
            Route 1: 558 (0); []; bar 2, beat 1: 121, shift | bar 3, beat 2: 88, shift | bar 3, beat 3: 26, shift; 8 open strings, 4 shifts; 0 gave way
            Route 2: 654 (96); []; bar 3, beat 4: 128, shift | bar 2, beat 1: 121, shift | bar 3, beat 2: 90, shift; 7 open strings, 2 shifts; 0 gave way
            Route 3: 666 (108); []; bar 3, beat 4: 126, shift | bar 3, beat 2: 88, shift | bar 2, beat 1: 86, shift; 6 open strings, 6 shifts; 0 gave way"]].assert_eq(&told(&model));
    }

    #[test]
    fn less_effort_for_fewer_notes_is_said_to_be_that() {
        let mut session = Session::on_demo();
        for _ in 0..3 {
            session = session.after(Command::Go(Go::NextBar));
        }
        for _ in 0..4 {
            session = session.after(Command::Widen(true));
        }
        let model = RouteModel::of(&session.after(Command::Route(RouteWish::Compare))).unwrap();
        assert_eq!(model.scope, "bars 4 to 7");
        let less: Vec<_> = model.cards.iter().filter(|card| card.difference < 0).collect();
        assert!(!less.is_empty() && less.iter().all(|card| card.is_thinner), "{}", told(&model));
        expect!["2 inner notes fewer"].assert_eq(&less[0].fuller.join(", "));
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
