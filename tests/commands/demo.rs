//! The demo tunes: the project files hold the very tunes of the lead sheets.

use std::fs;
use std::sync::Arc;

use handspan_core::arrangement::{Work, arrange};
use handspan_core::check;
use handspan_core::grip::{Grip, Hold};
use handspan_core::plan::Plan;
use handspan_core::watch::Unwatched;
use handspan_formats::{Diagnostic, Severity, musicxml, project};

use crate::desk::{DEMO, demo};

#[test]
fn projects_and_lead_sheets_are_twins() {
    for name in DEMO {
        let lead_sheet = fs::read(demo(&format!("{name}.musicxml"))).unwrap();
        let tune = musicxml::read_tune(&lead_sheet).unwrap();
        let lost = |d: &Diagnostic| d.severity != Severity::Note;
        assert!(!tune.diagnostics.iter().any(lost), "{name}: {:?}", tune.diagnostics);
        let saved = fs::read(demo(&format!("{name}.handspan"))).unwrap();
        let work = project::read(&saved).unwrap();
        assert!(work.diagnostics.is_empty(), "{name}: {:?}", work.diagnostics);
        assert_eq!(*work.value.tune, tune.value, "{name}");
        assert_eq!(work.value.plan, Plan::default(), "{name}");
        assert_eq!(project::write(&work.value).as_bytes(), saved, "{name}");
    }
}

#[test]
fn the_tunes_are_as_long_as_tunes() {
    for (name, bars) in DEMO.iter().zip([32, 27]) {
        let lead_sheet = fs::read(demo(&format!("{name}.musicxml"))).unwrap();
        let tune = musicxml::read_tune(&lead_sheet).unwrap().value;
        assert_eq!(tune.bars().len(), bars, "{name}");
        assert!(tune.bars().iter().filter(|bar| bar.section.is_some()).count() >= 3, "{name}");
        assert!(!tune.title().is_empty() && !tune.composer().is_empty(), "{name}");
    }
}

#[test]
fn fingers_may_go_down_early_and_no_note_changes() {
    for name in [DEMO[0], DEMO[1], "ropewalk-study"] {
        let sheet = fs::read(demo(&format!("{name}.musicxml"))).unwrap();
        let tune = musicxml::read_tune(&sheet).unwrap().value;
        let work = Work { tune: Arc::new(tune), plan: Plan::default() };
        let arranged = arrange(&work, &Unwatched).unwrap();
        assert!(arranged.early.len() > 3, "{name}: {}", arranged.early.len());
        for (index, moment) in arranged.moments.iter().enumerate() {
            let mut hand = moment.grip;
            for early in arranged.early_at(index) {
                for string in early.strings.iter() {
                    let sounding = arranged.score.sounding_at(moment.at);
                    let mut on_string = sounding.filter(|note| note.place.string == string);
                    let stays = on_string.all(|note| note.place.fret > early.fret && note.finger.is_some());
                    assert!(stays, "{name}, {:?}: {early:?}", moment.at);
                    if hand.hold(string).is_none() {
                        let hold = Hold::stopped(early.fret, early.finger);
                        hand = hand.with(&Grip::from_holds([(string, hold)]));
                    }
                }
            }
            let faults = check::grip(&work.plan.instrument, &work.plan.hand, &hand);
            assert_eq!(faults, [], "{name}, {:?}: {hand:?}", moment.at);
        }
    }
}
