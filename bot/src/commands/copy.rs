//! `wrackline backup` and `wrackline restore`.

use std::path::PathBuf;

use clap::Args;

use super::{Failure, Outcome, lock, one_line, open_existing, print};
use crate::config::Config;
use crate::store::sqlite::restore;

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
        if let Some(folder) = config.database.parent() {
            std::fs::create_dir_all(folder)?;
        }
        let Some(_lock) = lock(&config.database)? else {
            return Err(Failure::Refused(
                "A serve runs on this database: stop it before putting a copy back.".to_owned(),
            ));
        };
        let aside = restore(&self.file, &config.database).await.map_err(|error| {
            Failure::Refused(format!(
                "{} could not be put back: {}.",
                self.file.display(),
                one_line(&error.to_string())
            ))
        })?;
        print(&format!("{} is put back.", self.file.display()));
        if let Some(aside) = aside {
            print(&format!("What was there before is in {}.", aside.display()));
        }
        Ok(())
    }
}
