//! Which pieces are learned from when which are measured.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::pitch::Pitch;

use crate::repertoire::piece::Piece;

/// So many onsets in a row are compared.
const RUN: usize = 6;
/// Pieces that share this part of their runs, in percent of the shorter one, are one piece printed twice.
const ALIKE: usize = 30;

/// The composer's part of a piece's name.
pub(super) fn composer(piece: &Piece) -> &str {
    piece.name.split('_').next().unwrap_or_default()
}

/// Pieces that are nearly the same as an earlier one: their numbers.
///
/// Two pieces are alike when three in ten of the runs of six onsets of the shorter one, each onset by what is struck,
/// stand in the other as well, in any key.
pub(super) fn near_duplicates(pieces: &[Piece]) -> Vec<usize> {
    let runs: Vec<BTreeSet<Vec<u8>>> = pieces.iter().map(runs).collect();
    let is_alike = |later: usize| {
        (0..later).any(|earlier| {
            let shorter = runs[earlier].len().min(runs[later].len());
            let shared = runs[earlier].intersection(&runs[later]).count();
            shorter > 0 && shared * 100 >= shorter * ALIKE
        })
    };
    (0..pieces.len()).filter(|later| is_alike(*later)).collect()
}

/// Every run of onsets, as steps from its first pitch.
fn runs(piece: &Piece) -> BTreeSet<Vec<u8>> {
    let written = |onsets: &[crate::repertoire::piece::Onset]| {
        let first = onsets.first().and_then(|onset| onset.struck.first()).map_or(0, |note| note.pitch.midi());
        let mut run = Vec::new();
        for onset in onsets {
            let from_first = |pitch: Pitch| pitch.midi().wrapping_sub(first);
            run.extend(onset.struck.iter().map(|note| from_first(note.pitch)));
            run.push(128);
        }
        run
    };
    piece.onsets.windows(RUN).map(written).collect()
}

/// Pieces in folds that hold no composer of another fold: the composers with the most pieces first, each into the
/// smallest fold.
pub(super) fn by_composer(pieces: &[Piece], folds: usize) -> Vec<Vec<usize>> {
    let mut composers: BTreeMap<&str, (usize, Vec<usize>)> = BTreeMap::new();
    for (number, piece) in pieces.iter().enumerate() {
        let entry = composers.entry(composer(piece)).or_default();
        entry.0 += piece.marks();
        entry.1.push(number);
    }
    let mut composers: Vec<(usize, Vec<usize>)> = composers.into_values().collect();
    composers.sort_by_key(|(weight, _)| std::cmp::Reverse(*weight));
    let mut all = vec![(0, Vec::new()); folds];
    for (weight, numbers) in composers {
        if let Some(smallest) = all.iter_mut().min_by_key(|(weight, _)| *weight) {
            smallest.0 += weight;
            smallest.1.extend(numbers);
        }
    }
    all.into_iter().map(|(_, fold)| fold).collect()
}

/// Pieces in folds by turns: every fold holds works of every composer.
pub(super) fn by_work(pieces: usize, folds: usize) -> Vec<Vec<usize>> {
    (0..folds).map(|fold| (fold..pieces).step_by(folds).collect()).collect()
}
