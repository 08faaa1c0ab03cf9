//! Round calls and late calls: posted once, in time, and kept true.

use super::{BEA, Posted, code, codes, entries, north, posted_at, posts, settle, verify};
use wrackline::chat::blocks::Block;
use wrackline_tests::house::TestHouse;

/// The call of the morning of 3 March, in a place where all of the day before was done.
async fn called(house: &mut TestHouse) -> Posted {
    let before = posted_at(house, "2026-03-02 08:00").await;
    let call = before
        .iter()
        .find(|post| post.title().contains("round"))
        .expect("the first call");
    let (ok, said) = house.press(BEA, &code(&call.blocks, "all.", ""), None).await;
    assert!(ok, "{said}");
    for reading in readings_and_rest(&call.blocks).0 {
        let (ok, said) = house.press(BEA, &reading, Some("80%")).await;
        assert!(ok, "{said}");
    }
    settle(house).await;
    let mut posted = posted_at(house, "2026-03-03 08:00").await;
    assert_eq!(posted.len(), 1, "{posted:?}");
    posted.remove(0)
}

#[tokio::test]
async fn a_call_lists_the_turns_and_the_water() {
    let mut house = north().await;
    let call = called(&mut house).await;
    let text = call.text();
    assert!(
        call.title().contains("Morning round") && call.title().contains("Tuesday 3 March"),
        "{text}"
    );
    assert!(
        text.contains("Prepare 16.8 L fresh · 16.8 L salt (601.7 g salt, expect 35 g/kg)"),
        "{text}"
    );
    for part in [
        "North fresh: change",
        "North salt: change",
        "South fresh: change",
        "South salt: change",
    ] {
        assert_eq!(text.matches(part).count(), 1, "{part}: {text}");
    }
    let codes = codes(&call.blocks);
    for verb in ["did.", "later.", "cannot.", "notneeded."] {
        let turns = codes.iter().filter(|code| code.starts_with(verb)).count();
        assert_eq!(
            turns,
            text.lines()
                .filter(|line| line.contains(" · ") && line.contains(": "))
                .count(),
            "{verb}: {text}"
        );
    }
    // The same moment again posts nothing more.
    let before = posts(&house).await.len();
    settle(&house).await;
    assert_eq!(posts(&house).await.len(), before);
}

#[tokio::test]
async fn all_done_logs_every_open_turn_and_the_call_shows_it() {
    let mut house = north().await;
    let call = called(&mut house).await;
    let shown = posts(&house).await.len();
    let (readings, open) = readings_and_rest(&call.blocks);
    house.at("2026-03-03 08:40");
    let before = entries(&house).await;
    let (ok, said) = house.press(BEA, &code(&call.blocks, "all.", ""), None).await;
    assert!(
        ok && said.contains("North salt") && said.contains("South fresh"),
        "{said}"
    );
    assert_eq!(entries(&house).await, before + i64::try_from(open).expect("few"));
    settle(&house).await;
    let now = posts(&house).await;
    assert_eq!(now.len(), shown, "the call is edited, not posted anew");
    let edited = now.last().expect("the call");
    assert_eq!(edited.at_ms, call.at_ms);
    assert_eq!(edited.text().matches('✓').count(), open, "{}", edited.text());
    // A reading without its values is none: pressed by itself it takes them.
    assert!(said.contains("they need values"), "{said}");
    let (ok, _) = house.press(BEA, &code(&call.blocks, "all.", ""), None).await;
    assert!(!ok, "only readings are open any more");
    for reading in &readings {
        let (ok, said) = house.press(BEA, reading, Some("soon")).await;
        assert!(!ok, "{said}");
        let (ok, said) = house.press(BEA, reading, Some("81% 26C")).await;
        assert!(ok && said.contains("81 %, 26 °C"), "{said}");
    }
    settle(&house).await;
    let edited = posts(&house).await.pop().expect("the call");
    assert!(edited.title().contains("all done"), "{}", edited.text());
    assert!(codes(&edited.blocks).is_empty());
    verify(&house).await;
}

#[tokio::test]
async fn all_but_leaves_the_numbers_that_were_said() {
    let mut house = north().await;
    let call = called(&mut house).await;
    let (readings, open) = readings_and_rest(&call.blocks);
    let but = code(&call.blocks, "but.", "");
    let before = entries(&house).await;
    for wrong in [None, Some(""), Some("0"), Some("99"), Some("two")] {
        let (ok, said) = house.press(BEA, &but, wrong).await;
        assert!(!ok, "{wrong:?}: {said}");
    }
    assert_eq!(entries(&house).await, before);
    house.at("2026-03-03 08:30");
    let (ok, said) = house.press(BEA, &but, Some("1 and 3")).await;
    assert!(ok, "{said}");
    assert_eq!(
        entries(&house).await,
        before + i64::try_from(open - 2).expect("few")
    );
    settle(&house).await;
    let edited = posts(&house).await.pop().expect("the call");
    let left = readings.len() + 2;
    assert!(
        edited.title().contains(&format!("{left} turns")),
        "{}",
        edited.text()
    );
    let items: Vec<String> = edited
        .text()
        .lines()
        .filter(|line| line.contains(" · ") && !line.contains("reading"))
        .skip(1)
        .map(str::to_owned)
        .collect();
    let open: Vec<bool> = items.iter().map(|item| !item.starts_with('✓')).collect();
    assert!(
        open[0] && !open[1] && open[2] && open[3..].iter().all(|open| !open),
        "{items:?}"
    );
    verify(&house).await;
}

#[tokio::test]
async fn what_is_taken_back_is_open_in_the_call_again() {
    let mut house = north().await;
    let call = called(&mut house).await;
    house.at("2026-03-03 08:10");
    house.say("/did change north salt").await;
    settle(&house).await;
    let line = |posted: Option<Posted>| {
        let text = posted.expect("the call").text();
        text.lines()
            .find(|line| line.contains("North salt: change"))
            .expect("the turn")
            .to_owned()
    };
    let done = line(posts(&house).await.pop());
    assert!(
        done.starts_with('✓') && done.contains("08:10") && done.contains("Ada"),
        "{done}"
    );
    house.say("/undo").await;
    settle(&house).await;
    let open = line(posts(&house).await.pop());
    assert!(!open.starts_with('✓') && open.contains("due"), "{open}");
    assert_eq!(open, line(Some(call)));
    verify(&house).await;
}

#[tokio::test]
async fn a_late_call_waits_for_the_morning() {
    let mut house = north().await;
    house
        .say("/duty add \"night walk\" on Tue time 21:00 grace 2 h")
        .await;
    called(&mut house).await;
    // What is late from 20:00 is called in the evening still.
    let evening = posted_at(&house, "2026-03-03 20:00").await;
    assert!(
        evening
            .iter()
            .any(|post| post.text().contains("North salt: change")),
        "{evening:?}"
    );
    // What is late from 23:00 waits for the end of the quiet hours.
    for time in ["22:00", "23:00", "23:30"] {
        let night = posted_at(&house, &format!("2026-03-03 {time}")).await;
        assert!(night.is_empty(), "{time}: {night:?}");
    }
    for time in ["03:00", "06:59"] {
        let night = posted_at(&house, &format!("2026-03-04 {time}")).await;
        assert!(night.is_empty(), "{time}: {night:?}");
    }
    let morning = posted_at(&house, "2026-03-04 07:00").await;
    assert_eq!(morning.len(), 1, "{morning:?}");
    let text = morning[0].text();
    assert!(text.contains("night walk") && text.contains("23:00"), "{text}");
    verify(&house).await;
}

#[tokio::test]
async fn after_a_stop_one_call_tells_how_things_stand() {
    let mut house = north().await;
    called(&mut house).await;
    let before = posts(&house).await.len();
    let caught_up = posted_at(&house, "2026-03-06 12:00").await;
    let calls: Vec<String> = caught_up.iter().map(Posted::title).collect();
    assert_eq!(calls.len(), 1, "{calls:?}");
    assert_eq!(posts(&house).await.len(), before + 1);
    assert!(caught_up[0].text().contains("hazard"), "{}", caught_up[0].text());
    verify(&house).await;
}

#[tokio::test]
async fn a_line_said_before_the_engine_runs_does_not_hide_what_is_outstanding() {
    let mut house = north().await;
    posted_at(&house, "2026-03-02 08:00").await;
    // Nothing runs for three days; then someone logs something before the engine has its step.
    house.at("2026-03-05 11:00");
    house.say("/read north 80%").await;
    let posted = posted_at(&house, "2026-03-05 11:00").await;
    let calls: Vec<_> = posted
        .iter()
        .filter(|post| post.text().contains("Called late"))
        .collect();
    assert_eq!(calls.len(), 1, "{posted:?}");
    verify(&house).await;
}

#[tokio::test]
async fn a_hazard_is_called_beside_the_change_that_would_renew_it() {
    let mut house = north().await;
    house.say("/gear add north salt air").await;
    house.at("2026-03-01 12:30");
    house.say("/did change north salt").await;
    house.at("2026-03-08 08:30");
    let due = house.say("/due all").await;
    assert!(due.contains("hazard North salt: top-up"), "{due}");
    assert!(due.contains("due North salt: change"), "{due}");
    house.at("2026-03-09 08:30");
    verify(&house).await;
}

/// The presses of a call's readings, and how many other turns it has.
fn readings_and_rest(blocks: &[Block]) -> (Vec<String>, usize) {
    let done = codes(blocks).into_iter().filter(|code| code.starts_with("did."));
    let (readings, rest): (Vec<String>, Vec<String>) = done.partition(|code| code.contains("reading"));
    (readings, rest.len())
}

#[tokio::test]
async fn a_keeper_who_has_the_turn_is_not_told_that_it_was_passed_on_to_them() {
    let mut house = north().await;
    posted_at(&house, "2026-03-03 08:00").await;
    let (ok, said) = house.say_as(1, "/take change north salt sure").await;
    assert!(ok, "{said}");
    for at in ["2026-03-03 20:00", "2026-03-04 07:00", "2026-03-04 19:30"] {
        posted_at(&house, at).await;
    }
    let last = posted_at(&house, "2026-03-05 08:00").await;
    let text: String = last.iter().map(Posted::text).collect();
    let of = |line: &&str| line.contains("North salt: change · Ada · late since");
    let lines: Vec<&str> = text.lines().filter(of).collect();
    assert!(!lines.is_empty(), "{text}");
    assert!(
        lines.iter().all(|line| !line.contains("passed on to Ada")),
        "{text}"
    );
    assert!(text.contains("passed on to Ada"), "others' turns are: {text}");
}
