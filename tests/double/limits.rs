//! Limits are told, enforced, and obeyed or not.

use std::time::Duration;

use wrackline_tests::platform::{Bucket, Judge, Route, Scope, Trouble};

use super::Scene;

const SECOND: Duration = Duration::from_secs(1);

#[tokio::test]
async fn every_answer_tells_what_remains() {
    let scene = Scene::new().await;
    scene.double.limit(|limits| {
        let bucket = Bucket {
            size: 3,
            window: SECOND * 60,
        };
        limits.routes.insert(Route::CreateMessage, bucket);
    });
    let first = scene.write("One.", "1").await;
    let second = scene.write("Two.", "2").await;
    assert_eq!(
        (
            first.header("x-ratelimit-limit"),
            first.header("x-ratelimit-remaining")
        ),
        ("3", "2")
    );
    assert_eq!(second.header("x-ratelimit-remaining"), "1");
    assert_eq!(
        first.header("x-ratelimit-bucket"),
        second.header("x-ratelimit-bucket")
    );
    let left: f64 = second.header("x-ratelimit-reset-after").parse().expect("seconds");
    assert!(left > 0.0 && left <= 60.0);
    assert!(
        second
            .header("x-ratelimit-reset")
            .parse::<f64>()
            .expect("a moment")
            > 1.0e9
    );
    assert_eq!(scene.write("Three.", "3").await.status, 200);
    let fourth = scene.write("Four.", "4").await;
    assert_eq!(fourth.status, 429);
    assert_eq!(fourth.header("x-ratelimit-scope"), "user");
    assert_eq!(fourth.body["global"], false);
    assert!(fourth.body["retry_after"].as_f64().expect("seconds") <= 60.0);
    assert!(!fourth.header("retry-after").is_empty());
    // Another channel has a bucket of its own.
    let other = scene
        .double
        .channel(scene.guild, wrackline_tests::platform::ChannelKind::Text, "tides");
    let path = format!("/channels/{other}/messages");
    assert_eq!(scene.post(&path, &super::said("Five.", "5")).await.status, 200);
    assert_eq!(
        (scene.double.throttled(), scene.double.invalid_requests()),
        (1, 1)
    );
}

#[tokio::test]
async fn a_channel_can_have_a_limit_of_its_own() {
    let scene = Scene::new().await;
    scene.double.limit(|limits| {
        let bucket = Bucket {
            size: 1,
            window: SECOND * 60,
        };
        limits
            .channels
            .insert((Route::CreateMessage, scene.channel.0), bucket);
    });
    assert_eq!(scene.write("One.", "1").await.status, 200);
    assert_eq!(scene.write("Two.", "2").await.status, 429);
}

#[tokio::test]
async fn one_limit_holds_for_all_routes_but_those_of_interactions() {
    let scene = Scene::new().await;
    scene.double.limit(|limits| {
        limits.global = Bucket {
            size: 2,
            window: SECOND * 60,
        }
    });
    assert_eq!(scene.get("/gateway").await.status, 200);
    assert_eq!(scene.get("/users/@me").await.status, 200);
    let third = scene.write("Three.", "3").await;
    assert_eq!((third.status, third.header("x-ratelimit-global")), (429, "true"));
    assert_eq!(
        (third.header("x-ratelimit-scope"), &third.body["global"]),
        ("global", &true.into())
    );
    // An interaction that is unknown is looked for all the same.
    let path = "/interactions/1/none/callback";
    let answer = scene.post(path, &serde_json::json!({"type": 5})).await;
    assert_eq!(answer.code(), (404, 10_062));
}

#[tokio::test]
async fn asking_before_the_time_is_a_fault() {
    let scene = Scene::new().await;
    let wait = Duration::from_millis(400);
    scene
        .double
        .trouble(Route::CreateMessage, [Trouble::TooMany(Scope::Shared, wait)]);
    let refused = scene.write("One.", "1").await;
    assert_eq!(
        (refused.status, refused.header("x-ratelimit-scope")),
        (429, "shared")
    );
    assert_eq!(
        scene.double.invalid_requests(),
        0,
        "a shared limit is nobody's fault"
    );
    assert!(scene.double.faults().is_empty());
    wrackline::clock::wait(wait / 2).await;
    assert_eq!(scene.write("One.", "1").await.status, 429);
    let faults = scene.double.take_faults();
    assert_eq!(faults[0].verdicts[0].judge, Judge::Pace);
    wrackline::clock::wait(wait / 2 + Duration::from_millis(50)).await;
    assert_eq!(scene.write("One.", "1").await.status, 200);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn a_global_wait_holds_everywhere() {
    let scene = Scene::new().await;
    let wait = Duration::from_secs(60);
    scene
        .double
        .trouble(Route::CreateMessage, [Trouble::TooMany(Scope::Global, wait)]);
    assert_eq!(scene.write("One.", "1").await.status, 429);
    wrackline::clock::wait(Duration::from_millis(50)).await;
    assert_eq!(scene.get("/users/@me").await.status, 429);
    assert_eq!(scene.double.take_faults().len(), 1);
}
