//! What `--json` prints.

use std::collections::BTreeSet;

use serde_json::Value;

use super::north;

fn keys(value: &Value) -> BTreeSet<&str> {
    value
        .as_object()
        .expect("an object")
        .keys()
        .map(String::as_str)
        .collect()
}

/// Whether a text is an instant with seconds and the offset of New York.
fn is_instant(value: &Value) -> bool {
    let text = value.as_str().unwrap_or("");
    let offset = text.ends_with("-05:00") || text.ends_with("-04:00");
    offset && text.len() == "2026-03-08T08:00:00-04:00".len() && text.parse::<jiff::Timestamp>().is_ok()
}

#[test]
fn answers_have_the_shape_that_is_promised() {
    let shell = north();
    shell.say("2026-03-03T08:12", "/did change north salt").done();
    let asked = shell.ask("2026-03-06T09:00", "/why north salt change");
    assert_eq!((asked.code, asked.err.as_str()), (0, ""));
    let answer = asked.json();
    assert_eq!(keys(&answer), BTreeSet::from(["ok", "text", "turns"]));
    assert_eq!(answer["ok"], true);
    let mut turn = answer["turns"][0].clone();
    assert!(
        ["Ada", "Bea"].contains(&turn["carer"].as_str().expect("a carer")),
        "{turn}"
    );
    turn["carer"] = Value::from("Ada");
    let expected = serde_json::json!({
        "enclosure": "North", "pool": "salt", "duty": "change", "last": "2026-03-03T08:12:00-05:00",
        "due": "2026-03-05T08:00:00-05:00", "overdue": "2026-03-05T20:00:00-05:00",
        "hazard": "2026-03-07T08:12:00-05:00", "mark": "overdue", "carer": "Ada",
    });
    assert_eq!(turn, expected);
}

#[test]
fn every_turn_of_a_list_has_all_its_parts() {
    let shell = north();
    let answer = shell.ask("2026-03-06T09:00", "/due").json();
    let turns = answer["turns"].as_array().expect("turns");
    assert!(turns.len() >= 4, "{answer}");
    let wanted = [
        "enclosure",
        "pool",
        "duty",
        "last",
        "due",
        "overdue",
        "hazard",
        "mark",
        "carer",
    ];
    for turn in turns {
        assert_eq!(keys(turn), BTreeSet::from(wanted));
        assert!(is_instant(&turn["due"]) && is_instant(&turn["overdue"]), "{turn}");
        assert!(turn["hazard"].is_null() || is_instant(&turn["hazard"]), "{turn}");
        assert!(turn["last"].is_null(), "nothing was done yet: {turn}");
        let mark = turn["mark"].as_str().expect("a mark");
        assert!(["calm", "due", "overdue", "hazard"].contains(&mark), "{turn}");
        assert_eq!(turn["enclosure"], "North");
        assert!(
            turn["pool"].is_null() || turn["pool"] == "fresh" || turn["pool"] == "salt",
            "{turn}"
        );
    }
    let marks: BTreeSet<&str> = turns.iter().filter_map(|turn| turn["mark"].as_str()).collect();
    assert!(marks.contains("hazard") && marks.contains("overdue"), "{marks:?}");
}

#[test]
fn a_refusal_is_told_in_json_too() {
    let shell = north();
    for (line, word) in [("/read north 140%", "140 %"), ("/did change south salt", "south")] {
        let refused = shell.ask("2026-03-06T09:00", line);
        assert_eq!((refused.code, refused.err.as_str()), (1, ""));
        let told = refused.json();
        assert_eq!(keys(&told), BTreeSet::from(["ok", "text"]));
        assert_eq!(told["ok"], false);
        assert!(told["text"].as_str().expect("a text").contains(word), "{told}");
    }
    let stranger = shell.run(&["say", "--as", "Zoe", "--json", "/due"]);
    assert_eq!((stranger.code, stranger.err.as_str()), (1, ""));
    assert_eq!(stranger.json()["ok"], false);
}
