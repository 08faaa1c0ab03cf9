//! Messages of channels, as the platform keeps and refuses them.

use reqwest::Method;
use reqwest::multipart::{Form, Part};
use serde_json::json;
use wrackline_tests::platform::{
    Change, ChannelKind, Double, DoubleConfig, Judge, MessageId, Permissions, Route, usual_permissions,
};

use super::{Scene, came, said};

#[tokio::test]
async fn it_listens_on_loopback_alone() {
    let config = DoubleConfig {
        address: "0.0.0.0:0".parse().expect("an address"),
        ..DoubleConfig::default()
    };
    assert!(Double::start(config).await.is_err());
}

#[tokio::test]
async fn without_the_token_nothing_is_told() {
    let scene = Scene::new().await;
    let url = format!("{}/api/v10/users/@me", scene.double.url());
    for token in [None, Some("Bot another"), Some(scene.double.token())] {
        let mut request = scene.http.get(&url);
        if let Some(token) = token {
            request = request.header("authorization", token);
        }
        assert_eq!(came(request).await.status, 401, "{token:?}");
    }
    assert_eq!(scene.double.invalid_requests(), 3);
    assert_eq!(scene.get("/users/@me").await.id(), scene.double.bot().to_string());
    let application = scene.get("/applications/@me").await;
    assert_eq!(application.id(), scene.double.bot().to_string());
    let gateway = scene.get("/gateway/bot").await;
    assert_eq!(gateway.body["session_start_limit"]["remaining"], 1000);
    assert_eq!(gateway.body["url"], scene.get("/gateway").await.body["url"]);
    assert_eq!(scene.get("/tides").await.status, 404);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn a_message_keeps_its_history() {
    let scene = Scene::new().await;
    let written = scene.write("Two pools are due.", "call-1").await;
    assert_eq!(
        (written.status, &written.body["content"]),
        (200, &json!("Two pools are due."))
    );
    let path = format!("/channels/{}/messages/{}", scene.channel, written.id());
    let edit = json!({"content": "One pool is due.", "allowed_mentions": {"parse": []}});
    let edited = scene.send(Method::PATCH, &path, &edit).await;
    assert!(edited.body["edited_timestamp"].is_string());
    assert_eq!(scene.get(&path).await.body["content"], "One pool is due.");
    assert_eq!(scene.delete(&path).await.status, 204);
    assert_eq!(scene.get(&path).await.code(), (404, 10_008));
    assert_eq!(
        scene.send(Method::PATCH, &path, &edit).await.code(),
        (404, 10_008)
    );
    let messages = scene.double.channel_messages(scene.channel);
    let changes: Vec<Change> = messages[0].history.iter().map(|version| version.change).collect();
    assert_eq!(changes, [Change::Created, Change::Edited, Change::Deleted]);
    assert!(messages[0].history.is_sorted_by_key(|version| version.at));
    assert!(scene.double.seen_messages(scene.channel).is_empty());
    let requests = scene.double.requests();
    assert!(requests.is_sorted_by_key(|request| request.at));
    assert_eq!(requests[0].route, Route::CreateMessage);
    assert_eq!(requests[0].status, Some(200));
    scene.double.assert_faultless();
}

#[tokio::test]
async fn a_nonce_stands_for_one_message() {
    let scene = Scene::new().await;
    let first = scene.write("One.", "call-1").await;
    let again = scene.write("One, told anew.", "call-1").await;
    let other = scene.write("Two.", "call-2").await;
    assert_eq!(first.id(), again.id());
    assert_ne!(first.id(), other.id());
    assert_eq!(scene.double.channel_messages(scene.channel).len(), 2);
    scene.double.assert_faultless();
    let elsewhere = scene.double.channel(scene.guild, ChannelKind::Text, "tides");
    let path = format!("/channels/{elsewhere}/messages");
    assert_eq!(
        scene.post(&path, &said("Three.", "call-2")).await.code(),
        (400, 50_035)
    );
    assert_eq!(scene.double.take_faults().len(), 1);
}

#[tokio::test]
async fn a_nonce_is_forgotten() {
    let scene = Scene::with(DoubleConfig {
        nonce_window: std::time::Duration::ZERO,
        ..DoubleConfig::default()
    })
    .await;
    let first = scene.write("One.", "call-1").await;
    assert_ne!(first.id(), scene.write("One.", "call-1").await.id());
}

#[tokio::test]
async fn what_is_wrong_is_told_and_noted() {
    let scene = Scene::new().await;
    let mut body = said("Two pools are due.", "call-1");
    body["embeds"] = json!([{"fields": [{"name": "", "value": "x"}]}]);
    let path = format!("/channels/{}/messages", scene.channel);
    let refused = scene.post(&path, &body).await;
    assert_eq!(refused.code(), (400, 50_035));
    let errors = &refused.body["errors"]["embeds"]["0"]["fields"]["0"]["name"]["_errors"];
    assert!(errors[0]["message"].is_string(), "{}", refused.body);
    assert!(scene.double.channel_messages(scene.channel).is_empty());
    let faults = scene.double.faults();
    assert_eq!(
        (faults[0].method.as_str(), faults[0].path.as_str()),
        ("POST", path.as_str())
    );
    assert_eq!(faults[0].body.as_ref(), Some(&body));
    assert!(faults[0].verdicts.iter().any(|one| one.judge == Judge::Rules));
    let broken = scene
        .request(Method::POST, &path)
        .body("{")
        .header("content-type", "application/json");
    assert_eq!(came(broken).await.code(), (400, 50_035));
    assert_eq!(scene.double.take_faults().len(), 2);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn an_edit_may_not_leave_nothing() {
    let scene = Scene::new().await;
    let id = scene.write("Two pools are due.", "call-1").await.id();
    let path = format!("/channels/{}/messages/{id}", scene.channel);
    let edit = json!({"content": "", "allowed_mentions": {"parse": []}});
    assert_eq!(scene.send(Method::PATCH, &path, &edit).await.status, 400);
    assert_eq!(scene.double.take_faults().len(), 1);
}

#[tokio::test]
async fn rooms_and_rights() {
    let scene = Scene::new().await;
    let double = &scene.double;
    assert_eq!(scene.get("/channels/1").await.code(), (404, 10_003));
    assert_eq!(
        scene.post("/channels/1/messages", &said("x", "a")).await.code(),
        (404, 10_003)
    );
    double.bot_may(scene.channel, usual_permissions() - Permissions::SEND_MESSAGES);
    assert_eq!(scene.write("x", "b").await.code(), (403, 50_013));
    double.bot_may(scene.channel, usual_permissions() - Permissions::VIEW_CHANNEL);
    assert_eq!(scene.write("x", "c").await.code(), (403, 50_001));
    double.bot_may(scene.channel, usual_permissions());
    let thread = double.thread(scene.channel, "tides");
    let path = format!("/channels/{thread}/messages");
    double.bot_may(
        thread,
        usual_permissions() - Permissions::SEND_MESSAGES_IN_THREADS,
    );
    assert_eq!(scene.post(&path, &said("x", "d")).await.code(), (403, 50_013));
    double.bot_may(thread, usual_permissions() - Permissions::SEND_MESSAGES);
    assert_eq!(scene.post(&path, &said("x", "e")).await.status, 200);
    double.remove_bot(scene.guild);
    assert_eq!(scene.write("x", "f").await.code(), (403, 50_001));
    assert_eq!(
        scene.get(&format!("/guilds/{}", scene.guild)).await.code(),
        (404, 10_004)
    );
    double.bring_bot_back(scene.guild);
    assert_eq!(scene.get(&format!("/guilds/{}", scene.guild)).await.status, 200);
    double.delete_channel(scene.channel);
    assert_eq!(scene.write("x", "g").await.code(), (404, 10_003));
    double.assert_faultless();
}

#[tokio::test]
async fn direct_messages() {
    let scene = Scene::new().await;
    let person = json!({"recipient_id": scene.person.to_string()});
    let opened = scene.post("/users/@me/channels", &person).await;
    assert_eq!(opened.id(), scene.double.dm(scene.person).to_string());
    let path = format!("/channels/{}/messages", opened.id());
    assert_eq!(scene.post(&path, &said("For you.", "a")).await.status, 200);
    scene.double.takes_dms(scene.person, false);
    assert_eq!(
        scene.post(&path, &said("For you.", "b")).await.code(),
        (403, 50_007)
    );
    let nobody = json!({"recipient_id": "1"});
    assert_eq!(
        scene.post("/users/@me/channels", &nobody).await.code(),
        (404, 10_013)
    );
}

#[tokio::test]
async fn the_newest_come_first() {
    let scene = Scene::new().await;
    let mut ids = Vec::new();
    for at in 0..5 {
        ids.push(scene.write(&format!("Message {at}"), &at.to_string()).await.id());
    }
    let path = format!("/channels/{}/messages", scene.channel);
    for (query, wanted) in [
        ("", &[4, 3, 2, 1, 0][..]),
        ("?limit=2", &[4, 3]),
        (&format!("?after={}&limit=2", ids[0]), &[2, 1]),
        (&format!("?before={}", ids[2]), &[1, 0]),
        (&format!("?around={}&limit=3", ids[2]), &[3, 2, 1]),
    ] {
        let listed = scene.get(&format!("{path}{query}")).await.body;
        let listed: Vec<&str> = listed
            .as_array()
            .expect("a list")
            .iter()
            .filter_map(|one| one["id"].as_str())
            .collect();
        let wanted: Vec<&str> = wanted.iter().map(|at| ids[*at].as_str()).collect();
        assert_eq!(listed, wanted, "{query}");
    }
    assert_eq!(
        scene.get(&format!("{path}?limit=101")).await.code(),
        (400, 50_035)
    );
    scene.double.bot_may(
        scene.channel,
        usual_permissions() - Permissions::READ_MESSAGE_HISTORY,
    );
    assert_eq!(scene.get(&path).await.body, json!([]));
}

#[tokio::test]
async fn files_are_kept_and_fetched() {
    let scene = Scene::new().await;
    let mut body = said("A photo.", "a");
    body["attachments"] = json!([{"id": 0, "filename": "pool.png"}]);
    let file = Part::bytes(b"salt".to_vec())
        .file_name("pool.png")
        .mime_str("image/png")
        .expect("a kind");
    let form = Form::new()
        .text("payload_json", body.to_string())
        .part("files[0]", file);
    let path = format!("/channels/{}/messages", scene.channel);
    let written = came(scene.request(Method::POST, &path).multipart(form)).await;
    let url = written.body["attachments"][0]["url"]
        .as_str()
        .expect("an address");
    let fetched = scene.http.get(url).send().await.expect("a file");
    assert_eq!(fetched.headers()["content-type"], "image/png");
    assert_eq!(&fetched.bytes().await.expect("bytes")[..], b"salt");
    let own = scene.double.attach("log.txt", "text/plain", "fresh");
    let url = scene.double.attachment_url(own).expect("an address");
    let fetched = scene.http.get(url).send().await.expect("a file");
    assert_eq!(fetched.text().await.expect("text"), "fresh");
    scene.double.assert_faultless();
}

#[tokio::test]
async fn whom_a_message_calls() {
    let scene = Scene::new().await;
    let role = scene.double.role(scene.guild, "carers");
    let content = format!("<@{}> <@&{role}> @everyone", scene.person);
    let quiet = scene.write(&content, "a").await.id();
    let mut loud = said(&content, "b");
    loud["allowed_mentions"] = json!({"parse": ["everyone"], "users": [scene.person.to_string()]});
    let path = format!("/channels/{}/messages", scene.channel);
    let loud = scene.post(&path, &loud).await.id();
    let message = |id: &str| {
        let id = MessageId(id.parse().expect("a number"));
        scene.double.message(id).expect("a message")
    };
    assert!(message(&quiet).calls_nobody());
    let called = message(&loud).history[0].notified.clone();
    assert!(called.everyone && called.roles.is_empty());
    assert!(called.users.contains(&scene.person));
    scene.double.assert_faultless();
    // Said nothing, a message calls all it names: that is why saying nothing is a fault.
    let mut silent = said(&content, "c");
    silent
        .as_object_mut()
        .expect("an object")
        .remove("allowed_mentions");
    assert_eq!(scene.post(&path, &silent).await.code(), (400, 50_035));
    assert_eq!(scene.double.take_faults().len(), 1);
}
