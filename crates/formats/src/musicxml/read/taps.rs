//! Taps: percussive hits on strings or body, written without a pitch or with a cross for a head.

use handspan_core::arrangement::{ScoreTap, TapBy};
use handspan_core::time::Ticks;
use roxmltree::Node;

use super::element::{all, child, child_text, has};
use super::note::Technique;
use super::part::ReadBar;
use super::report::Report;
use super::score::pluck;
use crate::diagnostic::{Severity, Whereabouts};

/// A tap as it stands in its bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct ReadTap {
    /// Since the bar line.
    at: Ticks,
    length: Ticks,
    by: TapBy,
    /// Whether it is tied to the tap before.
    tied: bool,
}

impl ReadTap {
    /// Whether a note element is a tap: it has no pitch, or a cross for a head and no string to be played on.
    pub(super) fn is_one(note: Node<'_, '_>) -> bool {
        let crossed = matches!(child_text(note, "notehead"), Some("x" | "cross"));
        let has_pitch = child(note, "pitch").is_some();
        has(note, "unpitched") || crossed && has_pitch && Technique::read(note).string.is_none()
    }

    /// Reads one; a right-hand p beside it says that the thumb taps.
    pub(super) fn read(note: Node<'_, '_>, at: Ticks, length: Ticks, report: &mut Report) -> Option<Self> {
        if length <= Ticks::ZERO {
            report.say(Severity::Fault, note, "a tap without length is not kept");
            return None;
        }
        let thumb = Technique::read(note).pluck.as_deref().and_then(pluck).is_some_and(|f| f.letter() == 'p');
        let tied = all(note, "tie").any(|tie| tie.attribute("type") == Some("stop"));
        Some(Self { at, length, by: if thumb { TapBy::Thumb } else { TapBy::Hand }, tied })
    }
}

/// The taps of a bar by time: of several at one time the first, each ending where the next one begins or the bar ends.
pub(super) fn in_order(mut taps: Vec<ReadTap>, end: Ticks) -> Vec<ReadTap> {
    taps.sort_by_key(|tap| tap.at);
    taps.dedup_by_key(|tap| tap.at);
    taps.retain(|tap| tap.at < end);
    for index in 0..taps.len() {
        let until = taps.get(index + 1).map_or(end, |next| next.at);
        taps[index].length = taps[index].length.min(until - taps[index].at);
    }
    taps
}

/// The taps of all bars, tied ones joined.
pub(super) fn join(bars: &[ReadBar]) -> Vec<ScoreTap> {
    let mut joined: Vec<ScoreTap> = Vec::new();
    for bar in bars {
        for tap in &bar.taps {
            let at = bar.bar.start + tap.at;
            match joined.last_mut().filter(|before| tap.tied && before.at + before.length == at) {
                Some(before) => before.length += tap.length,
                None => joined.push(ScoreTap { at, length: tap.length, by: tap.by }),
            }
        }
    }
    joined
}

/// Says that the taps of a lead sheet are not kept.
pub(super) fn leave_out(bars: &[ReadBar], report: &mut Report) {
    let count: usize = bars.iter().map(|bar| bar.taps.len()).sum();
    if count > 0 {
        let message = format!("taps are not kept in a lead sheet ({count} in all)");
        report.push(Severity::Note, Whereabouts::File, None, message);
    }
}
