//! What holds for every place: the first failure is the first hazard of the marks, with the visits there is none, and
//! fewer visits would not do. The last two are asked of the marks alone, and of every smaller set of visits.

use jiff::{SignedDuration, Timestamp, civil};
use proptest::prelude::*;

use super::tests::Told;
use super::*;
use crate::care::{Every, Mark, Numbers, OwnDuty, Schedule};
use crate::civil::{hold, plus_days};
use crate::journal::{Entry, Event, GearChange, OwnDutyChange, Part, PoolChange};
use crate::particulars::GearFact;
use crate::place::{CarerId, EnclosureId, Gear, Life, OwnDutyId, QuietZone, Water};
use crate::pool::shape::Shape;
use crate::quantity::Centimetres;

const ZONES: [&str; 4] = ["Europe/London", "America/New_York", "Australia/Lord_Howe", "UTC"];
const ROUNDS: [&[&str]; 4] = [
    &["08:00", "19:30"],
    &["08:00"],
    &["02:30", "21:00"],
    &["07:15", "13:00", "22:45"],
];
const DUTIES: [Duty; 5] = [
    Duty::Change,
    Duty::TopUp,
    Duty::Condition,
    Duty::LeakCheck,
    Duty::Test,
];

/// What is drawn of one pool.
#[derive(Clone, Debug)]
struct Drawn {
    enclosure: u32,
    salt: bool,
    litres: f64,
    life: u8,
    air: u8,
    filter: u8,
    nested: bool,
    /// How far the fill line lies under the water, in mm.
    line: Option<u8>,
    /// What was done: how many hours before leaving, which duty, and what part of it.
    done: Vec<(u16, usize, u8)>,
}

fn pool() -> impl Strategy<Value = Drawn> {
    (
        (1..=2_u32, any::<bool>(), 1.0..12.0_f64, 0..10_u8),
        (0..5_u8, 0..5_u8, any::<bool>()),
        prop::option::weighted(0.3, 1..30_u8),
        prop::collection::vec((0..240_u16, 0..DUTIES.len(), 1..=10_u8), 0..6),
    )
        .prop_map(
            |((enclosure, salt, litres, life), (air, filter, nested), line, done)| Drawn {
                enclosure,
                salt,
                litres,
                life,
                air,
                filter,
                nested,
                line,
                done,
            },
        )
}

/// A whole place and how long it is left.
#[derive(Clone, Debug)]
struct Scene {
    zone: usize,
    rounds: usize,
    pools: Vec<Drawn>,
    /// Hazard limits by the place's own number: of which rule, in hours.
    limits: Vec<(usize, u32)>,
    /// In which enclosure a quiet zone lies, and how many days after leaving it is looked at.
    quiet: Option<(u32, i64)>,
    own: bool,
    /// The day and the hour of leaving, from 1 March at midnight on.
    leave_h: u16,
    /// How long nobody is there.
    hours: u16,
}

const SET: [Rule; 6] = [
    Rule::ChangeStill,
    Rule::ChangeAerated,
    Rule::PartChange,
    Rule::TopUp,
    Rule::LeakCheck,
    Rule::Look,
];

fn scene() -> impl Strategy<Value = Scene> {
    (
        (0..ZONES.len(), 0..ROUNDS.len()),
        prop::collection::vec(pool(), 1..4),
        prop::collection::vec(
            (0..SET.len(), prop_oneof![1 => 10..30_u32, 5 => 30..200_u32]),
            0..3,
        ),
        prop::option::weighted(0.4, (1..=2_u32, 0..8_i64)),
        any::<bool>(),
        (0..900_u16, 6..200_u16),
    )
        .prop_map(
            |((zone, rounds), pools, limits, quiet, own, (leave_h, hours))| Scene {
                zone,
                rounds,
                pools,
                limits,
                quiet,
                own,
                leave_h,
                hours,
            },
        )
}

impl Scene {
    fn told(&self) -> (Told, Span) {
        let mut told = Told::new(ZONES[self.zone], ROUNDS[self.rounds], 2);
        let leave = told.at("03-01 00:00") + SignedDuration::from_hours(i64::from(self.leave_h));
        let back = leave + SignedDuration::from_hours(i64::from(self.hours));
        for (number, drawn) in (1..).zip(&self.pools) {
            drawn.tell(&mut told, PoolId(number), leave);
        }
        for (rule, hours) in &self.limits {
            let numbers = Numbers {
                hazard_h: Some(*hours),
                ..Numbers::default()
            };
            told.sets(Event::Numbers(SET[*rule], numbers));
        }
        if let Some((enclosure, days)) = self.quiet {
            let zone = QuietZone {
                spot: "left".to_owned(),
                until: plus_days(told.zone.date(leave), days),
            };
            let change = crate::journal::EnclosureChange::Quiet(Some(zone));
            told.sets(Event::Enclosure(EnclosureId(enclosure), change));
        }
        if self.own {
            for (number, schedule) in (1..).zip([
                Schedule::Every(Every::Days(2)),
                Schedule::Weekdays {
                    days: vec![3, 6],
                    at: Some(civil::time(9, 0, 0, 0)),
                },
            ]) {
                let duty = OwnDuty {
                    name: format!("own {number}"),
                    target: Target::Enclosure(EnclosureId(1)),
                    schedule,
                    grace_h: 6,
                    disturbs: number == 1,
                };
                told.sets(Event::OwnDuty(OwnDutyId(number), OwnDutyChange::Added(duty)));
            }
        }
        (told, Span { leave, back })
    }
}

impl Drawn {
    fn tell(&self, told: &mut Told, id: PoolId, leave: Timestamp) {
        let life = match self.life {
            0 => Life::Planned,
            1 => Life::OutOfUse,
            2 => Life::Cycling,
            _ => Life::InUse,
        };
        let water = if self.salt { Water::Salt } else { Water::Fresh };
        told.pool(id, self.enclosure, water, self.litres, life);
        told.sets(Event::Pool(id, PoolChange::Nested(self.nested)));
        let before = |hours: i64| leave - SignedDuration::from_hours(hours);
        if self.air > 0 {
            let at = before(if self.air == 1 { 30 } else { 1200 });
            told.add(
                at,
                Event::Gear(id, Gear::Air, GearChange::Added { proven: false }),
            );
        }
        if self.air == 2 {
            told.add(before(20), Event::Gear(id, Gear::Air, GearChange::Stopped));
        }
        if self.filter > 0 {
            let proven = self.filter > 1;
            told.add(
                before(1100),
                Event::Gear(id, Gear::Filter, GearChange::Added { proven }),
            );
        }
        if self.filter == 2 {
            told.add(before(10), Event::Gear(id, Gear::Filter, GearChange::Stopped));
        }
        if let Some(line) = self.line {
            let height = self.litres * 1000.0 / (30.0 * 25.0);
            let shape = Shape::Box {
                length: Centimetres(30.0),
                width: Centimetres(25.0),
                height: Centimetres(height + 4.0),
            };
            told.sets(Event::Pool(id, PoolChange::Shape(shape)));
            let line = (height - f64::from(line) / 10.0).max(0.1);
            told.sets(Event::GearFact(id, Gear::Filter, GearFact::FillLine(line)));
        }
        for (hours, duty, tenths) in &self.done {
            let part = if *tenths == 10 {
                Part::Whole
            } else {
                Part::Fraction(f64::from(*tenths) / 10.0)
            };
            let did = Event::Did(DUTIES[*duty], Target::Pool(id), part);
            told.add(before(i64::from(*hours)), did);
        }
    }
}

/// Writes a duty, whole, into a book.
fn write(book: &mut Book, duty: Duty, target: Target, at: Timestamp) {
    book.insert(Entry::at_once(
        book.last_seq() + 1,
        at,
        CarerId(1),
        Event::Did(duty, target, Part::Whole),
    ));
}

fn prepared(told: &Told, found: &Alone) -> Book {
    let mut book = told.book();
    for turn in &found.before {
        write(&mut book, turn.duty, turn.target, found.span.leave);
    }
    book
}

/// The hours from one moment to another, the last one included.
fn hours(from: Timestamp, to: Timestamp) -> impl Iterator<Item = Timestamp> {
    let count = (to.as_second() - from.as_second()) / 3600;
    (0..=count).map(move |hour| from + SignedDuration::from_hours(hour))
}

fn is_gap(found: &Alone, duty: Duty, target: Target) -> bool {
    let mut gaps = found.visits.gaps.iter();
    gaps.any(|gap| gap.limit.duty.family() == duty.family() && gap.limit.target == target)
}

/// Whether anything, gaps left out, is less than the margin from its limit at a moment: by the marks, and by what the
/// water's level bares.
fn is_near(book: &Book, found: &Alone, at: Timestamp) -> bool {
    let place = book.place_at(at);
    let margin = SignedDuration::from_hours(MARGIN_H);
    board(book, &place, at).iter().any(|one| {
        let zone = place.enclosure_of(one.turn.target).and_then(|e| e.quiet.as_ref());
        let held = zone.filter(|_| one.turn.duty.disturbs());
        // Nothing that is held back is a hazard before it is let go.
        let held = held.map_or(Timestamp::MIN, |zone| place.zone.day_start(zone.until));
        let of_level = match one.turn.target {
            Target::Pool(pool) if one.turn.duty == Duty::TopUp => found.levels.of(pool),
            _ => None,
        };
        let bared = of_level.into_iter().flat_map(|level| &level.bares);
        let bared = bared.filter_map(|(_, days)| {
            let after = SignedDuration::from_secs_f64(days.low? * 86_400.0);
            one.anchor.hazard_from.checked_add(after).ok()
        });
        let mut limits = one.hazard.into_iter().chain(bared).map(|limit| limit.max(held));
        !is_gap(found, one.turn.duty, one.turn.target) && limits.any(|limit| limit - margin < at)
    })
}

/// Whether some visits, at each of which all is done that can be, keep everything from its limit.
fn keeps(prepared: &Book, found: &Alone, visits: &[Timestamp]) -> bool {
    let mut book = prepared.clone();
    for at in visits.iter().copied().chain([found.span.back]) {
        if is_near(&book, found, at) {
            return false;
        }
        let place = book.place_at(at);
        for one in board(&book, &place, at) {
            if one.held.is_none() && one.hazard.is_some() {
                write(&mut book, one.duty(), one.turn.target, at);
            }
        }
    }
    true
}

/// Whether any set of so many of the moments does.
fn any_keeps(prepared: &Book, found: &Alone, moments: &[Timestamp], count: usize) -> bool {
    fn go(
        prepared: &Book,
        found: &Alone,
        moments: &[Timestamp],
        count: usize,
        taken: &mut Vec<Timestamp>,
    ) -> bool {
        if count == 0 {
            return keeps(prepared, found, taken);
        }
        (0..moments.len()).any(|at| {
            taken.push(moments[at]);
            let does = go(prepared, found, &moments[at + 1..], count - 1, taken);
            taken.pop();
            does
        })
    }
    go(prepared, found, moments, count, &mut Vec::new())
}

/// The moments at which a visit may be made.
fn candidates(book: &Book, span: Span, times: Times) -> Vec<Timestamp> {
    let place = book.place_at(span.leave);
    let (zone, first) = (&place.zone, place.zone.date(span.leave));
    let mut all: Vec<Timestamp> = (-1..=10)
        .map(|day| plus_days(first, day))
        .flat_map(|date| -> Vec<Timestamp> {
            match times {
                Times::Rounds => place
                    .rounds
                    .iter()
                    .map(|round| hold(zone, round, date).at)
                    .collect(),
                Times::Hours => (0..24).map(|hour| zone.instant(date.at(hour, 0, 0, 0))).collect(),
            }
        })
        .filter(|at| span.leave < *at && *at < span.back)
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// More sets than this are not tried.
const SETS_MAX: f64 = 100.0;

/// How many sets of so many there are among some.
fn sets(of: usize, count: usize) -> f64 {
    (0..count).fold(1.0, |all, at| {
        all * of.saturating_sub(at) as f64 / (at + 1) as f64
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        rng_seed: proptest::test_runner::RngSeed::Fixed(20_260_306),
        ..ProptestConfig::with_cases(48)
    })]

    #[test]
    fn the_first_failure_is_the_first_hazard(scene in scene()) {
        let (told, span) = scene.told();
        let found = alone(&told.book(), span.leave, span);
        let book = prepared(&told, &found);
        let marks = |at: Timestamp| {
            let all = board(&book, &book.place_at(at), at);
            all.into_iter().filter(|one| one.mark == Mark::Hazard).map(|one| one.turn).collect::<Vec<_>>()
        };
        let cadence: Vec<_> = found.failures.iter().filter(|limit| limit.cause == Cause::Cadence).collect();
        for at in hours(span.leave, span.back) {
            let failed = cadence.iter().filter(|limit| limit.at <= at).count();
            prop_assert_eq!(marks(at).len(), failed, "at {}", at);
        }
        if let Some(first) = cadence.first().filter(|first| first.at > span.leave && first.at <= span.back) {
            let turns = marks(first.at);
            let named = turns.iter().any(|turn| (turn.duty, turn.target) == (first.duty.family(), first.target));
            prop_assert!(named, "{:?}: {:?}", first, turns);
            prop_assert_eq!(marks(first.at - SignedDuration::from_secs(1)), Vec::new());
        }
    }

    #[test]
    fn with_the_visits_no_hazard_is_reached(scene in scene()) {
        let (told, span) = scene.told();
        let found = alone(&told.book(), span.leave, span);
        let mut book = prepared(&told, &found);
        let mut visits = found.visits.visits.iter().peekable();
        for at in hours(span.leave, span.back) {
            while let Some(visit) = visits.next_if(|visit| visit.at <= at) {
                prop_assert!(!is_near(&book, &found, visit.at), "before the visit at {}", visit.at);
                let place = book.place_at(visit.at);
                let all = board(&book, &place, visit.at);
                for turn in &visit.turns {
                    let held = all.iter().find(|one| (one.duty(), one.turn.target) == (turn.duty, turn.target));
                    prop_assert!(held.is_some_and(|one| one.held.is_none()), "{:?}", turn);
                    write(&mut book, turn.duty, turn.target, visit.at);
                }
            }
            let hazards = board(&book, &book.place_at(at), at);
            let hazards = hazards.iter().filter(|one| one.mark == Mark::Hazard);
            let mut told = hazards.map(|one| (one.turn.duty, one.turn.target));
            prop_assert!(told.all(|(duty, target)| is_gap(&found, duty, target)), "at {}", at);
        }
        prop_assert!(visits.next().is_none());
        prop_assert!(!is_near(&book, &found, span.back), "at the return");
    }

    #[test]
    fn fewer_visits_would_not_do(scene in scene()) {
        let (told, span) = scene.told();
        let found = alone(&told.book(), span.leave, span);
        let book = prepared(&told, &found);
        let moments = candidates(&book, span, found.visits.times);
        let visits: Vec<Timestamp> = found.visits.visits.iter().map(|visit| visit.at).collect();
        prop_assert!(visits.iter().all(|at| moments.contains(at)));
        prop_assert!(keeps(&book, &found, &visits));
        if found.visits.times == Times::Hours && found.visits.gaps.is_empty() {
            let rounds = candidates(&book, span, Times::Rounds);
            prop_assert!(!keeps(&book, &found, &rounds), "rounds would do");
        }
        prop_assume!(!visits.is_empty());
        let fewer = visits.len() - 1;
        prop_assume!(sets(moments.len(), fewer) <= SETS_MAX);
        prop_assert!(!any_keeps(&book, &found, &moments, fewer), "{} visits would do", fewer);
    }
}
