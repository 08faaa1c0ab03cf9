//! What carers do about what is posted.

use jiff::Timestamp;
use wrackline_core::care::{Duty, TurnKey, standing};
use wrackline_core::civil::{next_round, plus_minutes, waking};
use wrackline_core::journal::{Event, Say, Seq, When};
use wrackline_core::matter::follow_ups;
use wrackline_core::moment::{Step, Subject};
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use super::{Result, Stage};
use crate::clock::Clock;
use crate::desk::posts::open_turns;
use crate::desk::tell::Tell;
use crate::house::whole_second;
use crate::replay::carers::{What, answer};
use crate::replay::scenario::Habit;

/// A turn that someone is asked about.
struct Asked {
    carer: CarerId,
    turn: TurnKey,
    spot: String,
    duty: String,
}

/// So many rounds are looked through for one that somebody is there for: two weeks of two a day.
const ROUNDS_MAX: usize = 28;

/// Whether someone is at the place these days: neither away nor outside their span.
fn is_there(tell: &Tell<'_>, carer: CarerId, at: Timestamp) -> bool {
    let when = When::of(tell.place, at);
    let person = tell.place.carers.get(&carer);
    person.is_some_and(|one| one.shares_on(when.date) && !tell.book.is_away(carer, &when, tell.now))
}

/// Whether someone is there for the round of a moment.
fn is_free(tell: &Tell<'_>, carer: CarerId, at: Timestamp) -> bool {
    let when = When::of(tell.place, at);
    let person = tell.place.carers.get(&carer);
    is_there(tell, carer, at) && person.is_some_and(|one| one.is_free(when.round, when.date))
}

/// Who is asked to do what by a post.
fn who_is_asked(tell: &Tell<'_>, subject: &Subject, now: Timestamp) -> Vec<Asked> {
    let mut all = Vec::new();
    for (_, standing) in open_turns(tell, subject.turns()) {
        let hand = rota::hand(tell.book, tell.place, &standing, now);
        let step = subject.turns().iter().find(|called| called.turn == standing.turn);
        let gave_up = hand.freed.map(|freed| freed.by);
        let stand_in = |of| rota::stand_in(tell.book, tell.place, &standing, of, now);
        // A turn that was passed on is answered by the stand-in, where there is one.
        let carer = match step.and_then(|called| called.step) {
            None | Some(Step::Carer) => hand.carer,
            Some(_) => stand_in(hand.carer.or(gave_up)).or(hand.carer),
        };
        let carer = carer.filter(|carer| is_there(tell, *carer, now));
        all.extend(carer.or_else(|| stand_in(gave_up)).map(|carer| Asked {
            carer,
            turn: standing.turn,
            spot: tell.target(standing.turn.target),
            duty: match standing.turn.duty {
                Duty::Own(_) => format!("\"{}\"", tell.duty(standing.duty())),
                _ => tell.duty(standing.duty()),
            },
        }));
    }
    all
}

impl Stage {
    /// Everyone decides what to do about what was posted.
    pub(super) async fn answer_post(&mut self, subject: &Subject) -> Result<()> {
        self.answer_turns(subject).await?;
        self.answer_looks(subject).await?;
        if let Subject::Offered(seq) = subject {
            self.answer_offer(*seq).await?;
        }
        Ok(())
    }

    /// The habit of someone who looks at the chat today.
    fn awake(&self, carer: CarerId, now: Timestamp) -> Option<Habit> {
        let day = i64::from((self.zone.date(now) - self.first_day).get_days()) + 1;
        let habit = self.habits.get(&carer)?;
        (!habit.away.contains(&day)).then(|| habit.clone())
    }

    async fn answer_turns(&mut self, subject: &Subject) -> Result<()> {
        let now = whole_second(self.clock.now());
        let asked = self.told(|tell| who_is_asked(tell, subject, now)).await?;
        for asked in asked {
            let Some(habit) = self.awake(asked.carer, now) else {
                continue;
            };
            let Some(deed) = answer(
                &mut self.dice,
                &habit,
                &asked.turn,
                (&asked.duty, &asked.spot),
                now,
            ) else {
                continue;
            };
            let says = match &habit.logged_by {
                Some(name) => self.names.get(name).copied(),
                None => Some(asked.carer),
            };
            if let Some(says) = says {
                let at = self.when_there(asked.carer, deed.at).await?;
                self.put(at, says, deed.what);
            }
        }
        Ok(())
    }

    /// A moment, or one soon after the next round for which someone is there: nobody changes water at night, at school,
    /// or on a journey.
    async fn when_there(&mut self, carer: CarerId, at: Timestamp) -> Result<Timestamp> {
        let round = self
            .told(|tell| {
                let (zone, rounds) = (&tell.place.zone, &tell.place.rounds);
                let mut then = waking(zone, tell.place.quiet, at);
                for _ in 0..ROUNDS_MAX {
                    if is_free(tell, carer, then) {
                        break;
                    }
                    then = next_round(zone, rounds, then).at;
                }
                then
            })
            .await?;
        Ok(if round == at {
            at
        } else {
            plus_minutes(round, self.dice.between(5, 50))
        })
    }

    /// Whoever is to look at a matter looks; where that may be anyone, whoever saw it.
    async fn answer_looks(&mut self, subject: &Subject) -> Result<()> {
        let now = whole_second(self.clock.now());
        for look in subject.looks() {
            let who = self
                .told(|tell| {
                    let all = follow_ups(tell.book, tell.place, now);
                    let turn = all
                        .into_iter()
                        .find(|one| one.matter.seq == look.matter && one.due <= now)?;
                    Some(turn.carer.unwrap_or(turn.matter.by))
                })
                .await?;
            let Some((who, habit)) = who.and_then(|who| Some((who, self.awake(who, now)?))) else {
                continue;
            };
            let at = plus_minutes(now, self.dice.between(habit.minutes[0], habit.minutes[1]));
            self.put(at, who, What::Press(format!("looked.{}", look.matter), None));
        }
        Ok(())
    }

    /// Whoever is offered a turn takes it or not, if that is a habit of theirs.
    async fn answer_offer(&mut self, seq: Seq) -> Result<()> {
        let now = whole_second(self.clock.now());
        let offer = self
            .told(|tell| match tell.book.entry(seq)?.event {
                Event::Coming(slot, Say::Offered(to)) => Some((slot, to)),
                _ => None,
            })
            .await?;
        let Some((slot, to)) = offer else { return Ok(()) };
        let Some((habit, accepts)) = self
            .awake(to, now)
            .and_then(|habit| Some((habit.clone(), habit.accepts?)))
        else {
            return Ok(());
        };
        let at = plus_minutes(now, self.dice.between(habit.minutes[0], habit.minutes[1]));
        let verb = if self.dice.happens(accepts) {
            "accept"
        } else {
            "decline"
        };
        self.put(at, to, What::Press(format!("{verb}.{slot}"), None));
        Ok(())
    }

    /// Whoever nods for a helper does so some time after it was logged; while they are not there, whoever logged it.
    pub(super) async fn nod_later(
        &mut self,
        helper: CarerId,
        logged: CarerId,
        codes: &[String],
    ) -> Result<()> {
        let now = self.clock.now();
        let Some(code) = codes.iter().find(|code| code.starts_with("nod.")) else {
            return Ok(());
        };
        let name = self.habits.get(&helper).and_then(|habit| habit.nodded_by.clone());
        let Some(nods) = name.and_then(|name| self.names.get(&name).copied()) else {
            return Ok(());
        };
        let is_there = self.told(|tell| is_there(tell, nods, now)).await?;
        let nods = if is_there { nods } else { logged };
        let Some(habit) = self.awake(nods, now) else {
            return Ok(());
        };
        let minutes = self.dice.between(habit.minutes[0], habit.minutes[1]);
        self.put(plus_minutes(now, minutes), nods, What::Press(code.clone(), None));
        Ok(())
    }

    /// Whether someone presses this now: what it is about still waits, and what takes hands is done by who is there.
    pub(super) async fn would_press(&self, carer: CarerId, code: &str) -> Result<bool> {
        let now = whole_second(self.clock.now());
        let takes_hands = ["did.", "notneeded.", "looked."]
            .iter()
            .any(|verb| code.starts_with(verb));
        let is_there = !takes_hands || self.told(|tell| is_there(tell, carer, now)).await?;
        Ok(is_there && self.is_open(code).await?)
    }

    /// Whether what a press is about still waits: nobody presses what is shown as done.
    async fn is_open(&self, code: &str) -> Result<bool> {
        let Some((verb, about)) = code.split_once('.') else {
            return Ok(false);
        };
        let now = whole_second(self.clock.now());
        match verb {
            "looked" => {
                let is_due = self
                    .told(|tell| {
                        let mut all = follow_ups(tell.book, tell.place, now).into_iter();
                        all.any(|one| one.matter.seq.to_string() == about && one.due <= now)
                    })
                    .await?;
                Ok(is_due)
            }
            // By the slot, which says nothing of whether the turn is due.
            "accept" | "decline" => Ok(true),
            _ => {
                let Ok(turn) = about.parse::<TurnKey>() else {
                    return Ok(true);
                };
                self.told(|tell| {
                    let found = standing(tell.book, tell.place, turn.duty, turn.target, now);
                    found.is_some_and(|standing| standing.turn == turn)
                })
                .await
            }
        }
    }
}
