//! Ties: which way they bow, and where they begin and end.

use handspan_sheet::frame::{Path, Segment};
use handspan_sheet::points::{Point, Points, Rect};

use super::{Staff, staff_of, staves};
use crate::support;

/// A tie from end to end.
#[derive(Debug)]
pub(super) struct Tie {
    from: Point,
    to: Point,
    up: bool,
}

impl Tie {
    /// The tie that a path draws; none for another path.
    pub(super) fn of(path: &Path, here: Point) -> Option<Self> {
        let [Segment::Move(from), Segment::Curve(control, _, to), ..] = path.segments[..] else {
            return None;
        };
        let at = |point: Point| point.moved(here.x, here.y);
        Some(Self { from: at(from), to: at(to), up: control.y < from.y })
    }
}

/// The ties of a staff from left to right, those that begin together from above.
fn ties(staff: &Staff) -> Vec<&Tie> {
    let mut ties: Vec<&Tie> = staff.ties.iter().collect();
    let tenths = |x: Points| libm::round(x.count()) as i64;
    ties.sort_by_key(|tie| (tenths(tie.to.x) / 8, tenths(tie.from.y)));
    ties
}

/// The head nearest to a place.
fn nearest(staff: &Staff, to: Point) -> Rect {
    let away = |head: &Rect| {
        let (x, y) = (head.left + head.width() / 2.0 - to.x, head.top + head.height() / 2.0 - to.y);
        libm::hypot(x.count(), y.count())
    };
    staff
        .heads()
        .into_iter()
        .min_by(|a, b| away(a).total_cmp(&away(b)))
        .expect("a staff with a tie has heads")
}

/// Read and Gould, on ties: a single voice bows away from its stems; of several voices each bows to the side of its
/// stems; the chord of a voice alone bows its upper notes upwards and the others downwards.
#[test]
fn ties_bow_away_from_single_stems_and_outwards_from_voices() {
    let sheet = staff_of(&support::held());
    let told: Vec<String> = staves(&sheet)
        .iter()
        .map(|staff| ties(staff).iter().map(|tie| if tie.up { '^' } else { 'v' }).collect())
        .collect();
    // G below and F above the middle line alone; E over C, G and C, over the middle of the bar and over the bar line;
    // C, G and C alone.
    assert_eq!(told.concat(), "v^^vvv^vvv^vv");
}

/// Read and Gould, on where ties begin: those beyond all heads above or below the middles of the heads, those of inner
/// notes between the heads, and none through a head.
#[test]
fn ties_of_inner_notes_lie_between_the_heads() {
    let sheet = staff_of(&support::held());
    for staff in staves(&sheet) {
        for tie in ties(&staff) {
            let (from, to) = (nearest(&staff, tie.from), nearest(&staff, tie.to));
            let outside =
                |head: &Rect| if tie.up { tie.from.y <= head.top } else { tie.from.y >= head.bottom };
            let between = from.right <= tie.from.x && tie.to.x <= to.left;
            assert!(between || outside(&from) && outside(&to), "{tie:?} from {from:?} to {to:?}");
            assert!(tie.from.y == tie.to.y && tie.to.x - tie.from.x > staff.space, "{tie:?}");
        }
    }
}
