//! Nobody is called by name twice for one turn in one step, and the steps lie as near to each other as the hazard is.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use wrackline_core::care::{Duty, TurnKey, board, standing};
use wrackline_core::civil::{is_quiet, plus_minutes};
use wrackline_core::journal::{Book, CarerChange, Event, PlaceChange, Sighting};
use wrackline_core::moment::{Called, Destination, Post, Step, awake, called_at, rests, step_times};
use wrackline_core::people::{Free, Weekdays};
use wrackline_core::place::{CarerId, QuietHours, Role, RoundId};
use wrackline_core::rota::hand;
use wrackline_tests::journal::{NORTH_ITSELF, NORTH_SALT, Script};

use super::Watch;

const DAYS: i64 = 21;

/// A place of a few people who put off, free, take and forget turns, see things, look and hush.
fn people(roles: &[Role], quiet: Option<QuietHours>, start: Timestamp, deeds: &[(i64, u8, i64)]) -> Script {
    let mut script = Script::place("America/New_York", "07:30 19:00");
    let set_up = "2001-01-01 00:00";
    script.add(set_up, Event::Place(PlaceChange::Quiet(quiet)));
    for (number, role) in (2..).zip(roles) {
        let mut say = |change| script.add(set_up, Event::Carer(CarerId(number), change));
        say(CarerChange::Added(*role));
        if number % 2 == 0 {
            let evening = QuietHours {
                from: jiff::civil::time(18, 0, 0, 0),
                to: jiff::civil::time(6 + number as i8, 0, 0, 0),
            };
            say(CarerChange::Quiet(Some(evening)));
        }
        if number % 3 == 0 {
            say(CarerChange::Private(true));
        }
        if number > 3 {
            let round = Some(RoundId(number % 2 + 1));
            let days = Weekdays(0b101_1011);
            say(CarerChange::Free(Some(vec![Free { days, round }])));
        }
    }
    let mut deeds = deeds.to_vec();
    deeds.sort_unstable();
    let mut seen = Vec::new();
    for (minutes, kind, more) in deeds {
        let local = |minutes| {
            let civil = script.zone.civil(plus_minutes(start, minutes));
            civil.strftime("%Y-%m-%d %H:%M").to_string()
        };
        let (at, later) = (local(minutes), local(minutes + more));
        let turn = |duty| script.turn(&at, duty);
        let event = match kind {
            0 => Event::Did(Duty::Change, NORTH_SALT, wrackline_core::journal::Part::Whole),
            1 | 2 => Event::Later {
                turn: turn(if kind == 1 { Duty::Change } else { Duty::TopUp }),
                until: script.at(&later),
            },
            3 => Event::Cannot {
                turn: turn(Duty::Change),
            },
            4 => Event::Took {
                turn: turn(Duty::Change),
            },
            5 => {
                // What is seen again while it is open is the same matter: several kinds and spots make several.
                let kinds = [Sighting::Leak, Sighting::WetSubstrate, Sighting::TippedFilter];
                let spots = [NORTH_ITSELF, NORTH_SALT];
                let which = usize::try_from(more).unwrap_or(0);
                Event::Saw(spots[which % spots.len()], kinds[which % kinds.len()])
            }
            6 => Event::Saw(NORTH_ITSELF, Sighting::Trouble),
            7 => Event::Place(PlaceChange::Hush(Some(script.at(&later)))),
            _ => match seen.get(usize::try_from(more).unwrap_or(0) % seen.len().max(1)) {
                Some(seq) if kind == 8 => Event::Looked(*seq),
                Some(seq) => Event::Closed(*seq),
                None => continue,
            },
        };
        let is_sighting = matches!(event, Event::Saw(..));
        let seq = script.add(&at, event);
        if is_sighting {
            seen.push(seq);
        }
    }
    script
}

/// What was called by name so far.
#[derive(Default)]
struct Named {
    /// The keys of the steps of turns.
    steps: BTreeSet<String>,
    /// The keys of steps, each with whom it called.
    people: BTreeSet<(String, CarerId)>,
    /// The keys of steps, each with when it went out.
    out: BTreeMap<String, Timestamp>,
    looks: BTreeSet<(u64, Timestamp, bool, Destination)>,
}

impl Named {
    fn hear(&mut self, book: &Book, at: Timestamp, post: &Post) -> Result<(), TestCaseError> {
        let turns: BTreeSet<TurnKey> = post.subject.turns().iter().map(|called| called.turn).collect();
        prop_assert_eq!(
            turns.len(),
            post.subject.turns().len(),
            "a turn twice in one post at {}",
            at
        );
        for called in post.subject.turns() {
            let Some(step) = called.names else { continue };
            prop_assert!(called.step.is_none_or(|reached| step <= reached) || step == Step::Carer);
            // Who put a turn off is called as it comes back, which is no step of passing on.
            let has = |key: String| post.keys.iter().any(|one| one.starts_with(&key));
            let turn = called.turn;
            if step == Step::Carer && has(format!("back.{turn}.")) && !has(format!("late.{turn}.0")) {
                continue;
            }
            // A turn that somebody gave up asks others anew; keepers are called once all the same.
            let late = format!("late.{turn}.{}", step as u8);
            let freed = format!("freed.{turn}.{}.", step as u8);
            let of_step = |key: &&String| {
                if last(key).1 == "s" {
                    return false;
                }
                let is_late = key
                    .strip_prefix(&late)
                    .is_some_and(|rest| rest.is_empty() || rest.starts_with(".p"));
                is_late || (step < Step::Keeper && key.starts_with(&freed) && last(key).1 != "c")
            };
            let keys: Vec<&String> = post.keys.iter().filter(of_step).collect();
            prop_assert!(!keys.is_empty(), "{} {:?} without its key at {}", turn, step, at);
            let mut steps = BTreeSet::new();
            for key in keys {
                prop_assert!(self.steps.insert(key.clone()), "{} twice, at {}", key, at);
                steps.insert(last(key).0.to_owned());
            }
            for key in post.keys.iter().filter(|key| last(key).1.is_empty()) {
                self.out.entry(key.clone()).or_insert(at);
            }
            let named = named(book, called, step, at)?;
            for carer in named {
                // Whoever is called after the step went out slept then.
                for out in steps.iter().filter_map(|step| self.out.get(step)) {
                    let slept = *out == at || rests(&book.place_at(*out), carer, *out);
                    prop_assert!(slept, "{:?} was awake at {}, and is called at {}", carer, out, at);
                }
                prop_assert!(post.to == Destination::Chat || post.to == Destination::Carer(carer));
                for step in &steps {
                    let is_new = self.people.insert((step.clone(), carer));
                    prop_assert!(is_new, "{:?} twice for {}, at {}", carer, step, at);
                }
            }
        }
        for look in post.subject.looks().iter().filter(|look| look.names) {
            let one = (look.matter, look.due, look.late, post.to);
            prop_assert!(self.looks.insert(one), "{:?} twice, at {}", one, at);
        }
        Ok(())
    }
}

/// A key of a step, and the letter of whose it is behind it: `p` for whom it called, `s` for whom it left out, `c` for a
/// post to one alone.
fn last(key: &str) -> (&str, &str) {
    match key.rsplit_once('.') {
        Some((step, whose)) if whose.starts_with(['p', 's', 'c']) => (step, &whose[..1]),
        _ => (key, ""),
    }
}

/// Whom a post calls by name for a turn: nobody in their own quiet hours, and whoever it calls, one of them at least is
/// awake.
fn named(book: &Book, called: &Called, step: Step, at: Timestamp) -> Result<Vec<CarerId>, TestCaseError> {
    let place = book.place_at(at);
    let standing = standing(book, &place, called.turn.duty, called.turn.target, at).expect("an open turn");
    let hand = hand(book, &place, &standing, at);
    let mut all = called_at(book, &place, &standing, &hand, step, at);
    all.retain(|carer| called.only.is_empty() || called.only.contains(carer));
    let wakes = |carer: &CarerId| !rests(&place, *carer, awake(&place, *carer, at));
    let is_ever = all.iter().any(wakes);
    all.retain(|carer| !rests(&place, *carer, at));
    prop_assert!(
        !is_ever || !all.is_empty(),
        "{:?} {:?} calls nobody at {}",
        called.turn,
        step,
        at
    );
    Ok(all)
}

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        rng_seed: RngSeed::Fixed(20_260_305),
        failure_persistence: None,
        ..ProptestConfig::with_cases(cases)
    }
}

fn quiet() -> impl Strategy<Value = Option<QuietHours>> {
    let time = |minutes: i32| jiff::civil::time((minutes / 60) as i8, (minutes % 60) as i8, 0, 0);
    proptest::option::of((0..1440, 0..1440).prop_map(move |(from, to)| QuietHours {
        from: time(from),
        to: time(to),
    }))
}

fn roles() -> impl Strategy<Value = Vec<Role>> {
    let role = proptest::sample::select(vec![Role::Keeper, Role::Regular, Role::Sitter, Role::Helper]);
    proptest::collection::vec(role, 0..5)
}

proptest! {
    #![proptest_config(config(32))]

    #[test]
    fn nobody_is_called_twice_for_one_turn_in_one_step(
        roles in roles(),
        quiet in quiet(),
        deeds in proptest::collection::vec((0..DAYS * 24 * 60, 0_u8..10, 1_i64..2_000), 0..40),
        stops in proptest::collection::vec((0..DAYS * 24 * 60, 0_i64..24 * 60), 0..4),
        upgrade in proptest::option::of(0..DAYS * 24 * 60),
    ) {
        let start: Timestamp = "2026-03-01T12:00:00Z".parse().expect("an instant");
        let script = people(&roles, quiet, start, &deeds);
        let mut watch = Watch::new(&script, start);
        // Nobody looks after it from the beginning of a stop to its end; what an older house wrote has no keys of people.
        let ends = stops.iter().map(|(from, minutes)| (*from, *minutes, false));
        let mut breaks: Vec<_> = ends.chain(upgrade.map(|at| (at, 1, true))).collect();
        breaks.sort_unstable();
        let mut from = 0;
        for (at, minutes, is_upgrade) in breaks.into_iter().chain([(DAYS * 24 * 60, 0, false)]) {
            watch.run(plus_minutes(start, from), plus_minutes(start, at));
            from = from.max(at + minutes);
            if is_upgrade {
                watch.forget_people();
            }
        }
        let mut named = Named::default();
        for (at, post) in &watch.posts {
            named.hear(&watch.book, *at, post)?;
        }
        prop_assert!(!named.steps.is_empty(), "nothing was ever late");
        // In one moment the chat of all gets at most one call.
        let calls = watch.posts.iter().filter(|(_, post)| {
            post.to == Destination::Chat && !(post.subject.turns().is_empty() && post.subject.looks().is_empty())
        });
        let moments: Vec<Timestamp> = calls.map(|(at, _)| *at).collect();
        prop_assert!(moments.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn the_steps_share_out_the_time_before_the_hazard(
        quiet in quiet(), minutes in 0..DAYS * 24 * 60, done in 0..DAYS * 24 * 60,
    ) {
        let start: Timestamp = "2026-03-01T12:00:00Z".parse().expect("an instant");
        let script = people(&[Role::Regular], quiet, start, &[(done, 0, 1)]);
        let (book, now) = (script.book(), plus_minutes(start, minutes));
        let place = book.place_at(now);
        for standing in board(&book, &place, now) {
            let steps = step_times(&place, &standing);
            prop_assert_eq!(steps.len(), if standing.hazard.is_some() { 4 } else { 3 });
            prop_assert!(steps.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 <= pair[1].1));
            for (step, at) in steps {
                prop_assert!(!is_quiet(&place.zone, quiet, at) || quiet.is_some_and(|one| one.from == one.to));
                let third = |hazard: Timestamp| (hazard.as_second() - standing.overdue.as_second()).max(0) / 180;
                let third_min = standing.hazard.map_or(24 * 60, third);
                let planned = match (step, standing.hazard) {
                    (Step::Hazard, Some(hazard)) => hazard,
                    (step, _) => plus_minutes(standing.overdue, third_min * step as i64),
                };
                // Within a minute for each step of what its third says, or later where the quiet hours hold it back.
                let off_s = at.as_second() - planned.as_second();
                prop_assert!(off_s >= 0 && (off_s <= 180 || is_quiet(&place.zone, quiet, planned)), "{:?}: {}", step, off_s);
            }
        }
    }
}
