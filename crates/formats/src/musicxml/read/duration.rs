//! Durations: from a file's divisions, or from note value, dots and tuplet, to whole ticks.

use handspan_core::time::Ticks;
use roxmltree::Node;

use super::element::{all, child, child_text};

/// An exact positive or negative number from a decimal in a file.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Decimal {
    units: i64,
    parts: i64,
}

impl Decimal {
    /// Nothing.
    pub(super) const ZERO: Self = Self { units: 0, parts: 1 };
    /// One.
    pub(super) const ONE: Self = Self { units: 1, parts: 1 };

    /// Reads `480`, `-2`, `1.5`; none where it is no number, or one with more digits than any file needs.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        let fraction = fraction.trim_end_matches('0');
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.len() > 12 || fraction.len() > 6 || !digits(fraction) {
            return None;
        }
        let units = format!("{whole}{fraction}").parse().ok()?;
        Some(Self { units, parts: 10_i64.pow(fraction.len() as u32) })
    }

    /// Whether it is more than nothing.
    pub(super) const fn is_positive(self) -> bool {
        self.units > 0
    }

    /// The whole number nearest to zero beside it.
    pub(super) const fn truncated(self) -> i64 {
        self.units / self.parts
    }

    /// Whether it is a whole number.
    pub(super) const fn is_whole(self) -> bool {
        self.units % self.parts == 0
    }
}

/// A duration of a file in ticks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Length {
    /// It is a whole number of ticks.
    Exact(Ticks),
    /// It lies between two ticks; this is the nearer one.
    Near(Ticks),
}

/// So many divisions as ticks, or none where that is beyond any bar.
pub(super) fn length(duration: Decimal, divisions: Decimal) -> Option<Length> {
    /// Longer than any bar: 1,024 quarter notes.
    const LONGEST: i128 = 1024 * Ticks::PER_QUARTER as i128;
    let over = i128::from(duration.units) * i128::from(divisions.parts) * i128::from(Ticks::PER_QUARTER);
    let under = i128::from(duration.parts) * i128::from(divisions.units);
    let near = (2 * over + under).div_euclid(2 * under);
    if near.abs() > LONGEST {
        return None;
    }
    let ticks = Ticks::new(near as i64);
    Some(if over % under == 0 { Length::Exact(ticks) } else { Length::Near(ticks) })
}

/// The length that note value, dots and tuplet of a note give, where it is a whole number of ticks.
pub(super) fn note_value(note: Node<'_, '_>) -> Option<Ticks> {
    let (over, under) = match child_text(note, "type")? {
        "maxima" => (32, 1),
        "long" => (16, 1),
        "breve" => (8, 1),
        "whole" => (4, 1),
        "half" => (2, 1),
        "quarter" => (1, 1),
        "eighth" => (1, 2),
        "16th" => (1, 4),
        "32nd" => (1, 8),
        "64th" => (1, 16),
        "128th" => (1, 32),
        "256th" => (1, 64),
        "512th" => (1, 128),
        "1024th" => (1, 256),
        _ => return None,
    };
    let dots = u32::try_from(all(note, "dot").count()).ok().filter(|dots| *dots <= 4)?;
    let (actual, normal) = child(note, "time-modification").map_or(Some((1, 1)), ratio)?;
    let count = over * normal * (2_i64.pow(dots + 1) - 1);
    Ticks::from_quarter_parts(count, under * actual * 2_i64.pow(dots))
}

/// A tuplet's ratio: so many notes in the time of so many.
fn ratio(modification: Node<'_, '_>) -> Option<(i64, i64)> {
    let number = |name| {
        let number: i64 = child_text(modification, name)?.parse().ok()?;
        (1..=64).contains(&number).then_some(number)
    };
    Some((number("actual-notes")?, number("normal-notes")?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ticks(duration: &str, divisions: &str) -> Option<Length> {
        length(Decimal::parse(duration)?, Decimal::parse(divisions)?)
    }

    #[test]
    fn divisions_become_ticks() {
        assert_eq!(ticks("480", "480"), Some(Length::Exact(Ticks::QUARTER)));
        assert_eq!(ticks("1", "3"), Some(Length::Exact(Ticks::new(6720))));
        assert_eq!(ticks("1.5", "1"), Some(Length::Exact(Ticks::new(30_240))));
        assert_eq!(ticks("341", "1024"), Some(Length::Near(Ticks::new(6713))));
        assert_eq!(ticks("-1", "2"), Some(Length::Exact(Ticks::new(-10_080))));
        assert_eq!(ticks("999999999999", "1"), None);
        assert_eq!(ticks("9999999999999", "1"), None);
        assert_eq!(ticks("NaN", "1"), None);
        assert_eq!(ticks("1e9", "1"), None);
        assert_eq!(ticks("", "1"), None);
    }

    #[test]
    fn note_values_become_ticks() {
        let check = |inside: &str, expected: Option<i64>| {
            let text = format!("<note>{inside}</note>");
            let document = roxmltree::Document::parse(&text).unwrap();
            assert_eq!(note_value(document.root_element()).map(Ticks::count), expected, "{inside}");
        };
        let triplet = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>";
        check("<type>quarter</type>", Some(20_160));
        check("<type>half</type><dot/>", Some(60_480));
        check("<type>quarter</type><dot/><dot/>", Some(35_280));
        check(&format!("<type>eighth</type>{triplet}"), Some(6720));
        check("<type>512th</type>", None);
        check("<type>banana</type>", None);
        check("", None);
    }
}
