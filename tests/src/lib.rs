//! End-to-end tests of Handspan.
