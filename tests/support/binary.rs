//! The built program, run as a person at a shell runs it, with a data folder of its own.

use std::ffi::OsStr;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::OnceLock;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use tempfile::TempDir;

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
        let profile = test.parent().and_then(Path::parent).expect("the profile's folder");
        let name = profile.file_name().and_then(OsStr::to_str).expect("a profile's name");
        let target = profile.parent().expect("the folder of builds");
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
        let built = Command::new(cargo)
            .args(["build", "--quiet", "--package", "wrackline", "--profile", if name == "debug" { "dev" } else { name }])
            .arg("--target-dir")
            .arg(target)
            .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
            .output()
            .expect("cargo runs");
        assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
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
        Self { folder: tempfile::tempdir().expect("a folder") }
    }

    /// A shell with a practice place in a zone, whose keeper is Ada.
    ///
    /// # Panics
    /// When the place cannot be made.
    #[must_use]
    pub fn practice(zone: &str) -> Self {
        let shell = Self::new();
        shell.run(&["init", "--zone", zone, "--keeper", "Ada", "--practice"]).done();
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
        command.args(arguments).current_dir(self.folder()).env("NO_COLOR", "1").env_remove("RUST_LOG");
        for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("WRACKLINE_")) {
            command.env_remove(name);
        }
        command.env("WRACKLINE_DATA", "data").env("WRACKLINE_BIND", "127.0.0.1:0");
        command
    }

    /// Runs a command.
    ///
    /// # Panics
    /// When it cannot be started.
    #[must_use]
    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.command(arguments).output().expect("the program starts").into()
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
        let mut child = self.command(&["serve"]).stderr(Stdio::piped()).spawn().expect("the program starts");
        let lines = follow(child.stderr.take().expect("its standard error"));
        let mut serve = Serve { child, lines, port: 0 };
        let open = serve.wait_for("address=127.0.0.1:");
        let port = open.rsplit(':').next().and_then(|port| port.trim().parse().ok());
        serve.port = port.unwrap_or_else(|| panic!("no port in {open}"));
        serve
    }
}

fn follow(stream: impl Read + Send + 'static) -> Receiver<String> {
    let (sender, lines) = channel();
    std::thread::spawn(move || {
        for line in BufReader::new(stream).lines().map_while(Result::ok) {
            if sender.send(line).is_err() {
                break;
            }
        }
    });
    lines
}

/// A process that serves; it is killed when this is dropped.
pub struct Serve {
    child: Child,
    lines: Receiver<String>,
    port: u16,
}

impl Drop for Serve {
    fn drop(&mut self) {
        self.kill();
    }
}

impl Serve {
    /// Waits for a line of its log.
    ///
    /// # Panics
    /// When none comes.
    pub fn wait_for(&mut self, text: &str) -> String {
        let until = Instant::now() + PATIENCE;
        let mut seen = Vec::new();
        while let Ok(line) = self.lines.recv_timeout(until.saturating_duration_since(Instant::now())) {
            if line.contains(text) {
                return line;
            }
            seen.push(line);
        }
        panic!("{text} does not come in its log: {seen:?}");
    }

    /// Ends it at once, as a crash does.
    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    /// Asks it to stop; its exit code and how long it took.
    ///
    /// # Panics
    /// When it does not stop.
    pub fn stop(&mut self) -> (Option<i32>, Duration) {
        let begun = Instant::now();
        let pid = self.child.id().to_string();
        assert!(Command::new("kill").args(["-TERM", &pid]).status().expect("kill runs").success());
        while begun.elapsed() < PATIENCE {
            if let Some(status) = self.child.try_wait().expect("its state") {
                return (status.code(), begun.elapsed());
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        panic!("it does not stop");
    }

    /// Enters by a link; the session's cookie.
    ///
    /// # Panics
    /// When the link lets nobody in.
    #[must_use]
    pub fn enter(&self, link: &str) -> String {
        let (_, token) = link.trim_end().rsplit_once("/enter/").expect("a link");
        let reply = self.request(&format!("GET /enter/{token}"), "", "");
        let cookie = reply.lines().find_map(|line| line.strip_prefix("set-cookie: "));
        let cookie = cookie.unwrap_or_else(|| panic!("no cookie: {reply}"));
        cookie.split(';').next().unwrap_or("").to_owned()
    }

    /// Opens a stream and reads its head; the connection is given back to be kept open.
    ///
    /// # Panics
    /// When the connection fails.
    #[must_use]
    pub fn open_stream(&self, what: &str, cookie: &str) -> (String, TcpStream) {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("a connection");
        stream.set_read_timeout(Some(PATIENCE)).expect("a limit");
        let host = format!("127.0.0.1:{}", self.port);
        let head = format!("{what} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
        stream.write_all(head.as_bytes()).expect("the request is sent");
        let mut piece = [0; 1024];
        let read = stream.read(&mut piece).expect("a head");
        (String::from_utf8_lossy(&piece[..read]).into_owned(), stream)
    }

    /// One request and its reply, head and body.
    ///
    /// # Panics
    /// When the connection fails.
    #[must_use]
    pub fn request(&self, what: &str, cookie: &str, body: &str) -> String {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("a connection");
        stream.set_read_timeout(Some(PATIENCE)).expect("a limit");
        let (host, length) = (format!("127.0.0.1:{}", self.port), body.len());
        let head = format!("{what} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n");
        let more = format!("Cookie: {cookie}\r\nContent-Type: application/json\r\nContent-Length: {length}\r\n\r\n");
        stream.write_all(format!("{head}{more}{body}").as_bytes()).expect("the request is sent");
        let mut reply = String::new();
        stream.read_to_string(&mut reply).expect("a reply");
        reply
    }
}
