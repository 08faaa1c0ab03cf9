//! Whatever comes in: damage is refused, nothing panics, and what is kept is clean.

use proptest::prelude::*;
use proptest::sample::Index;
use wrackline::photo::{PHOTO_BYTES_MAX, PhotoProblem, cleaned};

use super::{SENT, sent};

#[test]
fn a_picture_that_is_cut_short_is_refused() {
    for sent in &SENT {
        let whole = sent.kept();
        let (mut refused, mut taken) = (0, 0);
        for end in 0..sent.bytes.len() {
            match cleaned(sent.bytes[..end].to_vec()) {
                Ok(photo) => {
                    assert!(photo.bytes == whole, "{}: other bytes at {end}", sent.name);
                    taken += 1;
                }
                Err(PhotoProblem::Damaged) => refused += 1,
                Err(PhotoProblem::UnknownKind) => assert!(end < 12, "{} at {end}", sent.name),
                Err(PhotoProblem::TooLarge) => panic!("{} at {end}", sent.name),
            }
        }
        // What may be cut off is what lies behind the picture.
        assert!(
            refused > 100 && taken < refused * 2,
            "{}: {refused}, {taken}",
            sent.name
        );
        // And of what is kept, nothing may.
        let cut = cleaned(whole[..whole.len() - 2].to_vec());
        assert_eq!(cut, Err(PhotoProblem::Damaged), "{}", sent.name);
    }
}

#[test]
fn a_wrong_sum_or_a_part_that_nobody_can_show_is_damage() {
    let png = sent("told.png").bytes;
    let data = png
        .windows(4)
        .position(|name| name == b"IDAT")
        .expect("the picture");
    let mut wrong = png.to_vec();
    wrong[data + 8] ^= 1;
    assert_eq!(cleaned(wrong), Err(PhotoProblem::Damaged));
    let jpeg = sent("inks.jpg").bytes;
    let frame = jpeg
        .windows(2)
        .position(|code| code == b"\xff\xc0")
        .expect("the frame");
    // Lossless, hierarchical and arithmetic frames.
    for code in [0xc3, 0xc5, 0xc9, 0xcf] {
        let mut other = jpeg.to_vec();
        other[frame + 1] = code;
        assert_eq!(cleaned(other), Err(PhotoProblem::Damaged), "{code:x}");
    }
}

#[test]
fn the_limit_is_that_of_what_comes_in() {
    let filled = |bytes| {
        let mut filled = sent("told.jpg").bytes.to_vec();
        filled.resize(bytes, 0xff);
        cleaned(filled)
    };
    let kept = filled(PHOTO_BYTES_MAX).expect("as much as may be");
    assert!(kept.bytes == sent("told.jpg").kept());
    assert_eq!(filled(PHOTO_BYTES_MAX + 1), Err(PhotoProblem::TooLarge));
}

/// What is kept of anything is of a kind that is known, and clean already.
fn check(bytes: Vec<u8>) -> Result<(), TestCaseError> {
    if let Ok(photo) = cleaned(bytes) {
        prop_assert!(["image/jpeg", "image/png", "image/webp"].contains(&photo.media_type.as_str()));
        let again = cleaned(photo.bytes.clone());
        prop_assert!(again.is_ok_and(|again| again == photo));
    }
    Ok(())
}

/// A change of a picture's bytes: some are written over, put in, taken out or said twice.
#[derive(Clone, Debug)]
enum Change {
    Over(Index, u8),
    In(Index, Vec<u8>),
    Out(Index, usize),
    Twice(Index, usize),
}

impl Change {
    fn make(&self, bytes: &mut Vec<u8>) {
        let length = bytes.len().max(1);
        let span = |at: &Index, many: usize| {
            let from = at.index(length).min(bytes.len());
            from..bytes.len().min(from + many)
        };
        match self {
            Self::Over(at, byte) => {
                if let Some(old) = bytes.get_mut(at.index(length)) {
                    *old = *byte;
                }
            }
            Self::In(at, more) => {
                let from = span(at, 0).start;
                drop(bytes.splice(from..from, more.iter().copied()));
            }
            Self::Out(at, many) => drop(bytes.drain(span(at, *many))),
            Self::Twice(at, many) => {
                let again = bytes[span(at, *many)].to_vec();
                bytes.extend(again);
            }
        }
    }
}

fn change() -> impl Strategy<Value = Change> {
    let bytes = || prop_oneof![any::<u8>(), Just(0xff), Just(0), Just(0xd9), Just(0xda)];
    prop_oneof![
        4 => (any::<Index>(), bytes()).prop_map(|(at, byte)| Change::Over(at, byte)),
        1 => (any::<Index>(), prop::collection::vec(bytes(), 1..20)).prop_map(|(at, more)| Change::In(at, more)),
        1 => (any::<Index>(), 1_usize..60).prop_map(|(at, many)| Change::Out(at, many)),
        1 => (any::<Index>(), 1_usize..200).prop_map(|(at, many)| Change::Twice(at, many)),
    ]
}

/// How the kinds begin.
fn start() -> impl Strategy<Value = Vec<u8>> {
    prop_oneof![
        Just(Vec::new()),
        Just(b"\xff\xd8\xff".to_vec()),
        Just(b"\xff\xd8\xff\xe1\0\x30Exif\0\0MM\0*\0\0\0\x08".to_vec()),
        Just(b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec()),
        Just(b"RIFF\x40\0\0\0WEBPVP8X\x0a\0\0\0\x0e".to_vec()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes_are_no_trouble(
        start in start(),
        rest in prop::collection::vec(prop_oneof![2 => any::<u8>(), 1 => Just(0xff), 1 => Just(0)], 0..400),
    ) {
        check([start, rest].concat())?;
    }

    #[test]
    fn changed_pictures_are_no_trouble(
        which in any::<Index>(),
        changes in prop::collection::vec(change(), 1..6),
    ) {
        let mut bytes = which.get(&SENT).bytes.to_vec();
        for change in &changes {
            change.make(&mut bytes);
        }
        check(bytes)?;
    }
}
