//! A house's porch over HTTP: served on a port of this machine, and asked for a page.

use sha2::{Digest, Sha256};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};

use crate::house::TestHouse;

/// A porch of a house that is served until it is dropped.
pub struct Served {
    /// Its port on this machine.
    pub port: u16,
    task: tokio::task::JoinHandle<()>,
}

impl Drop for Served {
    fn drop(&mut self) {
        self.task.abort();
    }
}

/// Serves a house's porch.
///
/// # Panics
/// When no port is free.
pub async fn serve(house: &TestHouse) -> Served {
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let port = listener.local_addr().expect("an address").port();
    let router = wrackline::web::router(house.app.web(wrackline::web::loopback_hosts(port), None));
    let task = tokio::spawn(async move {
        wrackline::web::serve(listener, router, std::future::pending())
            .await
            .expect("it is served");
    });
    Served { port, task }
}

/// What a page says to whoever has this session: its status and its text.
///
/// # Panics
/// When there is no reply.
pub async fn get(house: &TestHouse, path: &str, session: &str) -> (u16, String) {
    let served = serve(house).await;
    let port = served.port;
    let mut stream = TcpStream::connect(("127.0.0.1", port))
        .await
        .expect("a connection");
    let request = format!(
        "GET {path} HTTP/1.1\r\nConnection: close\r\nHost: 127.0.0.1:{port}\r\nCookie: wrackline={session}\r\n\r\n"
    );
    stream.write_all(request.as_bytes()).await.expect("it is sent");
    let mut text = String::new();
    stream.read_to_string(&mut text).await.expect("a reply");
    let status = text.split(' ').nth(1).and_then(|status| status.parse().ok());
    (status.expect("a status"), text)
}

/// A key as the store knows it.
#[must_use]
pub fn hash(text: &str) -> String {
    let digest = Sha256::digest(text);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
