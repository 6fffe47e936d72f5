//! Chord symbols: root, kind, degrees, slash bass and inversion of MusicXML's `harmony`.

use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Kind};
use handspan_core::pitch::Interval;
use handspan_core::spelling::{Spelling, Step};
use roxmltree::Node;

use super::duration::Decimal;
use super::element::{all, child, child_text, has, text};
use super::report::{Report, shortened};
use crate::diagnostic::Severity;

/// The chord symbol of a `harmony` element, or none where it names no root that could be played.
pub(super) fn read(harmony: Node<'_, '_>, report: &mut Report) -> Option<ChordSymbol> {
    let kind = child(harmony, "kind");
    if kind.map(text) == Some("none") {
        return Some(ChordSymbol::NoChord);
    }
    if all(harmony, "kind").count() > 1 {
        report.say(Severity::Loss, harmony, "only the first of two chords in one symbol is kept");
    }
    if has(harmony, "frame") {
        report.leave_out("chord boxes above the staff", harmony);
    }
    let Some(root) = child(harmony, "root") else {
        report.say(
            Severity::Loss,
            harmony,
            "a chord given by its function or number, without a root, is not kept",
        );
        report.hint("write the chord symbol with its root");
        return None;
    };
    let root = spelled(root, "root-step", "root-alter", report)?;
    let mut chord = Chord::plain(root, Kind::Major);
    match kind {
        Some(kind) => (chord.kind, chord.printed) = read_kind(kind, report),
        None => report.say(
            Severity::Fault,
            harmony,
            "a chord symbol names no kind; it is taken for a major chord",
        ),
    }
    chord.degrees = all(harmony, "degree").filter_map(|degree| read_degree(degree, report)).collect();
    chord.bass = child(harmony, "bass").and_then(|bass| spelled(bass, "bass-step", "bass-alter", report));
    if chord.bass.is_none() {
        let inversion = child_text(harmony, "inversion").and_then(|i| i.parse().ok());
        chord.bass = inversion.and_then(|inversion| inverted(&chord, inversion));
    }
    Some(ChordSymbol::Chord(chord))
}

/// The kind, and how the source prints it.
fn read_kind(kind: Node<'_, '_>, report: &mut Report) -> (Kind, Option<String>) {
    let printed = kind.attribute("text").map(str::to_owned);
    let word = text(kind);
    if let Some(known) = Kind::from_musicxml(word) {
        if !known.has_intervals() {
            let message = format!(
                "the standard does not say what sounds in a chord of the kind “{word}”; the symbol is kept, and only \
                 its root, its bass and its degrees are played"
            );
            report.say(Severity::Loss, kind, message);
        }
        return (known, printed);
    }
    let message = format!(
        "“{}” is no kind of chord of the MusicXML standard; the symbol is kept as printed, and only its root can \
         be played",
        shortened(word)
    );
    report.say(Severity::Fault, kind, message);
    report.hint("write the chord symbol anew");
    (Kind::Other, printed.or_else(|| Some(shortened(word))))
}

fn spelled(
    node: Node<'_, '_>,
    step: &'static str,
    alter: &'static str,
    report: &mut Report,
) -> Option<Spelling> {
    let letter = child_text(node, step).filter(|letter| letter.len() == 1);
    let step = letter.and_then(|l| Step::from_letter(l.chars().next()?));
    let alter = child_text(node, alter).map_or(Some(0), |alter| {
        let alter = Decimal::parse(alter)?;
        (-3..=3).contains(&alter.truncated()).then_some(alter.truncated() as i8)
    });
    if let (Some(step), Some(alter)) = (step, alter) {
        return Some(Spelling::new(step, alter));
    }
    let message = "a chord symbol names a note that does not exist; that note is not kept";
    report.say(Severity::Fault, node, message);
    None
}

fn read_degree(degree: Node<'_, '_>, report: &mut Report) -> Option<Degree> {
    let number = child_text(degree, "degree-value").and_then(|n| n.parse().ok());
    let alter = child_text(degree, "degree-alter").map_or(Some(0), |alter| {
        let alter = Decimal::parse(alter)?;
        i8::try_from(alter.truncated()).ok()
    });
    let kind = match child_text(degree, "degree-type") {
        Some("add") => Some(DegreeKind::Add),
        Some("alter") => Some(DegreeKind::Alter),
        Some("subtract") => Some(DegreeKind::Subtract),
        _ => None,
    };
    let read = number
        .filter(|number| (1..=13).contains(number))
        .zip(alter.filter(|alter| (-2..=2).contains(alter)))
        .zip(kind);
    let Some(((number, alter), kind)) = read else {
        let message = "a degree of a chord symbol can't be read; the chord is kept without it";
        report.say(Severity::Fault, degree, message);
        return None;
    };
    Some(Degree { number, alter, kind })
}

/// The bass of an inversion: the chord tone so many places above the root, spelled after its degree.
fn inverted(chord: &Chord, inversion: usize) -> Option<Spelling> {
    let (degree, above) = *chord.degree_semitones().get(inversion).filter(|_| inversion > 0)?;
    let step = chord.root.step.up(i32::from(degree) - 1);
    let class = chord.root.class() + above;
    let alters = [0, -1, 1, -2, 2, -3, 3];
    let spelled = alters.map(|alter| Spelling::new(step, alter));
    let fallback = || Spelling::of_class_in(chord.root.class() + Interval::new(above.semitones()), 0);
    Some(spelled.into_iter().find(|s| s.class() == class).unwrap_or_else(fallback))
}
