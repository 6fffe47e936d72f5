//! Beams among the lines of the staff: how they lean, where they lie, and how long their stems are.

use handspan_core::arrangement::Score;
use handspan_sheet::points::{Point, Points, Rect};

use super::{Staff, is_near, scores, staff_of, staves};
use crate::support;

/// The four corners of a beam: the outer edge from left to right, the inner edge back.
pub(super) type Bar = [Point; 4];

/// A beam with its inner beams, the outermost first, measured in spaces: how high above the lowest line the middles of
/// its ends are.
struct Beamed<'a> {
    staff: &'a Staff,
    bars: &'a [Bar],
}

impl Beamed<'_> {
    fn height(&self, y: Points) -> f64 {
        self.staff.steps(y) / 2.0
    }

    /// The heights of the middles of a bar's ends.
    fn middles(&self, bar: &Bar) -> (f64, f64) {
        let middle = |a: Point, b: Point| f64::midpoint(self.height(a.y), self.height(b.y));
        (middle(bar[0], bar[3]), middle(bar[1], bar[2]))
    }

    /// By how much it rises.
    fn rise(&self) -> f64 {
        let (from, to) = self.middles(&self.bars[0]);
        to - from
    }

    /// How long it is.
    fn length(&self) -> f64 {
        (self.bars[0][1].x - self.bars[0][0].x) / self.staff.space
    }

    fn is_above_its_heads(&self) -> bool {
        self.bars[0][3].y > self.bars[0][0].y
    }

    /// The stems that end at its outer edge.
    fn stems(&self) -> Vec<Rect> {
        let [from, to, ..] = self.bars[0];
        let meets = |stem: &Rect| {
            let x = stem.left + stem.width() / 2.0;
            let edge = from.y + (to.y - from.y) * ((x - from.x) / (to.x - from.x));
            let tip = if self.is_above_its_heads() { stem.top } else { stem.bottom };
            // The bounds of a stem reach half its width beyond its end.
            from.x < x && x < to.x && is_near(tip.count(), edge.count(), stem.width().count() / 2.0 + 0.05)
        };
        self.staff.stems().into_iter().filter(meets).collect()
    }
}

fn beams(staff: &Staff) -> impl Iterator<Item = Beamed<'_>> {
    staff.beams.iter().map(move |bars| Beamed { staff, bars })
}

fn all_beams(score: &Score, mut seen: impl FnMut(&Beamed<'_>)) {
    for staff in staves(&staff_of(score)) {
        beams(&staff).for_each(|beam| seen(&beam));
    }
}

/// Ross and Gould, on beams: half a space thick, leaning by quarters of a space, by one space at most and never by more
/// than a fifth of their length.
#[test]
fn beams_lean_little_and_by_quarters_of_a_space() {
    let mut seen = 0;
    for score in &scores() {
        let title = score.tune.title();
        all_beams(score, |beam| {
            let (rise, length) = (libm::fabs(beam.rise()), beam.length());
            assert!(rise <= f64::min(1.0, 0.2 * length) + 0.02, "{title}: {rise} on {length}");
            assert!(is_near(rise * 4.0, libm::round(rise * 4.0), 0.1), "{title}: {rise}");
            for bar in beam.bars {
                let thick = libm::fabs(beam.height(bar[0].y) - beam.height(bar[3].y));
                assert!(is_near(thick, 0.5, 0.001), "{title}: {thick}");
            }
            seen += 1;
        });
    }
    assert!(seen > 40, "{seen}");
}

/// Ross and Gould, on beams within the staff: their ends hang from a line, straddle it or sit on it; none has its middle
/// in the middle of a space, where slivers of white would be left on both sides.
#[test]
fn the_ends_of_beams_hang_from_lines_straddle_them_or_sit_on_them() {
    let (mut inside, mut sloping) = (0, 0);
    for score in &scores() {
        all_beams(score, |beam| {
            let whole = beam.bars[0];
            for bar in beam.bars {
                let (from, to) = beam.middles(bar);
                // The inner ends of short beams and of beams over a part stand where they must.
                let ends = [(bar[0].x == whole[0].x, from), (bar[1].x == whole[1].x, to)];
                for (_, height) in ends.into_iter().filter(|(is_outer, _)| *is_outer) {
                    let between = height.rem_euclid(1.0);
                    let is_inside = (-0.1..=4.1).contains(&height);
                    let title = score.tune.title();
                    assert!(!is_inside || !(0.3..=0.7).contains(&between), "{title}: an end at {height}");
                    inside += usize::from(is_inside);
                }
                sloping += usize::from(libm::fabs(beam.rise()) > 0.1);
            }
        });
    }
    assert!(inside > 15 && sloping > 30, "{inside} {sloping}");
}

/// Ross and Gould, on stems under beams: the innermost beam stays two spaces away from the heads at least, and the
/// outermost reaches the middle line.
#[test]
fn beamed_stems_leave_two_spaces_free_and_reach_the_middle_line() {
    let mut seen = 0;
    for score in &scores() {
        all_beams(score, |beam| {
            let title = score.tune.title();
            let up = beam.is_above_its_heads();
            let stems = beam.stems();
            assert!(stems.len() >= 2, "{title}: {stems:?}");
            for stem in stems {
                let x = stem.left + stem.width() / 2.0;
                // What of its beams lies at the stem.
                let here = beam.bars.iter().filter(|bar| bar[0].x < x && x < bar[1].x);
                let deep = 0.5 + 0.75 * (here.count() - 1) as f64;
                let free = stem.height() / beam.staff.space - deep;
                // A stem begins at the side of its head, a sixth of a space from the head's middle.
                assert!(free > 1.8, "{title}: {free} spaces under {deep}");
                let tip = beam.height(if up { stem.top } else { stem.bottom });
                let reaches = if up { tip >= 1.98 } else { tip <= 2.02 };
                assert!(reaches, "{title}: a stem ends at {tip}");
                seen += 1;
            }
        });
    }
    assert!(seen > 100, "{seen}");
}

/// Ross and Gould, on the slant: a quarter of a space for a second, half a space for a third, one space for a fifth; flat
/// where an inner note reaches beyond the outer ones and over a figure that is repeated.
#[test]
fn the_slant_follows_the_outer_notes() {
    let mut rises: Vec<f64> = Vec::new();
    all_beams(&support::beams(), |beam| rises.push(beam.rise()));
    let pairs = [0.25, -0.25, 0.5, -0.5, 0.25, -0.5];
    let fours = [0.0, 0.0];
    let sixteenths = [0.25, 0.5, 1.0, 0.0];
    let expected = [&pairs[..], &fours[..], &sixteenths[..]].concat();
    assert_eq!(rises.len(), expected.len());
    // A beam is as wide as a stem longer than what it leans over.
    assert!(rises.iter().zip(&expected).all(|(rise, told)| is_near(*rise, *told, 0.02)), "{rises:?}");
}
