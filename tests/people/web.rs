//! The porch's door for a sitter whose span is over: neither their session nor a link lets them in.

use wrackline_tests::served::{get, hash};

use super::{SVEN, holds, north};

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
