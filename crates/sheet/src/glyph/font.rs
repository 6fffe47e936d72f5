//! The fonts of the sheet.

use std::sync::OnceLock;

use rustybuzz::ttf_parser::GlyphId;

/// A font of the sheet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Face {
    /// Text.
    Regular,
    /// Strong text: titles, figures of the tablature.
    Bold,
    /// Slanted text: digits and letters of the hands, remarks.
    Italic,
    /// Musical signs at the code points of SMuFL.
    Music,
}

impl Face {
    /// Every font.
    pub const ALL: [Self; 4] = [Self::Regular, Self::Bold, Self::Italic, Self::Music];

    /// The font file.
    pub const fn data(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../../../assets/fonts/LinLibertine_R.otf"),
            Self::Bold => include_bytes!("../../../../assets/fonts/LinLibertine_RB.otf"),
            Self::Italic => include_bytes!("../../../../assets/fonts/LinLibertine_RI.otf"),
            Self::Music => include_bytes!("../../../../assets/fonts/bravura.otf"),
        }
    }

    pub(super) fn parsed(self) -> &'static rustybuzz::Face<'static> {
        static PARSED: [OnceLock<rustybuzz::Face<'static>>; Face::ALL.len()] = [const { OnceLock::new() }; 4];
        PARSED[self as usize].get_or_init(|| {
            rustybuzz::Face::from_slice(self.data(), 0)
                .expect("the fonts compiled in are whole; a test reads each")
        })
    }
}

/// The ink of a glyph in units of its font, y upwards.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct InkBox {
    /// The left edge.
    pub x_min: i32,
    /// The lower edge.
    pub y_min: i32,
    /// The right edge.
    pub x_max: i32,
    /// The upper edge.
    pub y_max: i32,
}

/// Units of a font in its em.
pub fn units_per_em(face: Face) -> f64 {
    f64::from(face.parsed().units_per_em())
}

/// The ink of a glyph, none where it has no ink.
pub fn ink_box(face: Face, glyph: u16) -> Option<InkBox> {
    let rect = face.parsed().glyph_bounding_box(GlyphId(glyph))?;
    Some(InkBox {
        x_min: i32::from(rect.x_min),
        y_min: i32::from(rect.y_min),
        x_max: i32::from(rect.x_max),
        y_max: i32::from(rect.y_max),
    })
}
