//! A turn that is offered by a line and accepted by a press, as both calendars tell it over HTTP.

use std::collections::BTreeMap;

use super::http::{ADA, BEA, Open};
use super::{Event, events};
use crate::talk::{answer, code, verify};

/// The id of the one event that is cancelled.
fn cancelled(events: &BTreeMap<String, Event>) -> String {
    let all: Vec<&Event> = events
        .values()
        .filter(|event| event["STATUS"] == "CANCELLED")
        .collect();
    assert_eq!(all.len(), 1, "{all:?}");
    all[0]["UID"].clone()
}

fn sequence(event: &Event) -> u32 {
    event["SEQUENCE"].parse().expect("a count")
}

/// A change that is Ada's by the plan, as she is told of it, in words that name it alone.
async fn change_of_ada(open: &mut Open) -> String {
    let told = answer(&mut open.house, ADA, "/turns Ada two weeks").await;
    let is_hers = |turn: &&serde_json::Value| {
        turn["carer"] == "Ada" && turn["duty"].as_str().is_some_and(|duty| duty.ends_with("change"))
    };
    let turn = told
        .turns
        .iter()
        .rev()
        .find(is_hers)
        .expect("a change of Ada's")
        .clone();
    let part = |name: &str| turn[name].as_str().unwrap_or("").to_owned();
    format!(
        "change {} {} {} {}",
        part("enclosure"),
        part("pool"),
        part("day"),
        part("round")
    )
}

#[tokio::test]
async fn the_turn_leaves_one_feed_and_comes_to_the_other_under_the_same_id() {
    let mut open = Open::porch().await;
    let (ada, bea) = (open.link(ADA, "").await, open.link(BEA, "").await);
    let before = (open.get(&ada, None).await, open.get(&bea, None).await);
    let tags = (before.0.tag.as_deref(), before.1.tag.as_deref());
    for (address, tag) in [(&ada, tags.0), (&bea, tags.1)] {
        let same = open.get(address, tag).await;
        assert_eq!((same.status, same.body.as_str()), (304, ""));
    }
    let words = change_of_ada(&mut open).await;
    let receipt = open.house.say(&format!("/offer {words} to Bea")).await;
    assert!(receipt.contains("offered to Bea"), "{receipt}");
    for (address, tag) in [(&ada, tags.0), (&bea, tags.1)] {
        assert_eq!(
            open.get(address, tag).await.status,
            304,
            "an offer alone changes nothing"
        );
    }
    let listed = answer(&mut open.house, BEA, "/turns").await;
    let accept = code(&listed.blocks, "accept.", "");
    let (ok, receipt) = open.house.press(BEA, &accept, None).await;
    assert!(ok && receipt.contains("Bea does it"), "{receipt}");

    let after = (open.get(&ada, tags.0).await, open.get(&bea, tags.1).await);
    assert_eq!((after.0.status, after.1.status), (200, 200));
    assert!(after.0.tag.as_deref() != tags.0 && after.1.tag.as_deref() != tags.1);
    let (had, has_not, got) = (
        events(&before.0.body),
        events(&after.0.body),
        events(&after.1.body),
    );
    let id = cancelled(&has_not);
    assert_eq!(had[&id]["STATUS"], "CONFIRMED");
    assert!(
        !events(&before.1.body).contains_key(&id),
        "it was not in the other feed"
    );
    assert_eq!(got[&id]["STATUS"], "CONFIRMED");
    assert_eq!(sequence(&has_not[&id]), sequence(&had[&id]) + 1);
    assert_eq!(sequence(&got[&id]), sequence(&had[&id]) + 1);
    for name in ["DTSTART", "DURATION", "SUMMARY"] {
        assert_eq!(got[&id].get(name), had[&id].get(name), "{name}");
    }
    // Nothing else changed, in either.
    let others = |events: &BTreeMap<String, Event>| {
        let rest = events.iter().filter(|(uid, _)| **uid != id);
        rest.map(|(uid, event)| (uid.clone(), event.clone()))
            .collect::<BTreeMap<_, _>>()
    };
    assert_eq!(others(&has_not), others(&had));
    assert_eq!(others(&got), others(&events(&before.1.body)));
    for (address, tag) in [(&ada, after.0.tag.as_deref()), (&bea, after.1.tag.as_deref())] {
        assert_eq!(open.get(address, tag).await.status, 304);
    }
    verify(&open.house).await;
}
