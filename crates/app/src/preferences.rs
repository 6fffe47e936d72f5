//! Tastes that outlive the window: how it looks, how large, for which hand, and what was open last.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::folders::Folders;
use crate::session::NeckLabels;

/// What the player prefers. A file of an older or newer program keeps what both know.
#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(default)]
pub struct Preferences {
    /// Light or dark surroundings.
    pub surroundings: Surroundings,
    /// The size of text and all around it, in percent.
    pub text: u16,
    /// What stands in the marks on the neck.
    pub labels: NeckLabels,
    /// Whether neck and chord boxes are drawn for a left-handed player.
    pub left_handed: bool,
    /// Whether nothing glides.
    pub less_motion: bool,
    /// Whether the first lines of what to try have been put away.
    pub knows_first_steps: bool,
    /// The file opened or saved last.
    pub last_file: Option<PathBuf>,
    /// Width and height of the window, in points.
    pub window: (f32, f32),
}

/// Light or dark.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug, Default)]
pub enum Surroundings {
    /// As the system has it.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

impl Default for Preferences {
    fn default() -> Self {
        Self {
            surroundings: Surroundings::System,
            text: 100,
            labels: NeckLabels::Fingers,
            left_handed: false,
            less_motion: false,
            knows_first_steps: false,
            last_file: None,
            window: (1280.0, 800.0),
        }
    }
}

impl Preferences {
    /// The steps of larger and smaller text, in percent.
    pub const TEXT: [u16; 8] = [75, 85, 100, 115, 130, 150, 175, 200];

    /// What was preferred last, and a sentence where the file cannot be read.
    pub fn read(folders: &Folders) -> (Self, Option<String>) {
        let Some(path) = folders.preferences().filter(|path| path.exists()) else {
            return (Self::default(), None);
        };
        let read = std::fs::read_to_string(&path).map_err(|fault| fault.to_string());
        let read = read.and_then(|text| ron::from_str(&text).map_err(|fault| fault.to_string()));
        match read {
            Ok(preferences) => (Self::within_bounds(preferences), None),
            Err(fault) => {
                let sentence =
                    format!("Your preferences could not be read and start anew: {fault}, {}", path.display());
                (Self::default(), Some(sentence))
            }
        }
    }

    /// Keeps them for the next time.
    ///
    /// # Errors
    /// A sentence that names the file and why nothing was written.
    pub fn write(&self, folders: &Folders) -> Result<(), String> {
        let Some(path) = folders.preferences() else {
            return Ok(());
        };
        let kept = || {
            let text = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
                .map_err(|fault| fault.to_string())?;
            if let Some(folder) = path.parent() {
                std::fs::create_dir_all(folder).map_err(|fault| fault.to_string())?;
            }
            handspan_formats::save(&path, text.as_bytes()).map_err(|fault| fault.to_string())
        };
        kept().map_err(|fault| format!("Your preferences could not be kept: {fault}, {}", path.display()))
    }

    /// The next step of text above or below.
    pub fn text_stepped(&self, larger: bool) -> u16 {
        let mut steps = Self::TEXT.into_iter();
        let step = if larger { steps.find(|s| *s > self.text) } else { steps.rfind(|s| *s < self.text) };
        step.unwrap_or(self.text)
    }

    /// A file can be edited by hand; nothing in it may make the window unusable.
    fn within_bounds(mut self) -> Self {
        self.text = self.text.clamp(Self::TEXT[0], Self::TEXT[7]);
        let usual = Self::default().window;
        let within = |length: f32, usual: f32| {
            if length.is_finite() { length.clamp(640.0, 16_000.0) } else { usual }
        };
        self.window = (within(self.window.0, usual.0), within(self.window.1, usual.1));
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn preferences_are_kept_and_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders::within(&folder.path().join("not there yet"));
        assert_eq!(Preferences::read(&folders), (Preferences::default(), None));
        let preferences = Preferences {
            surroundings: Surroundings::Dark,
            text: 150,
            left_handed: true,
            last_file: Some(PathBuf::from("quay.handspan")),
            ..Preferences::default()
        };
        preferences.write(&folders).unwrap();
        assert_eq!(Preferences::read(&folders), (preferences, None));
    }

    #[test]
    fn a_broken_file_is_named_and_an_odd_one_is_kept_within_bounds() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders::within(folder.path());
        std::fs::write(folders.preferences().unwrap(), "(text: 4").unwrap();
        let (preferences, sentence) = Preferences::read(&folders);
        assert_eq!(preferences, Preferences::default());
        assert!(sentence.unwrap().contains("preferences.ron"));
        std::fs::write(folders.preferences().unwrap(), "(text: 4000, window: (1.0, inf))").unwrap();
        let (preferences, sentence) = Preferences::read(&folders);
        assert_eq!((preferences.text, preferences.window, sentence), (200, (640.0, 800.0), None));
    }

    #[test]
    fn text_goes_in_steps() {
        let at = |text| Preferences { text, ..Preferences::default() };
        assert_eq!((at(100).text_stepped(true), at(100).text_stepped(false)), (115, 85));
        assert_eq!((at(200).text_stepped(true), at(75).text_stepped(false)), (200, 75));
    }
}
