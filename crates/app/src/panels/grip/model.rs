//! What is said of the grip shown.

use handspan_core::grip::{BassChoice, RankedGrip, Reach, cautions};
use handspan_core::pitch::PitchClass;
use handspan_core::route::Early;
use handspan_core::spelling::Spelling;

use crate::names;
use crate::panels::status::caution_in_words;
use crate::panels::terms::{Term, grip_terms, move_terms};
use crate::session::{Judgement, Session};

/// Everything that is said of a grip.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GripModel {
    /// The chord symbol in force.
    pub chord: String,
    /// Where: `Bar 7, beat 2`.
    pub place: String,
    /// What the hand does, in a sentence.
    pub sentence: String,
    /// What the grip costs and gains.
    pub grip: Vec<Term>,
    /// What it costs and gains to get there; none at the first moment.
    pub moved: Option<Vec<Term>>,
    /// The fingers that may go down already for what comes, a sentence each.
    pub early: Vec<String>,
    /// Everything together.
    pub total: i32,
    /// Whether it is looked at and not the route's.
    pub is_preview: bool,
    /// How much more (or, below zero, less) than the grip of the route, where that is in the list as well.
    pub against_route: Option<i32>,
    /// What is locked here: the melody's string, the bass, the grip.
    pub locked: Locked,
    /// What strains in it, a sentence each.
    pub cautions: Vec<String>,
    /// The row of the easiest grip of the list that strains in nothing, where this one does.
    pub gentler: Option<usize>,
    /// Whether somebody can hold it: a grip of the player's own may be impossible.
    pub can_be_held: bool,
}

/// How many rows are looked through for a grip that strains in nothing.
const LOOKED_THROUGH: usize = 300;

/// What is locked.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Locked {
    /// The number of the melody's string.
    pub melody: Option<u8>,
    /// The note of the bass.
    pub bass: Option<String>,
    /// Whether the grip is.
    pub grip: bool,
}

impl GripModel {
    /// The grip as the session stands; none before anything is arranged.
    pub fn of(session: &Session) -> Option<Self> {
        let score = &session.arrangement()?.score;
        let (moment, shown) = (session.moment()?, session.shown()?);
        let key = names::key_at(score, moment.at);
        let class_name =
            |class: PitchClass| format!("{:#}", Spelling::of_class_in(class, i32::from(key.fifths())));
        let lock = session.lock_here();
        let bass = lock.bass.map(|bass| match bass {
            BassChoice::Free => "free".to_owned(),
            BassChoice::Class(class) => class_name(class),
            BassChoice::Exact(pitch) => names::pitch(pitch, key),
        });
        // Both from the list, where both are moved to in the same time.
        let ranked_in_route = session.route_row().and_then(|row| session.browsing().grips().get(row));
        let route_total = ranked_in_route.map(|r| r.total().points());
        let plan = &session.work().plan;
        let reach = Reach::new(&plan.instrument, &plan.hand);
        let strains = cautions(&reach, &shown.grip);
        let gentle = |row: &RankedGrip| cautions(&reach, &row.grip).is_empty();
        let mut rows = session.browsing().grips().iter().take(LOOKED_THROUGH);
        let gentler = (!strains.is_empty()).then(|| rows.position(gentle)).flatten();
        Some(Self {
            chord: names::chord_at(score, moment.at),
            place: names::capital(&score.tune.bar_beat(moment.at).to_string()),
            sentence: sentence(session),
            grip: grip_terms(&shown.effort).collect(),
            moved: shown.moved.as_ref().map(|m| move_terms(m).collect()),
            early: early(session),
            total: shown.total(),
            is_preview: shown.is_preview,
            against_route: route_total.filter(|_| shown.is_preview).map(|route| shown.total() - route),
            locked: Locked {
                melody: lock.melody.map(handspan_core::neck::StringIndex::number),
                bass,
                grip: lock.grip.is_some(),
            },
            cautions: strains.iter().map(|caution| names::capital(&caution_in_words(caution))).collect(),
            gentler,
            can_be_held: session.own().is_none_or(|own| matches!(own.judgement, Judgement::Held(_))),
        })
    }
}

fn early(session: &Session) -> Vec<String> {
    let Some(arrangement) = session.arrangement() else { return Vec::new() };
    let told = |early: &Early| {
        let strings = match (early.strings.iter().next(), early.strings.iter().next_back()) {
            (Some(top), Some(bottom)) if top != bottom => format!("on strings {top} to {bottom}"),
            (top, _) => top.map(|string| format!("on string {string}")).unwrap_or_default(),
        };
        let place = format!("{strings}, fret {},", early.fret);
        names::early(arrangement, session.moment_index(), early, &place)
    };
    session.early_here().map(told).collect()
}

/// `Melody E5 on string 1, bass C3 on string 5`.
fn sentence(session: &Session) -> String {
    let Some(arrangement) = session.arrangement() else {
        return String::new();
    };
    let part = |name: &str, place: Option<handspan_core::neck::Place>| {
        let place = place?;
        let note = names::sounding(&arrangement.score, place, session.playhead());
        Some(format!("{name} {note} on string {}", place.string))
    };
    let parts = [part("melody", session.melody_place()), part("bass", session.bass_place())];
    names::capital(&parts.into_iter().flatten().collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Browse, Command, Go, LockWish};

    #[test]
    fn the_grip_of_the_route_is_explained() {
        let bar = Command::Go(Go::NextBar);
        let session = Session::on_demo().after(bar).after(Command::Lock(LockWish::Bass));
        let model = GripModel::of(&session).unwrap();
        let terms = |terms: &[Term]| {
            let words: Vec<String> = terms.iter().map(|t| format!("{} {}", t.name, t.points)).collect();
            words.join(", ")
        };
        let moved = terms(&model.moved.unwrap());
        let bass = model.locked.bass.unwrap();
        let lines = [model.chord, model.place, model.sentence, terms(&model.grip), moved, bass];
        expect![[r"
            Gmaj7
            Bar 2, beat 1
            Melody G4 on string 1, bass G2 on string 6
            how fingers lie 17, fingers 43, position 14, strings -31, open strings -10
            shift 90, fingers landing 4, finger hopping 29, fingers following on a string 12, repeated note 10, fingers of the top voice -19, open string ringing -2
            G2"]]
        .assert_eq(&lines.join("\n"));
    }

    #[test]
    fn a_grip_looked_at_is_weighed_against_the_route() {
        let bar = Command::Go(Go::NextBar);
        let session = Session::on_demo().after(bar.clone()).after(bar.clone()).after(bar);
        let route = GripModel::of(&session).unwrap();
        let session = session.after(Command::Browse(Browse::Down));
        let other = GripModel::of(&session).unwrap();
        assert_eq!((route.is_preview, route.against_route), (false, None));
        let row = session.route_row().unwrap();
        let in_list = session.browsing().grips()[row].total().points();
        assert_eq!((other.is_preview, other.against_route), (true, Some(other.total - in_list)));
    }
}
