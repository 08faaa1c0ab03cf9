//! The program is killed under load, again and again; then what people saw is compared with what stands.
//!
//! The program, its database and its connection are real; the platform is the double. [`run`] is one run of it.

mod alarms;
mod compare;
mod ground;
mod lines;
mod moment;
mod people;

use std::fmt;
use std::sync::Arc;

pub use compare::compare;
pub use ground::{Base, Ground};
pub use moment::Moment;
pub use people::{Deed, Dice, Log, Meant, People};

/// After so many kills a word is said.
const WORD_AFTER: u32 = 10;
/// How many lines and presses are answered between two kills, and after the last one, at least. A kill while the program
/// starts waits for none; what is lacking for that is made up for in the end.
const ANSWERS: usize = 10;

/// What a run is to be.
#[derive(Clone, Copy, Debug)]
pub struct Plan {
    /// What moments and deeds are drawn from.
    pub seed: u64,
    /// How often the program is killed.
    pub kills: u32,
    /// What the place is kept in.
    pub base: Base,
}

/// What came of a run.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// Kills.
    pub kills: u32,
    /// Lines and presses that were answered as done.
    pub lines: u32,
    /// Those that were refused: presses on what was over already.
    pub refused: u32,
    /// Those that got no answer.
    pub unanswered: u32,
    /// Those among them that stand all the same.
    pub unanswered_but_done: u32,
    /// Answers that the platform refused, since there was one already.
    pub repeated: u32,
    /// Posts that are out.
    pub posts: u32,
    /// Dangers among them that were seen again while they were open.
    pub again: u32,
    /// What was promised and is not there.
    pub missing: Vec<String>,
    /// What is there twice.
    pub doubled: Vec<String>,
    /// What else is not as it should be.
    pub wrong: Vec<String>,
}

impl Report {
    /// Whether nothing is missing, doubled or wrong.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.missing.is_empty() && self.doubled.is_empty() && self.wrong.is_empty()
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (missing, doubled) = (self.missing.len(), self.doubled.len());
        write!(
            f,
            "kills {}, lines {}, posts {}, seen again {}: missing {missing}, doubled {doubled}",
            self.kills, self.lines, self.posts, self.again
        )?;
        write!(
            f,
            " (unanswered {}, of which {} stand; refused {}; answered again {})",
            self.unanswered, self.unanswered_but_done, self.refused, self.repeated
        )?;
        let all = [
            ("missing", &self.missing),
            ("doubled", &self.doubled),
            ("wrong", &self.wrong),
        ];
        for (name, list) in all {
            for one in list {
                write!(f, "\n  {name}: {one}")?;
            }
        }
        Ok(())
    }
}

/// Kills the program as often as planned, lets it settle, and compares. `tell` hears how far it is.
///
/// # Panics
/// When the program does not start or stop, or does not hold its own marks for those of the journal.
pub async fn run(plan: Plan, tell: impl Fn(String)) -> Report {
    let ground = Arc::new(Ground::new(plan.base).await);
    let mut serve = ground.serve();
    ground.set_up().await;
    let people = People::begin(&ground, plan.seed);
    let mut dice = Dice::new(plan.seed);
    for kill in 1..=plan.kills {
        let moment = Moment::draw(&mut dice);
        if moment != Moment::Early {
            ground.double.gateway().connected(1).await;
            people.log.again(&mut dice);
            people.log.reach(people.log.answered() + ANSWERS).await;
        }
        moment.come(&ground.double, &mut dice).await;
        tokio::task::block_in_place(|| serve.kill());
        ground.remain(0).await;
        ground.double.calm();
        serve = ground.serve();
        if kill % WORD_AFTER == 0 {
            tell(format!(
                "{:?}: kill {kill}, deeds {}",
                plan.base,
                people.log.deeds().len()
            ));
        }
    }
    ground.double.gateway().connected(1).await;
    people.log.again(&mut dice);
    let in_all = (plan.kills as usize + 1) * ANSWERS;
    people
        .log
        .reach(in_all.max(people.log.answered() + ANSWERS))
        .await;
    let deeds = people.end().await;
    ground.settle().await;
    let mut report = Report {
        kills: plan.kills,
        ..Report::default()
    };
    let (code, _) = tokio::task::block_in_place(|| serve.stop());
    assert_eq!(code, Some(0), "it stops in good order");
    assert_eq!(ground.run(&["verify"]).done(), "0 differences\n");
    compare(&ground, &deeds, &mut report).await;
    report
}
