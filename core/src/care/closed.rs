//! What closed a turn.

use jiff::Timestamp;

use super::TurnKey;
use crate::journal::{Book, Done};

/// What was done since the entry that a turn counts from, as far as is known at a moment, in order of time: the first
/// of it closed the turn. It was logged after that entry and counts from no earlier time: work that was back-dated
/// to before it closes nothing.
pub fn closers<'a>(
    book: &'a Book,
    turn: &TurnKey,
    now: Timestamp,
) -> impl Iterator<Item = &'a Done> + use<'a> {
    let from = turn.from;
    let since = book.entry(from).map_or(Timestamp::MIN, |entry| entry.at);
    let after = move |done: &&Done| done.seq > from && done.at >= since;
    book.done_until(turn.duty, turn.target, now).filter(after)
}

#[cfg(test)]
mod tests {
    use jiff::SignedDuration;

    use super::*;
    use crate::care::Duty;
    use crate::journal::{Entry, Event, Part};
    use crate::place::{CarerId, PoolId, Target};

    fn change(seq: u64, hour: i64) -> Entry {
        let at = Timestamp::UNIX_EPOCH + SignedDuration::from_hours(hour);
        let event = Event::Did(Duty::Change, Target::Pool(PoolId(1)), Part::Whole);
        Entry::at_once(seq, at, CarerId(1), event)
    }

    #[test]
    fn work_back_dated_to_before_a_turn_does_not_close_it() {
        let turn = TurnKey {
            duty: Duty::Change,
            target: Target::Pool(PoolId(1)),
            from: 2,
            on: None,
        };
        let closed_by = |entries: &[Entry]| {
            let book = Book::of(entries.iter().cloned());
            closers(&book, &turn, Timestamp::MAX)
                .map(|done| done.seq)
                .collect::<Vec<_>>()
        };
        let before = [change(1, 0), change(2, 48), change(3, 24)];
        assert_eq!(closed_by(&before), Vec::<u64>::new());
        let after = [
            change(1, 0),
            change(2, 48),
            change(3, 24),
            change(4, 96),
            change(5, 72),
        ];
        assert_eq!(closed_by(&after), vec![5, 4]);
    }
}
