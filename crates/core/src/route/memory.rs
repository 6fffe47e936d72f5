//! What a finder remembers: tunes say the same thing again and again, and a changed lock changes little.
//!
//! What follows a layer depends on its states and on how much more they cost than the cheapest, not on what came before.
//! So a layer counts from its cheapest state, and where the same layer comes up under the same demand, in a part that
//! returns or in a search after an edit, what follows is known already. An edit makes some layers differ; as soon as all
//! ways have one state in common again, the layers are those of before, and so is everything after them. Nothing is
//! taken on trust: layers are the same when every state, with its cost, is.

use std::collections::BTreeMap;

use super::layer::{Key, State, cheapest_of};
use super::weighing::Weighing;
use crate::demand::{Demand, MelodyDemand};
use crate::time::Ticks;

/// How many states are kept before those are forgotten that the last search did not come by: some 40 MB of them.
const MOST_STATES: usize = 1 << 20;

/// The number of a layer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct LayerId(u32);

/// One step of a pass: from a layer to what follows it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    before: LayerId,
    /// Which of all that follows.
    number: u32,
    pub(super) to: LayerId,
    /// What the cheapest state costs more than the cheapest before.
    more: i64,
}

/// The layers that searches came by, each once.
#[derive(Debug)]
pub(super) struct Memory {
    layers: Vec<Layer>,
    /// The layers by their [`print`].
    by_print: BTreeMap<u64, Vec<LayerId>>,
    /// How many searches there were.
    searches: u32,
}

#[derive(Debug)]
struct Layer {
    /// The costs counted from the cheapest. Where the states come from is said by what leads here.
    states: Vec<State>,
    follows: Vec<Follows>,
    /// The last search that came by.
    search: u32,
}

/// What follows a layer under a demand.
#[derive(Debug)]
struct Follows {
    weighing: Weighing,
    demand: Demand,
    /// How much time the stroke has that comes next, if one does.
    stroke: Option<i64>,
    to: LayerId,
    more: i64,
    /// For every state where it comes from.
    from: Vec<u32>,
}

impl Memory {
    /// The layer before the first moment.
    pub(super) const BEGINNING: LayerId = LayerId(0);

    /// The beginning alone.
    pub(super) fn new() -> Self {
        let mut memory = Self { layers: Vec::new(), by_print: BTreeMap::new(), searches: 0 };
        memory.enter(vec![State::at(Key::NOTHING)]);
        memory
    }

    /// A search begins: where much is kept, what the last one did not come by is forgotten.
    pub(super) fn begin_search(&mut self) {
        if self.layers.iter().map(|layer| layer.states.len()).sum::<usize>() > MOST_STATES {
            self.forget();
        }
        self.searches += 1;
    }

    /// The states of a layer, in the order of their keys.
    pub(super) fn states(&self, layer: LayerId) -> &[State] {
        &self.layers[layer.0 as usize].states
    }

    /// What follows a layer under a demand, as far as it is known.
    pub(super) fn recall(
        &mut self,
        before: LayerId,
        weighing: Weighing,
        (demand, stroke): (&Demand, Option<i64>),
    ) -> Option<Link> {
        let follows = &self.layers[before.0 as usize].follows;
        let is_same =
            |known: &Follows| known.weighing == weighing && known.demand == *demand && known.stroke == stroke;
        let number = follows.iter().position(is_same)?;
        let Follows { to, more, .. } = follows[number];
        self.layers[to.0 as usize].search = self.searches;
        Some(Link { before, number: number as u32, to, more })
    }

    /// Keeps the states that follow a layer under a demand.
    pub(super) fn keep(
        &mut self,
        before: LayerId,
        weighing: Weighing,
        (demand, stroke): (&Demand, Option<i64>),
        mut states: Vec<State>,
    ) -> Link {
        let more = weighing.apart(states.iter().map(|state| state.cost).min().unwrap_or(0));
        let from = states.iter().map(|state| state.from).collect();
        for state in &mut states {
            *state = State { cost: state.cost - more, from: 0, ..*state };
        }
        let to = self.enter(states);
        let follows = &mut self.layers[before.0 as usize].follows;
        follows.push(Follows { weighing, demand: *demand, stroke, to, more, from });
        Link { before, number: follows.len() as u32 - 1, to, more }
    }

    /// What the cheapest way to the end of a pass costs.
    pub(super) fn cost(&self, pass: &[Link]) -> i64 {
        let last = pass.last().map_or(Self::BEGINNING, |link| link.to);
        let end = cheapest_of(self.states(last)).map_or(0, |state| state.cost);
        pass.iter().map(|link| link.more).sum::<i64>() + end
    }

    /// The keys of the cheapest way through a pass, the beginning first.
    pub(super) fn trace(&self, pass: &[Link]) -> Vec<Key> {
        let last = self.states(pass.last().map_or(Self::BEGINNING, |link| link.to));
        let end = cheapest_of(last).and_then(|end| last.iter().position(|state| state.key == end.key));
        let mut index = end.unwrap_or(0);
        let mut keys: Vec<Key> = Vec::with_capacity(pass.len() + 1);
        for link in pass.iter().rev() {
            keys.push(self.states(link.to)[index].key);
            let follows = &self.layers[link.before.0 as usize].follows[link.number as usize];
            index = follows.from[index] as usize;
        }
        keys.push(Key::NOTHING);
        keys.reverse();
        keys
    }

    /// The layer of these states, a new one where there was none.
    fn enter(&mut self, states: Vec<State>) -> LayerId {
        let same = self.by_print.entry(print(&states)).or_default();
        if let Some(known) = same.iter().find(|known| self.layers[known.0 as usize].states == states) {
            self.layers[known.0 as usize].search = self.searches;
            return *known;
        }
        let new = LayerId(self.layers.len() as u32);
        same.push(new);
        self.layers.push(Layer { states, follows: Vec::new(), search: self.searches });
        new
    }

    /// Keeps the beginning and what the last search came by, under new numbers.
    fn forget(&mut self) {
        let last = self.searches;
        let mut numbers: Vec<Option<LayerId>> = Vec::with_capacity(self.layers.len());
        let mut kept = 0;
        for (index, layer) in self.layers.iter().enumerate() {
            let stays = index == 0 || layer.search == last;
            numbers.push(stays.then_some(LayerId(kept)));
            kept += u32::from(stays);
        }
        let number = |layer: LayerId| numbers[layer.0 as usize];
        let mut stays = numbers.iter().map(Option::is_some);
        self.layers.retain(|_| stays.next() == Some(true));
        for layer in &mut self.layers {
            layer.follows.retain(|follows| number(follows.to).is_some());
            for follows in &mut layer.follows {
                follows.to = number(follows.to).expect("what follows something forgotten was left out");
            }
        }
        self.by_print.clear();
        for (layer, id) in self.layers.iter().zip(0..) {
            self.by_print.entry(print(&layer.states)).or_default().push(LayerId(id));
        }
    }
}

/// A number that tells most layers apart (multiplicative hashing: Knuth, The Art of Computer Programming 3, 6.4; from
/// memory).
fn print(states: &[State]) -> u64 {
    states.iter().fold(states.len() as u64, |print, state| {
        let packed = state.key.packed();
        let mixed = print ^ (packed as u64) ^ (packed >> 59) as u64 ^ (state.cost as u64).rotate_left(40);
        mixed.wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(29)
    })
}

/// What of a demand the search looks at: neither when it comes nor which note of the tune it is.
pub(super) fn bare(demand: &Demand) -> Demand {
    let melody = match demand.melody {
        MelodyDemand::Begins { pitch, .. } => MelodyDemand::Begins { note: 0, pitch },
        other => other,
    };
    let lines = demand.lines.ending_at(Ticks::ZERO);
    Demand { at: Ticks::ZERO, length: Ticks::ZERO, rings_until: demand.rings_on(), melody, lines, ..*demand }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demand::LineDemands;
    use crate::plan::Lock;

    fn rest(milliseconds: i64) -> Demand {
        let (at, length) = (Ticks::ZERO, Ticks::ZERO);
        let lock = Lock::default();
        Demand {
            at,
            length,
            milliseconds,
            melody: MelodyDemand::Rest,
            lines: LineDemands::SILENT,
            accompaniment: None,
            rings_until: at,
            lock,
        }
    }

    #[test]
    fn layers_are_the_same_whatever_came_before() {
        let mut memory = Memory::new();
        let state = |cost| vec![State { cost, ..State::at(Key::NOTHING) }];
        memory.begin_search();
        let one = memory.keep(Memory::BEGINNING, Weighing::TOTAL, (&rest(1), None), state(30));
        let two = memory.keep(one.to, Weighing::TOTAL, (&rest(2), None), state(-4));
        assert_eq!((one.to, two.to), (Memory::BEGINNING, Memory::BEGINNING), "one state, whatever it costs");
        assert_eq!(memory.cost(&[one, two]), 26);
        let hardest = memory.keep(Memory::BEGINNING, Weighing::HardestMove, (&rest(1), None), state(30));
        assert_ne!(hardest.to, Memory::BEGINNING, "the hardest move so far is not forgotten");
        assert_eq!(memory.cost(&[hardest]), 30);
    }

    #[test]
    fn what_the_last_search_did_not_come_by_can_be_forgotten() {
        let mut memory = Memory::new();
        let state = |cost| vec![State { cost, ..State::at(Key::NOTHING) }];
        memory.begin_search();
        let early = memory.keep(Memory::BEGINNING, Weighing::HardestMove, (&rest(1), None), state(1));
        let late = memory.keep(Memory::BEGINNING, Weighing::HardestMove, (&rest(2), None), state(2));
        memory.begin_search();
        memory.recall(Memory::BEGINNING, Weighing::HardestMove, (&rest(2), None)).unwrap();
        memory.forget();
        assert_eq!(
            memory.recall(Memory::BEGINNING, Weighing::HardestMove, (&rest(1), None)).map(|l| l.to),
            None
        );
        let kept = memory.recall(Memory::BEGINNING, Weighing::HardestMove, (&rest(2), None)).unwrap();
        assert_eq!((kept.to, memory.states(kept.to)[0].cost), (early.to, 2), "moved up to the free number");
        assert_ne!(late.to, kept.to);
    }
}
