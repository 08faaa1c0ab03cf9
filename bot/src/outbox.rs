//! The dispatcher: it claims posts, renders their newest version, sends them and records what became of them.

mod wanted;

use std::sync::Arc;
use std::time::Duration;

use jiff::Timestamp;
use sha2::{Digest as _, Sha256};
use tokio::task::JoinSet;
use wrackline_core::civil::waking;
use wrackline_core::delivery::{ATTEMPTS_MAX, BATCH_MAX, Failure, LEASE_MS, Next, after_failure};
use wrackline_core::journal::Seq;
use wrackline_core::moment::{Destination, Subject, awake, rests, unnamed};
use wrackline_core::place::Place;

use crate::chat::blocks::Block;
use crate::chat::{Chat, ChatError, Outgoing};
use crate::clock::wait;
use crate::desk::posts::{Rendered, render};
use crate::desk::tell::Tell;
use crate::house::{House, whole_second};
use crate::store::{PlaceId, PostRow, Result, Settled, StoreError};

/// The longest sleep in milliseconds: wall time may be set meanwhile, which no timer notices.
const SLEEP_MAX_MS: i64 = 60_000;

/// How many places are served at once.
const LOADS_MAX: usize = 64;

/// What is to be done with a post now.
enum Ready {
    /// It is to show this.
    Show {
        /// What.
        blocks: Vec<Block>,
        /// The keys of those whom it would call by name, were they awake.
        unnamed: Vec<String>,
    },
    /// There is nothing left to say, and nothing was said yet.
    Nothing,
    /// It is not to be posted before the quiet hours end.
    Quiet {
        /// When they end.
        until: Timestamp,
    },
}

/// Carries posts from the outbox to a chat.
pub struct Dispatcher {
    carrier: Arc<Carrier>,
    /// Names this process in its leases, so that no other mistakes them for its own.
    process: String,
    claims: u64,
}

/// What carries one place's posts; several are at work at once while the process runs.
struct Carrier {
    house: Arc<House>,
    chat: Arc<dyn Chat>,
}

/// Posts of one place under one lease, in the order in which they were wanted.
struct Load {
    posts: Vec<PostRow>,
    lease: String,
    claimed_ms: i64,
}

impl Dispatcher {
    /// A dispatcher; `process` is unlike that of any other that works on the same store.
    #[must_use]
    pub fn new(house: Arc<House>, chat: Arc<dyn Chat>, process: String) -> Self {
        Self {
            carrier: Arc::new(Carrier { house, chat }),
            process,
            claims: 0,
        }
    }

    /// Claims what is to be sent now and sends it, one after the other; returns how many posts were claimed.
    ///
    /// # Errors
    /// Those of the store; claimed posts come free again when their lease ends.
    pub async fn step(&mut self) -> Result<usize> {
        let loads = self.claim(BATCH_MAX).await?;
        let claimed = loads.iter().map(|load| load.posts.len()).sum();
        let mut broken = None;
        for load in &loads {
            match self.carrier.carry(load).await {
                Ok(()) => {}
                // One place that cannot be read holds up no other.
                Err(error @ StoreError::Other { .. }) => broken = Some(error),
                Err(error) => return Err(error),
            }
        }
        broken.map_or(Ok(claimed), Err)
    }

    async fn claim(&mut self, limit: i64) -> Result<Vec<Load>> {
        let now_ms = self.carrier.house.clock.now().as_millisecond();
        self.claims += 1;
        let lease = format!("{}.{}", self.process, self.claims);
        let store = self.carrier.house.shelf.store().clone();
        let claimed = store.claim(now_ms, now_ms + LEASE_MS, &lease, limit).await?;
        let mut loads: Vec<Load> = Vec::new();
        for post in claimed {
            match loads.iter_mut().find(|load| load.posts[0].place == post.place) {
                Some(load) => load.posts.push(post),
                None => loads.push(Load {
                    posts: vec![post],
                    lease: lease.clone(),
                    claimed_ms: now_ms,
                }),
            }
        }
        Ok(loads)
    }

    /// Runs for as long as the process. Places are served beside each other, so that none waits for another's channel.
    pub async fn run(mut self) {
        let house = self.carrier.house.clone();
        let mut at_work = JoinSet::new();
        loop {
            let mut again = false;
            if at_work.len() < LOADS_MAX {
                let room = i64::try_from(LOADS_MAX - at_work.len()).unwrap_or(1);
                match self.claim(room.min(BATCH_MAX)).await {
                    Ok(loads) => {
                        again = !loads.is_empty();
                        for load in loads {
                            let carrier = self.carrier.clone();
                            at_work.spawn(async move { carrier.carry(&load).await });
                        }
                    }
                    Err(error) => {
                        tracing::error!(%error, "the dispatcher could not do its step");
                        wait(Duration::from_secs(5)).await;
                    }
                }
            }
            while let Some(done) = at_work.try_join_next() {
                told(done);
            }
            if again {
                continue;
            }
            let next = house.shelf.store().next_moment().await.ok().flatten();
            let now = house.clock.now().as_millisecond();
            let sleep = next.map_or(SLEEP_MAX_MS, |next| (next - now).clamp(50, SLEEP_MAX_MS));
            let full = at_work.len() >= LOADS_MAX;
            tokio::select! {
                biased;
                Some(done) = at_work.join_next(), if !at_work.is_empty() => told(done),
                () = house.bell.outbox.notified(), if !full => {}
                () = wait(Duration::from_millis(u64::try_from(sleep).unwrap_or(50))), if !full => {}
            }
        }
    }
}

/// What went wrong is logged; the posts come free again when their lease ends.
fn told(done: std::result::Result<Result<()>, tokio::task::JoinError>) {
    match done {
        Ok(Ok(())) => {}
        Ok(Err(error)) => tracing::error!(%error, "a place's posts could not be carried"),
        Err(error) => tracing::error!(%error, "the carrying of posts broke off"),
    }
}

impl Carrier {
    async fn carry(&self, load: &Load) -> Result<()> {
        let store = self.house.shelf.store();
        let mut broken = None;
        for (at, post) in load.posts.iter().enumerate() {
            // A slow chat has used up half of the lease: what is left comes free again, rather than be sent by two.
            let age = self.house.clock.now().as_millisecond() - load.claimed_ms;
            if at > 0 && age > LEASE_MS / 2 {
                break;
            }
            let settled = match self.send(post).await {
                Ok(settled) => settled,
                Err(error @ StoreError::Other { .. }) => {
                    broken = Some(error);
                    continue;
                }
                Err(error) => return Err(error),
            };
            if let Settled::Dead { error } = &settled {
                tracing::error!(place = post.place, post = post.id, %error, "a post was given up");
            }
            if !store.settle(post.place, post.id, &load.lease, &settled).await? {
                tracing::warn!(
                    place = post.place,
                    post = post.id,
                    "another process took this post over"
                );
            }
        }
        broken.map_or(Ok(()), Err)
    }

    async fn send(&self, post: &PostRow) -> Result<Settled> {
        let now = self.house.clock.now();
        if post.sent == 0 && now.as_millisecond() > post.not_after_ms {
            return Ok(Settled::Expired);
        }
        let (blocks, known) = match self.render(post, now).await? {
            Ready::Show { blocks, unnamed } => (blocks, unnamed),
            Ready::Nothing => return Ok(Settled::Expired),
            Ready::Quiet { until } => {
                let error = "held back by the quiet hours".to_owned();
                return Ok(Settled::Retry {
                    next_at_ms: until.as_millisecond(),
                    error,
                });
            }
        };
        let at_ms = now.as_millisecond();
        let shown = shown(post.wanted, &blocks);
        if let Some(message) = post.message.as_ref().filter(|_| is_out(post, &blocks)) {
            return Ok(Settled::Sent {
                message: message.clone(),
                version: post.wanted,
                at_ms,
                shown,
                known,
            });
        }
        let message = Outgoing {
            place: post.place,
            destination: destination(post),
            nonce: post.keys.first().map_or("", String::as_str),
            blocks: &blocks,
            at_ms,
            wanted_ms: post.at_ms,
            resend: post.attempts > 1 || post.wanted > 1,
        };
        Ok(match self.show(post, message.clone()).await {
            Ok(message) => Settled::Sent {
                message,
                version: post.wanted,
                at_ms,
                shown,
                known,
            },
            Err(ChatError::Unreachable { .. }) if post.sent == 0 => {
                self.unreachable(post, &message, now).await?
            }
            Err(error) => failed(post, &error, now),
        })
    }

    /// Sends a message, or edits the one that is out. An earlier attempt may have got through without its reply; the
    /// chat then gives back the message that is there, which shows what was true at that time, and it is edited.
    async fn show(&self, post: &PostRow, message: Outgoing<'_>) -> std::result::Result<String, ChatError> {
        let id = match &post.message {
            Some(id) => id.clone(),
            None => {
                let id = self.chat.send(message.clone()).await?;
                if !message.resend {
                    return Ok(id);
                }
                id
            }
        };
        match self.chat.edit(&id, message.clone()).await {
            Ok(()) => Ok(id),
            Err(ChatError::Gone) => {
                let nonce = format!("{}.anew", message.nonce);
                let anew = Outgoing {
                    nonce: &nonce,
                    resend: post.attempts > 1,
                    ..message
                };
                let id = self.chat.send(anew.clone()).await?;
                self.chat.edit(&id, anew).await.map(|()| id)
            }
            Err(error) => Err(error),
        }
    }

    /// Which of a sighting and those of the same matter, in order of time, is the last with a photo.
    async fn newest_photo(&self, place: PlaceId, seq: Seq, again: &[Seq]) -> Result<Option<Seq>> {
        let later = again.iter().rev().copied().filter(|one| *one != seq);
        for seq in later.chain([seq]) {
            let row = i64::try_from(seq).unwrap_or(i64::MAX);
            if self.house.shelf.store().photo(place, row).await?.is_some() {
                return Ok(Some(seq));
            }
        }
        Ok(None)
    }

    /// The newest version of a post.
    async fn render(&self, post: &PostRow, now: Timestamp) -> Result<Ready> {
        let Ok(subject) = serde_json::from_str::<Subject>(&post.body) else {
            return Ok(Ready::Nothing);
        };
        let held = self.house.shelf.open(post.place).await?;
        let kept = held.book().place_at(whole_second(now));
        // What the chat did not take before the quiet hours began waits for their end.
        let until = quiet_until(post, &kept, now);
        if post.sent == 0 && !subject.is_danger() && until > now {
            return Ok(Ready::Quiet { until });
        }
        // Another process's clock may be ahead, or this one's have stepped back: what was logged is shown all the same.
        let now = whole_second(now).max(held.moment());
        let place = held.book().place_at(now);
        let tell = Tell::to_all(&self.house.words, held.book(), &place, now);
        let day = place.zone.date(crate::shelf::instant(post.at_ms));
        let Rendered { mut blocks, open } = render(&tell, &subject, post.id, day);
        if let Subject::Seen(seq) = subject {
            let again = held.book().sightings_of(seq, now);
            if let Some(seq) = self.newest_photo(post.place, seq, &again).await? {
                blocks.insert(blocks.len().min(1), Block::Photo { seq });
            }
        }
        let has_turns = !subject.turns().is_empty() || !subject.looks().is_empty();
        let has_something = post.sent > 0 || open || !has_turns;
        let unnamed = match post.sent {
            0 => unnamed(held.book(), &place, subject.turns(), &post.keys, now),
            _ => Vec::new(),
        };
        Ok(if has_something {
            Ready::Show { blocks, unnamed }
        } else {
            Ready::Nothing
        })
    }
}

/// Whether the message that is out shows this already. No attempt may have been begun since that one was settled: its
/// edit may have got through without its reply, and the message show something else.
fn is_out(post: &PostRow, blocks: &[Block]) -> bool {
    let is_untried = post.wanted == post.sent + 1 && post.attempts <= 1;
    is_untried && post.shown.as_deref() == Some(&shown(post.sent, blocks))
}

/// What a version of a post shows, hashed behind its number: an older program settles a version without a word of it.
fn shown(version: i64, blocks: &[Block]) -> String {
    // Blocks are plain data: they can always be written.
    let digest = Sha256::digest(serde_json::to_vec(blocks).unwrap_or_default());
    let hash: String = digest[..16].iter().map(|byte| format!("{byte:02x}")).collect();
    format!("{version}.{hash}")
}

/// Until when a post waits for quiet hours: those of the place, and of the one whom alone it goes to.
fn quiet_until(post: &PostRow, place: &Place, now: Timestamp) -> Timestamp {
    let of_all = waking(&place.zone, place.quiet, now);
    match destination(post) {
        Destination::Chat => of_all,
        Destination::Carer(carer) => {
            let until = awake(place, carer, now);
            // Whoever is never awake is not waited for.
            if rests(place, carer, until) { of_all } else { until }
        }
    }
}

/// Where a post goes; one of an older version went to the chat of all.
fn destination(post: &PostRow) -> Destination {
    post.destination.parse().unwrap_or_default()
}

fn failed(post: &PostRow, error: &ChatError, now: Timestamp) -> Settled {
    let failure = match error {
        ChatError::Passing { wait_ms, .. } => Failure::Passing { wait_ms: *wait_ms },
        ChatError::Gone | ChatError::Unreachable { .. } | ChatError::Lasting { .. } => Failure::Lasting,
    };
    let seed = post
        .id
        .unsigned_abs()
        .wrapping_mul(1_000)
        .wrapping_add(post.attempts.unsigned_abs());
    // What nobody has seen yet is tried for as long as it is worth sending: a danger outlives a long outage.
    let unseen = post.sent == 0 && now.as_millisecond() < post.not_after_ms;
    let attempts = if unseen {
        post.attempts.min(ATTEMPTS_MAX - 1)
    } else {
        post.attempts
    };
    match after_failure(failure, attempts, now, seed) {
        Next::Retry(at) => Settled::Retry {
            next_at_ms: at.as_millisecond(),
            error: error.to_string(),
        },
        Next::Dead => Settled::Dead {
            error: error.to_string(),
        },
    }
}
