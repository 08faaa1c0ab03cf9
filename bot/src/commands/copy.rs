//! `wrackline backup` and `wrackline restore`.

use std::path::{Path, PathBuf};

use clap::Args;

use super::{Failure, Outcome, lock, one_line, open_existing, print};
use crate::config::Config;
use crate::store::{StoreError, restore};

/// Write a copy of the database to a new file.
#[derive(Debug, Args)]
pub(super) struct Backup {
    /// The new file.
    file: PathBuf,
}

impl Backup {
    /// Writes the copy.
    ///
    /// # Errors
    /// Refused when the file is there already or cannot be written.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        if self.file.exists() {
            return Err(Failure::Refused(format!(
                "{} is there already: name a new file.",
                self.file.display()
            )));
        }
        let store = open_existing(config).await?;
        store.backup(&self.file).await.map_err(|error| {
            Failure::Refused(format!(
                "The copy {} could not be written: {}.",
                self.file.display(),
                one_line(&error.to_string())
            ))
        })?;
        store.close().await;
        print(&format!("A copy is in {}.", self.file.display()));
        Ok(())
    }
}

/// Put a copy back.
#[derive(Debug, Args)]
pub(super) struct Restore {
    /// The copy.
    file: PathBuf,
}

impl Restore {
    /// Puts the copy back.
    ///
    /// # Errors
    /// Refused while a serve runs, or when the file is no such copy.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        let _lock = match config.database.file() {
            Some(file) => Some(alone_with(file)?),
            // The store itself sees to it.
            None => None,
        };
        let aside = match restore(&self.file, &config.database).await {
            Ok(aside) => aside,
            Err(StoreError::Locked) => return Err(held()),
            Err(error) => {
                return Err(Failure::Refused(format!(
                    "{} could not be put back: {}.",
                    self.file.display(),
                    one_line(&error.to_string())
                )));
            }
        };
        print(&format!("{} is put back.", self.file.display()));
        if let Some(aside) = aside {
            print(&format!("What was there before is in {aside}."));
        }
        Ok(())
    }
}

/// The lock of a file that no serve has open.
fn alone_with(file: &Path) -> Result<std::fs::File, Failure> {
    if let Some(folder) = file.parent() {
        std::fs::create_dir_all(folder)?;
    }
    lock(file)?.ok_or_else(held)
}

fn held() -> Failure {
    Failure::Refused("A serve runs on this database: stop it before putting a copy back.".to_owned())
}
