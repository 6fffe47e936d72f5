//! Colours, sizes and fonts of the window, read from `assets/theme.ron` and `assets/fonts`.
//!
//! Everything that has a colour or a size takes it from here; nothing else in the program names one.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Shadow, Stroke,
    TextStyle, Visuals, style::WidgetVisuals,
};
use serde::{Deserialize, Deserializer};

/// The unit of spacing, in points; every distance is a multiple of it.
pub const STEP: f32 = 4.0;

/// How long fingers and lists glide, in seconds.
pub const GLIDE: f32 = 0.12;

/// The theme: sizes, and colours for light and for dark surroundings.
#[derive(Clone, Copy, Deserialize, Debug)]
pub struct Theme {
    /// Sizes, the same for both.
    pub sizes: Sizes,
    /// By day.
    pub light: Palette,
    /// By night.
    pub dark: Palette,
}

/// Sizes in points.
#[derive(Clone, Copy, Deserialize, Debug)]
pub struct Sizes {
    /// Running text.
    pub body: f32,
    /// What stands beside the matter.
    pub quiet: f32,
    /// The places on the rail.
    pub place: f32,
    /// Heads.
    pub head: f32,
    /// The current chord symbol.
    pub chord: f32,
    /// The one corner radius.
    pub radius: u8,
}

/// The colours of one surrounding.
#[derive(Clone, Copy, Deserialize, Debug)]
pub struct Palette {
    /// Behind the work.
    #[serde(deserialize_with = "colour")]
    pub ground: Color32,
    /// Behind bars and controls.
    #[serde(deserialize_with = "colour")]
    pub panel: Color32,
    /// Under what is pointed at or chosen.
    #[serde(deserialize_with = "colour")]
    pub lifted: Color32,
    /// Hairlines.
    #[serde(deserialize_with = "colour")]
    pub line: Color32,
    /// Text.
    #[serde(deserialize_with = "colour")]
    pub ink: Color32,
    /// Text beside the matter.
    #[serde(deserialize_with = "colour")]
    pub quiet: Color32,
    /// The neck.
    #[serde(deserialize_with = "colour")]
    pub wood: Color32,
    /// Fret wires.
    #[serde(deserialize_with = "colour")]
    pub wire: Color32,
    /// Strings.
    #[serde(deserialize_with = "colour")]
    pub strings: Color32,
    /// Inlays.
    #[serde(deserialize_with = "colour")]
    pub inlay: Color32,
    /// The nut.
    #[serde(deserialize_with = "colour")]
    pub nut: Color32,
    /// The capo.
    #[serde(deserialize_with = "colour")]
    pub capo: Color32,
    /// The melody, and the one accent.
    #[serde(deserialize_with = "colour")]
    pub melody: Color32,
    /// The bass.
    #[serde(deserialize_with = "colour")]
    pub bass: Color32,
    /// Hooks.
    #[serde(deserialize_with = "colour")]
    pub hook: Color32,
    /// Other notes.
    #[serde(deserialize_with = "colour")]
    pub other: Color32,
    /// Figures in filled marks.
    #[serde(deserialize_with = "colour")]
    pub on_mark: Color32,
    /// Easy.
    #[serde(deserialize_with = "colour")]
    pub easy: Color32,
    /// With care.
    #[serde(deserialize_with = "colour")]
    pub careful: Color32,
    /// Hard.
    #[serde(deserialize_with = "colour")]
    pub hard: Color32,
}

fn colour<'de, D: Deserializer<'de>>(from: D) -> Result<Color32, D::Error> {
    let text = String::deserialize(from)?;
    Color32::from_hex(&text)
        .map_err(|e| serde::de::Error::custom(format!("“{text}” is no colour like #FAF7F2: {e:?}")))
}

impl Theme {
    /// The theme in `assets`.
    ///
    /// # Panics
    /// Never: a test reads the theme.
    pub fn built_in() -> Self {
        ron::from_str(include_str!("../../../assets/theme.ron")).expect("a test reads the theme in assets")
    }

    /// The colours for the surroundings that the window shows.
    pub fn palette(&self, ctx: &egui::Context) -> Palette {
        match ctx.theme() {
            egui::Theme::Dark => self.dark,
            egui::Theme::Light => self.light,
        }
    }

    /// Gives the window fonts, colours and sizes.
    pub fn install(&self, ctx: &egui::Context) {
        ctx.set_fonts(fonts());
        ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
        for (theme, palette) in [(egui::Theme::Light, &self.light), (egui::Theme::Dark, &self.dark)] {
            ctx.set_style_of(theme, self.style(palette, theme));
        }
    }

    fn style(&self, palette: &Palette, theme: egui::Theme) -> egui::Style {
        let mut style = theme.default_style();
        let sizes = self.sizes;
        style.text_styles = BTreeMap::from([
            (TextStyle::Body, FontId::proportional(sizes.body)),
            (TextStyle::Button, FontId::proportional(sizes.body)),
            (TextStyle::Monospace, FontId::proportional(sizes.body)),
            (TextStyle::Small, FontId::proportional(sizes.quiet)),
            (TextStyle::Heading, strong(sizes.head)),
        ]);
        style.spacing.item_spacing = egui::vec2(2.0 * STEP, STEP);
        style.spacing.button_padding = egui::vec2(2.0 * STEP, STEP);
        style.spacing.interact_size = egui::vec2(6.0 * STEP, 7.0 * STEP);
        style.spacing.menu_margin = Margin::same(STEP as i8);
        style.spacing.window_margin = Margin::same(4 * STEP as i8);
        // Bars of scrolling have their own room: they cover no figures.
        style.spacing.scroll.floating_allocated_width = style.spacing.scroll.bar_width;
        style.interaction.selectable_labels = false;
        style.animation_time = GLIDE;
        style.visuals = self.visuals(palette, theme);
        style
    }

    fn visuals(&self, palette: &Palette, theme: egui::Theme) -> Visuals {
        let mut visuals = theme.default_visuals();
        let radius = CornerRadius::same(self.sizes.radius);
        let look = |fill: Color32, ink: Color32, rim: Color32| WidgetVisuals {
            bg_fill: fill,
            weak_bg_fill: fill,
            bg_stroke: Stroke::new(1.0, rim),
            corner_radius: radius,
            fg_stroke: Stroke::new(1.0, ink),
            expansion: 0.0,
        };
        let widgets = &mut visuals.widgets;
        widgets.noninteractive = look(palette.panel, palette.ink, palette.line);
        widgets.inactive = look(palette.panel, palette.ink, palette.line);
        widgets.hovered = look(palette.lifted, palette.ink, palette.quiet);
        widgets.active = look(palette.lifted, palette.ink, palette.melody);
        widgets.open = look(palette.lifted, palette.ink, palette.line);
        visuals.weak_text_color = Some(palette.quiet);
        visuals.selection.bg_fill = palette.lifted;
        visuals.selection.stroke = Stroke::new(1.0, palette.ink);
        visuals.panel_fill = palette.panel;
        visuals.window_fill = palette.ground;
        visuals.window_stroke = Stroke::new(1.0, palette.line);
        visuals.window_corner_radius = radius;
        visuals.menu_corner_radius = radius;
        visuals.extreme_bg_color = palette.ground;
        visuals.faint_bg_color = palette.panel;
        visuals.hyperlink_color = palette.melody;
        visuals.warn_fg_color = palette.careful;
        visuals.error_fg_color = palette.hard;
        let shadow = Shadow { offset: [0, 4], blur: 16, spread: 0, color: Color32::from_black_alpha(48) };
        visuals.window_shadow = shadow;
        visuals.popup_shadow = shadow;
        visuals
    }
}

/// The family's medium weight, for what is chosen.
pub fn medium(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name("medium".into()))
}

/// The family's semi-bold weight, for heads and figures on the neck.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name("strong".into()))
}

/// Inter in three weights; what it lacks (♭ ♯ ♮ ♩) comes from `DejaVu` Sans.
fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let files: [(&str, &'static [u8]); 4] = [
        ("regular", include_bytes!("../../../assets/fonts/Inter-Regular.otf")),
        ("medium", include_bytes!("../../../assets/fonts/Inter-Medium.otf")),
        ("strong", include_bytes!("../../../assets/fonts/Inter-SemiBold.otf")),
        ("signs", include_bytes!("../../../assets/fonts/DejaVuSans.ttf")),
    ];
    for (name, bytes) in files {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let with_signs = |name: &str| vec![name.to_owned(), "signs".to_owned()];
    for family in [FontFamily::Proportional, FontFamily::Monospace] {
        fonts.families.insert(family, with_signs("regular"));
    }
    for name in ["medium", "strong"] {
        fonts.families.insert(FontFamily::Name(name.into()), with_signs(name));
    }
    fonts
}
