//! Questions that need no place, asked at a shell where nothing is set up.

use wrackline_tests::binary::Shell;

use super::{holds, one_sentence};

fn say(line: &str) -> String {
    let shell = Shell::new();
    let said = shell.run(&["say", line]).done();
    assert!(!shell.database().exists(), "a question makes no database");
    said
}

fn refused(line: &str) -> String {
    let shell = Shell::new();
    let said = shell.run(&["say", line]).failed(1);
    assert!(!shell.database().exists(), "a question makes no database");
    said
}

#[test]
fn part_changes_are_counted() {
    let said = say("/dilute from 80 to 20 mg/L source 5 change 25%");
    assert!(
        said.starts_with("6 changes of 25 %, a day apart: from 80 to 20 mg/L, ending at 18.35 mg/L.\n"),
        "{said}"
    );
    // A row a change, by hand: the distance to the source shrinks to three quarters each time.
    for (change, after) in (1..).zip(["61.25", "47.19", "36.64", "28.73", "22.8", "18.35"]) {
        let row: Vec<String> = vec![change.to_string(), change.to_string(), after.to_owned()];
        let found = said
            .lines()
            .any(|line| line.split_whitespace().collect::<Vec<_>>() == row);
        assert!(found, "{row:?} in {said}");
    }
}

#[test]
fn a_source_above_the_target_is_refused() {
    let said = refused("/dilute from 80 to 4 mg/L source 5 change 25%");
    one_sentence(&said, &["The source is above the target", "5 mg/L", "4 mg/L"]);
    let json = Shell::new().run(&["say", "--json", "/dilute from 80 to 4 source 5 change 25%"]);
    assert_eq!(json.code, 1);
    let answer = json.json();
    assert_eq!(answer["ok"], false);
    assert!(
        answer["text"].to_string().contains("above the target"),
        "{answer}"
    );
}

#[test]
fn ten_litres_of_salt_water_take_361_6_grams() {
    let said = say("/mix 10 L salt 35 at 25C");
    assert!(
        said.starts_with("361.6 g of dry salt into 10 L of tap water makes 10.1 L at 35 g/kg.\n"),
        "{said}"
    );
    holds(
        &said,
        &[
            "sg 1.0264 (25/25)",
            "sg 1.0266 (20/20)",
            "sg 1.0269 (60F/60F)",
            "sg 1.0234 (25/4)",
            "53.1 mS/cm at 25 °C",
            "label of the bottle decides",
            "common practice",
            "never into a pool with crabs",
        ],
    );
    assert!(!said.contains("350 g"), "{said}");
    // The order of work: conditioner before salt, measuring after it.
    let at = |text: &str| said.find(text).unwrap_or_else(|| panic!("{text} in {said}"));
    let order = [
        "1 · Fill in tap water, about as warm as the pool: 10 L.",
        "Conditioner in",
        "while you stir: 361.6 g.",
        "then measure",
        "pool's temperature",
    ];
    assert!(order.map(at).is_sorted(), "{said}");
}

#[test]
fn finished_litres_are_another_amount() {
    let said = say("/mix 10 L finished salt 35 at 25C");
    assert!(
        said.starts_with("358.2 g of dry salt into 9.9 L of tap water makes 10 L at 35 g/kg.\n"),
        "{said}"
    );
}

#[test]
fn a_gravity_needs_its_convention() {
    // At 60 °F the equation of state of 1980 gives 32.587, and that of 2010 32.582.
    for (convention, salinity) in [
        ("25/25", 33.19),
        ("20/20", 32.90),
        ("60F/60F", 32.58),
        ("25/4", 37.16),
    ] {
        for line in [
            format!("/mix 10 L sg 1.025 {convention}"),
            format!("/mix 10 L salt sg 1.025 {convention} at 25C"),
            format!("/mix 10 L salt 1.025 {convention}"),
        ] {
            let said = say(&line);
            let title = said.lines().next().unwrap_or_default();
            let shown = title
                .rsplit_once(" at ")
                .and_then(|(_, rest)| rest.strip_suffix(" g/kg."));
            let shown: f64 = shown
                .and_then(|text| text.parse().ok())
                .unwrap_or_else(|| panic!("{line}: {title}"));
            assert!((shown - salinity).abs() < 0.0101, "{line}: {title}");
        }
    }
    for line in [
        "/mix 10 L sg 1.025",
        "/mix 10 L salt sg 1.025 at 25C",
        "/mix 10 L salt 1.025",
    ] {
        let said = refused(line);
        one_sentence(
            &said,
            &[
                "33.19 g/kg (25/25)",
                "32.90 g/kg (20/20)",
                "32.59 g/kg (60F/60F)",
                "37.16 g/kg (25/4)",
            ],
        );
    }
}

#[test]
fn fresh_water_and_us_units_are_mixed_too() {
    let said = say("/mix 10 L");
    assert!(
        said.starts_with("10 L of fresh water: conditioner by its label.\n"),
        "{said}"
    );
    assert!(!said.contains("sg "), "{said}");
    let said = say("/mix 2 US gal salt 35 at 77F");
    // 2 US gal are 7.571 L: 273.8 g.
    holds(&said, &["273.8 g of dry salt into 7.6 L", "25 °C"]);
}

#[test]
fn what_cannot_be_mixed_is_one_sentence() {
    for (line, word) in [
        ("/mix 10 L salt 70", "70"),
        ("/mix 10 L salt -3", "-3"),
        ("/mix 10 salt 35", "unit"),
        ("/mix -10 L salt 35", "-10 L"),
        ("/mix 10 kg salt 35", "10 kg"),
        ("/mix 10 L salt 35 at 300C", "300"),
        ("/mix 10 L salt 35 at -15C", "-15"),
        ("/mix 10 L sg 1.055 25/25", "1.0550"),
        ("/mix 10 L fresh salt 35", "Fresh water"),
        ("/dilute from 80 to 20 source 20 change 25%", "20 mg/L"),
        ("/dilute from 5 to 20 source 10 change 25%", "below the target"),
        (
            "/dilute from 80 to 20 source 19.999999 change 0.1%",
            "larger part",
        ),
        ("/dilute from 80 to 20 source 5 change 0.01%", "0.01 %"),
        ("/dilute from 80 to 20 source 5 change 125%", "125"),
        ("/dilute from plenty to 20 change 25%", "plenty"),
        ("/dilute from 80 source 5 change 25%", "to"),
        ("/dilute phosphate from 80 to 20", "phosphate"),
        ("/dilute from 80 to 20 change 25% every Mon Thu", "every 2 days"),
    ] {
        let said = refused(line);
        assert!(said.contains(word), "{line}: {said}");
        assert!(!said.contains("Nothing was saved"), "{line}: {said}");
        assert_eq!(said.trim().lines().count(), 1, "{line}: {said}");
    }
}

#[test]
fn with_a_place_its_units_and_its_convention_hold() {
    let shell = Shell::practice("UTC");
    shell
        .run(&["say", "--as", "Ada", "/place set units us sg 20/20"])
        .done();
    let line = "/mix 10 L sg 1.025 at 25C";
    let said = shell.run(&["say", "--as", "Ada", line]).done();
    holds(&said, &["32.9 g/kg", "sg 1.025 (20/20)", "2.6 US gal", "77 °F"]);
    assert!(!said.contains("25/25"), "{said}");
    // Nobody of the place asks: it is answered as it would be without any place.
    one_sentence(&shell.run(&["say", line]).failed(1), &["25/25"]);
    let said = shell.run(&["say", "/mix 10 L salt 35 at 25C"]).done();
    holds(&said, &["10 L of tap water", "25/25", "20/20"]);
}

#[test]
fn other_lines_ask_who_says_them() {
    let shell = Shell::practice("UTC");
    for line in [
        "/due",
        "/mix",
        "/mix north salt",
        "/did change north salt",
        "/supplies list",
    ] {
        let said = shell.run(&["say", line]).failed(1);
        one_sentence(said.trim_start_matches("Who says it? "), &["--as"]);
        assert!(said.starts_with("Who says it?"), "{line}: {said}");
    }
    let nothing = Shell::new();
    let said = nothing.run(&["say", "--as", "Ada", "/mix north salt"]).failed(2);
    assert!(said.contains("wrackline init"), "{said}");
    nothing.run(&["say", "--as", "Ada", "/mix 10 L salt 35"]).done();
}
