//! Photos: of what is sent in, the picture alone is kept, and for its days alone.
//!
//! `photos/make.py` made the pictures with libraries that have nothing to do with those that clean and check them.

mod anything;
mod keeping;
mod picture;
mod told;

/// What `make.py` wrote wherever a word can be hidden.
const CANARY: &[u8] = b"CANARY";

/// A picture as it is sent in.
struct Sent {
    name: &'static str,
    media_type: &'static str,
    bytes: &'static [u8],
    /// How many words are hidden in it in plain sight.
    words: usize,
}

macro_rules! sent {
    ($name:literal, $kind:literal, $words:literal) => {
        Sent {
            name: $name,
            media_type: concat!("image/", $kind),
            bytes: include_bytes!($name),
            words: $words,
        }
    };
}

static SENT: [Sent; 10] = [
    sent!("data/photos/told.jpg", "jpeg", 20),
    sent!("data/photos/layered.jpg", "jpeg", 30),
    sent!("data/photos/inks.jpg", "jpeg", 1),
    sent!("data/photos/told.png", "png", 15),
    sent!("data/photos/clear.png", "png", 15),
    sent!("data/photos/moving.png", "png", 15),
    sent!("data/photos/told.webp", "webp", 13),
    sent!("data/photos/clear.webp", "webp", 13),
    sent!("data/photos/moving.webp", "webp", 16),
    sent!("data/photos/plain.webp", "webp", 1),
];

/// A picture by its name.
fn sent(name: &str) -> &'static Sent {
    SENT.iter()
        .find(|sent| sent.name.ends_with(&format!("/{name}")))
        .expect("a picture")
}

impl Sent {
    /// What is kept of it.
    fn kept(&self) -> Vec<u8> {
        let photo = wrackline::photo::cleaned(self.bytes.to_vec());
        photo
            .unwrap_or_else(|problem| panic!("{}: {problem}", self.name))
            .bytes
    }
}

/// How often some bytes stand in others.
fn count(bytes: &[u8], wanted: &[u8]) -> usize {
    bytes
        .windows(wanted.len())
        .filter(|window| *window == wanted)
        .count()
}
