//! Chord symbols as text and in parts for paper.
//!
//! The text is the usual one of lead sheets and can be read back: [`ChordSymbol::parse`].

use std::fmt::{self, Write as _};

use super::kind::Kind;
use super::symbol::{Chord, ChordSymbol, Degree, DegreeKind, dominant_scale};
use crate::spelling::{Spelling, Step};

/// A chord symbol as it is set on paper.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct EngravedChord {
    /// The root, or N.C.
    pub root: String,
    /// What stands on the line after it: m, dim, +.
    pub base: String,
    /// What is raised: maj7, 7♭9, sus4.
    pub raised: String,
    /// The bass, to be set after a slash.
    pub bass: Option<String>,
}

impl ChordSymbol {
    /// The symbol in parts for paper, with real signs.
    pub fn engraved(&self) -> EngravedChord {
        match self {
            Self::Chord(chord) => chord.engraved(),
            Self::NoChord => EngravedChord {
                root: "N.C.".to_owned(),
                base: String::new(),
                raised: String::new(),
                bass: None,
            },
        }
    }
}

impl Chord {
    /// The symbol in parts for paper, with real signs; as the source printed its kind where that says it all.
    pub fn engraved(&self) -> EngravedChord {
        let names_degrees = |text: &&String| {
            let named = |degree: &Degree| text.contains(&degree.number.to_string());
            self.degrees.iter().all(named)
        };
        let quality = match self.printed.as_ref().filter(names_degrees) {
            Some(printed) => printed.clone(),
            None => with_signs(&self.quality()),
        };
        let base = ["dim", "min", "m", "-", "−", "°", "+"]
            .into_iter()
            .find(|base| {
                quality.starts_with(base) && !quality.starts_with("maj") && !quality.starts_with("ma7")
            })
            .unwrap_or_default();
        EngravedChord {
            root: format!("{:#}", self.root),
            base: base.to_owned(),
            raised: quality[base.len()..].to_owned(),
            bass: self.bass.map(|bass| format!("{bass:#}")),
        }
    }

    /// Everything between the root and the bass, in plain text.
    fn quality(&self) -> String {
        if self.kind == Kind::Dominant && self.degrees == Degree::ALTERED {
            return "7alt".to_owned();
        }
        let (mut text, prefixed) = self.kind_text();
        let mut touched = Vec::new();
        let mut degrees = String::new();
        for (index, degree) in self.degrees.iter().enumerate() {
            if index >= prefixed {
                degrees.push_str(&self.degree_text(*degree, &touched, &self.degrees[..prefixed]));
            }
            if degree.kind != DegreeKind::Add {
                touched.push(degree.number);
            }
        }
        // An accidental right after the root would be taken for the root's own.
        if text.is_empty() && degrees.starts_with(['b', '#']) {
            return format!("({degrees})");
        }
        text.push_str(&degrees);
        text
    }

    /// The kind with those of the first degrees that players write before it (7sus4, 6/9), and how many these are.
    fn kind_text(&self) -> (String, usize) {
        let added: Vec<(u8, i8)> = self
            .degrees
            .iter()
            .map_while(|d| (d.kind == DegreeKind::Add).then_some((d.number, d.alter)))
            .collect();
        match self.kind {
            Kind::SuspendedFourth | Kind::SuspendedSecond => {
                let sus = if self.kind == Kind::SuspendedFourth { "sus4" } else { "sus2" };
                let (prefix, count) = match added.as_slice() {
                    [(7, 0), (9, 0), (13, 0), ..] => ("13", 3),
                    [(7, 0), (9, 0), ..] => ("9", 2),
                    [(7, 0), ..] => ("7", 1),
                    [(7, 1), ..] => ("maj7", 1),
                    [(6, 0), (9, 0), ..] => ("6/9", 2),
                    [(6, 0), ..] => ("6", 1),
                    _ => ("", 0),
                };
                (format!("{prefix}{sus}"), count)
            }
            Kind::MajorSixth if added.first() == Some(&(9, 0)) => ("6/9".to_owned(), 1),
            Kind::MinorSixth if added.first() == Some(&(9, 0)) => ("m6/9".to_owned(), 1),
            // C♭5 would be read as C with a flat fifth.
            Kind::Power if is_rare_flat(self.root) => ("power".to_owned(), 0),
            // An altered fifth is read from the perfect one; ø says what it is altered from.
            Kind::HalfDiminished if self.degrees.iter().any(|d| d.number == 5) => ("ø7".to_owned(), 0),
            kind => (kind.text().to_owned(), 0),
        }
    }

    fn degree_text(&self, degree: Degree, touched: &[u8], prefixed: &[Degree]) -> String {
        let number = degree.number;
        let in_kind = self.kind.tone_of(number).filter(|_| !touched.contains(&number));
        let from = match (degree.kind, in_kind) {
            (DegreeKind::Subtract, _) => return format!("no{number}"),
            (DegreeKind::Alter, Some(_)) if degree.alter == 0 => return String::new(),
            (DegreeKind::Alter, Some(semitones)) => semitones,
            _ => dominant_scale(number),
        };
        let off = from + i16::from(degree.alter) - dominant_scale(number);
        let bare = match degree.kind {
            DegreeKind::Alter => in_kind.is_some(),
            _ => in_kind.is_none() && !prefixed.iter().any(|p| p.number == number),
        };
        let altered = altered_text(number, off);
        match (bare, off) {
            (true, 0) if in_kind.is_some() && number != 7 => format!("nat{number}"),
            (true, 0) if in_kind.is_some() => altered,
            (true, _) if off != 0 => altered,
            (_, 0) => format!("add{number}"),
            _ => format!("add{altered}"),
        }
    }
}

/// A degree with its accidental. Sevenths are named as players do: from the major one.
fn altered_text(number: u8, off: i16) -> String {
    let flats = |count: i16| "b".repeat(usize::from(count.unsigned_abs()));
    match (number, off) {
        (7, 1) => "maj7".to_owned(),
        (7, ..=0) => format!("{}7", flats(1 - off)),
        (_, ..=0) => format!("{}{number}", flats(off)),
        (7, _) => format!("{}7", "#".repeat(usize::from(off.unsigned_abs()))),
        _ => format!("{}{number}", "#".repeat(usize::from(off.unsigned_abs()))),
    }
}

impl Kind {
    /// What is written after the root.
    const fn text(self) -> &'static str {
        match self {
            Self::Major => "",
            Self::Minor => "m",
            Self::Augmented => "+",
            Self::Diminished => "dim",
            Self::Dominant => "7",
            Self::MajorSeventh => "maj7",
            Self::MinorSeventh => "m7",
            Self::DiminishedSeventh => "dim7",
            Self::AugmentedSeventh => "+7",
            Self::HalfDiminished => "m7b5",
            Self::MajorMinor => "mmaj7",
            Self::MajorSixth => "6",
            Self::MinorSixth => "m6",
            Self::DominantNinth => "9",
            Self::MajorNinth => "maj9",
            Self::MinorNinth => "m9",
            Self::Dominant11th => "11",
            Self::Major11th => "maj11",
            Self::Minor11th => "m11",
            Self::Dominant13th => "13",
            Self::Major13th => "maj13",
            Self::Minor13th => "m13",
            Self::SuspendedSecond => "sus2",
            Self::SuspendedFourth => "sus4",
            Self::Neapolitan => "N6",
            Self::Italian => "It6",
            Self::French => "Fr6",
            Self::German => "Ger6",
            Self::Pedal => "pedal",
            Self::Power => "5",
            Self::Tristan => "Tristan",
            Self::Other => "?",
        }
    }
}

/// Whether a flat root is one that no key needs, so that its last flat before a 5 belongs to the fifth.
pub(super) const fn is_rare_flat(root: Spelling) -> bool {
    root.alter < -1 || (root.alter == -1 && matches!(root.step, Step::C | Step::F))
}

/// The text with real signs: a flat or sharp is one where a number or another sign follows it.
fn with_signs(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let is_sign = |index: usize| {
        let rest = &chars[index..];
        let after = rest.iter().find(|c| !matches!(c, 'b' | '#'));
        after.is_some_and(char::is_ascii_digit)
    };
    let signs = chars.iter().enumerate().map(|(index, c)| match c {
        'b' if is_sign(index) => '♭',
        '#' if is_sign(index) => '♯',
        _ => *c,
    });
    signs.collect::<String>().replace("nat", "♮")
}

/// Writes plain text, `Dm7b5/Ab`; with the alternate flag real signs, `Dm7♭5/A♭`.
impl fmt::Display for Chord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.root.fmt(f)?;
        let quality = self.quality();
        if f.alternate() {
            f.write_str(&with_signs(&quality))?;
        } else {
            f.write_str(&quality)?;
        }
        if let Some(bass) = self.bass {
            f.write_char('/')?;
            bass.fmt(f)?;
        }
        Ok(())
    }
}

/// Writes the chord, or `N.C.`
impl fmt::Display for ChordSymbol {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoChord => f.write_str("N.C."),
            Self::Chord(chord) => chord.fmt(f),
        }
    }
}
