//! Where frets lie, in whole micrometres, so that comparisons are equal on every machine.

use std::fmt;
use std::ops::Sub;

/// A distance on the neck in whole micrometres; shown and entered in millimetres.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Micrometres(i32);

impl Micrometres {
    /// So many micrometres.
    pub const fn new(micrometres: i32) -> Self {
        Self(micrometres)
    }

    /// The nearest whole micrometre to a length in millimetres.
    pub fn from_millimetres(millimetres: f64) -> Self {
        Self(libm::round(millimetres * 1000.0) as i32)
    }

    /// The number of micrometres.
    pub const fn count(self) -> i32 {
        self.0
    }

    /// The length in millimetres, for showing and drawing.
    pub fn millimetres(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// The distance without its direction.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// A length scaled by so many percent.
    #[must_use]
    pub const fn percent(self, percent: i32) -> Self {
        Self((self.0 as i64 * percent as i64 / 100) as i32)
    }
}

impl Sub for Micrometres {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl fmt::Debug for Micrometres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Micrometres({self})")
    }
}

/// Writes millimetres: `36.5 mm`.
impl fmt::Display for Micrometres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.1} mm", self.millimetres())
    }
}

/// How far a fret wire lies from the nut in equal temperament: L · (1 − 2^(−n/12)).
pub fn wire(scale: Micrometres, fret_from_nut: u8) -> Micrometres {
    let part = 1.0 - libm::exp2(-f64::from(fret_from_nut) / 12.0);
    Micrometres::from_millimetres(scale.millimetres() * part)
}

/// Where a fingertip presses to sound a fret: 10 mm behind the wire, or 0.35 of the gap where frets lie close
/// (design of this project; common practice, no source: "just behind the fret").
pub fn press_point(scale: Micrometres, fret_from_nut: u8) -> Micrometres {
    let here = wire(scale, fret_from_nut);
    let gap = (here - wire(scale, fret_from_nut.saturating_sub(1))).percent(35);
    here - gap.min(Micrometres::new(10_000))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wires_lie_where_equal_temperament_puts_them() {
        let scale = Micrometres::new(650_000);
        // Check values at 650 mm, computed from the formula above.
        for (fret, millimetres) in [(0, 0.0), (1, 36.48), (5, 163.05), (7, 216.18), (12, 325.0), (19, 433.09)]
        {
            let off = (wire(scale, fret).millimetres() - millimetres).abs();
            assert!(off < 0.01, "fret {fret} is {off} mm off");
        }
    }

    #[test]
    fn a_finger_presses_behind_its_wire() {
        let scale = Micrometres::new(650_000);
        assert_eq!(wire(scale, 1) - press_point(scale, 1), Micrometres::new(10_000));
        let gap = wire(scale, 19) - wire(scale, 18);
        assert_eq!(wire(scale, 19) - press_point(scale, 19), gap.percent(35));
    }
}
