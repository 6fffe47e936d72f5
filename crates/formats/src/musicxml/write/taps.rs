//! Taps: notes without a pitch on the middle line, with a cross for a head, as a voice of their own.

use handspan_core::arrangement::{Score, TapBy};
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::events::counted_from;
use super::note::{time_modification, value};
use super::value::{Value, pieces};
use super::xml::Xml;

/// A tap or a part of one, cut at bar lines and into note values that are tied.
pub(super) struct TapPiece {
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    value: Option<Value>,
    by: TapBy,
    is_first: bool,
    is_last: bool,
}

/// The taps that sound in a bar, in order of time.
pub(super) fn of_bar(score: &Score, bar: &Bar) -> Vec<TapPiece> {
    let mut all = Vec::new();
    for tap in &score.taps {
        let (start, end) = (tap.at.max(bar.start), (tap.at + tap.length).min(bar.end()));
        if start >= end {
            continue;
        }
        let mut at = start;
        for piece in pieces(start - counted_from(bar), end - start, bar.metre.beat()) {
            let until = at + piece.length;
            all.push(TapPiece {
                at,
                length: piece.length,
                value: piece.value,
                by: tap.by,
                is_first: at == tap.at,
                is_last: until == tap.at + tap.length,
            });
            at = until;
        }
    }
    all
}

/// Writes one; p beside it says that the thumb taps.
pub(super) fn write(xml: &mut Xml, tap: &TapPiece, voice: &str, duration: i64) {
    xml.element("note", &[], |xml| {
        xml.element("unpitched", &[], |xml| {
            xml.text("display-step", "B");
            xml.text("display-octave", 4);
        });
        xml.text("duration", duration);
        let ties = [(!tap.is_first, "stop"), (!tap.is_last, "start")];
        let ties = || ties.into_iter().filter(|(is_tied, _)| *is_tied).map(|(_, kind)| kind);
        ties().for_each(|kind| xml.empty("tie", &[("type", kind)]));
        xml.text("voice", voice);
        value(xml, tap.value);
        time_modification(xml, tap.value);
        xml.text("notehead", "x");
        xml.text("staff", 1);
        let thumb = tap.by == TapBy::Thumb && tap.is_first;
        if thumb || ties().next().is_some() {
            xml.element("notations", &[], |xml| {
                ties().for_each(|kind| xml.empty("tied", &[("type", kind)]));
                if thumb {
                    xml.element("technical", &[], |xml| xml.text("pluck", "p"));
                }
            });
        }
    });
}
