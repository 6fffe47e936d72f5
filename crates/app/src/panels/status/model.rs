//! What the status line says.

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{GiveWay, GiveWayReason};
use handspan_core::time::Ticks;

use super::care::Care;
use crate::session::{Behind, Level, Notice, Session, count, summary};

/// The line as a whole.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StatusModel {
    /// The arrangement in a sentence, or what has to be said before it.
    pub sentence: String,
    /// How much it matters.
    pub level: Level,
    /// Whether the sentence is a notice that can be put away.
    pub is_notice: bool,
    /// More sentences.
    pub details: Vec<String>,
    /// How many notes gave way.
    pub gave_way: usize,
    /// What asks for care.
    pub care: Option<Care>,
    /// The passage in words.
    pub passage: Option<String>,
}

impl StatusModel {
    /// The line as the session stands.
    pub fn of(session: &Session) -> Self {
        let notice = session.notice().cloned().unwrap_or_else(|| as_it_stands(session));
        Self {
            sentence: notice.text,
            level: notice.level,
            is_notice: session.notice().is_some(),
            details: notice.details,
            gave_way: session.arrangement().map_or(0, |a| a.give_ways.len()),
            care: Care::of(session),
            passage: session.passage().map(|p| bars(session.tune(), p)),
        }
    }

    /// `3 notes gave way`.
    pub fn give_ways_in_short(&self) -> Option<String> {
        let n = self.gave_way;
        (n > 0).then(|| count(n, "note gave way", "notes gave way"))
    }
}

/// The arrangement in a sentence, or why the work as it is has none.
fn as_it_stands(session: &Session) -> Notice {
    match session.behind() {
        Some(Behind::Refused(reason)) => Notice::refused(reason),
        Some(Behind::Stopped) => Notice::refused(format!("Not up to date: {}", Behind::Stopped.reason())),
        Some(Behind::Searching) | None => {
            Notice::told(session.arrangement().map_or_else(String::new, summary))
        }
    }
}

/// Everything that gave way, each with its time.
pub fn give_ways(session: &Session) -> Vec<(Ticks, String)> {
    let give_ways = session.arrangement().map_or(&[][..], |a| &a.give_ways);
    give_ways.iter().map(|g| (g.at, give_way_in_words(g))).collect()
}

/// What gave way, where and why, in a sentence.
pub fn give_way_in_words(give_way: &GiveWay) -> String {
    let why = match give_way.reason {
        GiveWayReason::NoRoomBelowMelody => "there is no such note below the melody",
        GiveWayReason::OutOfReach => "no hand holds it together with the melody and what rings on",
        GiveWayReason::NotWorthItsEffort => "it would cost more than it gains",
        GiveWayReason::LetGo => "no hand can hold it on and play what follows",
        GiveWayReason::CutAtSeam => "it ends where playing may go on elsewhere",
        GiveWayReason::LockedOtherwise => "something else is locked in its place",
        GiveWayReason::MarkRefused => "no hand can hold these notes as they are marked",
        GiveWayReason::ThumbPlucks => "the thumb plucks there and cannot tap",
        GiveWayReason::HarmonicRefused => "no hand can play it there as a harmonic",
    };
    format!("{}: the {} gave way, {why}", give_way.bar_beat, give_way.part.name())
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Command, Go};

    #[test]
    fn the_arrangement_in_a_sentence() {
        let status = StatusModel::of(&Session::on_demo());
        expect!["116 moments, effort 11553, hardest move in bar 10, beat 4"].assert_eq(&status.sentence);
        assert!(!status.is_notice);
    }

    #[test]
    fn the_passage_is_named_by_its_bars() {
        let session = Session::on_demo()
            .after(Command::Go(Go::NextBar))
            .after(Command::Widen(true))
            .after(Command::Widen(true));
        assert_eq!(StatusModel::of(&session).passage.as_deref(), Some("bars 2 to 3"));
        let session = session.after(Command::Widen(false));
        assert_eq!(StatusModel::of(&session).passage.as_deref(), Some("bar 2"));
    }
}
