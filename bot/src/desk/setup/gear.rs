//! `/gear`: what is fitted to a pool, each piece with the moment from which it counts.

use jiff::Timestamp;
use wrackline_core::civil::seconds_between;
use wrackline_core::journal::{Event, GearChange};
use wrackline_core::particulars::GearFact;
use wrackline_core::place::{Fitted, Gear, Life, Pool, PoolId, Target};
use wrackline_core::quantity::plain;
use wrackline_core::water::cycle::Rules;

use super::{check, made, made_told, pools, receipt, spoken};
use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::{GearVerb, Spot};
use crate::msg;

fn fitted(pool: &Pool, gear: Gear) -> Option<Fitted> {
    match gear {
        Gear::Air => pool.air,
        Gear::Filter => pool.filter,
    }
}

/// How a piece of gear stands, in a few words.
pub(super) fn state(desk: &Desk<'_>, gear: Gear, fitted: Fitted) -> String {
    let name = spoken::gear(desk, gear);
    match fitted {
        Fitted {
            stopped: Some(at), ..
        } => desk.say(&msg!(
            "setup-gear-state-stopped",
            gear = name,
            at = desk.tell.near(at)
        )),
        Fitted { proven: None, .. } => desk.say(&msg!("setup-gear-state-unproven", gear = name)),
        Fitted { .. } => name,
    }
}

/// `/gear add|stop|start|retire SPOT air|filter`, `/gear set SPOT filter proven`: all of the pools, or none of them.
pub(super) fn change(
    desk: &Desk<'_>,
    spot: &Spot,
    gear: Gear,
    verb: GearVerb,
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let at = check::from(desk, from)?;
    if spot.pools.is_empty() {
        return Err(msg!("setup-gear-no-pool"));
    }
    if gear == Gear::Air && matches!(verb, GearVerb::Proven | GearVerb::Add { proven: true }) {
        return Err(msg!("setup-gear-air-proven"));
    }
    let mut drafts = Vec::new();
    let mut rested_h: f64 = 0.0;
    for id in &spot.pools {
        let pool = desk.place().pools.get(id).ok_or(msg!("setup-pool-gone"))?;
        let now = fitted(pool, gear);
        let change = fits(desk, pool, gear, verb, now)?;
        counts(desk, pool, gear, at)?;
        if let (GearVerb::Start, Some(stopped)) = (verb, now.and_then(|fitted| fitted.stopped)) {
            rested_h = rested_h.max(seconds_between(stopped, at) as f64 / 3600.0);
        }
        drafts.push(check::draft(desk, at, Event::Gear(*id, gear, change)));
    }
    let pools = spot.pools.clone();
    let rested_h = if gear == Gear::Filter { rested_h } else { 0.0 };
    Ok(Outcome::write(drafts, move |desk, _| {
        told(desk, &pools, gear, verb, at, rested_h)
    }))
}

/// `/gear set SPOT air|filter …`: what is told of gear that is fitted, of all of the pools, or of none.
pub(super) fn tell(
    desk: &Desk<'_>,
    spot: &Spot,
    gear: Gear,
    proven: bool,
    facts: Vec<GearFact>,
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let at = check::from(desk, from)?;
    let mut drafts = Vec::new();
    for id in &spot.pools {
        let pool = desk.place().pools.get(id).ok_or(msg!("setup-pool-gone"))?;
        let now = fitted(pool, gear);
        if now.is_none() {
            let (gear, pool) = (spoken::gear(desk, gear), desk.tell.pool(pool.id));
            return Err(msg!("setup-gear-not-fitted", gear = gear, pool = pool));
        }
        counts(desk, pool, gear, at)?;
        if proven {
            let change = fits(desk, pool, gear, GearVerb::Proven, now)?;
            drafts.push(check::draft(desk, at, Event::Gear(*id, gear, change)));
        }
        let mut after = pool.clone();
        for fact in &facts {
            match gear {
                Gear::Air if fact.is_of_air() => after.made.air.take(*fact),
                Gear::Filter if fact.is_of_filter() => after.made.filter.take(*fact),
                _ => {
                    return Err(msg!(
                        "made-not-of-gear",
                        fact = made_told::fact(desk, *fact),
                        gear = spoken::gear(desk, gear)
                    ));
                }
            }
            told_after(desk, pool, gear, *fact, at)?;
            drafts.push(check::draft(desk, at, Event::GearFact(*id, gear, *fact)));
        }
        made::gear(desk, &after, gear)?;
        made::pool(desk, &after, super::enclosures::known(desk, pool.enclosure)?)?;
    }
    let pools = spot.pools.clone();
    Ok(Outcome::write(drafts, move |desk, _| {
        let names: Vec<String> = pools.iter().map(|id| desk.tell.pool(*id)).collect();
        let told: Vec<String> = facts.iter().map(|fact| made_told::fact(desk, *fact)).collect();
        let title = msg!(
            "made-gear",
            pool = desk.tell.list(&names),
            gear = spoken::gear(desk, gear),
            facts = told.join(", ")
        );
        let proven = proven.then(|| {
            let id = title_id(gear, GearVerb::Proven);
            desk.say(&msg!(id, pool = desk.tell.list(&names), at = desk.tell.near(at)))
        });
        receipt::answer(desk, desk.say(&title), proven)
    }))
}

/// A fact that counts from before an earlier one of its kind would come to nothing.
fn told_after(
    desk: &Desk<'_>,
    pool: &Pool,
    gear: Gear,
    fact: GearFact,
    at: Timestamp,
) -> Result<(), Refused> {
    let kind = std::mem::discriminant(&fact);
    let same = |event: &Event| matches!(event, Event::GearFact(of, one, told) if *of == pool.id && *one == gear && std::mem::discriminant(told) == kind);
    match check::last_change(desk, same).filter(|last| at < *last) {
        Some(last) => Err(msg!(
            "setup-earlier",
            what = desk.tell.pool(pool.id),
            last = desk.tell.near(last)
        )),
        None => Ok(()),
    }
}

/// The change that a verb means for a pool, given what is fitted there.
fn fits(
    desk: &Desk<'_>,
    pool: &Pool,
    gear: Gear,
    verb: GearVerb,
    now: Option<Fitted>,
) -> Result<GearChange, Refused> {
    let refuse = |id: &'static str, at: Timestamp| {
        let (gear, pool) = (spoken::gear(desk, gear), desk.tell.pool(pool.id));
        Err(msg!(id, gear = gear, pool = pool, at = desk.tell.near(at)))
    };
    match (verb, now) {
        (GearVerb::Add { proven }, None) => Ok(GearChange::Added { proven }),
        (GearVerb::Add { .. }, Some(fitted)) => refuse("setup-gear-fitted", fitted.since),
        (_, None) => refuse("setup-gear-not-fitted", desk.now()),
        (
            GearVerb::Stop,
            Some(Fitted {
                stopped: Some(at), ..
            }),
        ) => refuse("setup-gear-stopped", at),
        (GearVerb::Stop, Some(_)) => Ok(GearChange::Stopped),
        (
            GearVerb::Start,
            Some(Fitted {
                stopped: None, since, ..
            }),
        ) => refuse("setup-gear-runs", since),
        (GearVerb::Start, Some(_)) => Ok(GearChange::Started),
        (GearVerb::Proven, Some(Fitted { proven: Some(at), .. })) => refuse("setup-gear-proven", at),
        (GearVerb::Proven, Some(_)) => Ok(GearChange::Proven),
        (GearVerb::Retire, Some(_)) => Ok(GearChange::Removed),
    }
}

/// Whether a change can count from a moment: not from before the pool, nor from before the gear's last change.
fn counts(desk: &Desk<'_>, pool: &Pool, gear: Gear, at: Timestamp) -> Result<(), Refused> {
    let set_up = pools::added_at(desk, pool.id);
    let name = desk.tell.pool(pool.id);
    if at < set_up {
        return Err(msg!(
            "setup-gear-before",
            pool = name,
            since = desk.tell.near(set_up)
        ));
    }
    let same = |event: &Event| matches!(event, Event::Gear(of, one, _) if *of == pool.id && *one == gear);
    match check::last_change(desk, same).filter(|last| at < *last) {
        Some(last) => {
            let gear = spoken::gear(desk, gear);
            Err(msg!(
                "setup-gear-earlier",
                pool = name,
                gear = gear,
                last = desk.tell.near(last)
            ))
        }
        None => Ok(()),
    }
}

fn title_id(gear: Gear, verb: GearVerb) -> String {
    let gear = if gear == Gear::Air { "air" } else { "filter" };
    let verb = match verb {
        GearVerb::Add { proven: false } => "added",
        GearVerb::Add { proven: true } => "added-proven",
        GearVerb::Stop => "stopped",
        GearVerb::Start => "started",
        GearVerb::Proven => "proven",
        GearVerb::Retire => "retired",
    };
    format!("setup-{gear}-{verb}")
}

fn told(
    desk: &Desk<'_>,
    pools: &[PoolId],
    gear: Gear,
    verb: GearVerb,
    at: Timestamp,
    rested_h: f64,
) -> Answer {
    let mut answer = match pools {
        [one] => one_pool(desk, *one, gear, verb, at),
        _ => {
            let names: Vec<String> = pools.iter().map(|id| desk.tell.pool(*id)).collect();
            let title = msg!(
                title_id(gear, verb),
                pool = desk.tell.list(&names),
                at = desk.tell.near(at)
            );
            let mut answer = desk.done(&title);
            let items = pools.iter().map(|id| desk.item(in_a_list(desk, *id)));
            answer.blocks.push(Block::Items {
                items: items.collect(),
            });
            answer
        }
    };
    let rules = Rules::default();
    if rested_h > rules.rinse.0 {
        let id = if rested_h > rules.stood.0 {
            "setup-filter-rested-long"
        } else {
            "setup-filter-rested"
        };
        let text = desk.say(&msg!(
            id,
            hours = plain(rested_h),
            rinse = rules.rinse.0,
            prove = rules.stood.0
        ));
        answer.blocks.push(Block::Caution { text });
    }
    if matches!(verb, GearVerb::Add { .. }) {
        answer.blocks.push(Block::Caution {
            text: desk.tell.word("setup-gear-mains"),
        });
    }
    answer
}

fn one_pool(desk: &Desk<'_>, id: PoolId, gear: Gear, verb: GearVerb, at: Timestamp) -> Answer {
    let title = msg!(
        title_id(gear, verb),
        pool = desk.tell.pool(id),
        at = desk.tell.near(at)
    );
    let coming = receipt::coming(desk, &[Target::Pool(id)]);
    let title = receipt::sentences([Some(desk.say(&title)), coming.next]);
    let notes = notes(desk, id);
    receipt::answer(desk, title, notes.into_iter().chain(coming.also))
}

fn in_a_list(desk: &Desk<'_>, id: PoolId) -> String {
    let coming = receipt::coming(desk, &[Target::Pool(id)]);
    let first = format!("{}:", desk.tell.pool(id));
    let notes = notes(desk, id).into_iter().map(Some);
    receipt::sentences([Some(first), coming.next].into_iter().chain(notes))
}

/// Which cadence holds now, and why.
fn notes(desk: &Desk<'_>, id: PoolId) -> Vec<String> {
    let pool = desk
        .place()
        .pools
        .get(&id)
        .filter(|pool| pool.life != Life::InUse);
    let idle = pool.map(|pool| {
        let life = spoken::life(desk, pool.life);
        desk.say(&msg!("setup-gear-idle", pool = desk.tell.pool(id), life = life))
    });
    idle.into_iter().chain(receipt::cadence_notes(desk, id)).collect()
}

/// `/gear list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let walk = desk.place().walk();
    let pools = walk.iter().flat_map(|one| desk.place().pools_of(one.id));
    let of = |pool: &Pool, gear| {
        fitted(pool, gear).map(|fitted| (made_told::state(desk, pool, gear, fitted), fitted))
    };
    let all = pools.flat_map(|pool| {
        [Gear::Air, Gear::Filter]
            .into_iter()
            .filter_map(move |gear| Some((pool.id, of(pool, gear)?)))
    });
    let rows: Vec<Vec<String>> = all
        .map(|(id, (state, fitted))| vec![desk.tell.pool(id), state, desk.tell.near(fitted.since)])
        .collect();
    if rows.is_empty() {
        return desk.done(&msg!("setup-gear-none"));
    }
    let mut answer = desk.done(&msg!("setup-gear-title", count = rows.len()));
    let head = ["setup-head-pool", "setup-head-gear", "setup-head-since"];
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table { head, rows });
    answer
}
