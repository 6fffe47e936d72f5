//! The musical signs the sheet uses: code points, line widths and anchors of SMuFL.
//!
//! Source: Standard Music Font Layout (SMuFL) 1.4, W3C Music Notation Community Group, 2021; the line widths are the
//! `engravingDefaults`, the anchors the `glyphsWithAnchors` of the font's own metadata, kept in
//! assets/fonts/bravura.metadata.json, in staff spaces. A test compares both, and the boxes of all signs, with it.

/// Line widths in staff spaces.
pub mod width {
    /// `staffLineThickness`
    pub const STAFF_LINE: f64 = 0.13;
    /// `stemThickness`
    pub const STEM: f64 = 0.12;
    /// `beamThickness`
    pub const BEAM: f64 = 0.5;
    /// `beamSpacing`
    pub const BEAM_GAP: f64 = 0.25;
    /// `thinBarlineThickness`
    pub const THIN_BAR_LINE: f64 = 0.16;
    /// `thickBarlineThickness`
    pub const THICK_BAR_LINE: f64 = 0.5;
    /// `barlineSeparation`
    pub const BAR_LINE_GAP: f64 = 0.4;
    /// `repeatBarlineDotSeparation`
    pub const REPEAT_DOT_GAP: f64 = 0.16;
    /// `repeatEndingLineThickness`
    pub const ENDING: f64 = 0.16;
    /// `tieMidpointThickness`
    pub const TIE: f64 = 0.22;
    /// `legerLineThickness`
    pub const LEDGER_LINE: f64 = 0.16;
    /// `legerLineExtension`: how far a ledger line reaches beyond its head.
    pub const LEDGER_EXTENSION: f64 = 0.4;
    /// `tupletBracketThickness`
    pub const TUPLET_BRACKET: f64 = 0.16;
}

/// How far above the middle of a head a stem upwards begins, and below it one downwards: `stemUpSE` and `stemDownNW`
/// of the black and the half head, in staff spaces.
pub const STEM_ANCHOR: f64 = 0.168;

/// A musical sign.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Sign {
    /// The letters TAB of a tablature of six strings.
    TabClef,
    /// A figure of a time signature, 0 to 9.
    Metre(u8),
    /// A figure of a tuplet, 0 to 9.
    Tuplet(u8),
    /// A flag under a stem: how many flags, 1 to 4.
    FlagDown(u8),
    /// Flags over a stem: how many, 1 to 4.
    FlagUp(u8),
    /// A note head: 0 for a whole note, 1 for a half, 2 for all shorter ones.
    Head(u8),
    /// A diamond for a head, the large one that is nearly as wide as a round head: 0 for a whole note, 1 for a half, 2
    /// for all shorter ones.
    Diamond(u8),
    /// A cross for a head: a tap.
    Cross,
    /// An accidental: −2 a double flat to 2 a double sharp.
    Accidental(i8),
    /// The treble clef that sounds an octave lower.
    TrebleClef,
    /// A rest: its length as a power of two, 0 for a whole note, 2 for a quarter, up to 6.
    Rest(u8),
    /// The dot that lengthens a note by half.
    Dot,
    /// The dot of a repeat.
    RepeatDot,
    /// Segno.
    Segno,
    /// Coda.
    Coda,
    /// The note of a tempo: its length as a power of two, 0 to 4.
    TempoNote(u8),
    /// The dot of a tempo's note.
    TempoDot,
}

impl Sign {
    /// The code point.
    pub fn code_point(self) -> char {
        let code = match self {
            Self::TabClef => 0xE06D,
            Self::Metre(figure) => 0xE080 + u32::from(figure.min(9)),
            Self::Tuplet(figure) => 0xE880 + u32::from(figure.min(9)),
            Self::FlagDown(flags) => 0xE241 + 2 * (u32::from(flags.clamp(1, 4)) - 1),
            Self::FlagUp(flags) => 0xE240 + 2 * (u32::from(flags.clamp(1, 4)) - 1),
            Self::Head(kind) => 0xE0A2 + u32::from(kind.min(2)),
            Self::Cross => 0xE0A9,
            Self::Diamond(kind) => 0xE0E0 + u32::from(kind.min(2)),
            Self::Accidental(alter) => {
                [0xE264, 0xE260, 0xE261, 0xE262, 0xE263][(alter.clamp(-2, 2) + 2) as usize]
            }
            Self::TrebleClef => 0xE052,
            Self::Rest(power) => 0xE4E3 + u32::from(power.min(6)),
            Self::Dot => 0xE1E7,
            Self::RepeatDot => 0xE044,
            Self::Segno => 0xE047,
            Self::Coda => 0xE048,
            Self::TempoNote(power) => [0xECA2, 0xECA3, 0xECA5, 0xECA7, 0xECA9][usize::from(power.min(4))],
            Self::TempoDot => 0xECB7,
        };
        // Every code point above is a character of the private use area.
        char::from_u32(code).unwrap_or(char::REPLACEMENT_CHARACTER)
    }

    /// What stands in its place where text is copied or read aloud.
    pub const fn words(self) -> &'static str {
        const FIGURES: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
        match self {
            Self::Metre(figure) | Self::Tuplet(figure) => {
                FIGURES[if figure < 10 { figure as usize } else { 9 }]
            }
            Self::Segno => "segno",
            Self::Coda => "coda",
            Self::TempoNote(0) => "whole note",
            Self::TempoNote(1) => "half note",
            Self::TempoNote(2) => "quarter note",
            Self::TempoNote(3) => "eighth note",
            Self::TempoNote(_) => "sixteenth note",
            Self::TempoDot => "dotted",
            // Read from the tablature as a whole, not sign by sign.
            Self::TabClef
            | Self::TrebleClef
            | Self::Head(_)
            | Self::Diamond(_)
            | Self::Cross
            | Self::Accidental(_)
            | Self::FlagUp(_)
            | Self::FlagDown(_)
            | Self::Rest(_)
            | Self::Dot
            | Self::RepeatDot => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::font::Face;
    use super::*;

    #[test]
    fn the_music_font_has_every_sign() {
        let figures = (0..10).flat_map(|n| [Sign::Metre(n), Sign::Tuplet(n)]);
        let flags = (1..=4).flat_map(|n| [Sign::FlagDown(n), Sign::FlagUp(n)]);
        let notes = (0..=2)
            .flat_map(|n| [Sign::Head(n), Sign::Diamond(n)])
            .chain((-2..=2).map(Sign::Accidental))
            .chain([Sign::TrebleClef]);
        let lengths = (0..=6).map(Sign::Rest).chain((0..=4).map(Sign::TempoNote));
        let others =
            [Sign::Cross, Sign::TabClef, Sign::Dot, Sign::RepeatDot, Sign::Segno, Sign::Coda, Sign::TempoDot];
        for sign in figures.chain(flags).chain(notes).chain(lengths).chain(others) {
            let glyph = Face::Music.parsed().glyph_index(sign.code_point());
            assert!(glyph.is_some_and(|g| g.0 > 0), "{sign:?}");
        }
    }
}
