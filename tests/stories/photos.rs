//! A photo comes with a line: the picture alone is kept, and the alarm shows it.

use wrackline_tests::platform::{AttachmentId, Message, Opt};
use wrackline_tests::stage::Stage;

/// Says what was seen, with a photo.
async fn saw(stage: &Stage, photo: AttachmentId) -> Message {
    let options = [
        Opt::text("sighting", "wet substrate"),
        Opt::text("spot", "north"),
        Opt::attachment("photo", photo),
    ];
    stage.say(stage.ilja, "saw", &options).await
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_photo_loses_its_place_and_is_shown_with_the_alarm() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data/photos");
    let file = std::fs::read_dir(folder)
        .expect("pictures")
        .map(|file| file.expect("a file").path());
    let telling = file
        .filter(|path| path.extension().is_some_and(|end| end == "jpg" || end == "jpeg"))
        .map(|path| std::fs::read(path).expect("a picture"))
        .find(|bytes| bytes.windows(4).any(|four| four == b"Exif"))
        .expect("a picture that tells its place");
    let photo = stage.double.attach("crab.jpg", "image/jpeg", telling.clone());
    let answer = saw(&stage, photo).await;
    assert!(!answer.text().contains("Nothing was saved"), "{}", answer.text());
    let place = stage.place().await;
    let seq = stage
        .store
        .head(place)
        .await
        .expect("a head")
        .expect("the place")
        .last_seq;
    let kept = stage
        .store
        .photo(place, seq)
        .await
        .expect("the store answers")
        .expect("a photo");
    assert_eq!(kept.media_type, "image/jpeg");
    assert!(kept.bytes.len() < telling.len(), "something was left out");
    stage.turn().await;
    let posts = stage.posts();
    let shown = posts[0].body()["attachments"]
        .as_array()
        .expect("attachments")
        .len();
    assert_eq!(shown, 1, "{:#?}", posts[0].body());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_no_photo_saves_nothing() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let place = stage.place().await;
    let before = stage.store.head(place).await.expect("a head");
    let no_picture = stage
        .double
        .attach("notes.jpg", "image/jpeg", b"not a picture".to_vec());
    let large = stage
        .double
        .attach("large.jpg", "image/jpeg", vec![0xff; 6 * 1024 * 1024]);
    for photo in [no_picture, large] {
        let answer = saw(&stage, photo).await;
        assert!(
            !answer.text().is_empty() && !answer.text().contains("seen"),
            "{}",
            answer.text()
        );
    }
    assert_eq!(stage.store.head(place).await.expect("a head"), before);
    stage.double.assert_faultless();
}
