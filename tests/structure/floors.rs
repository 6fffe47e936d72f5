//! The rooms of `core`: a room uses only rooms on floors below its own, and none of them touches the world.
//!
//! The table of floors is the one that `crates/core/src/lib.rs` shows its readers. Rooms of one floor do not use each
//! other; only the ground is built in the order of its row: a spelling rests on a pitch.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::source::{code, heads, rust_files, workspace};

fn core() -> PathBuf {
    workspace().join("crates/core/src")
}

/// Where a room stands: its floor, and on the ground its place in the row.
type Level = (u8, usize);

/// Every room with its level, from the table in the crate's documentation.
pub(crate) fn floors() -> BTreeMap<String, Level> {
    let text = fs::read_to_string(core().join("lib.rs")).unwrap();
    let mut floors = BTreeMap::new();
    for row in text.lines().filter_map(|line| line.strip_prefix("//! |")) {
        let mut cells = row.split('|').map(str::trim);
        let Some(Ok(floor)) = cells.next().map(str::parse) else {
            continue;
        };
        let rooms = cells.next().unwrap_or_default().split(',');
        for (place, room) in rooms.enumerate() {
            let name = room.trim().trim_matches(['[', ']', '`']).to_owned();
            floors.insert(name, (floor, if floor == 0 { place } else { 0 }));
        }
    }
    floors
}

/// The modules that a file is in: `grip/effort.rs` is `grip`, `effort`; `grip/mod.rs` is `grip`.
fn module_path(file: &Path) -> Vec<String> {
    let below = file.strip_prefix(core()).unwrap().with_extension("");
    let names = below.iter().map(|name| name.to_string_lossy().into_owned());
    names.filter(|name| name != "mod").collect()
}

/// The rooms that a file names, through `crate::` or by climbing out of its own.
fn rooms_used(file: &Path) -> Vec<String> {
    let code = code(file);
    let mut used = heads(&code, "crate");
    for climbed in module_path(file).len()..6 {
        used.extend(heads(&code, &vec!["super"; climbed].join("::")));
    }
    used
}

#[test]
fn the_table_has_every_room() {
    let floors = floors();
    let text = fs::read_to_string(core().join("lib.rs")).unwrap();
    let modules = text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
    assert_eq!(modules.collect::<Vec<_>>(), floors.keys().map(String::as_str).collect::<Vec<_>>());
}

#[test]
fn a_room_uses_only_rooms_below_it() {
    let floors = floors();
    let mut found = 0;
    for file in rust_files(&core()) {
        let room = module_path(&file).swap_remove(0);
        let Some(floor) = floors.get(&room) else { continue };
        for used in rooms_used(&file).into_iter().filter(|used| *used != room) {
            let Some(below) = floors.get(&used) else {
                panic!("{} names crate::{used}, which is no room", file.display());
            };
            assert!(
                below < floor,
                "{}: {room} (floor {}) must not use {used} (floor {})",
                file.display(),
                floor.0,
                below.0
            );
            found += 1;
        }
    }
    assert!(found > 20, "only {found} uses of other rooms were found: the reader of paths is at fault");
}

#[test]
fn core_has_no_world() {
    const WORLD: [&str; 7] = ["fs", "io", "thread", "env", "time", "net", "process"];
    for file in rust_files(&core()) {
        for used in heads(&code(&file), "std") {
            assert!(!WORLD.contains(&used.as_str()), "{} uses std::{used}", file.display());
        }
    }
}
