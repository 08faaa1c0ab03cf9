//! What is somebody's to do in a span of days, by day and round, in walking order.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use wrackline_core::care::Duty;
use wrackline_core::civil::plus_days;
use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, Place, RoundId, Target, Water};
use wrackline_core::rota::{self, Expected, Turn};

use super::works::Works;
use crate::desk::Desk;

/// From so many days on, what comes back every day is told once.
const DAILY_FROM_DAYS: usize = 4;

/// The turns of one round.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::desk) struct Row {
    /// Its day; `None`: every day.
    pub(super) date: Option<Date>,
    /// The round.
    pub(super) round: RoundId,
    /// The turns, in walking order: the duty as people call it, and where.
    pub(super) turns: Vec<(Duty, Target)>,
    /// The litres of its changes, by water.
    pub(super) changes: BTreeMap<Water, f64>,
}

/// What is somebody's to do.
pub(super) struct Turns {
    /// What comes back every day.
    pub(super) daily: Vec<Row>,
    /// All else, by day and round.
    pub(super) rows: Vec<Row>,
    /// How each kind of work is done.
    pub(super) works: Works,
    /// How many turns there are.
    pub(super) count: usize,
    /// How many minutes they take together.
    pub(super) minutes: f64,
    /// The litres of all changes, by water.
    pub(super) changes: BTreeMap<Water, f64>,
    /// How many of them are not published yet, and the day of the first.
    pub(super) later: (usize, Option<Date>),
}

impl Turns {
    /// The turns of a span that are a person's: those that were published as theirs, and those that would be, were so
    /// many days shared out now.
    pub(super) fn of(desk: &Desk<'_>, who: CarerId, span: Span) -> Self {
        let place = desk.place();
        let today = place.zone.date(desk.now());
        let ahead = span.to.duration_since(today).as_hours() / 24 + 1;
        let shared = rota::share_out(desk.book(), place, &desk.board(), desk.now(), ahead);
        let is_theirs = |turn: &Turn| span.holds(turn.expected.when.date) && turn.carer == Some(who);
        let all: Vec<Turn> = shared.turns.into_iter().filter(is_theirs).collect();
        let new: Vec<Date> = all
            .iter()
            .filter(|turn| !turn.was_published && !turn.follows)
            .map(|turn| turn.expected.when.date)
            .collect();
        let later = (new.len(), new.into_iter().min());
        let theirs: Vec<Expected> = all.into_iter().map(|turn| turn.expected).collect();
        let order = walk(place);
        let mut changes = BTreeMap::new();
        theirs.iter().for_each(|one| add_litres(place, one, &mut changes));
        let mut kinds: Vec<(Duty, Target)> = theirs.iter().map(|one| (one.duty, one.target)).collect();
        kinds.sort_by_key(|(duty, target)| (*duty, order.get(target).copied()));
        kinds.dedup();
        let (daily, rows) = rows(desk, span, &theirs, &order);
        Self {
            daily,
            rows,
            works: Works::of(desk, &kinds),
            count: theirs.len(),
            minutes: theirs.iter().map(|one| one.work.minutes).sum(),
            changes,
            later,
        }
    }
}

/// Where each target lies on the walk: an enclosure before its pools.
fn walk(place: &Place) -> BTreeMap<Target, usize> {
    let of = |enclosure: &wrackline_core::place::Enclosure| {
        let pools = place.pools_of(enclosure.id).into_iter();
        let pools: Vec<Target> = pools.map(|pool| Target::Pool(pool.id)).collect();
        std::iter::once(Target::Enclosure(enclosure.id)).chain(pools)
    };
    let targets = place.walk().into_iter().flat_map(of).chain([Target::Place]);
    targets.zip(0..).collect()
}

fn add_litres(place: &Place, expected: &Expected, changes: &mut BTreeMap<Water, f64>) {
    if let Target::Pool(id) = expected.target
        && expected.work.litres > 0.0
        && let Some(pool) = place.pools.get(&id)
    {
        *changes.entry(pool.water).or_default() += expected.work.litres;
    }
}

/// The days of a span on which a round is still to come.
fn days_to_come(desk: &Desk<'_>, round: RoundId, span: Span) -> BTreeSet<Date> {
    let (place, now) = (desk.place(), desk.now());
    let time = place
        .rounds
        .iter()
        .find(|one| one.id == round)
        .map(|one| one.time);
    let days = std::iter::successors(Some(span.from), |date| Some(plus_days(*date, 1)));
    let comes = |date: &Date| time.is_some_and(|time| place.zone.instant(date.to_datetime(time)) >= now);
    days.take_while(|date| *date <= span.to).filter(comes).collect()
}

/// The turns by day and round; apart from them what comes back in a round on every day that is left of the span.
fn rows(
    desk: &Desk<'_>,
    span: Span,
    all: &[Expected],
    order: &BTreeMap<Target, usize>,
) -> (Vec<Row>, Vec<Row>) {
    let place = desk.place();
    let mut rounds: BTreeMap<RoundId, BTreeMap<Date, Vec<&Expected>>> = BTreeMap::new();
    for one in all {
        let dates = rounds.entry(one.when.round).or_default();
        dates.entry(one.when.date).or_default().push(one);
    }
    let (mut daily, mut rows) = (Vec::new(), Vec::new());
    for (round, dates) in rounds {
        let days = days_to_come(desk, round, span);
        let same = |one: &Expected, other: &Expected| (one.duty, one.target) == (other.duty, other.target);
        let comes_back = |one: &&&Expected| {
            let is_on = |date| {
                dates
                    .get(date)
                    .is_some_and(|turns| turns.iter().any(|other| same(one, other)))
            };
            days.len() >= DAILY_FROM_DAYS && days.iter().all(is_on)
        };
        let last = dates.values().next_back().into_iter().flatten();
        let every: Vec<&Expected> = last.filter(comes_back).copied().collect();
        for (date, turns) in &dates {
            let is_daily = |one: &Expected| days.contains(date) && every.iter().any(|other| same(one, other));
            let rest = turns.iter().filter(|one| !is_daily(one)).copied().collect();
            rows.extend(row(place, Some(*date), round, rest, order));
        }
        daily.extend(row(place, None, round, every, order));
    }
    let time = |row: &Row| {
        let round = place.rounds.iter().find(|round| round.id == row.round);
        (row.date, round.map(|round| round.time), row.round)
    };
    rows.sort_by_key(time);
    daily.sort_by_key(time);
    (daily, rows)
}

fn row(
    place: &Place,
    date: Option<Date>,
    round: RoundId,
    mut all: Vec<&Expected>,
    order: &BTreeMap<Target, usize>,
) -> Option<Row> {
    all.sort_by_key(|one| (order.get(&one.target).copied(), one.duty));
    let mut changes = BTreeMap::new();
    all.iter().for_each(|one| add_litres(place, one, &mut changes));
    let turns: Vec<(Duty, Target)> = all.iter().map(|one| (one.duty, one.target)).collect();
    (!turns.is_empty()).then_some(Row {
        date,
        round,
        turns,
        changes,
    })
}
