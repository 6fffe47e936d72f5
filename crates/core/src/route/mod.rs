//! The way through: one grip for every moment.
