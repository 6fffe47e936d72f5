//! Keys, tunings and capo positions, to be compared and taken.

use std::sync::Arc;

use handspan_core::arrangement::{
    Edit, Impossible, LieScope, LieTable, Work, compare_alike, compare_lies, tunings,
};
use handspan_core::neck::Tuning;
use handspan_core::plan::Aim;

use super::Session;
use super::notice::Notice;
use super::place::Place;
use crate::command::LieWish;
use crate::job::{Job, Outcome};

/// What is compared, and what has been found.
#[derive(Debug, Default)]
pub struct Lies {
    job: Job<Result<LieTable, Impossible>>,
    /// What the player chose to compare; none where nothing was chosen yet.
    chosen: Option<LieScope>,
    table: Option<LieTable>,
    /// What the table was found for.
    of: Option<(Arc<Work>, LieScope)>,
    /// How often another table was there.
    revision: u64,
    /// Whether the table is shown in place of the routes.
    shown: bool,
}

impl Lies {
    /// The table, as far as it is known.
    pub const fn table(&self) -> Option<&LieTable> {
        self.table.as_ref()
    }

    /// How much is compared, from 0 to 1, while it is.
    pub fn progress(&self) -> Option<f32> {
        self.job.is_running().then(|| self.job.progress().unwrap_or(0.0))
    }

    /// Whether the table is shown in place of the routes.
    pub const fn are_shown(&self) -> bool {
        self.shown
    }

    /// What was made smallest in the table.
    pub fn aim(&self) -> Aim {
        self.of.as_ref().map_or(Aim::default(), |(work, _)| work.plan.aim)
    }

    /// Changes whenever another table is there.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    fn take(&mut self, table: Option<LieTable>) {
        self.table = table;
        self.revision += 1;
    }
}

impl Session {
    /// Keys, tunings and capo positions as far as they are compared.
    pub const fn lies(&self) -> &Lies {
        &self.lies
    }

    /// What is compared: what the player chose, as far as it goes with the guitar.
    pub fn lie_scope(&self) -> LieScope {
        let instrument = &self.work().plan.instrument;
        let mut scope = self.lies.chosen.clone().unwrap_or_else(|| LieScope::usual(instrument));
        scope.tunings.retain(|tuning| tuning.open_strings().len() == instrument.string_count());
        if scope.tunings.is_empty() {
            scope.tunings.push(instrument.tuning().clone());
        }
        scope
    }

    /// The tunings that can be compared: the guitar's own first, then the common ones of as many strings.
    pub fn lie_tunings(&self) -> Vec<Tuning> {
        tunings(&self.work().plan.instrument)
    }

    /// Whether the table was found for the work as it is now, but for what it compares.
    pub fn lies_are_current(&self) -> bool {
        self.lies.of.as_ref().is_some_and(|(of, _)| compare_alike(of, self.work()))
    }

    /// Whether the table compares what is chosen now.
    pub fn lies_are_as_chosen(&self) -> bool {
        self.lies.of.as_ref().is_some_and(|(_, scope)| *scope == self.lie_scope())
    }

    pub(super) fn lie_wish(&mut self, wish: LieWish) {
        match wish {
            LieWish::Show(shown) => self.show_lies(shown),
            LieWish::Compare => self.compare_lies(),
            LieWish::Within(scope) => {
                self.lies.chosen = Some(scope);
                self.lies.revision += 1;
            }
            LieWish::Stop => self.stop_comparing_lies(),
            LieWish::Take(lie) => {
                self.edit(&Edit::Lie(lie));
            }
        }
    }

    pub(super) fn can_lie_wish(&self, wish: &LieWish) -> bool {
        match wish {
            LieWish::Show(_) | LieWish::Within(_) | LieWish::Take(_) => true,
            LieWish::Compare if self.lies.job.is_running() => false,
            LieWish::Compare => !self.work().tune.melody().is_empty() && !self.is_written_out(),
            LieWish::Stop => self.lies.job.is_running(),
        }
    }

    fn stop_comparing_lies(&mut self) {
        if let Some(Ok(table)) = self.lies.job.part() {
            self.lies.table = Some(table);
        }
        self.lies.job.stop();
        self.lies.revision += 1;
    }

    /// The work is another: what is being compared for one before it, nobody waits for.
    pub(super) fn leave_stale_lies(&mut self) {
        if self.lies.job.is_running() && !self.lies_are_current() {
            self.stop_comparing_lies();
        }
    }

    pub(super) fn put_lies_away(&mut self) {
        self.stop_comparing_lies();
        self.lies.of = None;
        self.lies.take(None);
    }

    pub(super) const fn show_routes(&mut self) {
        self.lies.shown = false;
    }

    fn show_lies(&mut self, shown: bool) {
        self.lies.shown = shown;
        self.go_to(Place::Route);
    }

    fn compare_lies(&mut self) {
        self.show_lies(true);
        let (work, scope) = (Arc::clone(self.history.work()), self.lie_scope());
        // What is usual follows the guitar, which may be tuned otherwise by what is found.
        self.lies.chosen = Some(scope.clone());
        self.lies.of = Some((Arc::clone(&work), scope.clone()));
        self.lies.take(None);
        self.lies.job.start_in_parts(&self.lane, "compare keys", move |watch, tell| {
            compare_lies(&work, &scope, watch, &|table| tell(Ok(table)))
        });
    }

    pub(super) fn poll_lies(&mut self) -> bool {
        let part = self.lies.job.part();
        match self.lies.job.poll() {
            None => match part {
                Some(Ok(table)) => self.lies.take(Some(table)),
                Some(Err(_)) | None => return false,
            },
            Some(Outcome::Answer(Ok(table))) => self.lies.take(Some(table)),
            Some(Outcome::Answer(Err(reason))) => self.notice = Some(Notice::refused(reason.to_string())),
            Some(Outcome::Lost) => {
                self.notice = Some(Notice::failed(
                    "The comparison ended by a fault of this program; your work is unharmed",
                ));
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::arrangement::{LieFound, Octaves};
    use handspan_core::neck::Instrument;
    use handspan_core::tune::Mend;

    use super::*;
    use crate::command::Command;

    /// One tuning without capo.
    fn narrow(session: &Session) -> LieScope {
        LieScope { tunings: session.lie_tunings()[..1].to_vec(), capos: 0..=0, octaves: Octaves::Nearest }
    }

    #[test]
    fn what_is_compared_goes_with_the_guitar() {
        let session = Session::on_demo();
        let names = |session: &Session| -> Vec<String> {
            session.lie_scope().tunings.iter().map(|tuning| tuning.name().to_owned()).collect()
        };
        assert_eq!(names(&session), ["standard", "drop D", "double drop D", "DADGAD", "open D", "open G"]);
        let chosen = narrow(&session);
        let session = session.after(Command::Lie(LieWish::Within(chosen.clone())));
        assert_eq!(session.lie_scope(), chosen);
        let eight = Tuning::from_low_to_high(
            "eight",
            [35, 40, 45, 50, 55, 59, 64, 69].map(handspan_core::pitch::Pitch::new),
        );
        let eight = Instrument::try_new(eight, 19, Instrument::CLASSICAL_SCALE, 0).unwrap();
        let session = session.after(Command::Edit(Edit::Instrument(eight)));
        assert_eq!(names(&session), ["eight"]);
    }

    #[test]
    fn a_key_is_taken_in_one_step_and_the_table_stays() {
        let session = Session::on_demo();
        let scope = narrow(&session);
        let session =
            session.after(Command::Lie(LieWish::Within(scope))).after(Command::Lie(LieWish::Compare));
        let table = session.lies().table().unwrap().clone();
        assert!(table.is_whole() && session.lies_are_current());
        let LieFound::Easiest(ease) = &table.rows[0].found else { panic!("{table:?}") };
        let before = session.arrangement().unwrap().clone();
        let session = session.after(Command::Lie(LieWish::Take(table.rows[0].lie.clone())));
        assert_eq!(session.arrangement().unwrap().effort, ease.effort);
        assert!(ease.effort < before.effort && session.lies_are_current());
        let session = session.after(Command::Undo);
        assert_eq!(session.arrangement().unwrap(), &before);
    }

    #[test]
    fn nothing_is_compared_for_a_tune_that_has_changed() {
        let mut session = Session::on_demo();
        session.run(Command::Lie(LieWish::Compare));
        session.run(Command::Lie(LieWish::Take(session.work().plan.lie())));
        assert!(session.lies().progress().is_some(), "how it lies now is no other question");
        session.run(Command::Edit(Edit::Tune(Mend::Title("Another".to_owned()))));
        assert!(session.lies().progress().is_none() && !session.lies_are_current());
    }
}
