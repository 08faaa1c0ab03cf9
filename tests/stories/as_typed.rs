//! Names and notes are read as they were typed, wherever they stand.

use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

use super::{read, refused};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_note_stands_on_the_alarm_letter_for_letter() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let notes = [
        "@everyone and @here".to_owned(),
        format!(
            "<@{}> <@!{}> <@&5> <#{}> </did:1> <t:0>",
            stage.ilja, stage.ilja, stage.channel
        ),
        "**bold** _it_ ~~gone~~ ||hidden|| `code`".to_owned(),
        "```rust and no end".to_owned(),
        "[a name](https://example.org/x) and https://example.org".to_owned(),
        "back\\slash \\* and \\@everyone".to_owned(),
        format!("{}!", "long _words_ ".repeat(115)),
    ];
    for note in &notes {
        let options = [
            Opt::text("sighting", "wet substrate"),
            Opt::text("spot", "north"),
            Opt::text("note", note),
        ];
        let answer = stage.say(stage.ilja, "saw", &options).await;
        assert!(answer.calls_nobody(), "{note}");
        stage.turn().await;
        let alarm = stage.posts().pop().expect("an alarm");
        assert!(read(&alarm).contains(note.as_str()), "{note}\n{}", read(&alarm));
        let called = &alarm.history[0].notified;
        assert_eq!(called.users, [stage.maren].into(), "{note}");
        assert!(!called.everyone && called.roles.is_empty(), "{note}");
        for mark in ["**bold", "||hid", "```", "[a name]", "<@!", " <@&", "https://"] {
            let bare = alarm.text().replace(&format!("\\{mark}"), "");
            assert!(!bare.contains(mark), "{mark} is markup: {}", alarm.text());
        }
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn names_cannot_be_markup_and_the_refusal_shows_what_was_wrong() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for name in ["@everyone", "**North**", "```", "<@5>", "a | b"] {
        let options = [Opt::text("name", name), Opt::text("volume", "300 L")];
        let said = refused(&stage, stage.maren, "enclosure add", &options).await;
        assert!(
            said.contains("cannot hold") && said.contains("Nothing was saved"),
            "{name}: {said}"
        );
    }
    let options = [
        Opt::text("name", "_Reef_ ~1~ [x](y)"),
        Opt::text("volume", "300 L"),
    ];
    let answer = stage.say(stage.maren, "enclosure add", &options).await;
    assert!(read(&answer).contains("_Reef_ ~1~ [x](y)"), "{}", read(&answer));
    assert!(
        answer.text().contains(r"\_Reef\_ \~1\~ \[x\](y)"),
        "{}",
        answer.text()
    );
    stage.double.assert_faultless();
}
