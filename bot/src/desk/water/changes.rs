//! `/mix` of the changes of a round, or of pools that are named; and what a round call says is to be prepared.

use std::collections::BTreeMap;

use jiff::Timestamp;
use wrackline_core::care::{Duty, Standing, standing};
use wrackline_core::civil::next_round;
use wrackline_core::place::{Place, Pool, PoolId, Target, Water};
use wrackline_core::quantity::{Celsius, Grams, Litres, Measured, Millilitres, Salinity, celsius};
use wrackline_core::water::conditioner::Dose;
use wrackline_core::water::mixing::{Split, volume_of, with_margin};
use wrackline_core::water::seawater::density;

use super::made::{Made, ROOM, Wish, each, grounds, make, of_conditioner, salinity, steps, temperature};
use super::{Sheet, no, said};
use crate::chat::blocks::Answer;
use crate::desk::batches::DREGS_L;
use crate::desk::batches::offer::{at_hand, offer};
use crate::desk::tell::Tell;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Spot;
use crate::msg;
use crate::words::Message;

/// More buckets than this are told in one row.
const ROWS_MAX: u32 = 6;

/// The water that a pool's change takes.
struct Need {
    pool: PoolId,
    water: Water,
    litres: f64,
    due: Option<Timestamp>,
}

/// What a turn of a change takes; `None` for any other duty.
fn need(place: &Place, standing: &Standing) -> Option<Need> {
    let Target::Pool(id) = standing.turn.target else {
        return None;
    };
    let pool = place
        .pools
        .get(&id)
        .filter(|_| standing.turn.duty == Duty::Change)?;
    Some(Need {
        pool: id,
        water: pool.water,
        litres: pool.litres * standing.cadence.fraction,
        due: (standing.due < Timestamp::MAX).then_some(standing.due),
    })
}

/// The waters of some changes that are not prepared yet, with their spill margin, each made by the place's supplies.
fn waters(
    tell: &Tell<'_>,
    needs: &[Need],
    salinity: Option<&Measured>,
    at: Celsius,
) -> Result<Vec<Made>, Refused> {
    let mut sums: BTreeMap<Water, f64> = BTreeMap::new();
    for need in needs {
        *sums.entry(need.water).or_default() += need.litres;
    }
    let wanted = salinity.map(self::salinity).transpose()?;
    if wanted.is_none() {
        for (water, litres) in &mut sums {
            *litres -= at_hand(tell, *water, *litres);
        }
    }
    mixed(tell.place, sums, wanted, at)
}

/// Some litres of each water with their spill margin, each made by the place's supplies.
fn mixed(
    place: &Place,
    sums: BTreeMap<Water, f64>,
    wanted: Option<Salinity>,
    at: Celsius,
) -> Result<Vec<Made>, Refused> {
    sums.into_iter()
        .filter(|(_, litres)| *litres >= DREGS_L)
        .map(|sum| with_spill(place, sum, wanted, at))
        .collect()
}

/// Some litres of a water with their spill margin, made by the place's supplies.
pub(super) fn with_spill(
    place: &Place,
    (water, litres): (Water, f64),
    salinity: Option<Salinity>,
    at: Celsius,
) -> Result<Made, Refused> {
    let litres =
        with_margin(Litres(litres), place.supplies.spill()).map_err(|problem| no::mixture(&problem))?;
    let made = make(
        place,
        &Wish {
            water,
            litres,
            finished: true,
            salinity,
            at,
        },
    )?;
    let rests = made.rests.and(place.supplies.spill_rests());
    Ok(Made { rests, ..made })
}

/// The line of a round call that says what to prepare for its open changes: `None` where there is no water to prepare.
#[must_use]
pub(in crate::desk) fn to_prepare(tell: &Tell<'_>, open: &[Standing]) -> Option<String> {
    let needs: Vec<Need> = open.iter().filter_map(|one| need(tell.place, one)).collect();
    let made = waters(tell, &needs, None, ROOM).ok()?;
    brief(tell, &made)
}

/// What goes into the buckets for some litres of each water, with their spill margin, whatever is prepared already: none of
/// it where it cannot be mixed.
pub(in crate::desk) fn amounts(tell: &Tell<'_>, sums: &BTreeMap<Water, f64>) -> Option<String> {
    let made = mixed(tell.place, sums.clone(), None, ROOM).ok()?;
    listed(tell, &made)
}

/// What goes into the buckets, as figures.
pub(in crate::desk) struct Used {
    /// Litres of each water, with the spill margin.
    pub(in crate::desk) litres: BTreeMap<Water, f64>,
    /// The salt, in grams.
    pub(in crate::desk) salt_g: f64,
    /// The conditioner in mL, where the place entered a label.
    pub(in crate::desk) dose_ml: Option<f64>,
}

/// The same as figures.
pub(in crate::desk) fn used(place: &Place, sums: &BTreeMap<Water, f64>) -> Used {
    let made = mixed(place, sums.clone(), None, ROOM).unwrap_or_default();
    let doses: Vec<f64> = made
        .iter()
        .filter_map(|one| one.dose)
        .map(|dose| dose.amount.0)
        .collect();
    Used {
        litres: made.iter().map(|one| (one.water, one.finished.0)).collect(),
        salt_g: made.iter().map(|one| one.product().0).sum(),
        dose_ml: (!doses.is_empty()).then(|| doses.iter().sum()),
    }
}

/// What is prepared for an amount of one pool's water: the words of a call, what goes into each bucket, what
/// instruments will show. What is prepared already is offered and left out of it where it is `for_now`. Nothing where it
/// cannot be mixed.
#[must_use]
pub(in crate::desk) fn for_pool(desk: &Desk<'_>, pool: &Pool, litres: Litres, for_now: bool) -> Vec<String> {
    let needs = [Need {
        pool: pool.id,
        water: pool.water,
        litres: litres.0,
        due: None,
    }];
    let made = if for_now {
        waters(&desk.tell, &needs, None, ROOM)
    } else {
        mixed(desk.place(), BTreeMap::from([(pool.water, litres.0)]), None, ROOM)
    };
    let Ok(made) = made else {
        return Vec::new();
    };
    let mut all: Vec<String> = brief(&desk.tell, &made).into_iter().collect();
    if for_now {
        all.extend(offers(desk, &needs));
    }
    for one in &made {
        if let Ok(split) = one.split(desk.place()) {
            all.push(each(desk, one, &split));
        }
        let expected = one.expected.as_ref();
        all.extend(expected.map(|expected| desk.say(&said::expectation(&desk.tell, expected))));
    }
    all
}

/// What some waters are made of, in a line; `None` where there is none.
pub(super) fn brief(tell: &Tell<'_>, made: &[Made]) -> Option<String> {
    listed(tell, made).map(|amounts| tell.say(&msg!("prepare", amounts = amounts)))
}

/// The same, without a verb.
fn listed(tell: &Tell<'_>, made: &[Made]) -> Option<String> {
    let amounts: Vec<String> = made.iter().map(|one| one.brief(tell)).collect();
    (!amounts.is_empty()).then(|| amounts.join(" · "))
}

/// The changes of the named pools, else those that are due at the next round, else those that are due first.
fn needs(desk: &Desk<'_>, spot: Option<&Spot>) -> Vec<Need> {
    let place = desk.place();
    if let Some(spot) = spot {
        let of = |id: &PoolId| {
            let pool = place.pools.get(id)?;
            let standing = standing(desk.book(), place, Duty::Change, Target::Pool(*id), desk.now());
            standing.as_ref().and_then(|one| need(place, one)).or(Some(Need {
                pool: *id,
                water: pool.water,
                litres: pool.litres,
                due: None,
            }))
        };
        return spot.pools.iter().filter_map(of).collect();
    }
    let mut all: Vec<Need> = desk.board().iter().filter_map(|one| need(place, one)).collect();
    let round = next_round(&place.zone, &place.rounds, desk.now()).at;
    let first = all.iter().filter_map(|need| need.due).min();
    let until = first.map_or(round, |first| first.max(round));
    all.retain(|need| need.due.is_some_and(|due| due <= until));
    all
}

/// `/mix`, `/mix SPOT`
///
/// # Errors
/// One sentence where there is no pool, or about what cannot be mixed.
pub(super) fn changes(
    desk: &Desk<'_>,
    spot: Option<&Spot>,
    wanted: Option<&Measured>,
    at_c: Option<f64>,
) -> Result<Answer, Refused> {
    let place = desk.place();
    let needs = needs(desk, spot);
    if needs.is_empty() {
        return Err(msg!("mix-no-pools", units = said::units(place)));
    }
    let at = at_c.map_or(ROOM, Celsius);
    let made = waters(&desk.tell, &needs, wanted, at)?;
    let mut offers = offers(desk, &needs).into_iter();
    // Where all is prepared, that is the first line.
    let title = brief(&desk.tell, &made)
        .or_else(|| offers.next())
        .unwrap_or_default();
    let mut sheet = Sheet::new(desk, &msg!("mix-title-changes", prepare = title));
    for offer in offers {
        sheet.told(offer);
    }
    sheet.table(
        &["mix-head-pool", "mix-head-takes", "mix-head-due"],
        rows(desk, &needs),
    );
    sheet.text(&msg!(
        "mix-margin",
        margin = said::percent(place.supplies.spill())
    ));
    let mut split = Vec::new();
    for one in &made {
        split.push((one, one.split(place)?));
    }
    // The steps of salt water hold those of fresh water.
    let each: Vec<_> = split.iter().map(|(made, split)| (*made, Some(split))).collect();
    let steps = steps(desk, &each);
    buckets(&mut sheet, &split);
    for expected in made.iter().filter_map(|one| one.expected.as_ref()) {
        sheet.text(&said::expectation(&desk.tell, expected));
    }
    let doses: Vec<Dose> = made.iter().filter_map(|one| one.dose).collect();
    for message in of_conditioner(&desk.tell, &doses) {
        sheet.text(&message);
    }
    sheet.text(&to_match(desk, &needs));
    if let Some(most) = made.last() {
        sheet.steps(&steps);
        sheet.caution(&msg!("mix-caution"));
        for message in grounds(desk, most) {
            sheet.text(&message);
        }
    }
    Ok(sheet.answer)
}

/// What is prepared already for the changes, a sentence for each water.
fn offers(desk: &Desk<'_>, needs: &[Need]) -> Vec<String> {
    let of = |water: Water| {
        let all = needs.iter().filter(|need| need.water == water);
        let litres: f64 = all.map(|need| need.litres).sum();
        offer(&desk.tell, water, litres).filter(|_| litres > 0.0)
    };
    [Water::Fresh, Water::Salt].into_iter().filter_map(of).collect()
}

fn rows(desk: &Desk<'_>, needs: &[Need]) -> Vec<Vec<String>> {
    let row = |need: &Need| {
        vec![
            desk.tell.target_on_the_way(Target::Pool(need.pool)),
            desk.tell.litres(need.litres),
            need.due
                .map_or_else(|| desk.tell.word("mix-not-due"), |due| desk.tell.turn_moment(due)),
        ]
    };
    needs.iter().map(row).collect()
}

/// The temperatures to match: those that were read lately.
fn to_match(desk: &Desk<'_>, needs: &[Need]) -> Message {
    let place = desk.place();
    let read: Vec<String> = needs
        .iter()
        .filter_map(|need| place.pools.get(&need.pool))
        .filter_map(|pool| {
            let (value, when) = temperature(desk, pool)?;
            Some(desk.say(&msg!(
                "mix-match-one",
                pool = desk.tell.pool(pool.id),
                at = celsius(value, place.units),
                when = when
            )))
        })
        .collect();
    if read.is_empty() {
        msg!("mix-match-unread")
    } else {
        msg!("mix-match", read = read.join(", "))
    }
}

/// A table of buckets that people can lift.
pub(super) fn buckets(sheet: &mut Sheet<'_, '_>, all: &[(&Made, Split)]) {
    let desk = sheet.desk;
    let place = desk.place();
    let mut rows = Vec::new();
    let mut lift: f64 = 0.0;
    for (made, split) in all {
        lift = lift.max(split.lift.0);
        let dose = made
            .dose
            .map(|dose| Millilitres(dose.amount.0 / f64::from(split.buckets)));
        let many = split.buckets > ROWS_MAX;
        let shown = if many { 1 } else { split.buckets };
        for number in 1..=shown {
            let name = msg!(
                if many { "mix-bucket-each" } else { "mix-bucket-one" },
                water = desk.tell.water(made.water),
                number = number.to_string(),
                all = split.buckets.to_string()
            );
            let grams = split
                .product_each
                .get(number as usize - 1)
                .copied()
                .unwrap_or(Grams(0.0));
            rows.push(vec![
                desk.say(&name),
                said::volume(place, made.source_each(split)),
                if made.water == Water::Salt {
                    said::mass(place, grams)
                } else {
                    "–".to_owned()
                },
                dose.map_or_else(|| desk.tell.word("mix-by-label"), said::dose),
            ]);
        }
    }
    sheet.table(
        &[
            "mix-head-bucket",
            "mix-head-tap",
            "mix-head-salt",
            "mix-head-conditioner",
        ],
        rows,
    );
    // A litre of water is a kilogram: what a back lifts need not be closer.
    sheet.text(&msg!(
        "mix-buckets",
        holds = said::volume(place, place.supplies.bucket()),
        lift = said::mass(place, Grams((lift * 10.0).round() * 100.0))
    ));
    if place.supplies.bucket.is_none() {
        sheet.text(&msg!("mix-bucket-default", units = said::units(place)));
    }
}

/// The volume of a mass of water of a salinity.
pub(super) fn volume(
    mass: wrackline_core::quantity::Kilograms,
    of: Salinity,
    at: Celsius,
) -> Result<Litres, Refused> {
    let dense = density(of, at).map_err(|error| no::seawater(&error))?;
    volume_of(mass, dense).map_err(|problem| no::mixture(&problem))
}
