//! Chord symbols read from text, in the usual spellings of lead sheets.
//!
//! Reading goes from left to right: the root, a quality (m, dim, maj), a number, then what is added, altered or left
//! out, and the bass after a slash. Parentheses, commas and spaces only separate. `build` makes the chord of it.

use thiserror::Error;

use super::build::{Alteration, Change, Quality, Suspension, Written};
use super::kind::Kind;
use super::symbol::{Chord, ChordSymbol};
use super::write::is_rare_flat;
use crate::spelling::Spelling;

/// Why a text is no chord symbol.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum UnreadChord {
    /// Nothing is written.
    #[error("the chord symbol is empty")]
    Empty,
    /// It begins with no note.
    #[error("“{0}” is no chord symbol: it has to begin with a note from A to G, or to be N.C.")]
    Root(String),
    /// What stands after the slash is no note.
    #[error("“{text}” is no chord symbol: “{bass}” after the slash is no note from A to G")]
    Bass {
        /// The whole text.
        text: String,
        /// What stands after the slash.
        bass: String,
    },
    /// A part of it says nothing.
    #[error("“{text}” is no chord symbol: “{rest}” says nothing after “{read}”")]
    Rest {
        /// The whole text.
        text: String,
        /// What was understood.
        read: String,
        /// What was not.
        rest: String,
    },
}

impl ChordSymbol {
    /// Reads a chord symbol: `Cmaj7`, `Dm7b5/Ab`, `E7(#9)`, `F6/9`, `Bsus4`, `N.C.`
    ///
    /// # Errors
    /// Says which part of the text means nothing.
    pub fn parse(text: &str) -> Result<Self, UnreadChord> {
        let text = text.trim();
        let letters: String = text.chars().filter(char::is_ascii_alphabetic).collect();
        match letters.to_ascii_lowercase().as_str() {
            "" => {
                return Err(if text.is_empty() {
                    UnreadChord::Empty
                } else {
                    UnreadChord::Root(shown(text))
                });
            }
            "nc" | "nochord" => return Ok(Self::NoChord),
            _ => (),
        }
        let (root, rest) = root(text).ok_or_else(|| UnreadChord::Root(shown(text)))?;
        let after_root = rest;
        let mut reader = Reader { text, rest };
        let mut written = Written::default();
        reader.read_quality(&mut written);
        while reader.read_change(&mut written) {}
        let bass = reader.read_bass();
        reader.skip();
        if !reader.rest.is_empty() {
            return Err(reader.unread());
        }
        let chord = written.into_chord(root);
        let chord = chord.ok_or_else(|| Reader { text, rest: after_root }.unread())?;
        Ok(Self::Chord(Chord { bass, ..chord }))
    }
}

/// The root and what follows.
///
/// Signs of the other kind belong to what follows (`F#b5`, `Bb#11`), and so does a flat before a 5 where the root would
/// be one that no key needs: `Cb5` is C with a flat fifth.
fn root(text: &str) -> Option<(Spelling, &str)> {
    let sharp = |sign: char| "#♯x𝄪".contains(sign);
    let mut signs = text.char_indices().skip(1);
    let first = signs.next().map_or(' ', |(_, sign)| sign);
    let other = signs
        .take_while(|(_, sign)| sharp(*sign) || "b♭".contains(*sign))
        .find(|(_, sign)| sharp(*sign) != sharp(first));
    let end = other.map_or(text.len(), |(at, _)| at);
    let (root, left) = Spelling::read(&text[..end])?;
    let read = end - left.len();
    match text[..read].char_indices().next_back() {
        Some((at, 'b' | '♭')) if text[read..].starts_with('5') && is_rare_flat(root) => {
            Some((Spelling::new(root.step, root.alter + 1), &text[at..]))
        }
        _ => Some((root, &text[read..])),
    }
}

/// A text short enough for a message.
fn shown(text: &str) -> String {
    const LONGEST: usize = 40;
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    text.chars().take(LONGEST).chain(['…']).collect()
}

const MAJOR: [&str; 8] = ["major", "maj", "ma", "M", "j", "Δ", "∆", "△"];

/// Words of the kinds that are neither quality nor number.
const KINDS: [(&str, Kind); 11] = [
    ("power", Kind::Power),
    ("pedal", Kind::Pedal),
    ("Tristan", Kind::Tristan),
    ("Ger+6", Kind::German),
    ("Ger6", Kind::German),
    ("It+6", Kind::Italian),
    ("It6", Kind::Italian),
    ("Fr+6", Kind::French),
    ("Fr6", Kind::French),
    ("N6", Kind::Neapolitan),
    ("?", Kind::Other),
];

const QUALITIES: [(&str, Quality); 19] = [
    ("minor", Quality::Minor),
    ("min", Quality::Minor),
    ("mi", Quality::Minor),
    ("m", Quality::Minor),
    ("-", Quality::Minor),
    ("−", Quality::Minor),
    ("–", Quality::Minor),
    ("dim", Quality::Diminished),
    ("dom", Quality::Plain),
    ("d", Quality::Diminished),
    ("o", Quality::Diminished),
    ("°", Quality::Diminished),
    ("º", Quality::Diminished),
    ("ø", Quality::HalfDiminished),
    ("Ø", Quality::HalfDiminished),
    ("∅", Quality::HalfDiminished),
    ("aug", Quality::Augmented),
    ("a", Quality::Augmented),
    ("+", Quality::Augmented),
];

struct Reader<'a> {
    text: &'a str,
    rest: &'a str,
}

impl Reader<'_> {
    fn read_quality(&mut self, written: &mut Written) {
        self.skip();
        if let Some(kind) = self.one_of(&KINDS) {
            written.kind = Some(kind);
            return;
        }
        let before = self.rest;
        if let Some(sign) = self.major() {
            written.quality = Quality::Major;
            written.major_seventh = true;
            written.number = self.number().or((!sign.is_ascii()).then_some(7));
            return;
        }
        self.rest = before;
        written.quality = self.one_of(&QUALITIES).unwrap_or_default();
        let before = self.rest;
        self.skip();
        if written.quality != Quality::Plain && self.major().is_some() {
            written.major_seventh = true;
            written.number = self.number().or(Some(7));
            return;
        }
        self.rest = before;
        self.skip();
        written.number = self.number();
    }

    /// Reads one thing that is added, altered, left out or suspended.
    fn read_change(&mut self, written: &mut Written) -> bool {
        self.skip();
        let before = self.rest;
        let change = self.change();
        if change.is_none() {
            self.rest = before;
        }
        written.changes.extend(change);
        change.is_some()
    }

    fn change(&mut self) -> Option<Change> {
        if self.word("sus") {
            let two = self.word("2");
            let four = self.word("4");
            return Some(Change::Suspend(match (two, four) {
                (true, true) => Suspension::Both,
                (true, false) => Suspension::Second,
                _ => Suspension::Fourth,
            }));
        }
        if self.word("add") {
            self.skip();
            return self.alteration().map(Change::Add);
        }
        if self.word("no") || self.word("omit") {
            self.skip();
            let number = self.number()?;
            let _ordinal = self.word("rd") || self.word("th");
            return Some(Change::LeaveOut(number));
        }
        if self.word("altered") || self.word("alt") {
            return Some(Change::Altered);
        }
        if self.word("nat") || self.word("♮") {
            return self.number().map(|number| Change::Set(Alteration { number, by: 0 }));
        }
        let before = self.rest;
        match self.alteration() {
            Some(Alteration { number, by: 0 }) if before.starts_with(char::is_numeric) => {
                Some(Change::Number(number))
            }
            Some(alteration) => Some(Change::Set(alteration)),
            None => {
                self.rest = before;
                let raised = self.word("aug") || self.word("+");
                raised.then_some(Change::Set(Alteration { number: 5, by: 1 }))
            }
        }
    }

    /// A number with signs, or a major seventh. Signs of a seventh count from the major one, as players name it.
    fn alteration(&mut self) -> Option<Alteration> {
        if self.major().is_some() {
            return self.word("7").then_some(Alteration { number: 7, by: 1 });
        }
        let signs: i8 = self.signs();
        let number = self.number()?;
        let by = if number == 7 && signs < 0 { signs + 1 } else { signs };
        Some(Alteration { number, by })
    }

    fn signs(&mut self) -> i8 {
        let mut sum: i8 = 0;
        let mut rest = self.rest.chars();
        loop {
            let step = match rest.next() {
                Some('b' | '♭' | '-' | '−' | '–') => -1,
                Some('#' | '♯' | '+') => 1,
                _ => return sum,
            };
            sum = sum.saturating_add(step);
            self.rest = rest.as_str();
        }
    }

    /// A degree: 13, 12, 11, 10 or one figure from 1 to 9.
    fn number(&mut self) -> Option<u8> {
        let figures = ["13", "12", "11", "10", "9", "8", "7", "6", "5", "4", "3", "2", "1"];
        let figure = figures.into_iter().find(|figure| self.word(figure))?;
        figure.parse().ok()
    }

    /// The bass, where a slash with a note stands next.
    fn read_bass(&mut self) -> Option<Spelling> {
        let (bass, rest) = Spelling::read(self.rest.trim_start().strip_prefix('/')?.trim_start())?;
        self.rest = rest;
        Some(bass)
    }

    /// A sign of the major seventh: the word as it stands.
    fn major(&mut self) -> Option<&'static str> {
        MAJOR.into_iter().find(|word| !self.means_more(word) && self.word(word))
    }

    fn one_of<T: Copy>(&mut self, words: &[(&str, T)]) -> Option<T> {
        let found = words.iter().find(|(word, _)| !self.means_more(word) && self.word(word));
        found.map(|(_, meaning)| *meaning)
    }

    /// Whether what begins like a quality is a longer word or an alteration.
    fn means_more(&self, word: &str) -> bool {
        let longer: &[&str] = match word {
            "dom" => {
                return self.rest.get(word.len()..).is_some_and(|next| !next.starts_with(char::is_numeric));
            }
            "a" => &["add", "alt"],
            "ma" => &["madd"],
            "M" => &["min", "mi"],
            "o" => &["omit"],
            "-" => &["-5"],
            "−" => &["−5"],
            "–" => &["–5"],
            "+" => &["+5"],
            _ => &[],
        };
        longer.iter().any(|longer| self.begins_with(longer))
    }

    /// Goes past a word if it stands next. Only single letters have a case: M is major, m minor.
    fn word(&mut self, word: &str) -> bool {
        let there = self.begins_with(word);
        if there {
            self.rest = &self.rest[word.len()..];
        }
        there
    }

    fn begins_with(&self, word: &str) -> bool {
        let next = self.rest.get(..word.len());
        next.is_some_and(|next| next == word || (word.len() > 1 && next.eq_ignore_ascii_case(word)))
    }

    /// Goes past what only separates; a slash separates where no note follows.
    fn skip(&mut self) {
        loop {
            let trimmed = self.rest.trim_start_matches(|c: char| c.is_whitespace() || "()[],".contains(c));
            let after = trimmed.strip_prefix('/');
            let degree =
                after.filter(|after| after.starts_with(|c: char| c.is_numeric() || "b♭#♯MΔ".contains(c)));
            self.rest = degree.unwrap_or(trimmed);
            if degree.is_none() {
                return;
            }
        }
    }

    fn unread(&self) -> UnreadChord {
        let text = shown(self.text);
        match self.rest.strip_prefix('/') {
            Some(bass) => UnreadChord::Bass { text, bass: shown(bass) },
            None => UnreadChord::Rest {
                text,
                read: shown(&self.text[..self.text.len() - self.rest.len()]),
                rest: shown(self.rest),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chord(text: &str) -> Chord {
        let symbol = ChordSymbol::parse(text).unwrap_or_else(|e| panic!("{e}"));
        symbol.chord().cloned().unwrap()
    }

    /// The text as this program writes it.
    #[track_caller]
    fn check(text: &str, written: &str) {
        assert_eq!(chord(text).to_string(), written, "{text}");
    }

    #[test]
    fn the_usual_spellings_of_lead_sheets() {
        for text in ["Cmaj7", "CM7", "CΔ7", "CΔ", "Cj7", "Cma7", "CMaj7", "C(maj7)", "Cmajor7"] {
            check(text, "Cmaj7");
        }
        for text in ["Cm7", "C-7", "Cmin7", "Cmi7", "C−7", "CMIN7", "Cminor7"] {
            check(text, "Cm7");
        }
        for text in ["Cm7b5", "Cø", "Cø7", "C-7(b5)", "Cm7♭5", "Cm7-5"] {
            check(text, "Cm7b5");
        }
        for text in ["C6/9", "C69", "C6(9)", "C6add9", "C6 9"] {
            check(text, "C6/9");
        }
        for text in ["CmM7", "Cm(maj7)", "C-Δ", "Cm/M7", "Cminmaj7"] {
            check(text, "Cmmaj7");
        }
        for text in ["C7(b9,#11)", "C7b9#11", "C7♭9♯11", "C7-9+11", "C7 [b9 #11]", "C7/b9/#11"] {
            check(text, "C7b9#11");
        }
        for (text, written) in [
            ("F#°7", "F#dim7"),
            ("C+", "C+"),
            ("Caug7", "C+7"),
            ("C7+", "C7#5"),
            ("C+5", "C(#5)"),
            ("C+M7", "C+maj7"),
            ("Bsus", "Bsus4"),
            ("Bb9sus", "Bb9sus4"),
            ("C13b9sus4", "C7sus4b9add13"),
            ("C2", "Cadd2"),
            ("C5", "C5"),
            ("C7omit5", "C7no5"),
            ("C7alt", "C7alt"),
            ("E7#9", "E7#9"),
            ("D/F#", "D/F#"),
            ("Dm7b5 / Ab", "Dm7b5/Ab"),
            ("C7/13", "C7add13"),
            ("Gadd9/B", "Gadd9/B"),
        ] {
            check(text, written);
        }
    }

    #[test]
    fn flats_before_a_five() {
        check("Cb5", "C(b5)");
        check("Bbb5", "Bb(b5)");
        check("Bb5", "Bb5");
        check("F#5", "F#5");
        check("F#b5", "F#(b5)");
        check("Bb#11", "Bb(#11)");
        check("Ab", "Ab");
        check("Cb7", "Cb7");
        check("Cbpower", "Cbpower");
    }

    #[test]
    fn no_chord_at_all() {
        for text in ["N.C.", "NC", "n.c.", "No chord"] {
            assert_eq!(ChordSymbol::parse(text), Ok(ChordSymbol::NoChord));
        }
    }

    #[test]
    fn real_signs_are_written_on_request() {
        assert_eq!(format!("{:#}", chord("Bbm7b5/Ab")), "B♭m7♭5/A♭");
        assert_eq!(format!("{:#}", chord("F#7#9b13")), "F♯7♯9♭13");
    }

    #[test]
    fn errors_say_what_was_not_understood() {
        for (text, sentence) in [
            ("", "the chord symbol is empty"),
            ("Hm7", "“Hm7” is no chord symbol: it has to begin with a note from A to G, or to be N.C."),
            ("%", "“%” is no chord symbol: it has to begin with a note from A to G, or to be N.C."),
            ("Cm7x", "“Cm7x” is no chord symbol: “x” says nothing after “Cm7”"),
            ("C3", "“C3” is no chord symbol: “3” says nothing after “C”"),
            ("C7/H", "“C7/H” is no chord symbol: “H” after the slash is no note from A to G"),
            ("Cdom", "“Cdom” is no chord symbol: “om” says nothing after “Cd”"),
        ] {
            assert_eq!(ChordSymbol::parse(text).unwrap_err().to_string(), sentence);
        }
        let long = "C".repeat(100_000);
        assert!(ChordSymbol::parse(&long).unwrap_err().to_string().len() < 400);
    }
}
