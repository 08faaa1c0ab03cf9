//! Published examples of local time, weeks and recurrences, one by one: `data/time.csv`, with the source of each.

use jiff::{Timestamp, civil};
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Duty, Every, OwnDuty, Schedule};
use wrackline_core::civil::{Week, Zone, seconds_between};
use wrackline_core::journal::{Event, OwnDutyChange, Part};
use wrackline_core::place::{OwnDutyId, Target};
use wrackline_tests::journal::Script;

use super::{cells, changes, zone};

/// The rows of a topic: inputs, expected, and how it is said here.
fn rows(topic: &str) -> Vec<(String, String, String)> {
    let lines = include_str!("../data/time.csv").lines().skip(1);
    let rows = lines.map(|line| {
        let [topic, inputs, expected, source, here] = cells(line).try_into().expect("five cells");
        assert!(!source.is_empty(), "no source: {line}");
        (topic, (inputs, expected, here))
    });
    rows.filter(|(of, _)| of == topic).map(|(_, row)| row).collect()
}

#[test]
fn iso_weeks() {
    let mut checked = 0;
    for (inputs, expected, _) in rows("iso_week") {
        let found = if let Ok(date) = inputs.parse::<civil::Date>() {
            format!("{}-{}", Week::of(date).name(), date.weekday().to_monday_one_offset())
        } else {
            let long = |year: &i16| Week::of(civil::date(*year, 12, 28)).name().ends_with("W53");
            (2015..=2049).filter(long).map(|year| year.to_string()).collect::<Vec<_>>().join(" ")
        };
        assert_eq!(found, expected, "{inputs}");
        checked += 1;
    }
    assert_eq!(checked, 11);
}

/// What a row about a clock change asks for, in that row's own words.
fn clock(inputs: &str) -> String {
    let at = |name: &str, local: &str| {
        let civil = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        zone(name).instant(civil)
    };
    let in_year = |name: &str, year: i16, which: usize| {
        let zone = zone(name);
        changes(name).into_iter().filter(|at| zone.date(*at).year() == year).nth(which).expect("a clock change")
    };
    let second_before = |at: Timestamp| at - jiff::SignedDuration::from_secs(1);
    let local = |zone: &Zone, at: Timestamp, form: &str| zone.civil(at).strftime(form).to_string();
    let day_h = |name: &str, date: civil::Date| {
        let zone = zone(name);
        seconds_between(zone.day_start(date), zone.day_start(date.tomorrow().expect("a day"))) as f64 / 3600.0
    };
    // From the last second before a change, and the change: what the clock skips or repeats.
    let span = |name: &str, at: Timestamp, first: Timestamp, last: Timestamp| {
        let (zone, left) = (zone(name), second_before(at));
        let day = local(&zone, at, "%Y-%m-%d");
        let end = zone.civil(left).checked_add(jiff::SignedDuration::from_secs(1)).expect("in range");
        let (first, last) = if first == last { (end, zone.civil(at)) } else { (zone.civil(at), end) };
        format!("{day} {}-{} local", first.strftime("%H:%M"), last.strftime("%H:%M"))
    };
    let gap = |name, year, which| {
        let at = in_year(name, year, which);
        span(name, at, at, at)
    };
    let fold = |name, year, which| {
        let at = in_year(name, year, which);
        span(name, at, at, second_before(at))
    };
    match inputs {
        "America/New_York 2026-03-08 02:30 (gap; use offset before gap)" => {
            let (zone, at) = (zone("America/New_York"), at("America/New_York", "2026-03-08 02:30"));
            format!("{at} = {}{}", local(&zone, at, "%H:%M"), zone.offset(at))
        }
        "America/New_York 2026-11-01 01:30 second" => {
            // The first pass is resolved; the second one, an hour later, shows the same civil time.
            let (zone, first) = (zone("America/New_York"), at("America/New_York", "2026-11-01 01:30"));
            let second = first + jiff::SignedDuration::from_hours(1);
            assert_eq!(zone.civil(second), zone.civil(first));
            second.to_string()
        }
        "New_York 2026-10-31 09:00 + 1 civil day" => {
            let [from, to] = ["2026-10-31 09:00", "2026-11-01 09:00"].map(|local| at("America/New_York", local));
            format!("{} h later", seconds_between(from, to) / 3600)
        }
        "Europe/London gap" => gap("Europe/London", 2026, 0),
        "Australia/Lord_Howe fold (30 min)" => {
            let (name, at) = ("Australia/Lord_Howe", in_year("Australia/Lord_Howe", 2026, 0));
            let hours = day_h(name, civil::date(2026, 4, 5));
            format!("{}; transition {at}; day is {hours} h", fold(name, 2026, 0))
        }
        "Australia/Lord_Howe gap (30 min)" => {
            let (name, at) = ("Australia/Lord_Howe", in_year("Australia/Lord_Howe", 2026, 1));
            let hours = day_h(name, civil::date(2026, 10, 4));
            format!("{}; transition {at}; day is {hours} h", gap(name, 2026, 1))
        }
        "Pacific/Apia skipped day" => {
            let (zone, missing) = (zone("Pacific/Apia"), civil::date(2011, 12, 30));
            let at = zone.day_start(missing);
            assert_ne!(zone.date(at), missing);
            let show = |at| zone.rfc3339(at).replace(":00+14:00", ":00+14").replace(":59-10:00", ":59-10");
            format!("{missing} does not exist; {} then {}; transition {at}", show(second_before(at)), show(at))
        }
        "Africa/Casablanca Ramadan 2026" => {
            let zone = zone("Africa/Casablanca");
            let hours = |at| zone.offset(at)[..3].to_owned();
            let show = |at| format!("{} -> {} {at}", hours(second_before(at)), hours(at));
            let [first, second] = [0, 1].map(|which| show(in_year("Africa/Casablanca", 2026, which)));
            format!("{first}; {second}")
        }
        "Africa/Casablanca 2026-12-01 12:00Z offset" => {
            use chrono::{Offset, TimeZone};
            let noon = "2026-12-01T12:00:00Z".parse().expect("an instant");
            let ours = &zone("Africa/Casablanca").offset(noon)[..3];
            let utc = chrono::DateTime::from_timestamp(noon.as_second(), 0).expect("in range").naive_utc();
            let older = chrono_tz::Africa::Casablanca.offset_from_utc_datetime(&utc).fix().local_minus_utc();
            format!(
                "{ours} in tzdata 2026f; {:+03} in 2025b (chrono-tz 0.10.4 and Debian tzdata 2025b): \
                 data-version sensitive",
                older / 3600
            )
        }
        "America/Sao_Paulo midnight gap" => gap("America/Sao_Paulo", 2018, 1),
        "Africa/Cairo midnight gap" => gap("Africa/Cairo", 2026, 0),
        "Pacific/Chatham offset" => {
            let zone = zone("Pacific/Chatham");
            let [first, second] = [0, 1].map(|which| in_year("Pacific/Chatham", 2026, which));
            let left = |at| {
                let last = zone.civil(second_before(at));
                last.checked_add(jiff::SignedDuration::from_secs(1)).expect("in range").strftime("%Y-%m-%d %H:%M")
            };
            let offsets = format!("{}/{}", zone.offset(second_before(first)), zone.offset(first));
            format!("{offsets}; changes {} and {}", left(first), left(second))
        }
        other => panic!("no such row: {other}"),
    }
}

#[test]
fn clock_changes() {
    let mut checked = 0;
    for (inputs, expected, _) in rows("timezone") {
        assert_eq!(clock(&inputs), expected, "{inputs}");
        checked += 1;
    }
    assert_eq!(checked, 12);
}

/// The dates on which a duty of the place's own falls due when it is always done as it does, from a start on.
fn due_dates(here: &str, start: civil::DateTime, count: usize) -> Vec<civil::Date> {
    let words: Vec<&str> = here.split(' ').collect();
    let every = |days: &str| Schedule::Every(Every::Days(days.parse().expect("days")));
    let (schedule, weeks) = match words.as_slice() {
        ["every", days, "d"] => (every(days), 1),
        ["weekdays", days @ .., "of", "every", weeks, "week"] => {
            let days = days.iter().map(|day| day.parse().expect("a weekday")).collect();
            (Schedule::Weekdays { days, at: None }, i64::from(weeks.as_bytes()[0] - b'0'))
        }
        ["cron", ..] => (Schedule::Cron(read_cron(&here[5..]).expect("an expression")), 1),
        _ => panic!("cannot read {here:?}"),
    };
    let duty =
        OwnDuty { name: String::new(), target: Target::Place, schedule, grace_h: 1, disturbs: false };
    let bin = Duty::Own(OwnDutyId(1));
    let mut script = Script::place("America/New_York", "09:00");
    let long_ago = script.at("1990-01-01 00:00");
    script.entries.iter_mut().for_each(|entry| entry.at = long_ago);
    script.add("1990-01-01 00:00", Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)));
    let (mut at, mut dates) = (start, vec![start.date()]);
    let first = Week::of(start.date()).monday;
    while dates.len() < count {
        let moment = at.strftime("%Y-%m-%d %H:%M").to_string();
        script.add(&moment, Event::Did(bin, Target::Place, Part::Whole));
        let standing = script.standing(&moment, bin, Target::Place).expect("a duty");
        at = script.zone.civil(standing.due);
        assert_eq!(at.time(), start.time(), "{here}");
        let weeks_on = i64::from((Week::of(at.date()).monday - first).get_days() / 7);
        if weeks_on % weeks == 0 {
            dates.push(at.date());
        }
    }
    dates
}

/// The dates by the independent expansion of a recurrence.
fn expanded(inputs: &str) -> Vec<civil::Date> {
    let set: rrule::RRuleSet = inputs.replace(' ', "\n").parse().expect("a recurrence");
    let all = set.all(200).dates;
    all.iter().map(|at| at.format("%Y-%m-%d").to_string().parse().expect("a date")).collect()
}

/// Whether dates are those that the published text names; `...` stands for any number of them.
fn fits(dates: &[civil::Date], expected: &str) -> bool {
    if let Some((count, rest)) = expected.split_once(" dates; ") {
        let rest_fits = match rest.strip_prefix("last ") {
            Some(last) => dates.last().map(ToString::to_string).as_deref() == Some(last),
            None => fits(dates, rest),
        };
        return dates.len().to_string() == count && rest_fits;
    }
    let expected = expected.replace("2-11 1997 (10)", "2 3 4 5 6 7 8 9 10 11");
    let (mut month, mut runs) = (String::new(), vec![Vec::new()]);
    for word in expected.split([' ', ';']).filter(|word| !word.is_empty() && !word.starts_with('(')) {
        if word == "..." {
            runs.push(Vec::new());
        } else if word.starts_with(char::is_alphabetic) {
            word.clone_into(&mut month);
        } else {
            runs.last_mut().expect("a run").push(format!("{month} {word}"));
        }
    }
    let dates: Vec<String> = dates.iter().map(|date| date.strftime("%b %-d").to_string()).collect();
    match runs.as_slice() {
        [all] => dates == *all,
        [first, last] => dates.starts_with(first) && dates.ends_with(last),
        _ => false,
    }
}

#[test]
fn recurrences() {
    let mut checked = 0;
    for (inputs, expected, here) in rows("rrule") {
        let oracle = expanded(&inputs);
        let is_endless = !inputs.contains("COUNT") && !inputs.contains("UNTIL");
        let oracle = if is_endless { oracle[..18].to_vec() } else { oracle };
        // The published text of an endless rule shows its beginning.
        let expected = if is_endless { expected.clone() } else { expected };
        assert!(fits(&oracle, &expected), "{inputs}: {oracle:?} is not {expected}");
        let start = civil::DateTime::strptime("%Y%m%dT%H%M%S", &inputs[30..45]).expect("a start");
        assert_eq!(due_dates(&here, start, oracle.len()), oracle, "{inputs} as {here}");
        checked += 1;
    }
    assert_eq!(checked, 17);
}
