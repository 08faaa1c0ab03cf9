//! What holds beside the turns: where things stand, what is normal and what is not, whom to call, what can hurt.

use wrackline_core::air::{BAND_CELSIUS, BAND_PERCENT, HIGH_LIMIT_H, HIGH_PERCENT, LOW_LIMIT_H, LOW_PERCENT};
use wrackline_core::care::Mark;
use wrackline_core::journal::{Matter, Sighting, When};
use wrackline_core::matter::is_private;
use wrackline_core::place::{CarerId, Enclosure, Pool, Role, Target, Water};
use wrackline_core::quantity::{Kind, celsius, grams, plain, show};

use super::Sheet;
use crate::desk::batches;
use crate::desk::cycle::free::last_salinity;
use crate::desk::due::when;
use crate::desk::how;
use crate::desk::sightings::sighting_word;
use crate::desk::water::{amounts, used};
use crate::desk::{Desk, water};
use crate::msg;

/// A litre of water in grams, as near as a back needs to know.
const GRAMS_PER_LITRE: f64 = 1_000.0;

/// The water of all changes of the span together, so that nothing runs out on the way.
pub(super) fn water_of_all(desk: &Desk<'_>, sheet: &Sheet) -> Option<String> {
    let amounts = amounts(&desk.tell, &sheet.turns.changes)?;
    Some(desk.say(&msg!("sheet-water", amounts = amounts)))
}

/// The enclosures in walking order with their rooms and pools.
pub(super) fn stands(desk: &Desk<'_>) -> Vec<String> {
    let enclosures = desk.place().walk().into_iter();
    (1..)
        .zip(enclosures)
        .map(|(number, one)| stand(desk, number, one))
        .collect()
}

fn stand(desk: &Desk<'_>, number: usize, one: &Enclosure) -> String {
    let pools = desk.place().pools_of(one.id).into_iter();
    let pools: Vec<String> = pools.map(|pool| stand_of_pool(desk, pool)).collect();
    let name = desk.tell.target_on_the_way(Target::Enclosure(one.id));
    desk.say(&msg!(
        "sheet-stands",
        number = number,
        name = name,
        crabs = one.crabs,
        pools = pools.join("; ")
    ))
}

fn stand_of_pool(desk: &Desk<'_>, pool: &Pool) -> String {
    let runs = |fitted: Option<wrackline_core::place::Fitted>, id: &'static str| {
        fitted
            .filter(|fitted| fitted.stopped.is_none())
            .map(|_| desk.tell.word(id))
    };
    let is = |is: bool, id: &'static str| is.then(|| desk.tell.word(id));
    let parts = [
        Some(desk.tell.water(pool.water)),
        Some(desk.tell.litres(pool.litres)),
        is(pool.nested, "sheet-nested"),
        is(!pool.removable, "sheet-stays"),
        runs(pool.filter, "gear-filter"),
        runs(pool.air, "gear-air"),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What water is made with, and what is prepared.
pub(super) fn supplies(desk: &Desk<'_>, sheet: &Sheet) -> Vec<String> {
    let supplies = &desk.place().supplies;
    let conditioner = supplies.conditioner.as_ref().map_or_else(
        || desk.say(&msg!("mix-dose-none", units = water::units(desk.place()))),
        |own| desk.say(&water::label(&desk.tell, own)),
    );
    let salt = supplies
        .salt
        .as_ref()
        .map(|name| desk.say(&msg!("sheet-salt", name = name.as_str())));
    let holds_salt = desk.place().pools.values().any(|pool| pool.water == Water::Salt);
    let rests = holds_salt.then(|| how::rests(desk));
    let all = [Some(conditioner), salt, rests, water_of_all(desk, sheet)];
    let prepared = batches::lines(&desk.tell);
    all.into_iter().flatten().chain(prepared).collect()
}

/// The ranges that are to be kept, and the last readings.
pub(super) fn normal(desk: &Desk<'_>) -> Vec<String> {
    let units = desk.place().units;
    let (low, high) = BAND_PERCENT;
    let (cold, warm) = BAND_CELSIUS;
    let bands = desk.say(&msg!(
        "sheet-bands",
        low = plain(low),
        high = plain(high),
        cold = celsius(cold, units),
        warm = celsius(warm, units)
    ));
    let pools = desk.say(&msg!(
        "sheet-pools",
        target = plain(desk.place().supplies.wanted().0)
    ));
    let read = desk.place().walk().into_iter().flat_map(|one| {
        let pools = desk.place().pools_of(one.id).into_iter();
        let pools = pools.filter_map(|pool| last_salt(desk, pool));
        last_air(desk, one).into_iter().chain(pools).collect::<Vec<_>>()
    });
    [bands, pools].into_iter().chain(read).collect()
}

fn last_air(desk: &Desk<'_>, one: &Enclosure) -> Option<String> {
    let target = Target::Enclosure(one.id);
    let last = |kind| desk.book().last_reading(target, kind, desk.now());
    let read: Vec<_> = [Kind::Humidity, Kind::Temperature]
        .into_iter()
        .filter_map(last)
        .collect();
    let at = read.iter().map(|(at, ..)| *at).max()?;
    let shown: Vec<String> = read
        .iter()
        .map(|(_, _, measured)| show(measured, desk.place().units))
        .collect();
    let (shown, at) = (shown.join(", "), desk.tell.moment(at));
    Some(desk.say(&msg!(
        "sheet-read",
        target = one.name.as_str(),
        shown = shown,
        at = at
    )))
}

fn last_salt(desk: &Desk<'_>, pool: &Pool) -> Option<String> {
    let (at, salinity) = last_salinity(&desk.tell, pool.id).filter(|_| pool.water == Water::Salt)?;
    let shown = format!("{} g/kg", plain((salinity.0 * 10.0).round() / 10.0));
    let (target, at) = (desk.tell.pool(pool.id), desk.tell.moment(at));
    Some(desk.say(&msg!("sheet-read", target = target, shown = shown, at = at)))
}

/// What is not normal: limits that raise an alarm, what to say when it is seen, and what is so already.
pub(super) fn not_normal(desk: &Desk<'_>) -> Vec<String> {
    let limits = desk.say(&msg!(
        "sheet-limits",
        low = plain(LOW_PERCENT),
        lowhours = LOW_LIMIT_H,
        high = plain(HIGH_PERCENT),
        highhours = HIGH_LIMIT_H
    ));
    let words: Vec<String> = Sighting::ALL
        .into_iter()
        .map(|one| desk.tell.word(sighting_word(one)))
        .collect();
    let first = desk
        .place()
        .walk()
        .into_iter()
        .find_map(|one| desk.place().pools_of(one.id).first().copied());
    let spot = first.map_or_else(
        || desk.tell.word("how-spot"),
        |pool| desk.tell.pool(pool.id).to_lowercase(),
    );
    let see = desk.say(&msg!("sheet-see", what = words.join(", "), spot = spot));
    // Sickness is the keepers' to tell.
    let is_told = |one: &Matter| one.closed.is_none() && !is_private(one.sighting);
    let open = desk.book().matters(desk.now()).filter(is_told);
    let open = open.map(|matter| {
        desk.say(&msg!(
            "sheet-open",
            target = desk.tell.target(matter.target),
            what = desk.tell.word(sighting_word(matter.sighting)),
            at = desk.tell.moment(matter.at)
        ))
    });
    let late = desk.board().into_iter().filter(|one| one.mark >= Mark::Overdue);
    let late = late.map(|standing| {
        let (turn, when) = (desk.tell.turn(&standing), when(&desk.tell, &standing));
        desk.say(&msg!("sheet-late", turn = turn, when = when))
    });
    [limits, see].into_iter().chain(open).chain(late).collect()
}

/// Whom to call, in this order: the keepers, then who stands in, then the others; those who are away on the first day that
/// is left come last. No numbers are kept of anybody.
pub(super) fn call_order(desk: &Desk<'_>, sheet: &Sheet) -> Vec<String> {
    let who = sheet.who;
    let carers = &desk.place().carers;
    let own = carers.get(&who).and_then(|one| one.stand_in);
    let stand_ins = own
        .into_iter()
        .chain(carers.values().filter_map(|one| one.stand_in));
    let others = carers
        .values()
        .filter(|one| one.role == Role::Regular)
        .map(|one| one.id);
    let mut order: Vec<CarerId> = Vec::new();
    for id in desk.place().keepers().chain(stand_ins).chain(others) {
        if id != who && carers.contains_key(&id) && !order.contains(&id) {
            order.push(id);
        }
    }
    let day = sheet.span.from.max(desk.place().zone.date(desk.now()));
    let is_away = |id: &CarerId| {
        let rounds = desk.place().rounds.iter();
        rounds.map(|round| (round.id, round.time)).all(|(round, time)| {
            let at = desk.place().zone.instant(day.to_datetime(time));
            let when = When { at, round, date: day };
            desk.book().is_away(*id, &when, desk.now())
        })
    };
    // A stable sort: of those who are there, and of those who are not, the order stays.
    order.sort_by_key(is_away);
    order.into_iter().map(|id| desk.tell.carer(id)).collect()
}

/// What can hurt people or animals in the works of the sheet.
pub(super) fn cautions(desk: &Desk<'_>, sheet: &Sheet) -> Vec<String> {
    let pools = desk.place().pools.values();
    let heaviest = pools.map(|pool| pool.litres).fold(0.0, f64::max);
    let lift = msg!(
        "how-care-lift",
        litres = desk.tell.litres(heaviest),
        mass = grams(heaviest * GRAMS_PER_LITRE, desk.place().units)
    );
    let salted = used(desk.place(), &sheet.turns.changes).salt_g > 0.0;
    let water = if salted {
        "how-care-water-salt"
    } else {
        "how-care-water"
    };
    vec![
        desk.tell.word("how-care-mains"),
        desk.say(&lift),
        desk.tell.word("sheet-care-glass"),
        desk.tell.word(water),
        desk.tell.word("sheet-care-chlorine"),
        desk.tell.word("how-care-sick"),
    ]
}
