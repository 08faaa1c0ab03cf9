//! Every line and every subcommand that is registered can be said natively, and is answered.

use serde_json::Value;
use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

/// A value that makes sense for an option, or the first choice of it.
fn value(stage: &Stage, option: &Value) -> Opt {
    let name = option["name"].as_str().expect("a name");
    if let Some(choice) = option["choices"].get(0) {
        return Opt::text(name, choice["value"].as_str().expect("a text"));
    }
    match option["type"].as_u64().expect("a type") {
        4 => Opt::int(name, 1),
        5 => Opt::bool(name, true),
        6 => Opt::user(name, stage.ilja),
        7 => Opt::channel(name, stage.channel),
        _ => Opt::text(
            name,
            match name {
                "duty" => "change",
                "spot" => "north salt",
                "enclosure" => "North",
                "readings" => "82%",
                "sighting" => "escape",
                "volume" => "8 L",
                "carer" => "Ilja",
                "round" => "morning",
                "time" => "09:00",
                "every" => "3 days",
                "name" => "Something new",
                _ => "1",
            },
        ),
    }
}

/// The options that a line has to have.
fn required(stage: &Stage, options: &Value) -> Vec<Opt> {
    let all = options.as_array().into_iter().flatten();
    all.filter(|option| option["required"] == true)
        .map(|option| value(stage, option))
        .collect()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_line_is_answered() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let mut said = 0;
    for command in stage.double.commands() {
        let name = command["name"].as_str().expect("a name").to_owned();
        let options = command["options"].as_array().cloned().unwrap_or_default();
        let subs: Vec<&Value> = options.iter().filter(|option| option["type"] == 1).collect();
        let lines: Vec<(String, Vec<Opt>)> = if subs.is_empty() {
            vec![(name, required(&stage, &command["options"]))]
        } else {
            let line = |sub: &&Value| {
                let full = format!("{name} {}", sub["name"].as_str().expect("a name"));
                (full, required(&stage, &sub["options"]))
            };
            subs.iter().map(line).collect()
        };
        for (line, options) in lines {
            let answer = stage.say(stage.maren, &line, &options).await;
            assert!(!answer.text().trim().is_empty(), "/{line}");
            assert!(
                !answer.text().contains("of another version"),
                "/{line}: {}",
                answer.text()
            );
            said += 1;
        }
    }
    assert!(said > 30, "{said} lines");
    stage.turn().await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_long_week_comes_in_several_messages() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for number in 1..=12 {
        let name = format!("Enclosure number {number} in the long hall");
        let options = [Opt::text("name", &name), Opt::text("volume", "300 L")];
        stage.say(stage.maren, "enclosure add", &options).await;
    }
    stage.at("2026-03-08 20:00");
    let week = stage
        .double
        .command(stage.channel, stage.maren, "week", &[Opt::bool("full", true)]);
    let week = week.expect("a command");
    let first = week.shown().await;
    let rest = week.follow_ups(1).await;
    assert!(first.content().chars().count() <= 2_000);
    assert!(!rest.is_empty() && rest.iter().all(|one| one.content().chars().count() <= 2_000));
    stage.double.assert_faultless();
}
