//! Is it true and playable: judges any score from first principles.
//!
//! Shares no code with [`crate::grip`]'s enumeration and [`crate::route`]: it knows the tables of [`crate::neck`] and
//! [`crate::hand`], and works the rest out again.
