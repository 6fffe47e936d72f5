//! Which voice of the staff each note of a bar belongs to: the fewest voices that say every length.
//!
//! The melody is the upper voice. What sounds below is cut at the bar lines; notes that then begin and end alike
//! stand on one stem.
//!
//! 1. Where no two such chords overlap, one lower voice says everything.
//! 2. Otherwise the bass with all that is alike to it stays below, and the rest is a middle voice.
//! 3. Where chords of one of these two would overlap, they are shared out so that few heads are tied.
//!
//! Three voices at once on one staff are the most that editions of guitar music print (common practice, no source).
//! Where more lengths sound at once, a voice is cut wherever one of its notes begins or ends, and what sounds on is
//! tied, so that the values of every note add up to its length.

use std::collections::{BTreeMap, BTreeSet};

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
    if !overlap(blocks) {
        return vec![Rank::Lower; blocks.len()];
    }
    fewest_ties(blocks)
}

/// Sharing out by steps: from the bass in the lower voice and all else in the middle one on, the chord whose move to the
/// other voice spares most tied heads goes there, the bass only where nothing else helps, as long as one spares any.
fn fewest_ties(blocks: &[Block]) -> Vec<Rank> {
    let by_part = |block: &Block| if block.is_bass { Rank::Lower } else { Rank::Middle };
    let mut ranks: Vec<Rank> = blocks.iter().map(by_part).collect();
    let mut best = tied_heads(blocks, &ranks);
    loop {
        let moves = (0..blocks.len()).map(|block| {
            let mut moved = ranks.clone();
            moved[block] = if moved[block] == Rank::Lower { Rank::Middle } else { Rank::Lower };
            (tied_heads(blocks, &moved), blocks[block].is_bass, moved)
        });
        let better = moves.filter(|(tied, ..)| *tied < best);
        match better.min_by_key(|(tied, is_bass, _)| (*is_bass, *tied)) {
            Some((tied, _, moved)) => (best, ranks) = (tied, moved),
            None => return ranks,
        }
    }
}

/// How many heads are tied where every chord is cut at all beginnings and ends of its voice; those of the bass, which
/// should be seen whole, count twice.
fn tied_heads(blocks: &[Block], ranks: &[Rank]) -> usize {
    let tied = |(block, rank): (&Block, &Rank)| {
        let others = blocks.iter().zip(ranks).filter(|(_, other)| *other == rank);
        let bounds: BTreeSet<Ticks> = others.flat_map(|(other, _)| [other.from, other.to]).collect();
        let inside = bounds.into_iter().filter(|at| block.from < *at && *at < block.to);
        inside.count() * block.notes.len() * if block.is_bass { 2 } else { 1 }
    };
    blocks.iter().zip(ranks).map(tied).sum()
}

/// Whether two of some blocks, which stand in order of time, sound at once.
fn overlap(blocks: &[Block]) -> bool {
    blocks.iter().zip(blocks.iter().skip(1)).any(|(before, after)| after.from < before.to)
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
    fn few_ties_where_parts_overlap_in_themselves() {
        assert_eq!(ranks(&[(0, 3, false), (1, 4, false)]), "LM");
        assert_eq!(ranks(&[(0, 1, true), (0, 2, false), (1, 4, false)]), "LML");
        assert_eq!(ranks(&[(0, 4, true), (0, 2, false), (0, 1, false)]), "LMM", "three at once");
        // What enters under a longer chord goes to the voice in which fewer heads are cut.
        assert_eq!(
            ranks(&[(0, 2, true), (0, 3, false), (2, 4, true), (2, 3, false), (3, 4, false)]),
            "LMLMM"
        );
    }
}
