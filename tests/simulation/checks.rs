//! What must hold, worked out from the rows of the store, the record of what was written and what people saw; as
//! far as can be without the code under test.

mod calls;
mod posts;

use std::collections::BTreeSet;

use jiff::Timestamp;
use wrackline::chat::blocks::Answer;
use wrackline::chat::plain;
use wrackline::commands::verify::differences;
use wrackline::engine::standing_rows;
use wrackline::house::whole_second;
use wrackline::shelf;
use wrackline::store::EntryRow;
use wrackline_core::care::board;
use wrackline_core::journal::Book;

use super::storm::Storm;
use super::workload::{Expect, yesterday_at};

/// Checks an answer at the moment it is given: what it says was done is written, once, and nothing else is.
pub(super) fn answered(storm: &Storm, told: usize, answer: &Answer) {
    let told = &storm.told[told];
    let (id, text) = (&told.id, plain::text(&answer.blocks));
    let caused = storm.world.ledger.caused_by(id);
    let kind = match told.deed.expect {
        Expect::Nothing => {
            assert!(caused.is_empty(), "{id} is a question, but wrote something");
            return;
        }
        Expect::Perhaps(_) if caused.is_empty() => return,
        Expect::Entry(kind) | Expect::Perhaps(kind) => kind,
    };
    if !answer.ok {
        assert!(caused.is_empty(), "{id} was refused, but wrote something: {text}");
        return;
    }
    assert_eq!(
        caused.len(),
        1,
        "{id} was answered “{text}”, but was written so often"
    );
    let change = &caused[0].change;
    assert!(
        !change.entries.is_empty(),
        "{id} was answered “{text}”, but wrote no entry"
    );
    // What the house shared out anew because of the line stands with it.
    let own = |entry: &&EntryRow| !entry.body.starts_with("{\"shared");
    for entry in change.entries.iter().filter(own) {
        let start = format!("{{\"{kind}");
        assert!(
            entry.body.starts_with(&start),
            "{id} was to write {kind}, but wrote {}",
            entry.body
        );
        assert_eq!(entry.said_by, told.deed.carer, "{id} is logged as another's");
        if let Some(time) = told.deed.yesterday {
            let zone = storm.world.zone.name();
            let mut days = told
                .tries
                .iter()
                .flatten()
                .map(|now| yesterday_at(zone, *now, time).as_millisecond());
            assert!(
                days.any(|at| at == entry.at_ms),
                "{id} counts from {}",
                shelf::instant(entry.at_ms)
            );
        }
    }
    let stored = change.inbound.as_ref().map(|inbound| inbound.answer.as_str());
    let given = serde_json::to_string(answer).expect("an answer becomes JSON");
    assert_eq!(
        stored,
        Some(given.as_str()),
        "{id} was answered otherwise than it is stored"
    );
    for earlier in told.answers.iter().filter(|earlier| earlier.ok) {
        assert_eq!(earlier, answer, "{id} was answered otherwise the second time");
    }
}

/// The stored marks are those that the journal gives, in whatever order its entries are taken up.
pub(super) async fn marks(storm: &mut Storm) {
    let (store, place) = (storm.world.store.clone(), storm.world.place);
    let found = differences(&store, place).await.expect("the store");
    assert_eq!(
        found,
        Vec::<String>::new(),
        "stored marks are not what the journal says"
    );
    let tail = store.tail(place, 0).await.expect("the journal");
    let mut rows = tail.entries;
    let logged = rows.last().map_or(0, |row| row.logged_at_ms);
    let moment = whole_second(shelf::instant(logged.max(tail.head.seen_at_ms)));
    for last in (1..rows.len()).rev() {
        let with = storm.dice.between(0, i64::try_from(last).expect("few entries"));
        rows.swap(last, usize::try_from(with).expect("an index"));
    }
    let book = book_of(&rows);
    let computed = standing_rows(&board(&book, &book.place_at(moment), moment));
    let stored = store.standings(place).await.expect("the marks");
    assert_eq!(computed, stored, "the marks depend on the order of the journal");
}

/// A fresh book of entries.
fn book_of(rows: &[EntryRow]) -> Book {
    Book::of(rows.iter().map(|row| shelf::entry(row).expect("an entry")))
}

/// Everything that must hold when the calm is over. Returns a line that sums the run up.
pub(super) async fn all(storm: &mut Storm) -> String {
    journal(storm).await;
    marks(storm).await;
    let posts = posts::all(storm).await;
    calls::all(storm).await;
    let (lines, commits) = (storm.told.len(), storm.world.ledger.commit_count());
    let transactions = storm.world.ledger.transactions();
    format!(
        "{}: {transactions} transactions, {lines} lines, {commits} changes, {posts}",
        storm.world.zone.name()
    )
}

/// The journal holds what was written, all of it, in order, each line once; versions grow by one.
async fn journal(storm: &Storm) {
    let world = &storm.world;
    let commits = world.ledger.commits();
    let versions: Vec<i64> = commits.iter().map(|commit| commit.version).collect();
    assert_eq!(
        versions,
        (1..=i64::try_from(commits.len()).expect("few")).collect::<Vec<_>>(),
        "versions do not grow"
    );
    let tail = world.store.tail(world.place, 0).await.expect("the journal");
    assert_eq!(
        tail.head.version,
        *versions.last().expect("a version"),
        "the place's version is another"
    );
    let written: Vec<EntryRow> = commits
        .iter()
        .flat_map(|commit| commit.change.entries.clone())
        .collect();
    assert_eq!(tail.entries, written, "the journal is not what was written");
    let mut ids = BTreeSet::new();
    let mut logged_before = -1;
    for commit in &commits {
        if let Some(inbound) = &commit.change.inbound {
            assert!(ids.insert(inbound.id.clone()), "{} was written twice", inbound.id);
            let stored = world
                .store
                .inbound(world.place, &inbound.id)
                .await
                .expect("the store");
            assert_eq!(
                stored.as_ref(),
                Some(&inbound.answer),
                "the answer to {} was lost",
                inbound.id
            );
        }
        if let (Some(first), Some(last)) = (commit.change.entries.first(), commit.change.entries.last()) {
            assert!(
                commit.version == 1 || first.logged_at_ms > logged_before,
                "two lines at one instant"
            );
            // What the house shares out before a line is not of the line.
            let of_line = commit
                .change
                .entries
                .iter()
                .filter(|row| row.said_by == last.said_by);
            for row in of_line {
                assert_eq!(row.logged_at_ms, last.logged_at_ms, "one line at two instants");
            }
            logged_before = last.logged_at_ms;
        }
    }
    for told in &storm.told {
        let expects_entry = matches!(told.deed.expect, Expect::Entry(_));
        if expects_entry && told.answers.iter().any(|answer| answer.ok) {
            assert!(ids.contains(&told.id), "{} was acknowledged and is lost", told.id);
        }
    }
}

/// An instant of the bundled zone data, worked out apart from the code under test.
fn instant(zone: &str, civil: jiff::civil::DateTime) -> Timestamp {
    let zone = jiff::tz::TimeZoneDatabase::bundled().get(zone).expect("a zone");
    zone.to_timestamp(civil).expect("an instant")
}
