//! Every control has a name of its own, in every place and under everything that floats over the window.

use crate::support::Walk;
use eframe::egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use handspan_app::command::{Command, FileWish, Page, TuneWish, ViewWish};
use handspan_app::folders::Folders;
use handspan_app::session::Place;

/// What can be operated. Lists are checked row by row, as rows are options.
const CONTROLS: [Role; 10] = [
    Role::Button,
    Role::Tab,
    Role::CheckBox,
    Role::RadioButton,
    Role::ComboBox,
    Role::TextInput,
    Role::MultilineTextInput,
    Role::SpinButton,
    Role::Slider,
    Role::ListBoxOption,
];

/// Controls without a name, and names that several controls of one kind share.
fn faults(walk: &Walk) -> Vec<String> {
    let mut faults = Vec::new();
    for role in CONTROLS {
        let nodes = walk.window.query_all_by_role(role);
        let mut names: Vec<String> =
            nodes.map(|node| node.accesskit_node().label().unwrap_or_default()).collect();
        names.sort();
        faults.extend(
            names.iter().filter(|name| name.trim().is_empty()).map(|_| format!("{role:?} without a name")),
        );
        faults.extend(
            names
                .windows(2)
                .filter(|pair| pair[0] == pair[1])
                .map(|pair| format!("{role:?} “{}” twice", pair[0])),
        );
    }
    faults
}

#[test]
fn every_control_has_a_name_of_its_own() {
    let mut walk = Walk::within(Folders::none());
    for place in Place::ALL {
        walk.wish(Command::View(ViewWish::Place(*place)));
        let tabs = walk.window.query_all_by_role(Role::Tab).count();
        assert_eq!(tabs, Place::ALL.len());
        assert_eq!(faults(&walk), [""; 0], "{place:?}");
    }
    walk.wish(Command::View(ViewWish::Place(Place::Tune)));
    for page in Page::ALL {
        walk.wish(Command::Tune(TuneWish::Show(page)));
        assert_eq!(faults(&walk), [""; 0], "{page:?}");
    }
    for over in [ViewWish::Keys, ViewWish::Search, ViewWish::Preferences, ViewWish::Guitar] {
        walk.wish(Command::View(over));
        assert_eq!(faults(&walk), [""; 0], "{over:?}");
        walk.wish(Command::View(over));
    }
}

#[test]
fn boxes_of_key_and_metre_are_named_by_their_captions() {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::View(ViewWish::Place(Place::Tune)));
    walk.wish(Command::Tune(TuneWish::Show(Page::Bar)));
    for name in ["key", "metre"] {
        walk.window.get_by_role_and_label(Role::ComboBox, name);
    }
    walk.wish(Command::Tune(TuneWish::Show(Page::Note)));
    walk.wish(Command::File(FileWish::New));
    for name in ["key", "metre"] {
        walk.window.get_by_role_and_label(Role::ComboBox, name);
    }
    assert_eq!(faults(&walk), [""; 0]);
}
