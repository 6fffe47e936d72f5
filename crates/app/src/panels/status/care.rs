//! What asks for care: in the grip shown, or, where a passage is selected, in all its grips.

use handspan_core::arrangement::Moment;
use handspan_core::arrangement::edit::bars;
use handspan_core::grip::{Caution, Grip, Reach, cautions};
use handspan_core::time::Ticks;

use crate::session::{Session, count};

/// What is said wherever something strains.
pub const ADVICE: &str = "Rest often, stop when it hurts; if it goes on hurting, ask a teacher or a doctor.";

/// What asks for care.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Care {
    /// `Care: wide stretch`, `Care: 3 grips in bars 5 to 8`.
    pub short: String,
    /// Where, and what it is, a sentence each.
    pub grips: Vec<(Ticks, String)>,
}

impl Care {
    /// What asks for care as the session stands; none where nothing does.
    pub fn of(session: &Session) -> Option<Self> {
        let plan = &session.work().plan;
        let reach = Reach::new(&plan.instrument, &plan.hand);
        match session.passage() {
            Some(passage) => {
                let grips = in_moments(session, &reach, |moment| passage.contains(&moment.at));
                let short = count(grips.len(), "grip", "grips");
                (!grips.is_empty()).then(|| Self {
                    short: format!("Care: {short} in {}", bars(session.tune(), passage)),
                    grips,
                })
            }
            None => Self::of_grip(session, &reach, &session.shown()?.grip),
        }
    }

    fn of_grip(session: &Session, reach: &Reach, grip: &Grip) -> Option<Self> {
        let found = cautions(reach, grip);
        let names: Vec<&str> = found.iter().map(name).collect();
        let at = session.playhead();
        (!found.is_empty()).then(|| Self {
            short: format!("Care: {}", names.join(", ")),
            grips: found.iter().map(|caution| (at, caution_in_words(caution))).collect(),
        })
    }
}

/// The strains of some moments; a grip that is held on is named once.
fn in_moments(session: &Session, reach: &Reach, is_meant: impl Fn(&Moment) -> bool) -> Vec<(Ticks, String)> {
    let moments = session.route_shown().map_or(&[][..], |route| &route.moments);
    let before = std::iter::once(None).chain(moments.iter().map(|moment| Some(moment.grip)));
    let anew = moments.iter().zip(before).filter(|(moment, before)| *before != Some(moment.grip));
    let named = |moment: &Moment| {
        let found: Vec<String> = cautions(reach, &moment.grip).iter().map(caution_in_words).collect();
        let words = format!("{}: {}", session.tune().bar_beat(moment.at), found.join("; "));
        (!found.is_empty()).then_some((moment.at, words))
    };
    anew.map(|(moment, _)| moment).filter(|moment| is_meant(moment)).filter_map(named).collect()
}

const fn name(caution: &Caution) -> &'static str {
    match caution {
        Caution::Stretch { .. } => "wide stretch",
        Caution::LongBarre { .. } => "long barre",
    }
}

/// What strains, in a sentence.
pub fn caution_in_words(caution: &Caution) -> String {
    match caution {
        Caution::Stretch { lower, higher, apart, reach } => {
            format!(
                "a wide stretch: fingers {lower} and {higher} are {apart} apart, {reach} is all they reach"
            )
        }
        Caution::LongBarre { fret, strings } => {
            format!("a long barre: one finger over {strings} strings at fret {fret}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Browse, Command, Go};

    /// The first moment with a grip in its list that strains, and that row.
    fn strained() -> (Session, usize) {
        let mut session = Session::on_demo();
        for _ in 0..40 {
            let plan = &session.work().plan;
            let reach = Reach::new(&plan.instrument, &plan.hand);
            let strains = |row: &handspan_core::grip::RankedGrip| !cautions(&reach, &row.grip).is_empty();
            if let Some(row) = session.browsing().grips().iter().position(strains) {
                return (session, row);
            }
            session = session.after(Command::Go(Go::NextBar));
        }
        panic!("no grip of the demo tune strains");
    }

    #[test]
    fn the_grip_looked_at_says_what_strains() {
        let (session, row) = strained();
        let session = session.after(Command::Browse(Browse::Row(row)));
        let care = Care::of(&session).expect("it strains");
        assert!(care.short.starts_with("Care: wide stretch") || care.short.starts_with("Care: long barre"));
        assert_eq!(care.grips[0].0, session.playhead());
    }

    #[test]
    fn a_passage_counts_its_grips_that_strain() {
        let (session, row) = strained();
        let taken = session
            .after(Command::Browse(Browse::Row(row)))
            .after(Command::Lock(crate::command::LockWish::Take))
            .after(Command::Widen(true));
        let care = Care::of(&taken).expect("the grip taken strains");
        assert!(care.grips.iter().any(|(at, _)| *at == taken.playhead()), "{care:?}");
        assert!(care.short.starts_with(&format!("Care: {} grip", care.grips.len())), "{}", care.short);
    }
}
