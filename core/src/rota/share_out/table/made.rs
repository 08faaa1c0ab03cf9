//! Tables made by hand for tests.

use std::collections::BTreeMap;

use jiff::civil::date;

use super::{Load, Table};
use crate::place::{CarerId, EnclosureId, RoundId};
use crate::rota::share_out::group::{Free, Group, Together};

/// People with the most minutes of a day and a balance, and the turns of each enclosure in one round: minutes, and who can
/// do them.
pub(in crate::rota::share_out) fn table(
    people: &[(Option<f64>, f64)],
    groups: Vec<Vec<(f64, &[usize])>>,
) -> Table {
    let today = date(2026, 3, 2);
    let load = |(most, balance): &(Option<f64>, f64)| Load {
        balance: *balance,
        put_off: 0.0,
        owed: 10.0,
        weight: 0.1,
        most: *most,
        days: vec![0.0],
    };
    let mut turns = 0..;
    let mut free = |(minutes, can): (f64, &[usize])| Free {
        turn: turns.next().expect("a number"),
        minutes,
        more: 0.0,
        can: can.to_vec(),
        owner: None,
    };
    let group = |(enclosure, of): (u32, Vec<(f64, &[usize])>)| Group {
        key: Together {
            date: today,
            round: RoundId(1),
            enclosure: Some(EnclosureId(enclosure)),
        },
        turns: of.into_iter().map(&mut free).collect(),
        with: Vec::new(),
    };
    Table {
        carers: (1..).take(people.len()).map(CarerId).collect(),
        loads: people.iter().map(load).collect(),
        groups: (1..).zip(groups).map(group).collect(),
        customs: 1.0,
        today,
        published: BTreeMap::new(),
        habits: BTreeMap::new(),
    }
}
