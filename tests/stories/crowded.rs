//! Calls of many turns: menus where the buttons do not fit.

use serde_json::Value;
use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::stage::Stage;

use super::round::now;
use super::{done, entries, read};

/// A house at a round that calls North's turns and those of so many further tanks.
async fn called(tanks: usize) -> (Stage, Message) {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    for number in 1..=tanks {
        let name = format!("Tank {number}");
        let tank = [Opt::text("name", &name), Opt::text("volume", "300 L")];
        done(&stage, stage.maren, "enclosure add", &tank).await;
        for water in ["fresh", "salt"] {
            let pool = [
                Opt::text("enclosure", &name),
                Opt::text("water", water),
                Opt::text("volume", "5 L"),
            ];
            done(&stage, stage.maren, "pool add", &pool).await;
        }
    }
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let mut posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    (stage, posts.remove(0))
}

/// What can be chosen on a message: the menu and the value.
pub(super) fn choices(message: &Message) -> Vec<(String, String)> {
    let rows = message.body()["components"]
        .as_array()
        .cloned()
        .unwrap_or_default();
    let parts = rows
        .iter()
        .flat_map(|row| row["components"].as_array().cloned().unwrap_or_default());
    let chosen = |part: Value| {
        let menu = part["custom_id"].as_str().expect("an id").to_owned();
        let options = part["options"].as_array().cloned().unwrap_or_default();
        let pair = move |one: &Value| (menu.clone(), one["value"].as_str().expect("a value").to_owned());
        options.iter().map(pair).collect::<Vec<_>>()
    };
    parts.flat_map(chosen).collect()
}

fn turns(message: &Message) -> usize {
    // Neither the title nor the water to prepare names a turn.
    let names = |line: &&str| line.contains(" · ") && line.contains(": ");
    read(message).lines().filter(names).count()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_turn_of_eight_can_be_answered_in_every_way() {
    let (mut stage, call) = called(1).await;
    assert_eq!(turns(&call), 8, "{}", read(&call));
    let firsts: Vec<String> = (1..=8).map(|number| format!("{number} · Did it")).collect();
    assert!(
        firsts.iter().all(|label| call.button(label).is_some()),
        "{:?}",
        call.shown()
    );
    let others = choices(&call);
    assert_eq!(others.len(), 24, "{others:#?}");
    for verb in ["later", "cannot", "notneeded"] {
        assert_eq!(
            others.iter().filter(|(_, code)| code.starts_with(verb)).count(),
            8,
            "{verb}"
        );
    }
    let of = |code: &str| {
        others
            .iter()
            .find(|(_, other)| other.starts_with(code))
            .expect("a choice")
    };
    let (menu, code) = of("cannot.change.p2.");
    let act = stage
        .double
        .choose(call.id, menu, stage.maren, &[code])
        .expect("a menu");
    let receipt = act.shown().await;
    assert!(
        receipt.ephemeral && receipt.button("I'll do it").is_some(),
        "{}",
        read(&receipt)
    );
    let (menu, code) = of("later.change.p2.");
    let act = stage
        .double
        .choose(call.id, menu, stage.maren, &[code])
        .expect("a menu");
    assert!(act.shown().await.shown().len() >= 3);
    let (menu, code) = of("notneeded.change.p1.");
    let act = stage
        .double
        .choose(call.id, menu, stage.maren, &[code])
        .expect("a menu");
    act.modal().await;
    let sent = stage
        .double
        .submit(&act, &[("text", "just filled")])
        .expect("a modal");
    assert!(read(&sent.shown().await).contains("just filled"));
    let call = now(&mut stage, &call).await;
    assert!(
        read(&call).contains("not needed, Maren Example"),
        "{}",
        read(&call)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_call_of_thirty_turns_stays_within_limits_and_can_be_answered() {
    let (mut stage, call) = called(7).await;
    assert!(read(&call).contains("32 turns"), "{}", read(&call));
    for number in 1..=7 {
        assert!(
            read(&call).contains(&format!("Tank {number} salt: change")),
            "{}",
            read(&call)
        );
    }
    let before = entries(&stage).await;
    let all = choices(&call);
    let dids: Vec<_> = all.iter().filter(|(_, code)| code.starts_with("did.")).collect();
    assert_eq!(dids.len(), 32, "{all:#?}");
    let (menu, code) = dids
        .iter()
        .rfind(|(_, code)| code.starts_with("did.change"))
        .expect("a change");
    let act = stage
        .double
        .choose(call.id, menu, stage.ilja, &[code])
        .expect("a menu");
    let said = read(&act.shown().await);
    assert!(said.contains("changed, 08:00, by Ilja Example"), "{said}");
    assert_eq!(entries(&stage).await, before + 1);
    let (menu, code) = dids
        .iter()
        .find(|(_, code)| code.starts_with("did.reading"))
        .expect("a reading");
    let act = stage
        .double
        .choose(call.id, menu, stage.ilja, &[code])
        .expect("a menu");
    act.modal().await;
    let sent = stage.double.submit(&act, &[("text", "81%")]).expect("a modal");
    assert!(read(&sent.shown().await).contains("81 %"));
    let call = now(&mut stage, &call).await;
    let act = stage
        .double
        .press_label(call.id, "All done", stage.maren)
        .expect("a button");
    let receipt = act.shown().await;
    assert!(read(&receipt).contains("Logged 23 turns"), "{}", read(&receipt));
    let call = now(&mut stage, &call).await;
    assert!(read(&call).contains("7 turns"), "{}", read(&call));
    stage.double.assert_faultless();
}
