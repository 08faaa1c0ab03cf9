//! The picture itself is untouched: a decoder sees the same points before and after.

use std::io::Cursor;

use image::codecs::{png::PngDecoder, webp::WebPDecoder};
use image::{AnimationDecoder, DynamicImage, Frames, ImageDecoder, ImageReader};

use super::{SENT, sent};

fn decoded(bytes: &[u8]) -> (DynamicImage, Option<Vec<u8>>) {
    let reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .expect("a format");
    let mut decoder = reader.into_decoder().expect("a picture");
    let profile = decoder.icc_profile().expect("its colours");
    (DynamicImage::from_decoder(decoder).expect("its points"), profile)
}

#[test]
fn every_point_and_the_colours_are_as_they_were() {
    for sent in &SENT {
        let (before, colours) = decoded(sent.bytes);
        let (after, kept_colours) = decoded(&sent.kept());
        assert_eq!((before.width(), before.height()), (48, 32), "{}", sent.name);
        assert!(before == after, "{}: other points", sent.name);
        assert!(colours == kept_colours, "{}: other colours", sent.name);
        let is_profiled = ["told.jpg", "clear.png", "told.webp"]
            .iter()
            .any(|name| sent.name.ends_with(name));
        assert_eq!(kept_colours.is_some(), is_profiled, "{}", sent.name);
    }
}

/// Each frame's points, and how long it is shown.
fn frames(frames: Frames<'_>) -> Vec<(Vec<u8>, (u32, u32))> {
    let frames = frames.collect_frames().expect("frames");
    let told = |frame: image::Frame| (frame.buffer().as_raw().clone(), frame.delay().numer_denom_ms());
    frames.into_iter().map(told).collect()
}

#[test]
fn what_moves_goes_on_moving() {
    let png = |bytes: &[u8]| {
        let decoder = PngDecoder::new(Cursor::new(bytes.to_vec())).expect("a picture");
        frames(decoder.apng().expect("a moving one").into_frames())
    };
    let webp = |bytes: &[u8]| {
        let decoder = WebPDecoder::new(Cursor::new(bytes.to_vec())).expect("a picture");
        assert!(decoder.has_animation());
        frames(decoder.into_frames())
    };
    for (sent, all) in [
        (sent("moving.png"), &png as &dyn Fn(&[u8]) -> Vec<_>),
        (sent("moving.webp"), &webp),
    ] {
        let before = all(sent.bytes);
        assert_eq!(before.len(), 3, "{}", sent.name);
        assert!(before == all(&sent.kept()), "{}: other frames", sent.name);
    }
}
