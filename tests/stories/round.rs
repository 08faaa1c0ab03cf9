//! A round is called, answered in one tap, and shows it.

use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::stage::Stage;

/// A stage on the morning of a round with four turns, and its call.
async fn called() -> (Stage, Message) {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    (stage, posts.into_iter().next().expect("the call"))
}

/// The call as it stands now.
async fn now(stage: &mut Stage, call: &Message) -> Message {
    stage.turn().await;
    stage.double.message(call.id).expect("the call")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_round_is_called_and_answered_in_one_tap() {
    let (mut stage, call) = called().await;
    assert!(call.text().contains("2 · North fresh: change"), "{}", call.text());
    let act = stage
        .double
        .press_label(call.id, "2 · Did it", stage.ilja)
        .expect("a button");
    let receipt = act.shown().await;
    assert!(
        receipt.ephemeral && receipt.text().contains("North fresh changed"),
        "{}",
        receipt.text()
    );
    let call = now(&mut stage, &call).await;
    assert!(
        call.text()
            .contains("✓ 2 · North fresh: change · done 08:00, Ilja Example"),
        "{}",
        call.text()
    );
    assert_eq!(stage.posts().len(), 1);

    let late = stage
        .double
        .press(call.id, &old(&call, "did.change.p1"), stage.maren);
    assert!(late.is_err(), "what is done shows no button");
    let act = stage
        .double
        .press_label(call.id, "All done", stage.maren)
        .expect("a button");
    assert!(act.shown().await.text().contains("North salt changed"));
    let call = now(&mut stage, &call).await;
    assert!(
        call.text().contains("1 turn"),
        "the reading stays open: {}",
        call.text()
    );
    stage.double.assert_faultless();
}

/// A code of the first version of a call.
fn old(call: &Message, start: &str) -> String {
    let rows = call.history[0].body["components"]
        .as_array()
        .cloned()
        .unwrap_or_default();
    let parts = rows
        .iter()
        .flat_map(|row| row["components"].as_array().cloned().unwrap_or_default());
    let codes = parts.filter_map(|part| part["custom_id"].as_str().map(str::to_owned));
    codes
        .into_iter()
        .find(|code| code.starts_with(start))
        .expect("a code")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_who_press_at_once_are_told_apart() {
    let (mut stage, call) = called().await;
    let one = stage
        .double
        .press_label(call.id, "3 · Did it", stage.ilja)
        .expect("a button");
    let other = stage
        .double
        .press_label(call.id, "3 · Did it", stage.maren)
        .expect("a button");
    let (one, other) = (one.shown().await.text(), other.shown().await.text());
    let done = |text: &str| text.contains("North salt changed");
    assert!(done(&one) != done(&other), "{one}\n{other}");
    let refused = if done(&one) { &other } else { &one };
    assert!(refused.contains("Example"), "it says who was first: {refused}");
    now(&mut stage, &call).await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_value_that_is_wanted_is_asked_for_in_a_form() {
    let (mut stage, call) = called().await;
    let press = || {
        stage
            .double
            .press_label(call.id, "4 · Did it", stage.ilja)
            .expect("a button")
    };
    let asked = press();
    let form = asked.modal().await;
    assert_eq!(form["components"].as_array().map(Vec::len), Some(1), "{form}");
    let wrong = stage
        .double
        .submit(&asked, &[("text", "140%")])
        .expect("a form")
        .shown()
        .await;
    assert!(
        wrong.ephemeral && wrong.text().contains("0 to 100"),
        "{}",
        wrong.text()
    );
    let asked = press();
    asked.modal().await;
    let right = stage
        .double
        .submit(&asked, &[("text", "82% 25 C")])
        .expect("a form")
        .shown()
        .await;
    assert!(right.text().contains("82"), "{}", right.text());

    let asked = stage
        .double
        .press_label(call.id, "2 · Not needed", stage.ilja)
        .expect("a button");
    asked.modal().await;
    let reason = stage
        .double
        .submit(&asked, &[("text", "it is clear")])
        .expect("a form")
        .shown()
        .await;
    assert!(!reason.text().contains("Nothing was saved"), "{}", reason.text());
    let asked = stage
        .double
        .press_label(call.id, "All but…", stage.ilja)
        .expect("a button");
    asked.modal().await;
    let rest = stage
        .double
        .submit(&asked, &[("text", "3")])
        .expect("a form")
        .shown()
        .await;
    assert!(rest.text().contains("looked at"), "{}", rest.text());
    let call = now(&mut stage, &call).await;
    assert!(call.text().contains("1 turn"), "{}", call.text());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn later_and_cannot_offer_what_comes_next() {
    let (mut stage, call) = called().await;
    let later = stage
        .double
        .press_label(call.id, "2 · Later", stage.ilja)
        .expect("a button")
        .shown()
        .await;
    let first = later.shown().first().expect("times to choose from").clone();
    let put = stage
        .double
        .press(later.id, &first.custom_id, stage.ilja)
        .expect("a time")
        .shown()
        .await;
    assert!(put.ephemeral, "{}", put.text());
    let cannot = stage
        .double
        .press_label(call.id, "3 · Can't", stage.ilja)
        .expect("a button")
        .shown()
        .await;
    assert!(!cannot.text().is_empty());
    let call = now(&mut stage, &call).await;
    assert!(
        call.text().contains("put off until 09:00"),
        "{}\n{}\n{}",
        later.text(),
        put.text(),
        call.text()
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_call_of_last_month_is_answered_clearly() {
    let (mut stage, call) = called().await;
    stage.at("2026-04-10 09:00");
    stage.turn().await;
    let act = stage.double.press_label(call.id, "2 · Did it", stage.ilja);
    if let Ok(act) = act {
        let answer = act.shown().await;
        assert!(
            answer.ephemeral && !answer.text().trim().is_empty(),
            "{}",
            answer.text()
        );
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_late_call_calls_whom_it_asks() {
    let (mut stage, _) = called().await;
    stage.at("2026-03-04 21:00");
    stage.turn().await;
    let late = stage.posts().pop().expect("a late call");
    let called: Vec<_> = late.history[0].notified.users.iter().copied().collect();
    assert!(!called.is_empty(), "{}", late.text());
    assert!(
        called
            .iter()
            .all(|user| *user == stage.maren || *user == stage.ilja)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_crowded_round_is_answered_through_menus() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    for name in ["South", "East", "West"] {
        let enclosure = [Opt::text("name", name), Opt::text("volume", "400 L")];
        stage.say(stage.maren, "enclosure add", &enclosure).await;
        for water in ["fresh", "salt"] {
            let pool = [
                Opt::text("enclosure", name),
                Opt::text("water", water),
                Opt::text("volume", "8 L"),
            ];
            stage.say(stage.maren, "pool add", &pool).await;
        }
    }
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let call = stage.posts().remove(0);
    let rows = call.body()["components"].as_array().expect("rows").clone();
    let menus: Vec<_> = rows
        .iter()
        .flat_map(|row| row["components"].as_array().expect("parts"))
        .filter(|part| part["type"] == 3)
        .collect();
    assert!(!menus.is_empty(), "{:#?}", call.shown());
    let menu = menus[0]["custom_id"].as_str().expect("a code");
    let option = menus[0]["options"][0]["value"].as_str().expect("a value");
    let act = stage
        .double
        .choose(call.id, menu, stage.ilja, &[option])
        .expect("a choice");
    assert!(act.first().await.kind != 0);
    stage.turn().await;
    stage.double.assert_faultless();
}
