//! Elements and texts of the output, indented.

use std::fmt::Display;

use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};
use quick_xml::writer::Writer;

/// An XML text that grows.
pub(super) struct Xml {
    writer: Writer<Vec<u8>>,
}

impl Xml {
    /// The beginning of a score.
    pub(super) fn score() -> Self {
        let mut xml = Self { writer: Writer::new_with_indent(Vec::new(), b' ', 2) };
        xml.write(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), Some("no"))));
        let doctype = "score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \
                       \"http://www.musicxml.org/dtds/partwise.dtd\"";
        xml.write(Event::DocType(BytesText::from_escaped(doctype)));
        xml
    }

    fn write(&mut self, event: Event<'_>) {
        self.writer.write_event(event).expect("writing to memory does not fail");
    }

    /// An element with others inside.
    pub(super) fn element(
        &mut self,
        name: &str,
        attributes: &[(&str, &str)],
        inside: impl FnOnce(&mut Self),
    ) {
        self.write(Event::Start(start(name, attributes)));
        inside(self);
        self.write(Event::End(BytesEnd::new(name)));
    }

    /// An element with a text inside.
    pub(super) fn text(&mut self, name: &str, text: impl Display) {
        self.text_with(name, &[], text);
    }

    /// An element with attributes and a text inside.
    pub(super) fn text_with(&mut self, name: &str, attributes: &[(&str, &str)], text: impl Display) {
        self.element(name, attributes, |xml| {
            let text = legal(&text.to_string());
            xml.write(Event::Text(BytesText::new(&text)));
        });
    }

    /// An element with nothing inside.
    pub(super) fn empty(&mut self, name: &str, attributes: &[(&str, &str)]) {
        self.write(Event::Empty(start(name, attributes)));
    }

    /// The whole text.
    pub(super) fn finish(self) -> String {
        let mut bytes = self.writer.into_inner();
        bytes.push(b'\n');
        String::from_utf8(bytes).expect("only texts were written")
    }
}

fn start<'a>(name: &'a str, attributes: &[(&str, &str)]) -> BytesStart<'a> {
    let mut start = BytesStart::new(name);
    for (key, value) in attributes {
        start.push_attribute((*key, legal(value).as_str()));
    }
    start
}

/// The text without the characters that no XML file may hold.
fn legal(text: &str) -> String {
    let allowed = |c: &char| !matches!(c, '\0'..='\u{8}' | '\u{b}' | '\u{c}' | '\u{e}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}');
    text.chars().filter(allowed).collect()
}
