//! `/supplies`: what the place mixes with.

use wrackline_core::journal::Event;
use wrackline_core::quantity::{Celsius, Grams, Litres};
use wrackline_core::supplies::{Conditioner, Supplies, SupplyChange};
use wrackline_core::water::conditioner::{Mains, crosscheck, freed_ammonia, highest};
use wrackline_core::water::mixing::{self, ProductFactor, Water, mass_of};
use wrackline_core::water::seawater::density;

use super::made::{self, ROOM};
use super::{authority, no, said};
use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::{SupplyField, SupplyLabel};
use crate::msg;
use crate::words::Message;

/// A bottle stronger than this, in mg of crystals per mL, does not exist: crystals themselves do not hold more.
const STRENGTH_MAX: f64 = 2000.0;

/// A label that asks for more than this, in mL of the bottle for a litre of water, is a slip: common practice, no published
/// source.
const DOSE_MAX: f64 = 20.0;

/// What salt pools may be set to hold, in g/kg: from half the open sea's salt to a little more than it has.
const TARGETS: std::ops::RangeInclusive<f64> = 15.0..=45.0;

/// What a person carries in one bucket, in litres: common practice, no published source.
const BUCKETS: std::ops::RangeInclusive<f64> = 0.5..=30.0;

/// `/supplies set …`
///
/// # Errors
/// One sentence about what cannot be.
pub(in crate::desk) fn set(desk: &Desk<'_>, fields: Vec<SupplyField>) -> Result<Outcome, Refused> {
    if fields.is_empty() {
        return Err(msg!("setup-nothing"));
    }
    // What stands in one line counts in its order: a measurement is of the salt named before it.
    let mut supplies = desk.place().supplies.clone();
    let mut changes = Vec::new();
    for field in fields {
        let change = change(&supplies, field)?;
        supplies.apply(&change);
        changes.push(change);
    }
    let drafts = changes
        .iter()
        .map(|change| desk.draft(Event::Supplies(change.clone())))
        .collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let mut lines = changes.iter().flat_map(|change| told(desk, change));
        let first = lines.next().unwrap_or_else(|| msg!("setup-nothing"));
        let mut answer = desk.done(&first);
        let further = lines.map(|line| Block::Text {
            text: desk.say(&line),
        });
        answer.blocks.extend(further);
        answer
    }))
}

fn change(supplies: &Supplies, field: SupplyField) -> Result<SupplyChange, Refused> {
    Ok(match field {
        SupplyField::Conditioner(None) => SupplyChange::Conditioner(None),
        SupplyField::Conditioner(Some(label)) => SupplyChange::Conditioner(Some(conditioner(label)?)),
        SupplyField::Salt(name) => SupplyChange::Salt(name),
        SupplyField::Factor(value) => {
            ProductFactor::new(value).map_err(|problem| no::mixture(&problem))?;
            SupplyChange::Factor(value)
        }
        SupplyField::Mixed {
            measured,
            litres,
            grams,
            at_c,
        } => mixed(supplies, made::salinity(&measured)?.0, litres, grams, at_c)?,
        SupplyField::Target(measured) => {
            let target = made::salinity(&measured)?.0;
            if !TARGETS.contains(&target) {
                return Err(msg!(
                    "supplies-no-target",
                    target = said::two(target),
                    low = said::two(*TARGETS.start()),
                    high = said::two(*TARGETS.end())
                ));
            }
            SupplyChange::Target(target)
        }
        SupplyField::Margin(margin) => SupplyChange::Margin(margin),
        SupplyField::Bucket(litres) if BUCKETS.contains(&litres) => SupplyChange::Bucket(litres),
        SupplyField::Bucket(litres) => {
            return Err(msg!(
                "supplies-no-bucket",
                litres = said::two(litres),
                most = said::two(*BUCKETS.end())
            ));
        }
        SupplyField::Source(measured) => SupplyChange::Source(made::salinity(&measured)?.0),
        SupplyField::Mains(mains) => SupplyChange::Mains(mains),
    })
}

fn conditioner(said: SupplyLabel) -> Result<Conditioner, Refused> {
    let own = Conditioner {
        name: said.name,
        dose_ml: said.dose_l * 1000.0,
        per_l: said.per_l,
        chloramine: said.chloramine,
        hold_h: said.hold_h.map(f64::from),
        binds_ammonia: said.binds_ammonia,
    };
    own.label().valid().map_err(|problem| no::label(&problem))?;
    if own.dose_ml > DOSE_MAX * own.per_l {
        return Err(msg!(
            "supplies-no-dose",
            dose = said::two(own.dose_ml),
            litres = said::two(own.per_l)
        ));
    }
    Ok(own)
}

/// What was to be expected of a dose, by the factor that holds now, against what was measured.
fn mixed(
    supplies: &Supplies,
    measured: f64,
    litres: f64,
    grams: f64,
    at_c: Option<f64>,
) -> Result<SupplyChange, Refused> {
    let (at, tap, with) = (at_c.map_or(ROOM, Celsius), supplies.tap(), supplies.factor());
    let dense = density(tap, at).map_err(|error| no::seawater(&error))?;
    let expected = mass_of(Litres(litres), dense)
        .and_then(|mass| Water::new(mass, tap))
        .and_then(|water| mixing::made(water, Grams(grams), with))
        .map_err(|problem| no::mixture(&problem))?
        .salinity();
    // Refused here, where it can be put right, rather than left out in silence later.
    with.learn(expected, wrackline_core::quantity::Salinity(measured))
        .map_err(|problem| no::mixture(&problem))?;
    Ok(SupplyChange::Mixed {
        with: with.value(),
        expected: expected.0,
        measured,
    })
}

/// What a change comes to; the place has it already.
fn told(desk: &Desk<'_>, change: &SupplyChange) -> Vec<Message> {
    let tell = &desk.tell;
    let supplies = &desk.place().supplies;
    match change {
        SupplyChange::Conditioner(None) => vec![msg!("supplies-conditioner-none")],
        SupplyChange::Conditioner(Some(own)) => of_conditioner(desk, own),
        SupplyChange::Salt(None) => vec![msg!("supplies-salt-none")],
        SupplyChange::Salt(Some(name)) => vec![
            msg!("supplies-salt", name = name.as_str()),
            msg!("supplies-salt-learn", units = said::units(desk.place())),
        ],
        SupplyChange::Factor(factor) => vec![msg!("supplies-factor", factor = said::two(*factor))],
        SupplyChange::Mixed {
            expected, measured, ..
        } => {
            let learnt = supplies.learnt();
            vec![msg!(
                "supplies-learnt",
                measured = said::two(*measured),
                expected = said::two(*expected),
                factor = format!("{:.3}", supplies.factor().value()),
                count = learnt.map_or(0, |learnt| learnt.used)
            )]
        }
        SupplyChange::Target(value) => vec![msg!("supplies-target", target = said::two(*value))],
        SupplyChange::Margin(value) => vec![msg!("supplies-margin", margin = said::percent(*value))],
        SupplyChange::Bucket(litres) => vec![msg!("supplies-bucket", litres = tell.litres(*litres))],
        SupplyChange::Source(value) => vec![msg!("supplies-source", source = said::two(*value))],
        SupplyChange::Mains(mains) => of_mains(desk, *mains),
    }
}

fn mains_word(mains: Mains) -> &'static str {
    match mains {
        Mains::Chlorine => "supplies-mains-chlorine",
        Mains::Chloramine => "supplies-mains-chloramine",
    }
}

fn of_mains(desk: &Desk<'_>, mains: Mains) -> Vec<Message> {
    let supplies = &desk.place().supplies;
    let mut all = vec![msg!(mains_word(mains))];
    if mains == Mains::Chloramine {
        let limit = highest(mains);
        let freed = freed_ammonia(limit.most).map_or(0.0, |freed| freed.nitrogen.0);
        all.push(msg!(
            "supplies-chloramine-leaves",
            most = said::two(limit.most.0),
            who = desk.tell.word(authority(&limit)),
            freed = said::two(freed)
        ));
        let doubled = supplies.conditioner.as_ref().map(|own| own.chloramine);
        match doubled {
            Some(wrackline_core::water::conditioner::ForChloramine::Doubled) => {
                all.push(msg!("mix-dose-doubled"))
            }
            Some(wrackline_core::water::conditioner::ForChloramine::Unsaid) => {
                all.push(msg!("mix-dose-unsaid"))
            }
            _ => {}
        }
    }
    all
}

/// A label, what it says, and whether it can be right by what chlorine takes.
fn of_conditioner(desk: &Desk<'_>, own: &Conditioner) -> Vec<Message> {
    let supplies = &desk.place().supplies;
    let mut all = vec![made::label(&desk.tell, own)];
    let (hold, _) = own.label().holds();
    all.push(match own.hold_h {
        Some(_) => msg!("supplies-holds", hours = said::two(hold.0)),
        None => msg!("supplies-holds-default", hours = said::two(hold.0)),
    });
    if let Ok(dose) = own.label().dose_for(Litres(10.0), supplies.mains()) {
        if dose.doubled {
            all.push(msg!("mix-dose-doubled"));
        }
        if dose.unsaid {
            all.push(msg!("mix-dose-unsaid"));
        }
    }
    if own.binds_ammonia {
        all.push(msg!("mix-dose-ammonia"));
    }
    let limit = highest(supplies.mains());
    if let Ok(check) = crosscheck(&own.label(), limit.mains, limit.most, None) {
        // On the route that takes the least, the bottle may be weaker by as much.
        let least = check.needs_strength * (check.least_mg / check.safe_mg);
        all.push(msg!(
            if least > STRENGTH_MAX {
                "supplies-label-weak"
            } else {
                "supplies-label-check"
            },
            most = said::two(limit.most.0),
            who = desk.tell.word(authority(&limit)),
            takes = said::three(check.safe_mg),
            strength = said::three(check.needs_strength)
        ));
    }
    all
}

/// `/supplies list`
pub(in crate::desk) fn list(desk: &Desk<'_>) -> Answer {
    let (tell, supplies) = (&desk.tell, &desk.place().supplies);
    let factor = supplies.factor();
    let salt = supplies
        .salt
        .clone()
        .unwrap_or_else(|| tell.word("supplies-unnamed"));
    let or_default = |is_set: bool, message: Message| {
        let text = desk.say(&message);
        if is_set {
            text
        } else {
            desk.say(&msg!("supplies-default", text = text))
        }
    };
    let lines = [
        match &supplies.conditioner {
            Some(own) => desk.say(&made::label(tell, own)),
            None => tell.word("supplies-conditioner-none"),
        },
        match (supplies.learnt(), factor == ProductFactor::DRY) {
            (Some(learnt), _) => desk.say(&msg!(
                "supplies-salt-learnt",
                name = salt,
                factor = format!("{:.3}", factor.value()),
                count = learnt.used
            )),
            (None, dry) => or_default(
                !dry,
                msg!(
                    "supplies-salt-factor",
                    name = salt,
                    factor = said::two(factor.value())
                ),
            ),
        },
        or_default(
            supplies.target.is_some(),
            msg!("supplies-target", target = said::two(supplies.wanted().0)),
        ),
        or_default(
            supplies.margin.is_some(),
            msg!("supplies-margin", margin = said::percent(supplies.spill())),
        ),
        or_default(
            supplies.bucket.is_some(),
            msg!(
                "supplies-bucket",
                litres = said::volume(desk.place(), supplies.bucket())
            ),
        ),
        or_default(
            supplies.source.is_some(),
            msg!("supplies-source", source = said::two(supplies.tap().0)),
        ),
        or_default(supplies.mains.is_some(), msg!(mains_word(supplies.mains()))),
    ];
    let mut answer = desk.done(&msg!("supplies-title"));
    let items = lines.into_iter().map(|line| desk.item(line)).collect();
    answer.blocks.push(Block::Items { items });
    answer
}
