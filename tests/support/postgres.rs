//! A PostgreSQL server of the test binary's own, and a database of a test's own on it.
//!
//! The server is started when the first test asks for it. A shell watches over it: once the test binary is gone,
//! however it ended, the server is stopped and its folder removed.

use std::io::{BufRead, BufReader, Read};
use std::net::TcpListener;
use std::os::unix::process::CommandExt;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

/// A user of the server who has to give a password: see [`Server::guarded`].
pub const GUARDED: &str = "guarded";
/// That user's password.
pub const PASSWORD: &str = "hush-and-listen";

/// Starts the server on a port, tells when it is ready, and stops it when nobody holds the standard input any more.
const WATCH: &str = r#"
set -eu
trap '' INT HUP TERM
bin=$1 port=$2
folder=$(mktemp -d)
cd "$folder"
trap '"$bin/pg_ctl" -D "$folder/data" -m immediate stop >/dev/null 2>&1 || true; cd /; rm -rf "$folder"' EXIT
"$bin/initdb" -A trust -U postgres -E UTF8 --no-locale --no-sync -D data >log 2>&1 || { cat log >&2; exit 1; }
{ echo "host all guarded 127.0.0.1/32 scram-sha-256"; cat data/pg_hba.conf; } >hba
cat hba >data/pg_hba.conf
"$bin/pg_ctl" -D data -l server -o "-p $port -c listen_addresses=127.0.0.1 -c unix_socket_directories=$folder \
-c fsync=off -c max_connections=200 -c lc_messages=C" -w start >log 2>&1 </dev/null || { cat log server >&2; exit 1; }
echo ready
cat >/dev/null
"#;

/// The running server.
#[derive(Debug)]
pub struct Server {
    port: u16,
    programs: PathBuf,
    // Its standard input is the thread that the server's life hangs on.
    _watch: Child,
}

/// The server of this test binary.
///
/// # Panics
/// When there is no PostgreSQL on this machine or it does not start: `tests/install.sh` installs it.
pub fn server() -> &'static Server {
    static SERVER: OnceLock<Server> = OnceLock::new();
    SERVER.get_or_init(|| {
        let mut complaints = String::new();
        // Between the choice of a free port and its use somebody else may take it.
        for _ in 0..3 {
            match Server::start() {
                Ok(server) => return server,
                Err(complaint) => complaints.push_str(&complaint),
            }
        }
        panic!("PostgreSQL does not start: {complaints}");
    })
}

/// The address of a new, empty database.
///
/// # Panics
/// As [`server`].
#[must_use]
pub fn database() -> String {
    server().database()
}

impl Server {
    fn start() -> Result<Self, String> {
        let programs = programs();
        let port = TcpListener::bind("127.0.0.1:0")
            .and_then(|listener| listener.local_addr())
            .expect("a free port")
            .port();
        let mut watch = as_nobody_special("sh")
            .args(["-c", WATCH, "watch"])
            .arg(&programs)
            .arg(port.to_string())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            // What ends the tests from the keyboard must not end the watch before the server.
            .process_group(0)
            .spawn()
            .expect("a shell starts");
        let mut told = String::new();
        let out = watch.stdout.take().expect("its output");
        BufReader::new(out).read_line(&mut told).expect("text");
        if told.trim() == "ready" {
            return Ok(Self {
                port,
                programs,
                _watch: watch,
            });
        }
        let mut complaint = String::new();
        let mut err = watch.stderr.take().expect("its complaints");
        err.read_to_string(&mut complaint).expect("text");
        watch.wait().expect("its end");
        Err(complaint)
    }

    /// The port that it listens on, at 127.0.0.1.
    #[must_use]
    pub fn port(&self) -> u16 {
        self.port
    }

    /// The address of a new, empty database.
    ///
    /// # Panics
    /// When it cannot be made.
    #[must_use]
    pub fn database(&self) -> String {
        let name = self.fresh("postgres");
        format!("postgres://postgres@127.0.0.1:{}/{name}", self.port)
    }

    /// The name of a new, empty database of a user who has to give a password: [`GUARDED`], [`PASSWORD`].
    ///
    /// # Panics
    /// When it cannot be made.
    #[must_use]
    pub fn guarded(&self) -> String {
        static MADE: OnceLock<()> = OnceLock::new();
        MADE.get_or_init(|| self.run(&format!("CREATE ROLE {GUARDED} LOGIN PASSWORD '{PASSWORD}'")));
        self.fresh(GUARDED)
    }

    fn fresh(&self, owner: &str) -> String {
        static NUMBER: AtomicU32 = AtomicU32::new(1);
        let name = format!("house_{}", NUMBER.fetch_add(1, Ordering::Relaxed));
        self.run(&format!("CREATE DATABASE {name} OWNER {owner}"));
        name
    }

    fn run(&self, statement: &str) {
        let done = Command::new(self.programs.join("psql"))
            .args(["-X", "-q", "-h", "127.0.0.1", "-U", "postgres", "-p"])
            .arg(self.port.to_string())
            .args(["-c", statement, "postgres"])
            .output()
            .expect("psql starts");
        assert!(
            done.status.success(),
            "{statement}: {}",
            String::from_utf8_lossy(&done.stderr)
        );
    }
}

/// The folder of the newest PostgreSQL's programs.
fn programs() -> PathBuf {
    let versions = std::fs::read_dir("/usr/lib/postgresql").into_iter().flatten();
    let newest = versions
        .filter_map(|entry| {
            let path = entry.ok()?.path();
            let version: u32 = path.file_name()?.to_str()?.parse().ok()?;
            path.join("bin/initdb")
                .exists()
                .then_some((version, path.join("bin")))
        })
        .max();
    newest
        .expect("PostgreSQL under /usr/lib/postgresql: tests/install.sh installs it")
        .1
}

/// A command as a user who is not root, which the server refuses to be.
fn as_nobody_special(program: &str) -> Command {
    use std::os::unix::fs::MetadataExt;
    let is_root = std::fs::metadata("/proc/self").is_ok_and(|own| own.uid() == 0);
    let mut command = Command::new(if is_root { "setpriv" } else { program });
    if is_root {
        command.args([
            "--reuid",
            "postgres",
            "--regid",
            "postgres",
            "--clear-groups",
            program,
        ]);
    }
    // The folder of the tests may be one that this user may not enter.
    command.current_dir("/");
    command
}
