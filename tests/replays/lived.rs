//! A scenario that was lived through in this process, with its journal to look at.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex};

use async_trait::async_trait;
use jiff::Timestamp;
use wrackline::app::App;
use wrackline::chat::blocks::Block;
use wrackline::chat::porch::Spoken;
use wrackline::chat::{Chat, ChatError, Outgoing, plain};
use wrackline::clock::SetClock;
use wrackline::commands::init::make_place;
use wrackline::replay::{Audience, Scenario, Stage, Transcript};
use wrackline::store::Store;
use wrackline::store::sqlite::SqliteStore;
use wrackline_core::care::board;
use wrackline_core::civil::{Zone, plus_days};
use wrackline_core::journal::{Book, Entry, Event, When};
use wrackline_core::place::CarerId;
use wrackline_core::reckoning::{Reckoning, reckon};
use wrackline_core::rota::{HORIZON_DAYS, even_out, share_out, work};
use wrackline_tests::rota::broken;

/// A transcript that counts how often messages were edited.
struct Counted {
    shown: Transcript,
    /// What each message shows.
    messages: Mutex<BTreeMap<String, Vec<Block>>>,
    edits: Mutex<Edits>,
}

/// How often messages were edited.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Edits {
    pub(super) all: usize,
    /// Those after which a message showed what it had shown before.
    pub(super) idle: usize,
    /// How often posts that were out were wanted anew.
    pub(super) wanted: i64,
}

#[async_trait]
impl Chat for Counted {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        let id = self.shown.send(message.clone()).await?;
        let mut messages = self.messages.lock().expect("nobody panicked");
        messages.insert(id.clone(), message.blocks.to_vec());
        Ok(id)
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError> {
        self.shown.edit(id, message.clone()).await?;
        let mut messages = self.messages.lock().expect("nobody panicked");
        let before = messages.insert(id.to_owned(), message.blocks.to_vec());
        let mut edits = self.edits.lock().expect("nobody panicked");
        edits.all += 1;
        edits.idle += usize::from(before.as_deref() == Some(message.blocks));
        Ok(())
    }
}

#[async_trait]
impl Audience for Counted {
    async fn said(&self, spoken: Spoken<'_>) {
        self.shown.said(spoken).await;
    }
}

/// What came of a scenario.
pub(super) struct Lived {
    pub(super) book: Book,
    pub(super) zone: Zone,
    /// What the chat showed.
    pub(super) text: String,
    /// How often what stood there was edited.
    pub(super) edits: Edits,
    /// What is reported at the end.
    pub(super) report: String,
    pub(super) from: Timestamp,
    pub(super) to: Timestamp,
}

impl Lived {
    /// Lives through so many days of one of the program's scenarios.
    pub(super) async fn through(name: &str, days: i64, seed: u64) -> Self {
        let scenario = Scenario::load(name).expect("a scenario");
        let zone = Zone::get(&scenario.zone).expect("a zone");
        let first = scenario.from.expect("a first day");
        let store: Arc<dyn Store> = Arc::new(SqliteStore::open_memory().await.expect("a store"));
        let clock = Arc::new(SetClock::at(Timestamp::UNIX_EPOCH));
        let place = make_place(&*store, &zone, &scenario.keeper, &scenario.name, true);
        let place = place.await.expect("a place");
        let app = App::new(store, clock.clone());
        let shown = Arc::new(Counted {
            shown: Transcript::new(zone.clone()),
            messages: Mutex::default(),
            edits: Mutex::default(),
        });
        let at = (place, zone.clone());
        let stage = Stage::set(
            app.house.clone(),
            clock,
            shown.clone(),
            at,
            &scenario,
            (first, seed),
        );
        let mut stage = stage.await.expect("it is set up");
        let (from, to) = (zone.day_start(first), zone.day_start(plus_days(first, days)));
        stage.play(to, to).await.expect("it is played");
        let report = plain::text(&stage.report(to).await.expect("a report"));
        let posts = app.house.shelf.store().posts(place, 0).await.expect("posts");
        let mut edits = *shown.edits.lock().expect("nobody panicked");
        edits.wanted = posts.iter().map(|post| (post.sent - 1).max(0)).sum();
        let held = app.house.shelf.open(place).await.expect("a book");
        Self {
            book: held.book().clone(),
            zone,
            text: shown.shown.text(),
            edits,
            report,
            from,
            to,
        }
    }

    /// The days, reckoned up; no sharing-out is tried anew.
    pub(super) fn reckoned(&self) -> Reckoning {
        reckon(&self.book, self.from, self.to, 0)
    }

    /// A person's number.
    pub(super) fn carer(&self, name: &str) -> CarerId {
        let found = self.book.names.iter().find(|(_, own)| *own == name);
        *found.unwrap_or_else(|| panic!("nobody is called {name}")).0
    }

    /// What people said, in order, without what was taken back.
    pub(super) fn said(&self) -> impl Iterator<Item = &Entry> {
        let all = self.book.entries();
        all.filter(|entry| entry.by != CarerId(0) && !self.book.is_void(entry.seq))
    }

    /// Every sharing-out that was written down keeps the laws of the rota on the journal as it was, and is what follows
    /// from it: nobody has a turn who is away, gone, or cannot do it. Whom turns were given to, and for when.
    pub(super) fn sharing_out_is_lawful(&self) -> Vec<(CarerId, When)> {
        let (mut past, mut checked, mut given) = (Book::of([]), 0, Vec::new());
        for entry in self.book.entries() {
            if let Event::Shared(changes) = &entry.event {
                let place = past.place_at(entry.at);
                let board = board(&past, &place, entry.at);
                // The house shares out at rounds, where turns may move for evenness too.
                let is_round = entry.said_by == CarerId(0);
                let dealt = if is_round { even_out } else { share_out };
                let shared = dealt(&past, &place, &board, entry.at, HORIZON_DAYS);
                assert_eq!(shared.changes(), *changes, "{}", entry.at);
                assert_eq!(
                    broken(&past, &place, &shared, (entry.at, is_round)),
                    Vec::<String>::new()
                );
                let new = shared.turns.iter().filter(|turn| turn.is_new());
                given.extend(new.filter_map(|turn| Some((turn.carer?, turn.expected.when))));
                checked += 1;
            }
            past.insert(entry.clone());
        }
        assert!(checked >= 10, "turns were shared out {checked} times");
        given
    }

    /// Whoever did something was there and could do it; how many deeds there were.
    pub(super) fn whoever_did_it_could(&self) -> usize {
        let (mut doers, mut deeds) = (BTreeSet::new(), 0);
        for entry in self.said() {
            let (Event::Did(duty, target, _) | Event::Waits(duty, target, _)) = &entry.event else {
                continue;
            };
            let place = self.book.place_at(entry.at);
            let carer = place.carers.get(&entry.by);
            let carer = carer.unwrap_or_else(|| panic!("whoever did it is not there: {entry:?}"));
            let when = When::of(&place, entry.at);
            assert!(carer.shares_on(when.date), "outside their span: {entry:?}");
            assert!(
                carer.is_free(when.round, when.date),
                "not there in that round: {entry:?}"
            );
            let is_away = self.book.is_away(entry.by, &when, entry.at);
            assert!(!is_away, "away: {entry:?}");
            let needs = work(&place, *duty, *target).needs;
            assert!(needs.met_by(&carer.can()), "cannot do it: {entry:?}");
            doers.insert(entry.by);
            deeds += 1;
        }
        assert!(doers.len() >= 2, "{doers:?}");
        deeds
    }
}
