//! The books in hand: each place's journal as this process last read it, kept in step by its version.
//!
//! Whatever happens in a place happens one after the other: whoever opens a book holds it until they are done.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::{SignedDuration, Timestamp};
use tokio::sync::OwnedMutexGuard;
use wrackline_core::journal::{Book, Entry, Event};
use wrackline_core::place::CarerId;

use crate::store::{Change, EntryRow, Head, PlaceId, Result, Store, StoreError, Tail};

type Slot = Arc<tokio::sync::Mutex<Option<(Head, Book)>>>;

/// How many books are kept in hand; beyond that all that nobody holds are dropped.
const BOOKS_MAX: usize = 1_000;

/// The books in hand.
pub struct Shelf {
    store: Arc<dyn Store>,
    slots: Mutex<HashMap<PlaceId, Slot>>,
}

/// A book that is held: nobody else sees or changes this place meanwhile, in this process.
pub struct HeldBook {
    store: Arc<dyn Store>,
    place: PlaceId,
    /// The head that the book belongs to.
    pub head: Head,
    slot: OwnedMutexGuard<Option<(Head, Book)>>,
    /// Whether the book has taken up what is not committed.
    is_changed: bool,
}

impl Shelf {
    /// An empty shelf before a store.
    #[must_use]
    pub fn new(store: Arc<dyn Store>) -> Self {
        Self {
            store,
            slots: Mutex::default(),
        }
    }

    /// The store behind it.
    #[must_use]
    pub fn store(&self) -> &Arc<dyn Store> {
        &self.store
    }

    /// Opens a place's book as the place stands in the store now: the book in hand takes up the entries that other
    /// processes wrote meanwhile.
    ///
    /// # Errors
    /// Those of the store; a place that is not there is [`StoreError::Conflict`].
    pub async fn open(&self, place: PlaceId) -> Result<HeldBook> {
        let mut slot = self.slot(place).lock_owned().await;
        let known = match &*slot {
            Some((head, _)) => Some((*head, self.store.head(place).await?.ok_or(StoreError::Conflict)?)),
            None => None,
        };
        let head = match known {
            Some((held, now)) if held.version == now.version => now,
            Some((held, _)) => take_up(&mut slot, self.store.tail(place, held.last_seq).await?)?,
            None => take_up(&mut slot, self.store.tail(place, 0).await?)?,
        };
        Ok(HeldBook {
            store: self.store.clone(),
            place,
            head,
            slot,
            is_changed: false,
        })
    }

    fn slot(&self, place: PlaceId) -> Slot {
        // A panic elsewhere cannot leave the map half-changed: each of its steps is one call.
        let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
        if slots.len() >= BOOKS_MAX && !slots.contains_key(&place) {
            slots.retain(|_, slot| Arc::strong_count(slot) > 1);
        }
        slots.entry(place).or_default().clone()
    }
}

fn take_up(slot: &mut Option<(Head, Book)>, tail: Tail) -> Result<Head> {
    let (_, mut book) = slot.take().unwrap_or((tail.head, Book::default()));
    book.names = tail
        .names
        .into_iter()
        .map(|(id, name)| (CarerId(id), name))
        .collect();
    book.notes.extend(
        tail.notes
            .into_iter()
            .map(|(seq, note)| (seq.unsigned_abs(), note)),
    );
    for row in &tail.entries {
        book.insert(entry(row)?);
    }
    *slot = Some((tail.head, book));
    Ok(tail.head)
}

impl HeldBook {
    /// The journal.
    ///
    /// # Panics
    /// Never: a held book is only let go by [`HeldBook::commit`], which consumes it.
    #[must_use]
    pub fn book(&self) -> &Book {
        &self.slot.as_ref().expect("the book is held").1
    }

    /// The journal, to take up entries that are about to be committed. Whoever changes it commits it or drops it
    /// with [`HeldBook::discard`].
    ///
    /// # Panics
    /// Never, as [`HeldBook::book`].
    pub fn book_mut(&mut self) -> &mut Book {
        self.is_changed = true;
        &mut self.slot.as_mut().expect("the book is held").1
    }

    /// The latest moment that the store knows of: that of the last entry or of the engine's last step. Stored
    /// marks are those of this moment, so that they can be computed anew from the store alone.
    #[must_use]
    pub fn moment(&self) -> Timestamp {
        let book = self.book();
        let logged = book.entry(book.last_seq()).map(|entry| entry.logged_at);
        let seen = instant(self.head.seen_at_ms);
        crate::house::whole_second(logged.map_or(seen, |logged| logged.max(seen)))
    }

    /// Commits a change whose entries the book has taken up already. When that fails the book is read anew by
    /// whoever opens it next.
    ///
    /// # Errors
    /// Those of [`Store::commit`].
    pub async fn commit(mut self, change: &Change) -> Result<()> {
        match self.store.commit(self.place, self.head.version, change).await {
            Ok(version) => {
                self.is_changed = false;
                let (head, _) = self.slot.as_mut().expect("the book is held");
                head.version = version;
                head.last_seq = change.entries.last().map_or(head.last_seq, |row| row.seq);
                head.next_at_ms = change.next_at_ms.unwrap_or(head.next_at_ms);
                head.seen_at_ms = change.seen_at_ms.unwrap_or(head.seen_at_ms);
                Ok(())
            }
            Err(error) => {
                *self.slot = None;
                Err(error)
            }
        }
    }

    /// Lets go of a book that was changed without a commit.
    pub fn discard(mut self) {
        *self.slot = None;
    }
}

/// Whoever asked may go away in the middle, and with them the future that holds the book: what it has taken up by
/// then was never written, so the book is read anew.
impl Drop for HeldBook {
    fn drop(&mut self) {
        if self.is_changed {
            *self.slot = None;
        }
    }
}

/// When the next entry is logged: now, or right after the last one where the clock has stepped back. So every line
/// is logged at an instant of its own, in order, and what one line wrote can be told from what the next one did.
#[must_use]
pub fn next_logged_at(book: &Book, now: Timestamp) -> Timestamp {
    let last = book.entry(book.last_seq());
    let after = last.and_then(|last| last.logged_at.checked_add(SignedDuration::from_millis(1)).ok());
    after.map_or(now, |after| after.max(now))
}

/// An entry as it is stored.
///
/// # Panics
/// Never: an event has no map whose keys are not texts.
#[must_use]
pub fn row(entry: &Entry) -> EntryRow {
    EntryRow {
        seq: i64::try_from(entry.seq).unwrap_or(i64::MAX),
        at_ms: entry.at.as_millisecond(),
        logged_at_ms: entry.logged_at.as_millisecond(),
        by: entry.by.0,
        said_by: entry.said_by.0,
        body: serde_json::to_string(&entry.event).expect("an event becomes JSON"),
    }
}

/// A stored entry as core reads it.
///
/// # Errors
/// [`StoreError::Other`] when its body is no event of this version.
pub fn entry(row: &EntryRow) -> Result<Entry> {
    let event: Event = serde_json::from_str(&row.body).map_err(|source| StoreError::Other {
        doing: "reading an entry",
        source: Box::new(source),
    })?;
    Ok(Entry {
        seq: row.seq.unsigned_abs(),
        at: instant(row.at_ms),
        logged_at: instant(row.logged_at_ms),
        by: CarerId(row.by),
        said_by: CarerId(row.said_by),
        event,
    })
}

/// The instant of stored milliseconds.
#[must_use]
pub fn instant(ms: i64) -> Timestamp {
    let limit = if ms < 0 { Timestamp::MIN } else { Timestamp::MAX };
    Timestamp::from_millisecond(ms).unwrap_or(limit)
}
