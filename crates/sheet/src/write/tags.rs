//! The structure of a PDF for reading aloud: headings, paragraphs, and a figure with a description for every system,
//! chord and move. What stands at every page's foot is left out of it.

use std::num::NonZeroU16;

use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag, Tag, TagGroup, TagTree};

use crate::frame::{Group, Role};

/// What a group of the page is in the structure.
enum Kind {
    Heading(NonZeroU16),
    Paragraph,
    Figure,
    Artifact,
}

const FIRST: NonZeroU16 = NonZeroU16::MIN;
const SECOND: NonZeroU16 = FIRST.saturating_add(1);

const fn kind(role: Role) -> Option<Kind> {
    match role {
        Role::Title => Some(Kind::Heading(FIRST)),
        Role::Section | Role::PracticeHeading => Some(Kind::Heading(SECOND)),
        Role::Paragraph | Role::Remark(_) => Some(Kind::Paragraph),
        Role::System(_) | Role::NamedBox | Role::Move(_) => Some(Kind::Figure),
        Role::Footer => Some(Kind::Artifact),
        _ => None,
    }
}

/// The structure as it grows while pages are drawn.
///
/// The library allows no marked content inside another: what is open is closed before anything else begins.
pub(super) struct Tags {
    tree: TagTree,
    /// The nodes that are open, the innermost last; none stands for what is no part of the structure.
    open: Vec<Option<TagGroup>>,
    /// What is to follow the outermost open node.
    after: Vec<TagGroup>,
    marking: bool,
}

impl Tags {
    /// A structure without anything.
    pub(super) fn new() -> Self {
        Self { tree: TagTree::new(), open: Vec::new(), after: Vec::new(), marking: false }
    }

    /// The whole structure.
    pub(super) fn finish(self) -> TagTree {
        self.tree
    }

    /// Begins a group; true where [`Self::leave`] has to follow.
    pub(super) fn enter(&mut self, group: &Group, surface: &mut Surface<'_>) -> bool {
        let Some(kind) = kind(group.role) else { return false };
        self.pause(surface);
        self.open.push(match kind {
            Kind::Heading(level) => Some(TagGroup::new(Tag::Hn(level, None))),
            Kind::Paragraph => Some(TagGroup::new(Tag::P)),
            Kind::Figure => Some(TagGroup::new(Tag::Figure(group.description.clone()))),
            Kind::Artifact => None,
        });
        true
    }

    /// Ends a group: a heading stands before the figure it is drawn in, a remark behind it.
    pub(super) fn leave(&mut self, group: &Group, surface: &mut Surface<'_>) {
        self.pause(surface);
        let Some(node) = self.open.pop().flatten() else { return };
        match (self.open.is_empty(), group.role) {
            (false, Role::Remark(_)) => self.after.push(node),
            (false, _) => self.tree.push(node),
            (true, _) => {
                self.tree.push(node);
                for following in self.after.drain(..) {
                    self.tree.push(following);
                }
            }
        }
    }

    /// Sees to it that what is drawn next is marked as part of the innermost node.
    pub(super) fn mark(&mut self, surface: &mut Surface<'_>) {
        if !self.marking {
            self.marking = true;
            self.start(ContentTag::Span(SpanTag::empty()), surface);
        }
    }

    /// Marks what is drawn next as one word, until [`Self::pause`].
    pub(super) fn word(&mut self, word: &str, surface: &mut Surface<'_>) {
        self.pause(surface);
        self.marking = true;
        self.start(ContentTag::Span(SpanTag::empty().with_actual_text(Some(word))), surface);
    }

    /// Ends what is marked.
    pub(super) fn pause(&mut self, surface: &mut Surface<'_>) {
        if self.marking {
            self.marking = false;
            surface.end_tagged();
        }
    }

    fn start(&mut self, content: ContentTag<'_>, surface: &mut Surface<'_>) {
        match self.open.last_mut() {
            Some(Some(node)) => node.push(surface.start_tagged(content)),
            _ => {
                let artifact = Artifact::with_kind(ArtifactType::Other);
                surface.start_tagged(ContentTag::Artifact(artifact));
            }
        }
    }
}
