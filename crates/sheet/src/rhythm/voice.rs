//! One bar of rhythm: spans of sound and silence become written values, tuplets and beams.

use std::collections::BTreeSet;
use std::ops::Range;

use handspan_core::time::{Metre, Ticks};

use super::beam::beams;
use super::split::split;
use super::tuplet::{Tuplet, tuplets};
use super::value::Value;

/// What an element is.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Kind {
    /// Struck.
    Struck,
    /// Tied to the element before it.
    Tied,
    /// Silence.
    Rest,
}

/// A span of a bar before it is written: everything in it sounds or rests as one.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Span {
    /// When it begins, from the bar line.
    pub at: Ticks,
    /// How long it lasts.
    pub length: Ticks,
    /// What it is.
    pub kind: Kind,
}

/// A written value.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Element {
    /// When it begins, from the bar line.
    pub at: Ticks,
    /// As it is written.
    pub value: Value,
    /// What it is.
    pub kind: Kind,
    /// The tuplet it belongs to.
    pub tuplet: Option<usize>,
}

/// A bar of rhythm as written.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Voice {
    /// The values in order.
    pub elements: Vec<Element>,
    /// The tuplets in order.
    pub tuplets: Vec<Tuplet>,
    /// The beamed groups, as ranges of the elements.
    pub beams: Vec<Range<usize>>,
}

/// Writes the spans of a bar. `offset` is what a pickup lacks of its full bar.
pub fn voice(spans: &[Span], offset: Ticks, metre: Metre) -> Voice {
    let boundaries: BTreeSet<Ticks> =
        spans.iter().flat_map(|s| [s.at + offset, s.at + s.length + offset]).collect();
    let tuplets: Vec<Tuplet> =
        tuplets(&boundaries, metre).into_iter().map(|t| Tuplet { start: t.start - offset, ..t }).collect();
    let mut elements = Vec::new();
    for span in spans {
        write(*span, &tuplets, offset, metre, &mut elements);
    }
    let beams = beams(&elements, offset, metre);
    Voice { elements, tuplets, beams }
}

fn write(span: Span, tuplets: &[Tuplet], offset: Ticks, metre: Metre, elements: &mut Vec<Element>) {
    let end = span.at + span.length;
    let mut at = span.at;
    while at < end {
        let inside = tuplets.iter().position(|t| t.holds(at));
        let until = match inside {
            Some(index) => tuplets[index].end(),
            None => tuplets.iter().map(|t| t.start).filter(|start| *start > at).min().unwrap_or(end),
        }
        .min(end);
        let values = match inside {
            Some(index) => in_tuplet(at, until - at, tuplets[index]),
            None => split(at + offset, until - at, span.kind, metre)
                .into_iter()
                .map(|(t, v)| (t - offset, v))
                .collect(),
        };
        for (start, value) in values {
            let goes_on = start > span.at && span.kind == Kind::Struck;
            elements.push(Element {
                at: start,
                value,
                kind: if goes_on { Kind::Tied } else { span.kind },
                tuplet: inside,
            });
        }
        at = until;
    }
}

/// The values of a length inside a tuplet.
fn in_tuplet(at: Ticks, length: Ticks, tuplet: Tuplet) -> Vec<(Ticks, Value)> {
    let written = tuplet.written(length);
    if let Some(value) = Value::exact(written) {
        return vec![(at, value)];
    }
    let value = Value::within(written);
    let sounding = Ticks::new(value.length().count() * i64::from(tuplet.normal) / i64::from(tuplet.actual));
    let left = length - sounding;
    let mut values = vec![(at, value)];
    if sounding > Ticks::ZERO && left > Ticks::ZERO {
        values.push((at + sounding, Value::within(tuplet.written(left))));
    }
    values
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(lengths: &[(i64, i64)], metre: Metre) -> Voice {
        let mut at = Ticks::ZERO;
        let spans: Vec<Span> = lengths
            .iter()
            .map(|(count, parts)| {
                let length = Ticks::from_quarter_parts(*count, *parts).unwrap();
                let span = Span { at, length, kind: Kind::Struck };
                at += length;
                span
            })
            .collect();
        voice(&spans, Ticks::ZERO, metre)
    }

    #[test]
    fn written_values_fill_the_bar() {
        let voice = bar(&[(3, 2), (1, 2), (1, 3), (1, 3), (1, 3), (1, 1)], Metre::COMMON);
        let powers: Vec<u8> = voice.elements.iter().map(|e| e.value.power).collect();
        assert_eq!(powers, [2, 3, 3, 3, 3, 2]);
        assert_eq!(voice.tuplets.len(), 1);
        assert_eq!(voice.beams.first(), Some(&(2..5)));
    }

    #[test]
    fn eighths_are_beamed_by_half_bars_and_by_dotted_beats() {
        let eighths = |count| vec![(1, 2); count];
        assert_eq!(bar(&eighths(8), Metre::COMMON).beams, [0..4, 4..8]);
        assert_eq!(bar(&eighths(6), Metre::try_new(6, 8).unwrap()).beams, [0..3, 3..6]);
        assert_eq!(bar(&eighths(6), Metre::try_new(3, 4).unwrap()).beams, [0..2, 2..4, 4..6]);
    }

    #[test]
    fn a_syncopation_is_tied_over_the_middle() {
        let voice = bar(&[(3, 2), (1, 1), (3, 2)], Metre::COMMON);
        let kinds: Vec<Kind> = voice.elements.iter().map(|e| e.kind).collect();
        assert_eq!(kinds[..3], [Kind::Struck, Kind::Struck, Kind::Tied]);
    }
}
