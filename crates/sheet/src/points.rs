//! Lengths and places on paper.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length on paper in points, 1/72 of an inch. Down and right are positive.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
pub struct Points(f64);

impl Points {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// So many points.
    pub const fn new(points: f64) -> Self {
        Self(points)
    }

    /// So many millimetres.
    pub const fn from_millimetres(millimetres: f64) -> Self {
        Self(millimetres * 72.0 / 25.4)
    }

    /// The number of points.
    pub const fn count(self) -> f64 {
        self.0
    }

    /// The shorter length.
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The longer length.
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl Add for Points {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Points {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Points {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Points {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Points {
    type Output = Self;

    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Points {
    type Output = Self;

    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Points {
    type Output = Self;

    fn div(self, parts: f64) -> Self {
        Self(self.0 / parts)
    }
}

impl Div for Points {
    type Output = f64;

    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

impl Sum for Points {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        Self(lengths.map(Self::count).sum())
    }
}

/// A place on paper, from the upper left corner.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Point {
    /// To the right.
    pub x: Points,
    /// Downwards.
    pub y: Points,
}

impl Point {
    /// The upper left corner.
    pub const ORIGIN: Self = Self { x: Points::ZERO, y: Points::ZERO };

    /// A place.
    pub const fn new(x: Points, y: Points) -> Self {
        Self { x, y }
    }

    /// The place so far from here.
    #[must_use]
    pub fn moved(self, x: Points, y: Points) -> Self {
        Self::new(self.x + x, self.y + y)
    }
}

/// A rectangle on paper.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rect {
    /// The left edge.
    pub left: Points,
    /// The upper edge.
    pub top: Points,
    /// The right edge.
    pub right: Points,
    /// The lower edge.
    pub bottom: Points,
}

impl Rect {
    /// The rectangle between two corners.
    pub fn between(a: Point, b: Point) -> Self {
        Self { left: a.x.min(b.x), top: a.y.min(b.y), right: a.x.max(b.x), bottom: a.y.max(b.y) }
    }

    /// How wide it is.
    pub fn width(&self) -> Points {
        self.right - self.left
    }

    /// How high it is.
    pub fn height(&self) -> Points {
        self.bottom - self.top
    }

    /// The smallest rectangle around both.
    #[must_use]
    pub fn union(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// The rectangle so far from here.
    #[must_use]
    pub fn moved(self, by: Point) -> Self {
        Self {
            left: self.left + by.x,
            top: self.top + by.y,
            right: self.right + by.x,
            bottom: self.bottom + by.y,
        }
    }

    /// The rectangle made larger by a margin on every side; a negative margin makes it smaller.
    #[must_use]
    pub fn grown(self, margin: Points) -> Self {
        Self {
            left: self.left - margin,
            top: self.top - margin,
            right: self.right + margin,
            bottom: self.bottom + margin,
        }
    }

    /// Whether the two share some area.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether all of `other` lies inside.
    pub fn contains(&self, other: &Self) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }
}
