//! Help while a chord symbol is typed: what it is read as, what was not understood, what could be meant.

use handspan_core::harmony::{Chord, ChordSymbol, Kind};
use handspan_core::spelling::Spelling;

/// What can be said about a text so far.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ChordHelp {
    /// What it is read as; none where it is no chord symbol yet.
    pub symbol: Option<ChordSymbol>,
    /// The same in words, or what was not understood.
    pub words: String,
    /// What could be meant.
    pub suggestions: Vec<Suggestion>,
}

/// A chord symbol that could be meant.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Suggestion {
    /// As it is typed.
    pub text: String,
    /// With real signs, and in words: `Am7, A minor seventh`.
    pub words: String,
}

/// The kinds that lead sheets use most, in the order in which they are offered (common practice, no source).
const KINDS: [Kind; 16] = [
    Kind::Major,
    Kind::Minor,
    Kind::Dominant,
    Kind::MinorSeventh,
    Kind::MajorSeventh,
    Kind::HalfDiminished,
    Kind::DiminishedSeventh,
    Kind::SuspendedFourth,
    Kind::MajorSixth,
    Kind::MinorSixth,
    Kind::DominantNinth,
    Kind::MinorNinth,
    Kind::MajorNinth,
    Kind::Augmented,
    Kind::SuspendedSecond,
    Kind::Dominant13th,
];

/// How many suggestions are shown.
const MOST: usize = 6;

impl ChordHelp {
    /// What can be said about a text.
    pub fn of(text: &str) -> Self {
        let text = capital(text);
        if text.is_empty() {
            return Self {
                words: "A to G begins a chord, N.C. is none; left empty, the symbol is taken away".to_owned(),
                ..Self::default()
            };
        }
        match ChordSymbol::parse(&text) {
            Ok(symbol) => {
                Self { words: in_words(&symbol), symbol: Some(symbol), suggestions: suggestions(&text) }
            }
            Err(fault) => Self { symbol: None, words: fault.to_string(), suggestions: suggestions(&text) },
        }
    }
}

/// The text with the letter of its root as a capital: `am7` is Am7.
pub(super) fn capital(text: &str) -> String {
    let text = text.trim();
    let mut letters = text.chars();
    match letters.next() {
        Some(first @ 'a'..='g') => first.to_ascii_uppercase().to_string() + letters.as_str(),
        _ => text.to_owned(),
    }
}

/// `Am7: A minor seventh, A C E G`.
fn in_words(symbol: &ChordSymbol) -> String {
    let Some(chord) = symbol.chord() else {
        return "N.C.: no chord, nothing is struck under the melody".to_owned();
    };
    let tones: Vec<String> = tones(chord).iter().map(|tone| format!("{tone:#}")).collect();
    format!("{symbol:#}: {}, {}", kind_in_words(chord), tones.join(" "))
}

fn kind_in_words(chord: &Chord) -> String {
    let kind = chord.kind.musicxml().replace('-', " ");
    let changed = if chord.degrees.is_empty() { "" } else { " with changed tones" };
    let bass = chord.bass.map_or_else(String::new, |bass| format!(" over {bass:#}"));
    format!("{:#} {kind}{changed}{bass}", chord.root)
}

/// The chord's tones from the bass or the root up, as the chord spells them.
fn tones(chord: &Chord) -> Vec<Spelling> {
    let key = handspan_core::harmony::Key::default();
    let spelled = |class| chord.spell(class, key);
    let above =
        chord.degree_semitones().into_iter().map(|(_, semitones)| spelled(chord.root.class() + semitones));
    let mut all: Vec<Spelling> = chord.bass.into_iter().collect();
    for tone in above {
        if !all.contains(&tone) {
            all.push(tone);
        }
    }
    all
}

/// Common chords on the root that the text begins with: those first that go on as it does.
fn suggestions(text: &str) -> Vec<Suggestion> {
    let Some((root, rest)) = Spelling::read(text) else {
        return Vec::new();
    };
    let all = KINDS.iter().map(|kind| Chord::plain(root, *kind));
    let mut found: Vec<(usize, Chord)> = all
        .map(|chord| {
            let written = ChordSymbol::Chord(chord.clone()).to_string();
            let ending = written.get(root.to_string().len()..).unwrap_or_default().to_owned();
            (alike(&ending, rest), chord)
        })
        .filter(|(alike, chord)| *alike > 0 || rest.is_empty() || chord.kind == Kind::Major)
        .collect();
    found.sort_by_key(|(alike, _)| std::cmp::Reverse(*alike));
    let shown = found.into_iter().map(|(_, chord)| {
        let symbol = ChordSymbol::Chord(chord.clone());
        Suggestion { text: symbol.to_string(), words: format!("{symbol:#}, {}", kind_in_words(&chord)) }
    });
    shown.filter(|suggestion| suggestion.text != text).take(MOST).collect()
}

/// How many letters two endings have in common from the left.
fn alike(one: &str, other: &str) -> usize {
    one.chars().zip(other.chars()).take_while(|(a, b)| a == b).count()
}

#[cfg(test)]
mod tests {
    use expect_test::{Expect, expect};

    use super::*;

    fn check(text: &str, expected: &Expect) {
        let help = ChordHelp::of(text);
        let suggestions: Vec<_> = help.suggestions.iter().map(|s| s.text.as_str()).collect();
        let read = if help.symbol.is_some() { "read" } else { "not read" };
        expected.assert_eq(&format!("{read}: {}\n{}", help.words, suggestions.join(" ")));
    }

    #[test]
    fn what_is_typed_is_explained() {
        check("am7", &expect![[""]]);
        check("Bb", &expect![[""]]);
        check("F#m7b5/E", &expect![[""]]);
        check("Cmajj", &expect![[""]]);
        check("H7", &expect![[""]]);
        check("nc", &expect![[""]]);
        check("", &expect![[""]]);
    }
}
