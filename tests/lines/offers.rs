//! What is offered: who may say a line, help, completion.

use wrackline::lines::table::{LINES, Who};
use wrackline::lines::{allows, complete, help, offers, spec, usage, who};
use wrackline::words::Words;
use wrackline_core::place::Role;

use super::house::House;

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
    let did = "/did DUTY SPOT [at TIME] [by NAME] [with NAME] [part 50%] [steps 1 2] [amount VOLUME] [from VESSEL] [again] [note TEXT]";
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
    check("/d", Role::Regular, &["/due", "/did", "/dilute"]);
    check("/d", Role::Keeper, &["/due", "/did", "/dilute", "/duty"]);
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
    check("/did change north salt note the lid was ", Role::Keeper, &[]);
    check("/gear add ", Role::Regular, &[]);
    check("/place l", Role::Keeper, &["/place link", "/place list"]);
    check(
        "/place link ",
        Role::Keeper,
        &["/place link channel", "/place link zone", "/place link code"],
    );
    check("/carer add Tove m", Role::Keeper, &["/carer add Tove member"]);
}

#[expect(clippy::too_many_lines, reason = "one table of cases, or one story")]
#[test]
fn check_offers() {
    let house = House::usual();
    let check = |line: &str, sub: Option<&str>, name: &str, typed: &str, role: Role, expected: &[&str]| {
        let found = offers(line, sub, name, typed, &house.context(), role);
        assert!(found.len() <= 25, "{line} {name} {typed}");
        let start: Vec<&str> = found
            .iter()
            .map(String::as_str)
            .take(expected.len().max(1))
            .collect();
        assert_eq!(start, expected, "{line} {name} {typed}: {found:?}");
    };
    let regular = Role::Regular;
    check(
        "did",
        None,
        "duty",
        "ch",
        regular,
        &["change", "Check seals", "part change"],
    );
    check(
        "did",
        None,
        "spot",
        "",
        regular,
        &["North fresh", "North salt", "North"],
    );
    check(
        "did",
        None,
        "spot",
        "SALT",
        regular,
        &["North salt", "Dune salt", "Tall tank salt"],
    );
    check(
        "did",
        None,
        "spot",
        "north salt and dune s",
        regular,
        &["north salt and Dune salt"],
    );
    check("did", None, "spot", "hall", regular, &["Hall"]);
    check("did", None, "by", "be", regular, &["Ada Berg"]);
    check("did", None, "note", "be", regular, &[]);
    check("saw", None, "sighting", "wet", regular, &["wet substrate"]);
    check("pool", Some("add"), "enclosure", "no", Role::Keeper, &["North"]);
    check("pool", Some("add"), "enclosure", "no", regular, &[]);
    check("pool", Some("list"), "enclosure", "no", regular, &[]);
    check("pool", Some("burn"), "enclosure", "no", Role::Keeper, &[]);
    check(
        "rounds",
        Some("set"),
        "round",
        "",
        Role::Keeper,
        &["Morning", "Evening"],
    );
    check(
        "duty",
        Some("retire"),
        "duty",
        "sand",
        Role::Keeper,
        &["Rake sand"],
    );
    check(
        "carer",
        Some("set"),
        "stand-in",
        "no",
        Role::Keeper,
        &["none", "Ada Noor"],
    );
    check("place", Some("set"), "zone", "", Role::Keeper, &[]);
    check(
        "place",
        Some("set"),
        "zone",
        "europe/be",
        Role::Keeper,
        &["Europe/Belfast", "Europe/Belgrade", "Europe/Berlin"],
    );
    check(
        "place",
        Some("link"),
        "zone",
        "new yor",
        Role::Keeper,
        &["America/New_York"],
    );
    check(
        "help",
        None,
        "line",
        "d",
        regular,
        &["due", "did", "dilute", "duty"],
    );
    check("did", None, "spot", "", Role::Helper, &[]);
    check("nothing", None, "spot", "", Role::Keeper, &[]);
}
