//! What people type and dictate, and what is made of it.

use jiff::{Timestamp, civil};
use proptest::prelude::*;
use wrackline::lines::ask::{Ask, Grain, Spot};
use wrackline::lines::table::{ArgSpec, Kind, LINES, LineSpec, Need, SubSpec, Who};
use wrackline::lines::{Context, allows, complete, help, line_name, parse, spec, usage, who, write};
use wrackline::words::{Message, Words};
use wrackline_core::care::{Duty, OwnDuty, Schedule};
use wrackline_core::civil::Zone;
use wrackline_core::journal::{
    Book, CarerChange, EnclosureChange, Entry, Event, OwnDutyChange, Part, PlaceChange, PoolChange,
    RoundChange,
};
use wrackline_core::place::{
    CarerId, EnclosureId, Life, OwnDutyId, Place, PoolId, Role, RoundId, Target, Water,
};

/// The lines and what comes of them: a line behind `>`, what it asks behind `=`, a refusal behind `!`.
const CASES: &str = include_str!("data/lines.txt");

/// A place with enclosures whose names are easily mistaken.
struct House {
    book: Book,
    place: Place,
    now: Timestamp,
}

impl House {
    fn of(names: &[(&str, &str, &[Water])]) -> Self {
        let zone = Zone::get("America/New_York").expect("a zone");
        let start = zone.instant(civil::date(2026, 1, 1).at(9, 0, 0, 0));
        let mut events = vec![Event::Place(PlaceChange::Zone(zone.name().to_owned()))];
        for (number, role) in (1..).zip([Role::Keeper, Role::Regular, Role::Helper, Role::Sitter]) {
            events.push(Event::Carer(CarerId(number), CarerChange::Added(role)));
        }
        for (number, (name, hour, minute)) in (1..).zip([("Morning", 8, 0), ("Evening", 19, 30)]) {
            let (name, time) = (name.to_owned(), civil::time(hour, minute, 0, 0));
            events.push(Event::Round(RoundId(number), RoundChange::Added { name, time }));
        }
        let mut pools = 0;
        for (number, (name, room, waters)) in (1..).zip(names) {
            let id = EnclosureId(number);
            let name = (*name).to_owned();
            events.push(Event::Enclosure(
                id,
                EnclosureChange::Added { name, litres: 400.0 },
            ));
            events.push(Event::Enclosure(id, EnclosureChange::Room((*room).to_owned())));
            for water in *waters {
                pools += 1;
                let added = PoolChange::Added {
                    enclosure: id,
                    water: *water,
                    litres: 8.0,
                    life: Life::InUse,
                };
                events.push(Event::Pool(PoolId(pools), added));
            }
        }
        let own = [
            ("Rake sand", Target::Place),
            ("Check seals", Target::Enclosure(EnclosureId(1))),
        ];
        for (number, (name, target)) in (1..).zip(own) {
            let schedule = Schedule::Every(wrackline_core::care::Every::Days(3));
            let duty = OwnDuty {
                name: name.to_owned(),
                target,
                schedule,
                grace_h: 12,
                disturbs: true,
            };
            events.push(Event::OwnDuty(OwnDutyId(number), OwnDutyChange::Added(duty)));
        }
        let by = CarerId(1);
        let entry = |(seq, event)| Entry {
            seq,
            at: start,
            logged_at: start,
            by,
            said_by: by,
            event,
        };
        let mut book = Book::of((1..).zip(events).map(entry));
        for (number, name) in (1..).zip(["Maren", "Ilja", "Ada Noor", "Ada Berg"]) {
            book.names.insert(CarerId(number), name.to_owned());
        }
        let now = zone.instant(civil::date(2026, 3, 11).at(20, 0, 0, 0));
        let place = book.place_at(now);
        Self { book, place, now }
    }

    /// Names that are parts of each other, of two words, with small words and with "and".
    fn usual() -> Self {
        let both: &[Water] = &[Water::Fresh, Water::Salt];
        Self::of(&[
            ("North", "Study", both),
            ("Dune", "Hall", both),
            ("Tall tank", "Hall", &[Water::Salt]),
            ("Tall shelf", "", &[Water::Fresh]),
            ("By the window", "", &[Water::Fresh]),
            ("Pepper and Lime", "", &[Water::Salt]),
        ])
    }

    fn context(&self) -> Context<'_> {
        Context {
            book: &self.book,
            place: &self.place,
            me: CarerId(1),
            now: self.now,
        }
    }

    fn enclosure(&self, id: EnclosureId) -> &str {
        &self.place.enclosures[&id].name
    }

    fn pool(&self, id: PoolId) -> String {
        let pool = &self.place.pools[&id];
        format!(
            "{} {}",
            self.enclosure(pool.enclosure),
            format!("{:?}", pool.water).to_lowercase()
        )
    }

    fn spot(&self, spot: &Spot) -> String {
        let pools = spot
            .pools
            .iter()
            .map(|id| self.pool(*id))
            .collect::<Vec<_>>()
            .join(", ");
        let enclosures = spot
            .enclosures
            .iter()
            .map(|id| self.enclosure(*id))
            .collect::<Vec<_>>()
            .join(", ");
        match spot.grain {
            Grain::Pool => pools,
            Grain::Enclosure => format!("{enclosures} ({pools})"),
            Grain::Set => format!("{{{enclosures}: {pools}}}"),
        }
    }

    fn time(&self, at: Option<Timestamp>) -> String {
        at.map_or_else(String::new, |at| format!(" at {}", self.place.zone.rfc3339(at)))
    }

    fn duty(&self, duty: Duty) -> String {
        match duty {
            Duty::Own(id) => format!("“{}”", self.place.duties[&id].0.name),
            duty => duty.code(),
        }
    }

    /// What a line asks, short enough to be read in a table.
    fn show(&self, ask: &Ask) -> String {
        let by =
            |by: &Option<CarerId>| by.map_or_else(String::new, |by| format!(" by {}", self.book.name(by)));
        let note = |note: &Option<String>| {
            note.as_ref()
                .map_or_else(String::new, |note| format!(" note [{note}]"))
        };
        match ask {
            Ask::Did(did) => {
                let part = match did.part {
                    Part::Whole => String::new(),
                    part => format!(" {part:?}"),
                };
                let litres = did
                    .litres
                    .map_or_else(String::new, |litres| format!(" {litres:.3} L"));
                let again = if did.again { " again" } else { "" };
                let (duty, spot, at) = (self.duty(did.duty), self.spot(&did.spot), self.time(did.at));
                format!(
                    "did {duty} {spot}{part}{litres}{at}{}{again}{}",
                    by(&did.by),
                    note(&did.note)
                )
            }
            Ask::Read {
                spot,
                readings,
                at,
                by: who,
                note: text,
            } => {
                format!(
                    "read {} {readings:?}{}{}{}",
                    self.spot(spot),
                    self.time(*at),
                    by(who),
                    note(text)
                )
            }
            Ask::Saw {
                sighting,
                spot,
                at,
                note: text,
            } => {
                format!(
                    "saw {sighting:?} {}{}{}",
                    self.spot(spot),
                    self.time(*at),
                    note(text)
                )
            }
            Ask::Why { spot, duty, at } => {
                let duty = duty.map_or_else(String::new, |duty| format!(" {}", self.duty(duty)));
                format!("why {}{duty}{}", self.spot(spot), self.time(*at))
            }
            Ask::How { duty, spot } => format!("how {} {}", self.duty(*duty), self.spot(spot)),
            other => format!("{other:?}"),
        }
    }

    fn say(&self, words: &Words, line: &str) -> String {
        match parse(line, &self.context()) {
            Ok(ask) => format!("= {}", self.show(&ask)),
            Err(refusal) => format!("! {}", words.say(&refusal.0)),
        }
    }
}

#[test]
fn check_every_line_of_the_table_of_cases() {
    let (house, words) = (House::usual(), Words::english());
    let mut lines = CASES
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    let (mut count, mut wrong) = (0, Vec::new());
    while let Some(line) = lines.next() {
        let typed = line.strip_prefix("> ").expect("a line behind >");
        let expected = lines.next().expect("what comes of the line");
        let found = house.say(&words, typed);
        count += 1;
        if found != expected {
            wrong.push(format!("> {typed}\n{found}\n  not\n{expected}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {count}:\n{}",
        wrong.len(),
        wrong.join("\n\n")
    );
    assert!(count >= 150, "only {count} cases");
}

#[test]
fn an_enclosure_called_like_a_water_is_told_from_it() {
    let both: &[Water] = &[Water::Fresh, Water::Salt];
    let house = House::of(&[("Salt", "", both), ("North", "", both)]);
    let words = Words::english();
    let check = |line: &str, expected: &str| assert_eq!(house.say(&words, line), expected, "{line}");
    check("did change north salt", "= did change North salt");
    check("did change salt salt", "= did change Salt salt");
    check("did change salt fresh", "= did change Salt fresh");
    check("did change \"salt\"", "= did change Salt (Salt fresh, Salt salt)");
    check(
        "did change salt tank",
        "= did change Salt (Salt fresh, Salt salt)",
    );
    check(
        "did change all salt",
        "= did change {Salt, North: Salt salt, North salt}",
    );
    check(
        "did change salt pools",
        "= did change {Salt, North: Salt salt, North salt}",
    );
    check(
        "did change salt",
        "! “salt” may be \"Salt\", all salt; say which.",
    );
}

#[test]
fn a_place_without_enclosures_says_so() {
    let house = House::of(&[]);
    let found = house.say(&Words::english(), "/did change north salt");
    assert_eq!(
        found,
        "! There is no enclosure yet; a keeper adds one with /enclosure add NAME VOLUME."
    );
}

#[test]
fn every_line_is_explained_in_the_words_file() {
    let words = Words::english();
    let has = |id: &str| assert!(words.has(id), "no message {id}");
    for line in LINES {
        has(&line.help(None));
        line.subs.iter().for_each(|sub| has(&line.help(Some(sub.name))));
        for arg in all_args(line) {
            has(&arg.help());
        }
        let subs = line.subs.iter().flat_map(|sub| sub.args);
        for arg in line
            .args
            .iter()
            .chain(subs)
            .filter(|arg| arg.need == Need::Must && arg.kind != Kind::Flag)
        {
            has(&format!("need-{}", arg.name));
        }
    }
}

fn all_args(line: &LineSpec) -> impl Iterator<Item = &'static ArgSpec> {
    line.args.iter().chain(line.subs.iter().flat_map(|sub| sub.args))
}

#[test]
fn the_table_is_fit_for_native_commands() {
    for line in LINES {
        assert!(
            line.args.is_empty() || line.subs.is_empty(),
            "{}: options beside subcommands",
            line.name
        );
        assert_eq!(spec(&line.name.to_uppercase()), Some(line));
        let groups = line.subs.iter().map(|sub| sub.args).chain([line.args]);
        for args in groups {
            assert!(args.len() <= 25, "{}", line.name);
            for (at, arg) in args.iter().enumerate() {
                let fit = |c: char| c.is_ascii_lowercase() || c == '-';
                assert!(arg.name.len() <= 32 && arg.name.chars().all(fit), "{}", arg.name);
                assert!(
                    args[at + 1..].iter().all(|other| other.name != arg.name),
                    "{} twice",
                    arg.name
                );
                if let Kind::Choice(choices) = arg.kind {
                    assert!((1..=25).contains(&choices.len()), "{}", arg.name);
                }
            }
        }
    }
}

#[test]
fn explanations_fit_an_option_of_a_chat() {
    let words = Words::english();
    for line in LINES {
        let ids = line
            .subs
            .iter()
            .map(|sub| line.help(Some(sub.name)))
            .chain([line.help(None)]);
        for id in ids.chain(all_args(line).map(ArgSpec::help)) {
            let text = words.say(&Message::new(id.clone()));
            assert!((1..=100).contains(&text.chars().count()), "{id}: {text}");
        }
    }
}

/// A value for every argument of the table, so that a whole line can be written from it.
fn sample(line: &str, sub: Option<&SubSpec>, arg: &ArgSpec) -> &'static str {
    let adds = sub.is_some_and(|sub| sub.name == "add");
    match (arg.kind, arg.name) {
        (Kind::Duty, _) => "change",
        (Kind::Spot, "enclosure") => "Tall shelf",
        (Kind::Spot, _) if line == "enclosure" => "North",
        (Kind::Spot, _) => "north salt",
        (Kind::Readings, _) => "sg 1.0245 25/25 26.1C",
        (Kind::Sighting, _) => "wet substrate",
        (Kind::Time, _) => "yesterday 21:00",
        (Kind::Date, _) => "2026-04-02",
        (Kind::Clock, _) => "21:00",
        (Kind::ClockSpan, _) => "22:00 to 07:00",
        (Kind::Carer, "stand-in") => "Maren",
        (Kind::Carer, _) => "Ilja",
        (Kind::Round, _) => "Morning",
        (Kind::OwnDuty, _) => "Rake sand",
        (Kind::Name, _) if adds => "Brand new",
        (Kind::Name, _) => "By another name",
        (Kind::Volume, _) => "6 L",
        (Kind::Length, _) => "3 cm",
        (Kind::Fraction, _) => "50%",
        (Kind::Number, _) => "2",
        (Kind::Steps, _) => "1 2",
        (Kind::Span, _) => "12 h",
        (Kind::Every, _) => "3 days",
        (Kind::Weekdays, _) => "Mon Thu",
        (Kind::Cron, _) => "30 21 * * 1-5",
        (Kind::Zone, _) => "Europe/London",
        (Kind::Gravity, _) => "25/25",
        (Kind::Choice(_), "role") => "sitter",
        (Kind::Choice(_), "gear") => "filter",
        (Kind::Choice(choices), _) => choices[0],
        (Kind::Switch | Kind::Flag, _) => "yes",
        (Kind::Text | Kind::Rest, _) => "left back corner, by the lid",
        (Kind::Line, _) => "did",
    }
}

/// Arguments that exclude each other; only the first of such is written.
const EXCLUDED: [&str; 4] = ["steps", "removable", "on", "cron"];

#[test]
fn lines_written_from_the_table_are_read() {
    let (house, words) = (House::usual(), Words::english());
    for line in LINES {
        let subs: Vec<Option<&SubSpec>> = if line.subs.is_empty() {
            vec![None]
        } else {
            line.subs.iter().map(Some).collect()
        };
        for sub in subs {
            let args = sub.map_or(line.args, |sub| sub.args);
            let told = |arg: &&ArgSpec| {
                let needs_days = line.name == "duty" && arg.name == "time";
                let text = matches!((line.name, arg.name), ("enclosure", "room" | "quiet"));
                !EXCLUDED.contains(&arg.name) && !needs_days && !text
            };
            let all: Vec<_> = args
                .iter()
                .filter(told)
                .map(|arg| (arg.name, sample(line.name, sub, arg)))
                .collect();
            let without = |arg: &&ArgSpec| told(arg) && arg.need != Need::May;
            let few: Vec<_> = args
                .iter()
                .filter(without)
                .map(|arg| (arg.name, sample(line.name, sub, arg)))
                .collect();
            for given in [
                all.iter().filter(|(name, _)| *name != "until").copied().collect(),
                few,
            ] {
                let typed = write(line, sub, &given);
                let found = parse(&typed, &house.context());
                assert!(found.is_ok(), "{typed}: {}", house.say(&words, &typed));
                assert_eq!(line_name(&typed), Some(line.name), "{typed}");
                assert_eq!(who(&typed), Some(sub.map_or(line.who, |sub| sub.who)), "{typed}");
            }
        }
    }
}

#[test]
fn check_who_may_say_a_line() {
    for (line, expected) in [
        ("/did change north salt", Some(Who::All)),
        ("GEAR add north salt air", Some(Who::Keeper)),
        ("/gear list", Some(Who::All)),
        ("/gear", Some(Who::All)),
        ("/gear north salt", Some(Who::Keeper)),
        ("/place set units us", Some(Who::Keeper)),
        ("/dud", None),
        ("", None),
    ] {
        assert_eq!(who(line), expected, "{line}");
    }
    assert!(allows(Who::All, Role::Helper) && allows(Who::Keeper, Role::Keeper));
    assert!(!allows(Who::Keeper, Role::Regular));
}

#[test]
fn check_help() {
    let (keeper, regular) = (help(None, Role::Keeper), help(None, Role::Regular));
    assert_eq!(keeper.len(), LINES.len());
    assert!(regular.iter().all(|(usage, _)| !usage.starts_with("/gear")));
    let usages = |line, role| {
        help(Some(line), role)
            .into_iter()
            .map(|(usage, _)| usage)
            .collect::<Vec<_>>()
    };
    let did = "/did DUTY SPOT [at TIME] [by NAME] [part 50%] [steps 1 2] [amount VOLUME] [again] [note TEXT]";
    assert_eq!(usages("did", Role::Regular), [did]);
    assert_eq!(usages("gear", Role::Regular), ["/gear list"]);
    assert_eq!(
        usages("gear", Role::Keeper)[0],
        "/gear add SPOT air|filter [proven] [from TIME]"
    );
    let add = "/duty add NAME [SPOT] every 3 days | on Mon Thu | cron \"30 21 * * *\" [time 08:00] [grace 12 h] [digs]";
    assert_eq!(usages("duty", Role::Keeper)[0], add);
    assert_eq!(
        usage(spec("enclosure").expect("a line"), None),
        "/enclosure add|set|list|retire"
    );
}

#[test]
fn check_completion() {
    let house = House::usual();
    let words = Words::english();
    let check = |line: &str, role: Role, expected: &[&str]| {
        let found = complete(line, &house.context(), role);
        assert!(
            found.len() <= 12 && found.iter().all(|(_, hint)| words.has(&hint.id)),
            "{line}"
        );
        let lines: Vec<&str> = found.iter().map(|(line, _)| line.as_str()).collect();
        let start = &lines[..lines.len().min(expected.len().max(1))];
        assert_eq!(start, expected, "{line}: {lines:?}");
    };
    check("/d", Role::Regular, &["/due", "/did"]);
    check("/d", Role::Keeper, &["/due", "/did", "/duty"]);
    check("/did ch", Role::Regular, &["/did change", "/did Check seals"]);
    check(
        "/did change ",
        Role::Regular,
        &["/did change North fresh", "/did change North salt"],
    );
    check("/did change north s", Role::Regular, &["/did change North salt"]);
    check(
        "/did change north ",
        Role::Regular,
        &["/did change North fresh", "/did change North salt"],
    );
    check(
        "/did change north salt b",
        Role::Regular,
        &["/did change north salt by"],
    );
    check(
        "/did change north salt by a",
        Role::Regular,
        &["/did change north salt by Ada Noor"],
    );
    check("/saw wet", Role::Regular, &["/saw wet substrate"]);
    check("/gear ", Role::Regular, &["/gear list"]);
    check(
        "/gear add north salt f",
        Role::Keeper,
        &["/gear add north salt filter", "/gear add north salt from"],
    );
    check(
        "/pool set north salt life out",
        Role::Keeper,
        &["/pool set north salt life out of use"],
    );
    check("/nothing ", Role::Keeper, &[]);
    check("/gear add ", Role::Regular, &[]);
}

/// Words that lines are made of, and some that they are not.
fn word() -> impl Strategy<Value = String> {
    let known = [
        "did",
        "/read",
        "saw",
        "change",
        "part",
        "50%",
        "north",
        "salt",
        "Tall",
        "and",
        ",",
        "all",
        "at",
        "18:40",
        "yesterday",
        "2h",
        "ago",
        "by",
        "Ada",
        "note",
        "\"",
        "82%",
        "sg",
        "1.0245",
        "/enclosure",
        "add",
        "400",
        "L",
        "room",
        "gear",
        "filter",
        "every",
        "3",
        "days",
        "on",
        "Mon",
        "cron",
        "*",
        "from",
        "steps",
        "set",
        "duty",
    ];
    prop_oneof![4 => prop::sample::select(known.to_vec()).prop_map(str::to_owned), 1 => "\\PC{0,6}"]
}

proptest! {
    #[test]
    fn no_text_is_too_odd(text in "\\PC{0,60}", line in prop::collection::vec(word(), 0..12)) {
        let (house, words) = (House::usual(), Words::english());
        for line in [text, line.join(" ")] {
            // Every refusal has its words.
            if let Err(refusal) = parse(&line, &house.context()) {
                prop_assert!(words.has(&refusal.0.id), "{line}: {}", refusal.0.id);
                let said = words.say(&refusal.0);
                prop_assert!(!said.is_empty(), "{line}");
            }
            for role in [Role::Keeper, Role::Regular] {
                for (whole, hint) in complete(&line, &house.context(), role) {
                    prop_assert!(whole.starts_with('/') || !line.starts_with('/'), "{line}: {whole}");
                    prop_assert!(words.has(&hint.id), "{line}: {}", hint.id);
                }
            }
        }
    }

    #[test]
    fn case_never_matters(words in prop::collection::vec(word(), 0..10)) {
        let house = House::usual();
        // Notes and new names keep their case, so lines that hold them are compared without it.
        let shown = |line: &str| house.say(&Words::english(), line).to_lowercase();
        let line: String = words.join(" ").chars().filter(char::is_ascii).collect();
        prop_assert_eq!(shown(&line.to_ascii_lowercase()), shown(&line.to_ascii_uppercase()));
    }
}
