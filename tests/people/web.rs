//! The porch's door for a sitter whose span is over: neither their session nor a link lets them in.

use sha2::{Digest, Sha256};
use wrackline_tests::house::TestHouse;

use super::{SVEN, holds, north};

fn hash(text: &str) -> String {
    let digest = Sha256::digest(text);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What a page says to whoever has this session: its status and its text.
async fn get(house: &TestHouse, path: &str, key: &str) -> (u16, String) {
    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0")
        .await
        .expect("a port");
    let port = listener.local_addr().expect("an address").port();
    let router = wrackline::web::router(house.app.web(wrackline::web::loopback_hosts(port), None));
    let served =
        tokio::spawn(async move { wrackline::web::serve(listener, router, std::future::pending()).await });
    let mut stream = tokio::net::TcpStream::connect(("127.0.0.1", port))
        .await
        .expect("a connection");
    let request = format!(
        "GET {path} HTTP/1.1\r\nConnection: close\r\nHost: 127.0.0.1:{port}\r\nCookie: wrackline={key}\r\n\r\n"
    );
    stream.write_all(request.as_bytes()).await.expect("it is sent");
    let mut text = String::new();
    stream.read_to_string(&mut text).await.expect("a reply");
    served.abort();
    let status = text.split(' ').nth(1).and_then(|status| status.parse().ok());
    (status.expect("a status"), text)
}

#[tokio::test]
async fn a_session_and_a_link_end_with_the_span() {
    let house = north().await;
    let later = i64::MAX / 2;
    for (key, once) in [
        (hash("session:abc"), false),
        (hash("letters"), true),
        (hash("others"), true),
    ] {
        house
            .store
            .key_put(house.place, SVEN, &key, once, later)
            .await
            .expect("a key");
    }
    house.at("2026-03-08 23:00");
    assert_eq!(get(&house, "/log", "abc").await.0, 200);
    assert_eq!(get(&house, "/enter/letters", "").await.0, 303);
    house.at("2026-03-09 08:00");
    for path in ["/log", "/events", "/me", "/complete?line=/", "/photo/1", "/words"] {
        let (status, text) = get(&house, path, "abc").await;
        assert_eq!(status, 401, "{path}: {text}");
        holds(&text, &["Your span ended on Sunday 8 March: ask Ada"]);
    }
    let (_, front) = get(&house, "/", "abc").await;
    holds(
        &front,
        &["Your span is over", "Your span ended on Sunday 8 March: ask Ada"],
    );
    assert!(!front.contains("porch.js"), "{front}");
    let (status, text) = get(&house, "/enter/others", "").await;
    assert_eq!(status, 403);
    holds(&text, &["Your span ended on Sunday 8 March"]);
    assert!(!text.to_lowercase().contains("set-cookie"), "{text}");
}
