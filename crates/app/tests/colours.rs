//! The theme's colours, computed: whether text and marks stand out, and whether eyes that lack a kind of cone still tell
//! the colours apart that mean something.

use eframe::egui::{Color32, Rgba};
use handspan_app::theme::{Palette, Theme};

/// The least contrast of text (WCAG 2.1, success criterion 1.4.3, level AA).
const TEXT: f32 = 4.5;
/// The least contrast of what is no text and has to be understood (WCAG 2.1, success criterion 1.4.11, level AA).
const MARK: f32 = 3.0;
/// The least distance in `OKLab` of two colours that mean different things, for every kind of eye: some four times what is
/// just noticed (0.02, a rule of thumb from memory). Shape says the same in every case.
const APART: f32 = 0.08;

fn sides() -> [(&'static str, Palette); 2] {
    let theme = Theme::built_in();
    [("light", theme.light), ("dark", theme.dark)]
}

fn linear(colour: Color32) -> [f32; 3] {
    let [r, g, b, _] = Rgba::from(colour).to_array();
    [r, g, b]
}

/// Contrast by relative luminance (WCAG 2.1).
fn contrast(a: Color32, b: Color32) -> f32 {
    let luminance = |colour: Color32| {
        let [r, g, b] = linear(colour);
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn stands_out(side: &str, least: f32, what: &[(&str, Color32)], on: &[(&str, Color32)]) {
    for ((name, colour), (ground, behind)) in what.iter().flat_map(|w| on.iter().map(move |o| (w, o))) {
        let ratio = contrast(*colour, *behind);
        assert!(ratio >= least, "{side}: {name} on {ground} has {ratio:.2}, less than {least}");
    }
}

#[test]
fn text_stands_out_on_every_ground_it_stands_on() {
    for (side, p) in sides() {
        let grounds = [("ground", p.ground), ("panel", p.panel), ("lifted", p.lifted)];
        let inks = [
            ("ink", p.ink),
            ("quiet", p.quiet),
            ("melody", p.melody),
            ("bass", p.bass),
            ("hook", p.hook),
            ("easy", p.easy),
            ("careful", p.careful),
            ("hard", p.hard),
        ];
        stands_out(side, TEXT, &inks, &grounds);
        let marks = [("melody", p.melody), ("bass", p.bass), ("hook", p.hook), ("other", p.other)];
        stands_out(side, TEXT, &[("figures", p.on_mark)], &marks);
        stands_out(side, TEXT, &[("ink", p.ink), ("quiet", p.quiet)], &[("wood", p.wood)]);
    }
}

#[test]
fn marks_stand_out_on_the_neck_and_beside_it() {
    for (side, p) in sides() {
        let on_neck = [
            ("melody", p.melody),
            ("bass", p.bass),
            ("hook", p.hook),
            ("other", p.other),
            ("strings", p.strings),
            ("wire", p.wire),
            ("nut", p.nut),
            ("capo", p.capo),
        ];
        stands_out(side, MARK, &on_neck, &[("wood", p.wood)]);
        // Inlays are no more than ornament: the numbers under the neck say the same. Hairlines only part.
        let boxes = [
            ("lines of a chord box", p.wire),
            ("dots", p.other),
            ("easy", p.easy),
            ("careful", p.careful),
            ("hard", p.hard),
        ];
        stands_out(side, MARK, &boxes, &[("ground", p.ground), ("panel", p.panel)]);
    }
}

/// A kind of eye: what linear light becomes for it.
type Eye = (&'static str, [[f32; 3]; 3]);

/// Simulated dichromacy after Machado, Oliveira and Fernandes, “A Physiologically-based Model for Simulation of Color
/// Vision Deficiency”, IEEE Transactions on Visualization and Computer Graphics 15 (6), 2009, table of matrices for
/// severity 1.0.
const EYES: [Eye; 4] = [
    ("three kinds of cones", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

fn times(matrix: &[[f32; 3]; 3], v: [f32; 3]) -> [f32; 3] {
    matrix.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// `OKLab` from linear sRGB (Ottosson, “A perceptual color space for image processing”, 2020).
fn oklab(linear: [f32; 3]) -> [f32; 3] {
    const CONES: [[f32; 3]; 3] = [
        [0.412_221_47, 0.536_332_54, 0.051_445_995],
        [0.211_903_5, 0.680_699_5, 0.107_396_96],
        [0.088_302_46, 0.281_718_84, 0.629_978_7],
    ];
    const LAB: [[f32; 3]; 3] = [
        [0.210_454_26, 0.793_617_8, -0.004_072_047],
        [1.977_998_5, -2.428_592_2, 0.450_593_7],
        [0.025_904_037, 0.782_771_77, -0.808_675_77],
    ];
    times(&LAB, times(&CONES, linear).map(f32::cbrt))
}

fn distance(a: [f32; 3], b: [f32; 3]) -> f32 {
    a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f32>().sqrt()
}

#[test]
fn colours_that_mean_something_are_told_apart_by_every_eye() {
    for (side, p) in sides() {
        let parts = [("melody", p.melody), ("bass", p.bass), ("hook", p.hook), ("other", p.other)];
        let efforts = [("easy", p.easy), ("careful", p.careful), ("hard", p.hard)];
        for (eye, matrix) in EYES {
            let seen = |colour: Color32| oklab(times(&matrix, linear(colour)).map(|c| c.clamp(0.0, 1.0)));
            for group in [&parts[..], &efforts[..]] {
                let pairs = (0..group.len()).flat_map(|a| (a + 1..group.len()).map(move |b| (a, b)));
                for (a, b) in pairs {
                    let ((a, colour), (b, other)) = (group[a], group[b]);
                    let apart = distance(seen(colour), seen(other));
                    assert!(apart >= APART, "{side}, {eye}: {a} and {b} are only {apart:.3} apart");
                }
            }
        }
    }
}
