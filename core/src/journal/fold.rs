//! What a place is at a moment, folded from the entries that count from then or before.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};

use super::{
    BatchChange, Book, CarerChange, EnclosureChange, Entry, Event, GearChange, OwnDutyChange, PlaceChange,
    PoolChange, RoundChange,
};
use crate::civil::Zone;
use crate::particulars::{AirMade, EnclosureMade, FilterMade, PoolMade};
use crate::place::{
    Carer, CarerId, Enclosure, Fitted, Gear, Life, Place, Pool, PoolId, Prepared, Round, RoundId, Target,
};
use crate::quantity::Units;
use crate::supplies::Supplies;
use crate::water::batch::BatchId;

impl Book {
    /// The place as it was at a moment. Its rounds are never empty: until one is added, one at 08:00 is assumed.
    #[must_use]
    pub fn place_at(&self, now: Timestamp) -> Place {
        let mut place = Place {
            name: String::new(),
            zone: Zone::utc(),
            quiet: None,
            hush: None,
            units: Units::default(),
            gravity: None,
            winter: None,
            summer: None,
            rounds: Vec::new(),
            carers: BTreeMap::new(),
            ended: BTreeMap::new(),
            nods: BTreeSet::new(),
            enclosures: BTreeMap::new(),
            pools: BTreeMap::new(),
            duties: BTreeMap::new(),
            batches: BTreeMap::new(),
            numbers: BTreeMap::new(),
            supplies: Supplies::default(),
        };
        for entry in self.settings_until(now) {
            apply(&mut place, entry);
        }
        if place.rounds.is_empty() {
            let time = civil::time(8, 0, 0, 0);
            place.rounds.push(Round {
                id: RoundId(0),
                name: String::new(),
                time,
            });
        }
        place.rounds.sort_by_key(|round| (round.time, round.id));
        place
            .pools
            .retain(|_, pool| place.enclosures.contains_key(&pool.enclosure));
        for pool in place.pools.values_mut() {
            self.prove(pool, now);
        }
        let today = place.zone.date(now);
        let over = |carer: &Carer| carer.span.is_some_and(|span| span.to < today);
        place.ended = place.carers.extract_if(.., |_, carer| over(carer)).collect();
        place.duties.retain(|_, (duty, _)| match duty.target {
            Target::Place => true,
            Target::Enclosure(id) => place.enclosures.contains_key(&id),
            Target::Pool(id) => place.pools.contains_key(&id),
        });
        place
    }

    /// One pool as it was at a moment; `None` before it was set up and after it was retired.
    #[must_use]
    pub fn pool_at(&self, id: PoolId, now: Timestamp) -> Option<Pool> {
        let mut pools = BTreeMap::new();
        for entry in self.pool_settings_until(id, now) {
            apply_pool(&mut pools, entry);
        }
        let mut pool = pools.remove(&id)?;
        self.prove(&mut pool, now);
        Some(pool)
    }
}

fn apply(place: &mut Place, entry: &Entry) {
    match &entry.event {
        Event::Place(change) => match change {
            PlaceChange::Name(name) => place.name.clone_from(name),
            PlaceChange::Zone(name) => place.zone = Zone::get(name).unwrap_or_else(Zone::utc),
            PlaceChange::Quiet(quiet) => place.quiet = *quiet,
            PlaceChange::Units(units) => place.units = *units,
            PlaceChange::Gravity(convention) => place.gravity = Some(*convention),
            PlaceChange::Winter(air) => place.winter = Some(*air),
            PlaceChange::Summer(air) => place.summer = Some(*air),
            PlaceChange::Hush(until) => place.hush = *until,
        },
        Event::Round(id, change) => match change {
            RoundChange::Added { name, time } => {
                place.rounds.push(Round {
                    id: *id,
                    name: name.clone(),
                    time: *time,
                });
            }
            RoundChange::Time(time) => {
                place
                    .rounds
                    .iter_mut()
                    .filter(|r| r.id == *id)
                    .for_each(|r| r.time = *time);
            }
            RoundChange::Retired => place.rounds.retain(|r| r.id != *id),
        },
        Event::Carer(id, change) => apply_carer(&mut place.carers, *id, change),
        Event::Enclosure(..) => apply_enclosure(place, entry),
        Event::Pool(..) | Event::Gear(..) | Event::GearFact(..) => apply_pool(&mut place.pools, entry),
        Event::Batch(id, change) => apply_batch(place, *id, change, entry.at),
        Event::OwnDuty(id, OwnDutyChange::Added(duty)) => {
            place.duties.insert(*id, (duty.clone(), entry.at));
        }
        Event::OwnDuty(id, OwnDutyChange::Retired) => {
            place.duties.remove(id);
        }
        Event::Numbers(rule, numbers) => {
            place.numbers.insert(*rule, (*numbers, entry.at));
        }
        Event::AsksNod(duty, true) => {
            place.nods.insert(*duty);
        }
        Event::AsksNod(duty, false) => {
            place.nods.remove(duty);
        }
        Event::Supplies(change) => place.supplies.apply(change),
        _ => {}
    }
}

pub(super) fn apply_carer(carers: &mut BTreeMap<CarerId, Carer>, id: CarerId, change: &CarerChange) {
    match change {
        CarerChange::Added(role) => {
            carers.insert(id, Carer::new(id, *role));
        }
        CarerChange::Retired => {
            carers.remove(&id);
        }
        change => {
            carers.entry(id).and_modify(|carer| change.apply(carer));
        }
    }
}

fn apply_batch(place: &mut Place, id: BatchId, change: &BatchChange, at: Timestamp) {
    match change {
        BatchChange::Made {
            vessel,
            water,
            litres,
            ..
        } => {
            let batch = Prepared {
                id,
                vessel: vessel.clone(),
                water: *water,
                litres: *litres,
                made_at: at,
                retired: None,
            };
            place.batches.insert(id, batch);
        }
        BatchChange::Retired => {
            place
                .batches
                .entry(id)
                .and_modify(|batch| batch.retired = Some(at));
        }
        // The rest is for the ledger.
        _ => {}
    }
}

fn apply_enclosure(place: &mut Place, entry: &Entry) {
    let Event::Enclosure(id, change) = &entry.event else {
        return;
    };
    if let EnclosureChange::Added { name, litres } = change {
        let enclosure = Enclosure {
            id: *id,
            name: name.clone(),
            litres: *litres,
            room: String::new(),
            order: id.0,
            crabs: 0,
            smallest_cm: None,
            largest_cm: None,
            carer: None,
            quarantine: false,
            sensor: false,
            quiet: None,
            made: EnclosureMade::default(),
            since: entry.at,
        };
        place.enclosures.insert(*id, enclosure);
        return;
    }
    if matches!(change, EnclosureChange::Retired) {
        place.enclosures.remove(id);
    }
    let Some(enclosure) = place.enclosures.get_mut(id) else {
        return;
    };
    match change {
        EnclosureChange::Added { .. } | EnclosureChange::Retired => {}
        EnclosureChange::Name(name) => enclosure.name.clone_from(name),
        EnclosureChange::Litres(litres) => enclosure.litres = *litres,
        EnclosureChange::Room(room) => enclosure.room.clone_from(room),
        EnclosureChange::Order(order) => enclosure.order = *order,
        EnclosureChange::Crabs(crabs) => enclosure.crabs = *crabs,
        EnclosureChange::Smallest(cm) => enclosure.smallest_cm = Some(*cm),
        EnclosureChange::Largest(cm) => enclosure.largest_cm = Some(*cm),
        EnclosureChange::Carer(carer) => enclosure.carer = *carer,
        EnclosureChange::Quarantine(is) => enclosure.quarantine = *is,
        EnclosureChange::Sensor(is) => enclosure.sensor = *is,
        EnclosureChange::Quiet(zone) => enclosure.quiet.clone_from(zone),
        change => enclosure.made.take(change),
    }
}

fn apply_pool(pools: &mut BTreeMap<PoolId, Pool>, entry: &Entry) {
    match &entry.event {
        Event::Pool(
            id,
            PoolChange::Added {
                enclosure,
                water,
                litres,
                life,
            },
        ) => {
            let pool = Pool {
                id: *id,
                enclosure: *enclosure,
                water: *water,
                litres: *litres,
                removable: true,
                nested: false,
                life: *life,
                since: entry.at,
                returned: false,
                air: None,
                filter: None,
                bared: None,
                made: PoolMade::default(),
            };
            pools.insert(*id, pool);
        }
        Event::Pool(id, PoolChange::Retired) => {
            pools.remove(id);
        }
        Event::Pool(id, change) => {
            let Some(pool) = pools.get_mut(id) else { return };
            match change {
                PoolChange::Litres(litres) => pool.litres = *litres,
                PoolChange::Removable(is) => pool.removable = *is,
                PoolChange::Nested(is) => pool.nested = *is,
                PoolChange::Life(life) if *life != pool.life => {
                    pool.returned = pool.returned || pool.life == Life::InUse || pool.life == Life::OutOfUse;
                    (pool.life, pool.since) = (*life, entry.at);
                }
                change => pool.made.take(change),
            }
        }
        Event::Gear(id, gear, change) => {
            let Some(pool) = pools.get_mut(id) else { return };
            if *change == GearChange::Removed {
                pool.bared = Some(entry.at);
                // What was told of it went with it.
                match gear {
                    Gear::Air => pool.made.air = AirMade::default(),
                    Gear::Filter => pool.made.filter = FilterMade::default(),
                }
            }
            let slot = match gear {
                Gear::Air => &mut pool.air,
                Gear::Filter => &mut pool.filter,
            };
            apply_gear(slot, *gear, *change, entry.at);
        }
        Event::GearFact(id, gear, fact) => {
            let Some(pool) = pools.get_mut(id) else { return };
            match gear {
                Gear::Air => pool.made.air.take(*fact),
                Gear::Filter => pool.made.filter.take(*fact),
            }
        }
        _ => {}
    }
}

fn apply_gear(slot: &mut Option<Fitted>, gear: Gear, change: GearChange, at: Timestamp) {
    match (change, slot.as_mut()) {
        (GearChange::Added { proven }, _) => {
            let proven = (proven || gear == Gear::Air).then_some(at);
            *slot = Some(Fitted {
                since: at,
                proven,
                lapsed: None,
                stopped: None,
            });
        }
        (GearChange::Removed, _) => *slot = None,
        (GearChange::Stopped, Some(fitted)) => fitted.stopped = fitted.stopped.or(Some(at)),
        (GearChange::Started, Some(fitted)) => fitted.stopped = None,
        (GearChange::Proven, Some(fitted)) => fitted.proven = fitted.proven.or(Some(at)),
        (_, None) => {}
    }
}
