//! Reads source as a reader of structure does: comments and texts blanked, paths split into their heads.

use std::fs;
use std::path::{Path, PathBuf};

/// The folder of the workspace.
pub(crate) fn workspace() -> PathBuf {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    tests.parent().expect("the tests lie in a folder of the workspace").to_owned()
}

/// Every Rust file below a folder, in order of its path.
pub(crate) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut open = vec![folder.to_owned()];
    while let Some(folder) = open.pop() {
        let entries = fs::read_dir(&folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
        for path in entries.map(|entry| entry.unwrap().path()) {
            if path.is_dir() && !path.ends_with("target") {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

/// The code of a file without comments, texts and its unit tests, line for line.
///
/// Unit tests stand last in a file; they may judge with rooms above their own.
pub(crate) fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let text = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
    blank(text)
}

/// Blanks comments and the insides of texts; line breaks stay.
fn blank(text: &str) -> String {
    let mut code = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let skipped = skipped(rest);
        let (taken, after) = rest.split_at(if skipped == 0 { first.len_utf8() } else { skipped });
        if skipped == 0 {
            code.push(first);
        } else {
            code.extend(taken.chars().filter(|c| *c == '\n'));
        }
        rest = after;
    }
    code
}

/// How many bytes a comment or a text takes that begins here; 0 where none does.
fn skipped(rest: &str) -> usize {
    if rest.starts_with("//") {
        return rest.find('\n').unwrap_or(rest.len());
    }
    if rest.starts_with("/*") {
        return rest.find("*/").map_or(rest.len(), |end| end + 2);
    }
    if rest.starts_with("'\"'") {
        return 3;
    }
    if let Some(raw) = rest.strip_prefix("r#\"") {
        return raw.find("\"#").map_or(rest.len(), |end| end + 5);
    }
    let Some(inside) = rest.strip_prefix('"') else {
        return 0;
    };
    let mut escaped = false;
    let end = inside.find(|c| {
        let ends = c == '"' && !escaped;
        escaped = c == '\\' && !escaped;
        ends
    });
    end.map_or(rest.len(), |end| end + 2)
}

/// What follows a root directly: of `root::{grip::Grip, time}` and `root::hand::Finger` it is `grip`, `time`, `hand`.
pub(crate) fn heads(code: &str, root: &str) -> Vec<String> {
    let mut heads = Vec::new();
    let prefix = format!("{root}::");
    for (at, _) in code.match_indices(&prefix) {
        let before = code[..at].chars().next_back();
        if before.is_some_and(|c| is_word(c) || c == ':') {
            continue;
        }
        let after = code[at + prefix.len()..].trim_start();
        match after.strip_prefix('{') {
            Some(group) => heads.extend(group_heads(group)),
            None => heads.push(first_word(after)),
        }
    }
    heads
}

/// The first word of every item of a group, up to its closing brace.
fn group_heads(group: &str) -> Vec<String> {
    let mut heads = Vec::new();
    let (mut depth, mut item) = (0, 0);
    for (at, c) in group.char_indices() {
        let ends_item = depth == 0 && matches!(c, ',' | '}');
        if ends_item {
            heads.push(first_word(group[item..at].trim_start()));
            item = at + 1;
        }
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            _ => {}
        }
    }
    heads.retain(|head| !head.is_empty());
    heads
}

fn first_word(text: &str) -> String {
    text.chars().take_while(|c| is_word(*c)).collect()
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

#[test]
fn paths_are_found_in_groups_and_in_code() {
    let code = blank(concat!(
        "use crate::{grip::{Grip, Hold}, time,\n neck};\n",
        "// crate::comment\n",
        "fn f() { crate::hand::reach(\"crate::text \\\" \"); mycrate::other(); }\n",
    ));
    assert_eq!(heads(&code, "crate"), ["grip", "time", "neck", "hand"]);
}
