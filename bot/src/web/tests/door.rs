//! The door: names, origins, sessions, links, and what every response carries.

use std::sync::atomic::Ordering;

use super::Porch;

#[tokio::test]
async fn a_name_that_is_not_ours_is_misdirected() {
    let porch = Porch::open().await;
    for host in [
        "evil.example",
        "localhost",
        "localhost:1",
        "127.0.0.1.evil.example",
    ] {
        let request = format!("GET /healthz HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
        assert_eq!(porch.raw(request).await.status, 421, "{host}");
    }
    let port = porch.port;
    let twice = format!(
        "GET /healthz HTTP/1.1\r\nHost: localhost:{port}\r\nHost: evil.example\r\nConnection: close\r\n\r\n"
    );
    assert_ne!(porch.raw(twice).await.status, 200);
    let absolute = format!(
        "GET http://evil.example/healthz HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n\r\n"
    );
    assert_eq!(porch.raw(absolute).await.status, 421);
    let nameless = "GET /healthz HTTP/1.1\r\nConnection: close\r\n\r\n";
    assert_ne!(porch.raw(nameless).await.status, 200);
}

#[tokio::test]
async fn what_changes_something_must_come_from_the_page_itself() {
    let porch = Porch::open().await;
    let body = r#"{"id":"abcdefgh","line":"/due"}"#;
    let (port, length) = (porch.port, body.len());
    let foreign = [
        String::new(),
        "Origin: null\r\n".to_owned(),
        "Origin: http://evil.example\r\n".to_owned(),
        format!("Origin: http://127.0.0.1:{port}\r\n"),
        format!("Origin: http://localhost:{port}.evil.example\r\n"),
        format!("Origin: http://localhost:{port}\r\nOrigin: http://evil.example\r\n"),
    ];
    for origin in foreign {
        let more = format!("{origin}Content-Type: application/json\r\nContent-Length: {length}\r\n");
        let reply = porch
            .raw(porch.head("POST", "/say", "key-1-1", &more) + body)
            .await;
        assert_eq!(reply.status, 403, "{origin}");
    }
    assert_eq!(porch.heard(), 0);
    assert_eq!(porch.post("/say", "key-1-1", body).await.status, 200);
    assert_eq!(porch.heard(), 1);
}

#[tokio::test]
async fn without_a_session_only_the_front_is_open() {
    let porch = Porch::open().await;
    for path in [
        "/log",
        "/events",
        "/complete?line=a",
        "/photo/1",
        "/me",
        "/words",
        "/nowhere",
    ] {
        for key in ["", "wrong", "link1"] {
            assert_eq!(porch.get(path, key).await.status, 401, "{path} with {key:?}");
        }
    }
    for path in ["/say", "/press", "/photo"] {
        assert_eq!(porch.post(path, "", "{}").await.status, 401, "{path}");
    }
    for path in ["/", "/healthz", "/porch.js", "/porch-log.js", "/porch.css"] {
        assert_eq!(porch.get(path, "").await.status, 200, "{path}");
    }
    let front = porch.get("/", "").await.body;
    assert!(
        front.contains("Print a &lt;link&gt;.") && !front.contains("porch.js"),
        "{front}"
    );
    assert!(porch.get("/", "key-1-1").await.body.contains("porch.js"));
    assert_eq!(porch.heard(), 0);
    // A used link as a cookie is no session, and did not use the link up either.
    assert_eq!(porch.get("/enter/link1", "").await.status, 303);
}

#[tokio::test]
async fn a_session_ends_with_its_time_or_with_its_carer() {
    let porch = Porch::open().await;
    assert_eq!(porch.get("/me", "key-1-1").await.json()["name"], "Carer 1");
    porch.house.now.store(1000, Ordering::SeqCst);
    assert_eq!(porch.get("/me", "key-1-1").await.status, 401);

    let porch = Porch::open().await;
    let hash = super::session_hash("key-of-one-who-left");
    super::Store::key_put(&*porch.store, 1, 9, &hash, false, 1000)
        .await
        .unwrap();
    assert_eq!(porch.get("/me", "key-of-one-who-left").await.status, 401);
    let body = r#"{"id":"abcdefgh","line":"/due"}"#;
    assert_eq!(porch.post("/say", "key-of-one-who-left", body).await.status, 401);
    assert_eq!(porch.heard(), 0);
}

#[tokio::test]
async fn a_link_lets_in_once() {
    let porch = Porch::open().await;
    assert_eq!(
        porch.raw(porch.head("HEAD", "/enter/link1", "", "")).await.status,
        405
    );
    let entered = porch.get("/enter/link1", "").await;
    assert_eq!((entered.status, entered.header("location")), (303, Some("/")));
    let cookie = entered.header("set-cookie").unwrap();
    for part in ["HttpOnly", "SameSite=Lax", "Path=/", "Max-Age=2592000"] {
        assert!(cookie.split("; ").any(|has| has == part), "{cookie}");
    }
    let key = cookie
        .strip_prefix("wrackline=")
        .unwrap()
        .split(';')
        .next()
        .unwrap();
    assert_eq!(key.len(), 64);
    assert_eq!(porch.get("/me", key).await.json()["place"], "Place 1");
    // Neither the link again, nor the session's key as a link.
    assert_eq!(porch.get("/enter/link1", "").await.status, 403);
    for as_link in [
        key.to_owned(),
        format!("session:{key}"),
        format!("session%3A{key}"),
    ] {
        assert_eq!(
            porch.get(&format!("/enter/{as_link}"), "").await.status,
            403,
            "{as_link}"
        );
    }
    assert_eq!(porch.get("/me", key).await.status, 200);
}

#[tokio::test]
async fn every_response_is_dressed() {
    let porch = Porch::open().await;
    for (path, caching) in [
        ("/", "no-store"),
        ("/log", "no-store"),
        ("/me", "no-store"),
        ("/healthz", "no-store"),
        ("/nowhere", "no-store"),
        ("/enter/wrong", "no-store"),
        ("/porch.js", "no-cache"),
    ] {
        for key in ["", "key-1-1"] {
            let reply = porch.get(path, key).await;
            let policy = reply.header("content-security-policy").unwrap();
            assert!(policy.starts_with("default-src 'self';"), "{policy}");
            assert!(
                policy.contains("frame-ancestors 'none'") && !policy.contains("unsafe"),
                "{policy}"
            );
            assert_eq!(reply.header("x-content-type-options"), Some("nosniff"), "{path}");
            assert_eq!(reply.header("referrer-policy"), Some("no-referrer"), "{path}");
            assert_eq!(reply.header("cache-control"), Some(caching), "{path}");
        }
    }
    let stray = porch
        .raw("GET /healthz HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n")
        .await;
    assert_eq!(stray.header("x-content-type-options"), Some("nosniff"));
}
