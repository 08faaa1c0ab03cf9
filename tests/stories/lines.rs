//! The everyday lines, as a person gives them on the platform and reads their answers.

use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::stage::Stage;

use super::{done, entries, read, refused};

fn text(name: &str, value: &str) -> Opt {
    Opt::text(name, value)
}

fn labels(message: &Message) -> Vec<String> {
    message.shown().into_iter().map(|one| one.label).collect()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn did_alone_shows_what_is_open_to_the_one_who_asked() {
    let stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-03 08:00");
    // Whosever they are, each turn is shown to the one who has it.
    let mut changes = 0;
    for (who, name) in [(stage.maren, "Maren Example"), (stage.ilja, "Ilja Example")] {
        let answer = stage.say(who, "did", &[]).await;
        let mut shown = answer.shown().into_iter();
        let Some(press) = shown.find(|one| one.custom_id.starts_with("did.change")) else {
            continue;
        };
        let told = read(&answer);
        assert!(answer.ephemeral && told.contains("North"), "{told}");
        changes += 1;
        let before = entries(&stage).await;
        let act = stage.double.press(answer.id, &press.custom_id, who);
        let receipt = act.expect("a button").shown().await;
        assert!(
            read(&receipt).contains(&format!("changed, 08:00, by {name}")),
            "{}",
            read(&receipt)
        );
        assert_eq!(entries(&stage).await, before + 1);
    }
    assert!(changes > 0, "nobody has a change");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_was_done_is_told_with_what_comes_next_and_can_be_taken_back() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let change = [text("duty", "change"), text("spot", "north salt")];
    let answer = stage.say(stage.ilja, "did", &change).await;
    let said = read(&answer);
    assert!(!answer.ephemeral, "{said}");
    assert!(
        said.contains("North salt changed, 12:00, by Ilja Example. Next: Tuesday 3 March, morning"),
        "{said}"
    );
    assert_eq!(labels(&answer), ["Take back", "Why"]);
    let why = stage.double.press_label(answer.id, "Why", stage.maren);
    let why = why.expect("a button").shown().await;
    assert!(
        why.ephemeral && read(&why).contains("every 2 days"),
        "{}",
        read(&why)
    );
    // A second one soon after is asked about, and logged when it is insisted on.
    let again = stage.say(stage.maren, "did", &change).await;
    assert!(
        read(&again).contains("Ilja Example logged the change"),
        "{}",
        read(&again)
    );
    let before = entries(&stage).await;
    let act = stage
        .double
        .press_label(again.id, "Log again: North salt", stage.maren);
    act.expect("a button").shown().await;
    assert_eq!(entries(&stage).await, before + 1);
    let act = stage.double.press_label(answer.id, "Take back", stage.ilja);
    let back = act.expect("a button").shown().await;
    assert!(read(&back).contains("North salt"), "{}", read(&back));
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn readings_are_taken_in_units_and_refused_without() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let of = |spot, readings| [text("spot", spot), text("readings", readings)];
    let said = done(&stage, stage.ilja, "read", &of("north", "82% 26.5C")).await;
    assert!(said.contains("82 %, 26.5 °C"), "{said}");
    let said = done(
        &stage,
        stage.ilja,
        "read",
        &of("north salt", "sg 1.0245 25/25 79F"),
    )
    .await;
    assert!(said.contains("1.0245") && said.contains("°C"), "{said}");
    let before = entries(&stage).await;
    let said = refused(&stage, stage.ilja, "read", &of("north", "140%")).await;
    assert!(
        said.contains("140") && said.contains("Nothing was saved"),
        "{said}"
    );
    assert_eq!(entries(&stage).await, before);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_danger_seen_is_posted_at_once_and_calls_the_keepers_alone() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let noor = stage.double.member(stage.guild, "Noor Example");
    let options = [Opt::user("member", noor), text("role", "keeper")];
    done(&stage, stage.maren, "carer add", &options).await;
    let leak = [
        text("sighting", "leak"),
        text("spot", "north salt"),
        text("note", "left corner"),
    ];
    let answer = stage.say(stage.ilja, "saw", &leak).await;
    assert!(read(&answer).contains("First: switch off"), "{}", read(&answer));
    assert!(answer.calls_nobody());
    stage.turn().await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    let alarm = &posts[0];
    let said = read(alarm);
    assert!(
        said.starts_with("**Leak: North salt. Seen by Ilja Example, 12:00"),
        "{said}"
    );
    assert!(said.contains("Note: left corner"), "{said}");
    let called = &alarm.history[0].notified;
    assert_eq!(called.users, [stage.maren, noor].into());
    assert!(called.roles.is_empty() && !called.everyone);
    assert_eq!(
        labels(alarm),
        ["I see it", "I'm going", "It's wrong", "It's over"]
    );
    let act = stage.double.press_label(alarm.id, "I'm going", stage.maren);
    assert!(read(&act.expect("a button").shown().await).contains("Maren Example"));
    stage.turn().await;
    let alarm = stage.double.message(alarm.id).expect("the alarm");
    assert!(
        read(&alarm).contains("Maren Example goes to look"),
        "{}",
        read(&alarm)
    );
    let act = stage.double.press_label(alarm.id, "It's over", noor);
    act.expect("a button").shown().await;
    stage.turn().await;
    let alarm = stage.double.message(alarm.id).expect("the alarm");
    assert!(alarm.shown().is_empty(), "{:?}", alarm.shown());
    let settled = stage.posts().pop().expect("a post");
    assert!(
        read(&settled).contains("Settled") && settled.calls_nobody(),
        "{}",
        read(&settled)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn questions_are_answered() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let salt = text("spot", "north salt");
    let change = text("duty", "change");
    let said = done(&stage, stage.ilja, "why", &[salt.clone(), change.clone()]).await;
    assert!(
        said.contains("North salt") && said.contains("every 2 days"),
        "{said}"
    );
    let said = done(&stage, stage.ilja, "how", &[change, salt.clone()]).await;
    assert!(said.contains("8 L"), "{said}");
    let help = stage.say(stage.ilja, "help", &[]).await;
    assert!(help.ephemeral);
    let said = read(&help);
    for line in ["/due", "/did", "/read", "/saw", "/week", "/turns"] {
        assert!(said.contains(line), "{line}: {said}");
    }
    let help = stage.say(stage.ilja, "help", &[text("line", "did")]).await;
    let said = read(&help);
    assert!(said.contains("/did"), "{said}");
    done(&stage, stage.ilja, "did", &[text("duty", "change"), salt]).await;
    let said = done(&stage, stage.ilja, "undo", &[]).await;
    assert!(said.contains("North salt: change"), "{said}");
    let said = refused(&stage, stage.ilja, "undo", &[]).await;
    assert!(said.contains("48"), "{said}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_long_week_comes_in_several_messages() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    for number in 1..=9 {
        let name = format!("Long gallery shelf {number} by the window");
        let tank = [text("name", &name), text("volume", "300 L")];
        done(&stage, stage.maren, "enclosure add", &tank).await;
        for water in ["fresh", "salt"] {
            let pool = [
                text("enclosure", &name),
                text("water", water),
                text("volume", "5 L"),
            ];
            done(&stage, stage.maren, "pool add", &pool).await;
        }
    }
    stage.at("2026-03-07 21:00");
    stage.turn().await;
    let act = stage
        .double
        .command(stage.channel, stage.ilja, "week", &[Opt::bool("full", true)]);
    let act = act.expect("a command");
    let first = act.shown().await;
    let mut more: Vec<Message> = Vec::new();
    while !more.iter().any(|page| read(page).contains("Coming")) {
        more = act.follow_ups(more.len() + 1).await;
    }
    let whole: Vec<&Message> = std::iter::once(&first).chain(&more).collect();
    let joined: String = whole.iter().map(|message| read(message)).collect();
    for number in 1..=9 {
        assert!(
            joined.contains(&format!("shelf {number} by the window")),
            "{joined}"
        );
    }
    for message in whole {
        assert!((1..=2_000).contains(&message.content().chars().count()));
        assert_eq!(message.ephemeral, first.ephemeral);
        assert_eq!(
            message.content().matches("```").count() % 2,
            0,
            "{}",
            message.content()
        );
    }
    stage.double.assert_faultless();
}
