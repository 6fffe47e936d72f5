//! Places where a printed finger and the program differ, to be judged as a player would.
//!
//! Beside the program's route stands the easiest one that keeps the printed finger, and what it costs more.

use handspan_core::demand::{Mark, WrittenNote};
use handspan_core::grip::{Effort, Grip, Reach};
use handspan_core::hand::Hand;

use super::agreement::plays;
use super::piece::Piece;
use super::route::{PieceRoute, has_grip};
use crate::fault::Fault;

/// A printed finger that the program does not have.
#[derive(Clone, Copy)]
struct Place {
    onset: usize,
    note: WrittenNote,
}

/// Some lines for each of so many places, spread evenly over the pieces and within each.
pub(super) fn differences(measured: &[(Piece, PieceRoute)], count: usize) -> Result<Vec<String>, Fault> {
    let places: Vec<Vec<Place>> = measured.iter().map(|(piece, route)| places(piece, route)).collect();
    let shares = shares(&places.iter().map(Vec::len).collect::<Vec<_>>(), count);
    let mut lines = Vec::new();
    for (((piece, route), places), share) in measured.iter().zip(&places).zip(shares) {
        for place in evenly(places.len(), share).map(|index| places[index]) {
            lines.extend(told(piece, route, place)?);
        }
    }
    Ok(lines)
}

/// How many places each piece shows of those that it has: as alike as can be, and where not every piece has its turn,
/// those far apart.
fn shares(of: &[usize], count: usize) -> Vec<usize> {
    let mut shares = vec![0; of.len()];
    let mut left = count.min(of.iter().sum());
    while left > 0 {
        let more: Vec<usize> = (0..of.len()).filter(|piece| shares[*piece] < of[*piece]).collect();
        let turn = left.min(more.len());
        for index in evenly(more.len(), turn) {
            shares[more[index]] += 1;
        }
        left -= turn;
    }
    shares
}

/// So many of the numbers below `of`, at even distances.
fn evenly(of: usize, count: usize) -> impl Iterator<Item = usize> {
    (0..count).map(move |number| (2 * number + 1) * of / (2 * count))
}

/// The printed fingers of a piece that its route does not have.
fn places(piece: &Piece, route: &PieceRoute) -> Vec<Place> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let mut places = Vec::new();
    for (onset, (struck, step)) in piece.onsets.iter().zip(&route.steps).enumerate() {
        let fingers = struck.struck.iter().filter(|note| matches!(note.mark, Some(Mark::Stopped(_))));
        let plain = fingers.map(|note| WrittenNote { string: None, ..*note });
        places.extend(plain.filter(|note| !plays(&reach, step, *note)).map(|note| Place { onset, note }));
    }
    places
}

/// What is printed, the program's route, and the one that keeps the print.
fn told(piece: &Piece, route: &PieceRoute, place: Place) -> Result<Vec<String>, Fault> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let onset = &piece.onsets[place.onset];
    let names: Vec<String> = onset.sounding().iter().map(|note| note.pitch.to_string()).collect();
    let Some(Mark::Stopped(finger)) = place.note.mark else { return Ok(Vec::new()) };
    let beat = onset.beat.map_or_else(String::new, |beat| format!(", {beat} after the bar line"));
    let mut lines = vec![format!(
        "{}, bar {}{beat}: {}, printed {} on {}",
        piece.name,
        onset.bar,
        names.join(" "),
        finger.number(),
        place.note.pitch
    )];
    let mut notes: Vec<Vec<WrittenNote>> = piece.onsets.iter().map(super::piece::Onset::plain).collect();
    let mut around = |name: &str, route: &PieceRoute, more: &str| {
        let grips: Vec<String> = (place.onset.saturating_sub(2)..=place.onset + 2)
            .filter_map(|index| route.steps.get(index))
            .map(|step| written(&step.grip))
            .collect();
        lines.push(format!("  {name}: {}{more}", grips.join("  ")));
    };
    around("program", route, "");
    for note in notes[place.onset].iter_mut().filter(|note| note.pitch == place.note.pitch) {
        note.mark = place.note.mark;
    }
    let sounding_on = onset.sounding_on.iter().map(|pitch| WrittenNote::plain(*pitch));
    let sounding: Vec<WrittenNote> = notes[place.onset].iter().copied().chain(sounding_on).collect();
    if !has_grip(&reach, &sounding) {
        lines.push("  print: no hand holds these notes so".to_owned());
        return Ok(lines);
    }
    let kept = PieceRoute::find(&reach, piece, &notes)?;
    let more = (effort(&kept) - effort(route)).points();
    let cuts = if kept.cuts(&reach) == route.cuts(&reach) { "" } else { ", and something else is let go" };
    around("print", &kept, &format!("  ({more} more{cuts})"));
    Ok(lines)
}

/// The effort of everything.
fn effort(route: &PieceRoute) -> Effort {
    route.steps.iter().map(|step| step.effort.total() + step.moved.total()).sum()
}

/// Lowest string first, a finger after its fret.
fn written(grip: &Grip) -> String {
    format!("{grip:?}").trim_start_matches("Grip").replace(['(', ')'], "").trim().replace(' ', "-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_spread_over_pieces_and_never_more_than_there_are() {
        assert_eq!(shares(&[5, 0, 1, 9], 6), [2, 0, 1, 3]);
        assert_eq!(shares(&[1, 2], 9), [1, 2]);
        assert_eq!(shares(&[4, 4, 4, 4], 2), [0, 1, 0, 1]);
        assert_eq!(evenly(9, 3).collect::<Vec<_>>(), [1, 4, 7]);
    }
}
