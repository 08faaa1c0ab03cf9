//! The address of a calendar: who gets one, what it gives, and when it gives no more.

use std::collections::BTreeSet;

use jiff::civil::date;
use wrackline::chat::porch::Spoken;
use wrackline::house::{CALENDAR_PATH, Input};
use wrackline_core::calendar::feed;
use wrackline_core::journal::{CarerChange, Event, Say};
use wrackline_core::people::Span;
use wrackline_core::place::CarerId;

use super::events;
use super::http::{ADA, BEA, Open};

#[tokio::test]
async fn an_address_gives_the_turns_of_one() {
    let mut open = Open::porch().await;
    let (ada, bea) = (open.link(ADA, "alarm 30 min").await, open.link(BEA, "").await);
    let (ada, bea) = (open.get(&ada, None).await, open.get(&bea, None).await);
    assert_eq!((ada.status, bea.status), (200, 200));
    assert!(ada.body.contains("NAME:Club: Ada\r\n") && bea.body.contains("NAME:Club: Bea\r\n"));
    let (ada, bea) = (events(&ada.body), events(&bea.body));
    assert!(
        ada.len() > 10 && bea.len() > 10,
        "{} and {}",
        ada.len(),
        bea.len()
    );
    let ids = |events: &std::collections::BTreeMap<String, super::Event>| {
        events.keys().cloned().collect::<BTreeSet<_>>()
    };
    assert!(ids(&ada).is_disjoint(&ids(&bea)));
    for event in ada.values() {
        assert_eq!(event["ALARM-TRIGGER"], "-PT30M");
        assert_eq!(event["ALARM-ACTION"], "DISPLAY");
        assert_eq!(event["LOCATION"], "Study");
        assert!(
            event["DTSTART"].ends_with('Z') && event["UID"].ends_with("@wrackline"),
            "{event:?}"
        );
    }
    assert!(bea.values().all(|event| !event.contains_key("ALARM-TRIGGER")));
}

#[tokio::test]
async fn nothing_is_sent_twice() {
    let mut open = Open::porch().await;
    let address = open.link(ADA, "").await;
    let first = open.get(&address, None).await;
    let tag = first.tag.clone().expect("a tag");
    let same = open.get(&address, Some(&tag)).await;
    assert_eq!(
        (same.status, same.body.as_str(), same.tag.as_deref()),
        (304, "", Some(tag.as_str()))
    );
    // An hour on nothing has changed, whoever looks at the clock.
    open.at("2026-03-01 13:00").await;
    assert_eq!(open.get(&address, Some(&tag)).await.status, 304);
    assert_eq!(open.get(&address, None).await.body, first.body);
    assert!(open.house.say_as(BEA, "/did change north salt").await.0);
    assert_eq!(open.get(&address, Some(&tag)).await.status, 200);
}

#[tokio::test]
async fn a_turn_that_passes_on_keeps_its_id_and_counts_one() {
    let mut open = Open::porch().await;
    let (ada, bea) = (open.link(ADA, "").await, open.link(BEA, "").await);
    let before = (open.get(&ada, None).await, open.get(&bea, None).await);
    let turns = {
        let held = open
            .house
            .app
            .house
            .shelf
            .open(open.house.place)
            .await
            .expect("the book");
        let now = open.house.app.house.clock.now();
        feed(held.book(), &held.book().place_at(now), CarerId(ADA), now).turns
    };
    let slot = turns.last().expect("a turn").code.parse().expect("a slot");
    open.write(ADA, Event::Coming(slot, Say::Offered(CarerId(BEA))))
        .await;
    assert_eq!(
        open.get(&ada, before.0.tag.as_deref()).await.status,
        304,
        "an offer changes nothing"
    );
    open.write(BEA, Event::Coming(slot, Say::Taken)).await;
    let after = (
        open.get(&ada, before.0.tag.as_deref()).await,
        open.get(&bea, before.1.tag.as_deref()).await,
    );
    assert_eq!((after.0.status, after.1.status), (200, 200));
    let (had, gone, got) = (
        events(&before.0.body),
        events(&after.0.body),
        events(&after.1.body),
    );
    let cancelled: Vec<_> = gone
        .values()
        .filter(|event| event["STATUS"] == "CANCELLED")
        .collect();
    let [cancelled] = cancelled.as_slice() else {
        panic!("{cancelled:?}");
    };
    let (old, new) = (&had[&cancelled["UID"]], &got[&cancelled["UID"]]);
    assert_eq!(old["STATUS"], "CONFIRMED");
    let count = |event: &super::Event| event["SEQUENCE"].parse::<u32>().expect("a count");
    assert_eq!(count(new), count(old) + 1);
    assert_eq!(count(cancelled), count(new));
    assert_eq!(
        (&new["STATUS"], &new["DTSTART"]),
        (&"CONFIRMED".to_owned(), &old["DTSTART"])
    );
    assert!(!events(&before.1.body).contains_key(&cancelled["UID"]));
}

#[tokio::test]
async fn an_address_that_was_replaced_is_gone() {
    let mut open = Open::porch().await;
    let (first, other) = (open.link(ADA, "alarm 10 min").await, open.link(BEA, "").await);
    let second = open.link(ADA, "alarm none").await;
    assert_ne!(first, second);
    let gone = open.get(&first, None).await;
    assert_eq!(gone.status, 404);
    assert!(
        gone.body.contains("leads nowhere") && gone.body.contains("/link calendar"),
        "{}",
        gone.body
    );
    let there = open.get(&second, None).await;
    assert!(there.status == 200 && !there.body.contains("VALARM"));
    assert!(open.house.say("/link").await.contains("has an address"));
    assert!(
        open.house
            .say("/link calendar off")
            .await
            .contains("leads nowhere")
    );
    assert_eq!(open.get(&second, None).await.status, 404);
    assert_eq!(open.get(&other, None).await.status, 200, "another's stays");
    assert!(open.house.say("/link list").await.contains("has no address"));
    assert!(
        open.house
            .say("/link calendar off")
            .await
            .contains("has no address")
    );
    // Ids stay the same under a new address.
    let third = open.link(ADA, "").await;
    let ids = |text: &str| events(text).into_keys().collect::<Vec<_>>();
    assert_eq!(ids(&open.get(&third, None).await.body), ids(&there.body));
}

#[tokio::test]
async fn a_new_address_keeps_the_alarm_unless_another_is_said() {
    let mut open = Open::porch().await;
    for (more, trigger) in [
        ("", None),
        ("alarm 30 min", Some("-PT30M")),
        ("", Some("-PT30M")),
        ("alarm 10 min", Some("-PT10M")),
        ("alarm none", None),
        ("", None),
    ] {
        let address = open.link(ADA, more).await;
        let events = events(&open.get(&address, None).await.body);
        assert!(events.len() > 10);
        for event in events.values() {
            let rings = event.get("ALARM-TRIGGER").map(String::as_str);
            assert_eq!(rings, trigger, "“{more}”: {event:?}");
        }
    }
    // Another's choice is another's.
    open.link(ADA, "alarm 20 min").await;
    let bea = open.link(BEA, "").await;
    assert!(!open.get(&bea, None).await.body.contains("VALARM"));
}

#[tokio::test]
async fn whoever_left_has_no_calendar() {
    let mut open = Open::porch().await;
    open.house.say("/carer add Sam sitter").await;
    let sam = 3;
    let span = Span {
        from: date(2026, 3, 1),
        to: date(2026, 3, 3),
    };
    open.write(ADA, Event::Carer(CarerId(sam), CarerChange::Span(Some(span))))
        .await;
    let (bea, sam) = (open.link(BEA, "").await, open.link(sam, "").await);
    open.at("2026-03-03 23:00").await;
    assert_eq!(open.get(&sam, None).await.status, 200);
    open.at("2026-03-04 00:30").await;
    let ended = open.get(&sam, None).await;
    assert_eq!(ended.status, 404);
    let (port, _) = sam.trim_start_matches("http://").split_once('/').expect("a path");
    let never = open
        .get(&format!("http://{port}{CALENDAR_PATH}{:064}.ics", 0), None)
        .await;
    assert_eq!(ended.body, never.body, "nobody learns that it was one");
    assert_eq!(open.get(&bea, None).await.status, 200);
    open.house.say("/carer retire Bea").await;
    assert_eq!(open.get(&bea, None).await.status, 404);
}

#[tokio::test]
async fn the_address_is_told_once() {
    let mut open = Open::porch().await;
    let line = "/link calendar";
    let answer = open.house.hear(ADA, Input::Line(line.to_owned())).await;
    assert!(answer.private);
    let told = wrackline::chat::plain::text(&answer.blocks);
    let (_, token) = told.split_once(CALENDAR_PATH).expect("an address");
    let token = token.split_once(".ics").expect("its end").0;
    assert_eq!(token.len(), 64);
    let (store, place) = (&open.house.store, open.house.place);
    let porch = open.house.app.porch.clone();
    let spoken = Spoken {
        place,
        carer: ADA,
        who: "Ada",
        id: "1",
        line: Some(line),
        answer: &answer,
        at_ms: 1,
    };
    let rows = porch.record(spoken).await.expect("a line");
    assert!(
        rows.iter().any(|row| row.body.contains(token)),
        "whoever asked reads it"
    );
    for row in store.porch_after(place, 0, 100).await.expect("the porch") {
        assert!(!row.body.contains(token), "{}", row.body);
    }
    let again = porch.record(spoken).await.expect("the same line");
    assert!(again.iter().all(|row| row.only_for == Some(ADA)));
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("copy.db");
    store.backup(&file).await.expect("a copy");
    let bytes = std::fs::read(&file).expect("its bytes");
    let holds = |text: &str| bytes.windows(text.len()).any(|window| window == text.as_bytes());
    assert!(holds("North") && !holds(token), "the address is kept nowhere");
}

#[tokio::test]
async fn what_is_wrong_is_said() {
    let mut open = Open::porch().await;
    for (line, why) in [
        ("/link calendar alarm soon", "“soon” is no time before a turn"),
        ("/link calendar alarm 25 h", "“25 h” is no time before a turn"),
        ("/link calendar alarm 30 s", "“30 s” is no time before a turn"),
        ("/link calendar off alarm 10 min", "say one of the two"),
        ("/link wall", "calendar"),
    ] {
        let told = open.house.refused(line).await;
        assert!(told.contains(why), "{line}: {told}");
    }
    assert!(
        open.house.say("/link list").await.contains("has no address"),
        "nothing was done"
    );
}

#[tokio::test]
async fn a_duty_of_the_place_itself_is_logged_as_its_event_says() {
    let mut open = Open::porch().await;
    open.house.say("/duty add \"lid seals\" every 2 days").await;
    open.house.say("/carer set Bea share 0").await;
    open.at("2026-03-02 12:00").await;
    let address = open.link(ADA, "").await;
    let told = open.get(&address, None).await.body.replace("\r\n ", "");
    assert!(told.contains("say /did lid seals.\r\n"), "{told}");
    for line in ["/did lid seals", "/did lid seals the place again"] {
        let said = open.house.say(line).await;
        assert!(said.to_lowercase().contains("lid seals"), "{said}");
    }
    let said = open.house.refused("/did change the place").await;
    assert!(said.contains("place"), "{said}");
}
