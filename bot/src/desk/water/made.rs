//! One amount of water, with all that goes into it.

use wrackline_core::place::{Place, Pool, PoolId, Target, Water};
use wrackline_core::quantity::{
    Beyond, Celsius, Grams, Kilograms, Kind, Litres, Measured, Millilitres, Salinity,
};
use wrackline_core::rests::Rests;
use wrackline_core::supplies::Conditioner;
use wrackline_core::water::conditioner::Dose;
use wrackline_core::water::instruments::{Expected, expected, salinity_of};
use wrackline_core::water::mixing::{self, ProductFactor, Recipe, SCALE, Split, Step, mass_of};
use wrackline_core::water::seawater::density;

use super::{no, said};
use crate::desk::tell::Tell;
use crate::desk::{Desk, Refused};
use crate::msg;
use crate::words::Message;

/// The temperature that water is taken to have where nobody said: room-warm, common practice, no published source. It
/// moves volumes by a part in a thousand.
pub(super) const ROOM: Celsius = Celsius(25.0);

/// How old a pool's temperature may be to be told, in hours: common practice.
const TEMPERATURE_MAX_H: i64 = 72;

/// Water that is to hold less, in g/kg, is fresh to every instrument of a household: common practice.
const SALT_MIN: f64 = 0.05;

/// What is wanted.
pub(super) struct Wish {
    /// Which water.
    pub(super) water: Water,
    /// How much.
    pub(super) litres: Litres,
    /// Whether so much is wanted in the end; else so much is started from.
    pub(super) finished: bool,
    /// The salinity of salt water; that of the place where none was said.
    pub(super) salinity: Option<Salinity>,
    /// The temperature at which volumes are measured.
    pub(super) at: Celsius,
}

/// An amount of water and what goes into it.
pub(super) struct Made {
    /// Which water.
    pub(super) water: Water,
    /// The recipe; fresh water's has no salt in it.
    pub(super) recipe: Recipe,
    /// The tap water to fill in.
    pub(super) source: Litres,
    /// What comes out.
    pub(super) finished: Litres,
    /// The conditioner for it, where the place entered a label.
    pub(super) dose: Option<Dose>,
    /// What instruments will show of salt water.
    pub(super) expected: Option<Expected>,
    /// The temperature at which volumes are measured.
    pub(super) at: Celsius,
    /// What it rests on: the recipe, and what was not said of it.
    pub(super) rests: Rests,
}

/// A salinity behind what was said, and where a formula's range was left on the way.
pub(super) fn salinity(said: &Measured) -> Result<Salinity, Refused> {
    salinity_of(said)
        .map(|found| found.salinity)
        .map_err(|error| no::instrument(&error))
}

/// What an amount of water is made of, by the place's supplies.
///
/// # Errors
/// One sentence about what cannot be.
pub(super) fn make(place: &Place, wish: &Wish) -> Result<Made, Refused> {
    let supplies = &place.supplies;
    let tap = supplies.tap();
    let is_fresh = |wanted: &Salinity| wish.water == Water::Salt && wanted.0 < SALT_MIN;
    if let Some(wanted) = wish.salinity.filter(is_fresh) {
        return Err(msg!("mix-no-salt", salinity = said::salinity(wanted)));
    }
    let (wanted, factor) = match wish.water {
        Water::Fresh => (tap, ProductFactor::DRY),
        Water::Salt => (wish.salinity.unwrap_or(supplies.wanted()), supplies.factor()),
    };
    let dense = |of: Salinity| density(of, wish.at).map_err(|error| no::seawater(&error));
    let (of_tap, of_made) = (dense(tap)?, dense(wanted)?);
    let recipe = if wish.finished {
        mass_of(wish.litres, of_made).and_then(|mass| mixing::finished(mass, tap, wanted, factor))
    } else {
        mass_of(wish.litres, of_tap).and_then(|mass| mixing::bucket(mass, tap, wanted, factor))
    };
    let recipe = recipe.map_err(|problem| no::mixture(&problem))?;
    let source = recipe
        .source_volume(of_tap)
        .map_err(|problem| no::mixture(&problem))?;
    let finished = recipe
        .finished_volume(of_made)
        .map_err(|problem| no::mixture(&problem))?;
    let dose = supplies
        .conditioner
        .as_ref()
        .map(|own| own.label().dose_for(source, supplies.mains()))
        .transpose()
        .map_err(|problem| no::label(&problem))?;
    let expected = (wish.water == Water::Salt)
        .then(|| expected(wanted, wish.at))
        .transpose()
        .map_err(|error| no::instrument(&error))?;
    let rests = match (wish.water, wish.salinity) {
        (Water::Salt, None) => recipe.rests.and(supplies.wanted_rests()),
        _ => recipe.rests,
    };
    Ok(Made {
        water: wish.water,
        rests,
        recipe,
        source,
        finished,
        dose,
        expected,
        at: wish.at,
    })
}

impl Made {
    /// The salinity that comes out.
    pub(super) fn salinity(&self) -> Salinity {
        self.recipe.finished.salinity()
    }

    /// Where a formula's published range was left.
    pub(super) fn beyond(&self) -> &[Beyond] {
        self.expected.as_ref().map_or(&[], |expected| &expected.beyond)
    }

    /// The same in the place's buckets.
    pub(super) fn split(&self, place: &Place) -> Result<Split, Refused> {
        let (holds, empty) = (place.supplies.bucket(), Kilograms(0.0));
        mixing::split(&self.recipe, self.finished, holds, empty, SCALE)
            .map_err(|problem| no::mixture(&problem))
    }

    /// The tap water in each of some buckets.
    pub(super) fn source_each(&self, split: &Split) -> Litres {
        self.source * (1.0 / f64::from(split.buckets))
    }

    /// The salt product to weigh.
    pub(super) fn product(&self) -> Grams {
        self.recipe.product
    }

    /// The amount in a few words: "7.7 L salt (268 g salt, conditioner 2.3 mL, expect sg 1.0256 (25/25))". What is not
    /// known is left out.
    pub(super) fn brief(&self, tell: &Tell<'_>) -> String {
        let place = tell.place;
        let mut parts = Vec::new();
        if self.water == Water::Salt {
            parts.push(tell.say(&msg!("prepare-salt", salt = said::mass(place, self.product()))));
        }
        if let Some(dose) = self.dose {
            parts.push(tell.say(&msg!("prepare-dose", dose = said::dose(dose.amount))));
        }
        if let Some(expected) = &self.expected {
            let shown = match place.gravity {
                Some(_) => said::gravities(place, expected).join(", "),
                None => said::salinity(expected.salinity),
            };
            parts.push(tell.say(&msg!("prepare-expect", shown = shown)));
        }
        let amount = said::volume(place, self.finished);
        let water = tell.water(self.water);
        if parts.is_empty() {
            return tell.say(&msg!("prepare-one", amount = amount, water = water));
        }
        tell.say(&msg!(
            "prepare-with",
            amount = amount,
            water = water,
            parts = parts.join(", ")
        ))
    }
}

/// What is to be said of the conditioner.
pub(super) fn of_conditioner(tell: &Tell<'_>, doses: &[Dose]) -> Vec<Message> {
    let Some(own) = &tell.place.supplies.conditioner else {
        return vec![msg!("mix-dose-none", units = said::units(tell.place))];
    };
    let mut all = vec![label(tell, own)];
    if doses.iter().any(|dose| dose.doubled) {
        all.push(msg!("mix-dose-doubled"));
    }
    if doses.iter().any(|dose| dose.unsaid) {
        all.push(msg!("mix-dose-unsaid"));
    }
    if doses.iter().any(|dose| dose.disturbs_ammonia_tests) {
        all.push(msg!("mix-dose-ammonia"));
    }
    all
}

/// A label as the place entered it.
pub(in crate::desk) fn label(tell: &Tell<'_>, own: &Conditioner) -> Message {
    let name = if own.name.is_empty() {
        tell.word("mix-conditioner")
    } else {
        own.name.clone()
    };
    msg!(
        "mix-label",
        name = name,
        dose = said::dose(own.label().dose),
        per = said::volume(tell.place, own.label().per)
    )
}

/// The steps at the buckets, in order. One bucket is told in a sentence, several are told apart: each water in its split,
/// else in one bucket.
pub(super) fn steps(desk: &Desk<'_>, all: &[(&Made, Option<&Split>)]) -> Vec<Message> {
    let is_salt = |made: &Made| made.water == Water::Salt;
    let salted: Vec<_> = all.iter().copied().filter(|(made, _)| is_salt(made)).collect();
    let (steps, _) = mixing::steps(!salted.is_empty(), true);
    let dosed = all.iter().all(|(made, _)| made.dose.is_some());
    let step = |step: Step| match step {
        Step::Fill => of_each(desk, all, tap_each, |source| {
            msg!("mix-step-fill", source = source)
        }),
        Step::Condition if dosed => of_each(desk, all, dose_each, |dose| {
            msg!("mix-step-condition", dose = dose)
        }),
        Step::Condition => msg!("mix-step-condition-label"),
        Step::Act => msg!("mix-step-act"),
        Step::Salt => of_each(desk, &salted, salt_each, |salt| {
            msg!("mix-step-salt", salt = salt)
        }),
        Step::Measure => msg!("mix-step-measure"),
        Step::Aerate => msg!("mix-step-aerate"),
        Step::Match => msg!("mix-step-match"),
        Step::Change => msg!("mix-step-change"),
    };
    steps.into_iter().map(step).collect()
}

/// A step with what goes into each bucket.
fn of_each(
    desk: &Desk<'_>,
    all: &[(&Made, Option<&Split>)],
    each: impl Fn(&Place, &Made, Option<&Split>) -> Vec<(u32, String)>,
    step: impl Fn(String) -> Message,
) -> Message {
    let of = |(made, split): &(&Made, Option<&Split>)| in_words(desk, each(desk.place(), made, *split));
    if let [one] = all {
        return step(of(one));
    }
    let waters: Vec<String> = all
        .iter()
        .map(|one| {
            let water = desk.tell.water(one.0.water);
            desk.say(&msg!("mix-each-water", water = water, each = of(one)))
        })
        .collect();
    step(waters.join("; "))
}

/// What goes into some buckets; of a single one the amount alone.
fn in_words(desk: &Desk<'_>, groups: Vec<(u32, String)>) -> String {
    let alone = groups.len() == 1 && groups[0].0 == 1;
    let parts: Vec<String> = groups
        .into_iter()
        .map(|(count, amount)| match alone {
            true => amount,
            false => desk.say(&msg!("mix-each", count = count, amount = amount)),
        })
        .collect();
    parts.join(", ")
}

/// What goes into each bucket, in a line.
pub(super) fn each(desk: &Desk<'_>, made: &Made, split: &Split) -> String {
    let place = desk.place();
    let tap = in_words(desk, tap_each(place, made, Some(split)));
    let (water, holds) = (
        super::super::tell::capital(&desk.tell.water(made.water)),
        said::volume(place, place.supplies.bucket()),
    );
    desk.say(&match made.water {
        Water::Fresh => msg!("how-today-each", water = water, holds = holds, tap = tap),
        Water::Salt => msg!(
            "how-today-each-salt",
            water = water,
            holds = holds,
            tap = tap,
            salt = in_words(desk, salt_each(place, made, Some(split)))
        ),
    })
}

fn buckets(split: Option<&Split>) -> u32 {
    split.map_or(1, |split| split.buckets)
}

/// The tap water of each bucket, with how many hold so much.
fn tap_each(place: &Place, made: &Made, split: Option<&Split>) -> Vec<(u32, String)> {
    let count = buckets(split);
    vec![(count, said::volume(place, made.source * (1.0 / f64::from(count))))]
}

/// The same of conditioner.
fn dose_each(_: &Place, made: &Made, split: Option<&Split>) -> Vec<(u32, String)> {
    let count = buckets(split);
    let dose = made.dose.map_or(0.0, |dose| dose.amount.0 / f64::from(count));
    vec![(count, said::dose(Millilitres(dose)))]
}

/// The same of salt; whole grams over several buckets may differ by one.
fn salt_each(place: &Place, made: &Made, split: Option<&Split>) -> Vec<(u32, String)> {
    let Some(split) = split.filter(|split| split.buckets > 1) else {
        return vec![(1, said::mass(place, made.product()))];
    };
    let alike = split.product_each.chunk_by(|a, b| a == b);
    alike
        .filter_map(|group| {
            let count = u32::try_from(group.len()).ok()?;
            Some((count, said::mass(place, *group.first()?)))
        })
        .collect()
}

/// What a recipe rests on.
pub(super) fn grounds(desk: &Desk<'_>, made: &Made) -> Vec<Message> {
    let mut all = Vec::new();
    if made.water == Water::Salt {
        let supplies = &desk.place().supplies;
        let factor = supplies.factor();
        let name = supplies
            .salt
            .clone()
            .unwrap_or_else(|| desk.tell.word("mix-the-salt"));
        all.push(match (supplies.learnt(), factor == ProductFactor::DRY) {
            (Some(learnt), _) => msg!(
                "mix-factor-learnt",
                name = name,
                factor = said::two(factor.value()),
                count = learnt.used
            ),
            (None, true) => msg!("mix-factor-dry", name = name, units = said::units(desk.place())),
            (None, false) => msg!("mix-factor-said", name = name, factor = said::two(factor.value())),
        });
    }
    all.extend(made.beyond().first().map(|beyond| {
        msg!(
            "mix-beyond",
            value = said::two(beyond.value),
            low = said::two(beyond.range.low),
            high = said::two(beyond.range.high)
        )
    }));
    let on = said::rests(made.rests);
    all.push(msg!("mix-rests", on = on));
    all
}

/// A pool's temperature, where it was read lately, and how long ago.
pub(super) fn temperature(desk: &Desk<'_>, pool: &Pool) -> Option<(f64, String)> {
    of_pool(desk, pool.id, Kind::Temperature, TEMPERATURE_MAX_H).and_then(|(at, measured)| match measured {
        Measured::Temperature(celsius) => Some((celsius, desk.tell.near(at))),
        _ => None,
    })
}

/// The last reading of a kind at a pool, no older than some hours.
pub(super) fn of_pool(
    desk: &Desk<'_>,
    pool: PoolId,
    kind: Kind,
    hours_max: i64,
) -> Option<(jiff::Timestamp, Measured)> {
    let now = desk.now();
    let (at, _, measured) = desk.book().last_reading(Target::Pool(pool), kind, now)?;
    let age = wrackline_core::civil::seconds_between(at, now);
    (age <= hours_max * 3600).then_some((at, measured))
}
