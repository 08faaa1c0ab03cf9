//! Who may say what, and that the same thing said twice counts once.

use super::{BEA, DOT, entries, north, settle, verify};
use wrackline::chat::plain;
use wrackline::house::{Input, Said};
use wrackline::store::PhotoRow;
use wrackline_tests::house::TestHouse;

#[tokio::test]
async fn only_a_keeper_sets_things_up() {
    let mut house = north().await;
    let before = entries(&house).await;
    for line in [
        "/enclosure add West 100 L",
        "/pool set north salt volume 9 L",
        "/gear add north salt air",
        "/carer add Eve",
        "/carer set Bea role keeper",
        "/rounds retire morning",
        "/place set zone UTC",
        "/duty retire x",
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(!ok && said.contains("Ada"), "{line}: {said}");
    }
    assert_eq!(entries(&house).await, before);
    for line in [
        "/enclosure list",
        "/pool list",
        "/gear",
        "/carer list",
        "/rounds",
        "/due",
        "/why north",
        "/help",
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok, "{line}: {said}");
    }
    // A keeper is made by a keeper, and then may.
    house.say("/carer set Bea role keeper").await;
    let (ok, said) = house.say_as(BEA, "/enclosure add West 100 L").await;
    assert!(ok, "{said}");
}

#[tokio::test]
async fn a_helper_does_not_speak_and_a_stranger_is_not_heard() {
    let mut house = north().await;
    let before = entries(&house).await;
    for line in ["/due", "/did change north salt", "/read north 80%"] {
        let (ok, said) = house.say_as(DOT, line).await;
        assert!(!ok && said.contains("by"), "{line}: {said}");
        let (ok, said) = house.say_as(99, line).await;
        assert!(
            !ok && !said.contains("North"),
            "a stranger learns nothing: {said}"
        );
    }
    let (ok, _) = house.press(99, "did.change.p1.0", None).await;
    assert!(!ok);
    assert_eq!(entries(&house).await, before);
    let gone = house.say("/carer retire Bea").await;
    assert!(gone.contains("Bea"), "{gone}");
    let (ok, _) = house.say_as(BEA, "/due").await;
    assert!(!ok, "who has left is heard no more");
    let mut other = TestHouse::new("UTC").await;
    let (ok, _) = other.say_as(BEA, "/due").await;
    assert!(!ok, "numbers of one place mean nothing in another");
}

fn said(house: &TestHouse, id: &str, line: &str, photo: bool) -> Said {
    let photo = photo.then(|| PhotoRow {
        seq: 0,
        media_type: "image/png".to_owned(),
        bytes: b"\x89PNG".to_vec(),
    });
    Said {
        place: house.place,
        carer: 1,
        id: id.to_owned(),
        input: Input::Line(line.to_owned()),
        photo,
    }
}

#[tokio::test]
async fn the_same_id_gets_the_first_answer() {
    let house = north().await;
    house.at("2026-03-03 08:10");
    let first = house
        .app
        .house
        .hear(said(&house, "once", "/did change north salt", false))
        .await;
    assert!(first.ok);
    house.at("2026-03-05 09:00");
    // What the rounds since then share out is there already.
    settle(&house).await;
    let before = entries(&house).await;
    for line in ["/did change north salt", "/did change south salt again"] {
        let repeat = house.app.house.hear(said(&house, "once", line, false)).await;
        assert_eq!(repeat, first, "{line}");
    }
    assert_eq!(entries(&house).await, before);
    let all = futures_of(&house, "twice").await;
    assert_eq!(all.0, all.1, "said twice at the same time");
    assert_eq!(entries(&house).await, before + 1);
    verify(&house).await;
}

/// The same line with the same id, heard twice at the same time.
async fn futures_of(
    house: &TestHouse,
    id: &str,
) -> (wrackline::chat::blocks::Answer, wrackline::chat::blocks::Answer) {
    let hear = || {
        house
            .app
            .house
            .hear(said(house, id, "/did change south salt", false))
    };
    tokio::join!(hear(), hear())
}

#[tokio::test]
async fn a_photo_goes_with_what_was_done_or_seen() {
    let house = north().await;
    house.at("2026-03-03 08:10");
    let before = entries(&house).await;
    for line in ["/due", "/read north 80%", "/undo", "/pool list", "hello"] {
        let told = house.app.house.hear(said(&house, line, line, true)).await;
        assert!(
            !told.ok && plain::text(&told.blocks).to_lowercase().contains("photo"),
            "{line}: {told:?}"
        );
    }
    assert_eq!(entries(&house).await, before);
    for line in ["/did change north salt", "/saw mould north note green"] {
        let told = house.app.house.hear(said(&house, line, line, true)).await;
        assert!(told.ok, "{told:?}");
        let seq = entries(&house).await;
        let photo = house
            .store
            .photo(house.place, seq)
            .await
            .expect("the store")
            .expect("a photo");
        assert_eq!((photo.seq, photo.media_type.as_str()), (seq, "image/png"));
    }
    let last = entries(&house).await;
    let refused = house
        .app
        .house
        .hear(said(&house, "r", "/did change north salt", true))
        .await;
    assert!(!refused.ok);
    assert_eq!(entries(&house).await, last);
}

#[tokio::test]
async fn no_line_is_too_long_to_be_refused() {
    let mut house = north().await;
    let note = |letters: usize| format!("/did look north note {}", "é".repeat(letters));
    let refused = house.refused(&note(1_990)).await;
    assert!(refused.contains("2,000") || refused.contains("2000"), "{refused}");
    house.say(&note(1_900)).await;
    let kept = house.store.tail(house.place, 0).await.expect("the journal").notes;
    assert_eq!(kept.last().map(|(_, note)| note.chars().count()), Some(1_900));
}
