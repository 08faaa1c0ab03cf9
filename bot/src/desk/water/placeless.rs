//! Questions that need no place: asked where nothing is set up, they are answered all the same.

use jiff::Timestamp;
use wrackline_core::journal::Book;
use wrackline_core::place::{CarerId, Role};

use crate::chat::blocks::Answer;
use crate::desk::tell::Tell;
use crate::desk::{Desk, Reply};
use crate::house::Input;
use crate::lines;
use crate::words::Words;

/// The answer to such a question against a place that has nothing; `None` where the line is none.
#[must_use]
pub fn answer(words: &Words, line: &str, now: Timestamp) -> Option<Answer> {
    if !lines::needs_no_place(line) {
        return None;
    }
    let book = Book::default();
    let place = book.place_at(now);
    let desk = Desk {
        tell: Tell {
            words,
            book: &book,
            place: &place,
            now,
            zone: None,
        },
        me: CarerId(0),
        role: Role::Regular,
    };
    match desk.hear(&Input::Line(line.to_owned())).reply {
        Reply::Ready(answer) => Some(answer),
        // What is written is no question: it has nowhere to go here.
        Reply::After(_) | Reply::Code(_) | Reply::Calendar(_) => None,
    }
}
