//! Answers to interactions: once, in time, and of a kind that goes with what was done.

use std::time::Duration;

use reqwest::Method;
use serde_json::{Value, json};
use wrackline_tests::platform::{Act, DoubleConfig, GatewayConfig, MessageId, Opt};

use super::{Came, Scene, commands, said};

impl Scene {
    async fn asked(&self) -> Act {
        let path = format!("/applications/{}/commands", self.double.bot());
        assert_eq!(self.send(Method::PUT, &path, &commands()).await.status, 200);
        let what = [Opt::text("what", "scrub")];
        self.double
            .command(self.channel, self.person, "did", &what)
            .expect("a command")
    }

    async fn pressed(&self) -> (MessageId, Act) {
        let mut body = said("The pool is due.", "press");
        body["components"] = json!([{"type": 1, "components": [
            {"type": 2, "style": 1, "label": "Did it", "custom_id": "did:1"},
        ]}]);
        let path = format!("/channels/{}/messages", self.channel);
        let id = MessageId(self.post(&path, &body).await.id().parse().expect("a number"));
        (id, self.double.press(id, "did:1", self.person).expect("a press"))
    }

    async fn answer(&self, act: &Act, body: &Value) -> Came {
        let path = format!("/interactions/{}/{}/callback", act.id(), act.token());
        self.post(&path, body).await
    }

    fn hook(&self, act: &Act, rest: &str) -> String {
        format!("/webhooks/{}/{}{rest}", self.double.bot(), act.token())
    }
}

fn text(content: &str, flags: u64) -> Value {
    json!({"content": content, "flags": flags, "allowed_mentions": {"parse": []}})
}

fn edit(content: &str) -> Value {
    json!({"content": content, "allowed_mentions": {"parse": []}})
}

#[tokio::test]
async fn an_answer_is_given_once() {
    let scene = Scene::new().await;
    let act = scene.asked().await;
    let body = json!({"type": 4, "data": text("Logged.", 64)});
    assert_eq!(scene.answer(&act, &body).await.status, 204);
    assert_eq!(scene.answer(&act, &body).await.code(), (400, 40_060));
    let first = act.first().await;
    assert!(first.kind == 4 && first.took < Duration::from_secs(3));
    let shown = act.shown().await;
    assert!(shown.ephemeral && shown.content() == "Logged." && shown.calls_nobody());
    assert_eq!(act.answers_refused(), 1);
    // What one person sees is not in the channel.
    assert!(scene.double.seen_messages(scene.channel).is_empty());
    let path = format!("/channels/{}/messages/{}", scene.channel, shown.id);
    assert_eq!(scene.get(&path).await.code(), (404, 10_008));
    scene.double.assert_faultless();
}

#[tokio::test]
async fn an_answer_comes_in_time() {
    let gateway = GatewayConfig {
        answer_within: Duration::from_millis(50),
        ..GatewayConfig::default()
    };
    let scene = Scene::with(DoubleConfig {
        gateway,
        ..DoubleConfig::default()
    })
    .await;
    let act = scene.asked().await;
    assert!(act.stays_unanswered().await);
    wrackline::clock::wait(Duration::from_millis(20)).await;
    let late = scene.answer(&act, &json!({"type": 5})).await;
    assert_eq!(late.code(), (404, 10_062));
    assert_eq!(
        scene.get(&scene.hook(&act, "/messages/@original")).await.code(),
        (404, 10_015)
    );
}

#[tokio::test]
async fn a_promise_is_kept_by_an_edit() {
    let scene = Scene::new().await;
    let act = scene.asked().await;
    let promise = json!({"type": 5, "data": {"flags": 64}});
    assert_eq!(scene.answer(&act, &promise).await.status, 204);
    let original = scene.hook(&act, "/messages/@original");
    assert_eq!(scene.get(&original).await.body["flags"], 64 | 128);
    assert_eq!(
        scene
            .send(Method::PATCH, &original, &edit("Logged."))
            .await
            .status,
        200
    );
    let shown = act.shown().await;
    assert!(shown.ephemeral && shown.content() == "Logged.");
    let more = scene.post(&scene.hook(&act, ""), &text("And more.", 64)).await;
    assert_eq!(act.follow_ups(1).await[0].content(), "And more.");
    let path = scene.hook(&act, &format!("/messages/{}", more.id()));
    assert_eq!(
        scene.send(Method::PATCH, &path, &edit("And less.")).await.status,
        200
    );
    assert_eq!(act.follow_ups(1).await[0].content(), "And less.");
    assert_eq!(scene.delete(&original).await.status, 204);
    assert_eq!(scene.get(&original).await.code(), (404, 10_008));
    scene.double.assert_faultless();
}

#[tokio::test]
async fn the_first_follow_up_keeps_a_promise_too() {
    let scene = Scene::new().await;
    let act = scene.asked().await;
    assert_eq!(scene.answer(&act, &json!({"type": 5})).await.status, 204);
    scene.post(&scene.hook(&act, ""), &text("Logged.", 0)).await;
    assert_eq!(act.shown().await.content(), "Logged.");
    assert_eq!(scene.double.channel_messages(scene.channel).len(), 1);
}

#[tokio::test]
async fn a_press_edits_its_message() {
    let scene = Scene::new().await;
    let (id, act) = scene.pressed().await;
    let update =
        json!({"type": 7, "data": {"content": "Done.", "components": [], "allowed_mentions": {"parse": []}}});
    assert_eq!(scene.answer(&act, &update).await.status, 204);
    let shown = act.shown().await;
    assert_eq!((shown.id, shown.content(), shown.shown().len()), (id, "Done.", 0));
    assert_eq!(shown.edits(), 1);
    let (id, act) = {
        scene.double.delete_message(id);
        scene.pressed().await
    };
    assert_eq!(scene.answer(&act, &json!({"type": 6})).await.status, 204);
    let original = scene.hook(&act, "/messages/@original");
    assert_eq!(
        scene.send(Method::PATCH, &original, &edit("Done.")).await.status,
        200
    );
    assert_eq!(act.shown().await.id, id);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn the_kind_of_answer_goes_with_what_was_done() {
    let scene = Scene::new().await;
    let act = scene.asked().await;
    for kind in [6, 8] {
        let data = if kind == 8 {
            json!({"choices": []})
        } else {
            Value::Null
        };
        let mut body = json!({"type": kind});
        if kind == 8 {
            body["data"] = data;
        }
        assert_eq!(scene.answer(&act, &body).await.code(), (400, 50_035), "{kind}");
    }
    let pool = Opt::text("pool", "ti");
    let typed = scene
        .double
        .complete(scene.channel, scene.person, "did", &[], &pool)
        .expect("typed");
    assert_eq!(
        scene.answer(&typed, &json!({"type": 5})).await.code(),
        (400, 50_035)
    );
    let choices = json!({"type": 8, "data": {"choices": [{"name": "Tide", "value": "tide"}]}});
    assert_eq!(scene.answer(&typed, &choices).await.status, 204);
    assert_eq!(typed.choices().await, [("Tide".to_owned(), json!("tide"))]);
    assert_eq!(scene.double.take_faults().len(), 3);
}

#[tokio::test]
async fn a_token_dies() {
    let scene = Scene::with(DoubleConfig {
        token_life: Duration::from_millis(100),
        ..DoubleConfig::default()
    })
    .await;
    let act = scene.asked().await;
    assert_eq!(scene.answer(&act, &json!({"type": 5})).await.status, 204);
    wrackline::clock::wait(Duration::from_millis(150)).await;
    let original = scene.hook(&act, "/messages/@original");
    assert_eq!(
        scene.send(Method::PATCH, &original, &edit("Late.")).await.code(),
        (401, 50_027)
    );
}
