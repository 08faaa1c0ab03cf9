//! The main walk: a place is set up, rounds are called, carers answer, a call is edited and opened anew, turns are late, a
//! week is summed up.

use std::sync::Arc;

use jiff::civil;
use wrackline::chat::blocks::{Answer, Block};
use wrackline::chat::plain;
use wrackline::house::{Input, Said};
use wrackline::replay::carers::Dice;
use wrackline::store::PostState;
use wrackline_core::civil::{Zone, plus_minutes};
use wrackline_tests::faults::{Fault, FaultyStore};

use super::deliver::is_not_saved;
use super::workload::presses;
use super::world::{Job, Outcome, World};

/// What happens at a time: someone says a line, or presses the newest answer whose code begins like this.
enum Deed {
    Say(u32, &'static str),
    Press(u32, &'static str),
    Wait,
}

/// The walk. The clocks of New York leap on 8 March.
const WALK: [(&str, Deed); 18] = [
    ("2026-03-06 12:00", Deed::Say(1, "/rounds add morning 08:00")),
    ("2026-03-06 12:02", Deed::Say(1, "/carer add Ben regular")),
    ("2026-03-06 12:04", Deed::Say(1, "/enclosure add North 400 L")),
    ("2026-03-06 12:06", Deed::Say(1, "/pool add north salt 8 L")),
    (
        "2026-03-06 12:08",
        Deed::Say(1, "/place set quiet 22:00 to 07:00"),
    ),
    ("2026-03-07 08:00", Deed::Wait),
    ("2026-03-07 08:20", Deed::Press(2, "did.look")),
    ("2026-03-07 08:24", Deed::Say(2, "/undo")),
    ("2026-03-07 08:30", Deed::Say(2, "/did look north")),
    ("2026-03-07 09:00", Deed::Say(1, "/read north 80% 25.5C")),
    ("2026-03-07 23:30", Deed::Say(2, "/saw leak north salt")),
    ("2026-03-07 23:50", Deed::Press(1, "close.")),
    ("2026-03-08 08:00", Deed::Wait),
    ("2026-03-08 12:00", Deed::Press(2, "cannot.change")),
    ("2026-03-08 20:30", Deed::Wait),
    ("2026-03-09 08:00", Deed::Wait),
    ("2026-03-09 08:10", Deed::Press(1, "all.")),
    ("2026-03-09 12:00", Deed::Wait),
];

/// What a walk leaves behind, but for what a retry may shift: the instants of what the house itself wrote.
#[derive(Debug, PartialEq)]
pub(super) struct End {
    journal: Vec<(i64, u32, u32, Option<i64>, String)>,
    pub(super) posts: Vec<(Vec<String>, String, PostState)>,
    pub(super) messages: Vec<(String, Vec<Block>)>,
    answers: Vec<String>,
}

struct Walk {
    world: World,
    dice: Dice,
    answers: Vec<String>,
}

impl Walk {
    /// Lets the one process do a job until it comes to its end. After a failure the clock runs on past the lease, as
    /// it would while the process waits or is started anew.
    async fn step(&mut self, job: impl Fn() -> Job) -> Outcome {
        loop {
            let outcome = self.world.work(&mut self.dice, vec![(0, job())]).await.remove(0);
            match &outcome {
                Outcome::Answered(answer) if is_not_saved(answer) => {}
                Outcome::Answered(_) | Outcome::Dealt(_) => return outcome,
                Outcome::Failed(_) => self
                    .world
                    .clock
                    .put(self.world.now() + jiff::SignedDuration::from_secs(31)),
                Outcome::Stopped => {
                    self.world.restart(0);
                    if !matches!(job(), Job::Hear(_)) {
                        self.world
                            .clock
                            .put(self.world.now() + jiff::SignedDuration::from_secs(31));
                    }
                }
            }
        }
    }

    async fn settle(&mut self) {
        loop {
            let mut dealt = false;
            for job in [|| Job::Engine, || Job::Dispatch] {
                dealt |= matches!(self.step(job).await, Outcome::Dealt(1..));
            }
            if !dealt {
                break;
            }
        }
    }

    /// Lets the clock run up to a moment, with all that falls due meanwhile.
    async fn pass_to(&mut self, until: jiff::Timestamp) {
        while let Some(next) = self.world.store.next_moment().await.expect("the store") {
            let next = wrackline::shelf::instant(next);
            if next > until {
                break;
            }
            self.world.clock.put(next.max(self.world.now()));
            self.settle().await;
        }
        self.world.clock.put(until);
    }

    async fn hear(&mut self, carer: u32, input: Input) {
        let id = format!("walk:{}", self.answers.len());
        let place = self.world.place;
        let said = || Said {
            place,
            carer,
            id: id.clone(),
            input: input.clone(),
            photo: None,
        };
        let Outcome::Answered(answer) = self.step(|| Job::Hear(said())).await else {
            panic!("no answer to {input:?}")
        };
        let text = plain::text(&answer.blocks);
        assert!(answer.ok, "{input:?} was refused: {text}");
        let caused = self.world.ledger.caused_by(&id);
        assert_eq!(
            caused.len(),
            1,
            "{input:?} was answered “{text}”, but written so often"
        );
        self.again(said(), &answer).await;
        self.answers.push(text);
    }

    /// The same line once more gets the same answer.
    async fn again(&mut self, said: Said, first: &Answer) {
        let Outcome::Answered(answer) = self.step(|| Job::Hear(said.clone())).await else {
            panic!("no answer")
        };
        assert_eq!(&answer, first, "answered otherwise the second time");
    }

    fn press(&self, start: &str) -> Input {
        let shown = self.world.chat.shown();
        let all = shown.iter().rev().flat_map(|shown| presses(&shown.blocks));
        let code = all.map(|press| press.code).find(|code| code.starts_with(start));
        Input::Press {
            code: code.unwrap_or_else(|| panic!("nothing to press that begins {start}")),
            text: None,
        }
    }

    async fn end(self) -> End {
        let (store, place) = (&self.world.store, self.world.place);
        let tail = store.tail(place, 0).await.expect("the journal");
        let entry = |row: wrackline::store::EntryRow| {
            let at = (row.by != 0).then_some(row.at_ms);
            (row.seq, row.by, row.said_by, at, row.body)
        };
        let posts = store.posts(place, 0).await.expect("the posts");
        let found = wrackline::commands::verify::differences(store, place)
            .await
            .expect("the store");
        assert_eq!(
            found,
            Vec::<String>::new(),
            "stored marks are not what the journal says"
        );
        End {
            journal: tail.entries.into_iter().map(entry).collect(),
            posts: posts
                .into_iter()
                .map(|post| (post.keys, post.body, post.state))
                .collect(),
            messages: self
                .world
                .chat
                .shown()
                .into_iter()
                .map(|shown| (shown.nonce, shown.blocks))
                .collect(),
            answers: self.answers,
        }
    }
}

/// Walks; the store call of a number goes wrong. Returns the end, and the store of the first process.
pub(super) async fn walk(wrong: Option<(u64, Fault)>) -> (End, Arc<FaultyStore>) {
    let zone = Zone::get("America/New_York").expect("a zone");
    let moment =
        |local: &str| zone.instant(civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time"));
    let start = plus_minutes(moment(WALK[0].0), -1);
    let mut world = World::new(zone.clone(), start, None).await;
    world.start(1, 0);
    let store = world.processes[0].store.clone();
    if let Some((number, fault)) = wrong {
        store.fault_in(number, fault);
    }
    let mut walk = Walk {
        world,
        dice: Dice::new(0),
        answers: Vec::new(),
    };
    for (at, deed) in &WALK {
        walk.pass_to(moment(at)).await;
        match deed {
            Deed::Say(carer, line) => walk.hear(*carer, Input::Line((*line).to_owned())).await,
            Deed::Press(carer, start) => walk.hear(*carer, walk.press(start)).await,
            Deed::Wait => {}
        }
        walk.settle().await;
    }
    (walk.end().await, store)
}
