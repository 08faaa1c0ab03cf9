//! How long photos are kept, over the real store, with a clock that stands where it is put.

use std::time::{Duration, Instant};

use jiff::Timestamp;
use wrackline::chat::blocks::{Answer, Block};
use wrackline::clock::wait;
use wrackline::house::{Input, Said};
use wrackline::keeping;
use wrackline::photo::cleaned;
use wrackline_tests::binary::PATIENCE;
use wrackline_tests::house::TestHouse;

use super::sent;

/// A house with a pool that was changed at 08:00 on 3 March, with a photo beside the entry.
async fn house() -> (TestHouse, Answer, i64) {
    let mut house = TestHouse::new("Europe/London").await;
    house.say("/enclosure add North 400 L").await;
    house.say("/pool add north fresh 8 L").await;
    house.at("2026-03-03 08:00");
    let answer = hear(&house).await;
    let shown = |block: &Block| match block {
        Block::Photo { seq } => i64::try_from(*seq).ok(),
        _ => None,
    };
    let seq = answer.blocks.iter().find_map(shown).expect("a photo is shown");
    (house, answer, seq)
}

/// Says, under one and the same id, that the pool was changed.
async fn hear(house: &TestHouse) -> Answer {
    let photo = cleaned(sent("told.jpg").bytes.to_vec()).expect("a photo");
    let said = Said {
        place: house.place,
        carer: 1,
        id: "with-photo".to_owned(),
        input: Input::Line("/did change north fresh".to_owned()),
        photo: Some(photo),
    };
    house.app.house.hear(said).await
}

async fn photo(house: &TestHouse, seq: i64) -> Option<Vec<u8>> {
    let found = house.store.photo(house.place, seq).await.expect("a look");
    found.map(|photo| photo.bytes)
}

async fn step(house: &TestHouse, days: u32) -> u64 {
    let now = house.app.house.clock.now();
    keeping::step(&*house.store, now, days).await.expect("a look")
}

#[tokio::test]
async fn a_photo_is_gone_after_its_days_and_its_entry_stays() {
    let (house, answer, seq) = house().await;
    let before = house
        .store
        .tail(house.place, 0)
        .await
        .expect("the journal")
        .entries;
    assert_eq!(photo(&house, seq).await, Some(sent("told.jpg").kept()));
    // 30 days of 24 hours, across the night that has 23.
    for (local, gone) in [
        ("2026-03-03 08:00", 0),
        ("2026-04-02 08:59", 0),
        ("2026-04-02 09:01", 1),
        ("2026-04-02 09:02", 0),
    ] {
        house.at(local);
        assert_eq!(step(&house, 30).await, gone, "{local}");
    }
    assert_eq!(photo(&house, seq).await, None);
    let after = house
        .store
        .tail(house.place, 0)
        .await
        .expect("the journal")
        .entries;
    assert_eq!(after, before);
    // The line said again gets its answer again, and brings no photo back.
    assert_eq!(hear(&house).await, answer);
    assert_eq!(photo(&house, seq).await, None);
}

#[tokio::test]
async fn days_from_before_all_time_forget_nothing() {
    let (house, _, seq) = house().await;
    house.clock.put(Timestamp::UNIX_EPOCH);
    assert_eq!(step(&house, u32::MAX).await, 0);
    assert!(photo(&house, seq).await.is_some());
}

#[tokio::test]
async fn the_process_looks_as_soon_as_it_runs() {
    let (house, _, seq) = house().await;
    house.at("2026-09-01 08:00");
    let clock = house.app.house.clock.clone();
    let task = tokio::spawn(keeping::run(house.store.clone(), clock, 180));
    let began = Instant::now();
    while photo(&house, seq).await.is_some() {
        assert!(began.elapsed() < PATIENCE, "the photo is still there");
        wait(Duration::from_millis(5)).await;
    }
    task.abort();
}
