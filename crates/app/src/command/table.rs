//! The one table that names every command: what it is called, its keys, and a sentence on what it does.

use eframe::egui::{Key, Modifiers};

use super::{Browse, Command, FileWish, Go, LieWish, LockWish, Preference, RouteWish, SheetWish, ViewWish};
use crate::file::Kind;
use crate::session::{Place, Zoom};

/// A row of the table: a command with its name, keys and a sentence on what it does.
#[derive(Debug)]
pub struct Entry {
    /// The command.
    pub command: Command,
    /// What it is called on buttons and in the list of keys.
    pub name: &'static str,
    /// The keys, the first one is shown.
    pub keys: &'static [Shortcut],
    /// What it does.
    pub tip: &'static str,
}

/// A key with its modifiers.
pub type Shortcut = (Modifiers, Key);

pub(super) const fn key(key: Key) -> Shortcut {
    (Modifiers::NONE, key)
}

pub(super) const fn shift(key: Key) -> Shortcut {
    (Modifiers::SHIFT, key)
}

pub(super) const fn ctrl(key: Key) -> Shortcut {
    (Modifiers::COMMAND, key)
}

pub(super) const fn ctrl_shift(key: Key) -> Shortcut {
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), key)
}

pub(super) const fn entry(
    command: Command,
    name: &'static str,
    keys: &'static [Shortcut],
    tip: &'static str,
) -> Entry {
    Entry { command, name, keys, tip }
}

/// Groups of commands with their heads, in the order of the list of keys.
pub const TABLE: [(&str, &[Entry]); 13] = [
    ("Places", PLACES),
    ("Step through the tune", STEPS),
    ("Browse the grips of a moment", GRIPS),
    ("Decide", LOCKS),
    ("See more on the neck", super::own::NECK),
    ("Passages and routes", ROUTES),
    ("Write the tune", super::tune::WRITE),
    ("Mend the tune", super::tune::MEND),
    ("Bass line and hooks", super::tune::LINES),
    ("Bars of the tune", super::tune::BARS),
    ("Read the sheet", SHEET),
    ("Work and files", WORK),
    ("Window", WINDOW),
];

const PLACES: &[Entry] = &[
    entry(
        Command::View(ViewWish::Place(Place::Tune)),
        "Tune",
        &[ctrl(Key::Num1)],
        "Writes the tune, or mends what was read from a file",
    ),
    entry(
        Command::View(ViewWish::Place(Place::Voicings)),
        "Voicings",
        &[ctrl(Key::Num2)],
        "Steps moment by moment and browses the grips",
    ),
    entry(
        Command::View(ViewWish::Place(Place::Route)),
        "Route",
        &[ctrl(Key::Num3)],
        "Compares ways through the passage or the tune, and shows what is hard where",
    ),
    entry(
        Command::View(ViewWish::Place(Place::Sheet)),
        "Sheet",
        &[ctrl(Key::Num4)],
        "Shows the pages as they print",
    ),
];

const STEPS: &[Entry] = &[
    entry(Command::Go(Go::Next), "Next moment", &[key(Key::ArrowRight)], "Steps to the next moment"),
    entry(Command::Go(Go::Previous), "Moment before", &[key(Key::ArrowLeft)], "Steps to the moment before"),
    entry(
        Command::Go(Go::NextBar),
        "Next bar",
        &[ctrl(Key::ArrowRight), key(Key::PageDown)],
        "Steps to the next bar",
    ),
    entry(
        Command::Go(Go::PreviousBar),
        "Bar before",
        &[ctrl(Key::ArrowLeft), key(Key::PageUp)],
        "Steps to the beginning of this bar, or the bar before",
    ),
    entry(Command::Go(Go::First), "First moment", &[key(Key::Home)], "Goes to the beginning"),
    entry(Command::Go(Go::Last), "Last moment", &[key(Key::End)], "Goes to the end"),
];

const GRIPS: &[Entry] = &[
    entry(
        Command::Browse(Browse::Down),
        "Next grip",
        &[key(Key::ArrowDown)],
        "Shows the next grip of the list on the neck",
    ),
    entry(
        Command::Browse(Browse::Up),
        "Grip before",
        &[key(Key::ArrowUp)],
        "Shows the grip before it on the neck",
    ),
    entry(
        Command::Lock(LockWish::Take),
        "Take this grip",
        &[key(Key::Enter)],
        "Locks the grip shown and finds the easiest route through it",
    ),
    entry(
        Command::Browse(Browse::Back),
        "Back to the route's grip",
        &[key(Key::Escape)],
        "Shows the grip of the route again",
    ),
];

const LOCKS: &[Entry] = &[
    entry(
        Command::Lock(LockWish::Grip),
        "Lock the grip",
        &[key(Key::L)],
        "Keeps these strings, frets and fingers, or releases them",
    ),
    entry(
        Command::Lock(LockWish::MelodyString),
        "Lock the melody's string",
        &[key(Key::M)],
        "Keeps the melody on this string, or releases it",
    ),
    entry(
        Command::Lock(LockWish::Bass),
        "Lock the bass",
        &[key(Key::B)],
        "Keeps this bass note, or releases it",
    ),
];

const ROUTES: &[Entry] = &[
    entry(
        Command::Widen(true),
        "Widen the passage",
        &[shift(Key::ArrowRight)],
        "Selects this bar, then one bar more",
    ),
    entry(Command::Widen(false), "Narrow the passage", &[shift(Key::ArrowLeft)], "Selects one bar less"),
    entry(
        Command::Route(RouteWish::Tune),
        "Find the easiest route",
        &[key(Key::R)],
        "Finds the easiest way through the whole tune; locks are kept",
    ),
    entry(
        Command::Route(RouteWish::Passage),
        "Find it for the passage",
        &[shift(Key::R)],
        "Releases the grips locked in the passage, finds the easiest way between its ends and locks it",
    ),
    entry(
        Command::Route(RouteWish::Compare),
        "Compare different routes",
        &[key(Key::C)],
        "Finds the best routes that are really different, for the passage or the whole tune",
    ),
    entry(
        Command::Lie(LieWish::Show(true)),
        "Keys, tunings, capos",
        &[shift(Key::C)],
        "Compares how the tune lies on the guitar in other keys and tunings and with a capo",
    ),
    entry(
        Command::Lie(LieWish::Compare),
        "Compare keys, tunings, capos",
        &[],
        "Arranges the tune in every key, tuning and capo position chosen, the easiest first",
    ),
    entry(
        Command::Lock(LockWish::KeepPassage),
        "Keep the passage",
        &[key(Key::K)],
        "Locks every grip of the passage",
    ),
    entry(
        Command::Lock(LockWish::ReleasePassage),
        "Release the passage",
        &[key(Key::U)],
        "Releases every lock of the passage",
    ),
];

const SHEET: &[Entry] = &[
    entry(Command::Sheet(SheetWish::NextPage), "Next page", &[ctrl(Key::PageDown)], "Turns to the next page"),
    entry(
        Command::Sheet(SheetWish::PageBefore),
        "Page before",
        &[ctrl(Key::PageUp)],
        "Turns back to the page before",
    ),
    entry(
        Command::Sheet(SheetWish::Larger),
        "Pages larger",
        &[key(Key::Plus), key(Key::Equals)],
        "Shows the pages larger; Ctrl and the wheel do the same",
    ),
    entry(Command::Sheet(SheetWish::Smaller), "Pages smaller", &[key(Key::Minus)], "Shows the pages smaller"),
    entry(
        Command::Sheet(SheetWish::Zoom(Zoom::Width)),
        "Pages in full width",
        &[key(Key::W)],
        "Makes a page as wide as there is room",
    ),
    entry(
        Command::Sheet(SheetWish::Zoom(Zoom::Page)),
        "Whole page",
        &[shift(Key::W)],
        "Shows a page from top to bottom",
    ),
    entry(
        Command::File(FileWish::Export(Kind::Pdf)),
        "Export PDF…",
        &[ctrl(Key::E)],
        "Writes the sheet for paper and for reading on a screen",
    ),
    entry(
        Command::File(FileWish::Export(Kind::Svg)),
        "Export SVG…",
        &[],
        "Writes the sheet as pictures, one a page",
    ),
    entry(
        Command::File(FileWish::Export(Kind::Png)),
        "Export PNG…",
        &[],
        "Writes the sheet as pictures of 200 dots an inch, one a page",
    ),
    entry(
        Command::File(FileWish::Export(Kind::MusicXml)),
        "Export MusicXML…",
        &[],
        "Writes the notes, fingers and places for notation programs",
    ),
];

const WORK: &[Entry] = &[
    entry(Command::Undo, "Undo", &[ctrl(Key::Z)], "Takes the last step back"),
    entry(
        Command::Redo,
        "Redo",
        &[ctrl_shift(Key::Z), ctrl(Key::Y)],
        "Does the step again that was taken back",
    ),
    entry(
        Command::File(FileWish::New),
        "New tune…",
        &[ctrl(Key::N)],
        "Begins a tune from nothing, to be written by keys and on the neck",
    ),
    entry(
        Command::File(FileWish::Open),
        "Open…",
        &[ctrl(Key::O)],
        "Opens a lead sheet (MusicXML) or a project; a file can be dropped on the window too",
    ),
    entry(
        Command::File(FileWish::Save),
        "Save",
        &[ctrl(Key::S)],
        "Saves the tune with all your decisions as a project",
    ),
    entry(
        Command::File(FileWish::SaveAs),
        "Save as…",
        &[ctrl_shift(Key::S)],
        "Saves the project under another name",
    ),
];

const WINDOW: &[Entry] = &[
    entry(
        Command::View(ViewWish::Search),
        "Search commands",
        &[key(Key::Slash), ctrl(Key::F)],
        "Finds a command by its name and runs it",
    ),
    entry(
        Command::View(ViewWish::Keys),
        "All keys",
        &[key(Key::Questionmark), key(Key::F1)],
        "Lists every command with its key",
    ),
    entry(
        Command::View(ViewWish::Guitar),
        "Set up the guitar",
        &[ctrl(Key::G)],
        "Tuning of your own, strings, frets, scale length",
    ),
    entry(
        Command::View(ViewWish::Preferences),
        "Preferences",
        &[ctrl(Key::Comma)],
        "Light or dark, size of text, what the neck shows, left-handed, less motion",
    ),
    entry(
        Command::Prefer(Preference::OtherSurroundings),
        "Light or dark",
        &[shift(Key::D)],
        "Changes between light and dark",
    ),
    entry(
        Command::Prefer(Preference::TextLarger(true)),
        "Larger text",
        &[ctrl(Key::Plus), ctrl(Key::Equals)],
        "Makes text and all around it larger, up to 200 %",
    ),
    entry(
        Command::Prefer(Preference::TextLarger(false)),
        "Smaller text",
        &[ctrl(Key::Minus)],
        "Makes text and all around it smaller, down to 75 %",
    ),
    entry(
        Command::Prefer(Preference::Text(100)),
        "Text of the usual size",
        &[ctrl(Key::Num0)],
        "Goes back to 100 %",
    ),
    entry(
        Command::Prefer(Preference::LessMotion),
        "Less motion",
        &[],
        "Lets nothing glide, or fingers glide again",
    ),
];

/// The row of a command.
pub fn entry_of(command: &Command) -> Option<&'static Entry> {
    entries().find(|entry| entry.command == *command)
}

/// Every row.
pub fn entries() -> impl Iterator<Item = &'static Entry> {
    TABLE.iter().flat_map(|(_, entries)| entries.iter())
}

/// Whether a command's keys belong to it in a place of the window: writing the tune has letters, figures and arrows of
/// its own, and the pages have theirs.
pub const fn is_heard_in(command: &Command, place: Place) -> bool {
    match (place, command) {
        (Place::Sheet, Command::Sheet(_)) | (Place::Tune, Command::Tune(_)) => true,
        (
            Place::Tune,
            Command::Go(_)
            | Command::Browse(_)
            | Command::Own(_)
            | Command::Lock(_)
            | Command::Route(_)
            | Command::Lie(_)
            | Command::View(ViewWish::NextLabels | ViewWish::Ahead | ViewWish::LeftHanded),
        )
        | (_, Command::Tune(_) | Command::Sheet(_)) => false,
        _ => true,
    }
}

/// A key as it stands on a keyboard: `Ctrl+Shift+Z`, `→`.
pub fn key_name((modifiers, key): Shortcut) -> String {
    let mut name = String::new();
    if modifiers.command {
        name.push_str("Ctrl+");
    }
    if modifiers.alt {
        name.push_str("Alt+");
    }
    if modifiers.shift {
        name.push_str("Shift+");
    }
    name.push_str(match key {
        Key::ArrowRight => "→",
        Key::ArrowLeft => "←",
        Key::ArrowUp => "↑",
        Key::ArrowDown => "↓",
        Key::Questionmark => "?",
        Key::PageDown => "Page down",
        Key::PageUp => "Page up",
        Key::Escape => "Esc",
        Key::Backspace => "Backspace",
        Key::Period => ".",
        Key::Equals => "=",
        other => other.name(),
    });
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key_in_one_place_or_a_name() {
        for place in Place::ALL {
            let heard = entries().filter(|e| is_heard_in(&e.command, *place));
            let mut keys: Vec<String> = heard.flat_map(|e| e.keys).map(|k| key_name(*k)).collect();
            let count = keys.len();
            keys.sort();
            keys.dedup();
            assert_eq!(keys.len(), count, "{place:?}");
        }
        let mut names: Vec<&str> = entries().map(|e| e.name).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count);
    }

    #[test]
    fn keys_are_named_as_on_a_keyboard() {
        let entry = entry_of(&Command::Redo).unwrap();
        assert_eq!(entry.keys.iter().map(|k| key_name(*k)).collect::<Vec<_>>(), ["Ctrl+Shift+Z", "Ctrl+Y"]);
    }
}
