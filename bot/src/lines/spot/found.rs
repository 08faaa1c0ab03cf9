//! What words of a SPOT named, and the pools and enclosures that come of it.

use wrackline_core::place::{EnclosureId, Pool, PoolId, Water};

use crate::lines::ask::{Grain, Spot};
use crate::lines::{Context, Refusal, refuse};
use crate::msg;

/// How a thing was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Named {
    /// One enclosure.
    Enclosure,
    /// A room.
    Room,
    /// All there are.
    All,
    /// Nothing but a water.
    Nothing,
}

/// Enclosures, and perhaps one water of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// How they were named.
    pub(super) named: Named,
    /// In walking order.
    pub(super) enclosures: Vec<EnclosureId>,
    /// Which water alone.
    pub(super) water: Option<Water>,
}

impl Found {
    /// The same with another water.
    pub(super) fn with(&self, water: Option<Water>) -> Self {
        Self {
            water,
            ..self.clone()
        }
    }

    /// Whether an enclosure or a room and a water were named.
    pub(super) fn has_both(&self) -> bool {
        matches!(self.named, Named::Enclosure | Named::Room) && self.water.is_some()
    }

    /// Its pools, in walking order.
    pub(super) fn pools<'a>(&self, ctx: &Context<'a>) -> Vec<&'a Pool> {
        let of = |id: &EnclosureId| ctx.place.pools_of(*id);
        self.enclosures
            .iter()
            .flat_map(of)
            .filter(|pool| self.water.is_none_or(|water| water == pool.water))
            .collect()
    }

    /// Whether it has any pool.
    pub(super) fn has_pools(&self, ctx: &Context<'_>) -> bool {
        !self.pools(ctx).is_empty()
    }

    /// How it is called, as a person may say it.
    pub(super) fn call(&self, ctx: &Context<'_>) -> String {
        let first = self
            .enclosures
            .first()
            .and_then(|id| ctx.place.enclosures.get(id));
        let name = match self.named {
            Named::Enclosure => first.map_or("", |enclosure| &enclosure.name),
            Named::Room => first.map_or("", |enclosure| &enclosure.room),
            Named::All | Named::Nothing => "all",
        };
        match (self.named, self.water) {
            (_, Some(water)) => format!("{name} {}", word(water)),
            (Named::Room, None) => format!("room {name}"),
            _ => name.to_owned(),
        }
    }
}

/// A water as it is said in a line.
pub(super) fn word(water: Water) -> &'static str {
    match water {
        Water::Fresh => "fresh",
        Water::Salt => "salt",
    }
}

/// A pool as it is said in a line.
pub(in crate::lines) fn call_pool(pool: &Pool, ctx: &Context<'_>) -> String {
    let name = ctx
        .place
        .enclosures
        .get(&pool.enclosure)
        .map_or("", |enclosure| &enclosure.name);
    format!("{name} {}", word(pool.water))
}

/// The pools and enclosures of all that was named.
pub(super) fn settle(segments: Vec<Found>, ctx: &Context<'_>) -> Result<Spot, Refusal> {
    if let [one] = segments.as_slice() {
        let pools = one.pools(ctx);
        let water = one
            .water
            .map(|water| crate::msg!(format!("water-{}", word(water))));
        if let (true, Some(water)) = (pools.is_empty(), water) {
            return Err(match one.named {
                Named::All | Named::Nothing => refuse(msg!("no-spot-no-such-water", water = water)),
                _ => refuse(msg!(
                    "no-spot-no-pool",
                    name = one.with(None).call(ctx),
                    water = water
                )),
            });
        }
    }
    let mut spot = Spot::default();
    for one in &segments {
        let pools: Vec<&Pool> = one.pools(ctx);
        let enclosures = match one.water {
            None => one.enclosures.clone(),
            Some(_) => pools.iter().map(|pool| pool.enclosure).collect(),
        };
        push_new(&mut spot.pools, pools.iter().map(|pool| pool.id));
        push_new(&mut spot.enclosures, enclosures);
    }
    let walk: Vec<EnclosureId> = ctx
        .place
        .walk()
        .into_iter()
        .map(|enclosure| enclosure.id)
        .collect();
    let order = |id: &EnclosureId| walk.iter().position(|one| one == id);
    spot.enclosures.sort_by_key(order);
    spot.pools.sort_by_key(|id: &PoolId| {
        ctx.place
            .pools
            .get(id)
            .map(|pool| (order(&pool.enclosure), pool.water, pool.id))
    });
    spot.grain = match segments.as_slice() {
        [one] if one.water.is_some() && spot.pools.len() == 1 => Grain::Pool,
        [one] if one.water.is_none() && one.named == Named::Enclosure => Grain::Enclosure,
        _ => Grain::Set,
    };
    Ok(spot)
}

fn push_new<T: PartialEq>(all: &mut Vec<T>, more: impl IntoIterator<Item = T>) {
    for one in more {
        if !all.contains(&one) {
            all.push(one);
        }
    }
}
