//! People at work, and what each of them did.

use std::collections::HashSet;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};
use tokio::task::JoinSet;
use wrackline::chat::discord::rows::code_of;
use wrackline::clock::{monotonic, wait};

use super::Ground;
use crate::platform::{Act, Opt, UserId};

/// Between an answer and the next deed of the same person, in milliseconds, at least and at most.
const PAUSE_MS: (u64, u64) = (40, 200);
/// How long a person waits for an answer: as long as the platform does.
const ANSWER_WITHIN: Duration = Duration::from_secs(3);
/// How long some answers more may take on a machine that is busy.
const REACH_WITHIN: Duration = Duration::from_secs(180);
/// How far back a person looks for something to press.
const LOOK_BACK: usize = 60;
/// What is pressed: each at most once for an entry, so that every press has an entry of its own.
const VERBS: [&str; 4] = ["noted", "going", "close", "undo"];
/// An interaction that was not answered is delivered once more within this time.
const AGAIN_WITHIN: Duration = Duration::from_millis(2_500);

/// What somebody meant to write.
#[derive(Clone, Debug, Eq, Hash, PartialEq)]
pub enum Meant {
    /// A line with this note, which no other line has.
    Note(String),
    /// A press, `noted.12`, which nobody else makes.
    Press(String),
}

/// What somebody did.
#[derive(Clone, Debug)]
pub struct Deed {
    /// On the platform.
    pub act: Act,
    /// To what end.
    pub meant: Meant,
    at: Instant,
}

/// All that was done.
#[derive(Debug, Default)]
pub struct Log {
    deeds: Mutex<Vec<Deed>>,
    pressed: Mutex<HashSet<String>>,
    number: AtomicU32,
    over: AtomicBool,
}

impl Log {
    /// Everything so far.
    #[must_use]
    pub fn deeds(&self) -> Vec<Deed> {
        self.deeds.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Delivers some of what was done lately once more. What got no answer is heard now, or was heard by the process
    /// that is gone; what got one must not be done again.
    pub fn again(&self, dice: &mut Dice) {
        let now = monotonic();
        let deeds = self.deeds();
        let lately = deeds.iter().rev().take_while(|deed| now - deed.at < AGAIN_WITHIN);
        for deed in lately {
            let chance = if deed.act.answer().is_none() { 2 } else { 10 };
            if dice.one_in(chance) {
                deed.act.again();
            }
        }
    }

    /// How many of them were answered so far.
    #[must_use]
    pub fn answered(&self) -> usize {
        let deeds = self.deeds.lock().unwrap_or_else(PoisonError::into_inner);
        deeds.iter().filter(|deed| deed.act.answer().is_some()).count()
    }

    /// Waits until so many in all were answered, however slow the machine is.
    ///
    /// # Panics
    /// When that takes too long.
    pub async fn reach(&self, count: usize) {
        let until = monotonic() + REACH_WITHIN;
        loop {
            let answered = self.answered();
            if answered >= count {
                return;
            }
            assert!(
                monotonic() < until,
                "{answered} answers instead of {count} within {REACH_WITHIN:?}"
            );
            wait(Duration::from_millis(20)).await;
        }
    }

    fn add(&self, act: Act, meant: Meant) {
        let at = monotonic();
        let deed = Deed { act, meant, at };
        self.deeds
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .push(deed);
    }

    /// Whether nobody pressed this before.
    fn press(&self, code: &str) -> bool {
        let mut pressed = self.pressed.lock().unwrap_or_else(PoisonError::into_inner);
        pressed.insert(code.to_owned())
    }
}

/// What is drawn from a seed.
#[derive(Debug)]
pub struct Dice(ChaCha8Rng);

impl Dice {
    /// Dice of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number from 0, below one.
    pub fn below(&mut self, number: u64) -> u64 {
        self.0.next_u64() % number.max(1)
    }

    /// A time between two numbers of milliseconds.
    pub fn ms(&mut self, least: u64, most: u64) -> Duration {
        Duration::from_millis(least + self.below(most - least + 1))
    }

    /// Whether it is the one of so many.
    pub fn one_in(&mut self, number: u64) -> bool {
        self.below(number) == 0
    }

    /// One of several.
    ///
    /// # Panics
    /// When there is none.
    pub fn pick<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        let count = u64::try_from(all.len()).expect("few");
        &all[usize::try_from(self.below(count)).expect("few")]
    }
}

/// People at work until they are told to stop.
pub struct People {
    /// What they did.
    pub log: Arc<Log>,
    tasks: JoinSet<()>,
}

impl People {
    /// Everybody begins.
    #[must_use]
    pub fn begin(ground: &Arc<Ground>, seed: u64) -> Self {
        let log = Arc::new(Log::default());
        let mut tasks = JoinSet::new();
        for (number, by) in (1..).zip(&ground.people) {
            let dice = Dice::new(seed.wrapping_mul(100).wrapping_add(number));
            tasks.spawn(live(ground.clone(), log.clone(), *by, dice));
        }
        Self { log, tasks }
    }

    /// Everybody ends; what they did.
    ///
    /// # Panics
    /// When one of them did what the platform would not let them.
    pub async fn end(mut self) -> Vec<Deed> {
        self.log.over.store(true, Ordering::SeqCst);
        while let Some(ended) = self.tasks.join_next().await {
            ended.expect("a person's day");
        }
        self.log.deeds()
    }
}

async fn live(ground: Arc<Ground>, log: Arc<Log>, by: UserId, mut dice: Dice) {
    while !log.over.load(Ordering::SeqCst) {
        wait(dice.ms(PAUSE_MS.0, PAUSE_MS.1)).await;
        // While nobody is there, the platform tells people so, and they wait.
        if ground.double.gateway().sessions() == 0 {
            continue;
        }
        let act = match dice.below(10) {
            0..7 => Some(line(&ground, &log, by, &mut dice)),
            _ => press(&ground, &log, by, &mut dice),
        };
        if let Some(act) = act {
            answered(&ground, &act).await;
        }
    }
}

/// Waits until something is answered, for as long as somebody is there to answer it.
async fn answered(ground: &Ground, act: &Act) {
    let until = monotonic() + ANSWER_WITHIN;
    while act.answer().is_none() && ground.double.gateway().sessions() > 0 && monotonic() < until {
        wait(Duration::from_millis(10)).await;
    }
}

/// A line with a note of its own: a danger, which is posted at once, a duty, or a reading. Most dangers are a crab that is
/// out, each a matter of its own; the others are seen again at the same spot until somebody closes them.
fn line(ground: &Ground, log: &Log, by: UserId, dice: &mut Dice) -> Act {
    let note = format!("note-{}", log.number.fetch_add(1, Ordering::SeqCst));
    let text = Opt::text;
    let spot = *dice.pick(&["north salt", "north fresh"]);
    let sighting = match dice.below(10) {
        0 => "leak",
        1 => "tipped filter",
        _ => "escape",
    };
    let (name, mut options) = match dice.below(9) {
        0..6 => ("saw", vec![text("sighting", sighting), text("spot", spot)]),
        6..8 => (
            "did",
            vec![
                text("duty", "change"),
                text("spot", spot),
                Opt::bool("again", true),
            ],
        ),
        _ => {
            let percent = 76 + dice.below(8);
            (
                "read",
                vec![text("spot", "north"), text("readings", &format!("{percent} %"))],
            )
        }
    };
    options.push(text("note", &note));
    let act = ground.double.command(ground.channel, by, name, &options);
    let act = act.unwrap_or_else(|why| panic!("/{name} {options:?}: {why}"));
    log.add(act.clone(), Meant::Note(note));
    act
}

/// A press on one of the newest posts and receipts.
fn press(ground: &Ground, log: &Log, by: UserId, dice: &mut Dice) -> Option<Act> {
    let mut offers = Vec::new();
    for message in ground.double.newest_messages(ground.channel, LOOK_BACK) {
        for shown in message.shown() {
            let code = code_of(&shown.custom_id).to_owned();
            if code
                .split_once('.')
                .is_some_and(|(verb, _)| VERBS.contains(&verb))
            {
                offers.push((message.id, shown.custom_id, code));
            }
        }
    }
    if offers.is_empty() {
        return None;
    }
    let (message, custom_id, code) = dice.pick(&offers);
    if !log.press(code) {
        return None;
    }
    // Some are for other eyes, or gone meanwhile.
    let act = ground.double.press(*message, custom_id, by).ok()?;
    log.add(act.clone(), Meant::Press(code.clone()));
    Some(act)
}
