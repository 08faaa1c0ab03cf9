//! Keepings beside each other, a row for each thing that is compared.

use std::collections::BTreeSet;

use wrackline_core::care::Duty;
use wrackline_core::place::{CarerId, PoolId};
use wrackline_core::quantity::{Grams, Millilitres, plain};
use wrackline_core::rehearse::{Kept, Rehearsal, Water};

use crate::chat::blocks::Block;
use crate::desk::Desk;
use crate::desk::tell::capital;
use crate::desk::water::said;
use crate::msg;

/// Pools whose water is told one by one.
const POOLS_MAX: usize = 8;

/// Minutes as they are told: whole ones.
pub(super) fn minutes(of: f64) -> String {
    plain(of.round())
}

/// Time left before a hazard, in hours, or for how long it was past it.
pub(super) fn left(desk: &Desk<'_>, minutes: i64) -> String {
    if minutes > 0 {
        desk.say(&msg!("rehearse-left", hours = minutes / 60))
    } else {
        desk.say(&msg!("rehearse-past", hours = -minutes / 60))
    }
}

/// The least that was left before a hazard of one duty, in minutes.
pub(super) fn least(kept: &Kept, duty: Duty) -> Option<i64> {
    let of = kept
        .margins
        .iter()
        .filter(|margin| margin.duty.family() == duty.family());
    of.filter_map(|margin| margin.least.map(|(left, _)| left)).min()
}

/// The table: as it was, and as it would have been where that is another thing.
pub(super) fn table(desk: &Desk<'_>, found: &Rehearsal, changed: bool) -> Block {
    let kept: Vec<&Kept> = if changed {
        vec![&found.was, &found.would]
    } else {
        vec![&found.was]
    };
    let heads = ["rehearse-head-what", "rehearse-head-was", "rehearse-head-would"];
    let head = heads.iter().take(kept.len() + 1).map(|id| desk.tell.word(*id));
    let rows = Rows { desk, found, kept };
    let all = [rows.duties(), rows.water(), rows.people(), rows.marks()];
    Block::Table {
        head: head.collect(),
        rows: all.concat(),
    }
}

struct Rows<'r, 'a> {
    desk: &'r Desk<'a>,
    found: &'r Rehearsal,
    kept: Vec<&'r Kept>,
}

impl Rows<'_, '_> {
    fn row(&self, what: String, cell: impl Fn(&Kept) -> String) -> Vec<String> {
        let cells = self.kept.iter().map(|kept| cell(kept));
        [what].into_iter().chain(cells).collect()
    }

    fn word(&self, id: &'static str) -> String {
        self.desk.tell.word(id)
    }

    /// How often each duty was done.
    fn duties(&self) -> Vec<Vec<String>> {
        let all: BTreeSet<Duty> = self
            .kept
            .iter()
            .flat_map(|kept| &kept.turns)
            .map(|turn| turn.duty)
            .collect();
        let count = |kept: &Kept, duty: Duty| kept.turns.iter().filter(|turn| turn.duty == duty).count();
        let name = |duty: Duty| capital(&self.desk.tell.duty(duty));
        all.into_iter()
            .map(|duty| self.row(name(duty), |kept| count(kept, duty).to_string()))
            .collect()
    }

    /// Water, salt and conditioner of a week.
    fn water(&self) -> Vec<Vec<String>> {
        let place = self.desk.place();
        let any = |amount: fn(Water) -> f64| self.kept.iter().any(|kept| amount(kept.water()) > 0.0);
        let weekly = |amount: f64| self.found.weekly(amount);
        let mut rows = Vec::new();
        if any(|water| water.litres) {
            let litres = |kept: &Kept| self.desk.tell.litres(weekly(kept.water().litres));
            rows.push(self.row(self.word("rehearse-row-water"), litres));
            rows.extend(self.pools());
        }
        if any(|water| water.salt_g) {
            let salt = |kept: &Kept| said::mass(place, Grams(weekly(kept.water().salt_g)));
            rows.push(self.row(self.word("rehearse-row-salt"), salt));
        }
        if any(|water| water.conditioner_ml.unwrap_or(1.0)) {
            let by_label = || self.word("mix-by-label");
            let dose = |kept: &Kept| {
                let ml = kept.water().conditioner_ml;
                ml.map_or_else(by_label, |ml| said::dose(Millilitres(weekly(ml))))
            };
            rows.push(self.row(self.word("rehearse-row-conditioner"), dose));
        }
        rows
    }

    /// Water of a week of each pool, where there are a few.
    fn pools(&self) -> Vec<Vec<String>> {
        let cuts = self.kept.iter().flat_map(|kept| &kept.cuts);
        let all: BTreeSet<PoolId> = cuts.map(|cut| cut.pool).collect();
        if !(2..=POOLS_MAX).contains(&all.len()) {
            return Vec::new();
        }
        let row = |pool: PoolId| {
            let name = self
                .desk
                .say(&msg!("rehearse-row-water-of", pool = self.desk.tell.pool(pool)));
            self.row(name, |kept| {
                self.desk
                    .tell
                    .litres(self.found.weekly(kept.water_of(pool).litres))
            })
        };
        all.into_iter().map(row).collect()
    }

    /// Minutes of a week: of all, and of each person.
    fn people(&self) -> Vec<Vec<String>> {
        let weekly = |amount: f64| minutes(self.found.weekly(amount));
        let mut rows = vec![self.row(self.word("rehearse-row-minutes"), |kept| weekly(kept.minutes()))];
        let all: BTreeSet<CarerId> = self
            .kept
            .iter()
            .flat_map(|kept| kept.minutes_of().into_keys())
            .collect();
        for who in all {
            let name = self
                .desk
                .say(&msg!("rehearse-row-person", name = self.desk.tell.carer(who)));
            let of = |kept: &Kept| weekly(kept.minutes_of().get(&who).copied().unwrap_or_default());
            rows.push(self.row(name, of));
        }
        rows
    }

    /// Late turns, hazards, and what was left before one.
    fn marks(&self) -> Vec<Vec<String>> {
        let mut rows = vec![
            self.row(self.word("rehearse-row-late"), |kept| kept.overdue().to_string()),
            self.row(self.word("rehearse-row-hazards"), |kept| {
                kept.hazards().to_string()
            }),
        ];
        for duty in [Duty::Change, Duty::TopUp] {
            if self.kept.iter().all(|kept| least(kept, duty).is_none()) {
                continue;
            }
            let name = self
                .desk
                .say(&msg!("rehearse-row-left", duty = self.desk.tell.duty(duty)));
            let cell = |kept: &Kept| least(kept, duty).map_or("–".to_owned(), |one| left(self.desk, one));
            rows.push(self.row(name, cell));
        }
        rows
    }
}
