//! What no file may hold, how long it may be, and that none lies there for nothing.

use std::fs;
use std::path::PathBuf;

use super::{extension, files, root, rust::Source, shipped, shown};

/// The longest file, in lines.
const LINES_MAX: usize = 500;

fn all_sources() -> Vec<PathBuf> {
    let folders = ["bot", "core", "tests", "migrations"];
    folders
        .into_iter()
        .flat_map(files)
        .filter(|path| !shown(path).starts_with("tests/data/"))
        .collect()
}

#[test]
fn one_file_alone_reads_a_clock() {
    let mut readers = Vec::new();
    for (path, source) in shipped("bot/src").into_iter().chain(shipped("core/src")) {
        if source.code.contains("::now(") || source.code.contains("::now)") {
            readers.push(path);
        }
    }
    assert_eq!(readers, ["bot/src/clock.rs"]);
    for path in files("tests").iter().filter(|path| extension(path) == "rs") {
        let code = Source::read(&fs::read_to_string(path).expect("a source")).code;
        for clock in [
            "Utc::now",
            "SystemTime::now",
            "Timestamp::now",
            "Zoned::now",
            "Local::now",
        ] {
            assert!(!code.contains(clock), "{}: {clock}", shown(path));
        }
    }
}

#[test]
fn nothing_is_left_undone() {
    let mut checked = 0;
    for path in all_sources().iter().filter(|path| extension(path) == "rs") {
        let code = Source::read(&fs::read_to_string(path).expect("a source")).code;
        for word in [
            "todo!",
            "unimplemented!",
            "dbg!",
            "#[ignore",
            "unsafe {",
            "unsafe fn",
        ] {
            assert!(!code.contains(word), "{}: {word}", shown(path));
        }
        checked += 1;
    }
    assert!(checked > 150, "{checked} files");
}

#[test]
fn no_file_is_too_long_to_be_read() {
    let kinds = ["rs", "js", "css", "html", "ftl", "toml", "sql", "md"];
    let long = all_sources()
        .into_iter()
        .filter(|path| kinds.contains(&extension(path)))
        .filter_map(|path| {
            let lines = fs::read_to_string(&path).expect("text").lines().count();
            (lines >= LINES_MAX).then(|| format!("{}: {lines} lines", shown(&path)))
        });
    assert_eq!(long.collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn every_file_of_data_is_used() {
    let mut texts = String::new();
    for path in ["core", "bot", "tests"]
        .into_iter()
        .flat_map(files)
        .filter(|path| extension(path) == "rs")
    {
        for (_, text) in Source::read(&fs::read_to_string(path).expect("a source")).strings {
            texts.push_str(&text);
            texts.push('\n');
        }
    }
    let data = files("tests/data");
    assert!(data.len() >= 6, "{data:?}");
    for path in data {
        let shown = shown(&path);
        let name = shown.strip_prefix("tests/").expect("a file of the tests");
        assert!(texts.contains(name), "no test reads {shown}");
    }
}

#[test]
fn every_module_of_the_tests_is_run() {
    let tests = root().join("tests");
    let main = fs::read_to_string(tests.join("main.rs")).expect("main.rs");
    let modules: Vec<&str> = main
        .lines()
        .filter_map(|line| line.strip_prefix("mod ")?.strip_suffix(';'))
        .collect();
    for entry in fs::read_dir(&tests).expect("the tests") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_stem()
            .and_then(|name| name.to_str())
            .expect("a name")
            .to_owned();
        let is_module = extension(&path) == "rs" || path.join("mod.rs").exists();
        if is_module && name != "main" {
            assert!(modules.contains(&name.as_str()), "{name} is in no test binary");
        }
    }
}

#[test]
fn what_a_newcomer_reads_is_there() {
    for name in [
        "README.md",
        "CHANGELOG.md",
        "DEVELOPERS.md",
        "migrations/README.md",
    ] {
        let text = fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(text.starts_with("# ") && text.len() > 300, "{name}");
    }
}
