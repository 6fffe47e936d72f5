//! How long a sheet takes to be laid out and written, and how that grows with the number of bars.
//!
//! `cargo bench -p handspan-sheet --bench speed` prints the best of several runs; nothing is asserted.

#![expect(clippy::print_stdout, reason = "a bench says what it has measured")]
#![expect(clippy::disallowed_methods, reason = "a bench reads the clock")]

#[path = "../tests/support/mod.rs"]
#[expect(
    clippy::allow_attributes,
    reason = "what is expected to be dead counts as alive, and is then not dead"
)]
#[allow(dead_code, unused_imports, reason = "the tests use all of it")]
mod support;

use std::time::{Duration, Instant};

use handspan_sheet::write::{pdf, png, svg};
use handspan_sheet::{Layout, SheetOptions, engrave};

const RUNS: usize = 7;

fn best(mut run: impl FnMut() -> usize) -> (Duration, usize) {
    let timed = (0..RUNS).map(|_| {
        let begin = Instant::now();
        let size = run();
        (begin.elapsed(), size)
    });
    timed.min().unwrap_or_default()
}

fn main() {
    let options = SheetOptions { layout: Layout::StaffAndTablature, ..SheetOptions::default() };
    for bars in [16, 32, 64, 128, 256] {
        let score = support::tunes::walk(bars);
        let (laid_out, pages) = best(|| engrave(&score, &options).pages.len());
        let sheet = engrave(&score, &options);
        let (as_pdf, bytes) = best(|| pdf::pdf(&sheet).map_or(0, |pdf| pdf.len()));
        let (as_svg, _) = best(|| sheet.pages.iter().map(|page| svg::svg(page).len()).sum());
        let picture = |page| png::png(page, png::DOTS_AN_INCH).map_or(0, |png| png.len());
        let (as_png, _) = best(|| sheet.pages.iter().map(picture).sum());
        println!(
            "{bars} bars, {pages} pages: laid out {laid_out:.1?}, PDF {as_pdf:.1?} ({bytes} bytes), SVG {as_svg:.1?}, PNG {as_png:.1?}"
        );
    }
}
