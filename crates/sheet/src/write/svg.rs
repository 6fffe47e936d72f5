//! A frame as SVG that needs no fonts: every glyph is drawn as its outline, defined once and used where it stands.
//!
//! Glyphs are referred to in the way of SVG 1.1 (`xlink:href`), which old and new programs read.
//!
//! The text is kept for reading aloud: groups carry labels, runs of text their words.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::frame::{Frame, GlyphRun, Group, Ink, Item, Path, Segment};
use crate::glyph::{self, Face};
use crate::points::{Point, Points};

/// Writes a frame as an SVG document.
pub fn svg(frame: &Frame) -> String {
    let mut writer = Writer::default();
    writer.items(&frame.items);
    let (w, h) = (short(frame.width), short(frame.height));
    let mut document = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"{w}pt\" height=\"{h}pt\" viewBox=\"0 0 {w} {h}\">\n<defs>\n"
    );
    for ((face, id), outline) in &writer.outlines {
        let name = symbol_name(*face, *id);
        line(&mut document, format_args!("<path id=\"{name}\" d=\"{outline}\"/>"));
    }
    document.push_str("</defs>\n");
    line(&mut document, format_args!("<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>"));
    document.push_str(&writer.body);
    document.push_str("</svg>\n");
    document
}

/// Outlines are written for an em of this size and scaled where they are used.
const EM: Points = Points::new(100.0);

#[derive(Default)]
struct Writer {
    body: String,
    outlines: BTreeMap<(Face, u16), String>,
}

fn line(text: &mut String, arguments: std::fmt::Arguments<'_>) {
    text.write_fmt(arguments).expect("writing to a string cannot fail");
    text.push('\n');
}

impl Writer {
    fn items(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Group(group) => self.group(group),
                Item::Path(path) => self.path(path),
                Item::Glyphs(run) => self.run(run),
            }
        }
    }

    fn group(&mut self, group: &Group) {
        let place = if group.at == Point::ORIGIN {
            String::new()
        } else {
            format!(" transform=\"translate({} {})\"", short(group.at.x), short(group.at.y))
        };
        let label = group
            .role
            .label()
            .map_or_else(String::new, |label| format!(" role=\"group\" aria-label=\"{label}\""));
        line(&mut self.body, format_args!("<g{place}{label}>"));
        if let Some(words) = &group.description {
            line(&mut self.body, format_args!("<desc>{}</desc>", escaped(words)));
        }
        self.items(&group.items);
        self.body.push_str("</g>\n");
    }

    fn path(&mut self, path: &Path) {
        let fill = path.fill.map_or_else(|| "none".to_owned(), colour);
        let stroke = path.stroke.map_or_else(String::new, |s| {
            let cap = if s.round { " stroke-linecap=\"round\"" } else { "" };
            format!(" stroke=\"{}\" stroke-width=\"{}\"{cap}", colour(s.ink), short(s.width))
        });
        let data = data(&path.segments);
        line(&mut self.body, format_args!("<path d=\"{data}\" fill=\"{fill}\"{stroke}/>"));
    }

    fn run(&mut self, run: &GlyphRun) {
        let scale = run.size / EM;
        let unit = run.size / glyph::units_per_em(run.face);
        let ink =
            if run.ink == Ink::BLACK { String::new() } else { format!(" fill=\"{}\"", colour(run.ink)) };
        let label = escaped(&run.text);
        line(&mut self.body, format_args!("<g role=\"img\" aria-label=\"{label}\"{ink}>"));
        let mut pen = 0;
        for placed in &run.glyphs {
            let key = (run.face, placed.id);
            let outlines = &mut self.outlines;
            outlines.entry(key).or_insert_with(|| data(&glyph::outline(run.face, placed.id, EM)));
            let x = short(run.at.x + unit * f64::from(pen + placed.offset_x));
            let y = short(run.at.y - unit * f64::from(placed.offset_y));
            let name = symbol_name(run.face, placed.id);
            let scale = format!("{scale:.5}");
            let scale = scale.trim_end_matches('0');
            line(
                &mut self.body,
                format_args!("<use xlink:href=\"#{name}\" transform=\"translate({x} {y}) scale({scale})\"/>"),
            );
            pen += placed.advance;
        }
        self.body.push_str("</g>\n");
    }
}

fn symbol_name(face: Face, id: u16) -> String {
    let face = match face {
        Face::Regular => 'r',
        Face::Bold => 'b',
        Face::Italic => 'i',
        Face::Music => 'm',
    };
    format!("{face}{id}")
}

fn colour(ink: Ink) -> String {
    format!("#{0:02x}{0:02x}{0:02x}", ink.0)
}

/// A length to a hundredth of a point, without needless figures.
fn short(length: Points) -> String {
    let text = format!("{:.2}", length.count());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn data(segments: &[Segment]) -> String {
    let at = |p: Point| format!("{} {}", short(p.x), short(p.y));
    let parts = segments.iter().map(|segment| match *segment {
        Segment::Move(p) => format!("M{}", at(p)),
        Segment::Line(p) => format!("L{}", at(p)),
        Segment::Curve(a, b, p) => format!("C{} {} {}", at(a), at(b), at(p)),
        Segment::Close => "Z".to_owned(),
    });
    parts.collect()
}

/// Text for an attribute; letters that XML does not allow are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '"' => safe.push_str("&quot;"),
            c if c.is_control() => {}
            c => safe.push(c),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_break_out_of_its_attribute() {
        assert_eq!(escaped("a\"<b>&\u{7}c"), "a&quot;&lt;b>&amp;c");
        assert_eq!(short(Points::new(-0.001)), "0");
        assert_eq!(short(Points::new(12.50)), "12.5");
    }
}
