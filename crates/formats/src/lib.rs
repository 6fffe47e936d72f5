//! Files in and out.
