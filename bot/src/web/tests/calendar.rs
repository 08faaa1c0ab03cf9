//! A calendar over HTTP: whoever has it already gets nothing of it again.

use super::Porch;
use super::fake::CALENDAR_TOKEN;

const BODY: &str = "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n";

async fn open() -> (Porch, String, String) {
    let porch = Porch::open().await;
    BODY.clone_into(&mut porch.house.calendar.lock().unwrap());
    let path = format!("/calendar/{CALENDAR_TOKEN}.ics");
    let tag = porch.get(&path, "").await.header("etag").unwrap().to_owned();
    (porch, path, tag)
}

#[tokio::test]
async fn the_address_alone_opens_it() {
    let (porch, path, tag) = open().await;
    for key in ["", "wrong", "key-1-1"] {
        let reply = porch.get(&path, key).await;
        assert_eq!((reply.status, reply.body.as_str()), (200, BODY), "{key}");
        assert_eq!(reply.header("content-type"), Some("text/calendar; charset=utf-8"));
        assert_eq!(reply.header("cache-control"), Some("private, no-cache"));
        assert_eq!(reply.header("etag"), Some(tag.as_str()));
        assert_eq!(reply.header("set-cookie"), None);
    }
    assert!(
        tag.starts_with('"') && tag.ends_with('"') && tag.len() > 20,
        "{tag}"
    );
    let head = porch.raw(porch.head("HEAD", &path, "", "")).await;
    assert_eq!((head.status, head.body.as_str()), (200, ""));
    assert_eq!(head.header("etag"), Some(tag.as_str()));
}

#[tokio::test]
async fn the_same_is_not_sent_again() {
    let (porch, path, tag) = open().await;
    let with = async |more: &str| porch.raw(porch.head("GET", &path, "", more)).await;
    for list in [
        tag.clone(),
        "*".to_owned(),
        format!("W/{tag}"),
        format!("\"other\", {tag}"),
        format!("\"other\"\r\nIf-None-Match: {tag}"),
    ] {
        let reply = with(&format!("If-None-Match: {list}\r\n")).await;
        assert_eq!((reply.status, reply.body.as_str()), (304, ""), "{list}");
        assert_eq!(reply.header("etag"), Some(tag.as_str()), "{list}");
        assert_eq!(reply.header("cache-control"), Some("private, no-cache"), "{list}");
    }
    for list in ["\"other\"", "", tag.trim_matches('"')] {
        let reply = with(&format!("If-None-Match: {list}\r\n")).await;
        assert_eq!((reply.status, reply.body.as_str()), (200, BODY), "{list}");
    }
    "another".clone_into(&mut porch.house.calendar.lock().unwrap());
    let reply = with(&format!("If-None-Match: {tag}\r\n")).await;
    assert_eq!((reply.status, reply.body.as_str()), (200, "another"));
    assert_ne!(reply.header("etag"), Some(tag.as_str()));
}

#[tokio::test]
async fn every_address_that_leads_nowhere_gets_the_same_answer() {
    let (porch, path, _) = open().await;
    let mut answers = Vec::new();
    for path in [
        "/calendar/beef.ics",
        "/calendar/.ics",
        "/calendar/cafe",
        "/calendar/CAFE.ics",
        "/calendar/cafe.ics.ics",
        "/calendar/%00.ics",
    ] {
        let reply = porch.get(path, "key-1-1").await;
        assert_eq!(reply.status, 404, "{path}");
        assert_eq!(reply.header("etag"), None, "{path}");
        answers.push(reply.body);
    }
    answers.dedup();
    assert_eq!(answers.len(), 1, "{answers:?}");
    let posted = porch.post(&path, "key-1-1", "{}").await;
    assert_eq!(posted.status, 405);
}
