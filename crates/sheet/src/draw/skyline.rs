//! The upper edge of what is drawn already, so that what stands above comes down as far as its own place allows.

use crate::frame::{Group, Item};
use crate::points::{Point, Points, Rect};

/// The white to the left and right of what stands above.
const BESIDE: Points = Points::new(3.5);

/// All ink of a system so far.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Skyline {
    inks: Vec<Rect>,
}

impl Skyline {
    /// The ink of a group, in its own coordinates.
    pub(crate) fn of(group: &Group) -> Self {
        let mut inks = Vec::new();
        collect(&group.items, Point::ORIGIN, &mut inks);
        Self { inks }
    }

    /// The highest ink between two edges; none where there is none.
    fn top(&self, left: Points, right: Points) -> Option<Points> {
        let over = |ink: &&Rect| ink.left < right + BESIDE && left - BESIDE < ink.right;
        self.inks.iter().filter(over).map(|ink| ink.top).reduce(Points::min)
    }

    /// Puts groups that are drawn around the height 0 side by side into one row, as low as all of them stay clear of
    /// what is below by a gap.
    pub(crate) fn put_row(&mut self, row: Vec<Group>, gap: Points, into: &mut Group) {
        let inks: Vec<Rect> = row.iter().filter_map(Group::bounds).collect();
        let down = inks.iter().filter_map(|ink| Some(self.top(ink.left, ink.right)? - gap - ink.bottom));
        let down = down.reduce(Points::min).unwrap_or(Points::ZERO);
        self.inks.extend(inks.into_iter().map(|ink| ink.moved(Point::new(Points::ZERO, down))));
        for mut group in row {
            group.at.y += down;
            into.push(group);
        }
    }
}

fn collect(items: &[Item], origin: Point, inks: &mut Vec<Rect>) {
    for item in items {
        match item {
            Item::Group(group) => collect(&group.items, origin.moved(group.at.x, group.at.y), inks),
            Item::Path(_) | Item::Glyphs(_) => inks.extend(item.bounds().map(|ink| ink.moved(origin))),
        }
    }
}

/// Shares groups among rows, each into the lowest row in which nothing stands in its way.
pub(crate) fn rows(groups: impl IntoIterator<Item = Group>, gap: Points) -> Vec<Vec<Group>> {
    let mut rows: Vec<(Vec<Group>, Vec<Rect>)> = Vec::new();
    for group in groups {
        let Some(ink) = group.bounds() else { continue };
        let free = |(_, taken): &(Vec<Group>, Vec<Rect>)| {
            taken.iter().all(|other| ink.right + gap < other.left || other.right + gap < ink.left)
        };
        let row = rows.iter().position(free).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push((Vec::new(), Vec::new()));
        }
        rows[row].0.push(group);
        rows[row].1.push(ink);
    }
    rows.into_iter().map(|(groups, _)| groups).collect()
}
