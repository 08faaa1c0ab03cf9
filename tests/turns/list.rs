//! `/turns` tells whose turn it is, by day and round.

use super::{change_of, name, plan, said, shared};
use crate::talk::{BEA, CLEO, answer, posted_at};
use jiff::Timestamp;
use std::collections::BTreeMap;
use wrackline_core::calendar::feed;
use wrackline_core::civil::plus_days;
use wrackline_core::place::CarerId;
use wrackline_tests::house::TestHouse;

#[tokio::test]
async fn everybody_sees_their_own_turns_and_all_of_them_together_are_everyones() {
    let mut house = shared().await;
    let plan = plan(&house).await;
    let today = house.zone.date(house.app.house.clock.now());
    let week = |days: i64| {
        let until = plus_days(today, days);
        plan.iter().filter(move |turn| turn.expected.when.date < until)
    };
    for carer in [1, BEA, CLEO] {
        let own: Vec<_> = week(7)
            .filter(|turn| turn.carer == Some(CarerId(carer)))
            .collect();
        let minutes: f64 = own.iter().map(|turn| turn.expected.work.minutes).sum();
        assert!(own.len() > 5, "{} has {}", name(carer), own.len());
        let title = format!(
            "{}: {} turns, {} min, Monday 2 March to Sunday 8 March",
            name(carer),
            own.len(),
            minutes.round()
        );
        for line in ["/turns", "/turns mine", "/turns week"] {
            let (ok, text) = house.say_as(carer, line).await;
            assert!(ok && text.starts_with(&title), "{line}: {text}\nnot {title}");
        }
        let text = house.say(&format!("/turns {}", name(carer))).await;
        assert!(text.starts_with(&title), "{text}");
        // A line is one enclosure's turns of a round, and nobody else's.
        for other in [1, BEA, CLEO].into_iter().filter(|other| *other != carer) {
            assert!(!text.contains(name(other)), "{text}");
        }
    }
    let all = house.say("/turns all").await;
    let title = format!("Everyone: {} turns, ", week(7).count());
    assert!(all.starts_with(&title), "{all}\nnot {title}");
    let asked = house.say("whose turn is it").await;
    assert_eq!(asked, all);
}

#[tokio::test]
async fn days_are_asked_for_by_their_words() {
    let mut house = shared().await;
    for (line, days) in [
        ("/turns all today", "Monday 2 March"),
        ("/turns tomorrow all", "Tuesday 3 March"),
        ("/turns all next week", "Monday 9 March to Sunday 15 March"),
        ("/turns all two weeks", "Monday 2 March to Sunday 15 March"),
        ("/turns bea next week", "Monday 9 March to Sunday 15 March"),
        ("/turns all sunday", "Sunday 8 March"),
        ("/turns all on thursday", "Thursday 5 March"),
        ("/turns all 2026-03-12", "Thursday 12 March"),
        ("/turns friday evening all", "Friday 6 March"),
    ] {
        let text = house.say(line).await;
        let title = text.lines().next().unwrap_or_default();
        assert!(title.ends_with(&format!(" min, {days}")), "{line}: {title}");
    }
    let told = answer(&mut house, BEA, "/turns all two weeks").await;
    assert_eq!(told.turns.len(), plan(&house).await.len());
    let first = &told.turns[0];
    assert_eq!(
        (first["day"].as_str(), first["round"].as_str()),
        (Some("2026-03-02"), Some("morning"))
    );
    assert!(
        first["minutes"].as_i64().is_some_and(|minutes| minutes > 0),
        "{first}"
    );
    let refused = house.refused("/turns 2026-03-16").await;
    assert!(refused.contains("14 days ahead"), "{refused}");
    let (ok, refused) = house.say_as(BEA, "/turns next year").await;
    assert!(!ok && refused.contains("no carer"), "{refused}");
}

#[tokio::test]
async fn why_tells_who_could_do_it_and_what_everyone_did() {
    let mut house = shared().await;
    let (ok, _) = house.say_as(CLEO, "/did change north fresh").await;
    assert!(ok);
    let text = house.say("/why north salt change").await;
    assert!(text.contains("Shared out to "), "{text}");
    let people = text
        .lines()
        .find(|line| line.starts_with("Who can"))
        .expect("the people");
    for part in [
        "Ada ",
        "Bea ",
        "short",
        "Cleo ",
        "beyond",
        "Dot is not granted mixing salt water",
    ] {
        assert!(people.contains(part), "{part}: {people}");
    }
    // A whole enclosure is told without it.
    let all = house.say("/why north").await;
    assert!(!all.contains("Who can"), "{all}");
}

#[tokio::test]
async fn the_week_tells_minutes_and_how_even_they_were() {
    let mut house = shared().await;
    for (carer, pool) in [(1, "north fresh"), (BEA, "north salt"), (CLEO, "south fresh")] {
        let (ok, text) = house.say_as(carer, &format!("/did change {pool}")).await;
        assert!(ok, "{text}");
    }
    let text = house.say("/week").await;
    let line = text
        .lines()
        .find(|line| line.starts_with("Minutes: "))
        .expect("a line of minutes");
    assert!(
        line.contains("Ada ") && line.contains("Bea ") && line.contains("Cleo "),
        "{line}"
    );
    let even = line
        .split("shared ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next());
    let even: f64 = even.expect("an index").parse().expect("a number");
    assert!(
        (0.9..1.0).contains(&even),
        "one did salt, which takes longer: {line}"
    );
    let (ok, text) = house.say_as(BEA, "/did change south salt").await;
    assert!(ok, "{text}");
    let text = house.say("/week").await;
    let after = text
        .split("shared ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next());
    let after: f64 = after.expect("an index").parse().expect("a number");
    assert!(after < even, "two of four are less even: {text}");
}

#[tokio::test]
async fn why_tells_what_decided_where_a_turn_lies() {
    let mut house = crate::talk::north().await;
    for line in ["/carer set Bea skill none", "/carer set Cleo skill none"] {
        house.say(line).await;
    }
    posted_at(&house, "2026-03-02 08:00").await;
    let text = house.say("/why north salt change").await;
    assert!(
        text.contains("Shared out to Ada.\nNobody else could do it.\n"),
        "{text}"
    );
    house.say("/carer set Bea skill all").await;
    // What comes later changes nothing of why it was shared out so.
    assert_eq!(
        house
            .say("/why north salt change")
            .await
            .matches("Nobody else could do it.")
            .count(),
        1
    );
    let plan = plan(&house).await;
    let first = change_of(&plan, &[]);
    assert_eq!(first.carer.map(|carer| carer.0), Some(1));
    house.say(&format!("/offer {} to Bea", said(first))).await;
    let (ok, receipt) = house.say_as(BEA, &format!("/take {}", said(first))).await;
    assert!(ok && receipt.contains("Bea does it"), "{receipt}");
    let text = house.say("/why north salt change").await;
    assert!(
        text.contains("Bea said that they do it.\nAda had offered it.\n"),
        "{text}"
    );
}

/// When the turns in everyone's calendars are due, by their codes.
async fn calendars(house: &TestHouse) -> BTreeMap<String, Timestamp> {
    let held = house.app.house.shelf.open(house.place).await.expect("a book");
    let now = house.app.house.clock.now();
    let place = held.book().place_at(now);
    let feeds = place
        .carers
        .keys()
        .map(|carer| feed(held.book(), &place, *carer, now));
    let turns = feeds
        .flat_map(|feed| feed.turns)
        .filter(|turn| !turn.is_cancelled);
    turns.map(|turn| (turn.code, turn.due)).collect()
}

#[tokio::test]
async fn behind_a_late_turn_it_is_said_that_calendars_keep_what_was_planned() {
    let mut house = shared().await;
    let note = "a calendar keeps them where they were planned until it is done";
    for (moment, is_late) in [("2026-03-02 08:00", false), ("2026-03-04 21:00", true)] {
        posted_at(&house, moment).await;
        let told = calendars(&house).await;
        let differ = plan(&house).await.iter().any(|turn| {
            let due = told.get(&turn.expected.slot.to_string());
            !turn.follows && due.is_some_and(|due| *due != turn.expected.due)
        });
        let list = house.say("/turns all two weeks").await;
        assert_eq!(
            (differ, list.contains(note)),
            (is_late, is_late),
            "{moment}: {list}"
        );
    }
}
