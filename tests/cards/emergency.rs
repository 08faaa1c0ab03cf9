//! The cards.

use wrackline::lines::table::EMERGENCIES;
use wrackline_tests::house::TestHouse;

use super::{holds, house};

#[tokio::test]
async fn people_come_first_then_animals_then_the_rest_then_the_log() {
    let mut house = house("metric").await;
    let list = house.say("/emergency").await;
    for kind in EMERGENCIES {
        holds(&list, &[&format!("/emergency {kind} – ")]);
        let card = house.say(&format!("/emergency {kind}")).await;
        holds(
            &card,
            &[
                "People:",
                "Animals:",
                "veterinarian who treats exotic animals",
                "Then:",
                "Log: /",
            ],
        );
        let first = card.lines().next().unwrap_or_default();
        assert!(first.chars().count() <= 110, "{first}");
        // A caution is marked so in plain text.
        let words = card.replace("\n! ", "\n");
        assert!(!words.contains('!') && !words.contains('['), "{card}");
    }
    for kind in ["flood", "leak"] {
        let card = house.say(&format!("/emergency {kind}")).await;
        holds(
            &card,
            &[
                "from a dry place",
                "residual-current device",
                "Local codes and licensed people come first",
                "Water at stake: Great salt 30 L, Small fresh 8 L, Small salt 8 L.",
            ],
        );
    }
}

#[tokio::test]
async fn a_power_cut_names_what_cools_first_and_what_stops() {
    let mut house = house("metric").await;
    house.say("/read small 27C").await;
    let card = house.say("/emergency power cut").await;
    holds(
        &card,
        &[
            "unplug heater, pump and filter",
            "Small cools first: 24 °C in about",
            "from 27 °C.",
            "Great: 24 °C in about",
            "from 26.5 °C (assumed).",
            "Computed for a room of 20 °C (common practice)",
            "Filters that stop: Small salt.",
            "Air that stops: Great salt.",
            "After more than 4 h without flow",
            "after 24 h its bacteria do not count any more",
            "/gear stop SPOT filter",
        ],
    );
    house.say("/read small 22C").await;
    let card = house.say("/emergency blackout").await;
    holds(&card, &["Small is at 22 °C already, under 24 °C: warm it first."]);
}

#[tokio::test]
async fn too_much_salt_tells_how_much_to_swap() {
    let mut house = house("metric").await;
    let card = house.say("/emergency too much salt").await;
    holds(&card, &["Small salt: not read yet; read it first"]);
    house.say("/read small salt 42 g/kg").await;
    house.say("/read great salt 35 g/kg").await;
    let card = house.say("/emergency too much salt").await;
    // (42 − 35)/42 is a sixth: 1.333 of 8 L.
    holds(
        &card,
        &[
            "Great salt: 35 g/kg, read 12:00: no more than the 35 g/kg",
            "Small salt: 42 g/kg, read 12:00. Swap 1.3 L of 8 L in all",
        ],
    );
    let mut us = super::house("us").await;
    us.say("/read small salt 42 g/kg").await;
    holds(
        &us.say("/emergency salty").await,
        &["Small salt: 42 g/kg, read 12:00. Swap 0.35 US gal of 2.1 US gal in all"],
    );
    holds(
        &us.say("/emergency power cut").await,
        &["75.2 °F in about", "a room of 68 °F", "82% 79F"],
    );
}

#[tokio::test]
async fn a_humid_spell_and_untreated_water_are_told_of_this_place() {
    let mut house = house("metric").await;
    holds(
        &house.say("/emergency humid spell").await,
        &["No reading here tells of an open spell over 85 %."],
    );
    for (at, line) in [("01 12:00", "/read small 88%"), ("02 12:00", "/read small 90%")] {
        house.at(&format!("2026-03-{at}"));
        house.say(line).await;
    }
    holds(
        &house.say("/emergency long humid spell").await,
        &[
            "Small: over 85 % since Sunday 1 March 12:00, 24 h, now 90 %.",
            "It counts as a danger from 36 h on (common practice).",
        ],
    );
    holds(
        &house.say("/emergency untreated water").await,
        &[
            "Small salt holds 8 L: conditioner by its label",
            "5 mg/L chlorine (WHO), 3 mg/L chloramine (WHO), 4 mg/L chlorine (US EPA) and 4 mg/L chloramine (US EPA)",
            "none is published for land hermit crabs",
        ],
    );
}

#[tokio::test]
async fn a_card_is_there_for_everyone_and_before_anything_is_set_up() {
    let mut house = TestHouse::new("America/New_York").await;
    house.say("/carer add Dot helper").await;
    let (ok, text) = house.say_as(2, "/emergency power cut").await;
    assert!(ok, "{text}");
    holds(
        &text,
        &["People:", "No filter and no air is logged here.", "Then:"],
    );
    holds(
        &house.say("/emergency too much salt").await,
        &["No salt pool is logged here."],
    );
    let (ok, _) = house.say_as(2, "/due").await;
    assert!(!ok, "a helper said a line");
    let text = house.refused("/emergency dragons").await;
    holds(&text, &["is not one of flood, power cut"]);
    assert!(!text.contains("Nothing was saved"), "{text}");
}
