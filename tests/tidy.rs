//! House checks: who may know whom, that every word is there, and that nothing lies around.

mod deploy;
mod files;
mod layers;
mod readme;
mod rust;
mod words;

use std::fs;
use std::path::{Path, PathBuf};

use self::rust::Source;

/// The folder of the workspace.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the workspace")
        .to_owned()
}

/// All files under a folder of the workspace, in order.
fn files(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display())) {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path)
            } else {
                found.push(path)
            }
        }
    }
    found.sort();
    found
}

/// A path as it is shown: from the workspace's folder.
fn shown(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

fn extension(path: &Path) -> &str {
    path.extension()
        .and_then(|extension| extension.to_str())
        .unwrap_or("")
}

/// Whether a file holds tests alone.
fn is_test(path: &Path) -> bool {
    let name = shown(path);
    name.contains("/tests/") || name.ends_with("tests.rs")
}

/// The sources under a folder that ship, without the tests at their end.
fn shipped(folder: &str) -> Vec<(String, Source)> {
    let sources = files(folder)
        .into_iter()
        .filter(|path| extension(path) == "rs" && !is_test(path));
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("a source");
        let shipped = text.split("\n#[cfg(test)]\nmod tests {").next().unwrap_or("");
        (shown(&path), Source::read(shipped))
    };
    sources.map(read).collect()
}
