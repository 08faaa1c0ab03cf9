//! The sheet as a page of the porch: who may read it, and what stands on it.

use wrackline_tests::house::TestHouse;
use wrackline_tests::served::get;

use super::{BEA, SVEN, club, holds, key};

async fn open() -> TestHouse {
    let house = club().await;
    for (carer, name) in [(1, "ada"), (SVEN, "sven"), (BEA, "bea")] {
        key(&house, carer, &format!("session:{name}"), false).await;
    }
    house
}

#[tokio::test]
async fn the_keeper_and_the_sitter_read_it_and_nobody_else() {
    let house = open().await;
    let path = "/sheet/2?from=2026-03-02&to=2026-03-15";
    for who in ["ada", "sven"] {
        let (status, text) = get(&house, path, who).await;
        assert_eq!(status, 200, "{who}: {text}");
        holds(
            &text,
            &["<h1>Handover for Sven, Monday 2 March to Sunday 15 March: "],
        );
    }
    let (status, text) = get(&house, path, "bea").await;
    assert_eq!(status, 404, "{text}");
    holds(
        &text,
        &["for keepers and for the sitter whose span it is: ask Ada."],
    );
    assert!(!text.contains("Dune"), "{text}");
    assert_eq!(get(&house, path, "nobody").await.0, 401);
    for (path, part) in [
        (
            "/sheet/2?from=2026-03-09&to=2026-03-05",
            "cannot end before it starts",
        ),
        ("/sheet/2?from=soon", "“soon” is no date"),
        ("/sheet/77", "Nobody of that number"),
        ("/sheet/3", "Bea has no span of days"),
    ] {
        let (status, text) = get(&house, path, "ada").await;
        assert_eq!(status, 404, "{path}: {text}");
        holds(&text, &[part]);
    }
    // Without days the span's own are meant.
    assert_eq!(get(&house, "/sheet/2", "sven").await.0, 200);
}

#[tokio::test]
async fn steps_and_quantities_are_those_of_how_and_mix() {
    let mut house = open().await;
    let (_, page) = get(&house, "/sheet/2", "ada").await;
    let page = page.replace("&#39;", "'").replace("&quot;", "\"");
    // Every number that a day names has its work.
    let works = page.matches("<article>").count();
    assert!((8..40).contains(&works), "{works}");
    let how = house.say("/how change dune salt").await;
    let today: Vec<&str> = how
        .lines()
        .skip_while(|line| !line.starts_with("Prepare "))
        .take_while(|line| !line.starts_with("That is "))
        .collect();
    assert_eq!(today.len(), 3, "the amounts, the bucket, what is expected: {how}");
    holds(&page, &today);
    for step in how.lines().filter(|line| line.contains(" · ")) {
        holds(&page, &[step]);
    }
    // The water of the first changes that are due, as /mix has it.
    let mix = house.say("/mix").await;
    let first = mix.lines().next().unwrap_or_default();
    let amounts = first.strip_prefix("Prepare ").unwrap_or(first);
    assert!(
        amounts.contains(" L fresh (") && amounts.contains(" L salt ("),
        "{mix}"
    );
    holds(&page, &[amounts.trim_end_matches('.')]);
    holds(
        &page,
        &[
            "1 · Hall, Dune, 6 crabs: fresh, 7.8 L, nested; salt, 7.7 L, nested",
            "2 · Study, Reef, 9 crabs: fresh, 8 L, stays in place, filter; salt, 10 L, stays in place, filter, air",
            "3 · Hall, Cove, 3 crabs",
            "Quiet zone in Reef, left back",
            "Humidity 75 to 85 %",
            "Dune: 81 %, 26.2 °C on Sunday 1 March 12:00",
            "Dune salt: 34.6 g/kg on",
            "Humidity under 70 % for 6 hours, or over 85 % for 36 hours.",
            "Ada ____",
            "Bea ____",
            "Flood: stay out of the water until the circuit is off at the panel, from a dry place. People: never reach",
            "Mains beside water",
            "Lid seals is a duty of this place’s own, on Saturday, at the first round: ask Ada how it is done.",
            "Night food dish is a duty of this place’s own, every 2 days: ask Ada how it is done.",
            "never lift a glass tank",
            "chloramine",
        ],
    );
    assert!(page.find("Ada ____") < page.find("Bea ____"), "{page}");
}

#[tokio::test]
async fn sickness_is_the_keepers_and_stands_on_no_sheet() {
    let mut house = open().await;
    for line in ["/saw crab in trouble dune", "/saw leak cove salt"] {
        house.say(line).await;
    }
    let told = house.say("/sheet Sven").await;
    let (_, page) = get(&house, "/sheet/2", "sven").await;
    holds(&page, &["Open: Cove salt, leak, since"]);
    for text in [&told, &page] {
        assert!(!text.contains("Open: Dune"), "{text}");
    }
}

#[tokio::test]
async fn a_place_that_entered_no_conditioner_has_a_sheet_too() {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/carer add Sven sitter from 2026-03-02 to 2026-03-05",
        "/enclosure add Dune 340 L crabs 6",
        "/pool add dune fresh 7.8 L",
    ] {
        house.say(line).await;
    }
    key(&house, 1, "session:ada", false).await;
    let (status, page) = get(&house, "/sheet/2", "ada").await;
    assert_eq!(status, 200, "{page}");
    holds(
        &page,
        &[
            "the label of the bottle decides",
            "A veterinarian who treats exotic animals: ____",
        ],
    );
}
