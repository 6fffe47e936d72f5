//! The figures of tuplets on the side of the stems: beside a beam that joins all of the tuplet the figure alone,
//! otherwise in a bracket outside the staff and beyond all that stands over or under it (common practice, no source).

use super::heads::{Chord, Way, head_width};
use super::{SPACE, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Item, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::points::{Point, Points, Rect};
use crate::rhythm::Voice;

/// From a beam or the outermost stem to the middle of the figure.
const AWAY: f64 = 1.15;
/// The height of the figures, as staff spaces of the font.
const FIGURE: f64 = 0.9;
/// The hooks of a bracket.
const HOOK: f64 = 0.7;

/// Draws the figures of a voice: `tips` are the outer ends of the stems, `xs` the columns of its elements. Whatever else
/// stands in the bar is drawn before.
pub(crate) fn draw(
    voice: &Voice,
    chords: &[Option<Chord>],
    tips: &[Option<Points>],
    xs: &[Points],
    into: &mut Group,
) {
    for (index, tuplet) in voice.tuplets.iter().enumerate() {
        let members: Vec<usize> =
            (0..voice.elements.len()).filter(|i| voice.elements[*i].tuplet == Some(index)).collect();
        let (Some(first), Some(last)) = (members.first(), members.last()) else { continue };
        let Some(some) = members.iter().find_map(|i| chords[*i].as_ref()) else { continue };
        let joined = voice.beams.iter().any(|beam| beam.contains(first) && beam.contains(last));
        let outward = if some.way == Way::Up { -1.0 } else { 1.0 };
        let sign = |at| pen::sign_around(Sign::Tuplet(tuplet.actual), SPACE * FIGURE, at);
        let mut group = Group::new(Role::Tuplet);
        if let (true, Some(a), Some(b)) = (joined, end(chords, tips, *first), end(chords, tips, *last)) {
            let y = a.y + (b.y - a.y) / 2.0 + SPACE * (outward * AWAY);
            group.push(sign(Point::new(a.x + (b.x - a.x) / 2.0, y)));
        } else {
            let ends = members.iter().filter_map(|i| tips[*i]);
            let half = head_width(some.value) / 2.0;
            let (left, right) = (xs[*first] - half, xs[*last] + half);
            let in_the_way = inks(into).filter(|ink| ink.left < right && left < ink.right);
            let y = match some.way {
                Way::Up => ends.chain(in_the_way.map(|ink| ink.top)).fold(y_of(8), Points::min),
                Way::Down => ends.chain(in_the_way.map(|ink| ink.bottom)).fold(y_of(0), Points::max),
            } + SPACE * (outward * AWAY);
            let figure = sign(Point::new(left + (right - left) / 2.0, y));
            bracket(
                (left, right),
                figure.bounds().map_or(Points::ZERO, |ink| ink.width()),
                y,
                outward,
                &mut group,
            );
            group.push(figure);
        }
        into.push(group);
    }
}

/// The ink of heads, stems, rests and their signs on a staff.
fn inks(staff: &Group) -> impl Iterator<Item = Rect> {
    let groups =
        staff.items.iter().filter_map(|item| if let Item::Group(group) = item { Some(group) } else { None });
    groups
        .filter(|group| !matches!(group.role, Role::Staff | Role::Metre | Role::Tie))
        .filter_map(Group::bounds)
}

/// The outer end of a stem.
fn end(chords: &[Option<Chord>], tips: &[Option<Points>], element: usize) -> Option<Point> {
    Some(Point::new(chords[element].as_ref()?.stem_x(), tips[element]?))
}

/// Two halves around the figure, their hooks towards the notes; none where the figure leaves no room.
fn bracket((left, right): (Points, Points), figure: Points, y: Points, outward: f64, into: &mut Group) {
    let middle = left + (right - left) / 2.0;
    let gap = figure / 2.0 + SPACE * 0.35;
    if right - left <= gap * 2.0 {
        return;
    }
    let thick = SPACE * width::TUPLET_BRACKET;
    for (outer, inner) in [(left, middle - gap), (right, middle + gap)] {
        let corner = Point::new(outer, y);
        into.push(Path::line(corner, Point::new(inner, y), thick, Ink::BLACK));
        into.push(Path::line(corner, Point::new(outer, y - SPACE * (outward * HOOK)), thick, Ink::BLACK));
    }
}
