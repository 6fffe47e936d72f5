//! Keeps the shape of the workspace true: who may depend on whom, which room uses which, and what lies where.

#![expect(clippy::unwrap_used, reason = "a test fails loudly")]

mod edges;
mod files;
mod floors;
mod guide;
mod source;
