//! The built program, run as a person at a shell runs it, with a data folder of its own.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;
use std::time::Duration;

use tempfile::TempDir;

mod serve;

pub use self::serve::Serve;

/// How long anything that a process does may take before a test gives up.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// The path of the program, which is built once, in the profile of the running test.
///
/// # Panics
/// When it cannot be built.
pub fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        let test = std::env::current_exe().expect("the test's own path");
        // A test stands in `deps` of the profile's folder, a program in the folder itself.
        let profile = test
            .parent()
            .and_then(|folder| {
                if folder.ends_with("deps") {
                    folder.parent()
                } else {
                    Some(folder)
                }
            })
            .expect("the profile's folder");
        let name = profile
            .file_name()
            .and_then(OsStr::to_str)
            .expect("a profile's name");
        let target = profile.parent().expect("the folder of builds");
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
        let mut build = Command::new(cargo);
        // What cargo tells a test of its own package looks like a changed setting to build scripts that read it, and
        // half of the dependencies would be built anew each time.
        let own = |name: &str| name.starts_with("CARGO_PKG_") || name.starts_with("CARGO_MANIFEST_");
        for (name, _) in std::env::vars_os().filter(|(name, _)| own(&name.to_string_lossy())) {
            build.env_remove(name);
        }
        let built = build
            .args([
                "build",
                "--quiet",
                "--package",
                "wrackline",
                "--profile",
                if name == "debug" { "dev" } else { name },
            ])
            .arg("--target-dir")
            .arg(target)
            .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
            .output()
            .expect("cargo runs");
        assert!(
            built.status.success(),
            "{}",
            String::from_utf8_lossy(&built.stderr)
        );
        profile.join("wrackline")
    })
}

/// How a command ended.
#[derive(Clone, Debug)]
pub struct Ran {
    /// Its exit code; -1 when a signal ended it.
    pub code: i32,
    /// What it printed.
    pub out: String,
    /// What it complained of.
    pub err: String,
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }
}

impl Ran {
    /// Holds that it was done; what it printed.
    ///
    /// # Panics
    /// When it was not.
    #[track_caller]
    pub fn done(self) -> String {
        assert_eq!((self.code, self.err.as_str()), (0, ""), "{}", self.out);
        self.out
    }

    /// Holds that it ended with this code, with one line on standard error and nothing printed; that line.
    ///
    /// # Panics
    /// When it ended otherwise.
    #[track_caller]
    pub fn failed(self, code: i32) -> String {
        assert_eq!((self.code, self.out.as_str()), (code, ""), "{}", self.err);
        assert_eq!(self.err.lines().count(), 1, "{}", self.err);
        assert!(!self.err.contains("panicked"), "{}", self.err);
        self.err.trim_end().to_owned()
    }

    /// What was printed, as JSON.
    ///
    /// # Panics
    /// When it is none, or more than one line.
    #[must_use]
    pub fn json(&self) -> serde_json::Value {
        assert_eq!(self.out.lines().count(), 1, "{} {}", self.out, self.err);
        serde_json::from_str(&self.out).expect("JSON")
    }
}

/// A shell in a folder of its own.
pub struct Shell {
    folder: TempDir,
}

impl Default for Shell {
    fn default() -> Self {
        Self::new()
    }
}

impl Shell {
    /// A shell in an empty folder.
    ///
    /// # Panics
    /// When there is no temporary folder to be had.
    #[must_use]
    pub fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a folder"),
        }
    }

    /// A shell with a practice place in a zone, whose keeper is Ada.
    ///
    /// # Panics
    /// When the place cannot be made.
    #[must_use]
    pub fn practice(zone: &str) -> Self {
        let shell = Self::new();
        shell
            .run(&["init", "--zone", zone, "--keeper", "Ada", "--practice"])
            .done();
        shell
    }

    /// The folder of the shell.
    #[must_use]
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// The database's file.
    #[must_use]
    pub fn database(&self) -> PathBuf {
        self.folder().join("data/wrackline.db")
    }

    /// A command of the program, ready to be run.
    #[must_use]
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(program());
        command
            .args(arguments)
            .current_dir(self.folder())
            .env("NO_COLOR", "1")
            .env_remove("RUST_LOG");
        for (name, _) in
            std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("WRACKLINE_"))
        {
            command.env_remove(name);
        }
        command
            .env("WRACKLINE_DATA", "data")
            .env("WRACKLINE_BIND", "127.0.0.1:0");
        command
    }

    /// Runs a command.
    ///
    /// # Panics
    /// When it cannot be started.
    #[must_use]
    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.command(arguments)
            .output()
            .expect("the program starts")
            .into()
    }

    /// Says a line as Ada, at a time.
    #[must_use]
    pub fn say(&self, now: &str, line: &str) -> Ran {
        self.say_as("Ada", now, line)
    }

    /// Says a line as someone, at a time.
    #[must_use]
    pub fn say_as(&self, who: &str, now: &str, line: &str) -> Ran {
        self.run(&["say", "--as", who, "--now", now, line])
    }

    /// What a line is answered as JSON, at a time.
    #[must_use]
    pub fn ask(&self, now: &str, line: &str) -> Ran {
        self.run(&["say", "--as", "Ada", "--now", now, "--json", line])
    }

    /// Starts to serve, and waits until the porch is open.
    ///
    /// # Panics
    /// When it does not open.
    #[must_use]
    pub fn serve(&self) -> Serve {
        self.serve_by(self.command(&["serve"]))
    }

    /// Starts to serve by a command made ready before, and waits until the porch is open.
    ///
    /// # Panics
    /// When it does not open.
    #[must_use]
    pub fn serve_by(&self, command: Command) -> Serve {
        Serve::start(command)
    }
}
