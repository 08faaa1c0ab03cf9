//! Dangers: posted at once whatever the hour, answered, and settled once.

use super::{BEA, CLEO, Posted, code, codes, north, posted_at, posts, settle, verify};
use wrackline_tests::house::TestHouse;

/// The posts whose title holds a word, lower case.
fn with<'a>(all: &'a [Posted], word: &str) -> Vec<&'a Posted> {
    all.iter()
        .filter(|post| post.title().to_lowercase().contains(word))
        .collect()
}

async fn leak(house: &mut TestHouse, local: &str) -> Posted {
    house.at(local);
    let before = posts(house).await.len();
    let (ok, said) = house
        .say_as(BEA, "/saw leak north salt note under the inner tub")
        .await;
    assert!(ok && said.to_lowercase().contains("leak"), "{said}");
    settle(house).await;
    // Whatever else was outstanding is posted with it; the alarm is there once.
    let new = posts(house).await.split_off(before);
    assert_eq!(with(&new, "leak").len(), 1, "{new:?}");
    new.into_iter()
        .find(|post| post.title().contains("Leak"))
        .expect("the alarm")
}

#[tokio::test]
async fn a_leak_in_the_night_is_posted_at_once() {
    let mut house = north().await;
    house.at("2026-03-02 03:00");
    settle(&house).await;
    let alarm = leak(&mut house, "2026-03-02 03:00").await;
    assert_eq!(
        alarm.at_ms,
        house
            .zone
            .instant(jiff::civil::date(2026, 3, 2).at(3, 0, 0, 0))
            .as_millisecond()
    );
    let text = alarm.text();
    for part in ["North salt", "Bea", "03:00", "under the inner tub"] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let verbs: Vec<String> = codes(&alarm.blocks)
        .iter()
        .filter_map(|code| Some(code.split_once('.')?.0.to_owned()))
        .collect();
    assert_eq!(verbs, ["noted", "going", "wrong", "close"]);
    // The morning call comes at eight, not with it.
    let later = posted_at(&house, "2026-03-02 06:59").await;
    assert!(later.is_empty(), "{later:?}");
    verify(&house).await;
}

#[tokio::test]
async fn an_alarm_is_answered_and_settled_once() {
    let mut house = north().await;
    let alarm = leak(&mut house, "2026-03-02 21:10").await;
    let (ok, said) = house.press(CLEO, &code(&alarm.blocks, "going.", ""), None).await;
    assert!(ok && said.contains("Cleo"), "{said}");
    settle(&house).await;
    let shown = posts(&house).await;
    let edited = with(&shown, "leak").pop().expect("the alarm");
    assert!(edited.text().contains("Cleo"), "{}", edited.text());
    house.at("2026-03-02 21:40");
    let close = code(&alarm.blocks, "close.", "");
    let (ok, said) = house.press(CLEO, &close, None).await;
    assert!(ok && said.contains("Cleo"), "{said}");
    settle(&house).await;
    let (ok, said) = house.press(BEA, &close, None).await;
    assert!(!ok && said.contains("Cleo") && said.contains("21:40"), "{said}");
    house.at("2026-03-03 09:00");
    settle(&house).await;
    settle(&house).await;
    let shown = posts(&house).await;
    let settled = with(&shown, "settled");
    assert_eq!(settled.len(), 1, "{settled:?}");
    assert!(settled[0].text().contains("North salt") && settled[0].text().contains("Cleo"));
    let alarms = shown
        .iter()
        .filter(|post| post.text().contains("under the inner tub"))
        .count();
    assert_eq!(alarms, 1, "{shown:?}");
    verify(&house).await;
}

#[tokio::test]
async fn an_alarm_that_was_wrong_is_taken_back() {
    let mut house = north().await;
    let alarm = leak(&mut house, "2026-03-02 12:10").await;
    let (ok, said) = house.press(1, &code(&alarm.blocks, "wrong.", ""), None).await;
    assert!(ok && said.contains("Ada"), "{said}");
    settle(&house).await;
    let shown = posts(&house).await;
    let edited = shown
        .iter()
        .find(|post| post.at_ms == alarm.at_ms)
        .expect("the alarm");
    assert!(
        edited.text().to_lowercase().contains("taken back"),
        "{}",
        edited.text()
    );
    assert!(codes(&edited.blocks).is_empty());
    assert!(with(&shown, "settled").is_empty());
    verify(&house).await;
}

#[tokio::test]
async fn a_long_humid_spell_is_an_alarm_and_a_short_one_is_not() {
    let mut house = north().await;
    for (time, percent) in [
        ("2026-03-02 08:30", 88),
        ("2026-03-02 20:30", 89),
        ("2026-03-03 08:30", 88),
        ("2026-03-03 20:00", 87),
    ] {
        house.at(time);
        house.say(&format!("/read north {percent}%")).await;
        settle(&house).await;
        assert!(with(&posts(&house).await, "humidity").is_empty(), "{time}");
    }
    house.at("2026-03-03 23:30");
    house.say("/read north 90%").await;
    settle(&house).await;
    let shown = posts(&house).await;
    let alarm = with(&shown, "humidity");
    assert_eq!(alarm.len(), 1, "{alarm:?}");
    for part in ["North", "85 %", "39 hours", "90 %", "36 h"] {
        assert!(alarm[0].text().contains(part), "{part}: {}", alarm[0].text());
    }
    house.at("2026-03-04 09:00");
    house.say("/read north 80%").await;
    settle(&house).await;
    let shown = posts(&house).await;
    let settled: Vec<_> = shown
        .iter()
        .filter(|post| post.title().contains("80 %"))
        .collect();
    assert_eq!(settled.len(), 1, "{shown:?}");
    verify(&house).await;
}

#[tokio::test]
async fn what_is_told_on_is_noted_and_a_line_closes_it() {
    let mut house = north().await;
    house.at("2026-03-02 12:00");
    settle(&house).await;
    let said = house.say("/saw leak north salt and turned off the pump").await;
    assert!(said.starts_with("Leak, North salt"), "{said}");
    settle(&house).await;
    let all = posts(&house).await;
    assert!(
        with(&all, "leak")[0].text().contains("turned off the pump"),
        "{all:?}"
    );
    house.at("2026-03-02 12:30");
    let (ok, said) = house.say_as(BEA, "/saw leak north salt closed").await;
    assert!(ok && said.contains("Leak over"), "{said}");
    let (ok, said) = house.say_as(BEA, "/saw leak north salt closed").await;
    assert!(!ok && said.contains("No leak is open"), "{said}");
    settle(&house).await;
    assert_eq!(with(&posts(&house).await, "settled").len(), 1);
    verify(&house).await;
}
