//! What the hands bar says and offers.

use handspan_core::arrangement::Edit;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Interval;

use crate::session::Session;

/// The bar as a whole.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct HandsModel {
    /// The title.
    pub title: String,
    /// Who wrote it.
    pub composer: String,
    /// The key that sounds, and the others.
    pub key: Choices,
    /// The tuning, and the others.
    pub tuning: Choices,
    /// The capo, and other frets.
    pub capo: Choices,
    /// The hand's size, and the others.
    pub hand: Choices,
    /// The tempo where the player stands, in quarter notes a minute.
    pub tempo: u16,
    /// The index of the bar from which it holds.
    pub tempo_from: usize,
    /// The hand as it is, for what can be switched.
    pub player: Hand,
    /// The step that undo takes back.
    pub undo: Option<String>,
    /// The step that redo does again.
    pub redo: Option<String>,
}

/// What holds now and what else could.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Choices {
    /// In words.
    pub now: String,
    /// The others with the change each is.
    pub all: Vec<Choice>,
}

/// A choice.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Choice {
    /// In words.
    pub name: String,
    /// Whether it holds now.
    pub is_now: bool,
    /// The change.
    pub edit: Edit,
}

impl HandsModel {
    /// The bar as the session stands.
    pub fn of(session: &Session) -> Self {
        let work = session.work();
        let tune = &work.tune;
        Self {
            title: match tune.title() {
                "" => "Untitled tune".to_owned(),
                title => title.to_owned(),
            },
            composer: tune.composer().to_owned(),
            key: keys(session),
            tuning: tunings(&work.plan.instrument),
            capo: capos(&work.plan.instrument),
            hand: hands(work.plan.hand),
            tempo: tune.tempo_at(session.playhead()).quarters_a_minute(),
            tempo_from: tempo_from(session),
            player: work.plan.hand,
            undo: session.history().undo_name().map(str::to_owned),
            redo: session.history().redo_name().map(str::to_owned),
        }
    }
}

/// The bar in which the tempo where the player stands was set.
fn tempo_from(session: &Session) -> usize {
    let tune = &session.work().tune;
    let set = tune.tempi().iter().rev().find(|tempo| tempo.at <= session.playhead());
    set.map_or(0, |tempo| tune.bar_index(tempo.at))
}

impl Choices {
    fn new(all: Vec<Choice>) -> Self {
        let now = all.iter().find(|c| c.is_now).map_or_else(String::new, |c| c.name.clone());
        Self { now, all }
    }
}

/// The twelve keys from half an octave below to half an octave above.
fn keys(session: &Session) -> Choices {
    let work = session.work();
    let written = work.tune.bars()[0].key;
    let now = work.plan.transpose;
    let choice = |semitones: i16| {
        let interval = Interval::new(semitones);
        Choice {
            name: format!("{:#}{}", written.transposed(interval).0, how_far(interval)),
            is_now: interval == now,
            edit: Edit::Transpose(interval),
        }
    };
    let mut choices = Choices::new((-6..=6).rev().map(choice).collect());
    choices.now = format!("{:#}", written.transposed(now).0);
    choices
}

/// How far a key lies from the tune as written: `, 2 down`.
pub fn how_far(interval: Interval) -> String {
    match interval.semitones() {
        0 => ", as written".to_owned(),
        n if n > 0 => format!(", {n} up"),
        n => format!(", {} down", -n),
    }
}

fn tunings(instrument: &Instrument) -> Choices {
    let choice = |(name, _): &(&'static str, [u8; 6])| {
        let tuning = Tuning::named(name)?;
        Some(Choice {
            name: (*name).to_owned(),
            is_now: tuning == *instrument.tuning(),
            edit: Edit::Instrument(changed(instrument, tuning, instrument.capo())?),
        })
    };
    let mut choices = Choices::new(Tuning::COMMON.iter().filter_map(choice).collect());
    instrument.tuning().name().clone_into(&mut choices.now);
    choices
}

fn capos(instrument: &Instrument) -> Choices {
    let choice = |fret: u8| {
        Some(Choice {
            name: match fret {
                0 => "no capo".to_owned(),
                fret => format!("capo {fret}"),
            },
            is_now: fret == instrument.capo(),
            edit: Edit::Instrument(changed(instrument, instrument.tuning().clone(), fret)?),
        })
    };
    Choices::new((0..=9).filter_map(choice).collect())
}

fn changed(instrument: &Instrument, tuning: Tuning, capo: u8) -> Option<Instrument> {
    Instrument::try_new(tuning, instrument.frets_from_nut(), instrument.scale(), capo).ok()
}

fn hands(hand: Hand) -> Choices {
    let sizes =
        [(HandSize::Small, "small hand"), (HandSize::Medium, "medium hand"), (HandSize::Large, "large hand")];
    let choice = |(size, name): (HandSize, &str)| Choice {
        name: name.to_owned(),
        is_now: size == hand.size,
        edit: Edit::Hand(Hand { size, ..hand }),
    };
    let mut choices = Choices::new(sizes.map(choice).into());
    if let HandSize::Measured(reach) = hand.size {
        choices.now = format!("reach {:.0} mm", reach.millimetres());
    }
    choices
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::Command;

    fn now(session: &Session) -> [String; 4] {
        let model = HandsModel::of(session);
        [model.key.now, model.tuning.now, model.capo.now, model.hand.now]
    }

    #[test]
    fn what_is_chosen_is_what_holds_then() {
        let mut session = Session::on_demo();
        assert_eq!(now(&session), ["G major", "standard", "no capo", "medium hand"]);
        let choose = |choices: &Choices, name: &str| {
            let choice = choices.all.iter().find(|c| c.name.starts_with(name)).unwrap();
            Command::Edit(choice.edit.clone())
        };
        let model = HandsModel::of(&session);
        session = session.after(choose(&model.key, "F major")).after(choose(&model.hand, "large"));
        let drop_d = choose(&HandsModel::of(&session).tuning, "drop D");
        session = session.after(drop_d);
        let capo = choose(&HandsModel::of(&session).capo, "capo 2");
        session = session.after(capo);
        assert_eq!(now(&session), ["F major", "drop D", "capo 2", "large hand"]);
        assert_eq!(HandsModel::of(&session).undo.as_deref(), Some("Tune to drop D, capo at fret 2"));
    }
}
