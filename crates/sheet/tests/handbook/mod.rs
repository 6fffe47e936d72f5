//! Rules of the notation handbooks, measured on paper; each test names its rule's source.
//!
//! Read: G. Read, "Music Notation", 2nd edition, 1969. Ross: T. Ross, "The Art of Music Engraving and
//! Processing", Hansen, 1970. Gould: E. Gould, "Behind Bars", Faber Music, 2011. All three from memory.

mod beams;
mod signs;
mod ties;

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_sheet::frame::{Frame, Group, Item, Path, Role, Segment};
use handspan_sheet::points::{Point, Points, Rect};
use handspan_sheet::{Layout, Sheet, SheetOptions, engrave};

use crate::measure::spacing::{self, Step};
use crate::support;

fn staff_of(score: &Score) -> Sheet {
    engrave(score, &SheetOptions { layout: Layout::Staff, ..SheetOptions::default() })
}

/// All scores written by hand that are to be read, not to be survived.
fn scores() -> Vec<Score> {
    vec![
        support::evening(),
        support::ferry(),
        support::crossing(),
        support::jig(),
        support::turning(),
        support::rules(),
        support::voices(),
        support::ripples(),
        support::beams(),
        support::meeting(),
        support::held(),
        support::thirds(),
        support::aside(),
    ]
}

/// What stands on the staff of one system of a sheet that has a staff alone.
struct Staff {
    /// The lowest line.
    bottom: Points,
    /// From line to line.
    space: Points,
    /// Groups with their ink.
    groups: Vec<(Role, Rect)>,
    /// Paths that are in no group of their own: ledger lines.
    lines: Vec<Rect>,
    /// The beams with their inner beams.
    beams: Vec<Vec<beams::Bar>>,
    ties: Vec<ties::Tie>,
    tuplets: Vec<signs::Tuplet>,
}

impl Staff {
    /// A height in steps from the lowest line.
    fn steps(&self, y: Points) -> f64 {
        (self.bottom - y) / (self.space * 0.5)
    }

    fn middle(&self, ink: Rect) -> f64 {
        self.steps(ink.top + ink.height() / 2.0)
    }

    fn of(&self, is_it: impl Fn(Role) -> bool) -> Vec<Rect> {
        self.groups.iter().filter(|(role, _)| is_it(*role)).map(|(_, ink)| *ink).collect()
    }

    fn heads(&self) -> Vec<Rect> {
        self.of(|role| matches!(role, Role::Head(_) | Role::TiedHead(_)))
    }

    /// Stems without flags.
    fn stems(&self) -> Vec<Rect> {
        self.of(|role| role == Role::Stem).into_iter().filter(|ink| ink.width() < Points::new(1.0)).collect()
    }
}

fn staves(sheet: &Sheet) -> Vec<Staff> {
    let mut found = Vec::new();
    for page in &sheet.pages {
        staves_in(&page.items, Point::ORIGIN, &mut found);
    }
    found
}

fn staves_in(items: &[Item], origin: Point, found: &mut Vec<Staff>) {
    for item in items {
        let Item::Group(group) = item else { continue };
        let here = origin.moved(group.at.x, group.at.y);
        if group.role == Role::Notation {
            found.push(staff(&group.items, here));
        } else {
            staves_in(&group.items, here, found);
        }
    }
}

fn paths(items: &[Item]) -> impl Iterator<Item = &Path> {
    items.iter().filter_map(|item| if let Item::Path(path) = item { Some(path) } else { None })
}

/// The corners of every bar of every beam.
fn beams_in(items: &[Item], here: Point) -> Vec<Vec<beams::Bar>> {
    let corner = |segment: &Segment| match segment {
        Segment::Move(p) | Segment::Line(p) => Some(p.moved(here.x, here.y)),
        Segment::Curve(..) | Segment::Close => None,
    };
    let bar = |path: &Path| -> beams::Bar {
        let corners: Vec<Point> = path.segments.iter().filter_map(corner).collect();
        corners.try_into().expect("a beam has four corners")
    };
    of_role(items, Role::Beam).map(|group| paths(&group.items).map(bar).collect()).collect()
}

fn of_role(items: &[Item], role: Role) -> impl Iterator<Item = &Group> {
    items.iter().filter_map(move |item| match item {
        Item::Group(group) if group.role == role => Some(group),
        _ => None,
    })
}

fn staff(items: &[Item], here: Point) -> Staff {
    let lines = items.iter().find_map(|item| match item {
        Item::Group(group) if group.role == Role::Staff => Some(&group.items),
        _ => None,
    });
    let ys: Vec<Points> = paths(lines.expect("a staff has lines"))
        .filter_map(Path::bounds)
        .map(|ink| ink.moved(here).top + ink.height() / 2.0)
        .take(5)
        .collect();
    let frame = Frame { width: Points::ZERO, height: Points::ZERO, items: items.to_vec() };
    Staff {
        bottom: ys[0],
        space: ys[0] - ys[1],
        groups: frame.groups().into_iter().map(|(role, ink)| (role, ink.moved(here))).collect(),
        beams: beams_in(items, here),
        ties: of_role(items, Role::Tie)
            .flat_map(|tie| paths(&tie.items))
            .filter_map(|path| ties::Tie::of(path, here))
            .collect(),
        tuplets: of_role(items, Role::Tuplet).map(|tuplet| signs::Tuplet::of(tuplet, here)).collect(),
        lines: paths(items).filter_map(Path::bounds).map(|ink| ink.moved(here)).collect(),
    }
}

fn is_near(a: f64, b: f64, by: f64) -> bool {
    libm::fabs(a - b) <= by
}

/// Read and Gould, on stem direction: a single voice's stems point to the middle line, downwards from the line itself.
/// Ross and Gould, on stem length: an octave (3.5 spaces), or as far as the middle line.
#[test]
fn stems_of_a_single_voice_point_to_the_middle_line_and_are_an_octave_long() {
    let sheet = staff_of(&support::rules());
    let staff = &staves(&sheet)[0];
    let stems = staff.stems();
    for head in &staff.heads()[..4] {
        let at = staff.middle(*head);
        let touching = |stem: &&Rect| stem.left < head.right && head.left < stem.right;
        let stem = stems.iter().find(touching).unwrap();
        let is_up = stem.left > head.left + head.width() / 2.0;
        assert_eq!(is_up, at < 3.5, "a head at {at}");
        let tip = staff.steps(if is_up { stem.top } else { stem.bottom });
        let length = libm::fabs(tip - at) / 2.0;
        let wanted = f64::max(3.5, libm::fabs(at - 4.0) / 2.0);
        assert!(is_near(length, wanted, 0.08), "a head at {at} has a stem of {length} spaces");
    }
}

/// Ross and Gould, on stems that point away from the middle line: shorter, two and a half spaces at least.
#[test]
fn no_stem_is_shorter_than_two_and_a_half_spaces() {
    for score in scores() {
        for staff in staves(&staff_of(&score)) {
            for stem in staff.stems() {
                let length = stem.height() / staff.space;
                assert!(length > 2.2, "{}: {length}", score.tune.title());
            }
        }
    }
}

/// Read and Gould, on dots: in a space, never on a line.
/// Left-hand digits: in a space, to the left of their heads (common practice of guitar editions, no source).
#[test]
fn dots_and_digits_stand_in_spaces() {
    let in_space = |steps: f64| is_near(libm::fabs(steps) % 2.0, 1.0, 0.35);
    let (mut dots, mut digits) = (0, 0);
    for score in scores() {
        for staff in staves(&staff_of(&score)) {
            for dot in staff.of(|role| role == Role::NoteDot) {
                assert!(
                    in_space(staff.middle(dot)),
                    "{}: a dot at {}",
                    score.tune.title(),
                    staff.middle(dot)
                );
                dots += 1;
            }
            let heads: BTreeMap<usize, Rect> = staff
                .groups
                .iter()
                .filter_map(|(role, ink)| if let Role::Head(n) = role { Some((*n, *ink)) } else { None })
                .collect();
            for (role, ink) in &staff.groups {
                let Role::LeftFinger(note) = role else { continue };
                assert!(
                    in_space(staff.middle(*ink)),
                    "{}: a digit at {}",
                    score.tune.title(),
                    staff.middle(*ink)
                );
                assert!(ink.right < heads[note].left, "{}", score.tune.title());
                digits += 1;
            }
        }
    }
    assert!(dots > 10 && digits > 100, "{dots} {digits}");
}

/// Gould, on ledger lines: they reach beyond their heads on both sides, here by the 0.4 spaces of the font.
#[test]
fn ledger_lines_reach_beyond_their_heads() {
    let mut seen = 0;
    for score in scores() {
        for staff in staves(&staff_of(&score)) {
            let heads = staff.heads();
            let outside = |line: &&Rect| !(-0.5..=8.5).contains(&staff.middle(**line));
            for line in staff.lines.iter().filter(outside) {
                let on = heads.iter().filter(|head| line.left < head.right && head.left < line.right);
                let reach =
                    on.map(|head| (head.left - line.left).min(line.right - head.right)).reduce(Points::max);
                assert!(reach.is_some_and(|reach| reach > staff.space * 0.3), "{}", score.tune.title());
                seen += 1;
            }
        }
    }
    assert!(seen > 20);
}

/// Gould, on several voices on a staff: a voice that would touch another stands to its right, the upper voice's stems
/// point upwards and the lower one's downwards. Notes of other lengths than the bass are a voice of their own, without
/// rests.
#[test]
fn notes_of_unequal_length_are_voices_side_by_side() {
    let sheet = staff_of(&support::voices());
    let staff = &staves(&sheet)[0];
    let heads: Vec<Rect> = (0..4).map(|note| staff.of(|role| role == Role::Head(note))[0]).collect();
    // The melody, C4 and C3 for a whole bar on one column, G3 for a half beside them.
    assert!(is_near((heads[1].left - heads[3].left).count(), 0.0, 0.1));
    assert!(heads[2].left >= heads[3].right, "{heads:?}");
    assert_eq!(staff.of(|role| role == Role::Rest).len(), 0);
    // In the second bar a third length: the middle voice is cut where its shorter note ends, and the longer is tied.
    let tied = staff.of(|role| matches!(role, Role::TiedHead(_)));
    assert_eq!(tied.len(), 1);
    assert_eq!(staff.of(|role| role == Role::Tie).len(), 1);
}

/// Gould, on several voices on a staff: of voices that share a beat the upper one has stems up, all below it stems down;
/// a third voice stands aside, beyond the dots, which stand right after the heads of their own column.
#[test]
fn inner_stems_point_away_from_the_melody_and_dots_stay_beside_their_heads() {
    let sheet = staff_of(&support::aside());
    let staff = &staves(&sheet)[0];
    let head = |note| staff.of(|role| role == Role::Head(note))[0];
    let (melody, inner, bass) = (head(0), head(1), head(2));
    let touching = |head: Rect| {
        let all = staff.of(|role| role == Role::Stem).into_iter();
        all.filter(move |stem| stem.overlaps(&head)).collect::<Vec<Rect>>()
    };
    assert!(touching(melody).iter().all(|stem| stem.top < melody.top), "the melody's stem alone, upwards");
    assert!(touching(inner).iter().all(|stem| stem.bottom > inner.bottom && stem.top >= inner.top));
    let dots = staff.of(|role| role == Role::NoteDot);
    assert_eq!(dots.len(), 2);
    for dot in dots {
        assert!(is_near((dot.left - bass.right) / staff.space, 0.35, 0.1), "a dot at {dot:?} after {bass:?}");
        assert!(dot.right < inner.left, "a dot at {dot:?} before {inner:?}");
    }
}

/// Chord symbols of a system stand on one line, and so do brackets of endings, and signs of the left hand (Gould, on
/// chord symbols and repeats).
#[test]
fn what_stands_above_a_system_stands_on_one_line() {
    for score in scores() {
        let sheet =
            engrave(&score, &SheetOptions { layout: Layout::StaffAndTablature, ..SheetOptions::default() });
        for system in sheet.pages.iter().flat_map(systems) {
            for row in [Role::ChordName, Role::Ending] {
                let bottoms: Vec<f64> =
                    system.iter().filter(|(role, _)| *role == row).map(|(_, ink)| ink.top.count()).collect();
                let spread = bottoms.iter().copied().fold(f64::MIN, f64::max)
                    - bottoms.iter().copied().fold(f64::MAX, f64::min);
                // Letters, flats and raised figures are not of one height.
                let most = if row == Role::Ending { 0.1 } else { 3.5 };
                assert!(bottoms.is_empty() || spread < most, "{}: {row:?} {bottoms:?}", score.tune.title());
            }
        }
    }
}

/// The groups of every system of a page.
fn systems(page: &Frame) -> Vec<Vec<(Role, Rect)>> {
    let mut found: Vec<Vec<(Role, Rect)>> = Vec::new();
    for (role, ink) in page.groups() {
        if matches!(role, Role::System(_)) {
            found.push(Vec::new());
        } else if let Some(last) = found.last_mut() {
            last.push((role, ink));
        }
    }
    found
}

/// Gould, on spacing: √2 times the room for twice the time, exactly where ink does not need more.
#[test]
fn twice_the_time_has_the_room_of_the_table() {
    let score = support::ladder();
    for layout in [Layout::Tablature, Layout::StaffAndTablature] {
        let sheet = engrave(&score, &SheetOptions { layout, ..SheetOptions::default() });
        let systems = spacing::systems(&score, &sheet, 1.0);
        let times = |steps: &[Step]| {
            steps.iter().map(|step| step.time.count()).collect::<std::collections::BTreeSet<_>>()
        };
        assert!(systems.iter().any(|steps| times(steps).len() >= 3), "{layout:?}");
        for steps in &systems {
            let unit = spacing::unit(steps);
            for step in steps {
                assert!(is_near(step.stretch() / unit, 1.0, 0.01), "{layout:?}: {step:?}, unit {unit}");
            }
        }
    }
}
