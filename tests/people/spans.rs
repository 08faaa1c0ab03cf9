//! A sitter's access ends by itself, and a keeper brings them back.

use super::{BEA, SVEN, done, holds, north, refused};
use wrackline::engine;
use wrackline_tests::binary::Shell;

/// Another sitter, who comes after Sven.
const TOM: u32 = 5;

const ENDED: &str = "Your span ended on Sunday 8 March: ask Ada for another one.";

#[tokio::test]
async fn a_span_ends_with_its_last_day_for_lines_and_presses() {
    let mut house = north().await;
    // Before it they look, and what they do is logged: whoever is shown round the day before does a turn with the keeper's
    // own hands beside them. It did happen, so the marks have to know of it, and the keeper who reads the journal sees by
    // whom. The span says whom turns are given to and when the access ends, not whose work counts. The last day counts whole.
    house.at("2026-03-01 18:00");
    for line in [
        "/due",
        "/turns",
        "/how change north salt",
        "/did top-up north fresh",
    ] {
        done(&mut house, SVEN, line).await;
    }
    house.at("2026-03-08 23:59");
    done(&mut house, SVEN, "/did change north salt").await;
    house.at("2026-03-09 00:00");
    for line in [
        "/due",
        "/did change north fresh",
        "/carer set Sven zone UTC",
        "/help",
        "/emergency",
    ] {
        assert_eq!(refused(&mut house, SVEN, line).await, ENDED, "{line}");
    }
    let (ok, said) = house.press(SVEN, "did.change.p1.0", None).await;
    assert_eq!((ok, said.as_str()), (false, ENDED));
    let offered = house.app.house.complete(house.place, SVEN, "/did change ").await;
    assert!(offered.is_empty(), "{offered:?}");
    assert!(house.app.house.me(house.place, SVEN).await.is_none());
}

#[tokio::test]
async fn what_an_ended_sitter_did_within_their_span_is_logged_for_them() {
    let mut house = north().await;
    house
        .say("/carer add Tom sitter from 2026-03-09 to 2026-03-20")
        .await;
    house.at("2026-03-09 09:00");
    let said = done(
        &mut house,
        BEA,
        "/did change north salt by Sven at 2026-03-08 08:10",
    )
    .await;
    holds(&said, &["North salt changed", "by Sven"]);
    let said = house.say("/read north 82% 26C by sven at 2026-03-07 19:30").await;
    holds(&said, &["82 %"]);
    let entries = || house.app.house.shelf.open(house.place);
    let held = entries().await.expect("the book");
    let theirs = held.book().entries().filter(|entry| entry.by.0 == SVEN);
    assert_eq!(theirs.count(), 3, "a change and two readings");
    drop(held);
    // Outside of it nothing was theirs to do, and another sitter logs nothing for them.
    for line in [
        "/did change north fresh by Sven",
        "/did change north fresh by Sven at 2026-03-09 00:10",
        "/did change north fresh by Sven at 2026-03-01 20:00",
        "/read north 80% by Sven",
    ] {
        let said = refused(&mut house, 1, line).await;
        holds(
            &said,
            &[
                "Sven shared the work from Monday 2 March to Sunday 8 March; say when within those days it was, such as \
                 at 2026-03-08 18:00.",
            ],
        );
        assert_eq!(said.lines().count(), 1, "{said}");
    }
    let line = "/did change north fresh by Sven at 2026-03-08 18:00";
    holds(
        &refused(&mut house, TOM, line).await,
        &["Sven shares the work no longer", "a keeper or a regular"],
    );
    done(&mut house, 1, line).await;
    assert_eq!(refused(&mut house, SVEN, line).await, ENDED);
}

#[tokio::test]
async fn before_and_after_their_span_a_sitter_gets_no_turn() {
    let mut house = north().await;
    house.say("/carer retire Bea").await;
    house.say("/carer set Sven from 2026-03-03 to 2026-03-05").await;
    house.at("2026-03-01 19:30");
    engine::step(&house.app.house).await.expect("the engine's step");
    let turns = house.say("/turns Sven").await;
    let theirs: Vec<&str> = turns
        .lines()
        .skip(1)
        .filter(|line| line.contains(" March"))
        .collect();
    assert!(!theirs.is_empty() && turns.starts_with("Sven: "), "{turns}");
    let days = ["Tuesday 3 March", "Wednesday 4 March", "Thursday 5 March"];
    for line in theirs {
        assert!(days.iter().any(|day| line.contains(day)), "{turns}");
    }
}

#[tokio::test]
async fn a_new_span_brings_an_ended_sitter_back() {
    let mut house = north().await;
    house.at("2026-03-20 12:00");
    assert!(refused(&mut house, SVEN, "/due").await.contains("Sunday 8 March"));
    let list = house.say("/carer list").await;
    holds(&list, &["3 carers", "Sven was sitter until Sunday 8 March"]);
    // The name stays theirs, and nothing else of them can be set meanwhile.
    let taken = refused(&mut house, 1, "/carer add sven").await;
    holds(&taken, &["Sven is there already"]);
    let role = refused(&mut house, 1, "/carer set Sven role regular").await;
    holds(&role, &["The span of Sven ended on Sunday 8 March", "always"]);
    house.say("/carer set Sven until Sunday").await;
    let me = house
        .app
        .house
        .me(house.place, SVEN)
        .await
        .expect("they are back");
    assert_eq!(me.name, "Sven");
    done(&mut house, SVEN, "/due").await;
    house.at("2026-03-23 00:30");
    assert!(
        refused(&mut house, SVEN, "/due")
            .await
            .contains("Sunday 22 March")
    );
    let said = house.say("/carer set Sven always role regular").await;
    holds(
        &said,
        &["Sven is regular now", "Sven shares the work without an end."],
    );
    house.at("2026-06-01 12:00");
    done(&mut house, SVEN, "/due").await;
}

#[tokio::test]
async fn whoever_is_a_sitter_no_more_has_no_span() {
    let mut house = north().await;
    let said = house.say("/carer set Sven role keeper").await;
    holds(&said, &["Sven is keeper now", "without an end"]);
    house.at("2026-05-01 12:00");
    done(&mut house, SVEN, "/rounds add noon 12:00").await;
}

#[tokio::test]
async fn what_is_no_span_is_refused() {
    let mut house = north().await;
    for (line, part) in [
        (
            "/carer set Ada from 2026-03-05 to 2026-03-09",
            "A keeper has no span",
        ),
        (
            "/carer set Sven role keeper until 2026-03-09",
            "A keeper has no span",
        ),
        ("/carer set Bea until 2026-03-09", "Only a sitter has a span"),
        (
            "/carer add Tom helper until 2026-03-09",
            "Only a sitter has a span",
        ),
        ("/carer add Tom keeper until 2026-03-09", "A keeper has no span"),
        (
            "/carer add Tom sitter from 2026-03-09 to 2026-03-05",
            "cannot end before it starts: Monday 9 March to Thursday 5 March",
        ),
        (
            "/carer set Sven from 2026-02-01 to 2026-02-10",
            "Tuesday 10 February is over already",
        ),
        ("/carer add Tom sitter from 2026-03-09", "needs its last day"),
        ("/carer set Sven from Norway", "Norway"),
        ("/carer set Sven always until 2026-03-09", "say one of the two"),
    ] {
        let said = refused(&mut house, 1, line).await;
        assert!(said.contains(part), "{line}: {said}");
    }
    let others = refused(&mut house, BEA, "/carer set Sven until 2026-04-01").await;
    holds(&others, &["keeper's to set", "Ada"]);
}

#[tokio::test]
async fn from_the_shell_an_ended_sitter_is_refused_with_exit_one() {
    let shell = Shell::new();
    shell
        .run(&["init", "--zone", "Europe/London", "--keeper", "Ada", "--practice"])
        .done();
    shell
        .say_as(
            "Ada",
            "2026-03-01T12:00",
            "/carer add Sven sitter from 2026-03-02 to 2026-03-08",
        )
        .done();
    shell.say_as("Sven", "2026-03-08T23:00", "/due").done();
    let said = shell.say_as("Sven", "2026-03-09T08:00", "/due").failed(1);
    holds(&said, &["Your span ended on Sunday 8 March: ask Ada"]);
    // The machine's own clock is far behind that day.
    let link = shell.run(&["link", "--as", "Sven"]).failed(1);
    holds(
        &link,
        &["The span of Sven ended on 2026-03-08", "/carer set Sven from"],
    );
}
