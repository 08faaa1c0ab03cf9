//! Photos, freed of all that they tell beside the picture: where and with what it was taken, small copies, second
//! pictures, words.
//!
//! What is kept is listed, and everything else is left out, so that what nobody here has heard of is left out too.

mod jpeg;
mod png;
mod webp;

use crate::store::PhotoRow;

/// What a photo may weigh as it comes in, in bytes: 5 MiB.
pub const PHOTO_BYTES_MAX: usize = 5 * 1024 * 1024;

/// Why a photo is not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PhotoProblem {
    /// It weighs more than [`PHOTO_BYTES_MAX`].
    #[error("more bytes than a photo may have")]
    TooLarge,
    /// Its bytes are of no kind that is taken.
    #[error("neither JPEG nor PNG nor WebP")]
    UnknownKind,
    /// It cannot be read to its end, so nobody can tell what is in it.
    #[error("a picture that cannot be read to its end")]
    Damaged,
}

impl PhotoProblem {
    /// The id of the sentence that tells it.
    #[must_use]
    pub fn told(self) -> &'static str {
        match self {
            Self::TooLarge => "photo-refused-size",
            Self::UnknownKind => "photo-refused-kind",
            Self::Damaged => "photo-refused-damaged",
        }
    }
}

/// The photo that the bytes hold, with the picture alone: every pixel as it came, its colours, its movement, and for
/// a JPEG which way is up. Its `seq` is 0.
///
/// # Errors
/// [`PhotoProblem`]; a picture that does not parse is never kept as it came.
pub fn cleaned(bytes: Vec<u8>) -> Result<PhotoRow, PhotoProblem> {
    if bytes.len() > PHOTO_BYTES_MAX {
        return Err(PhotoProblem::TooLarge);
    }
    let media_type = media_type(&bytes).ok_or(PhotoProblem::UnknownKind)?;
    let kept = match media_type {
        "image/jpeg" => jpeg::cleaned(&bytes),
        "image/png" => png::cleaned(bytes),
        _ => webp::cleaned(&bytes),
    };
    Ok(PhotoRow {
        seq: 0,
        media_type: media_type.to_owned(),
        bytes: kept.ok_or(PhotoProblem::Damaged)?,
    })
}

/// What kind of picture the bytes are by their own testimony; what the sender calls them counts for nothing.
fn media_type(bytes: &[u8]) -> Option<&'static str> {
    if bytes.starts_with(b"\xff\xd8\xff") {
        Some("image/jpeg")
    } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some("image/png")
    } else if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        Some("image/webp")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_kind_is_told_by_the_bytes_and_the_weight_first() {
        let unknown: [&[u8]; 6] = [
            b"",
            b"\xff\xd8",
            b"GIF89a",
            b"<svg onload=x>",
            b"RIFF\0\0\0\0WAVE",
            b"\x89PNG\n",
        ];
        for bytes in unknown {
            assert_eq!(
                cleaned(bytes.to_vec()),
                Err(PhotoProblem::UnknownKind),
                "{bytes:?}"
            );
        }
        let damaged: [&[u8]; 3] = [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\x04\0\0\0WEBP"];
        for bytes in damaged {
            assert_eq!(cleaned(bytes.to_vec()), Err(PhotoProblem::Damaged), "{bytes:?}");
        }
        let heavy = |more| cleaned(vec![0; PHOTO_BYTES_MAX + more]);
        assert_eq!(heavy(0), Err(PhotoProblem::UnknownKind));
        assert_eq!(heavy(1), Err(PhotoProblem::TooLarge));
    }

    #[test]
    fn every_problem_has_its_sentence() {
        let words = crate::words::Words::english();
        for problem in [
            PhotoProblem::TooLarge,
            PhotoProblem::UnknownKind,
            PhotoProblem::Damaged,
        ] {
            assert!(words.has(problem.told()), "{problem:?}");
        }
    }
}
