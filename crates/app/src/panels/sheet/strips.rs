//! Pages as pictures: painted in strips beside the window, as sharp as the screen, and kept until they change.
//!
//! A page is cut into strips of equal height. Only strips in sight are painted; while the sharp ones are being painted
//! those of another size, or of the edition before, stand in for them.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{Color32, ColorImage, Context, TextureHandle, TextureOptions};
use handspan_sheet::Sheet;
use handspan_sheet::write::raster::{Greys, greys};

use crate::job::{Job, Lane, Outcome};

/// Strips of a page.
pub(super) const STRIPS: usize = 8;
/// How many pictures are handed to the screen in one frame at most, so that none of them takes long.
const A_FRAME: usize = 2;
/// How many strips are kept out of sight, for turning back.
const KEPT: usize = 6 * STRIPS;

/// A page and its strip.
pub(super) type StripAt = (usize, usize);

/// What a picture was painted from: the edition of the sheet, and how many pixels a strip is high.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Grade {
    /// The edition of the sheet.
    pub(super) edition: u64,
    /// Pixels from a strip's top to the next one's.
    pub(super) pixels: usize,
}

/// The pictures.
#[derive(Default)]
pub(super) struct Strips {
    kept: BTreeMap<StripAt, Kept>,
    painted: Vec<Painted>,
    job: Job<Vec<Painted>>,
    frame: u64,
}

struct Kept {
    texture: TextureHandle,
    grade: Grade,
    seen: u64,
}

struct Painted {
    at: StripAt,
    grade: Grade,
    image: ColorImage,
}

impl std::fmt::Debug for Strips {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Strips").field("kept", &self.kept.len()).finish_non_exhaustive()
    }
}

impl Strips {
    /// The picture of a strip, of whatever grade there is.
    pub(super) fn picture(&mut self, at: StripAt) -> Option<&TextureHandle> {
        let kept = self.kept.get_mut(&at)?;
        kept.seen = self.frame;
        Some(&kept.texture)
    }

    /// Takes in what has been painted, and has painted what is in sight and not sharp.
    pub(super) fn refresh(
        &mut self,
        ctx: &Context,
        lane: &Lane,
        sheet: &Arc<Sheet>,
        grade: Grade,
        in_sight: &[StripAt],
    ) {
        self.frame += 1;
        if let Some(Outcome::Answer(painted)) = self.job.poll() {
            self.painted.extend(painted);
        }
        for _ in 0..A_FRAME {
            if let Some(painted) = self.painted.pop() {
                self.keep(ctx, painted);
            }
        }
        self.forget();
        if self.job.is_running() || !self.painted.is_empty() {
            ctx.request_repaint();
            return;
        }
        let sharp = |at: &StripAt| self.kept.get(at).is_some_and(|kept| kept.grade == grade);
        let wanted: Vec<StripAt> = in_sight.iter().filter(|at| !sharp(at)).copied().collect();
        if !wanted.is_empty() {
            let sheet = Arc::clone(sheet);
            // Taken from the end, so that the first in sight comes first.
            let paint = move |_: &dyn handspan_core::watch::Watch| {
                wanted.iter().rev().filter_map(|at| paint(&sheet, *at, grade)).collect()
            };
            self.job.start(lane, "paint pages", paint);
            ctx.request_repaint();
        }
    }

    fn keep(&mut self, ctx: &Context, painted: Painted) {
        let name = format!("page {} strip {}", painted.at.0, painted.at.1);
        let texture = ctx.load_texture(name, painted.image, TextureOptions::LINEAR);
        self.kept.insert(painted.at, Kept { texture, grade: painted.grade, seen: self.frame });
    }

    /// Forgets what has not been in sight for longest, where too much is kept.
    fn forget(&mut self) {
        let out_of_sight = |kept: &Kept| kept.seen + 1 < self.frame;
        while self.kept.values().filter(|kept| out_of_sight(kept)).count() > KEPT {
            let oldest = self.kept.iter().min_by_key(|(_, kept)| kept.seen).map(|(at, _)| *at);
            let Some(oldest) = oldest else {
                return;
            };
            self.kept.remove(&oldest);
        }
    }
}

fn paint(sheet: &Sheet, at: StripAt, grade: Grade) -> Option<Painted> {
    let frame = sheet.pages.get(at.0)?;
    let scale = (grade.pixels * STRIPS) as f64 / frame.height.count();
    let top = at.1 * grade.pixels;
    let Greys { width, height, pixels } = greys(frame, scale, top..top + grade.pixels);
    (width > 0 && height > 0).then(|| Painted {
        at,
        grade,
        image: ColorImage::new([width, height], pixels.into_iter().map(Color32::from_gray).collect()),
    })
}
