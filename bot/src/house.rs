//! Where everything meets: a line or a press comes in, is heard at the desk, committed and answered.

mod calendars;
mod linking;
mod members;
mod sheets;
mod written;

use std::sync::{Arc, OnceLock};

use jiff::Timestamp;
use tokio::sync::Notify;
use wrackline_core::care::board;
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::Seq;
use wrackline_core::moment::{Subject, What, items};
use wrackline_core::place::{CarerId, Role};

use crate::chat::blocks::{Answer, Block};
use crate::clock::Clock;
use crate::desk::tell::Tell;
use crate::desk::{Desk, Outcome, Reply, presses};
use crate::engine::{self, touched};
use crate::lines;
use crate::msg;
use crate::shelf::{HeldBook, Shelf};
use crate::store::{Change, InboundRow, PhotoRow, PlaceId, PostRow, PostState, StoreError};
use crate::words::{Message, Words};

pub use self::calendars::CALENDAR_PATH;
pub use self::linking::{FIRST_KEEPER, LinkRequest, founding};
pub use self::sheets::{SheetMade, SheetPage};
use self::written::{change_hands, share_first, take_up};

/// What came in from a person.
#[derive(Clone, Debug)]
pub struct Said {
    /// The place.
    pub place: PlaceId,
    /// Who said it.
    pub carer: u32,
    /// The transport's id of it, unique in the place; a repeat gets the first answer.
    pub id: String,
    /// What it is.
    pub input: Input,
    /// A photo that came with it; its `seq` is filled in here.
    pub photo: Option<PhotoRow>,
}

/// A typed line or a pressed answer.
#[derive(Clone, Debug)]
pub enum Input {
    /// A line as typed.
    Line(String),
    /// A press, with the text that it asked for.
    Press {
        /// The code of the press.
        code: String,
        /// The text, where the press asked for one.
        text: Option<String>,
    },
}

/// One completion of a line that is being typed.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Completion {
    /// The whole line with this completion taken.
    pub line: String,
    /// What it stands for.
    pub hint: String,
}

/// Who a signed-in person is.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Me {
    /// Their name.
    pub name: String,
    /// Their role, as a word.
    pub role: String,
    /// What the place is called.
    pub place: String,
    /// The place's IANA zone.
    pub zone: String,
}

/// How often a line is heard anew when other writers were first.
const TRIES_MAX: u32 = 8;

/// How far back posts that could not be delivered are told of, in minutes: a week.
const UNDELIVERED_BACK_MIN: i64 = 7 * 24 * 60;

/// The longest line that is read, in characters.
pub const LINE_CHARS_MAX: usize = 2_000;

/// All that answers people.
pub struct House {
    /// The books in hand.
    pub shelf: Shelf,
    /// The words.
    pub words: Words,
    /// Wall time.
    pub clock: Arc<dyn Clock>,
    /// Rung after every commit: the engine and the dispatcher look again.
    pub bell: Bell,
    /// Where the porch is reached, such as `http://127.0.0.1:8765`; as long as nobody set it, at the usual address.
    pub porch: OnceLock<String>,
}

/// Wakes those who sleep until something changes.
#[derive(Debug, Default)]
pub struct Bell {
    /// The engine.
    pub engine: Notify,
    /// The dispatcher.
    pub outbox: Notify,
}

impl Bell {
    /// Wakes both.
    pub fn ring(&self) {
        self.engine.notify_one();
        self.outbox.notify_one();
    }
}

impl House {
    /// A house over a shelf.
    #[must_use]
    pub fn new(shelf: Shelf, words: Words, clock: Arc<dyn Clock>) -> Self {
        Self {
            shelf,
            words,
            clock,
            bell: Bell::default(),
            porch: OnceLock::new(),
        }
    }

    /// Hears a line or a press, writes what comes of it, and answers. Once the answer is here the entries are
    /// durable.
    pub async fn hear(&self, said: Said) -> Answer {
        for _ in 0..TRIES_MAX {
            match self.hear_once(&said).await {
                Ok(answer) => return answer,
                Err(StoreError::Conflict | StoreError::Repeat) => {}
                Err(error) => {
                    tracing::error!(place = said.place, %error, "a line could not be saved");
                    return self.not_saved(&error);
                }
            }
        }
        self.not_saved(&StoreError::Locked)
    }

    async fn hear_once(&self, said: &Said) -> Result<Answer, StoreError> {
        let held = self.shelf.open(said.place).await?;
        // Asked while the book is held: the same line may be on its way twice at the same time.
        if let Some(first) = self.first_answer(said.place, &said.id).await? {
            return Ok(first);
        }
        let moment = self.clock.now();
        let now = whole_second(moment);
        let me = CarerId(said.carer);
        let place = members::place_of(held.book(), me, now);
        let tell = Tell {
            words: &self.words,
            book: held.book(),
            place: &place,
            now,
            zone: members::own_zone(&place, me),
        };
        let Some(role) = place.carers.get(&me).map(|carer| carer.role) else {
            return Ok(self.refusal(&members::outside(&tell, me)));
        };
        let desk = Desk { tell, me, role };
        let outcome = match &said.input {
            Input::Line(line) if line.chars().count() > LINE_CHARS_MAX => {
                Outcome::answer(desk.refuse(&msg!("refuse-long-line", max = LINE_CHARS_MAX)))
            }
            Input::Line(line) if said.photo.is_some() && !takes_photo(line) => {
                Outcome::answer(desk.refuse(&msg!("refuse-photo")))
            }
            Input::Press { code, text } if is_call_press(code) => {
                self.hear_call(said.place, &desk, code, text.as_deref()).await?
            }
            input => desk.hear(input),
        };
        if outcome.is_empty() {
            let mut answer = self.told(said.place, &desk, outcome.reply, &[]).await?;
            if is_due(&said.input) {
                answer.blocks.extend(self.undelivered(said.place, &desk).await?);
                answer.blocks.extend(self.trouble(said.place).await?);
            }
            return Ok(answer);
        }
        if let Some(taken) = self.taken(said.place, &desk, &outcome.accounts).await? {
            return Ok(desk.refuse(&taken));
        }
        self.write(held, said, me, role, outcome, moment).await
    }

    /// The answer of a reply; the numbers are those of the entries that were written.
    async fn told(
        &self,
        place: PlaceId,
        desk: &Desk<'_>,
        reply: Reply,
        numbers: &[u64],
    ) -> Result<Answer, StoreError> {
        Ok(match reply {
            Reply::Ready(answer) => answer,
            Reply::After(tell) => tell(desk, numbers),
            Reply::Code(tell) => {
                let code = self.new_code(place, desk.me).await?;
                tell(desk, &code)
            }
            Reply::Calendar(deed) => self.calendar_deed(place, desk, deed).await?,
        })
    }

    /// What was answered when this came in for the first time.
    async fn first_answer(&self, place: PlaceId, id: &str) -> Result<Option<Answer>, StoreError> {
        let first = self.shelf.store().inbound(place, id).await?;
        let read = |text: String| {
            serde_json::from_str(&text).map_err(|source| StoreError::Other {
                doing: "reading an answer",
                source: Box::new(source),
            })
        };
        first.map(read).transpose()
    }

    /// What could not be delivered lately: whoever asks what is due is told, since no post will.
    async fn undelivered(&self, place: PlaceId, desk: &Desk<'_>) -> Result<Option<Block>, StoreError> {
        let since = plus_minutes(desk.now(), -UNDELIVERED_BACK_MIN);
        let posts = self.shelf.store().posts(place, since.as_millisecond()).await?;
        let dead: Vec<String> = posts
            .iter()
            .filter(|post| is_undelivered(post))
            .map(|post| desk.tell.near(crate::shelf::instant(post.at_ms)))
            .collect();
        let text = || {
            desk.say(&msg!(
                "undelivered",
                count = dead.len(),
                times = desk.tell.list(&dead)
            ))
        };
        Ok((!dead.is_empty()).then(|| Block::Caution { text: text() }))
    }

    /// That the place's channel takes no posts, for as long as it does not.
    async fn trouble(&self, place: PlaceId) -> Result<Option<Block>, StoreError> {
        let kept = self.shelf.store().kept(&trouble_name(place)).await?;
        let text = || self.words.say(&Message::new("due-trouble"));
        Ok(kept
            .filter(|kept| !kept.is_empty())
            .map(|_| Block::Caution { text: text() }))
    }

    /// `All done` and `All but…` are about a post: what it called is in the store.
    async fn hear_call(
        &self,
        place: PlaceId,
        desk: &Desk<'_>,
        code: &str,
        text: Option<&str>,
    ) -> Result<Outcome, StoreError> {
        let (verb, id) = code.split_once('.').unwrap_or((code, ""));
        let post = match id.parse() {
            Ok(id) => self.shelf.store().post(place, id).await?,
            Err(_) => None,
        };
        let subject = post.and_then(|post| serde_json::from_str(&post.body).ok());
        let Some(subject) = subject else {
            return Ok(Outcome::answer(desk.refuse(&msg!("refuse-press"))));
        };
        let but = (verb == "but").then(|| text.unwrap_or(""));
        let heard = presses::hear_call(desk, &subject, but);
        Ok(heard.unwrap_or_else(|refused| Outcome::answer(desk.refuse(&refused))))
    }

    /// Takes the entries up, tells the answer, and commits both with all that follows from them.
    async fn write(
        &self,
        mut held: HeldBook,
        said: &Said,
        me: CarerId,
        role: Role,
        outcome: Outcome,
        moment: Timestamp,
    ) -> Result<Answer, StoreError> {
        let now = whole_second(moment);
        let mut change = Change::default();
        let shared = share_first(&mut held, &outcome, now, &mut change);
        let numbers = take_up(&mut held, &outcome, me, moment, &mut change);
        let place = members::place_of(held.book(), me, now);
        let mut touched: Vec<Seq> = shared.into_iter().chain(numbers.iter().copied()).collect();
        if change_hands(held.book(), &numbers, now) {
            let board = board(held.book(), &place, now);
            engine::share_out(&mut held, &place, &board, now, me, &mut change);
            touched.extend(
                numbers
                    .last()
                    .map(|last| last + 1..=held.book().last_seq())
                    .into_iter()
                    .flatten(),
            );
        }
        let tell = Tell {
            words: &self.words,
            book: held.book(),
            place: &place,
            now,
            zone: members::own_zone(&place, me),
        };
        let desk = Desk { tell, me, role };
        let mut answer = self.told(said.place, &desk, outcome.reply, &numbers).await?;
        if held.head.seen_at_ms == 0 {
            // A place begins with its first line: no round before it was missed.
            change.seen_at_ms = Some(now.as_millisecond());
            held.head.seen_at_ms = now.as_millisecond();
        }
        if let (Some(photo), Some(number)) = (&said.photo, numbers.first()) {
            change.photos.push(PhotoRow {
                seq: i64::try_from(*number).unwrap_or(i64::MAX),
                ..photo.clone()
            });
            let before_answers = answer.blocks.len().saturating_sub(1);
            answer
                .blocks
                .insert(before_answers, Block::Photo { seq: *number });
        }
        let text = serde_json::to_string(&answer).expect("an answer becomes JSON");
        change.inbound = Some(InboundRow {
            id: said.id.clone(),
            at_ms: moment.as_millisecond(),
            answer: text,
        });
        let dangers = |what: &What| {
            matches!(
                what,
                What::Seen(_) | What::Spell(..) | What::SeenSettled(_) | What::SpellSettled(..)
            )
        };
        let store = self.shelf.store().clone();
        let raised = self
            .follow(&store, said.place, &held, &touched, now, dangers, &mut change)
            .await;
        if let Err(error) = raised {
            held.discard();
            return Err(error);
        }
        held.commit(&change).await?;
        self.bell.ring();
        Ok(answer)
    }

    /// What follows from new entries: dangers are posted and calls are rendered anew, in the same transaction.
    #[expect(
        clippy::too_many_arguments,
        reason = "the parts of one transaction in the making"
    )]
    async fn follow(
        &self,
        store: &Arc<dyn crate::store::Store>,
        place_id: PlaceId,
        held: &HeldBook,
        numbers: &[u64],
        now: Timestamp,
        wanted: impl Fn(&What) -> bool,
        change: &mut Change,
    ) -> Result<(), StoreError> {
        let book = held.book();
        let place = book.place_at(now);
        let board = board(book, &place, now);
        let seen = crate::shelf::instant(held.head.seen_at_ms);
        let (dangers, rest): (Vec<_>, Vec<_>) = items(book, &place, &board, seen, now)
            .into_iter()
            .partition(|item| wanted(&item.what));
        let outstanding = engine::any_new(store, place_id, &rest).await?;
        engine::post_items(store, place_id, book, &place, &board, dangers, now, change).await?;
        change.raise = touched::posts(store, place_id, book, numbers, now).await?;
        change.standings = Some(engine::stored_standings(held));
        // What is outstanding stays so until the engine has dealt with it, whoever writes meanwhile.
        let due_before = held.head.next_at_ms.filter(|at| *at <= now.as_millisecond());
        let next = engine::next_ms(book, &place, &board, seen.max(now));
        let next = if outstanding { now.as_millisecond() } else { next };
        change.next_at_ms = Some(Some(due_before.unwrap_or(next)));
        Ok(())
    }

    /// A refusal as an answer for the eyes of the one who asked.
    #[must_use]
    pub fn refusal(&self, why: &Message) -> Answer {
        Answer {
            ok: false,
            blocks: vec![Block::Title {
                text: self.words.say(why),
            }],
            private: true,
            turns: Vec::new(),
        }
    }

    /// The question whose answer a press needs; `None` for a press that says all by itself.
    #[must_use]
    pub fn question(&self, code: &str) -> Option<String> {
        presses::question(code).map(|id| self.words.say(&Message::new(id)))
    }

    /// That a line was not saved, and why.
    #[must_use]
    pub fn not_saved(&self, error: &StoreError) -> Answer {
        let why = match error {
            StoreError::Full => "not-saved-full",
            StoreError::Locked | StoreError::Conflict => "not-saved-locked",
            _ => "not-saved",
        };
        self.refusal(&Message::new(why))
    }
}

/// The id of a role's word.
#[must_use]
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Keeper => "role-keeper",
        Role::Regular => "role-regular",
        Role::Sitter => "role-sitter",
        Role::Helper => "role-helper",
    }
}

/// Under which name it is kept what is the matter with a place's channel.
#[must_use]
pub fn trouble_name(place: PlaceId) -> String {
    format!("trouble:{place}")
}

/// Whether a post was given up, or a danger was never seen for as long as it was worth telling. A call that expired
/// is told by the next one.
fn is_undelivered(post: &PostRow) -> bool {
    let never_seen = || post.state == PostState::Expired && post.sent == 0 && post.error.is_some();
    let is_danger = || serde_json::from_str::<Subject>(&post.body).is_ok_and(|subject| subject.is_danger());
    post.state == PostState::Dead || (never_seen() && is_danger())
}

fn is_due(input: &Input) -> bool {
    matches!(input, Input::Line(line) if lines::line_name(line) == Some("due"))
}

fn is_call_press(code: &str) -> bool {
    code.starts_with("all.") || code.starts_with("but.")
}

fn takes_photo(line: &str) -> bool {
    matches!(lines::line_name(line), Some("did" | "saw"))
}

/// An instant without its part of a second.
#[must_use]
pub fn whole_second(instant: Timestamp) -> Timestamp {
    Timestamp::from_second(instant.as_second()).unwrap_or(instant)
}
