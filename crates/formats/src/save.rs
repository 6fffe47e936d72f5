//! Reading whole files and writing them so that a crash never leaves half of one.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::Path;

use crate::error::ReadError;

/// The largest file that is read, in bytes; the longest scores of the test material have 2 MB.
pub(crate) const LARGEST: u64 = 64 << 20;

/// Reads a whole file.
///
/// # Errors
/// A sentence that names the file and says why it can't be read: not there, a folder, no permission, too large.
pub fn load(path: impl AsRef<Path>) -> Result<Vec<u8>, ReadError> {
    let path = path.as_ref();
    if path.is_dir() {
        return Err(unreadable(path, "it is a folder; name a file in it"));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
        .map_err(|error| unreadable(path, &reason(&error)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(ReadError::TooLarge { limit: LARGEST >> 20 });
    }
    Ok(bytes)
}

fn unreadable(path: &Path, reason: &str) -> ReadError {
    ReadError::Unreadable { path: path.to_owned(), reason: reason.to_owned() }
}

/// Why the operating system refused, in a player's words.
fn reason(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "you have no permission to read it".to_owned(),
        _ => error.to_string(),
    }
}

/// Writes a file as a whole or not at all: first beside its place, then, once safely on disk, into its place.
///
/// # Errors
/// Why the operating system refused, in a player's words; the old file is then untouched.
pub fn save(path: impl AsRef<Path>, bytes: impl AsRef<[u8]>) -> io::Result<()> {
    let path = path.as_ref();
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    replace(path, folder, bytes.as_ref()).map_err(|error| io::Error::new(error.kind(), refusal(&error)))
}

fn replace(path: &Path, folder: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = tempfile::Builder::new().prefix(".saving-").tempfile_in(folder)?;
    file.write_all(bytes)?;
    keep_permissions(path, file.as_file())?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|error| error.error)?;
    sync_folder(folder)
}

/// Why nothing could be written, in a player's words.
fn refusal(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::NotADirectory => "what should be its folder is a file".to_owned(),
        ErrorKind::PermissionDenied => "you have no permission to write there".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "nothing can be written on that disk".to_owned(),
        _ => error.to_string(),
    }
}

/// A file that is written anew keeps who may read it; a new one gets what the system gives new files.
fn keep_permissions(path: &Path, file: &File) -> io::Result<()> {
    match fs::metadata(path) {
        Ok(metadata) => file.set_permissions(metadata.permissions()),
        Err(_) => readable_by_others(file),
    }
}

/// Temporary files are private to their owner; a saved piece is a file like any other.
#[cfg(unix)]
fn readable_by_others(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_others(_: &File) -> io::Result<()> {
    Ok(())
}

/// The new name is only safe once the folder is on disk.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn saves_over_an_old_file_and_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("piece.handspan");
        save(&path, "first").unwrap();
        save(&path, "second").unwrap();
        assert_eq!(load(&path).unwrap(), b"second");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_that_is_not_there_is_said_to_be_missing() {
        let folder = tempfile::tempdir().unwrap();
        let refused = save(folder.path().join("attic/piece"), "").unwrap_err();
        assert_eq!(refused.to_string(), "there is no such folder");
    }

    #[test]
    fn a_failed_save_keeps_the_old_file() {
        let folder = tempfile::tempdir().unwrap();
        let occupied = folder.path().join("piece");
        fs::create_dir(&occupied).unwrap();
        fs::write(occupied.join("inside"), "kept").unwrap();
        assert!(save(&occupied, "new").is_err());
        assert!(save(folder.path().join("no/such/folder"), "new").is_err());
        assert_eq!(fs::read(occupied.join("inside")).unwrap(), b"kept");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn what_cannot_be_read_is_a_sentence() {
        let folder = tempfile::tempdir().unwrap();
        let message = load(folder.path()).unwrap_err().to_string();
        assert!(message.ends_with("it is a folder; name a file in it"), "{message}");
        let message = load(folder.path().join("none.mxl")).unwrap_err().to_string();
        assert!(message.ends_with("none.mxl can't be read: there is no such file"), "{message}");
        let denied = reason(&io::Error::from(ErrorKind::PermissionDenied));
        assert_eq!(denied, "you have no permission to read it");
    }
}
