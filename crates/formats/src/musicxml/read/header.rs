//! Title and composer.

use roxmltree::Document;

use super::element::{all, child, child_text, text};

/// The title of a score: the work's, or the movement's.
pub(super) fn title(document: &Document<'_>) -> String {
    let root = document.root_element();
    let work = child(root, "work").and_then(|work| child_text(work, "work-title"));
    let title = work.or_else(|| child_text(root, "movement-title"));
    title.unwrap_or_default().to_owned()
}

/// Who wrote it: the creator who is called composer, or the first who is called nothing.
pub(super) fn composer(document: &Document<'_>) -> String {
    let creators = || {
        let identification = child(document.root_element(), "identification");
        identification.into_iter().flat_map(|i| all(i, "creator"))
    };
    let composer = creators().find(|c| c.attribute("type") == Some("composer"));
    let nameless = || creators().find(|c| c.attribute("type").is_none());
    composer.or_else(nameless).map(text).unwrap_or_default().to_owned()
}
