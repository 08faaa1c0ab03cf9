//! What carers say and press.

use jiff::{Timestamp, ToSpan, civil};
use wrackline::chat::blocks::{Block, Press};
use wrackline::house::Input;
use wrackline::replay::carers::Dice;

/// What the keeper says at first.
pub(super) fn set_up(has_quiet_hours: bool, has_night_round: bool) -> Vec<&'static str> {
    let mut lines = vec![
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Ben regular",
        "/carer add Cleo regular",
        "/carer add Dee sitter",
        "/carer set Ben stand-in Cleo",
        "/enclosure add North 340 L crabs 6 smallest 2 cm largest 5 cm",
        "/enclosure add South 420 L crabs 9",
        "/pool add north fresh 7.8 L nested",
        "/pool add north salt 7.7 L",
        "/pool add south salt 10 L stationary",
        "/gear add south salt filter proven",
        "/gear add south salt air",
        "/duty add \"lid seals\" on Sat",
    ];
    if has_quiet_hours {
        lines.push("/place set quiet 22:00 to 07:00");
    }
    if has_night_round {
        lines.push("/rounds add night 02:30");
    }
    lines
}

/// What a line or press is to leave in the journal, by the name of the event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Expect {
    /// Nothing: it is a question.
    Nothing,
    /// Entries of this kind.
    Entry(&'static str),
    /// Entries of this kind, or a question first.
    Perhaps(&'static str),
}

/// What someone says or presses.
#[derive(Clone, Debug)]
pub(super) struct Deed {
    pub(super) carer: u32,
    pub(super) input: Input,
    pub(super) expect: Expect,
    /// The time of the day before that the line names.
    pub(super) yesterday: Option<civil::Time>,
}

const POOLS: [&str; 4] = ["north salt", "north fresh", "south salt", "all"];
const PLACES: [&str; 3] = ["north", "south", "all"];
const DUTIES: [&str; 7] = [
    "change",
    "change",
    "top-up",
    "condition",
    "test",
    "part change",
    "rinse",
];
const QUESTIONS: [&str; 7] = [
    "/due",
    "/week",
    "/why north salt",
    "/turns",
    "/week last",
    "/how change north salt",
    "/rounds list",
];
const SIGHTINGS: [&str; 5] = ["leak", "mould", "condensation", "escape", "wet substrate"];
/// What keepers change now and then. Much of it is refused when it was said before: that is part of the storm.
const CHANGES: [(&str, &str); 18] = [
    ("/gear stop south salt filter", "gear"),
    ("/gear start south salt filter", "gear"),
    ("/gear stop south salt air", "gear"),
    ("/gear start south salt air", "gear"),
    ("/gear add north salt air", "gear"),
    ("/gear retire north salt air", "gear"),
    ("/rounds set morning 08:30", "round"),
    ("/rounds set morning 08:00", "round"),
    ("/rounds set evening 18:00", "round"),
    ("/rounds add noon 12:15", "round"),
    ("/rounds retire noon", "round"),
    ("/duty add \"dish wash\" north every 2 days", "own_duty"),
    ("/duty retire dish wash", "own_duty"),
    ("/duty add \"seal check\" south cron \"30 17 * * *\"", "own_duty"),
    ("/duty set still every 3 days", "numbers"),
    ("/carer add Zed regular", "carer"),
    ("/carer retire Zed", "carer"),
    ("/pool set north fresh life out of use", "pool"),
];

fn one<T: Copy>(dice: &mut Dice, of: &[T]) -> T {
    let last = i64::try_from(of.len()).expect("a short list") - 1;
    of[usize::try_from(dice.between(0, last)).expect("an index")]
}

/// Draws what is said or pressed next; `presses` are those that people have before them.
pub(super) fn draw(dice: &mut Dice, presses: &[Press]) -> Deed {
    if !presses.is_empty() && dice.happens(0.45) {
        return press(dice, presses);
    }
    let carer = u32::try_from(dice.between(1, 5)).expect("a carer");
    let mut yesterday = None;
    let (line, expect) = match dice.between(0, 19) {
        0..=7 => {
            let (duty, pool) = (one(dice, &DUTIES), one(dice, &POOLS));
            (
                format!("/did {duty} {pool}{}", how(dice, duty, &mut yesterday)),
                Expect::Entry("did"),
            )
        }
        8 | 9 => {
            let how = how(dice, "look", &mut yesterday);
            (
                format!("/did look {}{how}", one(dice, &PLACES)),
                Expect::Entry("did"),
            )
        }
        10..=12 => {
            let humidity = one(dice, &[66, 68, 78, 80, 88, 89]);
            let how = how(dice, "reading", &mut yesterday);
            (
                format!("/read {} {humidity}% 25.5C{how}", one(dice, &["north", "south"])),
                Expect::Entry("read"),
            )
        }
        13 => (
            "/read south salt ammonia 0 nitrite 0 nitrate 12".to_owned(),
            Expect::Entry("read"),
        ),
        14 => {
            let (what, pool) = (
                one(dice, &SIGHTINGS),
                one(dice, &["north salt", "south salt", "north"]),
            );
            (format!("/saw {what} {pool}"), Expect::Entry("saw"))
        }
        15 => ("/undo".to_owned(), Expect::Entry("retract")),
        16 | 17 => (one(dice, &QUESTIONS).to_owned(), Expect::Nothing),
        _ => {
            let (line, event) = one(dice, &CHANGES);
            (line.to_owned(), Expect::Entry(event))
        }
    };
    let is_change = matches!(
        expect,
        Expect::Entry("gear" | "round" | "own_duty" | "numbers" | "carer" | "pool")
    );
    let carer = if is_change && dice.happens(0.9) { 1 } else { carer };
    Deed {
        carer,
        input: Input::Line(line),
        expect,
        yesterday,
    }
}

/// The words behind a duty and a pool: a part, an earlier time, a second time, a note.
fn how(dice: &mut Dice, duty: &str, yesterday: &mut Option<civil::Time>) -> String {
    let mut words = String::new();
    if duty == "change" && dice.happens(0.3) {
        words += one(dice, &[" part 1/3", " part 50%", " part 95%"]);
    }
    if duty != "reading" && dice.happens(0.25) {
        words += " again";
    }
    if dice.happens(0.15) {
        words += " at yesterday 21:00";
        *yesterday = Some(civil::time(21, 0, 0, 0));
    } else if dice.happens(0.1) {
        words += one(dice, &[" at 30 min ago", " at 5h ago"]);
    }
    if dice.happens(0.1) {
        words += " note still clear";
    }
    words
}

fn press(dice: &mut Dice, presses: &[Press]) -> Deed {
    let last = i64::try_from(presses.len()).expect("few presses") - 1;
    // The newest ones are pressed most.
    let back = dice.between(0, last).min(dice.between(0, last));
    let Press { code, asks, .. } = &presses[usize::try_from(last - back).expect("an index")];
    let verb = code.split('.').next().unwrap_or("");
    let text = asks
        .as_ref()
        .map(|_| one(dice, &["1", "1 and 2", "still clean"]).to_owned());
    let expect = match verb {
        "did" | "again" | "all" | "but" => Expect::Entry("did"),
        "put" => Expect::Entry("later"),
        "cannot" => Expect::Entry("cannot"),
        "takeover" | "takefrom" => Expect::Perhaps("coming"),
        "notneeded" => Expect::Entry("not_needed"),
        "undo" | "wrong" => Expect::Entry("retract"),
        "noted" => Expect::Entry("noted"),
        "going" => Expect::Entry("going"),
        "close" => Expect::Entry("closed"),
        "looked" => Expect::Entry("looked"),
        _ => Expect::Nothing,
    };
    let carer = u32::try_from(dice.between(1, 4)).expect("a carer");
    Deed {
        carer,
        input: Input::Press {
            code: code.clone(),
            text,
        },
        expect,
        yesterday: None,
    }
}

/// What can be pressed in a message.
pub(super) fn presses(blocks: &[Block]) -> Vec<Press> {
    let of = |block: &Block| match block {
        Block::Answers { answers } => answers.clone(),
        Block::Items { items } => items.iter().flat_map(|item| item.answers.clone()).collect(),
        _ => Vec::new(),
    };
    blocks.iter().flat_map(of).collect()
}

/// The instant of a time of the day before, worked out apart from the code under test.
pub(super) fn yesterday_at(zone: &str, now: Timestamp, time: civil::Time) -> Timestamp {
    let zone = jiff::tz::TimeZoneDatabase::bundled().get(zone).expect("a zone");
    let date = zone.to_datetime(now).date() - 1.days();
    zone.to_timestamp(date.to_datetime(time)).expect("an instant")
}
