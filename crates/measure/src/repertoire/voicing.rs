//! Where the program ranks the voicings that were published.

use handspan_core::demand::WrittenNote;
use handspan_core::grip::{BassChoice, Order, Previous, Reach, Voicing, VoicingWish, ranked};
use handspan_core::harmony::ToneSet;
use handspan_core::pitch::Pitch;

use super::figures::Figures;
use super::piece::Piece;
use super::route::PieceRoute;
use crate::fault::Fault;

/// So many notes struck together are a voicing.
pub(crate) const VOICING: usize = 3;

/// Ranks the published voicing wherever three or more notes are struck together.
pub(super) fn rank_all(reach: &Reach, piece: &Piece, route: &PieceRoute, figures: &mut Figures) {
    for (index, onset) in piece.onsets.iter().enumerate().filter(|(_, onset)| onset.struck.len() >= VOICING) {
        let published: Vec<Pitch> = onset.struck.iter().map(|note| note.pitch).collect();
        let previous = route.before(index).map(|step| Previous::at_usual_pace(step.grip));
        figures.count_voicing(rank(reach, &published, previous));
    }
}

/// The rank, from 1 on, of the first voicing with exactly the published pitches, given from the lowest to the highest.
///
/// Its top is the melody, its bottom the bass, its pitch classes are the chord, its notes the number of notes. On
/// which strings it was played is rarely printed: any strings count.
fn rank(reach: &Reach, published: &[Pitch], previous: Option<Previous>) -> Option<usize> {
    let wish = wish(published)?;
    let sounding = |voicing: Voicing| {
        let mut pitches: Vec<Pitch> = voicing.pitches(reach.instrument()).collect();
        pitches.sort_unstable();
        pitches
    };
    let list = ranked(reach.instrument(), reach.hand(), &wish, previous, Order::BestSounding);
    list.iter().position(|ranked| sounding(ranked.grip.voicing()) == published).map(|index| index + 1)
}

/// Everything that could stand in the place of a published voicing, given from the lowest to the highest note.
pub(crate) fn wish(published: &[Pitch]) -> Option<VoicingWish> {
    let (bass, melody) = (published.first()?, published.last()?);
    Some(VoicingWish {
        bass: BassChoice::Exact(*bass),
        tones: published.iter().map(|pitch| pitch.class()).collect(),
        required: ToneSet::EMPTY,
        notes: published.len()..=published.len(),
        ..VoicingWish::melody_alone(*melody)
    })
}

/// The easiest route through a piece without any of its marks.
pub(crate) fn unmarked_route(reach: &Reach, piece: &Piece) -> Result<PieceRoute, Fault> {
    let unmarked: Vec<Vec<WrittenNote>> = piece.onsets.iter().map(super::piece::Onset::plain).collect();
    PieceRoute::find(reach, piece, &unmarked)
}
