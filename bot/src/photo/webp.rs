//! WebP: its chunks, and within a moving picture those of each frame.

const ANIMATED: u8 = 0x02;
const ALPHA: u8 = 0x10;
const PROFILE: u8 = 0x20;

/// Flags, three bytes that are reserved, width and height.
const EXTENDED_BYTES: usize = 10;
/// Where a frame lies, how large it is, how long it is shown and how it is laid over the one before.
const FRAME_BYTES: usize = 16;

/// A chunk's name and its body.
type Chunk<'a> = ([u8; 4], &'a [u8]);

/// The picture alone; `None` when the bytes do not parse.
///
/// Anything behind what the file's head measures is left out.
pub(super) fn cleaned(bytes: &[u8]) -> Option<Vec<u8>> {
    let (length, behind) = bytes.strip_prefix(b"RIFF")?.split_first_chunk()?;
    let body = behind.get(..size(*length)?)?.strip_prefix(b"WEBP")?;
    let chunks = chunks(body)?;
    let mut out = b"WEBP".to_vec();
    let first = chunks.first()?;
    if &first.0 == b"VP8X" {
        extended(first.1, &chunks, &mut out)?;
    } else {
        // The simple form is one picture; whatever follows it is not shown.
        still(&[*first], &mut out)?;
    }
    let mut file = Vec::with_capacity(out.len() + 8);
    put(&mut file, *b"RIFF", &out);
    Some(file)
}

/// What a head with flags announces, in the order in which it has to stand.
fn extended(head: &[u8], chunks: &[Chunk<'_>], out: &mut Vec<u8>) -> Option<()> {
    let mut head: [u8; EXTENDED_BYTES] = head.try_into().ok()?;
    let profile = find(chunks, b"ICCP").filter(|_| head[0] & PROFILE != 0);
    let is_animated = head[0] & ANIMATED != 0;
    head[0] &= ANIMATED | ALPHA | PROFILE;
    if profile.is_none() {
        head[0] &= !PROFILE;
    }
    head[1..4].fill(0);
    put(out, *b"VP8X", &head);
    if let Some(profile) = profile {
        put(out, *b"ICCP", profile);
    }
    if !is_animated {
        return still(chunks, out);
    }
    // Background and the number of rounds.
    let movement = find(chunks, b"ANIM").filter(|body| body.len() == 6)?;
    put(out, *b"ANIM", movement);
    let mut frames = chunks.iter().filter(|(name, _)| name == b"ANMF").peekable();
    frames.peek()?;
    for (_, body) in frames {
        let (place, parts) = body.split_at_checked(FRAME_BYTES)?;
        let mut frame = place.to_vec();
        still(&self::chunks(parts)?, &mut frame)?;
        put(out, *b"ANMF", &frame);
    }
    Some(())
}

/// One picture, with what is seen through in it.
fn still(chunks: &[Chunk<'_>], out: &mut Vec<u8>) -> Option<()> {
    let (name, picture) = chunks
        .iter()
        .find(|(name, _)| name == b"VP8 " || name == b"VP8L")?;
    let is_lossy = name == b"VP8 ";
    let begins_well = if is_lossy {
        picture.len() >= 10 && picture[0] & 1 == 0 && picture[3..6] == [0x9d, 0x01, 0x2a]
    } else {
        picture.len() >= 5 && picture[0] == 0x2f
    };
    if !begins_well {
        return None;
    }
    if let Some(alpha) = find(chunks, b"ALPH").filter(|_| is_lossy) {
        put(out, *b"ALPH", alpha);
    }
    put(out, *name, picture);
    Some(())
}

/// The first chunk of a name.
fn find<'a>(chunks: &[Chunk<'a>], name: &[u8; 4]) -> Option<&'a [u8]> {
    let found = chunks.iter().find(|(known, _)| known == name);
    found.map(|(_, body)| *body)
}

/// All chunks; `None` when one is cut short.
fn chunks(mut left: &[u8]) -> Option<Vec<Chunk<'_>>> {
    let mut all = Vec::new();
    while !left.is_empty() {
        let (name, behind) = left.split_first_chunk()?;
        let (length, behind) = behind.split_first_chunk()?;
        let (body, behind) = behind.split_at_checked(size(*length)?)?;
        all.push((*name, body));
        // A body of an odd length is filled up by a byte that does not count, and that may be missing at the end.
        left = behind.get(body.len() % 2..).unwrap_or_default();
    }
    Some(all)
}

fn size(length: [u8; 4]) -> Option<usize> {
    usize::try_from(u32::from_le_bytes(length)).ok()
}

fn put(out: &mut Vec<u8>, name: [u8; 4], body: &[u8]) {
    let length = u32::try_from(body.len()).expect("a photo is shorter than 4 GiB");
    out.extend_from_slice(&name);
    out.extend_from_slice(&length.to_le_bytes());
    out.extend_from_slice(body);
    if body.len() % 2 == 1 {
        out.push(0);
    }
}
