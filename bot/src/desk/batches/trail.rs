//! Where a batch went that proved wrong, and what brings each pool back.

use wrackline_core::care::Duty;
use wrackline_core::journal::{BatchChange, Event, Fault};
use wrackline_core::place::{Pool, Prepared, Target, Water};
use wrackline_core::quantity::{Litres, MilligramsPerLitre, Salinity, grams, plain};
use wrackline_core::water::batch::{
    Batch, BatchId, Fix, Found, Means, NEAR_ENOUGH, Reached, Trail, Wrong, litres,
};
use wrackline_core::water::conditioner::{Limit, highest};
use wrackline_core::water::instruments::salinity_of;
use wrackline_core::water::stock::{self, Stock};

use super::{DREGS_L, known, left, stock_of, told, with_undo};
use crate::chat::blocks::{Answer, Block};
use crate::desk::water::{STEP, authority};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::Suspect;
use crate::msg;

/// `/trail`: each pool that a batch reached, what is in it now, and the correction. A batch that proves wrong is set aside
/// by the same line.
///
/// # Errors
/// The batch was taken back, or what was read cannot be.
pub(super) fn trail(desk: &Desk<'_>, id: BatchId, suspect: Option<Suspect>) -> Result<Outcome, Refused> {
    let stock = stock_of(&desk.tell);
    let (prepared, batch) = known(desk, &stock, id)?;
    let Some(suspect) = suspect else {
        return Ok(Outcome::answer(where_to(desk, &stock, id)?));
    };
    let found = follow(desk, id, suspect)?;
    let mut answer = answer(desk, prepared, &batch, suspect, &found);
    match fault(desk, &batch, suspect, &found)? {
        Some(fault) => {
            let drafts = vec![desk.draft(Event::Batch(id, BatchChange::Wrong(fault)))];
            // What the line writes beside its answer stands right under the first line.
            let id = if left(&batch).0 < DREGS_L {
                "trail-saved"
            } else {
                "trail-set-aside"
            };
            let text = desk.say(&msg!(id, vessel = prepared.vessel.as_str()));
            answer.blocks.insert(1, Block::Text { text });
            Ok(Outcome::write(drafts, move |desk, numbers| {
                with_undo(desk, numbers, answer.clone())
            }))
        }
        None => Ok(Outcome::answer(answer)),
    }
}

/// How a batch is to be set aside, if it is not yet and there is something left of it. Untreated water in a pool is told
/// to all, so that is written whatever is left.
fn fault(desk: &Desk<'_>, batch: &Batch, suspect: Suspect, found: &Trail) -> Result<Option<Fault>, Refused> {
    let in_pools = matches!(suspect, Suspect::Unconditioned(_)) && !found.pools.is_empty();
    if batch.condemned || (left(batch).0 < DREGS_L && !in_pools) {
        return Ok(None);
    }
    Ok(match suspect {
        // What was not conditioned by the journal is kept back already, and what was conditioned later on is good.
        Suspect::Unconditioned(_) => {
            (batch.conditioned && !conditioned_later(desk, batch)).then_some(Fault::Unconditioned)
        }
        Suspect::Salinity(read) => {
            let read = salinity_of(&read).map_err(|_| msg!("batch-salt-unreadable"))?;
            let off = (read.salinity.0 - batch.salinity.0).abs() >= NEAR_ENOUGH.0;
            off.then_some(Fault::Salinity)
        }
    })
}

/// Whether a batch was conditioned in its vessel after it was made: what is left of it is good.
fn conditioned_later(desk: &Desk<'_>, batch: &Batch) -> bool {
    desk.book().entries().any(|entry| {
        matches!(entry.event, Event::Batch(id, BatchChange::Conditioned { .. }) if id == batch.id)
            && !desk.book().is_void(entry.seq)
    })
}

/// Follows a batch.
fn follow(desk: &Desk<'_>, id: BatchId, suspect: Suspect) -> Result<Trail, Refused> {
    let wrong = match suspect {
        Suspect::Unconditioned(mg_l) => {
            Wrong::Chlorine(mg_l.map_or_else(|| tap_most(desk).most, MilligramsPerLitre))
        }
        Suspect::Salinity(read) => Wrong::Salinity(
            salinity_of(&read)
                .map_err(|_| msg!("batch-salt-unreadable"))?
                .salinity,
        ),
    };
    let vessel = desk.place().batches.get(&id).map(|batch| batch.vessel.clone());
    let refused = |_| msg!("trail-cannot", vessel = vessel.clone().unwrap_or_default());
    stock::trail(desk.book(), desk.place(), desk.now(), (id, wrong), &means(desk)).map_err(refused)
}

/// What is at hand by the place's supplies, for the corrections.
fn means(desk: &Desk<'_>) -> Means {
    let supplies = &desk.place().supplies;
    let dose = supplies.conditioner.as_ref().and_then(|one| {
        one.label()
            .dose_for(Litres(one.per_l), supplies.mains())
            .ok()
            .map(|dose| (one, dose))
    });
    // Without a word of its own a salt pool is to have what it was believed to have; a fresh one never has salt.
    let target = |pool: &Pool| match pool.water {
        Water::Fresh => Some((pool.id, Salinity(0.0))),
        Water::Salt => supplies.target.map(|_| (pool.id, supplies.wanted())),
    };
    Means {
        product: supplies.factor(),
        label: dose.map(|(one, dose)| (dose.amount, Litres(one.per_l))),
        targets: desk.place().pools.values().filter_map(target).collect(),
    }
}

/// The most that the place's tap water is allowed to hold of its disinfectant, where nobody read it.
fn tap_most(desk: &Desk<'_>) -> Limit {
    highest(desk.place().supplies.mains())
}

/// Where a batch went, while nothing is known to be wrong with it.
fn where_to(desk: &Desk<'_>, stock: &Stock, id: BatchId) -> Result<Answer, Refused> {
    let (prepared, batch) = known(desk, stock, id)?;
    let same = Wrong::Salinity(batch.salinity);
    let vessel = prepared.vessel.as_str();
    let refused = |_| msg!("trail-cannot", vessel = vessel);
    let found = stock.ledger.trail(id, same, &means(desk)).map_err(refused)?;
    let pools: Vec<String> = found.pools.iter().map(|one| desk.tell.pool(one.pool)).collect();
    let title = if pools.is_empty() {
        msg!("trail-nowhere", vessel = vessel)
    } else {
        msg!("trail-where", vessel = vessel, pools = desk.tell.list(&pools))
    };
    let mut answer = desk.done(&title);
    let items: Vec<_> = found
        .pools
        .iter()
        .map(|one| {
            let text = match one.found {
                Found::Gone => desk.say(&gone(desk, one)),
                _ if is_salted(desk, one) => line(desk, &batch, one),
                _ => desk.say(&msg!(
                    "trail-share",
                    target = desk.tell.pool(one.pool),
                    percent = plain(one.share * 100.0),
                    went = went(desk, &batch, one)
                )),
            };
            desk.item(text)
        })
        .collect();
    if !items.is_empty() {
        answer.blocks.push(Block::Items { items });
    }
    answer.blocks.push(in_vessel(desk, prepared, &batch, None));
    Ok(answer)
}

/// Whether salt water stands in a fresh pool: that wants a correction, whatever the batch was.
fn is_salted(desk: &Desk<'_>, one: &Reached) -> bool {
    let pool = desk.place().pools.get(&one.pool);
    pool.is_some_and(|pool| pool.water == Water::Fresh) && one.fix != Fix::Nothing
}

/// The pools that a batch of another salinity reached, told as blocks beside another answer; none where it reached none.
///
/// # Errors
/// As [`trail`].
pub(super) fn reached(
    desk: &Desk<'_>,
    stock: &Stock,
    id: BatchId,
    suspect: Suspect,
) -> Result<Vec<Block>, Refused> {
    let (_, batch) = known(desk, stock, id)?;
    let found = follow(desk, id, suspect)?;
    let batch = truly(&batch, &found);
    if found.pools.is_empty() {
        return Ok(Vec::new());
    }
    let text = desk.tell.word("trail-reached-before");
    let items = found
        .pools
        .iter()
        .map(|one| desk.item(line(desk, &batch, one)))
        .collect();
    Ok(vec![Block::Text { text }, Block::Items { items }])
}

/// A batch with the salinity that it had in truth, by which its litres are told.
fn truly(batch: &Batch, found: &Trail) -> Batch {
    let salinity = match found.wrong {
        Wrong::Salinity(salinity) => salinity,
        Wrong::Chlorine(_) => batch.salinity,
    };
    Batch { salinity, ..*batch }
}

fn answer(desk: &Desk<'_>, prepared: &Prepared, batch: &Batch, suspect: Suspect, found: &Trail) -> Answer {
    let mut answer = desk.done(&title(desk, prepared, found));
    let poured = truly(batch, found);
    let items: Vec<_> = found
        .pools
        .iter()
        .map(|one| desk.item(line(desk, &poured, one)))
        .collect();
    let some = !items.is_empty();
    if some {
        answer.blocks.push(Block::Items { items });
    }
    let untreated = matches!(suspect, Suspect::Unconditioned(_));
    if untreated && some {
        let said = matches!(suspect, Suspect::Unconditioned(Some(_)));
        let limit = tap_most(desk);
        let text = if said {
            desk.tell.word("trail-rests-said")
        } else {
            let who = desk.tell.word(authority(&limit));
            desk.say(&msg!("trail-rests-limit", most = plain(limit.most.0), who = who))
        };
        answer.blocks.push(Block::Text { text });
        let text = desk.tell.word("caution-vet");
        answer.blocks.push(Block::Caution { text });
    }
    if let Suspect::Salinity(read) = suspect
        && some
    {
        let beyond = salinity_of(&read).is_ok_and(|read| !read.beyond.is_empty());
        let id = if beyond {
            "trail-rests-beyond"
        } else {
            "trail-rests"
        };
        let text = desk.say(&msg!(id, step = plain(STEP)));
        answer.blocks.push(Block::Text { text });
    }
    answer
        .blocks
        .push(in_vessel(desk, prepared, batch, Some(suspect)));
    answer
}

/// The first line: what to do, at which pools.
fn title(desk: &Desk<'_>, prepared: &Prepared, found: &Trail) -> crate::words::Message {
    let vessel = prepared.vessel.as_str();
    if found.pools.is_empty() {
        return msg!("trail-nowhere", vessel = vessel);
    }
    // A pool that was conditioned since needs no further dose.
    let untreated =
        |one: &&Reached| !matches!(found.wrong, Wrong::Chlorine(_)) || conditioned_since(desk, one).is_none();
    let open: Vec<&Reached> = found
        .pools
        .iter()
        .filter(|one| one.fix != Fix::Nothing)
        .filter(untreated)
        .collect();
    let names: Vec<String> = found.pools.iter().map(|one| desk.tell.pool(one.pool)).collect();
    let names = desk.tell.list(&names);
    match (open.as_slice(), found.wrong) {
        ([], _) => msg!("trail-nothing-to-do", vessel = vessel, pools = names),
        (open, Wrong::Chlorine(_)) => {
            let pools: Vec<String> = open
                .iter()
                .map(|one| told::to_condition(&desk.tell, one.pool, one.litres))
                .collect();
            msg!(
                "trail-condition-first",
                vessel = vessel,
                pools = desk.tell.list(&pools)
            )
        }
        ([one], Wrong::Salinity(_)) => msg!(
            "trail-mend-one",
            target = desk.tell.pool(one.pool),
            fix = fix(desk, one),
            step = plain(STEP),
            vessel = vessel
        ),
        (open, Wrong::Salinity(_)) => {
            let pools: Vec<String> = open.iter().map(|one| desk.tell.pool(one.pool)).collect();
            msg!(
                "trail-mend-several",
                vessel = vessel,
                pools = desk.tell.list(&pools)
            )
        }
    }
}

/// What of a batch went into a pool, and since when.
fn went(desk: &Desk<'_>, batch: &Batch, one: &Reached) -> String {
    let drawn = litres(one.drawn, batch.salinity).unwrap_or(Litres(0.0));
    desk.say(&msg!(
        "trail-went",
        amount = desk.tell.litres(drawn.0),
        since = desk.tell.near(one.first)
    ))
}

fn gone(desk: &Desk<'_>, one: &Reached) -> crate::words::Message {
    msg!(
        "trail-gone",
        target = desk.tell.pool(one.pool),
        since = desk.tell.near(one.first)
    )
}

/// One pool: what is in it now, and the correction.
fn line(desk: &Desk<'_>, batch: &Batch, one: &Reached) -> String {
    let target = desk.tell.pool(one.pool);
    let went = went(desk, batch, one);
    match one.found {
        Found::Gone => desk.say(&gone(desk, one)),
        Found::Chlorine(now) => {
            let text = desk.say(&msg!(
                "trail-chlorine",
                target = target,
                now = plain(now.0),
                percent = plain(one.share * 100.0),
                went = went
            ));
            match conditioned_since(desk, one) {
                Some(at) => {
                    let since = desk.say(&msg!("trail-conditioned-since", at = at));
                    format!("{text} {since}")
                }
                None => text,
            }
        }
        Found::Salinity { now, believed } => desk.say(&msg!(
            "trail-salinity",
            target = target,
            now = told::salt(&desk.tell, now),
            believed = told::salt(&desk.tell, believed),
            went = went,
            fix = fix(desk, one)
        )),
    }
}

/// When the pool itself was last conditioned after the batch reached it.
fn conditioned_since(desk: &Desk<'_>, one: &Reached) -> Option<String> {
    let done = desk
        .book()
        .done_until(Duty::Condition, Target::Pool(one.pool), desk.now())
        .rfind(|done| done.duty == Duty::Condition && done.at >= one.first)?;
    Some(desk.tell.near(done.at))
}

/// The correction of one pool in words.
fn fix(desk: &Desk<'_>, one: &Reached) -> String {
    match one.fix {
        Fix::Nothing => desk.tell.word("fix-nothing"),
        Fix::Condition { litres, dose } => match dose {
            Some(dose) => desk.say(&msg!("fix-condition-dose", ml = plain(dose.0))),
            None => desk.say(&msg!("fix-condition", amount = desk.tell.litres(litres.0))),
        },
        Fix::Change { share, .. } => desk.say(&msg!(
            "fix-change",
            amount = desk.tell.litres(one.litres.0 * share),
            percent = plain(share * 100.0)
        )),
        Fix::Salt { grams: dry, product } => {
            let mass = grams(product.0, desk.place().units);
            desk.say(&if product == dry {
                msg!("fix-salt", mass = mass)
            } else {
                msg!("fix-salt-product", mass = mass)
            })
        }
    }
}

/// What is left in the vessel, and what becomes of it.
fn in_vessel(desk: &Desk<'_>, prepared: &Prepared, batch: &Batch, suspect: Option<Suspect>) -> Block {
    let vessel = prepared.vessel.as_str();
    let held = left(batch).0;
    let amount = told::amount(&desk.tell, held, batch.water);
    let text = match (held < DREGS_L, suspect) {
        (true, _) => msg!("trail-vessel-empty", vessel = vessel),
        (false, None) => msg!("trail-vessel", vessel = vessel, amount = amount),
        (false, Some(Suspect::Unconditioned(_))) if conditioned_later(desk, batch) => {
            msg!("trail-vessel-conditioned", vessel = vessel, amount = amount)
        }
        (false, Some(Suspect::Unconditioned(_))) => {
            msg!("trail-vessel-untreated", vessel = vessel, amount = amount)
        }
        (false, Some(Suspect::Salinity(_))) if batch.water == Water::Salt => {
            msg!("trail-vessel-salt", vessel = vessel, amount = amount)
        }
        (false, Some(Suspect::Salinity(_))) => {
            msg!("trail-vessel-salted", vessel = vessel, amount = amount)
        }
    };
    Block::Text {
        text: desk.say(&text),
    }
}
