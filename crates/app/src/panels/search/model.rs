//! Which commands a few letters find, the likeliest first.

use crate::command::{Entry, entries};

/// How well an entry is found by what was typed; the smaller the better, none where it is not found at all.
///
/// Every word typed must be found: as the beginning of the name, of a word in it or in what the command does,
/// anywhere in the name, or at least letter by letter in the name.
fn distance(entry: &Entry, typed: &str) -> Option<u32> {
    let (name, tip) = (entry.name.to_lowercase(), entry.tip.to_lowercase());
    let typed = typed.to_lowercase();
    typed.split_whitespace().map(|word| word_distance(word, &name, &tip)).sum()
}

fn word_distance(word: &str, name: &str, tip: &str) -> Option<u32> {
    let begins_a_word = |text: &str| text.split(|c: char| !c.is_alphanumeric()).any(|w| w.starts_with(word));
    if name.starts_with(word) {
        Some(0)
    } else if begins_a_word(name) {
        Some(1)
    } else if name.contains(word) {
        Some(2)
    } else if begins_a_word(tip) {
        Some(3)
    } else {
        in_order(word, name).then_some(4)
    }
}

/// Whether all letters are there, in their order.
fn in_order(word: &str, name: &str) -> bool {
    let mut letters = name.chars();
    word.chars().all(|letter| letters.any(|other| other == letter))
}

/// The entries that what was typed finds, the likeliest first, equal ones in the order of the table; all of them while
/// nothing is typed.
pub fn found(typed: &str) -> Vec<&'static Entry> {
    let mut found: Vec<(u32, &Entry)> =
        entries().filter_map(|entry| Some((distance(entry, typed)?, entry))).collect();
    found.sort_by_key(|(distance, _)| *distance);
    found.into_iter().map(|(_, entry)| entry).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(typed: &str) -> Option<&'static str> {
        found(typed).first().map(|entry| entry.name)
    }

    #[test]
    fn commands_are_found_by_a_few_letters() {
        assert_eq!(first("undo"), Some("Undo"));
        assert_eq!(first("larger te"), Some("Larger text"));
        assert_eq!(first("PDF"), Some("Export PDF…"));
        assert_eq!(first("mlstr"), Some("Lock the melody's string"));
        assert_eq!(first("scale length"), Some("Set up the guitar"));
        assert_eq!(first("xqz"), None);
        assert_eq!(found("").len(), entries().count());
    }
}
