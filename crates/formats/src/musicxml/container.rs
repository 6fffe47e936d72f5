//! From bytes to the text of a score: compressed or plain, UTF-8 or UTF-16.

use std::borrow::Cow;
use std::io::{Cursor, Read as _};
use std::path::Path;

use roxmltree::Document;
use zip::ZipArchive;

use crate::error::ReadError;
use crate::save::LARGEST;

/// The text of the score in a file's bytes, whichever way it is packed.
pub(super) fn text_of(bytes: &[u8]) -> Result<String, ReadError> {
    if bytes.is_empty() {
        return Err(ReadError::Empty);
    }
    if bytes.len() as u64 > LARGEST {
        return Err(too_large());
    }
    if bytes.starts_with(b"PK") { decode(&unpack(bytes)?) } else { decode(bytes) }
}

fn too_large() -> ReadError {
    ReadError::TooLarge { limit: LARGEST >> 20 }
}

fn damaged(error: &impl ToString) -> ReadError {
    ReadError::Container { reason: error.to_string() }
}

/// The score inside a compressed file: the one its container names, or else the first that looks like one.
fn unpack(bytes: &[u8]) -> Result<Vec<u8>, ReadError> {
    let mut archive =
        ZipArchive::new(Cursor::new(bytes)).ok().ok_or_else(|| damaged(&"a part of it is missing"))?;
    let names: Vec<String> = archive.file_names().filter_map(|name| name.ok().map(Cow::into_owned)).collect();
    let named = entry(&mut archive, "META-INF/container.xml")
        .ok()
        .and_then(|container| root_file(&container))
        .filter(|name| names.contains(name));
    // Some containers are ill-formed because the file's name was not escaped.
    let looks_like_a_score = |name: &&String| {
        let path = Path::new(name.as_str());
        let is = |ending: &str| path.extension().is_some_and(|e| e.eq_ignore_ascii_case(ending));
        !path.starts_with("META-INF") && (is("xml") || is("musicxml"))
    };
    let name = named
        .or_else(|| names.iter().find(looks_like_a_score).cloned())
        .ok_or_else(|| damaged(&"there is no score in it"))?;
    entry(&mut archive, &name)
}

fn entry(archive: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<Vec<u8>, ReadError> {
    let file = archive.by_name(name).map_err(|error| damaged(&error))?;
    let mut content = Vec::new();
    // The size in the directory may lie, so the bytes themselves are counted.
    file.take(LARGEST + 1).read_to_end(&mut content).map_err(|error| damaged(&error))?;
    if content.len() as u64 > LARGEST {
        return Err(too_large());
    }
    Ok(content)
}

/// The name of the score that a container names first.
fn root_file(container: &[u8]) -> Option<String> {
    let text = decode(container).ok()?;
    let document = Document::parse(&text).ok()?;
    let mut elements = document.descendants();
    let root_file = elements.find(|node| node.tag_name().name() == "rootfile")?;
    root_file.attribute("full-path").map(str::to_owned)
}

/// UTF-8, UTF-16 of either order, or Latin 1 where the file declares it.
fn decode(bytes: &[u8]) -> Result<String, ReadError> {
    match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => utf8(rest),
        [0xFE, 0xFF, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xFF, 0xFE, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0, b'<', ..] => utf16(bytes, u16::from_be_bytes),
        [b'<', 0, ..] => utf16(bytes, u16::from_le_bytes),
        _ if declares_latin_1(bytes) => Ok(bytes.iter().copied().map(char::from).collect()),
        _ => utf8(bytes),
    }
}

fn utf8(bytes: &[u8]) -> Result<String, ReadError> {
    let text = str::from_utf8(bytes).ok().filter(|text| !text.contains('\0'));
    text.map(str::to_owned).ok_or(ReadError::NoText)
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, ReadError> {
    let (pairs, odd) = bytes.as_chunks::<2>();
    let units = pairs.iter().map(|pair| unit(*pair));
    let text: Result<String, _> = char::decode_utf16(units).collect();
    text.ok().filter(|_| odd.is_empty()).ok_or(ReadError::NoText)
}

fn declares_latin_1(bytes: &[u8]) -> bool {
    let declaration = bytes.split(|b| *b == b'>').next().unwrap_or_default();
    let declaration = String::from_utf8_lossy(&declaration[..declaration.len().min(200)]).to_lowercase();
    declaration.starts_with("<?xml") && declaration.contains("iso-8859-1")
}

#[cfg(test)]
mod tests {
    use std::io::Write as _;

    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    use super::*;

    fn packed(entries: &[(&str, &str)]) -> Vec<u8> {
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        for (name, content) in entries {
            writer.start_file(*name, SimpleFileOptions::default()).unwrap();
            writer.write_all(content.as_bytes()).unwrap();
        }
        writer.finish().unwrap().into_inner()
    }

    #[test]
    fn the_container_names_the_score() {
        let container = "<container><rootfiles><rootfile full-path='b.xml'/></rootfiles></container>";
        let file = packed(&[("a.xml", "wrong"), ("b.xml", "right"), ("META-INF/container.xml", container)]);
        assert_eq!(text_of(&file).unwrap(), "right");
    }

    #[test]
    fn an_ill_formed_container_is_forgiven() {
        let container = "<container><rootfiles><rootfile full-path='I'm.xml'/></rootfiles></container>";
        let file = packed(&[("META-INF/container.xml", container), ("I'm.xml", "found")]);
        assert_eq!(text_of(&file).unwrap(), "found");
    }

    #[test]
    fn a_broken_archive_is_a_sentence() {
        let file = packed(&[("a.xml", "right")]);
        let cut = text_of(&file[..file.len() / 2]).unwrap_err().to_string();
        assert!(cut.starts_with("the compressed file can't be unpacked ("), "{cut}");
        let nothing = text_of(&packed(&[("readme.txt", "hello")])).unwrap_err().to_string();
        assert!(nothing.contains("there is no score in it"), "{nothing}");
    }

    #[test]
    fn a_swollen_archive_is_refused() {
        let swollen = " ".repeat(LARGEST as usize + 1);
        assert_eq!(text_of(&packed(&[("a.xml", &swollen)])), Err(too_large()));
    }

    #[test]
    fn reads_the_usual_encodings() {
        let text = "<a>♭é</a>";
        let utf16: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert_eq!(text_of(text.as_bytes()).unwrap(), text);
        assert_eq!(text_of(&[&[0xEF, 0xBB, 0xBF], text.as_bytes()].concat()).unwrap(), text);
        assert_eq!(text_of(&[&[0xFF, 0xFE], &utf16[..]].concat()).unwrap(), text);
        assert_eq!(text_of(&utf16).unwrap(), text);
        let latin = b"<?xml version='1.0' encoding='ISO-8859-1'?><a>\xE9</a>";
        assert!(text_of(latin).unwrap().ends_with("<a>é</a>"));
        assert_eq!(text_of(&[0xFF, 0x00, 0x80, 0x81]), Err(ReadError::NoText));
        assert_eq!(text_of(b""), Err(ReadError::Empty));
    }
}
