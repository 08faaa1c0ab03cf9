//! The web over a real connection: what the door turns away, and what it lets through.

use std::sync::Arc;
use std::sync::atomic::Ordering;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{broadcast, oneshot};

use super::door::{link_hash, session_hash};
use super::{WebState, loopback_hosts, router, serve};
use crate::chat::porch::PorchChat;
use crate::store::Store;
use fake::{FakeHouse, FakeStore};

mod calendar;
mod door;
mod fake;
mod sheet;
mod talk;
mod words;

/// A served porch with its insides in reach.
struct Porch {
    store: Arc<FakeStore>,
    house: Arc<FakeHouse>,
    chat: PorchChat,
    port: u16,
    end: Option<oneshot::Sender<()>>,
    served: tokio::task::JoinHandle<std::io::Result<()>>,
}

/// A response, taken apart.
struct Reply {
    status: u16,
    head: String,
    body: String,
}

impl Reply {
    fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.body).unwrap()
    }

    fn header(&self, name: &str) -> Option<&str> {
        let lines = self.head.lines().filter_map(|line| line.split_once(": "));
        lines
            .into_iter()
            .find_map(|(key, value)| key.eq_ignore_ascii_case(name).then_some(value))
    }
}

impl Porch {
    /// Serves on a free port, with a link `linkC` of place 1 for the carers 1 and 2, and a session `key-P-C` for
    /// each of them in the places 1 and 2.
    async fn open() -> Self {
        let (store, house) = (Arc::new(FakeStore::default()), Arc::new(FakeHouse::default()));
        for carer in [1, 2] {
            store
                .key_put(1, carer, &link_hash(&format!("link{carer}")), true, 1000)
                .await
                .unwrap();
            for place in [1, 2] {
                let key = session_hash(&format!("key-{place}-{carer}"));
                store.key_put(place, carer, &key, false, 1000).await.unwrap();
            }
        }
        let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
        let port = listener.local_addr().unwrap().port();
        let news = broadcast::channel(4).0;
        let chat = PorchChat {
            store: store.clone(),
            news: news.clone(),
        };
        let allowed_hosts = loopback_hosts(port);
        let state = WebState {
            store: store.clone(),
            house: house.clone(),
            news,
            allowed_hosts,
            connected: None,
        };
        let (end, ended) = oneshot::channel();
        let served = tokio::spawn(serve(listener, router(state), async {
            let _ = ended.await;
        }));
        Self {
            store,
            house,
            chat,
            port,
            end: Some(end),
            served,
        }
    }

    /// Opens a connection and sends a request, word for word.
    async fn call(&self, request: &[u8]) -> TcpStream {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).await.unwrap();
        stream.write_all(request).await.unwrap();
        stream
    }

    /// Sends a request and reads all that comes back.
    async fn raw(&self, request: impl AsRef<[u8]>) -> Reply {
        let mut bytes = Vec::new();
        self.call(request.as_ref())
            .await
            .read_to_end(&mut bytes)
            .await
            .unwrap();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        Reply {
            status,
            head: head.to_owned(),
            body: body.to_owned(),
        }
    }

    /// The request's head as a browser would send it.
    fn head(&self, method: &str, path: &str, key: &str, more: &str) -> String {
        let port = self.port;
        format!(
            "{method} {path} HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n\
             Cookie: other=1; wrackline={key}\r\n{more}\r\n"
        )
    }

    async fn get(&self, path: &str, key: &str) -> Reply {
        self.raw(self.head("GET", path, key, "")).await
    }

    async fn post(&self, path: &str, key: &str, body: &str) -> Reply {
        self.send(path, key, "application/json", body.as_bytes()).await
    }

    async fn send(&self, path: &str, key: &str, kind: &str, body: &[u8]) -> Reply {
        let (port, length) = (self.port, body.len());
        let more = format!(
            "Origin: http://localhost:{port}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\n"
        );
        let mut request = self.head("POST", path, key, &more).into_bytes();
        request.extend_from_slice(body);
        self.raw(request).await
    }

    fn heard(&self) -> usize {
        self.house.heard.load(Ordering::SeqCst)
    }
}
