//! Published recurrences, expanded here and by an independent implementation: `data/time.csv`, with their source.

use jiff::civil;
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Duty, Every, OwnDuty, Schedule};
use wrackline_core::civil::Week;
use wrackline_core::journal::{Event, OwnDutyChange, Part};
use wrackline_core::place::{OwnDutyId, Target};
use wrackline_tests::journal::Script;

use super::examples::rows;

/// The dates on which a duty of the place's own falls due when it is always done as it does, from a start on.
fn due_dates(here: &str, start: civil::DateTime, count: usize) -> Vec<civil::Date> {
    let words: Vec<&str> = here.split(' ').collect();
    let every = |days: &str| Schedule::Every(Every::Days(days.parse().expect("days")));
    let (schedule, weeks) = match words.as_slice() {
        ["every", days, "d"] => (every(days), 1),
        ["weekdays", days @ .., "of", "every", weeks, "week"] => {
            let days = days.iter().map(|day| day.parse().expect("a weekday")).collect();
            (
                Schedule::Weekdays { days, at: None },
                i64::from(weeks.as_bytes()[0] - b'0'),
            )
        }
        ["cron", ..] => (Schedule::Cron(read_cron(&here[5..]).expect("an expression")), 1),
        _ => panic!("cannot read {here:?}"),
    };
    let duty = OwnDuty {
        name: String::new(),
        target: Target::Place,
        schedule,
        grace_h: 1,
        disturbs: false,
    };
    let bin = Duty::Own(OwnDutyId(1));
    let mut script = Script::place("America/New_York", "09:00");
    let long_ago = script.at("1990-01-01 00:00");
    script.entries.iter_mut().for_each(|entry| entry.at = long_ago);
    script.add(
        "1990-01-01 00:00",
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)),
    );
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
    all.iter()
        .map(|at| at.format("%Y-%m-%d").to_string().parse().expect("a date"))
        .collect()
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
    for word in expected
        .split([' ', ';'])
        .filter(|word| !word.is_empty() && !word.starts_with('('))
    {
        if word == "..." {
            runs.push(Vec::new());
        } else if word.starts_with(char::is_alphabetic) {
            word.clone_into(&mut month);
        } else {
            runs.last_mut().expect("a run").push(format!("{month} {word}"));
        }
    }
    let dates: Vec<String> = dates
        .iter()
        .map(|date| date.strftime("%b %-d").to_string())
        .collect();
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
        assert!(fits(&oracle, &expected), "{inputs}: {oracle:?} is not {expected}");
        let start = civil::DateTime::strptime("%Y%m%dT%H%M%S", &inputs[30..45]).expect("a start");
        assert_eq!(
            due_dates(&here, start, oracle.len()),
            oracle,
            "{inputs} as {here}"
        );
        checked += 1;
    }
    assert_eq!(checked, 17);
}
