//! Lines, curves and surfaces.

use crate::points::{Point, Points, Rect};

/// How dark something is drawn: 0 is black, 255 is the paper's white.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Ink(pub u8);

impl Ink {
    /// Full black.
    pub const BLACK: Self = Self(0);
    /// The paper's white, to clear what lies behind a figure.
    pub const PAPER: Self = Self(255);
    /// A dark grey for what explains figures.
    pub const MIDDLE: Self = Self(112);
    /// A light grey for what must not compete with figures.
    pub const GREY: Self = Self(196);
}

/// The pen of a line.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stroke {
    /// How thick.
    pub width: Points,
    /// How dark.
    pub ink: Ink,
    /// Whether its ends are round; otherwise they are cut off square at the end points.
    pub round: bool,
}

/// A part of a path.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Segment {
    /// Begins a new part of the path.
    Move(Point),
    /// A straight line.
    Line(Point),
    /// A cubic curve: two control points and its end.
    Curve(Point, Point, Point),
    /// Back to where the part began.
    Close,
}

/// A path, filled or stroked or both.
#[derive(Clone, PartialEq, Debug)]
pub struct Path {
    /// Its parts.
    pub segments: Vec<Segment>,
    /// What its inside is filled with (non-zero winding rule).
    pub fill: Option<Ink>,
    /// What its line is drawn with.
    pub stroke: Option<Stroke>,
}

impl Path {
    /// A straight line with square ends.
    pub fn line(from: Point, to: Point, width: Points, ink: Ink) -> Self {
        Self {
            segments: vec![Segment::Move(from), Segment::Line(to)],
            fill: None,
            stroke: Some(Stroke { width, ink, round: false }),
        }
    }

    /// A filled polygon.
    pub fn polygon(corners: &[Point], ink: Ink) -> Self {
        let mut segments: Vec<Segment> = corners.iter().map(|p| Segment::Line(*p)).collect();
        if let (Some(first), Some(corner)) = (segments.first_mut(), corners.first()) {
            *first = Segment::Move(*corner);
        }
        segments.push(Segment::Close);
        Self { segments, fill: Some(ink), stroke: None }
    }

    /// A filled rectangle.
    pub fn rectangle(rect: Rect, ink: Ink) -> Self {
        let corner = Point::new;
        Self::polygon(
            &[
                corner(rect.left, rect.top),
                corner(rect.right, rect.top),
                corner(rect.right, rect.bottom),
                corner(rect.left, rect.bottom),
            ],
            ink,
        )
    }

    /// A circle, its line of a width or filled.
    pub fn circle(centre: Point, radius: Points, fill: Option<Ink>, stroke: Option<Stroke>) -> Self {
        // The control points of a quarter circle drawn as a cubic curve lie at 4/3·tan(π/8) of the radius.
        let k = radius * 0.552_284_75;
        let at = |x: Points, y: Points| centre.moved(x, y);
        let (r, zero) = (radius, Points::ZERO);
        Self {
            segments: vec![
                Segment::Move(at(r, zero)),
                Segment::Curve(at(r, k), at(k, r), at(zero, r)),
                Segment::Curve(at(-k, r), at(-r, k), at(-r, zero)),
                Segment::Curve(at(-r, -k), at(-k, -r), at(zero, -r)),
                Segment::Curve(at(k, -r), at(r, -k), at(r, zero)),
                Segment::Close,
            ],
            fill,
            stroke,
        }
    }

    /// Its ink: the corners and control points with half the line's width around them; none for an empty path.
    pub fn bounds(&self) -> Option<Rect> {
        let points = self.segments.iter().flat_map(|segment| match *segment {
            Segment::Move(p) | Segment::Line(p) => vec![p],
            Segment::Curve(a, b, c) => vec![a, b, c],
            Segment::Close => Vec::new(),
        });
        let around = points.map(|p| Rect::between(p, p)).reduce(Rect::union)?;
        let half = self.stroke.map_or(Points::ZERO, |s| s.width / 2.0);
        Some(around.grown(half))
    }
}
