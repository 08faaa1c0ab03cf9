//! `/sheet` as a message, and what is refused.

use super::{BEA, SVEN, club, holds, key};
use wrackline::chat::plain;
use wrackline::engine;
use wrackline::house::Input;
use wrackline_tests::house::TestHouse;
use wrackline_tests::served::get;

#[tokio::test]
async fn a_span_is_told_by_day_and_round_in_walking_order() {
    let mut house = club().await;
    let told = house.say("/sheet").await;
    let first = told.lines().next().unwrap_or_default();
    assert!(
        first.starts_with("Handover for Sven, Monday 2 March to Sunday 15 March: ")
            && first.contains(" turns, about ")
            && first.ends_with(" min a day"),
        "{first}"
    );
    holds(
        &told,
        &[
            "/sheet/2?from=2026-03-02&to=2026-03-15 on the porch",
            "Every day, morning: Hall, Dune: morning look",
            "Saturday 7 March, morning: ",
            "the place: lid seals",
            "Quiet zone in Reef, left back: a crab moults there until Friday 20 March",
            "Call in this order: Ada, Bea.",
            "All of these changes together take ",
        ],
    );
    // Nothing is published before the first round; all of it is told as it would be dealt.
    holds(
        &told,
        &["of these, from Monday 2 March on, are not shared out yet"],
    );
    // Quarantine comes last on the walk, in every line that has it.
    for line in told
        .lines()
        .filter(|line| line.contains("Cove") && line.contains("Reef"))
    {
        assert!(line.find("Reef") < line.find("Cove"), "{line}");
    }
    // A sitter reads their own, by name or without.
    let (ok, own) = house.say_as(SVEN, "/sheet").await;
    assert!(ok && own == told, "{own}");
    let (ok, named) = house.say_as(SVEN, "/handover sven").await;
    assert!(ok && named == told, "{named}");
}

#[tokio::test]
async fn days_that_are_said_go_before_those_of_the_span() {
    let mut house = club().await;
    let told = house.say("/sheet Sven from 2026-03-03 until Wednesday").await;
    holds(
        &told,
        &[
            "Handover for Sven, Tuesday 3 March to Wednesday 4 March: ",
            "Tuesday 3 March, morning: ",
            "Wednesday 4 March, morning: ",
        ],
    );
    assert!(!told.contains("Every day"), "two days are told each: {told}");
    assert!(
        !told.contains("Monday 2 March,") && !told.contains("Thursday 5 March"),
        "{told}"
    );
    let one_day = house.say("/sheet Bea from 2026-03-03 to 2026-03-03").await;
    holds(
        &one_day,
        &["Handover for Bea, Tuesday 3 March to Tuesday 3 March: no turns"],
    );
}

#[tokio::test]
async fn what_others_have_is_left_out_and_what_is_not_published_is_told_as_such() {
    let mut house = club().await;
    for line in [
        "/carer set Bea share 1",
        "/carer set Sven from 2026-03-02 to 2026-03-29",
    ] {
        house.say(line).await;
    }
    house.at("2026-03-01 19:30");
    engine::step(&house.app.house).await.expect("the engine's step");
    let told = house.say("/sheet Sven").await;
    // Fourteen days are shared out, today included; what comes after them is told as it would be dealt now.
    holds(
        &told,
        &["of these, from Sunday 15 March on, are not shared out yet"],
    );
    let all = house.say("/sheet Bea from 2026-03-02 to 2026-03-29").await;
    let count = |text: &str| -> usize {
        let first = text.lines().next().unwrap_or_default();
        let (before, _) = first.split_once(" turns, about").expect("turns");
        before
            .rsplit(' ')
            .next()
            .and_then(|word| word.parse().ok())
            .expect("a number")
    };
    let (sven, bea) = (count(&told), count(&all));
    assert!(
        sven > 20 && bea > 20 && sven.abs_diff(bea) < sven / 2,
        "{sven} and {bea}"
    );
}

#[tokio::test]
async fn what_is_no_sheet_is_refused_in_one_sentence() {
    let mut house = club().await;
    for (line, part) in [
        ("/sheet Zoe", "There is no carer “Zoe”"),
        (
            "/sheet Bea",
            "Bea has no span of days; say them, as in /sheet Bea from",
        ),
        ("/sheet Bea from 2026-03-05", "Bea has no span of days"),
        (
            "/sheet Bea from 2026-03-09 to 2026-03-05",
            "A span cannot end before it starts: Monday 9 March to Thursday 5 March.",
        ),
        (
            "/sheet Bea from 2026-03-02 to 2026-05-01",
            "A sheet is for 60 days at most; make one for each part",
        ),
        (
            "/sheet Bea from 2026-02-02 to 2026-02-05",
            "Thursday 5 February is over already",
        ),
        (
            "/sheet Bea from 2027-03-02 to 2027-03-05",
            "A sheet looks 180 days ahead at most",
        ),
        (
            "/sheet Bea from nowhere to 2026-03-05",
            "“nowhere” is no day to come",
        ),
    ] {
        let said = house.refused(line).await;
        holds(&said, &[part]);
        assert_eq!(said.lines().count(), 1, "{said}");
    }
    for (carer, line) in [(BEA, "/sheet"), (BEA, "/sheet Sven"), (SVEN, "/sheet Bea")] {
        let (ok, said) = house.say_as(carer, line).await;
        assert!(!ok, "{carer} {line}: {said}");
        holds(
            &said,
            &["for keepers and for the sitter whose span it is: ask Ada."],
        );
    }
    house
        .say("/carer add Tom sitter from 2026-03-10 to 2026-03-12")
        .await;
    holds(&house.refused("/sheet").await, &["Several sit: Sven and Tom"]);
    for line in ["/carer retire Tom", "/carer retire Sven"] {
        house.say(line).await;
    }
    holds(&house.refused("/sheet").await, &["Nobody sits from today on"]);
}

#[tokio::test]
async fn it_is_told_in_the_units_of_whoever_it_is_for() {
    let mut house = club().await;
    key(&house, 1, "session:ada", false).await;
    key(&house, SVEN, "session:sven", false).await;
    let check = async |house: &mut TestHouse, has: &str, has_not: &str| {
        let (_, own) = house.say_as(SVEN, "/sheet").await;
        assert_eq!(house.say("/sheet Sven").await, own, "one sheet, whoever asks");
        // The heads of the two have their times.
        let body = |text: String| text.split_once("<!doctype").expect("a page").1.to_owned();
        let page = body(get(house, "/sheet/2", "ada").await.1);
        let theirs = body(get(house, "/sheet/2", "sven").await.1);
        assert!(page == theirs, "{page}\n{theirs}");
        for text in [own, page] {
            assert!(text.contains(has) && !text.contains(has_not), "{has}: {text}");
        }
    };
    house.say("/carer set me units us").await;
    check(&mut house, " L fresh", " gal").await;
    house.say("/carer set Sven units us").await;
    house.say("/carer set me units metric").await;
    check(&mut house, " gal fresh", " L fresh").await;
}

#[tokio::test]
async fn of_a_span_that_is_over_keepers_are_told_what_came_of_it() {
    let mut house = club().await;
    key(&house, 1, "session:ada", false).await;
    key(&house, SVEN, "session:sven", false).await;
    house.at("2026-03-04 08:10");
    let (ok, said) = house.say_as(SVEN, "/did change dune salt").await;
    assert!(ok, "{said}");
    house.at("2026-03-20 12:00");
    let answer = house.hear(1, Input::Line("/sheet Sven".to_owned())).await;
    assert!(
        answer.ok && answer.private,
        "what was seen may be the keepers' alone"
    );
    let over = plain::text(&answer.blocks);
    holds(
        &over,
        &[
            "The span of Sven has ended: Monday 2 March to Sunday 15 March",
            "Sven did 1 turn, about ",
            "Change: 1, about ",
            "Used up by the changes, as /mix reckons it with its margin: 8.1 L of salt water, ",
        ],
    );
    assert!(!over.contains("of fresh water"), "none of it was used: {over}");
    let (status, page) = get(&house, "/sheet/2", "ada").await;
    assert_eq!(status, 200, "{page}");
    holds(
        &page,
        &["What was done, seen and used up", "Sven did 1 turn, about "],
    );
    assert_eq!(
        get(&house, "/sheet/2", "sven").await.0,
        401,
        "it is theirs no longer"
    );
    let part = house.say("/sheet sven from 2026-03-02 to 2026-03-03").await;
    holds(&part, &["Monday 2 March to Tuesday 3 March", "Sven did no turns"]);
    for (line, part) in [
        (
            "/sheet Sven from 2026-02-20 to 2026-03-03",
            "Tuesday 3 March is over already",
        ),
        (
            "/sheet Sven from 2026-04-01 to 2026-04-05",
            "The span of Sven ended on Sunday 15 March; /carer set Sven from DATE to DATE brings them back.",
        ),
    ] {
        holds(&house.refused(line).await, &[part]);
    }
    for carer in [BEA, SVEN] {
        let (ok, said) = house.say_as(carer, "/sheet Sven").await;
        assert!(!ok && !said.contains("did"), "{said}");
    }
}
