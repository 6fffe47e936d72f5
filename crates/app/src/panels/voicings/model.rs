//! What the list of grips shows.

use handspan_core::grip::{Grip, GripEffort, MoveEffort, Order, Voicing};
use handspan_core::neck::StringIndex;

use crate::names;
use crate::session::Session;

/// The list as a whole; its rows are made when they come into sight.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct VoicingsModel {
    /// How many rows there are.
    pub rows: usize,
    /// How they are ranked.
    pub order: Order,
    /// The row that is looked at.
    pub looked_at: Option<usize>,
    /// The row that the route has.
    pub in_route: Option<usize>,
    /// Whether the rows belong to this moment.
    pub is_current: bool,
}

impl VoicingsModel {
    /// The list as the session stands.
    pub fn of(session: &Session) -> Self {
        let browsing = session.browsing();
        Self {
            rows: browsing.grips().len(),
            order: browsing.order(),
            looked_at: browsing.row(),
            in_route: session.route_row(),
            is_current: browsing.is_current(),
        }
    }
}

/// A row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct VoicingRow {
    /// The grip, for its chord box.
    pub grip: Grip,
    /// How many strings the chord box has.
    pub strings: usize,
    /// The frets as players write them.
    pub frets: String,
    /// The notes from the lowest up.
    pub notes: String,
    /// What it costs and gains, by name.
    pub terms: Vec<Term>,
    /// Everything together.
    pub total: i32,
}

/// A term of an effort.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Term {
    /// In a player's words.
    pub name: &'static str,
    /// Its points; credits are negative.
    pub points: i32,
}

impl VoicingRow {
    /// A row of the list, if there are so many.
    pub fn of(session: &Session, row: usize) -> Option<Self> {
        let ranked = session.browsing().grips().get(row)?;
        let score = &session.arrangement()?.score;
        let key = names::key_at(score, session.playhead());
        let voicing = ranked.grip.voicing();
        let notes: Vec<String> =
            voicing.places().rev().map(|place| names::sounding(score, place, key)).collect();
        let moved = ranked.moved.as_ref();
        Some(Self {
            grip: ranked.grip,
            strings: score.instrument.string_count(),
            frets: frets(&voicing, score.instrument.string_count()),
            notes: notes.join(" "),
            terms: grip_terms(&ranked.effort).chain(moved.into_iter().flat_map(move_terms)).collect(),
            total: ranked.total().points(),
        })
    }

    /// The terms in words: `fingers 9 · stretch 2 · open strings −3`.
    pub fn terms_in_words(&self) -> String {
        let words: Vec<String> =
            self.terms.iter().map(|t| format!("{} {}", t.name, names::points(t.points))).collect();
        words.join(" · ")
    }

    /// The row in words, for ears and for tests.
    pub fn words(&self, row: usize) -> String {
        format!(
            "Grip {}: {}, effort {}, {}",
            row + 1,
            self.frets,
            names::points(self.total),
            self.terms_in_words()
        )
    }
}

/// The frets from the lowest string to the highest, always apart, so that no font makes a sign of `0x0`.
fn frets(voicing: &Voicing, strings: usize) -> String {
    let fret = |string| voicing.fret(string).map_or_else(|| "x".to_owned(), |fret| fret.to_string());
    StringIndex::all(strings).rev().map(fret).collect::<Vec<_>>().join("-")
}

/// The terms of a grip.
pub fn grip_terms(effort: &GripEffort) -> impl Iterator<Item = Term> + '_ {
    effort.terms().map(|(term, points)| Term { name: term.name(), points: points.points() })
}

/// The terms of a move.
pub fn move_terms(effort: &MoveEffort) -> impl Iterator<Item = Term> + '_ {
    effort.terms().map(|(term, points)| Term { name: term.name(), points: points.points() })
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Browse, Command};

    #[test]
    fn the_first_rows_in_words() {
        let session = Session::on_demo();
        let rows: Vec<String> =
            (0..3).filter_map(|row| Some(VoicingRow::of(&session, row)?.words(row))).collect();
        expect![[r"
            Grip 1: x-x-x-0-0-2, effort −2, fingers 4 · open strings −6
            Grip 2: 3-x-0-0-0-2, effort 1, fingers 8 · skipped strings 2 · open strings −9
            Grip 3: 3-x-4-0-0-x, effort 6, fingers 8 · position 2 · skipped strings 2 · open strings −6"]]
        .assert_eq(&rows.join("\n"));
    }

    #[test]
    fn another_order_ranks_the_same_grips() {
        let session = Session::on_demo();
        let rows = VoicingsModel::of(&session).rows;
        let session = session.after(Command::Browse(Browse::By(Order::Fullest)));
        let model = VoicingsModel::of(&session);
        assert_eq!((model.rows, model.order), (rows, Order::Fullest));
        let notes = |row: usize| session.browsing().grips()[row].grip.len();
        assert!((1..rows).all(|row| notes(row - 1) >= notes(row)));
    }
}
