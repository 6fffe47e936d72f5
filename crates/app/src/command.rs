//! Everything that can be wished for, as values, and the one table that names it.
//!
//! Drawing only pushes commands; they run after drawing, in one place. Buttons, keys, tooltips and the list of keys
//! all read [`TABLE`].

use std::ops::Range;
use std::path::PathBuf;

use eframe::egui::{Key, Modifiers};
use handspan_core::arrangement::Edit;
use handspan_core::grip::{BassChoice, Filter, Order};
use handspan_core::neck::{Place as Spot, StringIndex};
use handspan_core::time::Ticks;
use handspan_sheet::SheetOptions;

use crate::file::Kind;
use crate::preferences::Surroundings;
use crate::session::{NeckLabels, Place, Zoom};

/// A wish.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Command {
    /// A change of the work.
    Edit(Edit),
    /// A change of the work while a number is dragged.
    EditInGesture(Edit),
    /// The number has been let go.
    CloseGesture,
    /// Take the last step back.
    Undo,
    /// Do it again.
    Redo,
    /// Stand elsewhere in the tune.
    Go(Go),
    /// Look at other grips of this moment.
    Browse(Browse),
    /// Put a grip of one's own together.
    Own(OwnWish),
    /// Decide something about this moment or passage.
    Lock(LockWish),
    /// Look for an easier way.
    Route(RouteWish),
    /// Choose a passage, or none.
    Select(Option<Range<Ticks>>),
    /// Widen the passage by a bar to the right, or narrow it.
    Widen(bool),
    /// The pages.
    Sheet(SheetWish),
    /// Files.
    File(FileWish),
    /// Work left by a crash.
    Recover(RecoveryWish),
    /// What the window shows.
    View(ViewWish),
    /// What the player prefers.
    Prefer(Preference),
}

/// Where to stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Go {
    Next,
    Previous,
    NextBar,
    PreviousBar,
    First,
    Last,
    /// The moment at a time.
    To(Ticks),
}

/// Which grip to look at.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Browse {
    /// The next harder one.
    Down,
    /// The next easier one.
    Up,
    /// One of the list.
    Row(usize),
    /// The one of the route.
    Back,
    /// Rank them otherwise.
    By(Order),
    /// Show only some of them.
    Only(Filter),
    /// Show all of them.
    Everything,
}

/// What to do with a grip of one's own.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OwnWish {
    /// Begins with the grip shown, or leaves it.
    Toggle,
    /// Puts a finger there, or takes it away.
    Touch(Spot),
    /// Goes to a string.
    String(StringIndex),
    /// Goes to the string above.
    StringAbove,
    /// Goes to the string below.
    StringBelow,
    /// A fret higher on the string gone to; from silence to the open string.
    Higher,
    /// A fret lower; from the open string to silence.
    Lower,
    /// The string gone to falls silent.
    Silence,
    /// Every string falls silent.
    Clear,
    /// Another way to hold it.
    NextWay,
    /// This way to hold it.
    Way(usize),
    /// The nearest grip that can be held.
    Nearest,
    /// The grip of the route again.
    Again,
}

/// What to lock or release.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LockWish {
    /// Takes the grip that is looked at.
    Take,
    /// Locks this grip, or releases it.
    Grip,
    /// Locks the melody to the string it is on, or releases it.
    MelodyString,
    /// Locks the melody to a string.
    MelodyOn(StringIndex),
    /// Locks the bass as it sounds, or releases it.
    Bass,
    /// Locks the bass to a choice.
    BassTo(Option<BassChoice>),
    /// Locks every grip of the passage.
    KeepPassage,
    /// Releases every lock of the passage.
    ReleasePassage,
}

/// Where to look for the easiest way.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RouteWish {
    /// In the whole tune.
    Tune,
    /// In the passage.
    Passage,
    /// In several really different ways, in the passage or the whole tune.
    Compare,
    /// Looks at one of them.
    LookAt(usize),
    /// Takes one of them.
    Take(usize),
    /// Puts them away.
    PutAway,
    /// Nowhere any more.
    Stop,
}

/// How the pages are read and what stands on them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum SheetWish {
    /// The next page.
    NextPage,
    /// The page before.
    PageBefore,
    /// A page, counted from 0.
    Read(usize),
    /// A step larger.
    Larger,
    /// A step smaller.
    Smaller,
    /// A size.
    Zoom(Zoom),
    /// Other choices for what is printed.
    Choose(SheetOptions),
}

/// Files in and out.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FileWish {
    /// Asks for a tune or project.
    Open,
    /// Opens this one.
    OpenAt(PathBuf),
    /// Saves the project where it is.
    Save,
    /// Asks where to save it.
    SaveAs,
    /// Saves it here.
    SaveAt(PathBuf),
    /// Asks where to put the sheet, as a kind of file.
    Export(Kind),
    /// Puts it here, in the kind that the ending names.
    ExportTo(PathBuf),
    /// Opens a copy of the project that another window works on.
    OpenCopy,
    /// Leaves it to the other window.
    LeaveHeld,
}

/// What becomes of work that a crash has left.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum RecoveryWish {
    TakeBack,
    Discard,
}

/// What the window shows.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ViewWish {
    /// Another place in the middle of the window.
    Place(Place),
    /// The list of keys, or not.
    Keys,
    /// What stands in the marks on the neck.
    Labels(NeckLabels),
    /// The next of fingers, notes and degrees.
    NextLabels,
    /// Where the fingers go next, or where they came from.
    Ahead,
    /// Neck and chord boxes the other way round.
    LeftHanded,
    /// The search for commands, or not.
    Search,
    /// The preferences, or not.
    Preferences,
    /// The guitar's set-up, or not.
    Guitar,
    /// No notice any more.
    DismissNotice,
    /// No first steps any more.
    DismissFirstSteps,
}

/// What the player prefers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Preference {
    /// The other of light and dark.
    OtherSurroundings,
    /// Light, dark, or as the system has it.
    Surroundings(Surroundings),
    /// Text a step larger, or smaller.
    TextLarger(bool),
    /// Text of so many percent.
    Text(u16),
    /// Neck and boxes for the left-handed, or for the right-handed.
    LeftHanded,
    /// Nothing glides, or fingers do.
    LessMotion,
}

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

const fn key(key: Key) -> Shortcut {
    (Modifiers::NONE, key)
}

const fn shift(key: Key) -> Shortcut {
    (Modifiers::SHIFT, key)
}

const fn ctrl(key: Key) -> Shortcut {
    (Modifiers::COMMAND, key)
}

const fn ctrl_shift(key: Key) -> Shortcut {
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), key)
}

const fn entry(command: Command, name: &'static str, keys: &'static [Shortcut], tip: &'static str) -> Entry {
    Entry { command, name, keys, tip }
}

/// Groups of commands with their heads, in the order of the list of keys.
pub const TABLE: [(&str, &[Entry]); 9] = [
    ("Places", PLACES),
    ("Step through the tune", STEPS),
    ("Browse the grips of a moment", GRIPS),
    ("Decide", LOCKS),
    ("See more on the neck", NECK),
    ("Passages and routes", ROUTES),
    ("Read the sheet", SHEET),
    ("Work and files", WORK),
    ("Window", WINDOW),
];

const PLACES: &[Entry] = &[
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

const NECK: &[Entry] = &[
    entry(
        Command::View(ViewWish::NextLabels),
        "Fingers, notes or degrees",
        &[key(Key::N)],
        "Changes what stands in the marks: fingers, names of notes, degrees of the chord",
    ),
    entry(
        Command::View(ViewWish::Ahead),
        "What comes next",
        &[key(Key::A)],
        "Shows where the fingers go next instead of where they came from",
    ),
    entry(
        Command::View(ViewWish::LeftHanded),
        "Left-handed",
        &[shift(Key::L)],
        "Draws the neck and the chord boxes the other way round",
    ),
    entry(
        Command::Own(OwnWish::Toggle),
        "Build your own grip",
        &[key(Key::O)],
        "Begins with the grip shown: click strings and frets, see at once who can hold it",
    ),
];

/// What keys do while a grip of one's own is built; there they go before those of [`TABLE`].
pub const OWN: (&str, &[Entry]) = ("While you build your own grip", OWN_KEYS);

const OWN_KEYS: &[Entry] = &[
    entry(Command::Own(OwnWish::Higher), "A fret higher", &[key(Key::ArrowRight)], "Moves up the string"),
    entry(
        Command::Own(OwnWish::Lower),
        "A fret lower",
        &[key(Key::ArrowLeft)],
        "Moves down the string, past the open string to silence",
    ),
    entry(
        Command::Own(OwnWish::StringAbove),
        "The string above",
        &[key(Key::ArrowUp)],
        "Goes to the next string towards the treble; the digits 1 to 9 and 0 go to a string at once",
    ),
    entry(
        Command::Own(OwnWish::StringBelow),
        "The string below",
        &[key(Key::ArrowDown)],
        "Goes to the next string towards the bass",
    ),
    entry(
        Command::Own(OwnWish::Silence),
        "Silence the string",
        &[key(Key::Backspace), key(Key::Delete)],
        "The string does not sound",
    ),
    entry(
        Command::Own(OwnWish::Clear),
        "Silence all strings",
        &[shift(Key::Backspace)],
        "Begins with nothing",
    ),
    entry(Command::Own(OwnWish::NextWay), "Other fingers", &[key(Key::F)], "Shows the next way to hold it"),
    entry(
        Command::Own(OwnWish::Nearest),
        "The nearest that can be held",
        &[key(Key::G)],
        "Changes as few strings as it takes",
    ),
    entry(
        Command::Own(OwnWish::Toggle),
        "Leave your own grip",
        &[key(Key::Escape), key(Key::O)],
        "Shows the grip of the route again",
    ),
];

/// What the keys of digits do while a grip of one's own is built: each goes to a string.
pub fn own_digits() -> impl Iterator<Item = (Key, Command)> {
    const DIGITS: [Key; 10] = [
        Key::Num1,
        Key::Num2,
        Key::Num3,
        Key::Num4,
        Key::Num5,
        Key::Num6,
        Key::Num7,
        Key::Num8,
        Key::Num9,
        Key::Num0,
    ];
    let strings = StringIndex::all(DIGITS.len()).map(|string| Command::Own(OwnWish::String(string)));
    DIGITS.into_iter().zip(strings)
}

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
        &[key(Key::G)],
        "Tuning of your own, strings, frets, scale length",
    ),
    entry(
        Command::View(ViewWish::Preferences),
        "Preferences",
        &[ctrl(Key::Comma)],
        "Light or dark, size of text, left-handed, less motion",
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
        Command::Prefer(Preference::LeftHanded),
        "Left-handed or right-handed",
        &[],
        "Mirrors the neck and the chord boxes",
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

/// A key as it stands on a keyboard: `Ctrl+Shift+Z`, `→`.
pub fn key_name((modifiers, key): Shortcut) -> String {
    let mut name = String::new();
    if modifiers.command {
        name.push_str("Ctrl+");
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
        other => other.name(),
    });
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key_or_a_name() {
        let mut keys: Vec<String> = entries().flat_map(|e| e.keys).map(|k| key_name(*k)).collect();
        let mut names: Vec<&str> = entries().map(|e| e.name).collect();
        let count = (keys.len(), names.len());
        keys.sort();
        keys.dedup();
        names.sort_unstable();
        names.dedup();
        assert_eq!((keys.len(), names.len()), count);
    }

    #[test]
    fn keys_are_named_as_on_a_keyboard() {
        let entry = entry_of(&Command::Redo).unwrap();
        assert_eq!(entry.keys.iter().map(|k| key_name(*k)).collect::<Vec<_>>(), ["Ctrl+Shift+Z", "Ctrl+Y"]);
    }
}
