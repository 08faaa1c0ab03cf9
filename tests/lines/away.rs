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
            "2026-10-25T10:00:00-04:00 2026-10-26T00:00:00-04:00",
        ),
        (
            "until sunday morning",
            "2026-10-25T10:00:00-04:00 2026-11-01T19:30:00-05:00",
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
        ("for 24 h", "2026-03-07T21:00:00-05:00 2026-03-08T22:00:00-04:00"),
        (
            "for 24 hours",
            "2026-03-07T21:00:00-05:00 2026-03-08T22:00:00-04:00",
        ),
        (
            "for 90 min",
            "2026-03-07T21:00:00-05:00 2026-03-07T22:30:00-05:00",
        ),
        ("until 6pm", "2026-03-07T21:00:00-05:00 2026-03-08T18:00:00-04:00"),
        (
            "until midnight",
            "2026-03-07T21:00:00-05:00 2026-03-08T00:00:00-05:00",
        ),
        (
            "until tomorrow evening",
            "2026-03-07T21:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
    ],
);

/// On Thursday 5 March before noon: what is named is of the span, a time of day ends it at once.
const AS_PEOPLE_TYPE: (&str, Cases) = (
    "2026-03-05T11:00:00",
    &[
        ("until 6pm", "2026-03-05T11:00:00-05:00 2026-03-05T18:00:00-05:00"),
        ("until 9am", "2026-03-05T11:00:00-05:00 2026-03-06T09:00:00-05:00"),
        (
            "until 6pm on sunday",
            "2026-03-05T11:00:00-05:00 2026-03-08T18:00:00-04:00",
        ),
        ("to 6 PM.", "2026-03-05T11:00:00-05:00 2026-03-05T18:00:00-05:00"),
        (
            "from 2pm to 6pm",
            "2026-03-05T14:00:00-05:00 2026-03-05T18:00:00-05:00",
        ),
        (
            "from saturday 8pm to 9am",
            "2026-03-07T20:00:00-05:00 2026-03-08T09:00:00-04:00",
        ),
        (
            "until the 20th",
            "2026-03-05T11:00:00-05:00 2026-03-21T00:00:00-04:00",
        ),
        (
            "until the 3rd",
            "2026-03-05T11:00:00-05:00 2026-04-04T00:00:00-04:00",
        ),
        (
            "until the 31st",
            "2026-03-05T11:00:00-05:00 2026-04-01T00:00:00-04:00",
        ),
        (
            "from the 28th to the 3rd",
            "2026-03-28T00:00:00-04:00 2026-04-04T00:00:00-04:00",
        ),
        (
            "from 28 april to 3 may",
            "2026-04-28T00:00:00-04:00 2026-05-04T00:00:00-04:00",
        ),
        (
            "from 3 to 12 july",
            "2026-07-03T00:00:00-04:00 2026-07-13T00:00:00-04:00",
        ),
        ("3-12 july", "2026-07-03T00:00:00-04:00 2026-07-13T00:00:00-04:00"),
        (
            "from the 3rd of july until july the 12th",
            "2026-07-03T00:00:00-04:00 2026-07-13T00:00:00-04:00",
        ),
        (
            "from 28 february 2027 to 2 march 2027",
            "2027-02-28T00:00:00-05:00 2027-03-03T00:00:00-05:00",
        ),
        (
            "for a month",
            "2026-03-05T11:00:00-05:00 2026-04-05T11:00:00-04:00",
        ),
        (
            "for two months",
            "2026-03-05T11:00:00-05:00 2026-05-05T11:00:00-04:00",
        ),
        (
            "for a fortnight",
            "2026-03-05T11:00:00-05:00 2026-03-19T11:00:00-04:00",
        ),
        ("fortnight", "2026-03-05T11:00:00-05:00 2026-03-19T11:00:00-04:00"),
        (
            "for the next 3 days",
            "2026-03-05T11:00:00-05:00 2026-03-08T11:00:00-04:00",
        ),
        (
            "from saturday for 24 hours",
            "2026-03-07T00:00:00-05:00 2026-03-08T00:00:00-05:00",
        ),
        (
            "saturday for 2 days",
            "2026-03-07T00:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "saturday afternoon",
            "2026-03-07T12:00:00-05:00 2026-03-07T18:00:00-05:00",
        ),
        (
            "the afternoon of saturday",
            "2026-03-07T12:00:00-05:00 2026-03-07T18:00:00-05:00",
        ),
        (
            "tomorrow night",
            "2026-03-06T18:00:00-05:00 2026-03-07T00:00:00-05:00",
        ),
        (
            "this afternoon",
            "2026-03-05T12:00:00-05:00 2026-03-05T18:00:00-05:00",
        ),
        (
            "until saturday afternoon",
            "2026-03-05T11:00:00-05:00 2026-03-07T18:00:00-05:00",
        ),
        (
            "from saturday afternoon to monday",
            "2026-03-07T12:00:00-05:00 2026-03-10T00:00:00-04:00",
        ),
        (
            "monday to wednesday",
            "2026-03-09T00:00:00-04:00 2026-03-12T00:00:00-04:00",
        ),
        ("Mon-Wed", "2026-03-09T00:00:00-04:00 2026-03-12T00:00:00-04:00"),
        (
            "between monday and wednesday",
            "2026-03-09T00:00:00-04:00 2026-03-12T00:00:00-04:00",
        ),
        (
            "saturday evening to sunday morning",
            "2026-03-07T19:30:00-05:00 2026-03-08T19:30:00-04:00",
        ),
        (
            "to sunday morning",
            "2026-03-05T11:00:00-05:00 2026-03-08T19:30:00-04:00",
        ),
        (
            "till sunday",
            "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "untill sunday",
            "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        ("til sun", "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00"),
        (
            "until the day after tomorrow",
            "2026-03-05T11:00:00-05:00 2026-03-08T00:00:00-05:00",
        ),
        (
            "until the end of the week",
            "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "until next week",
            "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "until the end of the month",
            "2026-03-05T11:00:00-05:00 2026-04-01T00:00:00-04:00",
        ),
        (
            "next month",
            "2026-04-01T00:00:00-04:00 2026-05-01T00:00:00-04:00",
        ),
        (
            "from now until sunday",
            "2026-03-05T11:00:00-05:00 2026-03-09T00:00:00-04:00",
        ),
        (
            "until 2026-03-08T09:00",
            "2026-03-05T11:00:00-05:00 2026-03-08T09:00:00-04:00",
        ),
    ],
);

/// On the eve of the change back to winter time, whose Sunday has 25 hours.
const BEFORE_WINTER_TIME: (&str, Cases) = (
    "2026-10-31T21:00:00",
    &[
        (
            "for 24 hours",
            "2026-10-31T21:00:00-04:00 2026-11-01T20:00:00-05:00",
        ),
        ("for a day", "2026-10-31T21:00:00-04:00 2026-11-01T21:00:00-05:00"),
        (
            "for a month",
            "2026-10-31T21:00:00-04:00 2026-11-30T21:00:00-05:00",
        ),
        (
            "until 1:30",
            "2026-10-31T21:00:00-04:00 2026-11-01T01:30:00-04:00",
        ),
        (
            "tomorrow afternoon",
            "2026-11-01T12:00:00-05:00 2026-11-01T18:00:00-05:00",
        ),
        (
            "from tomorrow to the 3rd",
            "2026-11-01T00:00:00-04:00 2026-11-04T00:00:00-05:00",
        ),
    ],
);

/// New York goes to summer time on 8 March 2026 and leaves it on 1 November; rounds are held at 08:00 and 19:30.
#[test]
fn check_absences() {
    let words = Words::english();
    let all = [
        BEFORE_SUMMER_TIME,
        A_SUNDAY,
        A_LATE_EVENING,
        AS_PEOPLE_TYPE,
        BEFORE_WINTER_TIME,
    ];
    for (now, cases) in all {
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
        ("away until whenever", "“whenever” is no day to come"),
        ("away until the 32nd", "“the 32nd” is no day to come"),
        ("away until tomorow", "Nearest: tomorrow."),
        ("away for 0 hours", "“0 hours” is no time at all"),
        ("away until 25:00", "There is no time “25:00”"),
        (
            "away saturday afternoon and sunday",
            "No round is held on “saturday afternoon”",
        ),
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
