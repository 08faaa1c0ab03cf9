//! What is said and heard: lines, presses, photos, the transcript and its stream.

use std::time::Duration;

use serde_json::{Value, json};
use tokio::io::AsyncReadExt;
use tokio::net::TcpStream;
use wrackline_core::moment::Destination;

use super::Porch;
use crate::chat::blocks::Block;
use crate::chat::{Chat, ChatError, Outgoing};
use crate::photo::PHOTO_BYTES_MAX;
use crate::store::PhotoRow;

/// Titles and typed lines of a transcript, in order.
fn texts(log: &Value) -> Vec<String> {
    let lines = log["lines"].as_array().unwrap().iter();
    lines
        .map(|line| line["body"]["blocks"][0]["text"].as_str().unwrap().to_owned())
        .collect()
}

fn say(id: &str, line: &str) -> String {
    json!({"id": id, "line": line}).to_string()
}

#[tokio::test]
async fn a_line_sent_twice_stands_there_once() {
    let porch = Porch::open().await;
    let first = porch
        .post("/say", "key-1-1", &say("one-line", "/did <b>"))
        .await
        .json();
    assert_eq!(first["ok"], true);
    let again = porch
        .post("/say", "key-1-1", &say("one-line", "/did <b>"))
        .await
        .json();
    assert_eq!(first, again);
    // The same id from somebody else is another line, not a look at this one's answer.
    porch.post("/say", "key-1-2", &say("one-line", "/no")).await;
    let log = porch.get("/log?after=0", "key-1-1").await.json();
    assert_eq!(texts(&log), ["/did <b>", "Heard: /did <b>", "/no", "Heard: /no"]);
    assert_eq!(log["lines"][0]["body"]["kind"], "said");
    assert_eq!(log["lines"][0]["body"]["who"], "Carer 1");
    assert_eq!(log["lines"][3]["body"]["ok"], false);
    assert_eq!(log["revision"], 4);
    assert_eq!(
        texts(&porch.get("/log?after=3", "key-1-1").await.json()),
        ["Heard: /no"]
    );
}

#[tokio::test]
async fn private_lines_and_other_places_stay_unseen() {
    let porch = Porch::open().await;
    porch.post("/say", "key-1-1", &say("private-one", "/why")).await;
    let photo = PhotoRow {
        seq: 1,
        media_type: "image/png".to_owned(),
        bytes: b"png".to_vec(),
    };
    let hidden = PhotoRow {
        seq: 2,
        ..photo.clone()
    };
    porch
        .store
        .photos
        .lock()
        .unwrap()
        .extend([(1, photo), (1, hidden)]);
    assert_eq!(porch.get("/photo/2", "key-1-1").await.status, 200);
    assert_eq!(porch.get("/photo/2", "key-1-2").await.status, 404);
    let own = porch.get("/log?after=0", "key-1-1").await.json();
    assert_eq!(texts(&own), ["/why", "Heard: /why"]);
    assert_eq!(own["lines"][1]["only_me"], true);
    let other = porch.get("/log?after=0", "key-1-2").await.json();
    assert_eq!((texts(&other), &other["revision"]), (vec![], &json!(2)));
    assert_eq!(porch.get("/log?after=0", "key-2-1").await.json()["revision"], 0);
    assert_eq!(porch.get("/photo/1", "key-2-1").await.status, 404);
    let shown = porch.get("/photo/1", "key-1-2").await;
    assert_eq!(
        (shown.status, shown.header("content-type")),
        (200, Some("image/png"))
    );
}

#[tokio::test]
async fn what_cannot_be_read_is_refused_unheard() {
    let porch = Porch::open().await;
    for (body, status) in [
        ("{".to_owned(), 400),
        ("{}".to_owned(), 422),
        (say("short", "/due"), 400),
        (say("id with spaces", "/due"), 400),
        (say("long-enough", &"x".repeat(17 * 1024)), 413),
    ] {
        let reply = porch.post("/say", "key-1-1", &body).await;
        assert_eq!(reply.status, status, "{body}");
        assert!(reply.json()["error"].is_string());
    }
    let form = porch
        .send(
            "/say",
            "key-1-1",
            "text/plain",
            say("long-enough", "/due").as_bytes(),
        )
        .await;
    assert_eq!(form.status, 415);
    assert_eq!(porch.heard(), 0);
}

#[tokio::test]
async fn a_press_brings_its_text() {
    let porch = Porch::open().await;
    let body = json!({"id": "a-press-1", "code": "later", "text": "at ten"}).to_string();
    let reply = porch.post("/press", "key-1-1", &body).await.json();
    assert_eq!(texts(&reply), ["Heard: later: at ten"]);
    assert_eq!(
        porch.get("/complete?line=/did%20a", "key-1-1").await.json()[0]["line"],
        "/did a north"
    );
}

/// A form with a photo.
fn form(file: &[u8]) -> Vec<u8> {
    let mut form = Vec::new();
    for (name, value) in [
        ("id", b"with-photo".as_slice()),
        ("line", b"/saw leak"),
        ("file", file),
    ] {
        let head = format!("--cut\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n");
        form.extend_from_slice(head.as_bytes());
        form.extend_from_slice(value);
        form.extend_from_slice(b"\r\n");
    }
    form.extend_from_slice(b"--cut--\r\n");
    form
}

#[tokio::test]
async fn a_photo_is_judged_by_its_own_bytes() {
    let porch = Porch::open().await;
    let kind = "multipart/form-data; boundary=cut";
    let no_picture = porch
        .send("/photo", "key-1-1", kind, &form(b"<svg onload=x>"))
        .await;
    assert_eq!(no_picture.status, 415);
    assert_eq!(no_picture.json()["error"], "photo-refused-kind");
    let cut = porch
        .send("/photo", "key-1-1", kind, &form(&POINT[..POINT.len() - 1]))
        .await;
    assert_eq!(
        (cut.status, cut.json()["error"].as_str()),
        (422, Some("photo-refused-damaged"))
    );
    let mut heavy = POINT.to_vec();
    heavy.resize(PHOTO_BYTES_MAX + 1, 0);
    let too_much = porch.send("/photo", "key-1-1", kind, &form(&heavy)).await;
    assert_eq!(
        (too_much.status, too_much.json()["error"].as_str()),
        (413, Some("porch-refused-size"))
    );
    assert_eq!(porch.heard(), 0);
    heavy.pop();
    assert_eq!(
        porch.send("/photo", "key-1-1", kind, &form(&heavy)).await.status,
        200
    );
    let kept = porch.house.photos.lock().unwrap();
    assert_eq!(
        (kept[0].media_type.as_str(), kept[0].bytes.as_slice()),
        ("image/png", POINT),
        "what lies behind the picture is left out"
    );
}

/// A picture of one point, as small as a PNG can be.
const POINT: &[u8] =
    b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\x06\0\0\0\x1f\x15\xc4\x89\0\0\0\x0bIDAT\
x\x9cc\xf8\x0f\x04\0\t\xfb\x03\xfd\xfb^k+\0\0\0\0IEND\xaeB`\x82";

/// Reads on until the text so far holds something.
async fn until(stream: &mut TcpStream, text: &mut String, wanted: &str) {
    let mut bytes = [0; 4096];
    while !text.contains(wanted) {
        let read = tokio::time::timeout(Duration::from_secs(5), stream.read(&mut bytes)).await;
        let read = read
            .unwrap_or_else(|_| panic!("waited for {wanted} in vain: {text}"))
            .unwrap();
        assert_ne!(read, 0, "ended before {wanted}: {text}");
        text.push_str(std::str::from_utf8(&bytes[..read]).unwrap());
    }
}

#[tokio::test]
async fn the_stream_tells_all_that_is_mine_and_ends_with_the_server() {
    let mut porch = Porch::open().await;
    porch.post("/say", "key-1-1", &say("line-one", "/did")).await;
    porch.post("/say", "key-1-2", &say("line-two", "/why")).await;
    let mut stream = porch
        .call(porch.head("GET", "/events?after=1", "key-1-1", "").as_bytes())
        .await;
    let mut text = String::new();
    until(&mut stream, &mut text, "Heard: /did").await;
    assert!(!text.contains("/why") && !text.contains("id: 1\n"), "{text}");
    // More at once than the news can hold: the transcript itself fills the gap.
    for number in 0..12 {
        porch
            .chat
            .send(post(
                &format!("nonce-{number}"),
                &[title(&format!("Post {number}."))],
            ))
            .await
            .unwrap();
    }
    for number in 0..12 {
        until(&mut stream, &mut text, &format!("Post {number}.")).await;
    }
    porch.end.take().unwrap().send(()).unwrap();
    let ended = tokio::time::timeout(Duration::from_secs(3), &mut porch.served).await;
    assert!(ended.expect("the stream held the server up").unwrap().is_ok());
}

fn title(text: &str) -> Block {
    Block::Title {
        text: text.to_owned(),
    }
}

fn post<'a>(nonce: &'a str, blocks: &'a [Block]) -> Outgoing<'a> {
    Outgoing {
        place: 1,
        destination: Destination::Chat,
        nonce,
        blocks,
        at_ms: 5,
        wanted_ms: 0,
        resend: false,
    }
}

#[tokio::test]
async fn a_post_is_shown_once_and_edited_in_place() {
    let porch = Porch::open().await;
    let id = porch.chat.send(post("call-1", &[title("Before")])).await.unwrap();
    assert_eq!(
        porch.chat.send(post("call-1", &[title("Again")])).await.unwrap(),
        id
    );
    porch
        .chat
        .edit(&id, post("call-1", &[title("After")]))
        .await
        .unwrap();
    let log = porch.get("/log?after=1", "key-1-1").await.json();
    assert_eq!(
        (texts(&log), &log["revision"]),
        (vec!["After".to_owned()], &json!(2))
    );
    assert_eq!(log["lines"][0]["body"]["kind"], "post");
    for gone in ["77", "no number"] {
        assert_eq!(
            porch.chat.edit(gone, post("call-1", &[title("x")])).await,
            Err(ChatError::Gone)
        );
    }
}
