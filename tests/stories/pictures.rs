//! Photos with what was done, and photos that cannot be had.

use std::fs;

use wrackline_tests::platform::{AttachmentId, Message, Opt};
use wrackline_tests::stage::Stage;

use super::{entries, last_entry, read, refused};

fn picture(name: &str) -> Vec<u8> {
    let path = format!("{}/data/photos/{name}", env!("CARGO_MANIFEST_DIR"));
    fs::read(path).expect("a picture")
}

fn change(photo: AttachmentId) -> [Opt; 3] {
    [
        Opt::text("duty", "change"),
        Opt::text("spot", "north salt"),
        Opt::attachment("photo", photo),
    ]
}

fn seen(photo: AttachmentId) -> [Opt; 3] {
    [
        Opt::text("sighting", "leak"),
        Opt::text("spot", "north salt"),
        Opt::attachment("photo", photo),
    ]
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_kind_of_picture_goes_with_what_was_done_and_tells_nothing_beside_it() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for (name, kind) in [
        ("told.jpg", "image/jpeg"),
        ("told.png", "image/png"),
        ("told.webp", "image/webp"),
    ] {
        let bytes = picture(name);
        // What the sender calls it counts for nothing.
        let photo = stage
            .double
            .attach(name, "application/octet-stream", bytes.clone());
        let mut options = change(photo).to_vec();
        options.push(Opt::bool("again", true));
        let answer = stage.say(stage.ilja, "did", &options).await;
        assert!(
            read(&answer).contains("With a photo, entry "),
            "{name}: {}",
            read(&answer)
        );
        let seq = i64::try_from(entries(&stage).await).expect("few");
        let kept = stage.store.photo(stage.place().await, seq).await;
        let kept = kept.expect("the store answers").expect("a photo");
        assert_eq!(kept.media_type, kind);
        assert_ne!(kept.bytes, bytes, "{name} tells something beside the picture");
        let cleaned = wrackline::photo::cleaned(bytes).expect("a picture");
        assert_eq!(kept.bytes, cleaned.bytes, "{name}");
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_alarm_carries_the_picture_that_was_kept_and_keeps_it_when_it_is_edited() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let photo = stage.double.attach("leak.jpg", "image/jpeg", picture("told.jpg"));
    stage.say(stage.ilja, "saw", &seen(photo)).await;
    stage.turn().await;
    let alarm = stage.posts().remove(0);
    let files = |message: &Message| message.body()["attachments"].as_array().map_or(0, Vec::len);
    assert_eq!(files(&alarm), 1);
    assert_eq!(alarm.body()["attachments"][0]["filename"], "photo.jpg");
    let seq = last_entry(&stage, "saw").await;
    let kept = stage
        .store
        .photo(stage.place().await, seq)
        .await
        .expect("the store answers");
    let kept = kept.expect("a photo");
    let url = alarm.body()["attachments"][0]["url"]
        .as_str()
        .expect("an address")
        .to_owned();
    let shown = reqwest::get(url)
        .await
        .expect("the picture")
        .bytes()
        .await
        .expect("its bytes");
    assert_eq!(shown.to_vec(), kept.bytes);
    let act = stage
        .double
        .press_label(alarm.id, "I see it", stage.maren)
        .expect("a button");
    act.shown().await;
    stage.turn().await;
    let alarm = stage.double.message(alarm.id).expect("the alarm");
    assert!(alarm.edits() == 1 && files(&alarm) == 1, "{:#?}", alarm.body());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_photo_that_cannot_be_had_saves_nothing_and_says_why() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    let whole = picture("told.jpg");
    let large = vec![0xff; 6 * 1024 * 1024];
    for (bytes, told) in [
        (large, "5 MiB"),
        (b"plain words".to_vec(), "no JPEG, PNG or WebP"),
        (whole[..whole.len() / 2].to_vec(), "cannot be read to its end"),
        (Vec::new(), "Nothing was saved"),
    ] {
        let photo = stage.double.attach("photo.jpg", "image/jpeg", bytes);
        for (line, options) in [("did", change(photo)), ("saw", seen(photo))] {
            let said = refused(&stage, stage.ilja, line, &options).await;
            assert!(
                said.contains(told) && said.contains("Nothing was saved"),
                "/{line}: {said}"
            );
        }
    }
    // One that is gone by the time that it is fetched: the address names another file.
    let gone = stage.double.attach("gone/photo.jpg", "image/jpeg", whole);
    let said = refused(&stage, stage.ilja, "saw", &seen(gone)).await;
    assert!(said.contains("could not be fetched"), "{said}");
    assert_eq!(entries(&stage).await, before);
    stage.turn().await;
    assert!(stage.posts().is_empty());
    stage.double.assert_faultless();
}
