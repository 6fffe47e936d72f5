//! A project is worked on in one window at a time: a hidden file beside it is locked and says by whom.
//!
//! The lock is the system's own, so that it ends with the window, however that ends. Where no file can be put beside
//! the project, or the system knows no locks, work goes on without.

use std::fs::{self, File, TryLockError};
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};

/// A project that this window works on.
#[derive(Debug)]
pub(super) struct Claim {
    project: PathBuf,
    beside: PathBuf,
    _lock: File,
}

impl Claim {
    /// Claims a project; none where that is not possible on this disk.
    ///
    /// # Errors
    /// Who works on it in another window: `anna on workbench`.
    pub(super) fn of(project: &Path) -> Result<Option<Self>, String> {
        let (Some(folder), Some(name)) = (project.parent(), project.file_name()) else {
            return Ok(None);
        };
        let beside = folder.join(format!(".{}.lock", name.to_string_lossy()));
        let Ok(mut lock) = File::options().create(true).read(true).write(true).truncate(false).open(&beside)
        else {
            return Ok(None);
        };
        match lock.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let mut who = String::new();
                lock.read_to_string(&mut who).ok();
                return Err(if who.trim().is_empty() { "somebody".to_owned() } else { who });
            }
            Err(TryLockError::Error(_)) => return Ok(None),
        }
        // Who it is only explains; the lock holds without.
        lock.set_len(0).and_then(|()| lock.write_all(who().as_bytes())).ok();
        Ok(Some(Self { project: project.to_path_buf(), beside, _lock: lock }))
    }

    /// The project.
    pub(super) fn project(&self) -> &Path {
        &self.project
    }
}

impl Drop for Claim {
    fn drop(&mut self) {
        fs::remove_file(&self.beside).ok();
    }
}

/// The player and the machine, as far as the system says.
fn who() -> String {
    let named = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
    let player = named("USER").or_else(|| named("USERNAME")).unwrap_or_else(|| "somebody".to_owned());
    let machine = fs::read_to_string("/etc/hostname").ok().or_else(|| named("COMPUTERNAME"));
    match machine.as_deref().map(str::trim).filter(|machine| !machine.is_empty()) {
        Some(machine) => format!("{player} on {machine}"),
        None => player,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_project_is_claimed_by_one_window_at_a_time() {
        let folder = tempfile::tempdir().unwrap();
        let project = folder.path().join("quay.handspan");
        let first = Claim::of(&project).unwrap().unwrap();
        assert_eq!(Claim::of(&project).err(), Some(who()));
        drop(first);
        assert!(Claim::of(&project).unwrap().is_some());
        assert!(!folder.path().join(".quay.handspan.lock").exists());
        assert!(Claim::of(&folder.path().join("no such folder/quay.handspan")).unwrap().is_none());
    }
}
