//! What different routes cost at the least: a price on every grip of an earlier route.
//!
//! Whoever has at most so many grips in common with an earlier route pays at most so many times its price. So the
//! cheapest way with prices, less the most that a different route pays, is a bound from below, whatever the prices
//! are. The prices climb to where the bound is highest, by subgradients with Polyak's step; different routes turn up
//! on the way, and the cheapest of them is a bound from above. With two bounds that meet nothing more is to be done.

use super::Way;
use super::graph::{Graph, Step};
use super::limits::{Common, Limits};

/// Prices are counted in this part of a point.
const PART: i64 = 64;
/// The prices to set out from.
const FIRST: i64 = PART;
/// A price at which no different route was found is not raised any more.
const PROHIBITIVE: i64 = PART << 32;
/// How often the prices are changed.
const ROUNDS: usize = 40;
/// How many rounds without a higher bound halve the step.
const PATIENCE: usize = 3;

/// Prices, and what they say of every node.
pub(super) struct Bound {
    /// The price of a grip of each earlier route, in parts.
    each: Vec<i64>,
    /// What the cheapest rest from every node costs with its prices, in parts.
    rest: Vec<Vec<i64>>,
    /// The most that a different route pays, in parts.
    most_paid: i64,
    /// No different route costs less, in points.
    pub(super) least: i64,
}

impl Bound {
    /// What a way costs at the least, in points, that came to a node at so much and with so much in common.
    pub(super) fn judged(&self, depth: usize, node: u32, cost: i64, common: &Common) -> i64 {
        let paid: i64 = self.each.iter().zip(common).map(|(price, common)| price * i64::from(*common)).sum();
        points(cost * PART + paid + self.rest[depth][node as usize] - self.most_paid)
    }
}

/// Whole points, rounded up: what costs a part more costs at least a point more.
const fn points(parts: i64) -> i64 {
    -(-parts).div_euclid(PART)
}

/// What the climb led to.
pub(super) struct Ascent {
    /// The highest bound.
    pub(super) bound: Bound,
    /// The cheapest way found that keeps the limits.
    pub(super) cheapest: Option<Way>,
}

/// Climbs to a high bound.
pub(super) fn ascend(graph: &Graph, limits: &Limits) -> Ascent {
    let mut each = vec![FIRST; limits.earlier];
    let (bound, mut path) = priced(graph, limits, each.clone());
    let mut ascent = Ascent { bound, cheapest: path.kept(graph, limits) };
    let (mut least, mut halved, mut in_vain) = (ascent.bound.least, 0, 0);
    for _ in 0..ROUNDS {
        let met = ascent.cheapest.as_ref().is_some_and(|way| way.cost <= ascent.bound.least);
        let next = climb(&each, &path.common, limits, least, ascent.cheapest.as_ref(), halved);
        if met || next == each || next.iter().any(|price| *price > PROHIBITIVE) {
            break;
        }
        each = next;
        let (bound, found) = priced(graph, limits, each.clone());
        (least, path) = (bound.least, found);
        in_vain = if least > ascent.bound.least { 0 } else { in_vain + 1 };
        if in_vain == PATIENCE {
            (halved, in_vain) = (halved + 1, 0);
        }
        ascent.take(bound, path.kept(graph, limits));
    }
    ascent
}

impl Ascent {
    /// Keeps what is better than what is known.
    fn take(&mut self, bound: Bound, kept: Option<Way>) {
        if bound.least > self.bound.least {
            self.bound = bound;
        }
        if let Some(kept) = kept
            && self.cheapest.as_ref().is_none_or(|cheapest| kept.cost < cheapest.cost)
        {
            self.cheapest = Some(kept);
        }
    }
}

/// The cheapest way with some prices.
struct Path {
    nodes: Vec<u32>,
    /// Its cost without prices.
    cost: i64,
    common: Common,
}

impl Path {
    /// The way, if it keeps the limits.
    fn kept(&self, graph: &Graph, limits: &Limits) -> Option<Way> {
        limits.are_kept_by(&self.common).then(|| graph.way(&self.nodes, self.cost))
    }
}

/// The bound that some prices give, and the cheapest way with them.
fn priced(graph: &Graph, limits: &Limits, each: Vec<i64>) -> (Bound, Path) {
    let layers = graph.layers();
    // The sum of the prices of every set of earlier routes.
    let sums: Vec<i64> = (0..1_usize << limits.earlier)
        .map(|set| {
            each.iter().enumerate().filter(|(index, _)| set >> index & 1 == 1).map(|(_, price)| price).sum()
        })
        .collect();
    let mut rest: Vec<Vec<i64>> = vec![Vec::new(); layers.len()];
    for (depth, layer) in layers.iter().enumerate().rev() {
        rest[depth] = (0..layer.keys.len())
            .map(|node| {
                layer.steps(node).iter().map(|step| through(*step, &rest, limits, &sums, depth)).min()
            })
            .map(|least| least.unwrap_or(0))
            .collect();
    }
    let mut path = Path { nodes: vec![0], cost: 0, common: Common::default() };
    for (depth, layer) in layers.iter().enumerate() {
        let steps = layer.steps(path.nodes[depth] as usize).iter();
        let Some(step) = steps.min_by_key(|step| through(**step, &rest, limits, &sums, depth)) else { break };
        path.nodes.push(step.to);
        path.cost += step.cost();
        path.common = limits.counted(path.common, depth + 1, step.to);
    }
    let most_paid = each.iter().sum::<i64>() * i64::from(limits.in_common);
    let least = points(rest[0][0] - most_paid);
    (Bound { each, rest, most_paid, least }, path)
}

/// What the cheapest way costs that begins with a step, with prices, in parts.
fn through(step: Step, rest: &[Vec<i64>], limits: &Limits, sums: &[i64], depth: usize) -> i64 {
    let price = sums[usize::from(limits.same(depth + 1, step.to))];
    step.cost() * PART + price + rest[depth + 1][step.to as usize]
}

/// The next prices: higher where too much is in common, lower where less than is allowed.
fn climb(
    each: &[i64],
    common: &Common,
    limits: &Limits,
    least: i64,
    cheapest: Option<&Way>,
    halved: u32,
) -> Vec<i64> {
    let slopes: Vec<i64> =
        common[..each.len()].iter().map(|common| i64::from(*common) - i64::from(limits.in_common)).collect();
    let Some(cheapest) = cheapest else {
        let raised =
            each.iter().zip(&slopes).map(|(price, slope)| if *slope > 0 { 2 * price } else { *price });
        return raised.collect();
    };
    let steepness = slopes.iter().map(|slope| slope * slope).sum::<i64>().max(1);
    let gap = ((cheapest.cost - least) * PART) >> halved;
    let moved = |(price, slope): (&i64, &i64)| (price + gap * slope / steepness).max(0);
    each.iter().zip(&slopes).map(moved).collect()
}
