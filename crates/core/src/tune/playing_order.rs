//! Bars in the order they are played: repeats, numbered endings, D.C., D.S., coda and fine unrolled.

use super::bar::{Bar, Jump};

/// More bars than any tune has; a passage that repeats for ever ends here.
const LONGEST: usize = 20_000;

/// The indices of the bars in the order they are played.
///
/// A repeat without a forward sign goes back to the last one's end or to the beginning, as players read it. After a
/// jump repeats are not taken, and of numbered endings the last is played.
pub fn playing_order(bars: &[Bar]) -> Vec<usize> {
    let mut order = Vec::with_capacity(bars.len());
    let mut reader = Reader { bars, at: 0, passage: 0, pass: 1, jumped: false };
    while reader.at < bars.len() && order.len() < LONGEST {
        if reader.enter() {
            order.push(reader.at);
            reader.leave();
        }
    }
    order
}

struct Reader<'a> {
    bars: &'a [Bar],
    at: usize,
    /// Where the passage that may be repeated begins.
    passage: usize,
    /// Which time it is played.
    pass: u8,
    jumped: bool,
}

impl Reader<'_> {
    /// Looks at the left line of a bar; false when its ending is passed over.
    fn enter(&mut self) -> bool {
        let bar = &self.bars[self.at];
        if bar.repeat_start && self.at != self.passage {
            (self.passage, self.pass) = (self.at, 1);
        }
        let Some(ending) = &bar.ending else { return true };
        let last = self.ending_stop(self.at);
        let next = self.bars.get(last + 1).and_then(|b| b.ending.as_ref());
        let another =
            self.bars[last].repeat_end.is_some() || next.is_some_and(|n| n.passes.contains(&self.pass));
        if (self.jumped || !ending.passes.contains(&self.pass)) && another {
            self.at = last + 1;
            return false;
        }
        true
    }

    /// Looks at the right line of a bar that was played and goes on.
    fn leave(&mut self) {
        let bar = &self.bars[self.at];
        if let Some(times) = bar.repeat_end.filter(|_| !self.jumped)
            && self.pass < self.passes(times)
        {
            self.pass += 1;
            self.at = self.passage;
            return;
        }
        if bar.repeat_end.is_some() || (bar.ending_stops && self.pass > 1) {
            (self.passage, self.pass) = (self.at + 1, 1);
        }
        if self.jumped && bar.fine {
            self.at = self.bars.len();
            return;
        }
        self.at += 1;
        let find = |sign: fn(&Bar) -> bool| self.bars.iter().position(sign);
        if self.jumped {
            if bar.to_coda
                && let Some(coda) = find(|b| b.coda)
            {
                self.at = coda;
            }
            return;
        }
        let target = match bar.jump {
            Some(Jump::DaCapo) => Some(0),
            Some(Jump::DalSegno) => find(|b| b.segno),
            None => None,
        };
        if let Some(target) = target {
            (self.at, self.jumped) = (target, true);
        }
    }

    /// The last bar of the ending that begins in a bar.
    fn ending_stop(&self, from: usize) -> usize {
        (from..self.bars.len()).find(|i| self.bars[*i].ending_stops).unwrap_or(self.bars.len() - 1)
    }

    /// How often the passage is played that ends in this bar: as often as its sign and its endings say.
    fn passes(&self, times: u8) -> u8 {
        let end = (self.at + 2).min(self.bars.len());
        let endings = self.bars[self.passage..end].iter().filter_map(|b| b.ending.as_ref());
        endings.flat_map(|e| e.passes.iter().copied()).max().unwrap_or(0).max(times).max(2)
    }
}

#[cfg(test)]
mod tests {
    use super::super::bar::Ending;
    use super::*;
    use crate::harmony::Key;
    use crate::time::Metre;

    fn bars(count: usize, mark: impl Fn(usize, &mut Bar)) -> Vec<usize> {
        let mut bars: Vec<Bar> = (0..count)
            .map(|i| Bar::plain(i.to_string(), Metre::COMMON.bar(), Metre::COMMON, Key::default()))
            .collect();
        bars.iter_mut().enumerate().for_each(|(i, bar)| mark(i, bar));
        playing_order(&bars)
    }

    #[test]
    fn plain_bars_are_played_once() {
        assert_eq!(bars(3, |_, _| ()), [0, 1, 2]);
    }

    #[test]
    fn a_repeat_without_a_forward_sign_goes_back_to_the_beginning() {
        assert_eq!(bars(3, |i, b| b.repeat_end = (i == 1).then_some(2)), [0, 1, 0, 1, 2]);
    }

    #[test]
    fn endings_take_turns() {
        let order = bars(4, |i, b| {
            b.repeat_start = i == 1;
            b.repeat_end = (i == 2).then_some(2);
            b.ending = [None, None, Some(vec![1]), Some(vec![2])][i].clone().map(|passes| Ending { passes });
            b.ending_stops = i >= 2;
        });
        assert_eq!(order, [0, 1, 2, 1, 3]);
    }

    #[test]
    fn da_capo_al_coda() {
        let order = bars(4, |i, b| {
            b.to_coda = i == 0;
            b.jump = (i == 2).then_some(Jump::DaCapo);
            b.coda = i == 3;
        });
        assert_eq!(order, [0, 1, 2, 0, 3]);
    }

    #[test]
    fn dal_segno_al_fine() {
        let order = bars(4, |i, b| {
            b.segno = i == 1;
            b.fine = i == 2;
            b.jump = (i == 3).then_some(Jump::DalSegno);
        });
        assert_eq!(order, [0, 1, 2, 3, 1, 2]);
    }
}
