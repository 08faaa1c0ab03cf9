//! Every line that is registered can be given, and is answered within the platform's limits.

use serde_json::Value;
use wrackline_tests::platform::Opt;
use wrackline_tests::stage::{Stage, ZONE};

use super::read;

/// Figures of what is made and laid.
fn figure(name: &str) -> Option<&'static str> {
    Some(match name {
        "winter" => "21C 40%",
        "summer" => "25C 55%",
        "size" => "90x45x45 cm",
        "substrate" => "15 cm",
        "glass" => "6 mm",
        "lid" => "gaps",
        "heated" => "27C",
        "shape" => "box 30x25x12 cm",
        "depth" => "8 cm",
        "gravel" => "2 cm",
        "stones" | "displaces" => "0.2 L",
        "way-out" => "ramp 8x12 cm",
        "rated" => "5-10 gal",
        "fill-line" => "5 cm",
        "flow" => "200 L/h",
        "head" => "50 cm",
        "tube" => "150 cm",
        "bore" => "9 mm",
        _ => return of_person(name),
    })
}

/// What is told of a person.
fn of_person(name: &str) -> Option<&'static str> {
    Some(match name {
        "starts" => "2026-03-02",
        "ends" => "2026-04-02",
        "language" => "en",
        "free" => "Mon Wed morning, Sat Sun",
        "skill" => "all",
        "lifts" => "10 kg",
        "share" => "0.5",
        "minutes" => "30",
        _ => return None,
    })
}

/// What a person would put into an option.
#[expect(clippy::too_many_lines, reason = "one arm for each argument")]
fn sensible(stage: &Stage, line: &str, name: &str, kind: u64) -> Option<Opt> {
    let adds = line.ends_with("add");
    let value = match (kind, name) {
        // No helper's work waits there.
        (3, "duty" | "spot") if line == "nod" => return None,
        (3, "duty") if line.starts_with("duty") => "Rake sand",
        (3, "duty") => "change",
        (3, "vessel" | "batch") => "Brand new",
        (3, "enclosure") => "Brand new",
        (3, "spot") if line.starts_with("enclosure") => "North",
        (3, "spot") => "north salt",
        (3, "readings") if line == "batch add" => "0.2 g/kg",
        (3, "readings") => "sg 1.0245 25/25 26.1C",
        (3, "sighting") => "wet substrate",
        // A rehearsal replays whole weeks, and this place was set up today.
        (3, "from" | "to") if line == "rehearse" => return None,
        (3, "from") if line == "away" => "2026-03-10",
        (3, "at" | "from") => "12:00",
        (3, "whom") => "Ilja Example",
        (3, "to") => "2026-03-20",
        (3, "turn") => "change north salt",
        (3, "span") => "9 days",
        (3, "leave") => "tomorrow",
        // A span says it already.
        (3, "back") => return None,
        (3, "until") if line == "rounds hush" => "23:59",
        (3, "until" | "use-by") => "2026-04-02",
        (3, "by" | "carer") => "Ilja Example",
        (3, "stand-in") => "Maren Example",
        (3, "round") => "morning",
        (3, "name") if line == "duty add" => "Rake sand",
        // A carer is called like nothing else there.
        (3, "name") if line == "carer add" => "Somebody new",
        (3, "name") if adds => "Brand new",
        (3, "name") if line == "place set" => "By another name",
        // A pool that stands is another question than an amount.
        (3, "start" | "target" | "with") if line == "mix" => return None,
        (3, "start") => "80",
        (3, "target") if line == "dilute" => "20 mg/L",
        (3, "source") if line == "dilute" => "5",
        (3, "source") => "0.3",
        (3, "adds") => "2 mg/L a day",
        (3, "change" | "removes") => "25%",
        (3, "salinity" | "target") => "35",
        (3, "temperature") => "25C",
        (3, "conditioner" | "salt") => "Home brand",
        (3, "dose") => "5 mL",
        (3, "per") => "40 L",
        (3, "hold") => "48 h",
        (3, "factor") => "0.97",
        (3, "measured") => "34.1",
        (3, "after" | "bucket") => "10 L",
        (3, "mass") => "358 g",
        (3, "margin") => "10%",
        (3, "volume") if line.starts_with("enclosure") => "300 L",
        (3, "volume" | "amount") => "6 L",
        (3, "smallest") => "2 cm",
        (3, "largest") => "3 cm",
        (3, "part") => "50%",
        (3, "grace") => "12 h",
        (3, "hazard") => "9 days",
        (3, "every") => "3 days",
        (3, "alarm") => "30 min",
        (3, "zone") => ZONE,
        (3, "quiet") if line != "enclosure set" => "22:00 to 07:00",
        (3, "quiet" | "room" | "note") => "left back corner",
        (3, "line") => "did",
        // What is told of air alone; the gear here is the filter.
        (5, "check-valve" | "weighted") => return None,
        // Said on another day: the code of a link, and what excludes what is said already.
        (3, "code" | "on" | "cron" | "steps" | "together" | "rounds")
        | (
            5,
            "always" | "back" | "list" | "closed" | "removable" | "unconditioned" | "dosed" | "tap" | "off"
            | "no" | "cannot",
        ) => {
            return None;
        }
        (3, "time") if line == "duty add" => return None,
        (3, "time") if line == "rounds set" => "07:30",
        (3, "time") => "21:00",
        (4, "entry") => return None,
        (4, _) => return Some(Opt::int(name, 2)),
        // A filter that is new and proven has nothing left to be set.
        (5, "proven") if adds => return None,
        (5, _) => return Some(Opt::bool(name, true)),
        (6, _) if adds => return Some(Opt::user(name, stage.double.member(stage.guild, "Noor"))),
        (6, _) => return Some(Opt::user(name, stage.ilja)),
        (7, _) => return Some(Opt::channel(name, stage.channel)),
        (3, _) => figure(name)?,
        _ => return None,
    };
    Some(Opt::text(name, value))
}

fn options(stage: &Stage, line: &str, specs: &[Value], all: bool) -> Vec<Opt> {
    let mut given = Vec::new();
    for spec in specs.iter().filter(|spec| all || spec["required"] == true) {
        let name = spec["name"].as_str().expect("a name");
        let choice = match name {
            "gear" | "with-gear" => Some("filter"),
            "without-gear" => continue,
            // Only a sitter has a span.
            "role" => Some("sitter"),
            // Where it is in its life already is refused.
            "life" if line == "pool set" => continue,
            "life" => Some("in use"),
            _ => spec["choices"][0]["value"].as_str(),
        };
        let kind = spec["type"].as_u64().expect("a type");
        let sensible = match choice {
            Some(choice) => Some(Opt::text(name, choice)),
            None => sensible(stage, line, name, kind),
        };
        given.extend(sensible);
    }
    given
}

/// Every line and subcommand with its options.
fn leaves(stage: &Stage) -> Vec<(String, Vec<Value>)> {
    let list = |value: &Value| value["options"].as_array().cloned().unwrap_or_default();
    let mut found = Vec::new();
    for command in stage.double.commands() {
        let name = command["name"].as_str().expect("a name").to_owned();
        let own = list(&command);
        let subs: Vec<&Value> = own.iter().filter(|one| one["type"] == 1).collect();
        if subs.is_empty() {
            found.push((name, own));
            continue;
        }
        for sub in subs {
            let sub_name = sub["name"].as_str().expect("a name");
            found.push((format!("{name} {sub_name}"), list(sub)));
        }
    }
    // What takes something away comes last, and what holds others after them.
    found.sort_by_key(|(line, _)| {
        (
            line != "batch add",
            line.ends_with("retire"),
            line == "enclosure retire",
            line == "pool retire",
        )
    });
    found
}

/// Gives every line; what was answered to the one who asked alone: refusals.
async fn check(all: bool) -> Vec<String> {
    let stage = Stage::new().await;
    stage.set_up().await;
    let lines = leaves(&stage);
    let mut alone = Vec::new();
    assert!(lines.len() >= 35, "{} lines", lines.len());
    for (line, specs) in &lines {
        let given = options(&stage, line, specs, all);
        let answer = stage.say(stage.maren, line, &given).await;
        let said = read(&answer);
        assert!(said.chars().count() > 3, "/{line} {given:?}: {said}");
        for odd in ["{$", "another version", "journal cannot be written"] {
            assert!(!said.contains(odd), "/{line} {given:?}: {said}");
        }
        assert!(answer.calls_nobody(), "/{line}: {said}");
        // What is linked to somebody is theirs alone, and is no refusal.
        if answer.ephemeral && line != "help" && !line.starts_with("link") {
            alone.push(format!("/{line}: {said}"));
        }
    }
    stage.double.assert_faultless();
    alone
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_line_is_answered_with_what_it_demands_alone() {
    // What only may be said is not demanded: a line that changes nothing asks what is to be changed.
    let refused = check(false).await;
    for said in &refused {
        let line = said.split(':').next().unwrap_or_default();
        let is_set_up = ["add", "set", "link", "start", "stop", "retire"]
            .iter()
            .any(|sub| line.ends_with(sub));
        assert!(
            is_set_up || ["/alone", "/did", "/undo", "/offer", "/rehearse", "/sheet"].contains(&line),
            "{said}"
        );
    }
    assert!(refused.len() < 20, "{refused:#?}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_line_is_answered_with_all_that_it_takes() {
    // The place is of today, and a rehearsal takes whole weeks that have been.
    let young = |said: &String| said.starts_with("/rehearse: ") && said.contains("A rehearsal takes 7 days");
    let (short, refused): (Vec<_>, Vec<_>) = check(true).await.into_iter().partition(young);
    assert!(refused.is_empty(), "{refused:#?}");
    assert_eq!(short.len(), 1, "{short:#?}");
}
