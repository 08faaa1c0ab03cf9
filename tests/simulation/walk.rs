//! The main walk with its n-th store call going wrong, for every n until the walk passes untouched.

use wrackline::chat::blocks::{Block, Item};
use wrackline::chat::plain;
use wrackline::store::PostState;
use wrackline_tests::faults::{Fault, Trouble};

use super::walker::walk;

/// Lets every store call of the walk go wrong in turn, beforehand and, where it writes, afterwards. Returns how many
/// there were.
fn every_call(before: Fault, after: Fault) -> u64 {
    super::block_on(async {
        let (untouched, store) = walk(None).await;
        let writes = store.writes();
        let mut number = 0;
        loop {
            let (end, store) = walk(Some((number, before))).await;
            assert_eq!(end, untouched, "with {before:?} at store call {number}");
            if store.met() == 0 {
                return number;
            }
            // A reading that was lost is as good as one that failed.
            if writes.contains(&number) {
                let (end, _) = walk(Some((number, after))).await;
                assert_eq!(end, untouched, "with {after:?} at store call {number}");
            }
            number += 1;
        }
    })
}

/// Which turns of a call are shown as settled; `None` for what is no call.
fn settled(blocks: &[Block]) -> Option<Vec<bool>> {
    let has_marks = |items: &[Item]| items.iter().any(|item| item.settled || !item.answers.is_empty());
    blocks.iter().find_map(|block| match block {
        Block::Items { items } if has_marks(items) => Some(items.iter().map(|item| item.settled).collect()),
        _ => None,
    })
}

#[test]
fn the_walk_ends_as_it_should() {
    let (end, _) = super::block_on(walk(None));
    let keys: Vec<&str> = end.posts.iter().map(|(keys, ..)| keys[0].as_str()).collect();
    let called = [
        "round.1.2026-03-07",
        "seen.14",
        "settled.seen.14",
        "round.1.2026-03-08",
        "freed.change.p1.0.0.17",
        "freed.change.p1.0.1.17",
    ];
    assert_eq!(
        keys,
        [&called[..], &["round.1.2026-03-09", "week.2026-W10"]].concat()
    );
    let nonces: Vec<&str> = end.messages.iter().map(|(nonce, _)| nonce.as_str()).collect();
    assert_eq!(nonces, keys, "a post was not seen once");
    assert!(
        end.posts.iter().all(|(.., state)| *state == PostState::Sent),
        "{:?}",
        end.posts
    );
    // The calls show what was answered since: all but the readings, which Ben was asked for last.
    let calls: Vec<Vec<bool>> = end
        .messages
        .iter()
        .filter_map(|(_, blocks)| settled(blocks))
        .collect();
    // Between the rounds the turn that was given up goes to the stand-in, then to all who can.
    let shown: [&[bool]; 5] = [
        &[true, true, true],
        &[true, true, false],
        &[true],
        &[true, false],
        &[true, true, false],
    ];
    assert_eq!(calls, shown);
    let first = plain::text(&end.messages[0].1);
    assert!(
        first.contains("morning look · done 08:30, Ben"),
        "what was undone and done anew: {first}"
    );
}

#[test]
fn whichever_store_call_fails_the_walk_ends_the_same() {
    let calls = every_call(Fault::Before(Trouble::Locked), Fault::After(Trouble::Broken));
    eprintln!("{calls} store calls failed in turn");
    assert!(calls > 100, "the walk is too short: {calls} store calls");
}

#[test]
fn whichever_store_call_is_the_process_s_last_the_walk_ends_the_same() {
    let calls = every_call(Fault::StopBefore, Fault::StopAfter);
    eprintln!("{calls} store calls were the last ones in turn");
    assert!(calls > 100, "the walk is too short: {calls} store calls");
}
