//! Chords: keys, the kinds of chord of MusicXML 4.0, chord symbols with degrees and slash bass, and the tones
//! they ask for.

mod build;
pub mod key;
pub mod kind;
pub mod name;
pub mod omission;
pub mod read;
pub mod symbol;
pub mod tones;
pub mod write;

pub use key::{Key, Mode};
pub use kind::Kind;
pub use name::{NamedChord, names};
pub use read::UnreadChord;
pub use symbol::{Chord, ChordSymbol, Degree, DegreeKind};
pub use tones::ToneSet;
pub use write::EngravedChord;
