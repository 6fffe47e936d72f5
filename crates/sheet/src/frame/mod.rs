//! The page model: all that engraving says, and all that a writer or a screen has to know.
//!
//! A [`Frame`] holds items of few kinds; whoever draws it never sees the score. Every group says by its [`Role`]
//! what it is in the music, so that a test finds every note on paper again, a reader program can name it, and a
//! screen can mark the moment that sounds.

mod enlarge;
pub mod path;
pub mod role;
pub mod text;

pub use path::{Ink, Path, Segment, Stroke};
pub use role::Role;
pub use text::{GlyphRun, PlacedGlyph};

use crate::points::{Point, Points, Rect};

/// A page, or any drawing with a size.
#[derive(Clone, PartialEq, Debug)]
pub struct Frame {
    /// How wide it is.
    pub width: Points,
    /// How high it is.
    pub height: Points,
    /// What is drawn, from back to front.
    pub items: Vec<Item>,
}

/// Something drawn.
#[derive(Clone, PartialEq, Debug)]
pub enum Item {
    /// Items that belong together.
    Group(Group),
    /// A line, a curve or a surface.
    Path(Path),
    /// Text or signs of one font and size.
    Glyphs(GlyphRun),
}

/// Items that belong together and move together.
#[derive(Clone, PartialEq, Debug)]
pub struct Group {
    /// What they are in the music.
    pub role: Role,
    /// Where their own origin lies in the group or frame around them.
    pub at: Point,
    /// What a reader program says in place of the drawing, where its text alone would not do.
    pub description: Option<String>,
    /// What is drawn, from back to front.
    pub items: Vec<Item>,
}

impl Group {
    /// An empty group at the origin.
    pub const fn new(role: Role) -> Self {
        Self { role, at: Point::ORIGIN, description: None, items: Vec::new() }
    }

    /// A group of one item at the origin.
    pub fn of(role: Role, item: impl Into<Item>) -> Self {
        Self { items: vec![item.into()], ..Self::new(role) }
    }

    /// The same group with what a reader program says in place of the drawing.
    #[must_use]
    pub fn described(self, words: String) -> Self {
        Self { description: Some(words), ..self }
    }

    /// Adds an item in front.
    pub fn push(&mut self, item: impl Into<Item>) {
        self.items.push(item.into());
    }

    /// The ink of all items, in the coordinates of the group or frame around it; none where there is no ink.
    pub fn bounds(&self) -> Option<Rect> {
        bounds(&self.items).map(|rect| rect.moved(self.at))
    }
}

impl From<Group> for Item {
    fn from(group: Group) -> Self {
        Self::Group(group)
    }
}

impl From<Path> for Item {
    fn from(path: Path) -> Self {
        Self::Path(path)
    }
}

impl From<GlyphRun> for Item {
    fn from(run: GlyphRun) -> Self {
        Self::Glyphs(run)
    }
}

impl Item {
    /// Its ink; none where there is no ink.
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Self::Group(group) => group.bounds(),
            Self::Path(path) => path.bounds(),
            Self::Glyphs(run) => run.bounds(),
        }
    }
}

fn bounds(items: &[Item]) -> Option<Rect> {
    items.iter().filter_map(Item::bounds).reduce(Rect::union)
}

impl Frame {
    /// Every group with its ink on the page, outer groups before inner ones.
    pub fn groups(&self) -> Vec<(Role, Rect)> {
        let mut found = Vec::new();
        collect(&self.items, Point::ORIGIN, &mut found);
        found
    }

    /// The ink of all items; none where there is no ink.
    pub fn bounds(&self) -> Option<Rect> {
        bounds(&self.items)
    }

    /// All text in drawing order, one run after another.
    pub fn texts(&self) -> Vec<&str> {
        let mut texts = Vec::new();
        read(&self.items, &mut texts);
        texts
    }
}

fn collect(items: &[Item], origin: Point, found: &mut Vec<(Role, Rect)>) {
    for item in items {
        if let Item::Group(group) = item {
            if let Some(rect) = group.bounds() {
                found.push((group.role, rect.moved(origin)));
            }
            collect(&group.items, origin.moved(group.at.x, group.at.y), found);
        }
    }
}

fn read<'a>(items: &'a [Item], texts: &mut Vec<&'a str>) {
    for item in items {
        match item {
            Item::Group(group) => read(&group.items, texts),
            Item::Glyphs(run) => texts.push(&run.text),
            Item::Path(_) => {}
        }
    }
}
