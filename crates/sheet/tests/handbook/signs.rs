//! Dots, accidentals, bar lines, tuplets and right-hand letters.

use handspan_sheet::frame::{Frame, Group, Item, Role};
use handspan_sheet::points::{Point, Points, Rect};
use handspan_sheet::{Layout, SheetOptions, engrave};

use super::{is_near, scores, staff_of, staves, systems};
use crate::support;

/// The figure of a tuplet with its bracket.
#[derive(Debug)]
pub(super) struct Tuplet {
    ink: Rect,
    figure: Rect,
    lines: Vec<Rect>,
}

impl Tuplet {
    pub(super) fn of(group: &Group, here: Point) -> Self {
        let ink = |is_line: bool| {
            let items = group.items.iter().filter(move |item| matches!(item, Item::Path(_)) == is_line);
            items.filter_map(Item::bounds).map(|ink| ink.moved(here))
        };
        let figure = ink(false).reduce(Rect::union).expect("a tuplet has a figure");
        let lines: Vec<Rect> = ink(true).collect();
        Self { ink: lines.iter().copied().fold(figure, Rect::union), figure, lines }
    }
}

/// Ross and Gould, on two voices that share a head: it has its dot once.
#[test]
fn a_head_of_two_voices_has_one_dot() {
    let sheet = staff_of(&support::meeting());
    let staff = &staves(&sheet)[0];
    let heads: Vec<Rect> = (0..3).map(|note| staff.of(|role| role == Role::Head(note))[0]).collect();
    assert_eq!(heads[0], heads[1], "melody and inner voice on one E");
    let dots = staff.of(|role| role == Role::NoteDot).len();
    assert_eq!(dots, 2 + 3, "one for the E, one for the bass, three for the chord after them");
}

/// Ross and Gould, on the accidentals of a chord: the highest nearest to the heads, then the lowest, what lies between
/// farthest away; none touches another or a ledger line.
#[test]
fn accidentals_of_a_chord_stand_from_the_outside_inwards() {
    let sheet = staff_of(&support::meeting());
    let staff = &staves(&sheet)[0];
    let is_before_last = |ink: &Rect| {
        let last = staff.of(|role| role == Role::Head(3))[0];
        ink.right <= last.left && ink.right > last.left - staff.space * 5.0
    };
    let mut signs: Vec<Rect> =
        staff.of(|role| role == Role::Accidental).into_iter().filter(is_before_last).collect();
    signs.sort_by(|a, b| a.top.count().total_cmp(&b.top.count()));
    let [top, middle, bottom] = signs[..] else { panic!("{signs:?}") };
    assert!(middle.right <= bottom.left && bottom.right <= top.left, "{signs:?}");
    let mut seen = 0;
    for score in scores() {
        for staff in staves(&staff_of(&score)) {
            for sign in staff.of(|role| role == Role::Accidental) {
                assert!(staff.lines.iter().all(|line| !line.overlaps(&sign)), "{}", score.tune.title());
                seen += 1;
            }
        }
    }
    assert!(seen > 60, "{seen}");
}

/// The bar lines of a page from left to right.
fn bar_lines(page: &Frame) -> Vec<Rect> {
    fn collect(items: &[Item], origin: Point, in_staff: bool, found: &mut Vec<Rect>) {
        for item in items {
            match item {
                Item::Group(group) => {
                    let here = origin.moved(group.at.x, group.at.y);
                    collect(&group.items, here, group.role == Role::Staff, found);
                }
                Item::Path(path) if in_staff => found.extend(path.bounds().map(|ink| ink.moved(origin))),
                _ => {}
            }
        }
    }
    let mut found = Vec::new();
    collect(&page.items, Point::ORIGIN, false, &mut found);
    found.retain(|ink| ink.height() > ink.width() * 4.0);
    found.sort_by(|a, b| a.left.count().total_cmp(&b.left.count()));
    found
}

/// Read and Gould, on double bars: two thin lines before a section, also where it begins inside a line.
#[test]
fn a_section_begins_after_a_double_bar() {
    for layout in [Layout::Staff, Layout::Tablature] {
        let score = support::meeting();
        let sheet = engrave(&score, &SheetOptions { layout, ..SheetOptions::default() });
        let lines = bar_lines(&sheet.pages[0]);
        let number =
            sheet.pages[0].groups().iter().filter(|(role, _)| matches!(role, Role::System(_))).count();
        assert_eq!(number, 1, "both sections stand on one line");
        let near = lines.windows(2).filter(|pair| pair[1].left - pair[0].right < Points::new(3.0));
        let widths: Vec<(bool, bool)> = near
            .map(|pair| (pair[0].width() < Points::new(1.0), pair[1].width() < Points::new(1.0)))
            .collect();
        assert_eq!(widths, [(true, true), (true, false)], "{layout:?}: {lines:?}");
    }
}

/// Gould, on tuplets: the figure on the side of the stems, alone beside a beam over all of it, otherwise in the gap of a
/// bracket that reaches over all heads and has its hooks towards them.
#[test]
fn tuplets_have_their_figures_beside_beams_or_in_brackets_on_the_side_of_the_stems() {
    let (mut alone, mut bracketed) = (0, 0);
    for score in [support::crossing()] {
        for staff in staves(&staff_of(&score)) {
            for tuplet in &staff.tuplets {
                let ink = tuplet.ink;
                let beside = |head: &&Rect| head.left < ink.right && ink.left < head.right;
                let heads = staff.heads();
                let mine: Vec<&Rect> = heads.iter().filter(beside).collect();
                let is_above = mine.iter().all(|head| ink.bottom <= head.top);
                let is_below = mine.iter().all(|head| head.bottom <= ink.top);
                assert!(is_above || is_below, "{}: {ink:?}", score.tune.title());
                // The stems over or under it end towards it.
                for stem in staff.stems().iter().filter(|stem| stem.left < ink.right && ink.left < stem.right)
                {
                    assert!(if is_above { ink.bottom <= stem.top } else { stem.bottom <= ink.top });
                }
                if tuplet.lines.is_empty() {
                    let meets = |bar: &super::beams::Bar| bar[0].x < ink.left && ink.right < bar[1].x;
                    assert!(staff.beams.iter().flatten().any(meets), "{}: {ink:?}", score.tune.title());
                    alone += 1;
                } else {
                    assert_eq!(tuplet.lines.len(), 4, "two halves with a hook each");
                    let inner = |a: Points, b: Points| tuplet.figure.right <= a || b <= tuplet.figure.left;
                    assert!(tuplet.lines.iter().all(|line| inner(line.left, line.right)));
                    let hooks = tuplet.lines.iter().filter(|line| line.height() > line.width());
                    for hook in hooks {
                        let towards = if is_above {
                            hook.bottom > tuplet.figure.top
                        } else {
                            hook.top < tuplet.figure.bottom
                        };
                        assert!(towards, "{}: {hook:?}", score.tune.title());
                    }
                    bracketed += 1;
                }
            }
        }
    }
    assert!(alone >= 3 && bracketed >= 3, "{alone} {bracketed}");
}

/// Right-hand letters: on one line under each system, below all of the staff, centred under their strokes, the thumb's
/// first (common practice of guitar editions, no source).
#[test]
fn right_hand_letters_stand_on_one_line_under_their_strokes() {
    let mut seen = 0;
    for score in scores() {
        for layout in [Layout::Staff, Layout::StaffAndTablature, Layout::Tablature] {
            let sheet = engrave(&score, &SheetOptions { layout, ..SheetOptions::default() });
            for system in sheet.pages.iter().flat_map(systems) {
                let of = |is_it: fn(Role) -> bool| -> Vec<Rect> {
                    system.iter().filter(|(role, _)| is_it(*role)).map(|(_, ink)| *ink).collect()
                };
                let letters = of(|role| role == Role::RightFingers);
                let notes = of(|role| matches!(role, Role::Fret(_) | Role::Head(_) | Role::Stem));
                let lowest = notes.iter().map(|ink| ink.bottom).fold(Points::ZERO, Points::max);
                for word in &letters {
                    let title = score.tune.title();
                    assert!(word.top > lowest, "{title}, {layout:?}: {word:?} {lowest:?}");
                    // The p reaches below the line, the i above the others.
                    assert!(is_near(word.top.count(), letters[0].top.count(), 2.5), "{title}, {layout:?}");
                    let middle = (word.left + word.width() / 2.0).count();
                    let figures = of(|role| matches!(role, Role::Fret(_) | Role::Head(_)));
                    let away = |ink: &Rect| libm::fabs((ink.left + ink.width() / 2.0).count() - middle);
                    assert!(figures.iter().any(|ink| away(ink) < 1.0), "{title}, {layout:?}: {word:?}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 300, "{seen}");
    let sheet = staff_of(&support::evening());
    assert!(sheet.pages[0].texts().contains(&"ppima"), "{:?}", sheet.pages[0].texts());
}
