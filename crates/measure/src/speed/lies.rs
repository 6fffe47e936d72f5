//! Keys, tunings and capo positions of a tune, compared: how long until all is known, and until anything is.

use std::sync::Arc;

use handspan_core::arrangement::{LieScope, Work, compare_lies};
use handspan_core::plan::Plan;
use handspan_core::tune::Tune;
use handspan_core::watch::Watch as _;
use handspan_processors::Processors;

use super::Row;
use crate::clock::{rounded, waited_for_first};

/// The row of a comparison, run once; none where the tune has nothing to compare.
pub(super) fn row(tune: Tune, scope: &LieScope) -> Option<Row> {
    let work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let (found, first, all) = waited_for_first(|bell| compare_lies(&work, scope, &Processors, &|_| bell()));
    found.ok()?;
    let (tunings, capos) = (scope.tunings.len(), &scope.capos);
    Some(Row {
        work: format!(
            "12 keys, {tunings} tunings, capo {} to {}: {}",
            capos.start(),
            capos.end(),
            work.tune.title()
        ),
        ms: rounded(all),
        first_ms: first.map(rounded),
        processors: Some(Processors.at_once()),
        ..Row::default()
    })
}

#[cfg(test)]
mod tests {
    use handspan_core::arrangement::Octaves;
    use handspan_core::neck::Tuning;

    use super::super::tunes::{demo_tunes, read};
    use super::*;

    #[test]
    fn a_comparison_tells_its_first_row() {
        let scope = LieScope {
            tunings: ["standard", "DADGAD"].map(|name| Tuning::named(name).unwrap()).into(),
            capos: 0..=0,
            octaves: Octaves::Nearest,
        };
        let tune = read(demo_tunes().unwrap().last().unwrap()).unwrap();
        let row = row(tune.clone(), &scope).unwrap();
        assert_eq!(row.work, format!("12 keys, 2 tunings, capo 0 to 0: {}", tune.title()));
        let json = serde_json::to_value(&row).unwrap();
        assert!(json["first_ms"].is_number() && json["ms"].is_number() && json.get("search_ms").is_none());
    }
}
