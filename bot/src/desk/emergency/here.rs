//! What is known of this place that a card needs.

use wrackline_core::air::{HIGH_LIMIT_H, HIGH_PERCENT, Side};
use wrackline_core::civil::plus_minutes;
use wrackline_core::place::{Fitted, Pool, Target, Water};
use wrackline_core::quantity::{Celsius, Kind, Litres, Measured, Salinity, plain};
use wrackline_core::water::mixing::{self, mass_of, swap, volume_of};
use wrackline_core::water::seawater::density;

use crate::desk::Desk;
use crate::desk::cycle::free::last_salinity;
use crate::desk::how::means;
use crate::msg;

/// The temperature at which pool water is weighed; between 20 and 30 °C its density differs by less than 0.3 %.
const WARM: Celsius = Celsius(25.0);

/// How far back a spell is sought, in minutes: 60 days.
const SPELLS_BACK_MIN: i64 = 60 * 24 * 60;

/// All pools in walking order.
fn pools<'a>(desk: &Desk<'a>) -> impl Iterator<Item = &'a Pool> {
    let place = desk.place();
    let walk = place.walk().into_iter();
    walk.flat_map(move |enclosure| place.pools_of(enclosure.id))
}

/// How much water stands in which pool.
pub(super) fn at_stake(desk: &Desk<'_>) -> Vec<String> {
    let one = |pool: &Pool| {
        desk.say(&msg!(
            "emergency-at-stake-pool",
            pool = desk.tell.pool(pool.id),
            litres = desk.tell.litres(pool.litres)
        ))
    };
    let all: Vec<String> = pools(desk).map(one).collect();
    let said = (!all.is_empty()).then(|| desk.say(&msg!("emergency-at-stake", pools = all.join(", "))));
    said.into_iter().collect()
}

/// Which gear stops without power.
pub(super) fn gear(desk: &Desk<'_>) -> Vec<String> {
    let with = |fitted: fn(&Pool) -> Option<Fitted>| {
        let runs = move |pool: &&Pool| fitted(pool).is_some_and(|one| one.stopped.is_none());
        let names: Vec<String> = pools(desk)
            .filter(runs)
            .map(|pool| desk.tell.pool(pool.id))
            .collect();
        (!names.is_empty()).then(|| desk.tell.list(&names))
    };
    let filters = with(|pool| pool.filter).map(|pools| msg!("emergency-filters", pools = pools));
    let airs = with(|pool| pool.air).map(|pools| msg!("emergency-airs", pools = pools));
    let mut all: Vec<_> = [filters, airs].into_iter().flatten().collect();
    if all.is_empty() {
        all.push(msg!("emergency-no-gear"));
    }
    all.iter().map(|message| desk.say(message)).collect()
}

/// How much water is to be treated in which pool.
pub(super) fn to_treat(desk: &Desk<'_>) -> Vec<String> {
    let one = |pool: &Pool| {
        let (name, litres) = (desk.tell.pool(pool.id), desk.tell.litres(pool.litres));
        match crate::desk::water::dose(desk.place(), Litres(pool.litres)) {
            Some(dose) => desk.say(&msg!(
                "emergency-treat-label",
                pool = name,
                litres = litres,
                dose = dose
            )),
            None => desk.say(&msg!("emergency-treat", pool = name, litres = litres)),
        }
    };
    pools(desk).map(one).collect()
}

/// How much of each salt pool is to be swapped, by its last reading.
pub(super) fn salty(desk: &Desk<'_>) -> Vec<String> {
    let salt: Vec<&Pool> = pools(desk).filter(|pool| pool.water == Water::Salt).collect();
    let fresh = crate::desk::batches::salted_fresh(desk, |_| true);
    if salt.is_empty() && fresh.is_none() {
        return vec![desk.tell.word("emergency-salt-none")];
    }
    let of_salt = salt.into_iter().map(|pool| salty_pool(desk, pool));
    fresh.into_iter().chain(of_salt).collect()
}

fn salty_pool(desk: &Desk<'_>, pool: &Pool) -> String {
    let (name, target) = (desk.tell.pool(pool.id), means(desk.place()).target);
    let Some((at, now)) = last_salinity(&desk.tell, pool.id) else {
        let spot = name.to_lowercase();
        return desk.say(&msg!("emergency-salty-unread", pool = name, spot = spot));
    };
    let (read, at) = (plain((now.0 * 10.0).round() / 10.0), desk.tell.near(at));
    match to_swap(pool, now, target, means(desk.place()).tap) {
        Some(out) => desk.say(&msg!(
            "emergency-swap",
            pool = name,
            now = read,
            at = at,
            out = desk.tell.litres(out.0),
            litres = desk.tell.litres(pool.litres),
            target = plain(target.0)
        )),
        None => desk.say(&msg!(
            "emergency-salty-not",
            pool = name,
            now = read,
            at = at,
            target = plain(target.0)
        )),
    }
}

/// The water to take out of a pool and to replace by fresh water; `None` where it holds no more than the target.
fn to_swap(pool: &Pool, now: Salinity, target: Salinity, tap: Salinity) -> Option<Litres> {
    let density = density(now, WARM).ok()?;
    let water = mixing::Water::new(mass_of(Litres(pool.litres), density).ok()?, now).ok()?;
    let swap = swap(water, target, tap).ok()?;
    volume_of(swap.out, density).ok()
}

/// Spells over the band that are open.
pub(super) fn spells(desk: &Desk<'_>) -> Vec<String> {
    let since = plus_minutes(desk.now(), -SPELLS_BACK_MIN);
    let limit = plain(HIGH_PERCENT);
    let mut lines = Vec::new();
    for enclosure in desk.place().walk() {
        let target = Target::Enclosure(enclosure.id);
        let all = desk.book().readings(target, Kind::Humidity, since, desk.now());
        let percents = all.filter_map(|(at, measured)| match measured {
            Measured::Humidity(percent) => Some((at, percent)),
            _ => None,
        });
        let open = wrackline_core::air::spells(percents).pop();
        let Some(spell) = open.filter(|spell| spell.side == Side::High && spell.ended.is_none()) else {
            continue;
        };
        lines.push(desk.say(&msg!(
            "emergency-spell",
            name = enclosure.name.as_str(),
            limit = limit.as_str(),
            from = desk.tell.moment(spell.from),
            hours = plain(spell.hours().floor()),
            latest = format!("{} %", plain(spell.latest))
        )));
    }
    if lines.is_empty() {
        lines.push(desk.say(&msg!("emergency-spell-none", limit = limit)));
    }
    lines.push(desk.say(&msg!("emergency-spell-alarm", hours = HIGH_LIMIT_H)));
    lines
}
