//! The door as a program without a browser's manners meets it: byte by byte.

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

use super::house::PorchHouse;

/// A reply: its status, and all of it as text.
struct Reply {
    status: u16,
    text: String,
}

/// Sends a request with the header lines given, and no others but the length and the end of the connection.
async fn send(port: u16, what: &str, headers: &[String], body: &str) -> Reply {
    let mut request = format!(
        "{what} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n",
        body.len()
    );
    for header in headers {
        request += &format!("{header}\r\n");
    }
    request += &format!("\r\n{body}");
    let mut stream = TcpStream::connect(("127.0.0.1", port))
        .await
        .expect("a connection");
    stream
        .write_all(request.as_bytes())
        .await
        .expect("the request is sent");
    let mut text = String::new();
    stream.read_to_string(&mut text).await.expect("a reply");
    let status = text
        .split(' ')
        .nth(1)
        .and_then(|status| status.parse().ok())
        .expect("a status");
    Reply { status, text }
}

/// A session's cookie, as a `Cookie` header line.
async fn enter(porch: &PorchHouse, link: &str) -> String {
    let path = link
        .split_once(&porch.port.to_string())
        .expect("a link with its port")
        .1;
    let host = format!("Host: 127.0.0.1:{}", porch.port);
    let reply = send(porch.port, &format!("GET {path}"), &[host], "").await;
    assert_eq!(reply.status, 303, "{}", reply.text);
    let set = reply
        .text
        .lines()
        .find_map(|line| line.strip_prefix("set-cookie: "))
        .expect("a cookie");
    assert!(set.contains("HttpOnly") && set.contains("SameSite=Lax"), "{set}");
    format!("Cookie: {}", set.split(';').next().expect("a pair"))
}

#[tokio::test]
async fn strangers_and_foreign_pages_are_turned_away() {
    let porch = PorchHouse::open().await;
    let port = porch.port;
    let link = porch.link("Ada");
    let cookie = enter(&porch, &link).await;
    let own = format!("Host: 127.0.0.1:{port}");
    let elsewhere = format!("Host: shells.example:{port}");
    let origin = format!("Origin: http://127.0.0.1:{port}");
    let foreign = "Origin: http://shells.example".to_owned();
    let json = "Content-Type: application/json".to_owned();
    let say = r#"{"id":"from-the-door","line":"/did top-up north salt"}"#;
    let before = porch.head().await;
    let headers = |lines: &[&String]| lines.iter().map(|line| (*line).clone()).collect::<Vec<_>>();
    for (what, lines, body, status) in [
        ("GET /", headers(&[&elsewhere, &cookie]), "", 421),
        (
            "POST /say",
            headers(&[&elsewhere, &cookie, &origin, &json]),
            say,
            421,
        ),
        ("GET /", headers(&[&cookie]), "", 421),
        ("POST /say", headers(&[&own, &cookie, &json]), say, 403),
        ("POST /say", headers(&[&own, &cookie, &foreign, &json]), say, 403),
        (
            "POST /press",
            headers(&[&own, &cookie, &foreign, &json]),
            say,
            403,
        ),
        ("POST /say", headers(&[&own, &origin, &json]), say, 401),
        ("GET /log", headers(&[&own]), "", 401),
        ("GET /events", headers(&[&own]), "", 401),
        ("GET /complete?line=/", headers(&[&own]), "", 401),
        ("GET /photo/1", headers(&[&own]), "", 401),
    ] {
        let reply = send(port, what, &lines, body).await;
        assert_eq!(reply.status, status, "{what} with {lines:?}: {}", reply.text);
        assert!(!reply.text.contains("topped up"), "{what}: {}", reply.text);
    }
    assert_eq!(
        porch.head().await,
        before,
        "a request that was turned away wrote something"
    );
    // The same request with all that is asked for comes in: it was each time the one thing that was wrong.
    let reply = send(port, "POST /say", &[own, cookie, origin, json], say).await;
    assert_eq!(reply.status, 200, "{}", reply.text);
    assert!(reply.text.contains("North salt topped up"), "{}", reply.text);
}

#[tokio::test]
async fn a_link_lets_one_in_once() {
    let porch = PorchHouse::open().await;
    let link = porch.link("Bea");
    let _ = enter(&porch, &link).await;
    let own = format!("Host: 127.0.0.1:{}", porch.port);
    let path = link
        .split_once(&porch.port.to_string())
        .expect("a link with its port")
        .1;
    let again = send(porch.port, &format!("GET {path}"), std::slice::from_ref(&own), "").await;
    assert_eq!(again.status, 403, "{}", again.text);
    assert!(
        again.text.contains("This link does not open the porch"),
        "{}",
        again.text
    );
    assert!(!again.text.contains("set-cookie"), "{}", again.text);
    let front = send(porch.port, "GET /", &[own], "").await;
    assert_eq!(front.status, 200, "{}", front.text);
    assert!(
        front.text.contains("wrackline link --as NAME") && !front.text.contains("North"),
        "{}",
        front.text
    );
}
