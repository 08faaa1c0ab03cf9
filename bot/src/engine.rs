//! The engine: it sleeps until the next moment at which anything falls due, and writes the posts that the moment
//! calls for in the same transaction as what it knows of the place.

pub mod touched;

use std::sync::Arc;
use std::time::Duration;

use jiff::Timestamp;
use wrackline_core::care::{Standing, TurnKey, board};
use wrackline_core::journal::{Book, Entry, Event, Seq};
use wrackline_core::moment::{
    Item, Plan, Post, What, asked_keys, items, new_items, next_moment, plan, seen_after,
};
use wrackline_core::place::{CarerId, Place};
use wrackline_core::rota;

use crate::clock::wait;
use crate::house::{House, whole_second};
use crate::shelf::{HeldBook, instant, next_logged_at, row};
use crate::store::{Change, NewPost, PlaceId, Result, StandingRow, Store, StoreError};

/// Whom entries that the house itself makes are by.
pub const HOUSE: CarerId = CarerId(0);

/// How many places are dealt with before the engine looks at the time again.
const PLACES_MAX: i64 = 200;

/// The longest sleep in milliseconds: wall time may be set meanwhile, which no timer notices.
const SLEEP_MAX_MS: i64 = 60_000;

/// How often a place is looked at anew when other writers were first.
const TRIES_MAX: u32 = 8;

/// Deals with every place whose moment has come; returns how many there were.
///
/// # Errors
/// Those of the store. A place that failed is looked at again with the next step.
pub async fn step(house: &House) -> Result<usize> {
    let now = house.clock.now();
    let due = house
        .shelf
        .store()
        .due_places(now.as_millisecond(), PLACES_MAX)
        .await?;
    let mut broken = None;
    for place in &due {
        match step_place(house, *place, now).await {
            // One place that cannot be read holds up no other.
            Err(error @ StoreError::Other { .. }) => broken = Some(error),
            other => other?,
        }
    }
    if !due.is_empty() {
        house.bell.ring();
    }
    broken.map_or(Ok(due.len()), Err)
}

async fn step_place(house: &House, place: PlaceId, now: Timestamp) -> Result<()> {
    for _ in 0..TRIES_MAX {
        match step_once(house, place, now).await {
            Err(StoreError::Conflict) => {}
            other => return other,
        }
    }
    Err(StoreError::Locked)
}

async fn step_once(house: &House, id: PlaceId, now: Timestamp) -> Result<()> {
    let mut held = house.shelf.open(id).await?;
    let seen = instant(held.head.seen_at_ms);
    // A clock that stepped back calls for nothing: what it shows again was dealt with before.
    let now = whole_second(now.max(seen));
    let place = held.book().place_at(now);
    let board = board(held.book(), &place, now);
    let mut change = Change::default();
    if rota::wants_sharing(held.book(), &place, &board, now) {
        let shared = rota::even_out(held.book(), &place, &board, now, rota::HORIZON_DAYS);
        if let Some(entry) = hold(&mut held, &shared, now, &mut change) {
            let raised = touched::posts(house.shelf.store(), id, held.book(), &[entry], now).await;
            change.raise.extend(raised?);
        }
    }
    let all = items(held.book(), &place, &board, seen, now);
    let store = house.shelf.store();
    let published = post_items(store, id, held.book(), &place, &board, all, now, &mut change).await?;
    let next = next_ms(held.book(), &place, &board, now);
    if !published.is_empty() {
        note(&mut held, Event::Published(published), now, HOUSE, &mut change);
    }
    change.next_at_ms = Some(Some(next));
    let seen_ms = seen_after(&place, seen, now).as_millisecond();
    change.seen_at_ms = Some(seen_ms);
    held.head.seen_at_ms = seen_ms;
    change.standings = Some(stored_standings(&held));
    held.commit(&change).await
}

/// Writes down how the turns lie that a round shares out. Returns the entry, where posts may show it: a turn changes
/// hands by it. New turns stand in no post yet.
pub fn hold(
    held: &mut HeldBook,
    shared: &rota::SharedOut,
    now: Timestamp,
    change: &mut Change,
) -> Option<Seq> {
    publish(held, shared.changes(), now, HOUSE, change);
    let moves = shared.turns.iter().any(rota::Turn::moves);
    moves.then(|| held.book().last_seq())
}

/// Shares out the coming turns anew and writes down what changes by it.
pub fn share_out(
    held: &mut HeldBook,
    place: &Place,
    board: &[Standing],
    now: Timestamp,
    said_by: CarerId,
    change: &mut Change,
) {
    let shared = rota::share_out(held.book(), place, board, now, rota::HORIZON_DAYS);
    publish(held, shared.changes(), now, said_by, change);
}

fn publish(
    held: &mut HeldBook,
    changes: Vec<(rota::Slot, Option<CarerId>)>,
    now: Timestamp,
    said_by: CarerId,
    change: &mut Change,
) {
    if !changes.is_empty() {
        note(held, Event::Shared(changes), now, said_by, change);
    }
}

/// Writes an entry of the house's own.
fn note(held: &mut HeldBook, event: Event, now: Timestamp, said_by: CarerId, change: &mut Change) {
    let book = held.book_mut();
    // Of one line or step: logged with what was written before.
    let logged_at = match change
        .entries
        .last()
        .and_then(|row| book.entry(row.seq.unsigned_abs()))
    {
        Some(before) => before.logged_at,
        None => next_logged_at(book, now),
    };
    let entry = Entry {
        seq: book.last_seq() + 1,
        at: now,
        logged_at,
        by: HOUSE,
        said_by,
        event,
    };
    change.entries.push(row(&entry));
    book.insert(entry);
}

/// Whether any of these items is new, by what the store knows.
///
/// # Errors
/// Those of the store.
pub async fn any_new(store: &Arc<dyn Store>, id: PlaceId, all: &[Item]) -> Result<bool> {
    if all.is_empty() {
        return Ok(false);
    }
    let known = store.known_keys(id, &asked_keys(all)).await?;
    Ok(!new_items(all.to_vec(), |key| known.iter().any(|one| one == key)).is_empty())
}

/// Puts the posts that new items call for into a change. Returns the turns that are published by them.
///
/// # Errors
/// Those of the store.
#[expect(
    clippy::too_many_arguments,
    reason = "the parts of one transaction in the making"
)]
pub async fn post_items(
    store: &Arc<dyn Store>,
    id: PlaceId,
    book: &Book,
    place: &Place,
    board: &[Standing],
    all: Vec<Item>,
    now: Timestamp,
    change: &mut Change,
) -> Result<Vec<(TurnKey, CarerId)>> {
    if all.is_empty() {
        return Ok(Vec::new());
    }
    let known = store.known_keys(id, &asked_keys(&all)).await?;
    let all = new_items(all, |key| known.iter().any(|one| one == key));
    let Plan { posts, covered } = plan(book, place, board, &all, now);
    let mut published = Vec::new();
    for post in &posts {
        for called in post.subject.turns() {
            if let Some(carer) = called
                .carer
                .filter(|_| !is_settled(book, place, board, &called.turn, now))
            {
                // A turn may stand in the common call and in one to somebody alone.
                if !published.contains(&(called.turn, carer)) {
                    published.push((called.turn, carer));
                }
            }
        }
    }
    change
        .posts
        .extend(posts.into_iter().map(|post| new_post(post, now)));
    change.covered.extend(covered);
    let lapsed: Vec<Seq> = all
        .iter()
        .filter_map(|item| match item.what {
            What::Lapsed(seq) => Some(seq),
            _ => None,
        })
        .collect();
    if !lapsed.is_empty() {
        change
            .raise
            .extend(touched::posts(store, id, book, &lapsed, now).await?);
    }
    Ok(published)
}

/// Whether it was said in the journal already where a turn lies.
fn is_settled(book: &Book, place: &Place, board: &[Standing], turn: &TurnKey, now: Timestamp) -> bool {
    let standing = board.iter().find(|standing| standing.turn == *turn);
    standing.is_some_and(|standing| rota::hand(book, place, standing, now).settled)
}

fn new_post(post: Post, now: Timestamp) -> NewPost {
    NewPost {
        keys: post.keys,
        destination: post.to.to_string(),
        body: serde_json::to_string(&post.subject).expect("a subject becomes JSON"),
        at_ms: now.as_millisecond(),
        not_after_ms: post.not_after.as_millisecond(),
    }
}

/// When the place wants attention next, in milliseconds.
#[must_use]
pub fn next_ms(book: &Book, place: &Place, board: &[Standing], now: Timestamp) -> i64 {
    next_moment(book, place, board, now).as_millisecond()
}

/// The marks to be stored with a book: those of its latest moment.
#[must_use]
pub fn stored_standings(held: &HeldBook) -> Vec<StandingRow> {
    let moment = held.moment();
    let place = held.book().place_at(moment);
    standing_rows(&board(held.book(), &place, moment))
}

/// The marks as they are stored.
#[must_use]
pub fn standing_rows(board: &[Standing]) -> Vec<StandingRow> {
    let row = |standing: &Standing| StandingRow {
        turn: standing.turn.to_string(),
        due_ms: standing.due.as_millisecond(),
        overdue_ms: standing.overdue.as_millisecond(),
        hazard_ms: standing.hazard.map(Timestamp::as_millisecond),
    };
    let mut rows: Vec<StandingRow> = board.iter().map(row).collect();
    rows.sort_by(|a, b| a.turn.cmp(&b.turn));
    rows
}

/// Runs for as long as the process: a step whenever a moment has come, and sleep until the next one.
pub async fn run(house: Arc<House>) {
    loop {
        let again = match step(&house).await {
            Ok(dealt) => dealt > 0,
            Err(error) => {
                tracing::error!(%error, "the scheduler could not do its step");
                wait(Duration::from_secs(5)).await;
                false
            }
        };
        if again {
            continue;
        }
        let sleep = sleep_ms(&house).await;
        tokio::select! {
            biased;
            () = house.bell.engine.notified() => {}
            () = wait(Duration::from_millis(sleep)) => {}
        }
    }
}

async fn sleep_ms(house: &House) -> u64 {
    let next = house.shelf.store().next_moment().await.ok().flatten();
    let now = house.clock.now().as_millisecond();
    let sleep = next.map_or(SLEEP_MAX_MS, |next| (next - now).clamp(50, SLEEP_MAX_MS));
    u64::try_from(sleep).unwrap_or(50)
}
