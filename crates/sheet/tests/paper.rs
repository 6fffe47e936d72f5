//! The sheets of scores written by hand, measured and looked through.

mod handbook;
mod measure;
mod support;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use expect_test::expect;
use handspan_core::arrangement::Score;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::{Points, Rect};
use handspan_sheet::{Layout, Paper, Print, Sheet, SheetOptions, engrave, look, write};
use measure::{faults, sheets};

fn all_scores() -> Vec<Score> {
    vec![
        support::evening(),
        support::ferry(),
        support::crossing(),
        support::jig(),
        support::turning(),
        support::long_walk(),
        support::rules(),
        support::ladder(),
        support::voices(),
        support::ripples(),
        support::knocks(),
        support::beams(),
        support::meeting(),
        support::held(),
        support::thirds(),
        support::aside(),
    ]
}

#[test]
fn nothing_overlaps_or_leaves_the_margins_and_every_note_stands_once() {
    for score in all_scores() {
        for (options, sheet) in sheets(&score) {
            assert_eq!(faults(&score, &options, &sheet), [""; 0], "{}: {options:?}", sheet.title);
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
    // Strong and slanted letters have no accidentals: another face stands in.
    let flat = engrave(&support::titled("Air in B♭"), &SheetOptions::default());
    assert!(flat.missing.is_empty() && texts(&flat).contains("Air in B♭"));
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

/// The ink of a role on the first page.
fn ink_of(sheet: &Sheet, role: Role) -> Rect {
    let groups = sheet.pages[0].groups();
    groups.into_iter().find(|(r, _)| *r == role).unwrap_or_else(|| panic!("no {role:?}")).1
}

#[test]
fn a_barre_is_bracketed_as_long_as_the_finger_stays() {
    let score = support::turning();
    let sheet = engrave(&score, &SheetOptions::default());
    let is_barre = |(role, _): &(Role, Rect)| *role == Role::Barre;
    assert_eq!(sheet.pages.iter().flat_map(Frame::groups).filter(is_barre).count(), 10);
    // The finger lies across two strings in the first bar of each pair and across three in the second.
    assert_eq!(sheet.pages[0].texts().iter().filter(|text| **text == "½CV").count(), 10);
    let bracket = ink_of(&sheet, Role::Barre);
    // The first bar: four notes at once, two, two, and the last, for which the finger has gone.
    assert!(bracket.left <= ink_of(&sheet, Role::Fret(0)).left + Points::new(1.0));
    assert!(bracket.right > ink_of(&sheet, Role::Fret(6)).right);
    assert!(bracket.right < ink_of(&sheet, Role::Fret(8)).left);
}

#[test]
fn two_voices_share_a_head_only_on_one_note() {
    let options = SheetOptions { layout: Layout::Staff, ..SheetOptions::default() };
    let sheet = engrave(&support::turning(), &options);
    let [same, other, upper, lower] = [4, 5, 6, 7].map(|note| ink_of(&sheet, Role::Head(note)));
    assert_eq!(same, other);
    assert!(upper.right <= lower.left + Points::new(0.05), "{upper:?} {lower:?}");
    assert!(lower.top > upper.top);
}

/// The texts of a sheet, page after page.
fn texts(sheet: &Sheet) -> String {
    sheet.pages.iter().flat_map(Frame::texts).collect()
}

fn count(sheet: &Sheet, is_it: impl Fn(Role) -> bool) -> usize {
    sheet.pages.iter().flat_map(Frame::groups).filter(|(role, _)| is_it(*role)).count()
}

#[test]
fn a_handout_has_its_bars_and_remarks_and_no_others() {
    let score = support::long_walk();
    let remarks = BTreeMap::from([(5, "hear the bass".to_owned()), (40, "not printed".to_owned())]);
    let options = SheetOptions { passage: Some(4..8), remarks, ..SheetOptions::default() };
    let sheet = engrave(&score, &options);
    assert_eq!(sheet.pages.len(), 1);
    assert_eq!(count(&sheet, |role| matches!(role, Role::Fret(_))), 4 * 7);
    assert_eq!(count(&sheet, |role| role == Role::Remark(5)), 1);
    assert_eq!(count(&sheet, |role| role == Role::Metre), 1);
    let texts = texts(&sheet);
    assert!(texts.contains("Bars 5–8") && texts.contains("Bar 6: hear the bass"), "{texts}");
    assert!(!texts.contains("not printed"));
    let beyond = SheetOptions { passage: Some(60..70), ..SheetOptions::default() };
    assert_eq!(engrave(&score, &beyond), engrave(&score, &SheetOptions::default()));
}

#[test]
fn a_remark_longer_than_a_page_goes_on_in_blocks_of_its_own() {
    let score = support::long_walk();
    let words = "Let the thumb rest and hear the bass out before the next stroke. ".repeat(150);
    for print in [Print::Normal, Print::Large] {
        let remarks = BTreeMap::from([(5, words.clone()), (6, "Then on.".to_owned())]);
        let options = SheetOptions { passage: Some(4..8), remarks, print, ..SheetOptions::default() };
        let sheet = engrave(&score, &options);
        assert_eq!(faults(&score, &options, &sheet), [""; 0]);
        let said = texts(&sheet).matches("hear the bass").count();
        assert_eq!(said, 150);
        assert!(sheet.pages.len() > 1 && texts(&sheet).contains("Bar 7: Then on."));
    }
}

#[test]
fn the_practice_page_shows_the_hardest_moves_and_the_cautions() {
    let options = SheetOptions { practice: true, ..SheetOptions::default() };
    let sheet = engrave(&support::evening(), &options);
    assert_eq!(count(&sheet, |role| matches!(role, Role::Move(_))), 6);
    assert_eq!(sheet.outline.last().unwrap().page, sheet.pages.len() - 1);
    let texts = texts(&sheet);
    for words in
        ["Practice: the hardest moves", " to ", "The hand shifts from position", "a doctor", "= 56", "112"]
    {
        assert!(texts.contains(words), "{words}");
    }
    // Everything is played open: there is no move to be shown.
    let open = engrave(&support::titled("One Bar"), &options);
    assert_eq!(count(&open, |role| matches!(role, Role::Move(_))), 0);
}

#[test]
fn the_cautions_never_stand_on_a_page_alone() {
    let mut pages = 0;
    for (score, print) in all_scores().iter().flat_map(|s| [(s, Print::Normal), (s, Print::Large)]) {
        for paper in [Paper::A4, Paper::Letter] {
            let options = SheetOptions { practice: true, print, paper, ..SheetOptions::default() };
            let sheet = engrave(score, &options);
            let last = sheet.pages.last().unwrap().groups();
            let company = last.iter().any(|(role, _)| matches!(role, Role::Move(_) | Role::Practice));
            assert!(company, "{}: {options:?}", score.tune.title());
            assert_eq!(faults(score, &options, &sheet), [""; 0]);
            pages += sheet.pages.len() - sheet.outline.last().unwrap().page;
        }
    }
    assert!(pages > 4 * all_scores().len(), "some practice pages go on");
}

#[test]
fn positions_stand_above_a_staff_and_brushes_beside_their_notes() {
    let score = support::evening();
    let tablature = engrave(&score, &SheetOptions::default());
    let staff = SheetOptions { layout: Layout::Staff, ..SheetOptions::default() };
    let staff = engrave(&score, &staff);
    assert_eq!(count(&tablature, |role| role == Role::Position), 0);
    assert!(count(&staff, |role| role == Role::Position) > 2);
    let brushes = |sheet: &Sheet| count(sheet, |role| role == Role::Brush);
    assert!(brushes(&tablature) > 0);
    assert_eq!(brushes(&tablature), brushes(&staff));
}

#[test]
fn what_changes_at_a_line_is_announced_at_the_end_of_the_line_before() {
    let options = SheetOptions { layout: Layout::StaffAndTablature, ..SheetOptions::default() };
    let sheet = engrave(&support::turning(), &options);
    let margin = Paper::A4.width() - look::MARGIN_SIDE;
    let staves = sheet.pages.iter().flat_map(Frame::groups).filter(|(role, _)| *role == Role::Notation);
    for (_, ink) in staves {
        assert!(ink.right <= margin + Points::new(0.5), "{ink:?}");
    }
    let bounds = sheet.pages[0].bounds().unwrap();
    assert!(bounds.right <= margin + Points::new(0.8));
}

#[test]
fn pictures_are_drawn_from_the_same_frames() {
    let sheet = engrave(&support::titled("One Bar"), &SheetOptions::default());
    let picture = write::png::png(&sheet.pages[0], 72.0).unwrap();
    assert!(picture.starts_with(b"\x89PNG"));
    assert_eq!(picture[16..24], [0, 0, 2, 84, 0, 0, 3, 74], "596 × 842 dots");
    assert_eq!(write::png::png(&sheet.pages[0], 72.0).unwrap(), picture);
    assert!(write::png::png(&sheet.pages[0], 1e9).is_err());
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
        Title 256.2 45.4 83.4x15.4
        Paragraph 494.8 74.2 55.8x7.5
        Paragraph 45.4 88.1 134.4x9.9
        Paragraph 45.5 102.4 463.6x7.5
        System(0) 45 125 96.2x119.8
        Staff 45 173.2 96.2x36.6
        Metre 61.9 177.5 12x27.9
        Fret(0) 89.4 178 3.6x5.8
        LeftFinger(0) 85.2 178.7 2x4.1
        Fret(1) 89 199.6 4x5.8
        LeftFinger(1) 84.7 200.3 2.8x4.2
        RightFingers 87.9 238.3 6.1x6.5
        ChordBox 87.2 136.9 25.5x32.8
        ChordName 87.4 125 7.2x8.4
        Footer 195.9 802.6 353.3x7.5
    "]]
    .assert_eq(&drawn);
}
