//! What can be seen on the neck besides the grip, and a grip of one's own: the wishes, their rows and their keys.

use eframe::egui::Key;
use handspan_core::neck::{Place, StringIndex};

use super::table::{entry, key, shift};
use super::{Command, Entry, ViewWish};

/// What to do with a grip of one's own.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OwnWish {
    /// Begins with the grip shown, or leaves it.
    Toggle,
    /// Puts a finger there, or takes it away.
    Touch(Place),
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

/// What is seen on the neck.
pub(super) const NECK: &[Entry] = &[
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

/// What keys do while a grip of one's own is built; there they go before those of the table of all commands.
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
