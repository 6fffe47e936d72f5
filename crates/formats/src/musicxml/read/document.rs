//! The text of a score as an XML document, within limits, and the part that is read.

use roxmltree::{Document, Node, ParsingOptions};

use super::element::{all, child, child_text};
use super::line::Lines;
use super::parts::Sung;
use super::report::{Report, shortened};
use crate::diagnostic::{Severity, Whereabouts};
use crate::error::ReadError;

/// More elements and texts than a score of 64 MB holds when it is written by a program.
const MOST_NODES: u32 = 8_000_000;

/// Parses a text that must be a score in parts.
pub(super) fn parse(text: &str) -> Result<Document<'_>, ReadError> {
    let begins = text.trim_start();
    if !begins.is_empty() && !begins.starts_with('<') {
        return Err(ReadError::NoScore {
            begins: shortened(begins.lines().next().unwrap_or_default().trim()),
        });
    }
    // Entities can make a small file grow without end; a score has no use for them.
    if let Some(at) = text.find("<!ENTITY") {
        let line = Lines::of(text).at(at);
        return Err(ReadError::Entities { line });
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| ill_formed(text, &error))?;
    let line = document.text_pos_at(document.root_element().range().start).row;
    match document.root_element().tag_name().name() {
        "score-partwise" => Ok(document),
        "score-timewise" => Err(ReadError::Timewise { line }),
        other => Err(ReadError::WrongRoot { found: shortened(other), line }),
    }
}

/// What the parser met, and where.
fn ill_formed(text: &str, error: &roxmltree::Error) -> ReadError {
    use roxmltree::Error::{UnclosedRootNode, UnexpectedEndOfStream};
    if matches!(error, UnclosedRootNode | UnexpectedEndOfStream) {
        let last = text.trim_end().lines().last().unwrap_or_default();
        return ReadError::NotXml {
            line: u32::try_from(text.trim_end().lines().count()).unwrap_or(u32::MAX),
            column: u32::try_from(last.chars().count()).unwrap_or(u32::MAX),
            reason: "it ends too early".to_owned(),
        };
    }
    let at = error.pos();
    // The place is said beside the reason.
    let reason = error.to_string().replace(&format!(" at {at}"), "");
    ReadError::NotXml { line: at.row, column: at.col, reason: reason.chars().take(120).collect() }
}

/// The parts of a score.
pub(super) fn parts<'a, 'i>(document: &'a Document<'i>) -> Vec<Node<'a, 'i>> {
    all(document.root_element(), "part").collect()
}

/// How a part is called that carries the tune, or how the name begins, in lower case and the usual languages of scores.
const SINGS: [&str; 11] =
    ["voice", "vocal", "melod", "lead", "solo", "sopran", "sing", "canto", "gesang", "chant", "voix"];

/// The part that is asked for as melody. Otherwise, among those with notes that are not taken already, the first one
/// with words to sing; else the first whose name says that it carries the tune; else the first. The others are named,
/// with a hint what to do about them.
pub(super) fn melody_part<'a, 'i>(
    document: &'a Document<'i>,
    wanted: Option<&str>,
    taken: &[Node<'a, 'i>],
    (report, hint): (&mut Report, &str),
) -> Result<Node<'a, 'i>, ReadError> {
    let parts = parts(document);
    let free = || parts.iter().filter(|part| !taken.contains(part) && has_notes(**part));
    let chosen = if let Some(name) = wanted {
        part_named(document, name)?
    } else {
        *free().min_by_key(|part| sung(document, **part)).ok_or(ReadError::NoNotes)?
    };
    // Who has chosen a part knows that there are others.
    let severity = if wanted.is_some() { Severity::Note } else { Severity::Loss };
    leave_aside(document, chosen, taken, severity, (report, hint));
    Ok(chosen)
}

/// The part of a guitar: the first one in which strings or left-hand digits are printed, or else the first with notes.
/// The others are named, with a hint what to do about them.
pub(super) fn guitar_part<'a, 'i>(
    document: &'a Document<'i>,
    report: &mut Report,
) -> Result<Node<'a, 'i>, ReadError> {
    let parts = parts(document);
    let is_marked = |part: &&Node<'_, '_>| {
        part.descendants().any(|node| node.has_tag_name("string") || node.has_tag_name("fingering"))
    };
    let free = || parts.iter().filter(|part| has_notes(**part));
    let chosen = *free().find(is_marked).or_else(|| free().next()).ok_or(ReadError::NoNotes)?;
    leave_aside(document, chosen, &[], Severity::Loss, (report, "to finger another part, export it alone"));
    Ok(chosen)
}

/// Names the parts that are not read.
fn leave_aside(
    document: &Document<'_>,
    chosen: Node<'_, '_>,
    taken: &[Node<'_, '_>],
    severity: Severity,
    (report, hint): (&mut Report, &str),
) {
    let parts = parts(document);
    let name = |part: &Node<'_, '_>| {
        let index = parts.iter().position(|other| other == part).unwrap_or_default();
        name_of(document, *part, index)
    };
    let others = parts.iter().filter(|part| **part != chosen && !taken.contains(part));
    let others: Vec<String> = others.map(name).collect();
    if !others.is_empty() {
        let message =
            format!("the melody is read from the part {}; not read: {}", name(&chosen), others.join(", "));
        report.push(severity, Whereabouts::File, None, message);
        report.hint(hint);
    }
}

/// Whether a part carries the tune, as far as the score says so.
pub(super) fn sung(document: &Document<'_>, part: Node<'_, '_>) -> Sung {
    if part.descendants().any(|node| node.has_tag_name("lyric")) {
        Sung::InWords
    } else if sings(document, part) {
        Sung::ByName
    } else {
        Sung::Unsaid
    }
}

/// Whether the name of a part says that it carries the tune.
fn sings(document: &Document<'_>, part: Node<'_, '_>) -> bool {
    let name = given_name(document, part).map(str::to_lowercase);
    name.is_some_and(|name| {
        name.split_whitespace().any(|word| SINGS.iter().any(|begins| word.starts_with(begins)))
    })
}

/// Whether a part has notes with a pitch.
pub(super) fn has_notes(part: Node<'_, '_>) -> bool {
    part.descendants().any(|node| node.has_tag_name("pitch"))
}

/// The part of a number counted from 1, or of a name.
pub(super) fn part_named<'a, 'i>(
    document: &'a Document<'i>,
    wanted: &str,
) -> Result<Node<'a, 'i>, ReadError> {
    let parts = parts(document);
    let wanted = wanted.trim();
    let named = |part: &Node<'_, '_>| {
        given_name(document, *part).is_some_and(|name| name.trim().to_lowercase() == wanted.to_lowercase())
    };
    let numbered = || parts.get(wanted.parse::<usize>().ok()?.checked_sub(1)?);
    numbered().or_else(|| parts.iter().find(|part| named(part))).copied().ok_or_else(|| {
        let names = (1..).zip(&parts).map(|(number, part)| match given_name(document, *part) {
            Some(name) => format!("{number} “{}”", shortened(name)),
            None => format!("{number}, which has no name"),
        });
        ReadError::NoPart { wanted: shortened(wanted), parts: names.collect::<Vec<_>>().join("; ") }
    })
}

/// What a part is called in the score's list, or its number.
fn name_of(document: &Document<'_>, part: Node<'_, '_>, index: usize) -> String {
    let name = given_name(document, part);
    name.map_or_else(|| format!("number {}", index + 1), |name| format!("“{}”", shortened(name)))
}

pub(super) fn given_name<'a>(document: &'a Document<'_>, part: Node<'_, '_>) -> Option<&'a str> {
    let list = child(document.root_element(), "part-list");
    let entry = list
        .into_iter()
        .flat_map(|list| all(list, "score-part"))
        .find(|entry| entry.attribute("id") == part.attribute("id"));
    entry.and_then(|entry| child_text(entry, "part-name"))
}
