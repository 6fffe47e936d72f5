//! The places where a voicing was chosen: what was printed, and all that could have been.

use handspan_core::grip::sonority::{CASES, each_case};
use handspan_core::grip::{Order, Previous, Reach, SoundTerm, Taste, ranked};
use handspan_core::hand::Hand;
use handspan_core::pitch::Pitch;

use crate::fault::Fault;
use crate::repertoire::piece::Piece;
use crate::repertoire::voicing::{VOICING, unmarked_route, wish};

/// A voicing that could have been printed.
pub(super) struct Choice {
    /// What it costs to hold and to get there.
    pub(super) effort: i32,
    /// How often it shows every case.
    pub(super) cases: [i32; CASES],
    /// Whether it sounds the published pitches.
    pub(super) is_published: bool,
}

/// A place with everything that could have been printed there, the easiest first.
pub(super) struct Place {
    pub(super) options: Vec<Choice>,
}

impl Place {
    /// The rank, from 1 on, of the first voicing with the published pitches. Ties go to the easier voicing.
    pub(super) fn rank(&self, taste: &Taste) -> usize {
        let mut costs: Vec<(i32, usize)> =
            self.options.iter().enumerate().map(|(i, o)| (o.effort + o.sonority(taste), i)).collect();
        costs.sort_unstable();
        1 + costs.iter().position(|(_, index)| self.options[*index].is_published).unwrap_or(costs.len())
    }
}

impl Choice {
    fn sonority(&self, taste: &Taste) -> i32 {
        let terms =
            SoundTerm::ALL.into_iter().flat_map(|term| (0..term.cases()).map(move |case| (term, case)));
        terms.zip(self.cases).map(|((term, case), count)| count * taste.points(term, case)).sum()
    }
}

/// The places of a piece where the published voicing can be held.
pub(super) fn places(piece: &Piece) -> Result<Vec<Place>, Fault> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let route = unmarked_route(&reach, piece)?;
    let mut places = Vec::new();
    for (index, onset) in piece.onsets.iter().enumerate().filter(|(_, onset)| onset.struck.len() >= VOICING) {
        let published: Vec<Pitch> = onset.struck.iter().map(|note| note.pitch).collect();
        let previous = route.before(index).map(|step| Previous::at_usual_pace(step.grip));
        let place = place(&reach, &published, previous);
        places.extend(place.filter(|place| place.options.iter().any(|option| option.is_published)));
    }
    Ok(places)
}

fn place(reach: &Reach, published: &[Pitch], previous: Option<Previous>) -> Option<Place> {
    let wish = wish(published)?;
    let list = ranked(reach.instrument(), reach.hand(), &wish, previous, Order::Easiest);
    let options = list.iter().map(|ranked| {
        let voicing = ranked.grip.voicing();
        let mut cases = [0; CASES];
        each_case(reach.instrument(), wish.tones, &voicing, |term, case, count| {
            let first: usize = SoundTerm::ALL.iter().take_while(|t| **t < term).map(|t| t.cases()).sum();
            cases[first + case] += count;
        });
        let mut pitches: Vec<Pitch> = voicing.pitches(reach.instrument()).collect();
        pitches.sort_unstable();
        Choice { effort: ranked.total().points(), cases, is_published: pitches == published }
    });
    Some(Place { options: options.collect() })
}
