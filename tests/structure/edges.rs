//! Which crate may depend on which.

use std::collections::BTreeMap;
use std::process::Command;

use serde_json::Value;

use crate::source::workspace;

/// Every package of the workspace and the packages of the workspace that it may use, also in its tests.
///
/// `formats` and `sheet` never see one another; nothing but the window's crate sees the commands.
const ALLOWED: [(&str, &[&str]); 8] = [
    ("handspan-core", &[]),
    ("handspan-formats", &["handspan-core"]),
    ("handspan-sheet", &["handspan-core"]),
    ("handspan-processors", &["handspan-core"]),
    ("handspan-measure", &["handspan-core", "handspan-formats", "handspan-processors"]),
    ("handspan-cli", &["handspan-core", "handspan-formats", "handspan-sheet", "handspan-processors"]),
    (
        "handspan",
        &["handspan-core", "handspan-formats", "handspan-sheet", "handspan-processors", "handspan-cli"],
    ),
    ("handspan-tests", &["handspan-core", "handspan-formats", "handspan-sheet", "handspan-cli"]),
];

/// The packages of the workspace and their dependencies of any kind, as cargo reads them.
pub(crate) fn packages() -> BTreeMap<String, Vec<String>> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1"])
        .current_dir(workspace())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let name = |value: &Value| value["name"].as_str().unwrap().to_owned();
    let packages = metadata["packages"].as_array().unwrap().iter();
    packages.map(|p| (name(p), p["dependencies"].as_array().unwrap().iter().map(name).collect())).collect()
}

#[test]
fn crates_depend_only_on_what_the_table_allows() {
    let packages = packages();
    let in_table: Vec<&str> = ALLOWED.iter().map(|(name, _)| *name).collect();
    for name in packages.keys() {
        assert!(in_table.contains(&name.as_str()), "{name} is missing in the table of edges");
    }
    for (name, allowed) in ALLOWED {
        let uses = packages.get(name).unwrap_or_else(|| panic!("there is no package {name}"));
        for used in uses.iter().filter(|used| packages.contains_key(*used)) {
            assert!(allowed.contains(&used.as_str()), "{name} must not use {used}");
        }
    }
}

#[test]
fn core_uses_only_small_libraries() {
    const KNOWN: [&str; 6] = ["itertools", "libm", "thiserror", "serde", "proptest", "expect-test"];
    for used in packages().remove("handspan-core").unwrap() {
        assert!(
            KNOWN.contains(&used.as_str()),
            "core uses {used}, which the table of its libraries does not have"
        );
    }
}
