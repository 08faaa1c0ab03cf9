//! The desk: from a line and a place to an answer and the entries to be written. Nothing here reads a clock, a
//! store or a socket.
//!
//! One file per family of lines; [`posts`] renders what the bot says of itself, [`tell`] knows how things are told.

mod alarms;
mod alone;
pub mod batches;
pub mod calendars;
pub mod care;
pub mod cycle;
mod doses;
pub mod due;
pub mod emergency;
pub mod feed;
mod fit;
mod gone;
mod handover;
pub mod how;
pub mod json;
pub mod looks;
mod nods;
mod plumb;
pub mod posts;
pub mod presses;
pub mod put_in;
pub mod readings;
mod rehearse;
pub mod setup;
pub mod sheet;
pub mod sightings;
pub mod tell;
pub mod turns;
pub mod undo;
pub mod water;
pub mod week;
pub mod why;

use jiff::Timestamp;
use wrackline_core::care::{Standing, board};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Book, Event};
use wrackline_core::place::{CarerId, Place, Role};

use crate::chat::blocks::{Answer, Block, Item, Press};
use crate::house::Input;
use crate::lines::ask::{Ask, BatchAsk};
use crate::lines::table::Who;
use crate::lines::{self, Context};
use crate::msg;
use crate::words::Message;
use tell::Tell;

/// An entry to be written, before it has a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// When it counts from.
    pub at: Timestamp,
    /// Who did it.
    pub by: CarerId,
    /// What it says.
    pub event: Event,
    /// A note beside it.
    pub note: Option<String>,
}

/// What the desk makes of a line: what to write, and how to answer once it stands in the journal.
///
/// The answer is told after the entries were taken up, since it speaks of what comes next.
pub struct Outcome {
    /// The entries, in order; none for a question or a refusal.
    pub drafts: Vec<Draft>,
    /// Names of carers to be kept beside the journal.
    pub names: Vec<(CarerId, String)>,
    /// Accounts on the chat platform, by carer.
    pub accounts: Vec<(CarerId, i64)>,
    /// The server of the chat platform, and the channel in it, where the place is at home from now on.
    pub server: Option<(i64, i64)>,
    /// The answer.
    pub reply: Reply,
}

/// How an [`Outcome`] is answered.
pub enum Reply {
    /// This is the answer, whatever is written.
    Ready(Answer),
    /// It is told from the journal with the entries in it: their numbers are passed on.
    After(AfterReply),
    /// It tells a fresh one-time code, which the house makes and keeps.
    Code(CodeReply),
    /// It tells what became of the speaker's calendar address, which the house makes and ends.
    Calendar(calendars::Deed),
}

/// Tells an answer with a one-time code in it.
pub type CodeReply = Box<dyn Fn(&Desk<'_>, &str) -> Answer + Send>;

/// Tells an answer from the journal with the new entries in it; the numbers are those of the entries, in order.
pub type AfterReply = Box<dyn Fn(&Desk<'_>, &[u64]) -> Answer + Send>;

impl Outcome {
    /// An answer with nothing to write.
    #[must_use]
    pub fn answer(answer: Answer) -> Self {
        Self::of(Vec::new(), Reply::Ready(answer))
    }

    /// Entries, and an answer told from the journal with them in it.
    #[must_use]
    pub fn write(drafts: Vec<Draft>, reply: impl Fn(&Desk<'_>, &[u64]) -> Answer + Send + 'static) -> Self {
        Self::of(drafts, Reply::After(Box::new(reply)))
    }

    /// An answer that tells a one-time code, with nothing to write beside it.
    #[must_use]
    pub fn code(reply: impl Fn(&Desk<'_>, &str) -> Answer + Send + 'static) -> Self {
        Self::of(Vec::new(), Reply::Code(Box::new(reply)))
    }

    /// What is to be done about the speaker's calendar address; nothing is written to the journal.
    #[must_use]
    pub fn calendar(deed: calendars::Deed) -> Self {
        Self::of(Vec::new(), Reply::Calendar(deed))
    }

    fn of(drafts: Vec<Draft>, reply: Reply) -> Self {
        Self {
            drafts,
            names: Vec::new(),
            accounts: Vec::new(),
            server: None,
            reply,
        }
    }

    /// Whether nothing is to be written.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.drafts.is_empty() && self.names.is_empty() && self.accounts.is_empty() && self.server.is_none()
    }
}

/// Whether a line asks, and never writes.
fn only_asks(name: &str) -> bool {
    matches!(
        name,
        "due"
            | "why"
            | "how"
            | "mix"
            | "dilute"
            | "week"
            | "turns"
            | "help"
            | "fit"
            | "plumb"
            | "rehearse"
            | "sheet"
            | "alone"
            | "emergency"
    )
}

/// How many days back anyone may log; further back it is the keeper's alone.
const BACK_DATED_DAYS: i64 = 90;

/// How many years back even a keeper may log: further back it is a slip.
const LOG_BACK_YEARS: i64 = 5;

/// A refusal: one sentence, and nothing was changed.
pub type Refused = Message;

/// The desk at one moment, with one person before it.
#[derive(Clone, Copy)]
pub struct Desk<'a> {
    /// How things are told.
    pub tell: Tell<'a>,
    /// Who is speaking.
    pub me: CarerId,
    /// Their role.
    pub role: Role,
}

impl<'a> Desk<'a> {
    /// The journal.
    #[must_use]
    pub fn book(&self) -> &'a Book {
        self.tell.book
    }

    /// The place now.
    #[must_use]
    pub fn place(&self) -> &'a Place {
        self.tell.place
    }

    /// Now, to the second: entries count in seconds.
    #[must_use]
    pub fn now(&self) -> Timestamp {
        self.tell.now
    }

    /// All marks of the place now.
    #[must_use]
    pub fn board(&self) -> Vec<Standing> {
        board(self.book(), self.place(), self.now())
    }

    /// Says a message.
    #[must_use]
    pub fn say(&self, message: &Message) -> String {
        self.tell.say(message)
    }

    /// An answer of one title.
    #[must_use]
    pub fn done(&self, title: &Message) -> Answer {
        self.done_text(self.say(title))
    }

    /// An answer of one title that is told already.
    #[must_use]
    pub fn done_text(&self, text: String) -> Answer {
        Answer {
            ok: true,
            blocks: vec![Block::Title { text }],
            private: false,
            turns: Vec::new(),
        }
    }

    /// A refusal as an answer.
    #[must_use]
    pub fn refuse(&self, refused: &Refused) -> Answer {
        let text = self.say(refused);
        Answer {
            ok: false,
            blocks: vec![Block::Title { text }],
            private: true,
            turns: Vec::new(),
        }
    }

    /// An entry by the speaker, now.
    #[must_use]
    pub fn draft(&self, event: Event) -> Draft {
        Draft {
            at: self.now(),
            by: self.me,
            event,
            note: None,
        }
    }

    /// Something to press.
    #[must_use]
    pub fn press(&self, label: &Message, code: String) -> Press {
        Press {
            label: self.say(label),
            code,
            asks: None,
            typed: None,
        }
    }

    /// A line of a list.
    #[must_use]
    pub fn item(&self, text: String) -> Item {
        Item {
            text,
            mark: None,
            settled: false,
            answers: Vec::new(),
        }
    }

    /// What comes of a line or a press.
    #[must_use]
    pub fn hear(&self, input: &Input) -> Outcome {
        let heard = match input {
            Input::Line(line) => self.hear_line(line),
            Input::Press { code, text } => presses::hear(self, code, text.as_deref()),
        };
        heard.unwrap_or_else(|refused| Outcome::answer(self.refuse(&refused)))
    }

    fn hear_line(&self, line: &str) -> Result<Outcome, Refused> {
        let context = Context {
            book: self.book(),
            place: self.place(),
            me: self.me,
            now: self.now(),
        };
        self.may_say(line)?;
        let ask = lines::parse(line, &context).map_err(|refusal| {
            // Whoever meant to write something is told that nothing was.
            let writes = !lines::line_name(line).is_none_or(only_asks);
            // A refusal that ends in how the line goes has no full stop of its own.
            let why = self.say(&refusal.0);
            let stop = if why.ends_with(['.', '?']) { "" } else { "." };
            let id = if writes { "refuse-line" } else { "refuse-question" };
            msg!(id, why = format!("{why}{stop}"))
        })?;
        self.hear_ask(ask)
    }

    /// Who may say what stands in the table of lines; it is enforced here alone.
    fn may_say(&self, line: &str) -> Result<(), Refused> {
        // Whoever stands in the water asks for a card, whatever their role.
        if self.role == Role::Helper && lines::line_name(line) != Some("emergency") {
            return Err(msg!("refuse-helper"));
        }
        match lines::who(line) {
            Some(Who::Keeper) if self.role != Role::Keeper => {
                let keepers = self.keepers();
                let question = lines::line_name(line).filter(|name| only_asks(name));
                Err(question.map_or_else(
                    || msg!("refuse-keeper-only", keepers = keepers.as_str()),
                    |line| msg!("refuse-keeper-question", line = line, keepers = keepers.as_str()),
                ))
            }
            _ => Ok(()),
        }
    }

    /// A log of long ago moves what others rely on: it is the keeper's alone.
    fn may_go_back(&self, ask: &Ask) -> Result<(), Refused> {
        let at = match ask {
            Ask::Did(did) => did.at,
            Ask::Batch(BatchAsk::Add { from, .. }) => *from,
            Ask::Read { at, .. } | Ask::PutIn { at, .. } | Ask::Saw { at, .. } => *at,
            _ => None,
        };
        if at.is_some_and(|at| at < plus_minutes(self.now(), -LOG_BACK_YEARS * 366 * 24 * 60)) {
            return Err(msg!("refuse-too-old", years = LOG_BACK_YEARS));
        }
        let too_far = at.is_some_and(|at| at < plus_minutes(self.now(), -BACK_DATED_DAYS * 24 * 60));
        if !too_far || self.role == Role::Keeper {
            return Ok(());
        }
        Err(msg!(
            "refuse-too-far-back",
            days = BACK_DATED_DAYS,
            keepers = self.keepers()
        ))
    }

    /// The keepers' names.
    #[must_use]
    pub fn keepers(&self) -> String {
        let keepers: Vec<String> = self.place().keepers().map(|id| self.tell.carer(id)).collect();
        self.tell.list(&keepers)
    }

    /// What comes of an ask that this person may make.
    ///
    /// # Errors
    /// The refusal, as one sentence.
    pub fn hear_ask(&self, ask: Ask) -> Result<Outcome, Refused> {
        self.may_go_back(&ask)?;
        gone::was_there(self, &ask)?;
        match ask {
            Ask::Due { everyone } => Ok(Outcome::answer(due::due(self, everyone))),
            Ask::DidBare => Ok(Outcome::answer(due::did_bare(self))),
            Ask::Did(did) => care::did(self, did),
            Ask::Read {
                spot,
                readings,
                at,
                by,
                note,
            } => readings::read(self, &spot, &readings, at, by, note),
            Ask::PutIn {
                spot,
                inputs,
                at,
                by,
                note,
            } => put_in::put_in(self, &spot, &inputs, (at, by), note),
            Ask::Emergency { card } => Ok(Outcome::answer(emergency::card(self, card))),
            Ask::Saw {
                sighting,
                spot,
                at,
                note,
            } => sightings::saw(self, sighting, &spot, at, note),
            Ask::SawOver { sighting, spot } => sightings::over(self, sighting, &spot),
            Ask::Undo { seq } => undo::undo(self, seq),
            Ask::Why { spot, duty, at } => why::why(self, &spot, duty, at).map(Outcome::answer),
            Ask::How { duty, spot } => how::how(self, duty, &spot).map(Outcome::answer),
            Ask::Week { last, full } => Ok(Outcome::answer(week::week(self, last, full))),
            Ask::Turns { carer, from, to } => {
                Ok(Outcome::answer(turns::list::turns(self, carer, (from, to))))
            }
            Ask::Away(ask) => turns::away::away(self, ask),
            Ask::Offer { turn, to } => turns::offer::offer(self, &turn, to),
            Ask::Cannot { turn } => turns::cannot::cannot(self, turn.as_ref()),
            Ask::Decline { turn } => turns::offer::decline(self, turn.as_ref()),
            Ask::Nod(ask) => nods::hear(self, &ask),
            Ask::Take { turn, sure } => turns::offer::take(self, &turn, sure),
            Ask::Mix(ask) => water::mix(self, &ask),
            Ask::Dilute(ask) => water::dilute(self, &ask).map(Outcome::answer),
            Ask::Fit(ask) => fit::fit(self, &ask).map(Outcome::answer),
            Ask::Plumb(ask) => plumb::plumb(self, &ask).map(Outcome::answer),
            Ask::Rehearse(ask) => rehearse::rehearse(self, &ask).map(Outcome::answer),
            Ask::Sheet(ask) => sheet::sheet(self, &ask).map(Outcome::answer),
            Ask::Alone(ask) => alone::alone(self, &ask).map(Outcome::answer),
            Ask::Batch(ask) => batches::batch(self, ask),
            Ask::Link(link) => Ok(calendars::link(link)),
            Ask::SetUp(set_up) => setup::set_up(self, set_up),
            Ask::Help { line } => Ok(Outcome::answer(how::help(self, line))),
        }
    }
}
