//! The figures of a piece, or of many together.

use std::ops::Add;

use serde::Serialize;

/// What was counted; the command's help says what each key means.
#[derive(Clone, Copy, PartialEq, Debug, Default, Serialize)]
pub(super) struct Figures {
    pub(super) onsets: usize,
    pub(super) reachable: usize,
    pub(super) with_grip: usize,
    pub(super) with_route: usize,
    pub(super) with_every_held_note: usize,
    pub(super) cuts: usize,
    pub(super) fingers_printed: usize,
    pub(super) fingers_agree: usize,
    pub(super) fingers_half_locked: usize,
    pub(super) fingers_agree_half_locked: usize,
    /// Digits 0 to 4.
    pub(super) left_hand_printed: usize,
    pub(super) left_hand_agree_best_of_five: usize,
    pub(super) open_printed: usize,
    pub(super) open_agree: usize,
    pub(super) strings_printed: usize,
    pub(super) strings_agree: usize,
    pub(super) voicings: usize,
    pub(super) voicing_first: usize,
    pub(super) voicing_top3: usize,
    pub(super) voicing_top10: usize,
    /// The mean over all voicings of one divided by the rank; nothing where it was not found at all.
    pub(super) voicing_mrr: f64,
    pub(super) seconds: f64,
}

impl Figures {
    /// Counts a published voicing that came at a rank from 1 on, or nowhere.
    pub(super) fn count_voicing(&mut self, rank: Option<usize>) {
        let within = |most: usize| usize::from(rank.is_some_and(|rank| rank <= most));
        let this = Self {
            voicings: 1,
            voicing_first: within(1),
            voicing_top3: within(3),
            voicing_top10: within(10),
            voicing_mrr: rank.map_or(0.0, |rank| 1.0 / rank as f64),
            ..Self::default()
        };
        *self = *self + this;
    }
}

impl Add for Figures {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        let voicings = self.voicings + other.voicings;
        let ranks = self.voicing_mrr * self.voicings as f64 + other.voicing_mrr * other.voicings as f64;
        Self {
            onsets: self.onsets + other.onsets,
            reachable: self.reachable + other.reachable,
            with_grip: self.with_grip + other.with_grip,
            with_route: self.with_route + other.with_route,
            with_every_held_note: self.with_every_held_note + other.with_every_held_note,
            cuts: self.cuts + other.cuts,
            fingers_printed: self.fingers_printed + other.fingers_printed,
            fingers_agree: self.fingers_agree + other.fingers_agree,
            fingers_half_locked: self.fingers_half_locked + other.fingers_half_locked,
            fingers_agree_half_locked: self.fingers_agree_half_locked + other.fingers_agree_half_locked,
            left_hand_printed: self.left_hand_printed + other.left_hand_printed,
            left_hand_agree_best_of_five: self.left_hand_agree_best_of_five
                + other.left_hand_agree_best_of_five,
            open_printed: self.open_printed + other.open_printed,
            open_agree: self.open_agree + other.open_agree,
            strings_printed: self.strings_printed + other.strings_printed,
            strings_agree: self.strings_agree + other.strings_agree,
            voicings,
            voicing_first: self.voicing_first + other.voicing_first,
            voicing_top3: self.voicing_top3 + other.voicing_top3,
            voicing_top10: self.voicing_top10 + other.voicing_top10,
            voicing_mrr: if voicings == 0 { 0.0 } else { ranks / voicings as f64 },
            seconds: self.seconds + other.seconds,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_are_averaged_over_all_places() {
        let mut first = Figures::default();
        first.count_voicing(Some(1));
        first.count_voicing(None);
        let mut second = Figures::default();
        second.count_voicing(Some(4));
        let both = first + second;
        assert_eq!((both.voicings, both.voicing_first, both.voicing_top3, both.voicing_top10), (3, 1, 1, 2));
        assert!((both.voicing_mrr - 1.25 / 3.0).abs() < 1e-9);
    }
}
