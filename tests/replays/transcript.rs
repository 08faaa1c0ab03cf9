//! Reading a transcript: its messages, and which of them the house posted by itself.

/// One message of a transcript.
pub(super) struct Message<'a> {
    /// Local date, time and offset, as shown.
    pub(super) stamp: &'a str,
    /// Who spoke.
    pub(super) who: &'a str,
    /// Its first line.
    pub(super) title: &'a str,
}

/// The name under which the house speaks.
const HOUSE: &str = "Wrackline";

pub(super) fn messages(transcript: &str) -> Vec<Message<'_>> {
    let width = "2026-03-05 08:00 -05:00".len();
    let rows = transcript
        .lines()
        .map(|line| (&line[..width], &line[width + 2..]));
    let spoken = rows.filter(|(_, rest)| !rest.starts_with(' '));
    spoken
        .map(|(stamp, rest)| {
            let (who, title) = rest.split_once(' ').unwrap_or((rest, ""));
            Message {
                stamp,
                who,
                title: title.trim_start(),
            }
        })
        .collect()
}

/// What the house posted by itself: neither an answer to a line nor the new form of an older post.
pub(super) fn posts(transcript: &str) -> Vec<Message<'_>> {
    let mut answered = false;
    let mut found = Vec::new();
    for message in messages(transcript) {
        let answer = std::mem::replace(&mut answered, message.who != HOUSE);
        if message.who == HOUSE && !answer && !message.title.starts_with("(now) ") {
            found.push(message);
        }
    }
    found
}
