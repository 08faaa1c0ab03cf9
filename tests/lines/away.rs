//! Absences as people say them, on the days on which they are easily mistaken; each reckoned by hand from a calendar.

use wrackline::words::Words;

use super::house::House;

/// A line behind `/away`, and from when to when it means.
type Cases = &'static [(&'static str, &'static str)];

/// A Thursday morning before the change to summer time: days are civil days, hours are hours.
const BEFORE_SUMMER_TIME: (&str, Cases) = (
    "2026-03-05T07:00:00",
    &[
        (
            "for 3 days",
            "2026-03-05T07:00:00-05:00 2026-03-08T07:00:00-04:00",
        ),
        ("3 days", "2026-03-05T07:00:00-05:00 2026-03-08T07:00:00-04:00"),
        (
            "for a week",
            "2026-03-05T07:00:00-05:00 2026-03-12T07:00:00-04:00",
        ),
        (
            "for 5 hours",
            "2026-03-05T07:00:00-05:00 2026-03-05T12:00:00-05:00",
        ),
        ("tonight", "2026-03-05T18:00:00-05:00 2026-03-06T00:00:00-05:00"),
        (
            "this weekend",
            "2026-03-07T00:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "for the weekend",
            "2026-03-07T00:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "next weekend",
            "2026-03-14T00:00:00-04:00 2026-03-16T00:00:00-04:00",
        ),
        ("this week", "2026-03-05T07:00:00-05:00 2026-03-09T00:00:00-04:00"),
        (
            "for the rest of the week",
            "2026-03-05T07:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        ("next week", "2026-03-09T00:00:00-04:00 2026-03-16T00:00:00-04:00"),
        (
            "all next week",
            "2026-03-09T00:00:00-04:00 2026-03-16T00:00:00-04:00",
        ),
        (
            "until sunday",
            "2026-03-05T07:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "until thursday",
            "2026-03-05T07:00:00-05:00 2026-03-13T00:00:00-04:00",
        ),
        (
            "until today",
            "2026-03-05T07:00:00-05:00 2026-03-06T00:00:00-05:00",
        ),
        (
            "from saturday for 2 days",
            "2026-03-07T00:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "from monday until friday",
            "2026-03-09T00:00:00-04:00 2026-03-14T00:00:00-04:00",
        ),
        (
            "from saturday until wednesday",
            "2026-03-07T00:00:00-05:00 2026-03-12T00:00:00-04:00",
        ),
        (
            "from friday 18:00 to friday 22:00",
            "2026-03-06T18:00:00-05:00 2026-03-06T22:00:00-05:00",
        ),
    ],
);

/// On Sunday 25 October: the week to come ends with the change back, and its Sunday has 25 hours.
const A_SUNDAY: (&str, Cases) = (
    "2026-10-25T10:00:00",
    &[
        (
            "until sunday",
            "2026-10-25T10:00:00-04:00 2026-11-02T00:00:00-05:00",
        ),
        (
            "until this sunday",
            "2026-10-25T10:00:00-04:00 2026-10-26T00:00:00-04:00",
        ),
        (
            "until today",
            "2026-10-25T10:00:00-04:00 2026-10-26T00:00:00-04:00",
        ),
        (
            "until sunday evening",
            "2026-10-25T10:00:00-04:00 2026-10-25T19:30:00-04:00",
        ),
        (
            "until sunday morning",
            "2026-10-25T10:00:00-04:00 2026-11-01T08:00:00-05:00",
        ),
        (
            "this weekend",
            "2026-10-25T10:00:00-04:00 2026-10-26T00:00:00-04:00",
        ),
        ("this week", "2026-10-25T10:00:00-04:00 2026-10-26T00:00:00-04:00"),
        (
            "next weekend",
            "2026-10-31T00:00:00-04:00 2026-11-02T00:00:00-05:00",
        ),
        ("next week", "2026-10-26T00:00:00-04:00 2026-11-02T00:00:00-05:00"),
        (
            "for 7 days",
            "2026-10-25T10:00:00-04:00 2026-11-01T10:00:00-05:00",
        ),
        (
            "from sunday to sunday",
            "2026-10-25T10:00:00-04:00 2026-11-02T00:00:00-05:00",
        ),
    ],
);

/// Late on a Saturday evening, when it has begun already.
const A_LATE_EVENING: (&str, Cases) = (
    "2026-03-07T21:00:00",
    &[
        ("tonight", "2026-03-07T21:00:00-05:00 2026-03-08T00:00:00-05:00"),
        (
            "this weekend",
            "2026-03-07T21:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        ("for 1 day", "2026-03-07T21:00:00-05:00 2026-03-08T21:00:00-04:00"),
        ("for 24 h", "2026-03-07T21:00:00-05:00 2026-03-08T21:00:00-04:00"),
    ],
);

/// New York goes to summer time on 8 March 2026 and leaves it on 1 November; rounds are held at 08:00 and 19:30.
#[test]
fn check_absences() {
    let words = Words::english();
    for (now, cases) in [BEFORE_SUMMER_TIME, A_SUNDAY, A_LATE_EVENING] {
        let house = House::usual().at(now);
        for (line, span) in cases {
            let (from, to) = span.split_once(' ').expect("two moments");
            let expected = format!("= away from {from} to {to}");
            assert_eq!(
                house.say(&words, &format!("away {line}")),
                expected,
                "{now}: {line}"
            );
        }
    }
}

#[test]
fn what_is_no_absence_is_refused_in_one_sentence() {
    let (house, words) = (House::usual(), Words::english());
    for (line, part) in [
        ("away for 3 dys", "dys"),
        ("away for 3", "3"),
        ("away for", "“for” is no day to come"),
        ("away next month", "“next month” is no day to come"),
        (
            "away from friday this weekend",
            "“this weekend” means nothing here",
        ),
        ("away zoe this weekend", "“zoe this weekend” is no day to come"),
    ] {
        let said = house.say(&words, line);
        assert!(said.starts_with('!') && said.contains(part), "{line}: {said}");
    }
}
