//! The places of the window. Each panel is a pair: `model`, plain data made from the session, and `ui`, which draws it
//! and queues commands.

pub mod cached;
pub mod chord_box;
pub mod grip;
pub mod guitar;
pub mod hands;
pub mod keys;
pub mod lies;
pub mod neck;
pub mod own_grip;
pub mod preferences;
pub mod rail;
pub mod ribbon;
pub mod route;
pub mod search;
pub mod sheet;
pub mod status;
pub mod terms;
pub mod tune;
pub mod voicings;
pub mod widgets;

use eframe::egui::Context;

use crate::command::Command;
use crate::preferences::Preferences;
use crate::theme::{Palette, Sizes, Theme};

/// Wishes in the order in which they came up while drawing.
pub type Queue = Vec<Command>;

/// Colours and sizes for drawing one frame.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Colours.
    pub palette: Palette,
    /// Sizes.
    pub sizes: Sizes,
    /// Whether nothing glides.
    pub still: bool,
}

impl Look {
    /// What the theme says for the present surroundings.
    pub fn of(theme: &Theme, preferences: &Preferences, ctx: &Context) -> Self {
        Self { palette: theme.palette(ctx), sizes: theme.sizes, still: preferences.less_motion }
    }
}
