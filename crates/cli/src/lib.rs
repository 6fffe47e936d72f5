//! The headless commands.
