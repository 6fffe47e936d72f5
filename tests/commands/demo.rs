//! The demo tunes: the project files hold the very tunes of the lead sheets.

use std::fs;

use handspan_core::plan::Plan;
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
