//! What the table of keys, tunings and capo positions shows.

use handspan_core::arrangement::{Ease, LieFound, LieRow, LieScope, Octaves};
use handspan_core::harmony::Key;
use handspan_core::plan::{Aim, Lie};
use handspan_core::time::Ticks;
use handspan_core::tune::Tune;

use crate::panels::hands::model::how_far;
use crate::session::Session;

/// The heads of the columns, with what they mean.
pub const HEADS: [(&str, &str); 10] = [
    ("key", "The key that sounds"),
    ("gripped as", "The key that the hand grips: with a capo a lower one"),
    ("tuning", "The open strings"),
    ("capo", "The fret the capo sits at"),
    ("effort", "All grips and moves together"),
    ("hardest move", "What it costs, and where it comes"),
    ("open basses", "Bass notes on open strings, of all bass notes"),
    ("inner notes", "How many notes are struck between melody and bass"),
    ("gave way", "How much of what was asked for is not met"),
    ("melody up to", "The highest fret of the melody, counted from the capo"),
];

/// How many columns say how the tune lies; the others say how easy that is.
pub const PLACES: usize = 4;

/// Everything that is shown.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LiesModel {
    /// What is compared: `6 tunings, capo up to fret 4`.
    pub scope: String,
    /// How far it is: `120 of 360 compared`; none before anything is asked for.
    pub count: Option<String>,
    /// What comes first.
    pub order: &'static str,
    /// Whether the table was found for the tune, hand and guitar as they are.
    pub is_current: bool,
    /// Whether it compares what is chosen now.
    pub is_as_chosen: bool,
    /// The arrangement as it is, in the columns of the table; none while it is behind.
    pub now: Option<[String; HEADS.len()]>,
    /// The rows, the easiest first.
    pub rows: Vec<Row>,
}

/// A way for the tune to lie on the guitar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// In words: `D♭ major, drop D, capo 4`.
    pub name: String,
    /// How it would be.
    pub lie: Lie,
    /// Whether it is so now.
    pub is_now: bool,
    /// What stands in the columns; only how it lies where it was not searched.
    pub cells: [String; HEADS.len()],
    /// Why it was not searched.
    pub why_not: Option<String>,
}

impl LiesModel {
    /// What is shown as the session stands.
    pub fn of(session: &Session) -> Self {
        let lies = session.lies();
        let table = lies.table();
        let now = session.work().plan.lie();
        let row = |row: &LieRow| Row { is_now: row.lie == now, ..of_row(&session.work().tune, row) };
        Self {
            scope: scope_in_words(&session.lie_scope()),
            count: table.map(|table| match (lies.progress(), table.is_whole()) {
                (None, true) => format!("{} compared", table.all),
                _ => format!("{} of {} compared", table.rows.len(), table.all),
            }),
            order: match lies.aim() {
                Aim::LeastTotal => "the least effort first, less what the notes are worth to the ear",
                Aim::Gentlest => "the gentlest hardest move first",
            },
            is_current: session.lies_are_current(),
            is_as_chosen: session.lies_are_as_chosen(),
            now: session.arrangement().filter(|_| session.behind().is_none()).map(|arrangement| {
                let place = |at| arrangement.score.tune.bar_beat(at).bar;
                with_ease(places(&session.work().tune, &now), &Ease::of(arrangement), place)
            }),
            rows: table.map_or_else(Vec::new, |table| table.rows.iter().map(row).collect()),
        }
    }
}

/// `6 tunings, capo up to fret 4, other octaves too`
fn scope_in_words(scope: &LieScope) -> String {
    let tunings = match &scope.tunings[..] {
        [one] => one.name().to_owned(),
        several => format!("{} tunings", several.len()),
    };
    let capo = match scope.capos.end() {
        0 => ", no capo".to_owned(),
        fret => format!(", capo up to fret {fret}"),
    };
    let octaves = match scope.octaves {
        Octaves::Nearest => "",
        Octaves::Every => ", other octaves too",
    };
    format!("{tunings}{capo}{octaves}")
}

/// Key with how far it lies from the tune as written, key gripped, tuning and capo.
fn places(tune: &Tune, lie: &Lie) -> [String; PLACES] {
    let key = |key: Key| format!("{key:#}");
    let written = tune.bars()[0].key;
    let capo = lie.instrument.capo();
    let sounds = key(written.transposed(lie.transpose).0);
    [
        format!("{sounds}{}", how_far(lie.transpose)),
        if capo == 0 { String::new() } else { key(written.transposed(lie.gripped()).0) },
        lie.instrument.tuning().name().to_owned(),
        if capo == 0 { "–".to_owned() } else { capo.to_string() },
    ]
}

fn with_ease(places: [String; PLACES], ease: &Ease, bar: impl Fn(Ticks) -> String) -> [String; HEADS.len()] {
    let [key, gripped, tuning, capo] = places;
    let hardest = ease.hardest.filter(|(_, effort)| effort.points() > 0);
    [
        key,
        gripped,
        tuning,
        capo,
        ease.effort.to_string(),
        hardest.map_or_else(|| "–".to_owned(), |(at, effort)| format!("{effort}, bar {}", bar(at))),
        format!("{} of {}", ease.open_basses, ease.basses),
        ease.inner_notes.to_string(),
        if ease.give_ways == 0 { "–".to_owned() } else { ease.give_ways.to_string() },
        match ease.highest_fret.number() {
            0 => "open".to_owned(),
            fret => format!("fret {fret}"),
        },
    ]
}

fn of_row(tune: &Tune, LieRow { lie, found }: &LieRow) -> Row {
    let places = places(tune, lie);
    let capo = match lie.instrument.capo() {
        0 => String::new(),
        fret => format!(", capo {fret}"),
    };
    let key = tune.bars()[0].key.transposed(lie.transpose).0;
    let name = format!("{key:#}, {}{capo}", places[2]);
    let without = |places: [String; PLACES]| {
        let mut cells: [String; HEADS.len()] = Default::default();
        for (cell, place) in cells.iter_mut().zip(places) {
            *cell = place;
        }
        cells
    };
    let cells = match found {
        LieFound::Easiest(ease) => with_ease(places, ease, |at| tune.bar_beat(at).bar),
        _ => without(places),
    };
    Row { name, lie: lie.clone(), is_now: false, cells, why_not: found.why_not() }
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Command, LieWish};

    fn compared() -> Session {
        let session = Session::on_demo();
        let tunings = session.lie_tunings()[..1].to_vec();
        let scope = LieScope { tunings, capos: 0..=0, octaves: Octaves::Nearest };
        session.after(Command::Lie(LieWish::Within(scope))).after(Command::Lie(LieWish::Compare))
    }

    #[test]
    fn the_easiest_key_comes_first_and_the_one_that_is_now_is_marked() {
        let session = compared();
        let model = LiesModel::of(&session);
        assert_eq!(
            (model.scope.as_str(), model.count.as_deref()),
            ("standard, no capo", Some("12 compared"))
        );
        let now: Vec<&Row> = model.rows.iter().filter(|row| row.is_now).collect();
        assert_eq!((now.len(), now[0].name.as_str()), (1, "G major, standard"));
        assert_eq!(model.now.as_ref(), Some(&now[0].cells), "nothing is locked, so both are the same");
        expect![[r"
            D major, 5 down |  | standard | – | 5743 | 117, bar 31 | 23 of 43 | 75 | – | fret 8
            E major, 3 down |  | standard | – | 9847 | 144, bar 31 | 16 of 43 | 76 | – | fret 10
            E♭ major, 4 down |  | standard | – | 9263 | 155, bar 31 | 0 of 43 | 67 | 1 | fret 9"]]
        .assert_eq(
            &model.rows.iter().take(3).map(|row| row.cells.join(" | ")).collect::<Vec<_>>().join("\n"),
        );
    }

    #[test]
    fn nothing_is_listed_before_it_is_asked_for() {
        let model = LiesModel::of(&Session::on_demo());
        assert_eq!((model.count, model.rows.len()), (None, 0));
        assert_eq!(model.scope, "6 tunings, capo up to fret 4");
    }
}
