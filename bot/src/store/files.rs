//! Files that appear whole or not at all.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};

use tokio::fs;

use super::{Result, StoreError};

/// What went wrong with a file, as the store tells it.
pub(super) fn failed(doing: &'static str, error: io::Error) -> StoreError {
    match error.kind() {
        io::ErrorKind::StorageFull => StoreError::Full,
        _ => StoreError::Other {
            doing,
            source: error.into(),
        },
    }
}

/// Gives a complete file its name, so that a file of that name is always complete.
pub(super) async fn put_in_place(part: &Path, file: &Path) -> io::Result<()> {
    fs::rename(part, file).await?;
    sync(folder_of(file)).await
}

/// Sees a file or folder on the disk.
pub(super) async fn sync(path: &Path) -> io::Result<()> {
    fs::File::open(path).await?.sync_all().await
}

/// That there is no file of a name yet.
pub(super) async fn refuse_existing(file: &Path, doing: &'static str) -> Result<()> {
    if fs::try_exists(file).await.map_err(|error| failed(doing, error))? {
        let why = format!("{} exists already", file.display());
        return Err(failed(doing, io::Error::new(io::ErrorKind::AlreadyExists, why)));
    }
    Ok(())
}

/// Removes what may be there.
pub(super) async fn remove_if_there(file: &Path) -> io::Result<()> {
    unless_absent(fs::remove_file(file).await)
}

/// That a file is not there is no error.
pub(super) fn unless_absent(done: io::Result<()>) -> io::Result<()> {
    match done {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        done => done,
    }
}

/// A file beside another one, by its ending.
pub(super) fn beside(file: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(file);
    name.push(suffix);
    PathBuf::from(name)
}

fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}
