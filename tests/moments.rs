//! Which posts a moment calls for: each once, none in the quiet hours but danger, and no burst after a stop.

mod again;
mod alarms;
mod alone;
mod calls;
mod caught_up;
mod handovers;
mod hush;
mod late;
mod looks;
mod names;
mod stepping;
mod unnamed;
mod woken;

use std::collections::BTreeSet;

use jiff::Timestamp;
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::is_quiet;
use wrackline_core::journal::{Book, Event, PlaceChange};
use wrackline_core::moment::{Post, Step, Subject, items, new_items, next_moment, plan, seen_after, unnamed};
use wrackline_core::place::QuietHours;
use wrackline_tests::journal::{NORTH_SALT, Script};

/// Someone who looks after a place's posts: knows which keys are done with, and when to look again.
struct Watch {
    book: Book,
    known: BTreeSet<String>,
    seen: Timestamp,
    posts: Vec<(Timestamp, Post)>,
}

impl Watch {
    fn new(script: &Script, start: Timestamp) -> Self {
        Self {
            book: script.book(),
            known: BTreeSet::new(),
            seen: start,
            posts: Vec::new(),
        }
    }

    /// Deals with a moment, and says when the next one is.
    fn deal(&mut self, now: Timestamp) -> Timestamp {
        let place = self.book.place_at(now);
        let board = board(&self.book, &place, now);
        let wanted = items(&self.book, &place, &board, self.seen, now);
        let wanted = new_items(wanted, |key| self.known.contains(key));
        let plan = plan(&self.book, &place, &board, &wanted, now);
        for key in plan.posts.iter().flat_map(|post| &post.keys).chain(&plan.covered) {
            assert!(self.known.insert(key.clone()), "{key} twice at {now}");
        }
        for post in plan.posts {
            let quiet = is_quiet(&place.zone, place.quiet, now);
            assert!(
                !quiet || post.subject.is_danger(),
                "in the quiet hours at {now}: {post:?}"
            );
            assert!(post.not_after > now, "stale at {now}: {post:?}");
            self.posts.push((now, post));
        }
        self.seen = seen_after(&place, self.seen, now);
        let next = next_moment(&self.book, &place, &board, now);
        assert!(next > now, "{next} does not come after {now}");
        next
    }

    /// The chat took the last post no earlier than at this moment.
    fn sent_at(&mut self, now: Timestamp) {
        let place = self.book.place_at(now);
        let (_, post) = self.posts.last().expect("a post");
        let unnamed = unnamed(&self.book, &place, post.subject.turns(), &post.keys, now);
        self.known.extend(unnamed);
    }

    /// Knows no more than an older house did, which kept no keys of people.
    fn forget_people(&mut self) {
        let is_of_person = |key: &String| {
            let last = key.rsplit_once('.').map_or("", |(_, last)| last);
            last.starts_with(['p', 's', 'u', 'a']) && last[1..].parse::<u32>().is_ok()
        };
        self.known.retain(|key| !is_of_person(key));
    }

    /// Deals with every moment after one and up to another: what is written in the journal then, and what the
    /// last moment said.
    fn run(&mut self, from: Timestamp, until: Timestamp) {
        let written: Vec<Timestamp> = self.book.entries().map(|entry| entry.at).collect();
        let mut now = from;
        while now <= until {
            let next = self.deal(now);
            now = written
                .iter()
                .copied()
                .filter(|at| *at > now)
                .fold(next, Timestamp::min);
        }
    }
}

/// A place with the rounds of the text and quiet hours from 22:00 to 07:00 if they are wanted.
fn script(rounds: &str, is_quiet: bool, lines: &str) -> Script {
    let mut script = Script::place("UTC", rounds);
    if is_quiet {
        script.add(
            "2000-01-01 00:00",
            Event::Place(PlaceChange::Quiet(Some(night()))),
        );
    }
    script.tell(lines);
    script
}

fn night() -> QuietHours {
    QuietHours {
        from: jiff::civil::time(22, 0, 0, 0),
        to: jiff::civil::time(7, 0, 0, 0),
    }
}

/// The posts from one moment of 2026 to another.
fn posts(script: &Script, from: &str, until: &str) -> Vec<(Timestamp, Post)> {
    let [from, until] = [from, until].map(|local| script.at(&format!("2026-{local}")));
    let mut watch = Watch::new(script, from);
    watch.run(from, until);
    watch.posts
}

/// A post's kind, and how far the change of the salt pool has been passed on in it.
fn told(post: &Post) -> String {
    let kind = match &post.subject {
        Subject::Round { held: None, .. } => "round",
        Subject::Round { .. } => "round, held back",
        Subject::Late { .. } => "late",
        Subject::Seen(_) => "seen",
        Subject::Spell { high: true, .. } => "spell, high",
        Subject::Spell { .. } => "spell, low",
        Subject::SeenSettled(_) => "seen settled",
        Subject::SpellSettled { .. } => "spell settled",
        Subject::Week { .. } => "week",
        Subject::Handover { begins: true, .. } => "span begins",
        Subject::Handover { .. } => "span ended",
        Subject::Offered(_) => "offered",
        Subject::Moved(_) => "moved",
        Subject::Uncovered(_) => "uncovered",
    };
    let is_change = |turn: &&wrackline_core::moment::Called| {
        turn.turn.duty == Duty::Change && turn.turn.target == NORTH_SALT
    };
    match post
        .subject
        .turns()
        .iter()
        .find(is_change)
        .map(|called| called.step)
    {
        None => kind.to_owned(),
        Some(None) => format!("{kind}: change"),
        Some(Some(Step::Carer)) => format!("{kind}: change, carer"),
        Some(Some(Step::StandIn)) => format!("{kind}: change, stand-in"),
        Some(Some(Step::Keeper)) => format!("{kind}: change, keeper"),
        Some(Some(Step::Hazard)) => format!("{kind}: change, hazard"),
    }
}

/// The posts that say one of these words, each as its local time and what it tells.
fn tale(script: &Script, from: &str, until: &str, word: &str) -> Vec<String> {
    let all = posts(script, from, until)
        .into_iter()
        .map(|(at, post)| (at, told(&post)));
    all.filter(|(_, told)| told.contains(word))
        .map(|(at, told)| format!("{} {told}", script.local(at)))
        .collect()
}
