//! What follows from a change: what falls due next, what is no longer called, and which cadence holds why.

use jiff::Timestamp;
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::care::{Because, Cadence, Duty, Mark, Pace, Rule, Standing, cadence};
use wrackline_core::place::{EnclosureId, Life, PoolId, Target};

use super::spoken;
use crate::chat::blocks::{Answer, Block};
use crate::desk::Desk;
use crate::msg;
use crate::words::Message;

/// An answer of a first line and further paragraphs.
pub(super) fn answer(desk: &Desk<'_>, title: String, further: impl IntoIterator<Item = String>) -> Answer {
    let mut answer = desk.done_text(title);
    answer
        .blocks
        .extend(further.into_iter().map(|text| Block::Text { text }));
    answer
}

/// Sentences with spaces between.
pub(super) fn sentences(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// An enclosure and its pools.
pub(super) fn within(desk: &Desk<'_>, enclosure: EnclosureId) -> Vec<Target> {
    let pools = desk
        .place()
        .pools_of(enclosure)
        .into_iter()
        .map(|pool| Target::Pool(pool.id));
    std::iter::once(Target::Enclosure(enclosure))
        .chain(pools)
        .collect()
}

/// How the duties of these targets stand, in walking order.
pub(super) fn standings(desk: &Desk<'_>, targets: &[Target]) -> Vec<Standing> {
    desk.board()
        .into_iter()
        .filter(|standing| targets.contains(&standing.turn.target))
        .collect()
}

/// What falls due next.
#[derive(Default)]
pub(super) struct Coming {
    /// The turn that matters most: the change of water, else the first one.
    pub(super) next: Option<String>,
    /// The others, in order of time.
    pub(super) also: Option<String>,
}

/// What falls due next at these targets.
pub(super) fn coming(desk: &Desk<'_>, targets: &[Target]) -> Coming {
    let mut all = standings(desk, targets);
    all.retain(|standing| standing.due < Timestamp::MAX);
    all.sort_by_key(|standing| standing.due);
    let is_change = |one: &Standing| one.turn.duty == Duty::Change;
    let Some(lead) = all.iter().position(is_change).or((!all.is_empty()).then_some(0)) else {
        return Coming::default();
    };
    let lead = all.remove(lead);
    let due = due(desk, lead.due);
    let duty = desk.tell.duty(lead.duty());
    let next = match lead.mark {
        Mark::Calm | Mark::Due => msg!("setup-next", duty = duty, due = due),
        mark => msg!(
            "setup-next-marked",
            duty = duty,
            due = due,
            mark = desk.tell.mark(mark)
        ),
    };
    let also = (!all.is_empty()).then(|| desk.say(&msg!("setup-also", turns = by_time(desk, &all))));
    Coming {
        next: Some(desk.say(&next)),
        also,
    }
}

/// When a turn is due: its moment, or since when.
pub(super) fn due(desk: &Desk<'_>, at: Timestamp) -> String {
    let moment = desk.tell.turn_moment(at);
    if at > desk.now() {
        moment
    } else {
        desk.say(&msg!("setup-due-since", at = moment))
    }
}

/// Turns in order of time, those of one moment together.
fn by_time(desk: &Desk<'_>, standings: &[Standing]) -> String {
    let groups = standings
        .chunk_by(|one, other| one.due == other.due)
        .map(|group| {
            let duties: Vec<_> = group.iter().map(Standing::duty).collect();
            let (duties, due) = (spoken::duties(desk, &duties), due(desk, group[0].due));
            desk.say(&msg!("setup-also-turns", duties = duties, due = due))
        });
    groups.collect::<Vec<_>>().join("; ")
}

/// The interval of a row of the catalogue at this place.
fn every_of(desk: &Desk<'_>, rule: Rule) -> String {
    let set = desk
        .place()
        .numbers
        .get(&rule)
        .and_then(|(numbers, _)| numbers.every);
    spoken::every(desk, set.unwrap_or(rule.row().every))
}

/// Which cadence of water changes holds in a pool, and what it waits for; nothing while no change is called.
pub(super) fn cadence_notes(desk: &Desk<'_>, id: PoolId) -> Vec<String> {
    let place = desk.place();
    let Some(pool) = place.pools.get(&id) else {
        return Vec::new();
    };
    let Some(cadence) = cadence(desk.book(), place, Duty::Change, Target::Pool(id), desk.now()) else {
        return Vec::new();
    };
    let Pace::Interval { every, .. } = cadence.pace else {
        return Vec::new();
    };
    let amounts = Amounts {
        pool: desk.tell.pool(id).to_lowercase(),
        holds: spoken::every(desk, every),
        part: desk.tell.litres(pool.litres * part_fraction(pool.litres)),
        all: desk.tell.litres(pool.litres),
    };
    let waits = cadence
        .because
        .iter()
        .filter_map(|because| waits(desk, &cadence, *because, &amounts));
    let mut notes: Vec<Message> = waits.collect();
    let (holds, all) = (amounts.holds.as_str(), amounts.all.as_str());
    if cadence.rule == Some(Rule::PartChange) {
        notes.insert(
            0,
            msg!(
                "setup-part",
                every = holds,
                part = amounts.part.as_str(),
                all = all
            ),
        );
    } else if notes.is_empty() {
        notes.push(msg!("setup-whole", every = holds, all = all));
    }
    notes.iter().map(|note| desk.say(note)).collect()
}

struct Amounts {
    pool: String,
    holds: String,
    part: String,
    all: String,
}

/// What a reason for a cadence means for the time to come, where it is not there to stay.
fn waits(desk: &Desk<'_>, cadence: &Cadence, because: Because, amounts: &Amounts) -> Option<Message> {
    let holds = amounts.holds.as_str();
    let still = cadence.rule == Some(Rule::ChangeStill);
    match because {
        Because::AirWaits(_) if still => Some(msg!(
            "setup-air-waits",
            holds = holds,
            then = every_of(desk, Rule::ChangeAerated)
        )),
        Because::AirStopped(_) if still => Some(msg!("setup-air-stands", holds = holds)),
        Because::FilterWaits(_) => Some(msg!(
            "setup-filter-waits",
            holds = holds,
            then = every_of(desk, Rule::PartChange),
            part = amounts.part.as_str(),
            all = amounts.all.as_str()
        )),
        Because::FilterUnproven(_) => Some(msg!(
            "setup-filter-unproven",
            holds = holds,
            pool = amounts.pool.as_str()
        )),
        Because::FilterLapsed(at) => Some(msg!(
            "setup-filter-lapsed",
            at = desk.tell.near(at),
            holds = holds,
            pool = amounts.pool.as_str()
        )),
        Because::FilterStopped(_) => Some(msg!("setup-filter-stands", holds = holds)),
        _ => None,
    }
}

/// What a point of a pool's life means for what is called.
pub(super) fn life_note(desk: &Desk<'_>, id: PoolId) -> Option<String> {
    let pool = desk.place().pools.get(&id)?;
    let name = desk.tell.pool(id).to_lowercase();
    match pool.life {
        Life::InUse if pool.filter.is_some_and(|filter| filter.proven.is_none()) => {
            Some(desk.say(&msg!("setup-open-unproven", pool = name)))
        }
        Life::InUse => None,
        Life::Cycling if pool.filter.is_none() => Some(desk.say(&msg!("setup-cycling-bare", pool = name))),
        Life::Cycling => Some(desk.say(&msg!("setup-cycling", pool = name))),
        Life::Planned | Life::LeakTest | Life::OutOfUse => Some(desk.say(&msg!("setup-idle", pool = name))),
    }
}
