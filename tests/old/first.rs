//! What is in the database of the first schema: the lines that made it, and what it keeps of them.

/// The zone of the place in it.
pub(super) const ZONE: &str = "America/New_York";

/// The lines that are in it: when, by whom, what.
pub(super) const LINES: [(&str, u32, &str); 20] = [
    ("2026-03-01 12:00", 1, "/place set quiet 22:00 to 07:00"),
    ("2026-03-01 12:00", 1, "/place set sg 25/25"),
    ("2026-03-01 12:00", 1, "/rounds add morning 08:00"),
    ("2026-03-01 12:00", 1, "/rounds add evening 19:30"),
    ("2026-03-01 12:01", 1, "/carer add Bea regular"),
    ("2026-03-01 12:01", 1, "/carer add Dot helper"),
    (
        "2026-03-01 12:02",
        1,
        "/enclosure add North 400 L room Hall crabs 4 smallest 2 cm largest 5 cm",
    ),
    ("2026-03-01 12:02", 1, "/pool add north fresh 8 L"),
    ("2026-03-01 12:02", 1, "/pool add north salt 8 L nested"),
    (
        "2026-03-01 12:03",
        1,
        "/duty add \"night dish\" north every 2 days",
    ),
    ("2026-03-02 08:10", 2, "/did look north"),
    (
        "2026-03-03 08:12",
        2,
        "/did change north salt note the level was low",
    ),
    ("2026-03-03 08:30", 1, "/did change north fresh part 50% by Dot"),
    ("2026-03-03 09:00", 1, "/read north 82% 26.5C"),
    ("2026-03-03 09:01", 1, "/read north salt sg 1.0245 26C"),
    (
        "2026-03-04 09:00",
        1,
        "/gear add north salt air from 2026-03-03 18:00",
    ),
    ("2026-03-05 08:05", 2, "/did change north salt"),
    ("2026-03-05 21:00", 2, "/saw leak north salt note a few drops"),
    ("2026-03-05 21:30", 1, "/did top-up north fresh"),
    ("2026-03-05 21:31", 1, "/undo"),
];

/// How many entries its journal has, with those that the house made.
pub(super) const ENTRIES: i64 = 33;

/// The marks that it keeps: turn, due, overdue, hazard.
pub(super) const MARKS: [(&str, &str, &str, &str); 14] = [
    (
        "air.p2.0",
        "2026-04-02T19:30:00-04:00",
        "2026-04-09T19:30:00-04:00",
        "",
    ),
    (
        "change.p1.22",
        "2026-03-04T08:00:00-05:00",
        "2026-03-04T20:00:00-05:00",
        "2026-03-06T10:16:00-05:00",
    ),
    (
        "change.p2.30",
        "2026-03-12T08:00:00-04:00",
        "2026-03-13T08:00:00-04:00",
        "2026-03-15T09:05:00-04:00",
    ),
    (
        "condition.p1.22",
        "2026-03-04T08:00:00-05:00",
        "2026-03-04T20:00:00-05:00",
        "",
    ),
    (
        "condition.p2.30",
        "2026-03-07T08:00:00-05:00",
        "2026-03-07T20:00:00-05:00",
        "",
    ),
    (
        "hygrometer.e1.0",
        "2026-08-28T08:00:00-04:00",
        "2026-09-27T08:00:00-04:00",
        "",
    ),
    (
        "leak.p2.0",
        "2026-03-08T08:00:00-04:00",
        "2026-03-10T08:00:00-04:00",
        "",
    ),
    (
        "look.e1.19",
        "2026-03-03T08:00:00-05:00",
        "2026-03-03T19:30:00-05:00",
        "",
    ),
    (
        "own1.e1.0",
        "2026-03-03T08:00:00-05:00",
        "2026-03-03T20:00:00-05:00",
        "",
    ),
    (
        "reading.e1.24",
        "2026-03-04T08:00:00-05:00",
        "2026-03-04T20:00:00-05:00",
        "",
    ),
    (
        "scrub.p1.0",
        "2026-03-15T08:00:00-04:00",
        "2026-03-22T08:00:00-04:00",
        "",
    ),
    (
        "scrub.p2.0",
        "2026-03-15T08:00:00-04:00",
        "2026-03-22T08:00:00-04:00",
        "",
    ),
    (
        "topup.p1.22",
        "2026-03-04T08:00:00-05:00",
        "2026-03-05T08:00:00-05:00",
        "2026-03-07T08:30:00-05:00",
    ),
    (
        "topup.p2.30",
        "2026-03-06T08:00:00-05:00",
        "2026-03-07T08:00:00-05:00",
        "2026-03-09T09:05:00-04:00",
    ),
];
