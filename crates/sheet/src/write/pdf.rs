//! The sheet as PDF: fonts subset, text selectable, title, author, language, outline, tagged for reading aloud; the
//! same bytes each time.

use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::geom::{Path as PdfPath, PathBuilder, Point as PdfPoint};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, Stroke as PdfStroke};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Data, Document};
use thiserror::Error;

use super::tags::Tags;
use crate::engrave::Sheet;
use crate::frame::{GlyphRun, Group, Ink, Item, Path, Role, Segment};
use crate::glyph::{self, Face};
use crate::points::{Point, Points};

/// Why no PDF could be made.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Error {
    /// A page has no area.
    #[error("page {0} has no width or no height, so there is no PDF of it")]
    EmptyPage(usize),
    /// The writer of the format gave up.
    #[error("the PDF could not be put together ({0}); the arrangement itself is not touched")]
    Format(String),
}

/// Writes a sheet as PDF.
///
/// # Errors
/// A page without area, or a fault of the PDF library.
pub fn pdf(sheet: &Sheet) -> Result<Vec<u8>, Error> {
    let mut document = Document::new();
    let fonts = Fonts::load()?;
    let mut tags = Tags::new();
    for (number, frame) in sheet.pages.iter().enumerate() {
        let settings = PageSettings::from_wh(number32(frame.width), number32(frame.height));
        let mut page = document.start_page_with(settings.ok_or(Error::EmptyPage(number + 1))?);
        let mut surface = page.surface();
        let mut drawing = Drawing { fonts: &fonts, surface: &mut surface, tags: &mut tags };
        drawing.items(&frame.items, Point::ORIGIN);
        tags.pause(&mut surface);
        surface.finish();
        page.finish();
    }
    document.set_metadata(metadata(sheet));
    document.set_outline(outline(sheet));
    document.set_tag_tree(tags.finish());
    document.finish().map_err(|fault| Error::Format(format!("{fault:?}")))
}

fn metadata(sheet: &Sheet) -> Metadata {
    let metadata =
        Metadata::new().title(sheet.title.clone()).language("en".to_owned()).creator("Handspan".to_owned());
    if sheet.author.is_empty() { metadata } else { metadata.authors(vec![sheet.author.clone()]) }
}

fn outline(sheet: &Sheet) -> Outline {
    let mut outline = Outline::new();
    for entry in &sheet.outline {
        let place = PdfPoint::from_xy(0.0, number32(entry.y));
        outline.push_child(OutlineNode::new(entry.title.clone(), XyzDestination::new(entry.page, place)));
    }
    outline
}

/// The fonts as the library keeps them, by [`Face`].
struct Fonts([Font; Face::ALL.len()]);

impl Fonts {
    fn load() -> Result<Self, Error> {
        let load = |face: Face| {
            Font::new(Data::from(face.data()), 0)
                .ok_or_else(|| Error::Format(format!("unread font {face:?}")))
        };
        let [regular, bold, italic, music] = Face::ALL;
        Ok(Self([load(regular)?, load(bold)?, load(italic)?, load(music)?]))
    }

    fn get(&self, face: Face) -> Font {
        self.0[face as usize].clone()
    }
}

fn number32(length: Points) -> f32 {
    length.count() as f32
}

/// A page that is being drawn.
struct Drawing<'a, 'b> {
    fonts: &'a Fonts,
    surface: &'a mut Surface<'b>,
    tags: &'a mut Tags,
}

impl Drawing<'_, '_> {
    fn items(&mut self, items: &[Item], origin: Point) {
        for item in items {
            match item {
                Item::Group(group) => self.group(group, origin),
                Item::Path(path) => {
                    self.tags.mark(self.surface);
                    draw_path(path, origin, self.surface);
                }
                Item::Glyphs(run) => {
                    self.tags.mark(self.surface);
                    draw_run(run, origin, self.fonts, self.surface);
                }
            }
        }
    }

    fn group(&mut self, group: &Group, origin: Point) {
        let inner = origin.moved(group.at.x, group.at.y);
        let entered = self.tags.enter(group, self.surface);
        if group.role == Role::ChordName {
            // A symbol is set in several sizes, but it is one word.
            let word: String = texts(&group.items).collect();
            self.tags.word(&word, self.surface);
            self.items(&group.items, inner);
            self.tags.pause(self.surface);
        } else {
            self.items(&group.items, inner);
        }
        if entered {
            self.tags.leave(group, self.surface);
        }
    }
}

fn texts(items: &[Item]) -> impl Iterator<Item = &str> {
    items.iter().filter_map(|item| match item {
        Item::Glyphs(run) => Some(run.text.as_str()),
        Item::Group(_) | Item::Path(_) => None,
    })
}

fn fill(ink: Ink) -> Fill {
    Fill { paint: luma::Color::new(ink.0).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn draw_path(path: &Path, origin: Point, surface: &mut Surface<'_>) {
    let Some(drawn) = build(path, origin) else { return };
    surface.set_fill(path.fill.map(fill));
    surface.set_stroke(path.stroke.map(|stroke| PdfStroke {
        paint: luma::Color::new(stroke.ink.0).into(),
        width: number32(stroke.width),
        line_cap: if stroke.round { LineCap::Round } else { LineCap::Butt },
        ..PdfStroke::default()
    }));
    surface.draw_path(&drawn);
}

fn build(path: &Path, origin: Point) -> Option<PdfPath> {
    let mut builder = PathBuilder::new();
    let at = |p: Point| (number32(p.x + origin.x), number32(p.y + origin.y));
    for segment in &path.segments {
        match *segment {
            Segment::Move(p) => {
                let (x, y) = at(p);
                builder.move_to(x, y);
            }
            Segment::Line(p) => {
                let (x, y) = at(p);
                builder.line_to(x, y);
            }
            Segment::Curve(a, b, p) => {
                let ((x1, y1), (x2, y2), (x, y)) = (at(a), at(b), at(p));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            Segment::Close => builder.close(),
        }
    }
    builder.finish()
}

fn draw_run(run: &GlyphRun, origin: Point, fonts: &Fonts, surface: &mut Surface<'_>) {
    // The library takes advances as parts of the em.
    let em = |units: i32| (f64::from(units) / glyph::units_per_em(run.face)) as f32;
    let glyphs: Vec<KrillaGlyph> = run
        .glyphs
        .iter()
        .map(|g| {
            KrillaGlyph::new(
                GlyphId::new(u32::from(g.id)),
                em(g.advance),
                em(g.offset_x),
                em(g.offset_y),
                0.0,
                g.text.clone(),
                None,
            )
        })
        .collect();
    surface.set_fill(Some(fill(run.ink)));
    surface.set_stroke(None);
    let start = PdfPoint::from_xy(number32(run.at.x + origin.x), number32(run.at.y + origin.y));
    surface.draw_glyphs(start, &glyphs, fonts.get(run.face), &run.text, number32(run.size), false);
}
