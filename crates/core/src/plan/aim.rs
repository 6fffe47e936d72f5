//! What the search makes smallest.

/// Which of two ways to be easiest is meant.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Aim {
    /// The least effort of all grips and moves together.
    #[default]
    LeastTotal,
    /// The gentlest hardest move, and among all routes whose hardest move is no harder the least effort together
    /// (minimax: Hori and Sagayama 2016 found it closer to what beginners play of their own accord).
    Gentlest,
}
