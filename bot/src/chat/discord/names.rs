//! How a post is told again: its nonce, and the reference that stands on it.

use sha2::{Digest, Sha256};

use crate::store::PlaceId;

/// Letters of a nonce; the platform takes 25.
const NONCE_CHARS: usize = 24;
/// Letters of a reference.
const REFERENCE_CHARS: usize = 12;
/// Letters that need no escaping anywhere; 32 of them, so that five bits make one.
const LETTERS: &[u8; 32] = b"abcdefghijkmnpqrstuvwxyz23456789";

/// What makes a post unique on the platform, from what makes it unique here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostName {
    /// The platform shows nothing twice under it, for some minutes.
    pub nonce: String,
    /// It stands on the message for as long as that is there.
    pub reference: String,
}

/// The name of a post of a place. Two posts share none: 120 bits of a digest tell them apart.
#[must_use]
pub fn post_name(place: PlaceId, key: &str) -> PostName {
    let digest = Sha256::digest(format!("{place}\n{key}"));
    let mut letters = digest
        .iter()
        .map(|byte| char::from(LETTERS[usize::from(byte % 32)]));
    let nonce = letters.by_ref().take(NONCE_CHARS).collect();
    let digest = Sha256::digest(format!("reference\n{place}\n{key}"));
    let letters = digest
        .iter()
        .map(|byte| char::from(LETTERS[usize::from(byte % 32)]));
    let reference = letters.take(REFERENCE_CHARS).collect();
    PostName { nonce, reference }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_as_different_as_their_posts() {
        let one = post_name(1, "call.r1.2026-03-07");
        assert_eq!(one, post_name(1, "call.r1.2026-03-07"));
        assert_ne!(one.nonce, post_name(2, "call.r1.2026-03-07").nonce);
        assert_ne!(one.nonce, post_name(1, "call.r1.2026-03-08").nonce);
        assert_ne!(one.nonce, post_name(1, "call.r1.2026-03-07.anew").nonce);
        assert_eq!((one.nonce.len(), one.reference.len()), (24, 12));
        assert!(
            !one.nonce.starts_with(&one.reference),
            "a reference tells no nonce"
        );
    }
}
