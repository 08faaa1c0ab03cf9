//! Nothing is told beside the picture: no place, no device, no word, no small copy, no second picture.

use exif::{In, Reader, Tag};
use wrackline::photo::cleaned;

use super::{CANARY, SENT, count, sent};

/// The fields of the Exif block that a reader finds in a file, each with its directory. It takes what it can get of a
/// block that is not quite as it should be, as whoever is curious would.
fn fields(bytes: &[u8]) -> Vec<(Tag, In, Option<u32>)> {
    let found = Reader::new()
        .continue_on_error(true)
        .read_from_container(&mut std::io::Cursor::new(bytes))
        .or_else(|error| error.distill_partial_result(|_| {}));
    let Ok(exif) = found else { return Vec::new() };
    exif.fields()
        .map(|field| (field.tag, field.ifd_num, field.value.get_uint(0)))
        .collect()
}

#[test]
fn no_word_is_left_in_any_place() {
    for sent in &SENT {
        assert_eq!(
            count(sent.bytes, CANARY),
            sent.words,
            "{} as it is sent",
            sent.name
        );
        let kept = sent.kept();
        assert_eq!(count(&kept, CANARY), 0, "{}", sent.name);
        assert!(kept.len() < sent.bytes.len(), "{}", sent.name);
    }
}

#[test]
fn a_reader_finds_no_place_and_no_device_and_in_a_jpeg_which_way_is_up() {
    for (name, way) in [
        ("told.jpg", Some(6)),
        ("layered.jpg", Some(8)),
        ("inks.jpg", None),
        ("told.png", None),
        ("clear.png", None),
        ("moving.png", None),
        ("told.webp", None),
        ("clear.webp", None),
        ("moving.webp", None),
    ] {
        let sent = sent(name);
        let before: Vec<Tag> = fields(sent.bytes).into_iter().map(|(tag, ..)| tag).collect();
        let told = name != "inks.jpg";
        for tag in [
            Tag::GPSLatitude,
            Tag::GPSLongitude,
            Tag::Model,
            Tag::JPEGInterchangeFormat,
        ] {
            assert_eq!(before.contains(&tag), told, "{name} as it is sent: {before:?}");
        }
        let only = way.map(|way| (Tag::Orientation, In::PRIMARY, Some(way)));
        assert_eq!(fields(&sent.kept()), Vec::from_iter(only), "{name}");
    }
}

/// The markers of a JPEG's segments, in order, up to the first end of an image; and how many bytes lie behind it.
fn markers(bytes: &[u8]) -> (Vec<u8>, usize) {
    let (mut at, mut all) = (0, Vec::new());
    while at + 1 < bytes.len() {
        let code = bytes[at + 1];
        if bytes[at] != 0xff || matches!(code, 0 | 0xff | 0xd0..=0xd7) {
            at += 1;
            continue;
        }
        all.push(code);
        match code {
            0xd8 => at += 2,
            0xd9 => return (all, bytes.len() - at - 2),
            _ => at += 2 + usize::from(u16::from_be_bytes([bytes[at + 2], bytes[at + 3]])),
        }
    }
    panic!("no end of an image: {all:x?}");
}

#[test]
fn a_jpeg_ends_where_its_picture_does() {
    for (name, applications) in [
        ("told.jpg", &[0xe0, 0xe1, 0xe2][..]),
        ("layered.jpg", &[0xe0, 0xe1]),
        ("inks.jpg", &[0xee]),
    ] {
        let kept = sent(name).kept();
        let (all, behind) = markers(&kept);
        assert_eq!(behind, 0, "{name}");
        let others: Vec<u8> = all.into_iter().filter(|code| *code >= 0xe0).collect();
        assert_eq!(others, applications, "{name}");
        assert_eq!(count(&kept, b"\xff\xd8\xff"), 1, "{name} holds one picture");
    }
    let (all, behind) = markers(sent("told.jpg").bytes);
    assert!(
        all.contains(&0xed) && all.contains(&0xfe) && behind > 500,
        "{all:x?} {behind}"
    );
    let (all, _) = markers(sent("layered.jpg").bytes);
    let scan = all.iter().position(|code| *code == 0xda).expect("a scan");
    assert!(
        all[scan..].contains(&0xfe) && all[scan..].contains(&0xe1),
        "{all:x?}"
    );
}

/// The small copy within the JFIF block is left out, and its measure with it.
#[test]
fn the_copy_in_the_first_block_is_gone() {
    let head = |bytes: &[u8]| (bytes[..4].to_vec(), bytes[4..6].to_vec(), bytes[18..20].to_vec());
    let mark = vec![0xff, 0xd8, 0xff, 0xe0];
    let sent = sent("told.jpg");
    assert_eq!(head(sent.bytes), (mark.clone(), vec![0, 16 + 36], vec![3, 4]));
    assert_eq!(head(&sent.kept()), (mark, vec![0, 16], vec![0, 0]));
}

/// The names of a file's chunks, in order: PNG counts from its big end, WebP from its little one.
fn chunks(bytes: &[u8]) -> Vec<String> {
    let is_png = bytes.starts_with(b"\x89PNG");
    let (mut at, mut all) = (if is_png { 8 } else { 12 }, Vec::new());
    while at < bytes.len() {
        let four = |from: usize| <[u8; 4]>::try_from(&bytes[from..from + 4]).expect("four bytes");
        let (length, name, around) = if is_png {
            (u32::from_be_bytes(four(at)), four(at + 4), 12)
        } else {
            let length = u32::from_le_bytes(four(at + 4));
            (length + length % 2, four(at), 8)
        };
        all.push(String::from_utf8(name.to_vec()).expect("a name"));
        at += usize::try_from(length).expect("a length") + around;
    }
    all.dedup();
    all
}

#[test]
fn chunks_are_those_that_show_the_picture() {
    for (name, expected) in [
        (
            "told.png",
            &["IHDR", "gAMA", "PLTE", "tRNS", "pHYs", "IDAT", "IEND"][..],
        ),
        ("clear.png", &["IHDR", "iCCP", "gAMA", "IDAT", "IEND"]),
        (
            "moving.png",
            &[
                "IHDR", "gAMA", "acTL", "fcTL", "IDAT", "fcTL", "fdAT", "fcTL", "fdAT", "IEND",
            ],
        ),
        ("told.webp", &["VP8X", "ICCP", "VP8 "]),
        ("clear.webp", &["VP8X", "ALPH", "VP8 "]),
        ("moving.webp", &["VP8X", "ANIM", "ANMF"]),
        ("plain.webp", &["VP8L"]),
    ] {
        let mut found = chunks(&sent(name).kept());
        // Where among the others an encoder puts them says nothing.
        let (mut expected, ends) = (expected.to_vec(), (found[0].clone(), found.last().cloned()));
        assert_eq!(
            (ends.0.as_str(), ends.1.as_deref()),
            (expected[0], expected.last().copied())
        );
        found.sort();
        expected.sort_unstable();
        assert_eq!(found, expected, "{name}");
    }
    for (name, flags) in [("told.webp", 0x20), ("clear.webp", 0x10), ("moving.webp", 0x02)] {
        let sent = sent(name);
        assert_eq!(
            sent.bytes[20],
            flags | 0x0c,
            "{name} as it is sent has Exif and XMP"
        );
        assert_eq!(sent.kept()[20], flags, "{name}");
    }
}

#[test]
fn what_is_clean_stays_as_it_is_and_is_of_its_kind() {
    for sent in &SENT {
        let kept = sent.kept();
        let again = cleaned(kept.clone()).expect("a clean picture");
        assert_eq!(
            (again.seq, again.media_type.as_str()),
            (0, sent.media_type),
            "{}",
            sent.name
        );
        assert!(again.bytes == kept, "{}", sent.name);
    }
}
