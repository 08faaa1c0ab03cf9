//! The sheet of a span that is over: what was done, seen and used up in it, as it was posted at its end.

use wrackline_core::people::Span;
use wrackline_core::place::CarerId;

use super::paper::made;
use crate::chat::blocks::{Answer, Block};
use crate::chat::paper::{Paper, Room, Section};
use crate::desk::{Desk, handover};

/// The message, for the keeper's eyes alone: it tells of sickness too.
pub(super) fn answer(desk: &Desk<'_>, who: CarerId, span: Span) -> Answer {
    let (title, blocks) = handover::summed_up(&desk.tell, who, span);
    let mut answer = desk.done_text(title);
    answer.blocks.extend(blocks);
    answer.private = true;
    answer
}

/// The page.
pub(super) fn paper(desk: &Desk<'_>, who: CarerId, span: Span) -> Paper {
    let (title, blocks): (String, Vec<Block>) = handover::summed_up(&desk.tell, who, span);
    Paper {
        title,
        lead: vec![made(desk)],
        sections: vec![Section {
            heading: desk.tell.word("sheet-head-over"),
            room: Room::Wide,
            blocks,
        }],
    }
}
