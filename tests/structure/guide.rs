//! The contributors' guide names every crate and room, and nothing that is not there.

use std::fs;

use crate::edges::packages;
use crate::floors::floors;
use crate::source::workspace;

fn guide() -> String {
    fs::read_to_string(workspace().join("DEVELOPERS.md")).unwrap()
}

/// What stands between backticks.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.lines().flat_map(|line| line.split('`').skip(1).step_by(2))
}

#[test]
fn the_guide_names_every_crate_and_room() {
    let guide = guide();
    let names: Vec<&str> = quoted(&guide).collect();
    for entry in fs::read_dir(workspace().join("crates")).unwrap() {
        let folder = format!("crates/{}", entry.unwrap().file_name().to_string_lossy());
        assert!(names.contains(&folder.as_str()), "the guide does not name {folder}");
    }
    for name in packages().keys().chain(floors().keys()) {
        assert!(names.contains(&name.as_str()), "the guide does not name {name}");
    }
}

#[test]
fn what_the_guide_names_is_there() {
    const PLACES: [&str; 6] = ["crates/", "assets/", "demo-data/", "tests/", "screenshots/", ".ci/"];
    let guide = guide();
    let packages = packages();
    for name in quoted(&guide) {
        let is_path = PLACES.iter().any(|place| name.starts_with(place)) && !name.contains(['*', ' ', '…']);
        if is_path {
            assert!(workspace().join(name).exists(), "the guide names {name}, which is not there");
        }
        if name.starts_with("handspan-") && !name.contains(' ') {
            assert!(packages.contains_key(name), "the guide names {name}, which is no package");
        }
    }
}
