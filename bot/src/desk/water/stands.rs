//! `/mix SPOT from 30 to 35`: a pool that stands is raised or lowered.

use wrackline_core::place::{Pool, Target, Water as PoolWater};
use wrackline_core::quantity::{Celsius, Kind, Litres, Measured, Salinity};
use wrackline_core::water::mixing::{self, Water, mass_of};
use wrackline_core::water::seawater::density;

use super::changes::volume;
use super::made::{ROOM, salinity};
use super::{Sheet, no, said};
use crate::chat::blocks::Answer;
use crate::desk::{Desk, Refused};
use crate::lines::ask::MixStands;
use crate::msg;

/// How far a pool's salinity is moved in a day, in g/kg: common practice, no published source.
pub(in crate::desk) const STEP: f64 = 2.0;

/// Two salinities nearer than this are the same to every instrument of a household.
const SAME: f64 = 0.05;

/// A pool and where it is to go.
struct Task<'a> {
    name: String,
    litres: Litres,
    start: Salinity,
    target: Salinity,
    /// What is put in; `None`: salt, dissolved in water of the pool's own.
    with: Option<Salinity>,
    at: Celsius,
    read: Option<String>,
    desk: &'a Desk<'a>,
}

/// One day of it.
struct Day {
    out: Litres,
    back: String,
    then: Salinity,
}

/// A pool that stands, from one salinity to another.
///
/// # Errors
/// One sentence about what cannot be.
pub(super) fn stands(desk: &Desk<'_>, ask: &MixStands) -> Result<Answer, Refused> {
    let task = task(desk, ask)?;
    let (start, target) = (task.start.0, task.target.0);
    if (target - start).abs() < SAME {
        return Ok(desk.done(&msg!(
            "mix-stands-nothing",
            pool = task.name,
            salinity = said::salinity(task.start)
        )));
    }
    // What cannot be reached at once cannot be reached in steps either, and is told by the numbers that were said.
    go(&task, task.start, task.target)?;
    let days = days(&task)?;
    let first = &days[0];
    let id = match (task.with, days.len()) {
        (None, 1) => "mix-stands-raise",
        (None, _) => "mix-stands-raise-days",
        (Some(_), 1) => "mix-stands-swap",
        (Some(_), _) => "mix-stands-swap-days",
    };
    let place = desk.place();
    let title = msg!(
        id,
        pool = task.name.as_str(),
        litres = said::volume(place, task.litres),
        start = said::salinity(task.start),
        target = said::salinity(task.target),
        out = said::volume(place, first.out),
        back = first.back.as_str(),
        count = days.len()
    );
    let mut sheet = Sheet::new(desk, &title);
    if days.len() > 1 {
        let row = |(number, day): (usize, &Day)| {
            vec![
                number.to_string(),
                said::volume(place, day.out),
                day.back.clone(),
                said::salinity(day.then),
            ]
        };
        let rows = (1..).zip(&days).map(row).collect();
        sheet.table(
            &["mix-head-day", "mix-head-out", "mix-head-in", "mix-head-then"],
            rows,
        );
        at_once(&mut sheet, &task)?;
        sheet.text(&msg!("mix-stands-step", step = said::two(STEP)));
    }
    beside(&mut sheet, &task)?;
    Ok(sheet.answer)
}

fn task<'a>(desk: &'a Desk<'a>, ask: &MixStands) -> Result<Task<'a>, Refused> {
    let place = desk.place();
    let pool: Option<&Pool> = ask.pool.and_then(|id| place.pools.get(&id));
    if let Some(pool) = pool.filter(|pool| pool.water == PoolWater::Fresh) {
        return Err(msg!("mix-no-fresh-pool", pool = desk.tell.pool(pool.id)));
    }
    let name = pool.map_or_else(|| desk.tell.word("mix-the-pool"), |pool| desk.tell.pool(pool.id));
    let litres = ask
        .litres
        .or(pool.map(|pool| pool.litres))
        .ok_or(msg!("mix-no-pools", units = said::units(place)))?;
    let (start, read) = match (&ask.start, pool) {
        (Some(said), _) => (salinity(said)?, None),
        (None, Some(pool)) => last_read(desk, pool)?,
        (None, None) => return Err(msg!("mix-no-start", pool = name)),
    };
    let target = salinity(&ask.target)?;
    let with = match &ask.with {
        Some(said) => Some(salinity(said)?),
        None if target.0 < start.0 => Some(place.supplies.tap()),
        None => None,
    };
    Ok(Task {
        name,
        litres: Litres(litres),
        start,
        target,
        with,
        at: ask.at_c.map_or(ROOM, Celsius),
        read,
        desk,
    })
}

/// What was read last of a pool's salt, and when.
fn last_read(desk: &Desk<'_>, pool: &Pool) -> Result<(Salinity, Option<String>), Refused> {
    let kinds = [Kind::Salinity, Kind::Gravity, Kind::Conductivity];
    let last = kinds
        .into_iter()
        .filter_map(|kind| desk.book().last_reading(Target::Pool(pool.id), kind, desk.now()))
        .max_by_key(|(at, seq, _): &(_, _, Measured)| (*at, *seq));
    let Some((at, _, measured)) = last else {
        return Err(msg!("mix-no-start", pool = desk.tell.pool(pool.id)));
    };
    Ok((salinity(&measured)?, Some(desk.tell.near(at))))
}

fn water(task: &Task<'_>, of: Salinity) -> Result<Water, Refused> {
    let dense = density(of, task.at).map_err(|error| no::seawater(&error))?;
    mass_of(task.litres, dense)
        .and_then(|mass| Water::new(mass, of))
        .map_err(|problem| no::mixture(&problem))
}

/// What is done in one go to come from one salinity to another.
fn go(task: &Task<'_>, from: Salinity, to: Salinity) -> Result<Day, Refused> {
    let place = task.desk.place();
    let pool = water(task, from)?;
    let Some(new) = task.with else {
        let raise =
            mixing::raise(pool, to, place.supplies.factor()).map_err(|problem| no::mixture(&problem))?;
        return Ok(Day {
            out: volume(raise.draw, from, task.at)?,
            back: said::mass(place, raise.product),
            then: to,
        });
    };
    let swap = mixing::swap(pool, to, new).map_err(|problem| no::mixture(&problem))?;
    Ok(Day {
        out: volume(swap.out, from, task.at)?,
        back: said::volume(place, volume(swap.new.mass(), new, task.at)?),
        then: to,
    })
}

/// Steps of equal size, none larger than what a day takes.
fn days(task: &Task<'_>) -> Result<Vec<Day>, Refused> {
    let (start, way) = (task.start.0, task.target.0 - task.start.0);
    // At most 60 g/kg by 2 a day.
    let count = (way.abs() / STEP - 1e-9).ceil().max(1.0);
    let at = |step: f64| Salinity(start + way * (step / count));
    (0..count as u32)
        .map(|step| {
            let step = f64::from(step);
            let to = if step + 1.0 >= count {
                task.target
            } else {
                at(step + 1.0)
            };
            go(task, at(step), to)
        })
        .collect()
}

/// What it would be at once, and how much of the pool at once stays within a day's step.
fn at_once(sheet: &mut Sheet<'_, '_>, task: &Task<'_>) -> Result<(), Refused> {
    let place = task.desk.place();
    let once = go(task, task.start, task.target)?;
    let Some(new) = task.with else {
        sheet.text(&msg!("mix-stands-once-raise", back = once.back));
        return Ok(());
    };
    let pool = water(task, task.start)?;
    let swap = mixing::swap(pool, task.target, new).map_err(|problem| no::mixture(&problem))?;
    let most = mixing::largest_swap(pool, new, STEP).map_err(|problem| no::mixture(&problem))?;
    sheet.text(&msg!(
        "mix-stands-once-swap",
        out = said::volume(place, once.out),
        part = said::percent(swap.fraction),
        most = said::percent(most)
    ));
    Ok(())
}

/// What holds beside the figures: how the salt goes in, that evaporation is made up with fresh water, what it rests on.
fn beside(sheet: &mut Sheet<'_, '_>, task: &Task<'_>) -> Result<(), Refused> {
    let place = task.desk.place();
    if let Some(when) = &task.read {
        sheet.text(&msg!(
            "mix-stands-read",
            salinity = said::salinity(task.start),
            when = when.as_str()
        ));
    }
    match task.with {
        None => sheet.text(&msg!("mix-stands-how-raise")),
        Some(new) if new.0 > 0.0 => {
            sheet.text(&msg!("mix-stands-how-with", salinity = said::salinity(new)));
        }
        Some(_) => sheet.text(&msg!("mix-stands-how-fresh")),
    }
    if task.target.0 < task.start.0 && task.target.0 > 0.0 {
        let more =
            mixing::top_up(water(task, task.start)?, task.target).map_err(|problem| no::mixture(&problem))?;
        sheet.text(&msg!(
            "mix-stands-low",
            more = said::volume(place, volume(more, Salinity(0.0), task.at)?),
            target = said::salinity(task.target)
        ));
    }
    sheet.text(&msg!("mix-top-up"));
    sheet.caution(&msg!("mix-caution"));
    sheet.text(&msg!("mix-rests-stands"));
    Ok(())
}
