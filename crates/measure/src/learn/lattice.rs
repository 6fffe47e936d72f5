//! Every route through a piece at once, laid out so that weights can change and nothing has to be found again.
//!
//! The layers are those of the search: a node is a grip at an onset, and two nodes are joined where what sounds on
//! keeps its string and its finger. Cuts lie where the search cuts.

use std::collections::BTreeMap;

use handspan_core::demand::{Mark, WrittenNote};
use handspan_core::grip::moves::HandAt;
use handspan_core::grip::strain::each_strain;
use handspan_core::grip::weights::{Table, Weights};
use handspan_core::grip::{Grip, Hold, Reach, StringSet};
use handspan_core::hand::Hand;
use handspan_core::neck::Fret;
use handspan_core::pitch::Pitch;
use handspan_core::route::{Shapes, written_grips};

use super::folds::composer;
use crate::repertoire::piece::{Onset, Piece};
use crate::repertoire::route::has_grip;

/// So many onsets before and after a mark teach something. Whole passages, where what is taken as open far from all marks
/// taught as well, cost up to two points of fingers; 4, 6 and 8 onsets were alike.
const AROUND: usize = 8;

/// What a printed mark says.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Kind {
    /// A digit from 1 to 4; whether it is locked when half of them are.
    Finger { locked: bool },
    /// The digit 0.
    Open,
    /// A string number.
    String,
}

/// A piece with every route through it.
pub(super) struct Lattice {
    pub(super) composer: String,
    pub(super) reach: Reach,
    pub(super) passages: Vec<Vec<Layer>>,
    /// Marks at onsets without any grip: nothing can agree with them.
    pub(super) lost: Vec<Kind>,
    /// The grips of all nodes: how often each weight counts.
    pub(super) strains: Vec<Vec<(u16, i16)>>,
}

/// One onset.
pub(super) struct Layer {
    pub(super) onset: usize,
    pub(super) milliseconds: i64,
    pub(super) marks: Vec<Kind>,
    pub(super) nodes: Vec<Node>,
    pub(super) groups: Vec<Group>,
}

/// A grip at an onset.
pub(super) struct Node {
    /// Its place among the strains.
    pub(super) grip: u32,
    pub(super) hand: HandAt,
    pub(super) holds: Grip,
    /// A bit for every mark that it contradicts.
    pub(super) wrong: u32,
    /// How many notes it stops that are taken as open although nothing is printed.
    pub(super) stops: u8,
}

/// Nodes that may follow on all of these nodes of the layer before, and on no other.
pub(super) struct Group {
    pub(super) from: Vec<u32>,
    pub(super) nodes: Vec<u32>,
}

impl Lattice {
    /// Lays out a piece; the shapes of its chords are judged under `judging`.
    pub(super) fn new(piece: &Piece, judging: &Weights) -> Self {
        let hand = Hand::default();
        let reach = Reach::weighing(&piece.instrument, &hand, super::teach::by_hand());
        let judge = Reach::weighing(&piece.instrument, &hand, judging.clone());
        let shapes = Shapes::new(&judge, &piece.demands().collect::<Vec<_>>());
        let (known, strains) = (BTreeMap::new(), Vec::new());
        let mut building = Building { piece, reach: &reach, shapes, known, strains };
        let kinds = kinds(piece);
        let with_grip: Vec<bool> = piece.onsets.iter().map(|o| has_grip(&reach, &o.sounding())).collect();
        let (mut passages, mut lost) = (Vec::new(), Vec::new());
        let mut first = 0;
        for run in with_grip.chunk_by(|a, b| a == b) {
            let end = first + run.len();
            while run[0] && first < end {
                let passage = building.passage(first, end, &kinds);
                if passage.is_empty() {
                    break;
                }
                first += passage.len();
                passages.push(passage);
            }
            lost.extend(kinds[first..end].iter().flatten().copied());
            first = end;
        }
        let strains = building.strains;
        let mut lattice = Self { composer: composer(piece).to_owned(), reach, passages, lost, strains };
        lattice.complete_open(piece);
        lattice
    }

    /// How many marks can be kept or contradicted.
    pub(super) fn marks(&self) -> usize {
        self.passages.iter().flatten().map(|layer| layer.marks.len()).sum()
    }

    /// Leaves what lies within some onsets of a mark: nothing is known of the rest.
    pub(super) fn around_marks(mut self) -> Self {
        let mut cut = Vec::new();
        for passage in std::mem::take(&mut self.passages) {
            let marked: Vec<bool> = passage.iter().map(|layer| !layer.marks.is_empty()).collect();
            let is_near = |at: usize| {
                marked[at.saturating_sub(AROUND)..marked.len().min(at + AROUND + 1)]
                    .iter()
                    .any(|marked| *marked)
            };
            let mut before = false;
            for (at, mut layer) in passage.into_iter().enumerate() {
                let near = is_near(at);
                if near && !before {
                    layer.groups =
                        vec![Group { from: vec![0], nodes: (0..layer.nodes.len() as u32).collect() }];
                    cut.push(Vec::new());
                }
                if let Some(passage) = cut.last_mut().filter(|_| near) {
                    passage.push(layer);
                }
                before = near;
            }
        }
        self.passages = cut;
        self
    }

    /// Takes the unmarked notes as open that the easiest route with every mark locked plays open.
    fn complete_open(&mut self, piece: &Piece) {
        let reach = &self.reach;
        let strains = super::decode::strains(&self.strains, reach.weights());
        for passage in &mut self.passages {
            let route = super::decode::easiest(reach, passage, &strains, |_| u32::MAX);
            for (layer, at) in passage.iter_mut().zip(route) {
                let onset = &piece.onsets[layer.onset];
                let plays_open = |grip: &Grip, pitch: Pitch| {
                    strings_of(reach, grip, &[pitch])
                        .iter()
                        .any(|s| grip.hold(s).is_some_and(|h| h.fret().is_open()))
                };
                let chosen = layer.nodes[at].holds;
                let open: Vec<Pitch> = onset
                    .struck
                    .iter()
                    .filter(|n| n.mark.is_none() && n.string.is_none())
                    .map(|n| n.pitch)
                    .filter(|p| plays_open(&chosen, *p))
                    .collect();
                for node in &mut layer.nodes {
                    node.stops = open.iter().filter(|p| !plays_open(&node.holds, **p)).count() as u8;
                }
            }
        }
    }
}

/// The marks of every onset, lower notes first.
fn kinds(piece: &Piece) -> Vec<Vec<Kind>> {
    let mut locked = false;
    let mut of_onset = |onset: &Onset| {
        let mut kinds = Vec::new();
        for note in &onset.struck {
            kinds.extend(note.mark.map(|mark| match mark {
                Mark::Open => Kind::Open,
                Mark::Stopped(_) => {
                    locked = !locked;
                    Kind::Finger { locked }
                }
            }));
            kinds.extend(note.string.map(|_| Kind::String));
        }
        kinds
    };
    piece.onsets.iter().map(&mut of_onset).collect()
}

/// A bit for every mark of an onset that a grip contradicts.
fn wrong(reach: &Reach, onset: &Onset, grip: &Grip) -> u32 {
    let (mut bits, mut bit) = (0, 1);
    for note in &onset.struck {
        let played = strings_of(reach, grip, &[note.pitch]).iter().next();
        let keeps = |note: WrittenNote| played.is_some_and(|string| note.is_kept_by(grip, string));
        if note.mark.is_some() {
            bits |= if keeps(WrittenNote { string: None, ..*note }) { 0 } else { bit };
            bit <<= 1;
        }
        if note.string.is_some() {
            bits |= if keeps(WrittenNote { mark: None, ..*note }) { 0 } else { bit };
            bit <<= 1;
        }
    }
    bits
}

/// The strings of a grip that sound one of these pitches.
fn strings_of(reach: &Reach, grip: &Grip, pitches: &[Pitch]) -> StringSet {
    let sounds = |string, hold: Hold| hold.sounds(reach.instrument(), string);
    let wanted = grip.holds().filter(|(s, hold)| sounds(*s, *hold).is_some_and(|p| pitches.contains(&p)));
    wanted.map(|(string, _)| string).collect()
}

struct Building<'a> {
    piece: &'a Piece,
    reach: &'a Reach,
    shapes: Shapes,
    known: BTreeMap<(Grip, Option<usize>), u32>,
    strains: Vec<Vec<(u16, i16)>>,
}

impl Building<'_> {
    /// The layers from an onset on, as far as a hand can go; the beginning with empty hands is left out.
    fn passage(&mut self, first: usize, end: usize, kinds: &[Vec<Kind>]) -> Vec<Layer> {
        let mut layers: Vec<Layer> = Vec::new();
        let nothing = vec![Node {
            grip: 0,
            hand: HandAt::holding(self.reach, &Grip::SILENT),
            holds: Grip::SILENT,
            wrong: 0,
            stops: 0,
        }];
        for (index, kinds) in kinds.iter().enumerate().take(end).skip(first) {
            let onset = &self.piece.onsets[index];
            let before = layers.last().map_or(&nothing, |layer| &layer.nodes);
            let sounding_on = if index == first { &[] } else { onset.sounding_on.as_slice() };
            let (nodes, groups) = self.layer(before, index, sounding_on);
            if nodes.is_empty() {
                break;
            }
            let marks = kinds.clone();
            layers.push(Layer { onset: index, milliseconds: onset.milliseconds, marks, nodes, groups });
        }
        layers
    }

    fn layer(&mut self, before: &[Node], onset: usize, sounding_on: &[Pitch]) -> (Vec<Node>, Vec<Group>) {
        let struck = self.piece.onsets[onset].plain();
        let mut ways: BTreeMap<Grip, Vec<u32>> = BTreeMap::new();
        for (node, index) in before.iter().zip(0..) {
            let kept = node.holds.only(strings_of(self.reach, &node.holds, sounding_on));
            ways.entry(kept).or_default().push(index);
        }
        let (mut nodes, mut groups) = (Vec::new(), Vec::new());
        for (kept, from) in ways {
            let mut stopped = Vec::new();
            let mut in_the_air = Vec::new();
            written_grips(self.reach, &kept, &struck, |grip| {
                let hand = HandAt::holding(self.reach, &grip);
                let any = if hand.position().is_some() { &mut stopped } else { &mut in_the_air };
                any.push((grip, hand));
            });
            let mut by_position: BTreeMap<Option<Fret>, Vec<u32>> = BTreeMap::new();
            for &index in &from {
                by_position.entry(before[index as usize].hand.position()).or_default().push(index);
            }
            for (position, from) in by_position.into_iter().filter(|_| !in_the_air.is_empty()) {
                let there = in_the_air.iter().map(|(grip, hand)| (*grip, hand.coming_from(position)));
                groups.push(self.group(from, there, onset, &mut nodes));
            }
            if !stopped.is_empty() {
                groups.push(self.group(from, stopped.into_iter(), onset, &mut nodes));
            }
        }
        (nodes, groups)
    }

    fn group(
        &mut self,
        from: Vec<u32>,
        hands: impl Iterator<Item = (Grip, HandAt)>,
        onset: usize,
        nodes: &mut Vec<Node>,
    ) -> Group {
        let first = nodes.len() as u32;
        for (holds, hand) in hands {
            let wrong = wrong(self.reach, &self.piece.onsets[onset], &holds);
            nodes.push(Node { grip: self.strain(onset, &holds), hand, holds, wrong, stops: 0 });
        }
        Group { from, nodes: (first..nodes.len() as u32).collect() }
    }

    /// The number of a grip at an onset.
    fn strain(&mut self, onset: usize, grip: &Grip) -> u32 {
        let Self { known, strains, reach, shapes, .. } = self;
        let shape = shapes.entry(onset, grip);
        *known.entry((*grip, shape)).or_insert_with(|| {
            let mut counts: Vec<(u16, i16)> =
                shape.iter().map(|entry| (Table::Shape.slot(*entry) as u16, 1)).collect();
            each_strain(reach, grip, |table, entry, count| {
                counts.push((table.slot(entry) as u16, count as i16));
            });
            strains.push(counts);
            strains.len() as u32 - 1
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_far_from_all_marks_teaches_nothing() {
        let onset = |index: usize| Onset {
            bar: 1,
            beat: None,
            milliseconds: 500,
            struck: vec![WrittenNote {
                mark: [2, 40].contains(&index).then_some(Mark::Open),
                ..WrittenNote::plain(Pitch::new(64))
            }],
            sounding_on: Vec::new(),
        };
        let piece = Piece {
            name: "Nobody_made-up".to_owned(),
            instrument: handspan_core::neck::Instrument::classical(),
            onsets: (0..60).map(onset).collect(),
        };
        let lattice = Lattice::new(&piece, &super::super::teach::by_hand()).around_marks();
        let onsets = |passage: &Vec<Layer>| (passage[0].onset, passage.last().map(|layer| layer.onset));
        let passages: Vec<_> = lattice.passages.iter().map(onsets).collect();
        assert_eq!(passages, [(0, Some(2 + AROUND)), (40 - AROUND, Some(40 + AROUND))]);
        assert_eq!((lattice.marks(), lattice.composer.as_str()), (2, "Nobody"));
    }
}
