//! Sheets measured: nothing overlaps that must not, nothing leaves the margins, every note is there once.

pub(crate) mod spacing;
pub(crate) mod values;

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::{Points, Rect};
use handspan_sheet::{Layout, Paper, Print, Sheet, SheetOptions, engrave, look};

/// Every layout on both papers, in large print with mirrored boxes, and as a handout of the second quarter of the bars
/// with a remark and a practice page.
pub(crate) fn sheets(score: &Score) -> Vec<(SheetOptions, Sheet)> {
    let layouts = [Layout::Tablature, Layout::StaffAndTablature, Layout::Staff, Layout::Boxes];
    let manners = [
        SheetOptions::default(),
        SheetOptions { paper: Paper::Letter, ..SheetOptions::default() },
        SheetOptions { print: Print::Large, left_handed_boxes: true, ..SheetOptions::default() },
        handout(score),
    ];
    let choices = layouts
        .into_iter()
        .flat_map(|layout| manners.iter().map(move |manner| SheetOptions { layout, ..manner.clone() }));
    choices
        .map(|options| {
            let sheet = engrave(score, &options);
            (options, sheet)
        })
        .collect()
}

fn handout(score: &Score) -> SheetOptions {
    let bars = score.tune.bars().len();
    let first = bars / 4;
    SheetOptions {
        passage: Some(first..(bars / 2).max(first + 1)),
        remarks: BTreeMap::from([(
            first,
            "Let the thumb rest on its string and hear the bass out. ".repeat(4),
        )]),
        practice: true,
        ..SheetOptions::default()
    }
}

/// What is wrong with a sheet, as sentences; nothing where all is well.
pub(crate) fn faults(score: &Score, options: &SheetOptions, sheet: &Sheet) -> Vec<String> {
    let mut faults = Vec::new();
    for (number, page) in sheet.pages.iter().enumerate() {
        let found = overlaps(page).into_iter().chain(outside(page, options));
        faults.extend(found.map(|fault| format!("page {}: {fault}", number + 1)));
    }
    faults.extend(miscounted(score, options, sheet));
    if options.layout.has_staff() {
        faults.extend(values::faults(score, options, sheet));
    }
    if options.layout.has_tablature() {
        faults.extend(spacing::faults(score, options, sheet));
    }
    faults
}

/// Whether a group keeps others out of its box.
fn is_solid(role: Role) -> bool {
    !matches!(
        role,
        Role::System(_)
            | Role::Staff
            | Role::Notation
            | Role::NamedBox
            | Role::Practice
            | Role::Heading
            | Role::Move(_)
            | Role::Title
            | Role::Held(_)
            | Role::Beam
            | Role::Tie
    )
}

/// Whether one group may lie on another: signs within the group of their section, a stem on what it belongs to, two
/// voices on one head, the two heads of a second on either side of one stem.
fn may_share((a, a_box): (Role, Rect), (b, b_box): (Role, Rect)) -> bool {
    let nested = |a, b| match a {
        Role::Section => matches!(b, Role::Jump | Role::Tempo),
        // Two necks side by side.
        Role::ChordBox => b == Role::ChordBox,
        _ => false,
    };
    let is_head = |role| matches!(role, Role::Head(_) | Role::TiedHead(_));
    let on_stem =
        |a, b| a == Role::Stem && (is_head(b) || matches!(b, Role::Stem | Role::Accidental | Role::Rest));
    let stem = Points::new(0.8);
    let aside = a_box.left - b_box.left;
    let one_place = aside.max(-aside) < Points::new(0.1);
    let second = a_box.right - b_box.left < stem || b_box.right - a_box.left < stem;
    let one_head = is_head(a) && is_head(b) && (one_place || second);
    nested(a, b) || nested(b, a) || on_stem(a, b) || on_stem(b, a) || one_head
}

fn overlaps(frame: &Frame) -> Vec<String> {
    let solid: Vec<(Role, Rect)> = frame.groups().into_iter().filter(|(role, _)| is_solid(*role)).collect();
    let mut found = Vec::new();
    for (i, (a, a_box)) in solid.iter().enumerate() {
        for (b, b_box) in &solid[i + 1..] {
            // Half a tenth of a point is less than any printer shows.
            if a_box.grown(Points::new(-0.05)).overlaps(b_box) && !may_share((*a, *a_box), (*b, *b_box)) {
                found.push(format!("{a:?} at {a_box:?} lies on {b:?} at {b_box:?}"));
            }
        }
    }
    found
}

fn outside(page: &Frame, options: &SheetOptions) -> Vec<String> {
    let scale = options.print.scale();
    // A hair for the round edges of letters.
    let hair = Points::new(0.8) * scale;
    let inside = Rect {
        left: look::MARGIN_SIDE * scale,
        top: look::MARGIN_TOP * scale,
        right: page.width - look::MARGIN_SIDE * scale,
        bottom: page.height - look::MARGIN_BOTTOM * scale,
    };
    let groups = page.groups().into_iter();
    let out = groups.filter(|(_, ink)| !inside.grown(hair).contains(ink));
    out.map(|(role, ink)| format!("{role:?} at {ink:?} is outside the margins")).collect()
}

/// Whether a stroke has only fingers that just played the same notes in the same places of the same bar, and therefore no
/// digits.
fn is_repeated(score: &Score, note: usize) -> bool {
    let at = score.notes[note].at;
    let bar = score.tune.bar_index(at);
    let fingered = score.notes.iter().filter(|n| n.at == at && n.finger.is_some());
    fingered.into_iter().all(|note| {
        let on_string = score.notes.iter().filter(|n| n.at < at && n.place.string == note.place.string);
        let last = on_string.max_by_key(|n| n.at).filter(|n| score.tune.bar_index(n.at) == bar);
        last.is_some_and(|last| last.place == note.place && last.finger == note.finger && last.end() >= at)
    })
}

/// Every note once as a figure where there is tablature, once as a head where there is a staff, and its finger once where it is not
/// repeated.
fn miscounted(score: &Score, options: &SheetOptions, sheet: &Sheet) -> Vec<String> {
    let layout = options.layout;
    let bars = score.tune.bars();
    let printed = options.passage.clone().unwrap_or(0..bars.len());
    let times = bars[printed.start].start..bars[printed.end - 1].end();
    let mut drawn: BTreeMap<(&str, usize), usize> = BTreeMap::new();
    for (role, _) in sheet.pages.iter().flat_map(Frame::groups) {
        let note = match role {
            Role::Fret(note) => ("figure", note),
            Role::Head(note) => ("head", note),
            Role::LeftFinger(note) => ("finger", note),
            Role::TapHead(tap) => ("cross on the staff", tap),
            Role::TapFigure(tap) => ("cross on the strings", tap),
            _ => continue,
        };
        *drawn.entry(note).or_default() += 1;
    }
    let wanted = |kind: &str, note: usize| {
        times.contains(&score.notes[note].at)
            && match kind {
                "figure" => layout.has_tablature(),
                "head" => layout.has_staff(),
                _ => {
                    layout != Layout::Boxes && score.notes[note].finger.is_some() && !is_repeated(score, note)
                }
            }
    };
    let crosses = ["cross on the staff", "cross on the strings"].into_iter();
    let taps = crosses.flat_map(|kind| (0..score.taps.len()).map(move |tap| (kind, tap)));
    let tapped = taps.filter_map(|(kind, tap)| {
        let shown = if kind.ends_with("staff") { layout.has_staff() } else { layout.has_tablature() };
        let wanted = shown && times.contains(&score.taps[tap].at);
        let count = drawn.get(&(kind, tap)).copied().unwrap_or(0);
        (count != usize::from(wanted)).then(|| format!("tap {tap} has its {kind} {count} times"))
    });
    let tapped: Vec<String> = tapped.collect();
    let all = ["figure", "head", "finger"].into_iter();
    all.flat_map(|kind| (0..score.notes.len()).map(move |note| (kind, note)))
        .filter_map(|(kind, note)| {
            let count = drawn.get(&(kind, note)).copied().unwrap_or(0);
            let right = count == usize::from(wanted(kind, note));
            (!right).then(|| format!("note {note} has its {kind} {count} times"))
        })
        .chain(tapped)
        .collect()
}
