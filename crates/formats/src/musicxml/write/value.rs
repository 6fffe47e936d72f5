//! Note values: which lengths can be written as one note, and how others are put together of several.

use handspan_core::time::Ticks;

/// How a length is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Value {
    /// The standard's word for the note value.
    pub(super) name: &'static str,
    pub(super) dots: u32,
    pub(super) tuplet: Option<Tuplet>,
}

/// So many notes in the time of so many.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Tuplet {
    pub(super) actual: i64,
    pub(super) normal: i64,
}

/// A part of a length that is written as one note; without a value where no note value fits.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Piece {
    pub(super) length: Ticks,
    pub(super) value: Option<Value>,
}

/// Note values from the longest to the shortest; each is half of the one before it.
const NAMES: [&str; 10] =
    ["breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th"];
const LONGEST: i64 = 8 * Ticks::PER_QUARTER;
const SHORTEST: i64 = LONGEST >> (NAMES.len() - 1);

const TUPLETS: [Tuplet; 4] = [
    Tuplet { actual: 3, normal: 2 },
    Tuplet { actual: 5, normal: 4 },
    Tuplet { actual: 7, normal: 4 },
    Tuplet { actual: 9, normal: 8 },
];

/// The notes, tied together, that a length is written as when it begins at a time since the bar line.
pub(super) fn pieces(at: Ticks, length: Ticks, beat: Ticks) -> Vec<Piece> {
    if let Some(value) = plain(length.count()) {
        return vec![Piece { length, value: Some(value) }];
    }
    let (at, length, beat) = (at.count(), length.count(), beat.count());
    let next_beat = (at / beat + 1) * beat;
    let last_beat = (at + length) / beat * beat;
    // A length that is no single value is first cut where beats begin, so that they can be seen.
    let cut = if at % beat != 0 { next_beat } else { last_beat };
    let aligned_tuplet = at % length == 0 && tuplet(length).is_some();
    if !aligned_tuplet && at < cut && cut < at + length {
        let mut all = pieces(Ticks::new(at), Ticks::new(cut - at), Ticks::new(beat));
        all.extend(pieces(Ticks::new(cut), Ticks::new(at + length - cut), Ticks::new(beat)));
        return all;
    }
    tuplet(length).map_or_else(
        || several(length),
        |value| vec![Piece { length: Ticks::new(length), value: Some(value) }],
    )
}

/// A length as one note without tuplet.
fn plain(length: i64) -> Option<Value> {
    NAMES.into_iter().enumerate().find_map(|(halvings, name)| {
        let base = LONGEST >> halvings;
        (0..=2).find_map(|dots| {
            let whole = base % (1 << dots) == 0;
            let dotted = 2 * base - (base >> dots);
            (whole && dotted == length).then_some(Value { name, dots, tuplet: None })
        })
    })
}

/// A length as one note of a tuplet.
fn tuplet(length: i64) -> Option<Value> {
    TUPLETS.into_iter().find_map(|tuplet| {
        let written = scaled(length, tuplet)?;
        let value = plain(written).filter(|value| value.dots < 2)?;
        Some(Value { tuplet: Some(tuplet), ..value })
    })
}

/// What a length of a tuplet is written as.
fn scaled(length: i64, tuplet: Tuplet) -> Option<i64> {
    let over = length * tuplet.actual;
    (over % tuplet.normal == 0).then_some(over / tuplet.normal)
}

/// A length as several notes, the longest first; as one note without value where that is impossible.
fn several(length: i64) -> Vec<Piece> {
    let none = std::iter::once(None);
    let written = none.chain(TUPLETS.into_iter().map(Some)).find_map(|tuplet| {
        let written = tuplet.map_or(Some(length), |tuplet| scaled(length, tuplet))?;
        (written % SHORTEST == 0).then_some((written, tuplet))
    });
    let Some((mut left, tuplet)) = written else {
        return vec![Piece { length: Ticks::new(length), value: None }];
    };
    let mut pieces = Vec::new();
    while left > 0 {
        let fits = |name: usize| LONGEST >> name <= left;
        let index =
            (0..NAMES.len()).find(|i| fits(*i)).expect("what is left is a multiple of the shortest value");
        let base = LONGEST >> index;
        left -= base;
        let length = tuplet.map_or(base, |t| base * t.normal / t.actual);
        let value = Value { name: NAMES[index], dots: 0, tuplet };
        pieces.push(Piece { length: Ticks::new(length), value: Some(value) });
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    const Q: i64 = Ticks::PER_QUARTER;

    fn written(at: i64, length: i64) -> String {
        let pieces = pieces(Ticks::new(at), Ticks::new(length), Ticks::QUARTER);
        assert_eq!(pieces.iter().map(|p| p.length.count()).sum::<i64>(), length);
        let show = |piece: &Piece| {
            piece.value.map_or_else(
                || "?".to_owned(),
                |v| {
                    let dots = ".".repeat(v.dots as usize);
                    let ratio = v.tuplet.map_or_else(String::new, |t| format!(" {}:{}", t.actual, t.normal));
                    format!("{}{dots}{ratio}", v.name)
                },
            )
        };
        pieces.iter().map(show).collect::<Vec<_>>().join(" + ")
    }

    #[test]
    fn lengths_as_notes() {
        assert_eq!(written(0, Q), "quarter");
        assert_eq!(written(0, 3 * Q), "half.");
        assert_eq!(written(0, Q * 7 / 4), "quarter..");
        assert_eq!(written(0, 5 * Q), "whole + quarter");
        assert_eq!(written(0, Q * 5 / 2), "half + eighth");
        assert_eq!(written(Q / 2, Q * 5 / 2), "eighth + half");
        assert_eq!(written(0, Q / 3), "eighth 3:2");
        assert_eq!(written(0, Q * 2 / 3), "quarter 3:2");
        assert_eq!(written(Q * 2 / 3, Q * 2 / 3), "quarter 3:2");
        assert_eq!(written(Q / 5, Q / 5), "16th 5:4");
        assert_eq!(written(Q * 2 / 3, Q * 4 / 3), "eighth 3:2 + quarter");
        assert_eq!(written(0, Q * 5 / 16), "16th + 64th");
        assert_eq!(written(0, 1), "?");
    }
}
