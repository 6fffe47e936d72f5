//! The sheet measured: nothing overlaps that must not, nothing leaves the margins, every note is there once.

mod support;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use expect_test::expect;
use handspan_core::arrangement::Score;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::{Points, Rect};
use handspan_sheet::{Layout, Paper, Print, Sheet, SheetOptions, engrave, look, write};

/// Every layout on both papers, and in large print with mirrored boxes.
fn sheets(score: &Score) -> Vec<(SheetOptions, Sheet)> {
    let layouts = [Layout::Tablature, Layout::StaffAndTablature, Layout::Staff, Layout::Boxes];
    let manners = [
        SheetOptions::default(),
        SheetOptions { paper: Paper::Letter, ..SheetOptions::default() },
        SheetOptions { print: Print::Large, left_handed_boxes: true, ..SheetOptions::default() },
    ];
    let choices =
        layouts.into_iter().flat_map(|layout| manners.map(|manner| SheetOptions { layout, ..manner }));
    choices.map(|options| (options, engrave(score, &options))).collect()
}

fn all_scores() -> Vec<Score> {
    vec![support::evening(), support::ferry(), support::crossing(), support::jig(), support::long_walk()]
}

/// Whether a group keeps others out of its box.
fn is_solid(role: Role) -> bool {
    !matches!(
        role,
        Role::System(_)
            | Role::Staff
            | Role::Notation
            | Role::NamedBox
            | Role::Held(_)
            | Role::Beam
            | Role::Tie
    )
}

/// Whether one group may lie on another: signs within the group of their section, a stem on what it belongs to, two
/// voices on one head, the two heads of a second on either side of one stem.
fn may_share((a, a_box): (Role, Rect), (b, b_box): (Role, Rect)) -> bool {
    let nested = |a, b| a == Role::Section && matches!(b, Role::Jump | Role::Tempo);
    let is_head = |role| matches!(role, Role::Head(_) | Role::TiedHead(_));
    let on_stem =
        |a, b| a == Role::Stem && (is_head(b) || matches!(b, Role::Stem | Role::Accidental | Role::Rest));
    let stem = Points::new(0.8);
    let one_place = libm::fabs((a_box.left - b_box.left).count()) < 0.1;
    let second = a_box.right - b_box.left < stem || b_box.right - a_box.left < stem;
    let one_head = is_head(a) && is_head(b) && (one_place || second);
    nested(a, b) || nested(b, a) || on_stem(a, b) || on_stem(b, a) || one_head
}

fn overlaps(frame: &Frame) -> Vec<(Role, Rect, Role, Rect)> {
    let solid: Vec<(Role, Rect)> = frame.groups().into_iter().filter(|(role, _)| is_solid(*role)).collect();
    let mut found = Vec::new();
    for (i, (a, a_box)) in solid.iter().enumerate() {
        for (b, b_box) in &solid[i + 1..] {
            // Half a tenth of a point is less than any printer shows.
            if a_box.grown(Points::new(-0.05)).overlaps(b_box) && !may_share((*a, *a_box), (*b, *b_box)) {
                found.push((*a, *a_box, *b, *b_box));
            }
        }
    }
    found
}

#[test]
fn nothing_overlaps_that_must_not() {
    for score in all_scores() {
        for (options, sheet) in sheets(&score) {
            for page in &sheet.pages {
                assert_eq!(overlaps(page), [], "{}: {options:?}", sheet.title);
            }
        }
    }
}

#[test]
fn nothing_leaves_the_margins() {
    for score in all_scores() {
        for (options, sheet) in sheets(&score) {
            let scale = options.print.scale();
            for page in &sheet.pages {
                let inside = Rect {
                    left: look::MARGIN_SIDE * scale,
                    top: look::MARGIN_TOP * scale,
                    right: page.width - look::MARGIN_SIDE * scale,
                    bottom: page.height - look::MARGIN_BOTTOM * scale,
                };
                // A hair for the round edges of letters.
                let hair = Points::new(0.8) * scale;
                for (role, ink) in page.groups() {
                    assert!(
                        inside.grown(hair).contains(&ink),
                        "{}: {options:?}: {role:?} at {ink:?}",
                        sheet.title
                    );
                }
            }
        }
    }
}

#[test]
fn every_note_stands_once_with_its_fret_and_finger() {
    for score in all_scores() {
        for (SheetOptions { layout, .. }, sheet) in sheets(&score) {
            let mut figures: BTreeMap<usize, usize> = BTreeMap::new();
            let mut fingers: BTreeMap<usize, usize> = BTreeMap::new();
            let mut heads: BTreeMap<usize, usize> = BTreeMap::new();
            for (role, _) in sheet.pages.iter().flat_map(Frame::groups) {
                match role {
                    Role::Fret(note) => *figures.entry(note).or_default() += 1,
                    Role::Head(note) => *heads.entry(note).or_default() += 1,
                    Role::LeftFinger(note) => *fingers.entry(note).or_default() += 1,
                    _ => {}
                }
            }
            let all: BTreeMap<usize, usize> = (0..score.notes.len()).map(|note| (note, 1)).collect();
            let where_shown = |shown: bool| if shown { all.clone() } else { BTreeMap::new() };
            assert_eq!(figures, where_shown(layout.has_tablature()), "{}", sheet.title);
            assert_eq!(heads, where_shown(layout.has_staff()), "{}", sheet.title);
            let mut held = where_shown(layout != Layout::Boxes);
            held.retain(|note, _| score.notes[*note].finger.is_some());
            assert_eq!(fingers, held, "{}", sheet.title);
        }
    }
}

#[test]
fn figures_stand_in_the_order_of_time_on_the_line_of_their_string() {
    let score = support::evening();
    for (page, frame) in engrave(&score, &SheetOptions::default()).pages.iter().enumerate() {
        let groups = frame.groups();
        let mut staff: Option<Rect> = None;
        let mut before: BTreeMap<u8, Points> = BTreeMap::new();
        for (role, ink) in groups {
            match role {
                Role::Staff => {
                    staff = Some(ink);
                    before.clear();
                }
                Role::Fret(note) => {
                    let string = score.notes[note].place.string;
                    let line = staff.unwrap().top + look::STRING_GAP * string.index() as f64;
                    let middle = ink.top + ink.height() / 2.0;
                    assert!(libm::fabs((middle - line).count()) < 1.0, "page {page}, note {note}");
                    let left = before.insert(string.number(), ink.right);
                    assert!(left.is_none_or(|left| left < ink.left), "page {page}, note {note}");
                }
                _ => {}
            }
        }
    }
}

#[test]
fn full_lines_end_at_the_right_margin_and_the_last_is_not_pulled_apart() {
    let sheet = engrave(&support::long_walk(), &SheetOptions::default());
    let is_staff = |(role, ink): (Role, Rect)| (role == Role::Staff).then_some(ink);
    let staves: Vec<Rect> = sheet.pages.iter().flat_map(Frame::groups).filter_map(is_staff).collect();
    let (last, full) = staves.split_last().unwrap();
    let margin = Paper::A4.width() - look::MARGIN_SIDE;
    assert!(full.len() > 4);
    for staff in full {
        assert!(libm::fabs((staff.right - margin).count()) < 0.5, "{staff:?}");
    }
    assert!(last.right <= margin + Points::new(0.5));
}

#[test]
fn the_outline_names_the_sections_and_a_strange_letter_is_reported() {
    let sheet = engrave(&support::evening(), &SheetOptions::default());
    let names: Vec<&str> = sheet.outline.iter().map(|entry| entry.title.as_str()).collect();
    assert_eq!(names, ["Bridge", "Coda"]);
    assert_eq!(sheet.missing, []);
    let strange = support::titled("Weir 堰");
    let sheet = engrave(&strange, &SheetOptions::default());
    assert_eq!(sheet.missing, ['堰']);
    assert!(sheet.pages[0].texts().contains(&"Weir "));
}

#[test]
fn the_same_score_gives_the_same_bytes() {
    let write = || {
        let sheet = engrave(&support::evening(), &SheetOptions::default());
        (write::pdf::pdf(&sheet).unwrap(), write::svg::svg(&sheet.pages[0]))
    };
    let (pdf, svg) = write();
    assert_eq!((pdf.clone(), svg.clone()), write());
    assert!(pdf.starts_with(b"%PDF") && pdf.len() < 200_000, "{} bytes", pdf.len());
    assert!(svg.contains("aria-label=\"An Evening at the Weir\"") && !svg.contains("NaN"));
}

#[test]
fn chord_symbols_have_real_signs() {
    let sheet = engrave(&support::evening(), &SheetOptions::default());
    let texts: String = sheet.pages[0].texts().concat();
    for word in ["E♭dim7", "Dm7♭5/A♭", "F♯m7♭5", "N.C.", "D.S. al Coda", "To Coda"] {
        assert!(texts.contains(word), "{word}");
    }
}

#[test]
fn absurd_scores_are_still_drawn_whole() {
    let absurd = [support::crowded(4), support::crowded(10), support::unwritable()];
    for score in &absurd {
        for (options, sheet) in sheets(score) {
            let figure = |(role, _): &(Role, Rect)| matches!(role, Role::Fret(_));
            let figures = sheet.pages.iter().flat_map(Frame::groups).filter(figure).count();
            assert_eq!(figures, if options.layout.has_tablature() { score.notes.len() } else { 0 });
            let inside = |page: &Frame| {
                page.bounds().is_some_and(|ink| ink.left >= Points::ZERO && ink.right <= page.width)
            };
            assert!(sheet.pages.iter().all(inside), "{}", sheet.title);
            assert!(write::pdf::pdf(&sheet).is_ok());
        }
    }
    assert_eq!(engrave(&absurd[2], &SheetOptions::default()).title, "Untitled");
}

/// The groups of a one-bar sheet with their places, so that a change of layout is seen in one place.
#[test]
fn a_bar_on_paper() {
    let sheet = engrave(&support::titled("One Bar"), &SheetOptions::default());
    let tenths = |p: Points| libm::round(p.count() * 10.0) / 10.0;
    let mut drawn = String::new();
    for (role, ink) in sheet.pages[0].groups() {
        let (left, top) = (tenths(ink.left), tenths(ink.top));
        let (width, height) = (tenths(ink.width()), tenths(ink.height()));
        writeln!(drawn, "{role:?} {left} {top} {width}x{height}").unwrap();
    }
    expect![[r"
        Heading 45.4 45.4 505.2x64.5
        System(0) 45 125 87.5x125.4
        Staff 45 178.8 87.5x36.6
        Metre 61.9 183.2 12x27.9
        Fret(0) 89.1 183.7 3.6x5.8
        LeftFinger(0) 85.1 184.6 1.8x3.8
        Fret(1) 88.7 205.3 4x5.8
        LeftFinger(1) 84.7 206.2 2.6x3.8
        RightFingers 87.6 243.9 6.1x6.5
        ChordBox 87 136.7 25.5x32.8
        ChordName 87.2 125 7.2x8.3
        Footer 195.9 802.6 353.3x7.5
    "]]
    .assert_eq(&drawn);
}
