//! Fits the conditional logit by gradient steps over all places at once.

use handspan_core::grip::Taste;
use handspan_core::grip::sonority::CASES;

use super::places::Place;

/// Steps of the fit; the figures no longer change in the first place long before.
const STEPS: usize = 600;
/// How far a first step goes.
const RATE: f64 = 0.1;
/// What a weight of one costs, so that a case that hardly ever occurs stays near nothing.
const RIDGE: f64 = 1.0;

/// Effort first, then the cases.
type Slopes = [f64; CASES + 1];

/// The taste under which the published voicings are the likeliest, in points of effort.
pub(super) fn fit(places: &[&Place]) -> Taste {
    let mut weights = [0.0; CASES + 1];
    weights[0] = 0.1;
    let mut squares = [1e-9; CASES + 1];
    for _ in 0..STEPS {
        let slopes = slopes(places, &weights);
        for ((weight, square), slope) in weights.iter_mut().zip(&mut squares).zip(slopes) {
            let slope = slope - RIDGE * *weight;
            *square += slope * slope;
            *weight += RATE * slope / square.sqrt();
        }
        // Ease always counts for something.
        weights[0] = weights[0].max(0.01);
    }
    let mut points = [0; CASES];
    for (points, weight) in points.iter_mut().zip(&weights[1..]) {
        *points = (weight / weights[0]).round() as i32;
    }
    Taste::new(points)
}

/// How the likelihood of the published voicings grows with each weight.
fn slopes(places: &[&Place], weights: &Slopes) -> Slopes {
    let mut slopes = [0.0; CASES + 1];
    for place in places {
        let costs: Vec<f64> =
            place.options.iter().map(|option| cost(weights, option.effort, &option.cases)).collect();
        let least = costs.iter().copied().fold(f64::INFINITY, f64::min);
        let odds: Vec<f64> = costs.iter().map(|cost| libm::exp(least - cost)).collect();
        let all: f64 = odds.iter().sum();
        let printed = place.options.iter().zip(&odds).filter(|(option, _)| option.is_published);
        let published: f64 = printed.map(|(_, odds)| odds).sum();
        for (option, odds) in place.options.iter().zip(&odds) {
            let wanted = if option.is_published { odds / published } else { 0.0 };
            let surplus = odds / all - wanted;
            slopes[0] += surplus * f64::from(option.effort);
            for (slope, count) in slopes[1..].iter_mut().zip(option.cases) {
                *slope += surplus * f64::from(count);
            }
        }
    }
    slopes
}

fn cost(weights: &Slopes, effort: i32, cases: &[i32; CASES]) -> f64 {
    let sonority: f64 =
        weights[1..].iter().zip(cases).map(|(weight, count)| weight * f64::from(*count)).sum();
    weights[0] * f64::from(effort) + sonority
}
