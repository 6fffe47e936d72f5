//! Where the program keeps things of its own: preferences, and unsaved work in case it ends without warning.
//!
//! The window takes the user's own folders; whoever gives none gets a window that keeps nothing.

use std::path::{Path, PathBuf};

use directories::ProjectDirs;

/// The folders, none where nothing is to be kept.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Folders {
    preferences: Option<PathBuf>,
    recovery: Option<PathBuf>,
}

impl Folders {
    /// Keeps nothing.
    pub const fn none() -> Self {
        Self { preferences: None, recovery: None }
    }

    /// The user's own, as the system says.
    pub fn of_user() -> Self {
        ProjectDirs::from("", "", "handspan").map_or_else(Self::none, |folders| Self {
            preferences: Some(folders.config_dir().to_path_buf()),
            recovery: Some(folders.state_dir().unwrap_or_else(|| folders.data_local_dir()).join("recovery")),
        })
    }

    /// Everything within one folder.
    pub fn within(folder: &Path) -> Self {
        Self { preferences: Some(folder.to_path_buf()), recovery: Some(folder.join("recovery")) }
    }

    /// The file of the preferences.
    pub fn preferences(&self) -> Option<PathBuf> {
        self.preferences.as_ref().map(|folder| folder.join("preferences.ron"))
    }

    /// The folder of unsaved work.
    pub fn recovery(&self) -> Option<&Path> {
        self.recovery.as_deref()
    }
}
