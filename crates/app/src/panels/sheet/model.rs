//! What the Sheet place says and offers.

use handspan_core::arrangement::edit::bars;
use handspan_core::time::Ticks;
use handspan_sheet::{Layout, Paper, Print, SheetOptions};

use crate::session::{Behind, Session, Zoom};

/// The place as a whole, but for the pages themselves.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetModel {
    /// `Page 2 of 3`, or what has to be said before there are pages.
    pub words: String,
    /// Why the pages are not of the work as it is now.
    pub behind: Option<String>,
    /// Whether the pages belong to the present arrangement and choices.
    pub is_current: bool,
    /// How large the pages are shown.
    pub zoom: Zoom,
    /// What stands on the pages, with the other choices.
    pub layouts: Vec<PaperChoice>,
    /// The paper, with the other choices.
    pub papers: Vec<PaperChoice>,
    /// What can be switched on and off.
    pub switches: Vec<PaperChoice>,
    /// The remark under the bar where the player stands.
    pub remark: Remark,
    /// What could not be printed, in a sentence.
    pub missing: Option<String>,
}

/// A teacher's remark, printed under the system of its bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Remark {
    /// The bar's index.
    pub bar: usize,
    /// What the field for it is called: `Remark on bar 7`.
    pub name: String,
    /// The remark; empty where there is none.
    pub text: String,
}

/// A choice for the pages.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaperChoice {
    /// In words.
    pub name: String,
    /// Whether it holds now.
    pub is_now: bool,
    /// The choices once it is taken, or switched.
    pub then: SheetOptions,
}

impl SheetModel {
    /// The place as the session stands.
    pub fn of(session: &Session) -> Self {
        let paper = session.paper();
        let options = paper.options();
        let words = match (paper.pages(), session.arrangement()) {
            (0, None) if matches!(session.behind(), Some(Behind::Refused(_))) => {
                "There are no pages".to_owned()
            }
            (0, None) => "The pages are here once the tune is arranged".to_owned(),
            (0, Some(_)) => "The pages are being engraved".to_owned(),
            (pages, _) => format!("Page {} of {pages}", paper.page() + 1),
        };
        Self {
            words,
            behind: behind(session),
            is_current: paper.is_current(),
            zoom: paper.zoom(),
            layouts: layouts(options),
            papers: papers(options),
            switches: switches(session, options),
            remark: remark(session, options),
            missing: paper.sheet().and_then(|sheet| missing(&sheet.missing)),
        }
    }
}

/// That the pages are old, and why; nothing while the new ones are on their way.
fn behind(session: &Session) -> Option<String> {
    let behind = session.behind().filter(|behind| *behind != Behind::Searching)?;
    let old = if session.paper().pages() > 0 {
        "Not up to date: these pages show the piece before the last change. "
    } else {
        ""
    };
    Some(format!("{old}Why: {}.", behind.reason()))
}

fn layouts(now: &SheetOptions) -> Vec<PaperChoice> {
    let choices = [
        ("Tablature", Layout::Tablature),
        ("Staff and tablature", Layout::StaffAndTablature),
        ("Staff", Layout::Staff),
        ("Chord boxes", Layout::Boxes),
    ];
    let choice = |(name, layout): (&str, _)| PaperChoice {
        name: name.to_owned(),
        is_now: now.layout == layout,
        then: SheetOptions { layout, ..now.clone() },
    };
    choices.map(choice).into()
}

fn papers(now: &SheetOptions) -> Vec<PaperChoice> {
    let choice = |(name, paper): (&str, _)| PaperChoice {
        name: name.to_owned(),
        is_now: now.paper == paper,
        then: SheetOptions { paper, ..now.clone() },
    };
    [("A4", Paper::A4), ("Letter", Paper::Letter)].map(choice).into()
}

fn switches(session: &Session, now: &SheetOptions) -> Vec<PaperChoice> {
    let large = now.print == Print::Large;
    let print = if large { Print::Normal } else { Print::Large };
    let mut switches = vec![
        PaperChoice {
            name: "Large print".to_owned(),
            is_now: large,
            then: SheetOptions { print, ..now.clone() },
        },
        PaperChoice {
            name: "Chord boxes for the left-handed".to_owned(),
            is_now: now.left_handed_boxes,
            then: SheetOptions { left_handed_boxes: !now.left_handed_boxes, ..now.clone() },
        },
        PaperChoice {
            name: "Practice page at the end".to_owned(),
            is_now: now.practice,
            then: SheetOptions { practice: !now.practice, ..now.clone() },
        },
    ];
    switches.extend(handout(session, now));
    switches
}

/// The passage alone, where one is printed or could be.
fn handout(session: &Session, now: &SheetOptions) -> Option<PaperChoice> {
    let tune = session.tune();
    if now.passage.is_some() {
        let then = SheetOptions { passage: None, ..now.clone() };
        return Some(PaperChoice { name: "Only the passage chosen".to_owned(), is_now: true, then });
    }
    let passage = session.passage()?;
    let printed = tune.bar_index(passage.start)..tune.bar_index(passage.end - Ticks::new(1)) + 1;
    let then = SheetOptions { passage: Some(printed), ..now.clone() };
    Some(PaperChoice { name: format!("Only {}", bars(tune, passage)), is_now: false, then })
}

fn remark(session: &Session, now: &SheetOptions) -> Remark {
    let tune = session.tune();
    let bar = tune.bar_index(session.playhead());
    Remark {
        bar,
        name: format!("Remark on bar {}", tune.bars()[bar].number),
        text: now.remarks.get(&bar).cloned().unwrap_or_default(),
    }
}

fn missing(letters: &[char]) -> Option<String> {
    let letters: Vec<String> = letters.iter().map(|c| format!("“{c}”")).collect();
    (!letters.is_empty()).then(|| format!("No font of the sheet has {}; left out", letters.join(", ")))
}

#[cfg(test)]
mod tests {
    use expect_test::expect;

    use super::*;
    use crate::command::{Command, SheetWish, ViewWish};
    use crate::session::Place;

    fn lines(session: &Session) -> String {
        let model = SheetModel::of(session);
        let choices = |choices: &[PaperChoice]| {
            let names = choices.iter().map(|c| format!("{}{}", if c.is_now { "*" } else { "" }, c.name));
            names.collect::<Vec<_>>().join(", ")
        };
        [model.words, choices(&model.layouts), choices(&model.papers), choices(&model.switches)].join("\n")
    }

    #[test]
    fn the_place_in_words() {
        let session = Session::on_demo();
        assert_eq!(session.paper().pages(), 0, "nothing is engraved before it is looked at");
        let session = session.after(Command::View(ViewWish::Place(Place::Sheet)));
        expect![[r"
            Page 1 of 2
            *Tablature, Staff and tablature, Staff, Chord boxes
            *A4, Letter
            Large print, Chord boxes for the left-handed, Practice page at the end"]]
        .assert_eq(&lines(&session));
        let choose = |choice: &PaperChoice| Command::Sheet(SheetWish::Choose(choice.then.clone()));
        let model = SheetModel::of(&session);
        let session = session.after(choose(&model.layouts[3])).after(Command::Sheet(SheetWish::NextPage));
        expect![[r"
            Page 1 of 1
            Tablature, Staff and tablature, Staff, *Chord boxes
            *A4, Letter
            Large print, Chord boxes for the left-handed, Practice page at the end"]]
        .assert_eq(&lines(&session));
    }
}
