//! Everything that can be wished for, as values, and the one table that names it.
//!
//! Drawing only pushes commands; they run after drawing, in one place. Buttons, keys, tooltips and the list of keys
//! all read [`TABLE`].

mod own;
mod table;
mod tune;

use std::ops::Range;
use std::path::PathBuf;

use handspan_core::arrangement::{Edit, LieScope};
use handspan_core::grip::{BassChoice, Filter, Order};
use handspan_core::neck::{Place as NeckPlace, StringIndex};
use handspan_core::plan::Lie;
use handspan_core::time::Ticks;
use handspan_formats::musicxml::PartChoice;
use handspan_sheet::SheetOptions;

pub use own::{OWN, OwnWish, own_digits};
pub use table::{Entry, Shortcut, TABLE, entries, entry_of, is_heard_in, key_name};
pub use tune::{Caret, NewTune, Page, Rise, TuneWish};

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
    /// Choose how the tune lies on the guitar.
    Lie(LieWish),
    /// Choose a passage, or none.
    Select(Option<Range<Ticks>>),
    /// Widen the passage by a bar to the right, or narrow it.
    Widen(bool),
    /// Write and mend the tune.
    Tune(TuneWish),
    /// A place on the neck was clicked: each place of the window takes it in its own way.
    Neck(NeckPlace),
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

/// What to do about keys, tunings and capo positions.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LieWish {
    /// Shows their table among the routes, or the routes again.
    Show(bool),
    /// Compares them.
    Compare,
    /// Chooses what is compared.
    Within(LieScope),
    /// Ends the comparison and keeps what it has found.
    Stop,
    /// Plays the tune that way.
    Take(Lie),
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
    /// Asks what a new tune is like.
    New,
    /// Begins it.
    Begin(NewTune),
    /// Asks for a tune or project.
    Open,
    /// Opens this one.
    OpenAt(PathBuf),
    /// Reads the lead sheet that is open anew, with these parts as melody, bass line and hook.
    ReadParts(PartChoice),
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
    /// Nothing glides, or fingers do.
    LessMotion,
}
