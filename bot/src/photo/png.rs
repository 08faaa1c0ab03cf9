//! PNG: its chunks, each checked against its sum.

use img_parts::Bytes;
use img_parts::png::{Png, PngChunk};

/// The picture alone; `None` when the bytes do not parse up to the end of the image.
///
/// Anything behind that end is left out.
pub(super) fn cleaned(bytes: Vec<u8>) -> Option<Vec<u8>> {
    let mut png = Png::from_bytes(Bytes::from(bytes)).ok()?;
    png.dimensions()?;
    let chunks = png.chunks_mut();
    let is_whole = chunks.first().is_some_and(|chunk| &chunk.kind() == b"IHDR")
        && chunks.iter().any(|chunk| &chunk.kind() == b"IDAT")
        && chunks.last().is_some_and(|chunk| &chunk.kind() == b"IEND")
        && chunks.iter().filter(|chunk| is_critical(chunk)).all(is_needed);
    if !is_whole {
        return None;
    }
    chunks.retain(is_needed);
    Some(png.encoder().bytes().to_vec())
}

/// Whether a reader that does not know the chunk must not show the picture: it begins with a capital.
fn is_critical(chunk: &PngChunk) -> bool {
    chunk.kind()[0].is_ascii_uppercase()
}

/// Whether a chunk has a say in how the picture looks, and is no longer than it has to be for that.
fn is_needed(chunk: &PngChunk) -> bool {
    let length = chunk.contents().len();
    match &chunk.kind() {
        b"IHDR" => length == 13,
        b"PLTE" => length <= 3 * 256 && length.is_multiple_of(3),
        b"IDAT" | b"fdAT" | b"iCCP" => true,
        b"IEND" => length == 0,
        b"tRNS" => length <= 256,
        b"gAMA" => length == 4,
        b"cHRM" => length == 32,
        b"sRGB" => length == 1,
        b"sBIT" => length <= 4,
        b"pHYs" => length == 9,
        b"bKGD" => length <= 6,
        b"acTL" => length == 8,
        b"fcTL" => length == 26,
        _ => false,
    }
}
