//! Which voice of the staff each note of a bar belongs to: the fewest voices that say every length.
//!
//! The melody is the upper voice. What sounds below is cut at the bar lines; notes that then begin and end alike
//! stand on one stem.
//!
//! 1. Where no two such chords overlap, one lower voice says everything.
//! 2. Otherwise the bass with all that is alike to it stays below, and the rest is a middle voice.
//! 3. Where one of these two would still overlap, each chord in order of time takes the one that is free, the lower
//!    one first.
//!
//! Three voices at once on one staff are the most that editions of guitar music print (common practice, no source).
//! Where more lengths sound at once, the middle voice ties what sounds on, and an open tie says that a note rings
//! under a newer stroke.

use std::collections::BTreeMap;

use handspan_core::arrangement::ScoreNote;
use handspan_core::demand::Part;
use handspan_core::pitch::Pitch;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

/// A voice of the staff by its place.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Rank {
    /// The melody.
    Upper,
    /// What sounds below it for other lengths than the bass.
    Middle,
    /// The bass, and all that is as long.
    Lower,
}

impl Rank {
    /// All of them from above.
    pub const ALL: [Self; 3] = [Self::Upper, Self::Middle, Self::Lower];
}

/// Notes below the melody that begin and end alike within the bar.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Block {
    from: Ticks,
    to: Ticks,
    is_bass: bool,
    lowest: Pitch,
    notes: Vec<usize>,
}

/// The voice of every note that sounds in a bar, by the note's index in the score.
pub(crate) fn ranks(sounding: &[(usize, &ScoreNote)], bar: &Bar) -> BTreeMap<usize, Rank> {
    let is_melody = |note: &ScoreNote| note.part == Part::Melody;
    let melody = sounding.iter().filter(|(_, note)| is_melody(note)).map(|(index, _)| (*index, Rank::Upper));
    let blocks = blocks(sounding.iter().copied().filter(|(_, note)| !is_melody(note)), bar);
    let below = shared_out(&blocks);
    let below =
        blocks.iter().zip(below).flat_map(|(block, rank)| block.notes.iter().map(move |n| (*n, rank)));
    melody.chain(below).collect()
}

/// The blocks in order of time, the bass first, then from below.
fn blocks<'a>(notes: impl Iterator<Item = (usize, &'a ScoreNote)>, bar: &Bar) -> Vec<Block> {
    let mut alike: BTreeMap<(Ticks, Ticks), Block> = BTreeMap::new();
    for (index, note) in notes {
        let (from, to) = (note.at.max(bar.start), note.end().min(bar.end()));
        let empty = Block { from, to, is_bass: false, lowest: note.pitch(), notes: Vec::new() };
        let block = alike.entry((from, to)).or_insert(empty);
        block.is_bass |= note.part == Part::Bass;
        block.lowest = block.lowest.min(note.pitch());
        block.notes.push(index);
    }
    let mut blocks: Vec<Block> = alike.into_values().collect();
    blocks.sort_by_key(|block| (block.from, !block.is_bass, block.lowest));
    blocks
}

/// The voice of every block.
fn shared_out(blocks: &[Block]) -> Vec<Rank> {
    if !overlap(blocks.iter()) {
        return vec![Rank::Lower; blocks.len()];
    }
    let by_part = |bass: bool| blocks.iter().filter(move |block| block.is_bass == bass);
    if !overlap(by_part(true)) && !overlap(by_part(false)) {
        let rank = |block: &Block| if block.is_bass { Rank::Lower } else { Rank::Middle };
        return blocks.iter().map(rank).collect();
    }
    let mut lower_ends = Ticks::new(i64::MIN);
    let first_free = |block: &Block| {
        if block.from < lower_ends {
            return Rank::Middle;
        }
        lower_ends = block.to;
        Rank::Lower
    };
    blocks.iter().map(first_free).collect()
}

/// Whether two of some blocks, which stand in order of time, sound at once.
fn overlap<'a>(blocks: impl Iterator<Item = &'a Block>) -> bool {
    let mut until = Ticks::new(i64::MIN);
    for block in blocks {
        if block.from < until {
            return true;
        }
        until = until.max(block.to);
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Blocks of beats: from, to, whether the bass is among them.
    fn ranks(blocks: &[(i64, i64, bool)]) -> String {
        let block = |(number, (from, to, is_bass)): (usize, &(i64, i64, bool))| Block {
            from: Ticks::QUARTER * *from,
            to: Ticks::QUARTER * *to,
            is_bass: *is_bass,
            lowest: Pitch::new(40 + number as u8),
            notes: vec![number],
        };
        let blocks: Vec<Block> = blocks.iter().enumerate().map(block).collect();
        shared_out(&blocks).into_iter().map(|rank| if rank == Rank::Lower { 'L' } else { 'M' }).collect()
    }

    #[test]
    fn one_voice_where_it_says_everything() {
        assert_eq!(ranks(&[(0, 4, true)]), "L");
        assert_eq!(ranks(&[(0, 1, true), (1, 2, false), (2, 3, true), (3, 4, false)]), "LLLL");
    }

    #[test]
    fn two_voices_where_bass_and_inner_notes_differ() {
        assert_eq!(ranks(&[(0, 4, true), (0, 3, false)]), "LM");
        assert_eq!(ranks(&[(0, 4, true), (1, 2, false), (3, 4, false)]), "LMM");
    }

    #[test]
    fn the_voice_that_is_free_where_parts_overlap_in_themselves() {
        assert_eq!(ranks(&[(0, 3, false), (1, 4, false)]), "LM");
        assert_eq!(ranks(&[(0, 1, true), (0, 2, false), (1, 4, false)]), "LML");
        assert_eq!(ranks(&[(0, 4, true), (0, 2, false), (0, 1, false)]), "LMM", "three at once");
    }
}
