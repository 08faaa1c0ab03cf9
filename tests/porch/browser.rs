//! A browser without a window, driven as a hand would drive it.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use fantoccini::elements::Element;
use fantoccini::wd::{PrintConfiguration, PrintMargins};
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;

const BROWSER: &str = "/usr/bin/chromium";
const DRIVER: &str = "/usr/bin/chromedriver";

/// How long anything on the page may take before a test gives up.
const PATIENCE: Duration = Duration::from_secs(15);

/// Whether there is a browser. Where there is none, a check that counts fails, and any other says what it left out.
pub(crate) fn is_there(test: &str) -> bool {
    let missing: Vec<&str> = [BROWSER, DRIVER]
        .into_iter()
        .filter(|path| !Path::new(path).exists())
        .collect();
    if missing.is_empty() {
        return true;
    }
    let missing = missing.join(" and ");
    assert!(
        std::env::var("CI").as_deref() != Ok("true"),
        "{test} needs {missing}: tests/install.sh installs them"
    );
    // Past the test runner, which would keep it to itself.
    let told = format!("skipped: {test}, for want of {missing}; tests/install.sh installs them\n");
    std::io::stderr()
        .write_all(told.as_bytes())
        .expect("standard error takes it");
    false
}

/// The driver's process; it is killed when this is dropped.
pub(crate) struct Driver {
    child: Child,
    port: u16,
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Driver {
    /// Starts the driver on a free port.
    pub(crate) fn start() -> Self {
        let mut command = Command::new(DRIVER);
        command
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        let mut child = command.spawn().expect("the driver starts");
        let mut lines = BufReader::new(child.stdout.take().expect("its output"))
            .lines()
            .map_while(Result::ok);
        let port = lines.find_map(|line| {
            let (_, port) = line.split_once("started successfully on port ")?;
            port.trim_end_matches('.').parse().ok()
        });
        // Read on, so that it never writes to nobody.
        std::thread::spawn(move || lines.for_each(drop));
        Self {
            child,
            port: port.expect("the driver says its port"),
        }
    }
}

/// One browser, with cookies and files of its own.
#[derive(Clone)]
pub(crate) struct Browser {
    client: Client,
    _folder: Arc<TempDir>,
}

impl Browser {
    /// Opens a browser.
    pub(crate) async fn open(driver: &Driver) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let data = format!("--user-data-dir={}", folder.path().display());
        let arguments = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--window-size=500,800",
            &data,
        ];
        let options = json!({"binary": BROWSER, "args": arguments});
        let wanted = serde_json::Map::from_iter([("goog:chromeOptions".to_owned(), options)]);
        let url = format!("http://127.0.0.1:{}", driver.port);
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(wanted)
            .connect(&url)
            .await
            .expect("a browser opens");
        Self {
            client,
            _folder: Arc::new(folder),
        }
    }

    /// Closes it; its processes end.
    pub(crate) async fn close(self) {
        self.client.close().await.expect("the browser closes");
    }

    /// Goes to an address.
    pub(crate) async fn go(&self, url: &str) {
        self.client.goto(url).await.expect("the page loads");
    }

    /// The page as it is printed on A4 with its own margins.
    pub(crate) async fn print(&self) -> Vec<u8> {
        let margins = PrintMargins {
            top: 0.9,
            bottom: 0.9,
            left: 1.0,
            right: 1.0,
        };
        let how = PrintConfiguration::builder()
            .margins(margins)
            .shrink_to_fit(false);
        let how = how.build().expect("a way to print");
        self.client.print(how).await.expect("the page is printed")
    }

    /// A picture of what the window shows.
    pub(crate) async fn picture(&self) -> Vec<u8> {
        self.client.screenshot().await.expect("a picture")
    }

    /// Waits until there is an element.
    pub(crate) async fn find(&self, xpath: &str) -> Element {
        let wait = self
            .client
            .wait()
            .at_most(PATIENCE)
            .every(Duration::from_millis(40));
        match wait.for_element(Locator::XPath(xpath)).await {
            Ok(element) => element,
            Err(error) => panic!(
                "{xpath} does not come ({error}); the page shows:\n{}",
                self.text().await
            ),
        }
    }

    /// How many elements there are now.
    pub(crate) async fn count(&self, xpath: &str) -> usize {
        self.client
            .find_all(Locator::XPath(xpath))
            .await
            .expect("a search")
            .len()
    }

    /// Waits for an element and clicks it.
    pub(crate) async fn click(&self, xpath: &str) {
        self.find(xpath)
            .await
            .click()
            .await
            .unwrap_or_else(|error| panic!("{xpath}: {error}"));
    }

    /// Waits for an element and types into it.
    pub(crate) async fn keys(&self, xpath: &str, keys: &str) {
        self.find(xpath)
            .await
            .send_keys(keys)
            .await
            .unwrap_or_else(|error| panic!("{xpath}: {error}"));
    }

    /// What a script returns.
    pub(crate) async fn ask(&self, script: &str) -> Value {
        self.client
            .execute(script, Vec::new())
            .await
            .unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// Waits until a script returns true.
    pub(crate) async fn until(&self, condition: &str) {
        let script = format!(
            "const done = arguments[arguments.length - 1], end = performance.now() + {}; \
             const look = () => {{ if ({condition}) done(true); \
             else if (performance.now() > end) done(false); else setTimeout(look, 30); }}; look();",
            PATIENCE.as_millis()
        );
        let came = self.client.execute_async(&script, Vec::new()).await;
        let came = came.unwrap_or_else(|error| panic!("{condition}: {error}"));
        assert!(
            came == Value::Bool(true),
            "{condition} does not come true; the page shows:\n{}",
            self.text().await
        );
    }

    /// All that the page shows.
    pub(crate) async fn text(&self) -> String {
        self.ask("return document.body.innerText")
            .await
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }
}
