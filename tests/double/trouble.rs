//! Trouble comes when it is asked for, and once.

use std::time::{Duration, Instant};

use reqwest::Method;
use wrackline_tests::platform::{Route, Trouble};

use super::{Scene, said};

#[tokio::test]
async fn what_is_refused_is_not_done() {
    let scene = Scene::new().await;
    let troubles = [Trouble::Status(500), Trouble::Status(502), Trouble::Status(503)];
    scene.double.trouble(Route::CreateMessage, troubles);
    for status in [500, 502, 503] {
        // Another route has no part in it.
        assert_eq!(scene.get("/users/@me").await.status, 200);
        assert_eq!(scene.write("One.", "1").await.status, status);
    }
    assert!(scene.double.channel_messages(scene.channel).is_empty());
    assert_eq!(scene.write("One.", "1").await.status, 200);
}

#[tokio::test]
async fn what_is_done_may_be_answered_badly() {
    let scene = Scene::new().await;
    scene
        .double
        .trouble(Route::CreateMessage, [Trouble::DoneThen(502), Trouble::Dropped]);
    assert_eq!(scene.write("One.", "1").await.status, 502);
    let path = format!("/channels/{}/messages", scene.channel);
    let request = scene.request(Method::POST, &path).json(&said("Two.", "2"));
    assert!(
        request.send().await.is_err(),
        "the connection closes without an answer"
    );
    assert_eq!(scene.double.channel_messages(scene.channel).len(), 2);
    assert_eq!(scene.double.requests_of(Route::CreateMessage)[1].status, None);
    // Sent once more, it is the message that is there.
    assert_eq!(scene.write("Two.", "2").await.status, 200);
    assert_eq!(scene.double.channel_messages(scene.channel).len(), 2);
}

#[tokio::test]
async fn a_connection_may_break_before() {
    let scene = Scene::new().await;
    scene.double.trouble(None, [Trouble::Reset]);
    let path = format!("/channels/{}/messages", scene.channel);
    let request = scene.request(Method::POST, &path).json(&said("One.", "1"));
    assert!(request.send().await.is_err());
    assert!(scene.double.channel_messages(scene.channel).is_empty());
}

#[tokio::test]
async fn nonsense_and_slowness() {
    let scene = Scene::new().await;
    let wait = Duration::from_millis(150);
    let troubles = [Trouble::Html, Trouble::BrokenJson, Trouble::Slow(wait)];
    scene.double.trouble(Route::CreateMessage, troubles);
    let page = scene.write("One.", "1").await;
    assert_eq!((page.status, page.header("content-type")), (200, "text/html"));
    let broken = scene.write("One.", "1").await;
    assert_eq!(
        (broken.status, broken.header("content-type")),
        (200, "application/json")
    );
    assert!(broken.body.is_null(), "it cannot be read");
    assert!(scene.double.channel_messages(scene.channel).is_empty());
    let began = Instant::now();
    assert_eq!(scene.write("One.", "1").await.status, 200);
    assert!(began.elapsed() >= wait);
    scene.double.trouble(Route::CreateMessage, [Trouble::Status(500)]);
    scene.double.calm();
    assert_eq!(scene.write("Two.", "2").await.status, 200);
}
