//! The suite on SQLite, in a file and in memory.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use async_trait::async_trait;
use tokio::sync::Mutex;
use wrackline::store::Store;
use wrackline::store::sqlite::{SqliteStore, restore};

use super::{Adapter, suite};

struct File;

#[async_trait]
impl Adapter for File {
    async fn open(&self, folder: &Path) -> Arc<dyn Store> {
        Arc::new(
            SqliteStore::open(&folder.join("house.db"))
                .await
                .expect("a store"),
        )
    }

    async fn restore(&self, backup: &Path, folder: &Path) -> Arc<dyn Store> {
        let aside = restore(backup, &folder.join("house.db"))
            .await
            .expect("a restored file");
        assert_eq!(aside, None, "the folder was not empty");
        self.open(folder).await
    }
}

/// A folder's database in memory is found again by the folder, since only clones share it.
#[derive(Default)]
struct Memory(Mutex<HashMap<PathBuf, SqliteStore>>);

#[async_trait]
impl Adapter for Memory {
    async fn open(&self, folder: &Path) -> Arc<dyn Store> {
        let mut stores = self.0.lock().await;
        if !stores.contains_key(folder) {
            let store = SqliteStore::open_memory().await.expect("a store");
            stores.insert(folder.to_owned(), store);
        }
        Arc::new(stores[folder].clone())
    }

    async fn restore(&self, backup: &Path, folder: &Path) -> Arc<dyn Store> {
        File.restore(backup, folder).await
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_file_keeps_the_contract() {
    let count = suite(&File).await;
    eprintln!("{count} checks on a file");
    assert!(count > 50, "checks were lost");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn memory_keeps_the_contract() {
    let count = suite(&Memory::default()).await;
    eprintln!("{count} checks in memory");
    assert!(count > 50, "checks were lost");
}
