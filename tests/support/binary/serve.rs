//! A process that serves: its log, its porch, and its end.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use super::PATIENCE;

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
    log: Vec<String>,
    port: u16,
}

impl Drop for Serve {
    fn drop(&mut self) {
        self.kill();
    }
}

impl Serve {
    /// Runs a command that serves, and waits until the porch is open.
    ///
    /// # Panics
    /// When it does not open.
    pub fn start(mut command: Command) -> Self {
        let mut child = command
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let lines = follow(child.stderr.take().expect("its standard error"));
        let mut serve = Self {
            child,
            lines,
            log: Vec::new(),
            port: 0,
        };
        let open = serve.wait_for("address=127.0.0.1:");
        let port = open.rsplit(':').next().and_then(|port| port.trim().parse().ok());
        serve.port = port.unwrap_or_else(|| panic!("no port in {open}"));
        serve
    }

    /// Where its porch is: an address and a port.
    #[must_use]
    pub fn address(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    /// Waits for a line of its log.
    ///
    /// # Panics
    /// When none comes.
    pub fn wait_for(&mut self, text: &str) -> String {
        let until = Instant::now() + PATIENCE;
        while let Ok(line) = self
            .lines
            .recv_timeout(until.saturating_duration_since(Instant::now()))
        {
            self.log.push(line.clone());
            if line.contains(text) {
                return line;
            }
        }
        panic!("{text} does not come in its log: {:?}", self.log);
    }

    /// Ends it at once; all that it ever logged.
    pub fn whole_log(&mut self) -> &[String] {
        self.kill();
        self.log.extend(self.lines.iter());
        &self.log
    }

    /// The number of its process.
    #[must_use]
    pub fn pid(&self) -> u32 {
        self.child.id()
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
        assert!(
            Command::new("kill")
                .args(["-TERM", &pid])
                .status()
                .expect("kill runs")
                .success()
        );
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
        let head =
            format!("{what} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n");
        let more =
            format!("Cookie: {cookie}\r\nContent-Type: application/json\r\nContent-Length: {length}\r\n\r\n");
        stream
            .write_all(format!("{head}{more}{body}").as_bytes())
            .expect("the request is sent");
        let mut reply = String::new();
        stream.read_to_string(&mut reply).expect("a reply");
        reply
    }
}
