//! The sheet's measures: sizes of type, distances, and how they follow from one another.

use crate::points::Points;

/// From string line to string line of the tablature.
pub const STRING_GAP: Points = Points::new(7.2);
/// The staff space of musical signs beside the tablature: rests, flags, beams.
pub const SPACE: Points = Points::new(4.8);

/// Fret figures.
pub const FRET: Points = Points::new(9.4);
/// Left-hand digits beside them.
pub const LEFT_FINGER: Points = Points::new(6.8);
/// From a fret figure to its left-hand digit.
pub const LEFT_FINGER_GAP: Points = Points::new(1.2);
/// Right-hand letters under them.
pub const RIGHT_FINGER: Points = Points::new(7.6);
/// Chord symbols.
pub const CHORD: Points = Points::new(12.5);
/// The numerals of barres.
pub const BARRE: Points = Points::new(8.5);
/// Bar numbers.
pub const BAR_NUMBER: Points = Points::new(7.5);
/// Section names.
pub const SECTION: Points = Points::new(11.5);
/// D.C., D.S., fine, endings.
pub const SIGN_TEXT: Points = Points::new(9.5);

/// Remarks under a system.
pub const REMARK: Points = Points::new(10.0);
/// From the lowest ink of a system to the remarks under it.
pub const REMARK_DROP: Points = Points::new(3.0);

/// From the lowest string line to the top of the stems.
pub const STEM_DROP: Points = Points::new(7.5);
/// A whole stem.
pub const STEM: Points = Points::new(17.0);
/// From the end of the stems to the baseline of the right-hand letters.
pub const RIGHT_FINGER_DROP: Points = Points::new(9.0);

/// From the lowest string line to the baseline of the right-hand letters where no stems stand between.
pub const RIGHT_FINGER_BELOW: Points = Points::new(12.0);

/// From the top string line up to what stands above.
pub const CLEARANCE: Points = Points::new(6.0);
/// From the lowest ink of the five-line staff to the top string line.
pub const STAFF_GAP: Points = Points::new(10.0);
/// White between two signs of the left hand in one row.
pub const BESIDE_SIGNS: Points = Points::new(3.0);
/// White between two signs of the form in one row; the brackets of endings bring their own.
pub const BESIDE_ENDINGS: Points = Points::new(1.0);
/// Between two rows of signs above the tablature.
pub const ROW_GAP: Points = Points::new(3.5);

/// From a bar line to the first figure's ink.
pub const AFTER_BAR_LINE: Points = Points::new(6.5);
/// From a column to the next one a quarter later in a line that is neither pulled nor pressed.
pub const AFTER_QUARTER: Points = Points::new(25.0);
/// The least white between the ink of neighbouring columns.
pub const COLUMN_GAP: Points = Points::new(3.0);
/// The least white between two chord symbols or boxes.
pub const CHORD_GAP: Points = Points::new(7.0);

/// The width of the clef at the beginning of a system, with the white after it.
pub const CLEF: Points = Points::new(15.0);
/// The white after a metre.
pub const AFTER_METRE: Points = Points::new(5.5);
/// The width of a repeat's sign at the beginning of a bar.
pub const REPEAT: Points = Points::new(12.5);

/// The left and right margin of a page.
pub const MARGIN_SIDE: Points = Points::from_millimetres(16.0);
/// The upper margin.
pub const MARGIN_TOP: Points = Points::from_millimetres(15.0);
/// The lower margin, below the footer.
pub const MARGIN_BOTTOM: Points = Points::from_millimetres(11.0);
/// The height of the footer with the white above it.
pub const FOOTER: Points = Points::new(16.0);
/// The least white between two systems.
pub const SYSTEM_GAP: Points = Points::new(10.0);
/// The white between two systems where there is room enough.
pub const SYSTEM_GAP_USUAL: Points = Points::new(26.0);
/// The most white that a full page puts between two systems.
pub const SYSTEM_GAP_MOST: Points = Points::new(42.0);
