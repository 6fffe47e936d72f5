//! What the tests of the route share: chance, random cases, and the rules of a route stated a second time.

pub(crate) mod cases;
pub(crate) mod dice;
pub(crate) mod exhaustive;
pub(crate) mod locks;
pub(crate) mod rules;
