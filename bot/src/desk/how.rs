//! `/how`: the steps of a duty for this pool with its amounts, and `/help`: what can be said.

mod beside;
mod today;

use jiff::Timestamp;
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::care::{Duty, cadence, standing};
use wrackline_core::place::{OwnDutyId, Pool, Target, Water};
use wrackline_core::quantity::{Units, grams};

pub(in crate::desk) use self::today::{means, rests};
use super::tell::capital;
use super::{Desk, Refused, setup};
use crate::chat::blocks::{Answer, Block, Item};
use crate::lines::ask::Spot;
use crate::msg;
use crate::words::{Message, Words};

/// A litre of water in grams, as near as a back needs to know.
const GRAMS_PER_LITRE: f64 = 1_000.0;

/// `/how`: the steps of a duty at a pool or an enclosure.
///
/// # Errors
/// A refusal when it is not clear where, or nothing there could have this duty.
pub fn how(desk: &Desk<'_>, duty: Duty, spot: &Spot) -> Result<Answer, Refused> {
    if let Duty::Own(id) = duty {
        return own(desk, id);
    }
    let place = desk.place();
    let target = one_target(desk, duty, spot)?;
    let pool = match target {
        Target::Pool(id) => place.pools.get(&id),
        _ => None,
    };
    if let Some(pool) = pool {
        can_have(desk, duty, pool)?;
    }
    let card = card(desk, duty, target, Telling::Today);
    let mut blocks = vec![Block::Title { text: card.title }];
    blocks.extend(card.cautions.into_iter().map(|text| Block::Caution { text }));
    if !card.today.is_empty() {
        let text = card.today.join("\n");
        blocks.push(Block::Text { text });
    }
    blocks.push(Block::Items {
        items: numbered(desk, &card.steps),
    });
    blocks.extend(card.notes.into_iter().map(|text| Block::Text { text }));
    Ok(Answer {
        ok: true,
        blocks,
        private: false,
        turns: Vec::new(),
    })
}

/// Whether a duty is told for now, or on a sheet for every time that it is done in a span of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::desk) enum Telling {
    /// For now.
    Today,
    /// For each time; what names the spot is left open, so that equal work at several spots is told once.
    EachTime,
}

/// How a duty is done at one pool or enclosure, with all that stands beside its steps.
pub(in crate::desk) struct HowCard {
    /// The duty, where, and how much.
    pub(in crate::desk) title: String,
    /// What can hurt people or animals in this work.
    pub(in crate::desk) cautions: Vec<String>,
    /// Its exact quantities.
    pub(in crate::desk) today: Vec<String>,
    /// The steps, in order.
    pub(in crate::desk) steps: Vec<String>,
    /// What else is to be known.
    pub(in crate::desk) notes: Vec<String>,
}

/// How a duty of the catalogue is done at one pool or enclosure.
pub(in crate::desk) fn card(desk: &Desk<'_>, duty: Duty, target: Target, telling: Telling) -> HowCard {
    let pool = match target {
        Target::Pool(id) => desk.place().pools.get(&id),
        _ => None,
    };
    let mut amounts = Amounts::of(desk, target, pool);
    if telling == Telling::EachTime {
        amounts.spot = desk.tell.word("how-spot");
    }
    let steps: Vec<String> = step_ids(desk.tell.words, duty, pool)
        .into_iter()
        .map(|id| amounts.say(desk, id))
        .collect();
    HowCard {
        title: title(desk, duty, target, &amounts, steps.len()),
        cautions: beside::cautions(desk, duty, target, pool, &amounts),
        today: pool.map_or_else(Vec::new, |pool| today::lines(desk, duty, pool, telling)),
        steps,
        notes: beside::notes(desk, duty, target, pool, &amounts),
    }
}

/// The one pool or enclosure that is meant.
fn one_target(desk: &Desk<'_>, duty: Duty, spot: &Spot) -> Result<Target, Refused> {
    let place = desk.place();
    let pools = spot
        .pools
        .iter()
        .filter(|id| place.pools.contains_key(id))
        .map(|id| Target::Pool(*id));
    let enclosures = spot
        .enclosures
        .iter()
        .filter(|id| place.enclosures.contains_key(id));
    let enclosures = enclosures.map(|id| Target::Enclosure(*id));
    let mut all: Vec<Target> = if duty.is_of_pool() {
        pools.collect()
    } else {
        enclosures.collect()
    };
    if all.len() > 1 {
        // Of several the one that has the duty is meant, if there is just one.
        let has = |target: &Target| cadence(desk.book(), place, duty, *target, desk.now()).is_some();
        let having: Vec<Target> = all.iter().copied().filter(has).collect();
        if !having.is_empty() {
            all = having;
        }
    }
    match all.as_slice() {
        [] => Err(msg!("how-nowhere")),
        [one] => Ok(*one),
        several => {
            let names: Vec<String> = several.iter().map(|one| desk.tell.target(*one)).collect();
            Err(msg!("how-which", names = desk.tell.either(&names)))
        }
    }
}

/// Steps for what is not fitted would be wrong.
fn can_have(desk: &Desk<'_>, duty: Duty, pool: &Pool) -> Result<(), Refused> {
    let target = desk.tell.pool(pool.id);
    let no = |gear| {
        Err(msg!(
            "how-no-gear",
            target = target.as_str(),
            gear = desk.tell.word(gear)
        ))
    };
    match duty {
        Duty::Rinse if pool.filter.is_none() => no("gear-filter"),
        Duty::AirCheck if pool.air.is_none() => no("gear-air"),
        Duty::LeakCheck if !pool.nested => Err(msg!("how-not-nested", target = target)),
        _ => Ok(()),
    }
}

/// The ids of a duty's steps, as many as the catalogue says; the text for this kind of pool where there is one.
fn step_ids(words: &Words, duty: Duty, pool: Option<&Pool>) -> Vec<String> {
    // A pool with a filter in it stays where it is, and so does one that is fixed.
    let siphoned = pool.is_some_and(|pool| pool.filter.is_some() || !pool.removable);
    let salt = pool.is_some_and(|pool| pool.water == Water::Salt);
    let kinds = [siphoned.then_some("-siphon"), salt.then_some("-salt")];
    let id = |number: u32| {
        let plain = format!("how-{}-{number}", duty.code());
        let special = kinds.iter().flatten().map(|kind| format!("{plain}{kind}"));
        special.into_iter().find(|id| words.has(id)).unwrap_or(plain)
    };
    (1..=duty.steps()).map(id).collect()
}

/// What the steps speak of.
struct Amounts {
    spot: String,
    litres: String,
    part: String,
    mass: String,
    part_fraction: f64,
    sample: &'static str,
}

impl Amounts {
    fn of(desk: &Desk<'_>, target: Target, pool: Option<&Pool>) -> Self {
        let litres = pool.map_or(0.0, |pool| pool.litres);
        let fraction = part_fraction(litres);
        Self {
            spot: desk.tell.target(target).to_lowercase(),
            litres: desk.tell.litres(litres),
            part: desk.tell.litres(litres * fraction),
            mass: grams(litres * GRAMS_PER_LITRE, desk.place().units),
            part_fraction: fraction,
            sample: if desk.place().units == Units::Us {
                "82% 79F"
            } else {
                "82% 26C"
            },
        }
    }

    fn say(&self, desk: &Desk<'_>, id: String) -> String {
        let message = Message::new(id)
            .with("spot", self.spot.as_str())
            .with("litres", self.litres.as_str())
            .with("part", self.part.as_str())
            .with("mass", self.mass.as_str())
            .with("sample", self.sample);
        desk.say(&message)
    }
}

fn title(desk: &Desk<'_>, duty: Duty, target: Target, amounts: &Amounts, count: usize) -> String {
    let name = capital(&desk.tell.duty(duty));
    let target = desk.tell.target(target);
    let litres = amounts.litres.as_str();
    desk.say(&match duty {
        Duty::Change => {
            msg!(
                "how-title-amount",
                duty = name,
                target = target,
                amount = litres,
                count = count
            )
        }
        Duty::PartChange => msg!(
            "how-title-part",
            duty = name,
            target = target,
            amount = amounts.part.as_str(),
            litres = litres,
            count = count
        ),
        _ => msg!("how-title", duty = name, target = target, count = count),
    })
}

fn numbered(desk: &Desk<'_>, texts: &[String]) -> Vec<Item> {
    let say = |number: usize, text: &str| desk.say(&msg!("how-step", number = number, text = text));
    (1..)
        .zip(texts)
        .map(|(number, text)| desk.item(say(number, text)))
        .collect()
}

/// A duty of the place's own has no steps here: its name and its schedule.
fn own(desk: &Desk<'_>, id: OwnDutyId) -> Result<Answer, Refused> {
    let (duty, _) = desk.place().duties.get(&id).ok_or(msg!("how-gone"))?;
    let first = msg!(
        "how-own",
        name = capital(&duty.name),
        target = desk.tell.target(duty.target),
        schedule = setup::schedule(desk, &duty.schedule)
    );
    let next = standing(desk.book(), desk.place(), Duty::Own(id), duty.target, desk.now())
        .filter(|standing| standing.due < Timestamp::MAX)
        .map(|standing| desk.say(&msg!("how-own-next", due = desk.tell.turn_moment(standing.due))));
    let title = [Some(desk.say(&first)), next]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ");
    let mut answer = desk.done_text(title);
    answer.blocks.push(Block::Text {
        text: desk.say(&msg!("how-own-steps", keepers = desk.keepers())),
    });
    Ok(answer)
}

/// `/help`: the lines that this person can say, or how one of them is said.
#[must_use]
pub fn help(desk: &Desk<'_>, line: Option<&'static str>) -> Answer {
    let usages = crate::lines::help(line, desk.role);
    let title = match line {
        Some(line) if usages.is_empty() => return desk.done(&msg!("how-help-none", line = line)),
        Some(line) => msg!("how-help-one", line = line),
        None => msg!("how-help-title", count = usages.len()),
    };
    let items = usages.iter().map(|(usage, hint)| {
        desk.item(desk.say(&msg!(
            "how-help-item",
            usage = usage.as_str(),
            hint = hint.clone()
        )))
    });
    let mut answer = desk.done(&title);
    answer.blocks.push(Block::Items {
        items: items.collect(),
    });
    if line.is_none() {
        answer.blocks.push(Block::Text {
            text: desk.tell.word("how-help-more"),
        });
    }
    answer.private = true;
    answer
}
