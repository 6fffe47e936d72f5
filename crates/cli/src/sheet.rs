//! The options that say how the sheet of an arrangement is to look.

use std::collections::BTreeMap;
use std::ops::Range;

use clap::{Args, ValueEnum};
use handspan_core::tune::Tune;
use handspan_sheet::{Layout, Paper, Print, SheetOptions};

use crate::failure::{Ended, Failure};

/// How .pdf, .svg and .png are to look.
#[derive(Args, Debug)]
pub(crate) struct PaperOptions {
    /// The paper of .pdf, .svg and .png
    #[arg(long, value_enum, default_value_t = PaperOption::A4)]
    paper: PaperOption,

    /// What stands on the pages
    #[arg(long, value_enum, default_value_t = LayoutOption::Tablature)]
    layout: LayoutOption,

    /// How large the pages are printed
    #[arg(long, value_enum, default_value_t = PrintOption::Normal)]
    print: PrintOption,

    /// Mirrors the chord boxes for a left-handed player: the highest string to the left
    #[arg(long)]
    left_handed_boxes: bool,

    /// Prints only these bars, as a handout: 5-8, or a single one
    #[arg(long, value_name = "BARS")]
    bars: Option<String>,

    /// A remark to be read under the system of a bar, any number of times: "5: keep the thumb light"
    #[arg(long = "remark", value_name = "BAR: TEXT")]
    remarks: Vec<String>,

    /// Adds a practice page: the hardest moves, a tempo ladder, cautions
    #[arg(long)]
    practice: bool,
}

#[derive(ValueEnum, Clone, Copy, Debug)]
enum PaperOption {
    A4,
    Letter,
}

impl From<PaperOption> for Paper {
    fn from(option: PaperOption) -> Self {
        match option {
            PaperOption::A4 => Self::A4,
            PaperOption::Letter => Self::Letter,
        }
    }
}

#[derive(ValueEnum, Clone, Copy, Debug)]
enum LayoutOption {
    /// Tablature with its rhythm below
    Tablature,
    /// A five-line staff above the tablature
    StaffAndTablature,
    /// A five-line staff
    Staff,
    /// Every chord box once, on one page
    Boxes,
}

impl From<LayoutOption> for Layout {
    fn from(option: LayoutOption) -> Self {
        match option {
            LayoutOption::Tablature => Self::Tablature,
            LayoutOption::StaffAndTablature => Self::StaffAndTablature,
            LayoutOption::Staff => Self::Staff,
            LayoutOption::Boxes => Self::Boxes,
        }
    }
}

#[derive(ValueEnum, Clone, Copy, Debug)]
enum PrintOption {
    /// The usual size
    Normal,
    /// A quarter larger
    Large,
}

impl From<PrintOption> for Print {
    fn from(option: PrintOption) -> Self {
        match option {
            PrintOption::Normal => Self::Normal,
            PrintOption::Large => Self::Large,
        }
    }
}

impl PaperOptions {
    /// How the sheet of a tune is to look.
    ///
    /// # Errors
    /// Names a bar that the tune does not have, and a remark that would not be printed.
    pub(crate) fn of(&self, tune: &Tune) -> Ended<SheetOptions> {
        let passage = self.bars.as_deref().map(|text| passage(tune, text)).transpose()?;
        let mut remarks: BTreeMap<usize, String> = BTreeMap::new();
        for text in &self.remarks {
            let (bar, words) = remark(tune, text)?;
            if passage.as_ref().is_some_and(|passage| !passage.contains(&bar)) {
                return Err(Failure::fault(format!(
                    "the remark “{text}” would not be printed, because its bar is outside --bars {}",
                    self.bars.as_deref().unwrap_or_default()
                )));
            }
            let there = remarks.entry(bar).or_default();
            *there = if there.is_empty() { words.to_owned() } else { format!("{there} {words}") };
        }
        Ok(SheetOptions {
            paper: self.paper.into(),
            layout: self.layout.into(),
            print: self.print.into(),
            left_handed_boxes: self.left_handed_boxes,
            passage,
            remarks,
            practice: self.practice,
        })
    }
}

/// Reads `5-8` or `5`: bars by their printed numbers.
fn passage(tune: &Tune, text: &str) -> Ended<Range<usize>> {
    // A number printed in the tune is taken first, since it may carry a dash of its own.
    let (from, to) = match bar(tune, text) {
        Ok(_) => (text, text),
        Err(_) => text.split_once(['-', '–']).unwrap_or((text, text)),
    };
    let (first, last) = (bar(tune, from)?, bar(tune, to)?);
    if last < first {
        return Err(Failure::fault(format!("--bars {text} ends before it begins")));
    }
    Ok(first..last + 1)
}

/// Reads `5: keep the thumb light`.
fn remark<'a>(tune: &Tune, text: &'a str) -> Ended<(usize, &'a str)> {
    let split = text.split_once(':').map(|(number, words)| (number, words.trim()));
    let Some((number, words)) = split.filter(|(_, words)| !words.is_empty()) else {
        return Err(Failure::fault(format!(
            "a remark is a bar's number, a colon and what is to be read there, like “5: keep the thumb light”; \
             “{text}” is not"
        )));
    };
    Ok((bar(tune, number)?, words))
}

/// The bar with a printed number.
fn bar(tune: &Tune, number: &str) -> Ended<usize> {
    let number = number.trim();
    let bars = tune.bars();
    bars.iter().position(|bar| bar.number == number).ok_or_else(|| {
        let ends = bars.first().zip(bars.last());
        let there =
            ends.map_or_else(String::new, |(a, b)| format!("; its bars are {} to {}", a.number, b.number));
        Failure::fault(format!("the tune has no bar {number}{there}"))
    })
}

#[cfg(test)]
mod tests {
    use handspan_core::harmony::Key;
    use handspan_core::spelling::{SpelledPitch, Spelling};
    use handspan_core::time::{Metre, Ticks};
    use handspan_core::tune::{Bar, MelodyNote, TuneParts};

    use super::*;

    /// Bars 0 to 4.
    fn tune() -> Tune {
        let bar = |number: usize| {
            Bar::plain(number.to_string(), Metre::COMMON.bar(), Metre::COMMON, Key::default())
        };
        let spelling = Spelling::read("C").unwrap().0;
        let written = SpelledPitch { spelling, octave: 4 };
        let note =
            MelodyNote { at: Ticks::ZERO, length: Ticks::QUARTER, written, tied_in: false, tied_out: false };
        let parts = TuneParts { bars: (0..5).map(bar).collect(), melody: vec![note], ..TuneParts::default() };
        Tune::try_new(parts).unwrap()
    }

    #[test]
    fn bars_are_named_as_printed() {
        let tune = tune();
        assert_eq!(passage(&tune, "0-2"), Ok(0..3));
        assert_eq!(passage(&tune, "3"), Ok(3..4));
        for wrong in ["4-2", "5", "1-9", "", "-"] {
            assert!(passage(&tune, wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn remarks_stand_at_a_bar() {
        let tune = tune();
        assert_eq!(remark(&tune, "2: slow: listen"), Ok((2, "slow: listen")));
        for wrong in ["2", "2:", "9: slow", ": slow"] {
            assert!(remark(&tune, wrong).is_err(), "{wrong}");
        }
    }
}
