//! Posts: one row for what calls for one, one message for a row, and an end for each.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use wrackline::store::{PostRow, PostState, Settled};
use wrackline_core::delivery::ATTEMPTS_MAX;
use wrackline_core::moment::Subject;
use wrackline_tests::faults::Shown;

use crate::simulation::storm::Storm;

/// Checks all posts and messages. Returns how many there were.
pub(super) async fn all(storm: &Storm) -> String {
    let rows = storm
        .world
        .store
        .posts(storm.world.place, 0)
        .await
        .expect("the posts");
    keys(storm, &rows);
    rounds(&rows);
    let shown = storm.world.chat.shown();
    for row in &rows {
        ended(storm, row, &shown);
    }
    messages(storm, &rows, &shown);
    quiet(storm, &rows, &shown);
    let count = |state| rows.iter().filter(|row| row.state == state).count();
    let (sent, expired, dead) = (
        count(PostState::Sent),
        count(PostState::Expired),
        count(PostState::Dead),
    );
    format!("{sent} posts sent, {expired} expired, {dead} dead")
}

/// Every key calls for one post at most, for ever, and every post has its row.
fn keys(storm: &Storm, rows: &[PostRow]) {
    let mut posted = BTreeSet::new();
    for key in rows.iter().flat_map(|row| &row.keys) {
        assert!(posted.insert(key), "{key} was posted twice");
    }
    let mut covered = BTreeSet::new();
    let commits = storm.world.ledger.commits();
    for commit in &commits {
        for post in &commit.change.posts {
            assert!(
                rows.iter().any(|row| row.keys == post.keys),
                "the post of {:?} is lost",
                post.keys
            );
        }
        covered.extend(commit.change.covered.iter());
    }
    let both: Vec<_> = posted.intersection(&covered).collect();
    assert!(both.is_empty(), "covered and posted too: {both:?}");
}

/// Never two round calls of one round and date.
fn rounds(rows: &[PostRow]) {
    let mut held = BTreeSet::new();
    for row in rows {
        let body: Value = serde_json::from_str(&row.body).expect("a subject");
        if let Some(round) = body.get("round") {
            let of = (round["round"].to_string(), round["date"].to_string());
            assert!(held.insert(of.clone()), "two calls of {of:?}");
        }
    }
}

/// Every post has come to its end, and no other than what befell it allows.
fn ended(storm: &Storm, row: &PostRow, shown: &[Shown]) {
    let nonce = &row.keys[0];
    let tally = storm.world.chat.tally(nonce);
    let anew = storm.world.chat.tally(&format!("{nonce}.anew"));
    match row.state {
        PostState::Pending => panic!("the post of {nonce} never ends: {row:?}"),
        PostState::Sent => {
            assert!(row.message.is_some(), "the post of {nonce} has no message");
            assert_eq!(row.sent, row.wanted, "not the newest version of {nonce} is out");
        }
        PostState::Dead => {
            let has_failed = tally.passing + anew.passing > 0 && row.attempts >= ATTEMPTS_MAX;
            let is_refused = tally.lasting + anew.lasting > 0;
            // Posted anew, once: a second message that is taken away ends it.
            let is_gone = shown.iter().any(|one| one.is_gone && key_of(one) == nonce);
            assert!(
                is_refused || has_failed || is_gone,
                "the post of {nonce} was given up after {tally:?}: {row:?}"
            );
        }
        PostState::Expired => assert_eq!(row.sent, 0, "the post of {nonce} expired although it is out"),
    }
}

/// The first key of the post that a message is of.
fn key_of(shown: &Shown) -> &str {
    shown.nonce.strip_suffix(".anew").unwrap_or(&shown.nonce)
}

/// Every post is seen once at a time, and shows what it was last told to show.
fn messages(storm: &Storm, rows: &[PostRow], shown: &[Shown]) {
    let by_key: BTreeMap<&str, &PostRow> = rows.iter().map(|row| (row.keys[0].as_str(), row)).collect();
    let mut seen: BTreeMap<&str, Vec<&Shown>> = BTreeMap::new();
    for one in shown {
        assert!(by_key.contains_key(key_of(one)), "{} was never wanted", one.nonce);
        seen.entry(key_of(one)).or_default().push(one);
    }
    for (key, row) in by_key {
        let all = seen.remove(key).unwrap_or_default();
        let living: Vec<&&Shown> = all.iter().filter(|one| !one.is_gone).collect();
        doubles(storm, row, &all);
        if row.state == PostState::Sent {
            let newest = living
                .last()
                .unwrap_or_else(|| panic!("the post of {key} is sent, but nobody sees it"));
            assert_eq!(newest.blocks, newest.told, "people see an older version of {key}");
            settled(storm, row, newest);
        }
    }
}

/// A message appears a second time only where the first was taken away, or where the chat no longer knew its nonce
/// and nobody had recorded it.
fn doubles(storm: &Storm, row: &PostRow, all: &[&Shown]) {
    for pair in all.windows(2) {
        let [first, second] = pair else { continue };
        if first.is_gone {
            continue;
        }
        let key = &row.keys[0];
        let window_ms = storm
            .window_ms
            .unwrap_or_else(|| panic!("people see {key} twice"));
        let after_ms = second.appeared.as_millisecond() - first.appeared.as_millisecond();
        assert!(
            after_ms >= window_ms,
            "people see {key} twice after {after_ms} ms"
        );
        let settlements = storm.world.ledger.settlements();
        let recorded = settlements.iter().filter(|one| one.post == row.id).any(|one| {
            // A late word of an earlier message, taken away since, says nothing of this one.
            matches!(&one.settled, Settled::Sent { message, at_ms, .. }
                if *message == first.id && (first.at_ms..second.at_ms).contains(at_ms))
        });
        assert!(
            !recorded,
            "people see {key} twice although it was recorded as sent"
        );
    }
}

/// A call shows as settled what the journal says is, as far back as calls are kept up to date.
fn settled(storm: &Storm, row: &PostRow, shown: &Shown) {
    let subject: Subject = serde_json::from_str(&row.body).expect("a subject");
    let Some(open) = super::calls::open_at_end(storm, row, &subject) else {
        return;
    };
    let items = shown.blocks.iter().find_map(|block| match block {
        wrackline::chat::blocks::Block::Items { items } => Some(items),
        _ => None,
    });
    let items = items.unwrap_or_else(|| panic!("the call {} lists nothing", row.keys[0]));
    for number in 1..=subject.turns().len() {
        // Looks at open matters stand between the turns, without a number.
        let of_turn = |item: &&wrackline::chat::blocks::Item| item.text.starts_with(&format!("{number} "));
        let item = items
            .iter()
            .find(of_turn)
            .unwrap_or_else(|| panic!("{} does not show its turn {number}", row.keys[0]));
        let is_open = open.contains(&number);
        assert_eq!(
            item.settled, !is_open,
            "{} shows its turn {number} wrong: {}",
            row.keys[0], item.text
        );
    }
}

/// In the quiet hours nothing appears but danger.
fn quiet(storm: &Storm, rows: &[PostRow], shown: &[Shown]) {
    if !storm.swarm.has_quiet_hours {
        return;
    }
    let is_quiet = |at_ms: i64| {
        let hour = storm.world.zone.civil(wrackline::shelf::instant(at_ms)).hour();
        !(7..22).contains(&hour)
    };
    for row in rows {
        let body: Value = serde_json::from_str(&row.body).expect("a subject");
        if body.get("seen").is_some() || body.get("spell").is_some() {
            continue;
        }
        let key = &row.keys[0];
        assert!(!is_quiet(row.at_ms), "{key} was wanted in the quiet hours");
        // A message that was taken away appears anew when it is edited: that is no first posting.
        let first = shown.iter().find(|one| &one.nonce == key);
        let at = first
            .filter(|one| is_quiet(one.at_ms))
            .map(|one| wrackline::shelf::instant(one.at_ms));
        assert!(at.is_none(), "{key} appeared in the quiet hours, at {at:?}");
    }
}
