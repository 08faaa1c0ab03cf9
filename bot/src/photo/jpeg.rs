//! JPEG: its segments and scans, walked from the first marker to the first end of an image.

const START: [u8; 2] = [0xff, 0xd8];
const END: u8 = 0xd9;
const HUFFMAN: u8 = 0xc4;
const SCAN: u8 = 0xda;
const QUANTIZATION: u8 = 0xdb;
const RESTART: u8 = 0xdd;
const APP0: u8 = 0xe0;
const APP1: u8 = 0xe1;
const APP2: u8 = 0xe2;
const APP14: u8 = 0xee;
const APP15: u8 = 0xef;
const COMMENT: u8 = 0xfe;

/// Version, density and the size of the small copy, behind the name.
const JFIF_BYTES: usize = 14;
/// Version, flags and the transform of colours, behind the name.
const ADOBE_BYTES: usize = 12;

/// What is kept on the way.
#[derive(Default)]
struct Kept {
    jfif: Option<[u8; JFIF_BYTES]>,
    orientation: Option<u8>,
    adobe: bool,
    frame: bool,
    scans: usize,
    /// Everything behind the opening segments, ready to go out.
    rest: Vec<u8>,
}

/// The picture alone; `None` when the bytes do not parse up to the end of the image.
///
/// Anything behind that end is left out: second pictures, clips, what a phone appends.
pub(super) fn cleaned(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut left = bytes.strip_prefix(&START)?;
    let mut kept = Kept::default();
    loop {
        let code = marker(&mut left)?;
        if code == END {
            return (kept.scans > 0).then(|| kept.whole());
        }
        let body = segment(&mut left)?;
        kept.take(code, body)?;
        if code == SCAN {
            kept.rest.extend_from_slice(scan(&mut left)?);
        }
    }
}

impl Kept {
    /// Takes up a segment if it is needed to show the picture; `None` when it is malformed, or of a kind that no
    /// browser shows.
    fn take(&mut self, code: u8, body: &[u8]) -> Option<()> {
        match code {
            APP0..=APP15 => {
                // Between the scans nothing of the kind has a say in how the picture looks.
                if self.scans == 0 {
                    self.take_application(code, body);
                }
                return Some(());
            }
            COMMENT => return Some(()),
            QUANTIZATION => is_quantization(body),
            HUFFMAN => is_huffman(body),
            RESTART => body.len() == 2,
            // Baseline, extended, progressive; and one of them.
            0xc0..=0xc2 => is_frame(body) && !std::mem::replace(&mut self.frame, true),
            SCAN => {
                self.scans += 1;
                self.frame && is_scan(body)
            }
            _ => false,
        }
        .then(|| put(&mut self.rest, code, body))
    }

    /// Takes up what an application's segment says about how to show the picture.
    fn take_application(&mut self, code: u8, body: &[u8]) {
        if code == APP0 && body.starts_with(b"JFIF\0") && self.jfif.is_none() {
            let head: Option<&[u8; JFIF_BYTES]> = body.first_chunk();
            self.jfif = head.map(|head| {
                let mut head = *head;
                // The last two say how large the small copy is that may follow.
                head[JFIF_BYTES - 2..].fill(0);
                head
            });
        } else if code == APP1 && self.orientation.is_none() {
            self.orientation = orientation(body);
        } else if code == APP2 && body.starts_with(b"ICC_PROFILE\0") {
            put(&mut self.rest, code, body);
        } else if code == APP14
            && body.starts_with(b"Adobe")
            && !self.adobe
            && let Some(body) = body.get(..ADOBE_BYTES)
        {
            self.adobe = true;
            put(&mut self.rest, code, body);
        }
    }

    fn whole(self) -> Vec<u8> {
        let mut out = START.to_vec();
        if let Some(body) = self.jfif {
            put(&mut out, APP0, &body);
        }
        if let Some(way) = self.orientation.filter(|way| *way != 1) {
            put(&mut out, APP1, &only_orientation(way));
        }
        out.extend_from_slice(&self.rest);
        out.extend_from_slice(&[0xff, END]);
        out
    }
}

/// The next marker's code; any number of 0xff may stand before it.
fn marker(left: &mut &[u8]) -> Option<u8> {
    let fill = left.iter().take_while(|byte| **byte == 0xff).count();
    let (code, behind) = left.get(fill..)?.split_first()?;
    *left = behind;
    (fill > 0 && *code != 0).then_some(*code)
}

/// A segment's body; its length of two bytes counts itself.
fn segment<'a>(left: &mut &'a [u8]) -> Option<&'a [u8]> {
    let (length, behind) = left.split_first_chunk()?;
    let length = usize::from(u16::from_be_bytes(*length)).checked_sub(2)?;
    let (body, behind) = behind.split_at_checked(length)?;
    *left = behind;
    Some(body)
}

/// The coded data of a scan, up to the marker that ends it: stuffed zeros and restarts belong to it.
fn scan<'a>(left: &mut &'a [u8]) -> Option<&'a [u8]> {
    let mut from = 0;
    loop {
        let at = from + left.get(from..)?.iter().position(|byte| *byte == 0xff)?;
        match left.get(at + 1)? {
            0 | 0xd0..=0xd7 => from = at + 2,
            0xff => from = at + 1,
            _ => {
                let (data, behind) = left.split_at(at);
                *left = behind;
                return Some(data);
            }
        }
    }
}

/// Writes a segment; its body came out of one, or is short.
fn put(out: &mut Vec<u8>, code: u8, body: &[u8]) {
    let length = u16::try_from(body.len() + 2).expect("a segment's body is shorter than 64 KiB");
    out.extend_from_slice(&[0xff, code]);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(body);
}

// The bodies are measured against what they declare, so that nothing rides along behind it.

fn is_quantization(mut body: &[u8]) -> bool {
    while let Some((head, behind)) = body.split_first() {
        let bytes = match head >> 4 {
            0 => 64,
            1 => 128,
            _ => return false,
        };
        match behind.get(bytes..) {
            Some(next) => body = next,
            None => return false,
        }
    }
    true
}

fn is_huffman(mut body: &[u8]) -> bool {
    while let Some((_, behind)) = body.split_first() {
        let Some((counts, behind)) = behind.split_first_chunk::<16>() else {
            return false;
        };
        let symbols: usize = counts.iter().map(|count| usize::from(*count)).sum();
        match behind.get(symbols..) {
            Some(next) => body = next,
            None => return false,
        }
    }
    true
}

/// Precision, height, width, the number of components, and three bytes for each.
fn is_frame(body: &[u8]) -> bool {
    let Some(([_, h1, h0, w1, w0, components], each)) = body.split_first_chunk() else {
        return false;
    };
    let is_empty = (*h1, *h0) == (0, 0) || (*w1, *w0) == (0, 0);
    !is_empty && (1..=4).contains(components) && each.len() == 3 * usize::from(*components)
}

/// The number of components, two bytes for each, and three for what the scan refines.
fn is_scan(body: &[u8]) -> bool {
    let Some((components, each)) = body.split_first() else {
        return false;
    };
    (1..=4).contains(components) && each.len() == 2 * usize::from(*components) + 3
}

/// Which way is up, by an Exif block: 1 to 8. A block that is broken elsewhere may still say it.
fn orientation(body: &[u8]) -> Option<u8> {
    let block = body.strip_prefix(b"Exif\0")?.get(1..)?;
    let exif = exif::Reader::new()
        .continue_on_error(true)
        .read_raw(block.to_vec())
        .or_else(|error| error.distill_partial_result(|_| {}))
        .ok()?;
    let field = exif.get_field(exif::Tag::Orientation, exif::In::PRIMARY)?;
    let way = field.value.get_uint(0).and_then(|way| u8::try_from(way).ok())?;
    (1..=8).contains(&way).then_some(way)
}

/// An Exif block that says which way is up, and nothing else.
fn only_orientation(way: u8) -> [u8; 32] {
    let mut block = *b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0";
    // The value's two bytes stand at the head of the four that the directory has for it.
    block[25] = way;
    block
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_block_of_the_orientation_is_read_back() {
        for way in 1..=8 {
            assert_eq!(orientation(&only_orientation(way)), Some(way));
        }
        for nonsense in [0, 9] {
            assert_eq!(orientation(&only_orientation(nonsense)), None);
        }
    }

    #[test]
    fn a_scan_ends_at_a_marker_of_its_own() {
        for (bytes, data) in [
            (
                &b"ab\xff\0c\xff\xd3d\xff\xd9"[..],
                Some(&b"ab\xff\0c\xff\xd3d"[..]),
            ),
            (b"\xff\xd9", Some(b"")),
            (b"a\xff\xff\xd9", Some(b"a\xff")),
            (b"ab", None),
            (b"ab\xff", None),
            (b"", None),
        ] {
            assert_eq!(scan(&mut &bytes[..]), data, "{bytes:?}");
        }
    }

    #[test]
    fn nothing_rides_along_behind_what_a_segment_declares() {
        let mut table = vec![0];
        table.extend([7; 64]);
        assert!(is_quantization(&table));
        table.extend(b"words");
        assert!(!is_quantization(&table));
        let mut codes = vec![0; 17];
        codes[3] = 2;
        codes.extend([1, 2]);
        assert!(is_huffman(&codes));
        codes.extend(b"words");
        assert!(!is_huffman(&codes));
        assert!(is_frame(&[8, 0, 1, 0, 1, 1, 1, 0x11, 0]));
        assert!(!is_frame(&[8, 0, 0, 0, 1, 1, 1, 0x11, 0]));
        assert!(!is_frame(&[8, 0, 1, 0, 1, 1, 1, 0x11, 0, 9]));
        assert!(is_scan(&[1, 1, 0, 0, 63, 0]));
        assert!(!is_scan(&[1, 1, 0, 0, 63, 0, 9]));
    }
}
