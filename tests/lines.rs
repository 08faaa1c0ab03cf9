//! What people type and dictate, and what is made of it.

mod anything;
mod away;
mod house;
mod native;
mod offers;
mod table;

use wrackline::words::Words;
use wrackline_core::place::Water;

use self::house::House;

/// The lines and what comes of them: a line behind `>`, what it asks behind `=`, a refusal behind `!`.
const CASES: &str = include_str!("data/lines.txt");

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
fn a_line_has_an_end() {
    let (house, words) = (House::usual(), Words::english());
    let refusal = "! That is too long to be one line; say at most 60 words, and the rest in a note.";
    assert_eq!(
        house.say(&words, &format!("did change {}", "north and ".repeat(4000))),
        refusal
    );
    // A note may be as long as it likes.
    let found = house.say(
        &words,
        &format!("did change north salt note {}", "wet ".repeat(4000)),
    );
    assert!(
        found.starts_with("= did change North salt note [wet wet"),
        "{}",
        &found[..60]
    );
}
