//! Short ways to look into XML elements.

use roxmltree::Node;

/// The elements inside an element.
pub(super) fn children<'a, 'i: 'a>(node: Node<'a, 'i>) -> impl Iterator<Item = Node<'a, 'i>> {
    node.children().filter(Node::is_element)
}

/// The elements of one name inside an element.
pub(super) fn all<'a, 'i: 'a>(node: Node<'a, 'i>, name: &'static str) -> impl Iterator<Item = Node<'a, 'i>> {
    children(node).filter(move |child| child.tag_name().name() == name)
}

/// The first element of a name inside an element.
pub(super) fn child<'a, 'i: 'a>(node: Node<'a, 'i>, name: &'static str) -> Option<Node<'a, 'i>> {
    all(node, name).next()
}

/// Whether there is an element of a name inside an element.
pub(super) fn has(node: Node<'_, '_>, name: &'static str) -> bool {
    child(node, name).is_some()
}

/// The text of an element, without the space around it; empty where there is none.
pub(super) fn text<'a>(node: Node<'a, '_>) -> &'a str {
    node.text().unwrap_or_default().trim()
}

/// The text of the first element of a name inside an element, where it is not empty.
pub(super) fn child_text<'a>(node: Node<'a, '_>, name: &'static str) -> Option<&'a str> {
    child(node, name).map(text).filter(|text| !text.is_empty())
}

/// An attribute of an element, where it says more than nothing or `no`.
pub(super) fn says<'a>(node: Node<'a, '_>, attribute: &str) -> Option<&'a str> {
    node.attribute(attribute).filter(|value| !value.trim().is_empty() && *value != "no")
}
