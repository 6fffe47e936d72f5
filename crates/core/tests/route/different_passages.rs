//! Whole arrangements of one passage that are really different, and what tells them apart.

use handspan_core::arrangement::{Arrangement, arrange, arrange_passage, different_routes};
use handspan_core::grip::{Effort, Grip};
use handspan_core::route::different::in_common;
use handspan_core::time::Ticks;
use handspan_core::watch::Unwatched;

use crate::dice::Dice;
use crate::passages::{cost, struck_outside, tied_strings, work};
use crate::patience::Patience;

fn grips(arrangement: &Arrangement, from: Ticks, to: Ticks) -> Vec<Grip> {
    let inside = arrangement.moments.iter().filter(|moment| moment.at >= from && moment.at < to);
    inside.map(|moment| moment.grip).collect()
}

#[test]
fn routes_of_a_passage_differ_inside_of_it_alone() {
    let mut dice = Dice::new(8);
    let (mut compared, mut several) = (0, 0);
    for number in 0..500 {
        let work = work(&mut dice);
        let Ok(current) = arrange(&work, &Patience::new(0)) else { continue };
        let end = work.tune.end().count();
        let (from, to) = (Ticks::new(dice.from(0, end / 2)), Ticks::new(dice.from(end / 2, end + 1)));
        let found = different_routes(&work, &current, Some(from..to), 3, &Unwatched);
        let found = found.expect("the route as it is is one");
        let best = arrange_passage(&work, &current, from, to, &Unwatched).expect("the route as it is is one");
        assert_eq!(cost(&work, &found[0]), cost(&work, &best), "case {number}: {work:?}");
        let most = in_common(grips(&best, from, to).len());
        for (index, route) in found.iter().enumerate() {
            assert_eq!(struck_outside(route, from, to), struck_outside(&current, from, to), "case {number}");
            assert!(tied_strings(route).windows(2).all(|pair| pair[0] == pair[1]), "case {number}: {work:?}");
            assert!(cost(&work, route) >= cost(&work, &best), "case {number}: {work:?}");
            for earlier in &found[..index] {
                let pairs = grips(route, from, to).into_iter().zip(grips(earlier, from, to));
                assert!(pairs.filter(|(a, b)| a == b).count() <= most, "case {number}: {work:?}");
            }
        }
        compared += 1;
        several += usize::from(found.len() > 1);
    }
    assert!(compared > 300 && several > 150, "several routes in {several} of {compared} cases");
}

#[test]
fn a_route_is_told_by_its_hardest_moves_open_strings_and_shifts() {
    let mut dice = Dice::new(9);
    let arrangements = (0..40).filter_map(|_| arrange(&work(&mut dice), &Unwatched).ok());
    let mut shifts = 0;
    for arrangement in arrangements {
        let hardest = arrangement.hardest_moves(2);
        let efforts: Vec<Effort> = arrangement.moments.iter().map(|moment| moment.moved.total()).collect();
        assert_eq!(hardest.len(), efforts.len().min(2));
        assert_eq!(efforts.iter().max(), hardest.first().map(|(_, moved)| moved.total()).as_ref());
        assert!(hardest.iter().all(|(index, moved)| efforts[*index] == moved.total()));
        assert!(hardest.is_sorted_by(|a, b| (b.1.total(), a.0) <= (a.1.total(), b.0)));
        let open = arrangement.score.notes.iter().filter(|note| note.place.fret.is_open()).count();
        assert_eq!(arrangement.open_strings(), open);
        assert!(arrangement.shifts() < arrangement.moments.len());
        shifts += arrangement.shifts();
    }
    assert!(shifts > 0, "no hand ever shifts");
}
