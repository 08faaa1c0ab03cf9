//! A helper's work that waits for an adult's nod.

use super::{BEA, KID, SVEN, done, holds, north, refused};
use wrackline::chat::blocks::{Answer, Block};
use wrackline::chat::plain;
use wrackline::engine;
use wrackline::house::Input;
use wrackline_tests::house::TestHouse;

/// What is answered, with all codes that can be pressed.
async fn told(house: &mut TestHouse, carer: u32, line: &str) -> (Answer, Vec<String>) {
    let answer = house.hear(carer, Input::Line(line.to_owned())).await;
    assert!(answer.ok, "{line}: {}", plain::text(&answer.blocks));
    let codes = codes(&answer.blocks);
    (answer, codes)
}

fn codes(blocks: &[Block]) -> Vec<String> {
    let presses = blocks.iter().flat_map(|block| match block {
        Block::Items { items } => items.iter().flat_map(|item| item.answers.clone()).collect(),
        Block::Answers { answers } => answers.clone(),
        _ => Vec::new(),
    });
    presses.map(|press| press.code).collect()
}

fn nod_of(codes: &[String]) -> String {
    let found: Vec<&String> = codes.iter().filter(|code| code.starts_with("nod.")).collect();
    assert_eq!(found.len(), 1, "{codes:?}");
    found[0].clone()
}

/// When the top-up of North fresh falls due.
async fn due(house: &mut TestHouse) -> String {
    let (answer, _) = told(house, 1, "/why north fresh top-up").await;
    answer.turns[0]["due"].as_str().expect("a time").to_owned()
}

/// A place where a child's top-ups wait, on the morning of 3 March.
async fn marked() -> TestHouse {
    let mut house = north().await;
    let said = house.say("/duty set top-up nod yes").await;
    holds(&said, &["top-up: waits for an adult's nod"]);
    house.say("/did top-up north fresh").await;
    house.at("2026-03-03 08:10");
    house
}

#[tokio::test]
async fn a_helpers_marked_work_counts_from_when_it_was_done_once_an_adult_nods() {
    let mut house = marked().await;
    let before = due(&mut house).await;
    let (answer, codes) = told(&mut house, BEA, "/did top-up north fresh by Kid").await;
    let said = plain::text(&answer.blocks);
    holds(
        &said,
        &["North fresh topped up, 08:10, by Kid.", "Waits for a nod"],
    );
    assert_eq!(due(&mut house).await, before, "it renews nothing yet");
    let nod = nod_of(&codes);
    let (list, listed) = told(&mut house, 1, "/due").await;
    holds(
        &plain::text(&list.blocks),
        &[
            "1 turn waits for a nod:",
            "North fresh: top-up, done 08:10 by Kid",
        ],
    );
    assert_eq!(nod_of(&listed), nod);
    // Only adults nod: a helper is not heard, nor is a sitter after their span.
    assert!(!house.press(KID, &nod, None).await.0);
    house.at("2026-03-03 19:00");
    let (ok, said) = house.press(SVEN, &nod, None).await;
    assert!(ok, "{said}");
    assert!(
        said.starts_with("North fresh topped up, 08:10, by Kid."),
        "{said}"
    );
    holds(&said, &["Sven nodded."]);
    assert!(!said.contains("Waits"), "{said}");
    let after = due(&mut house).await;
    assert_ne!(after, before);
    let (ok, said) = house.press(1, &nod, None).await;
    assert!(!ok && said.contains("Sven nodded at it already"), "{said}");
    let (list, _) = told(&mut house, 1, "/due").await;
    assert!(!plain::text(&list.blocks).contains("waits for a nod"));
    // It counts as done in the week, by the child.
    let week = house.say("/week").await;
    assert!(week.contains("Kid"), "{week}");
    // The nod is taken back alone, by the one who nodded.
    done(&mut house, SVEN, "/undo").await;
    assert_eq!(due(&mut house).await, before);
    let (ok, _) = house.press(1, &nod, None).await;
    assert!(ok);
    assert_eq!(due(&mut house).await, after);
}

#[tokio::test]
async fn what_was_done_is_taken_back_with_its_nod() {
    let mut house = marked().await;
    let before = due(&mut house).await;
    let (_, codes) = told(&mut house, 1, "/did top-up north fresh by Kid").await;
    let nod = nod_of(&codes);
    let work = codes
        .iter()
        .find(|code| code.starts_with("undo."))
        .expect("a press")
        .clone();
    assert!(house.press(1, &nod, None).await.0);
    let (ok, said) = house.press(1, &work, None).await;
    assert!(ok && said.contains("a nod"), "{said}");
    assert_eq!(due(&mut house).await, before);
    let (ok, _) = house.press(1, &nod, None).await;
    assert!(!ok, "what was taken back waits for nothing");
}

#[tokio::test]
async fn logged_again_it_waits_once() {
    let mut house = marked().await;
    house.say("/did top-up north fresh by Kid").await;
    let said = refused(&mut house, BEA, "/did top-up north fresh by Kid").await;
    holds(
        &said,
        &["North fresh: top-up waits for a nod already, done 08:10 by Kid. Not logged again."],
    );
    done(&mut house, BEA, "/did top-up north fresh by Kid again").await;
    // Done over by an adult, nothing waits any more.
    house.at("2026-03-03 12:00");
    house.say("/did top-up north fresh").await;
    let (list, _) = told(&mut house, 1, "/due all").await;
    assert!(!plain::text(&list.blocks).contains("wait"));
}

#[tokio::test]
async fn a_nod_is_typed_and_so_is_that_it_was_not_done() {
    let mut house = marked().await;
    assert_eq!(house.say("/nod").await, "Nothing waits for a nod.");
    let none = refused(&mut house, BEA, "/nod top-up north fresh").await;
    holds(&none, &["No top-up of that waits for a nod"]);
    let before = due(&mut house).await;
    // Where nothing can be pressed, what waits says what is typed.
    let said = done(&mut house, BEA, "/did top-up north fresh by Kid").await;
    holds(&said, &["Nod: /nod top up North fresh"]);
    for line in ["/due", "/nod"] {
        holds(
            &house.say(line).await,
            &[
                "1 turn waits for a nod:",
                "Nod: /nod top up North fresh\n  Not done: /nod no top up North fresh",
            ],
        );
    }
    assert!(!house.say_as(KID, "/nod top up North fresh").await.0);
    let said = done(&mut house, SVEN, "/nod top up North fresh").await;
    holds(&said, &["North fresh topped up, 08:10, by Kid.", "Sven nodded."]);
    let after = due(&mut house).await;
    assert_ne!(after, before);
    holds(
        &refused(&mut house, 1, "/nod top-up north fresh").await,
        &["No top-up of that waits"],
    );
    done(&mut house, SVEN, "/undo").await;
    let said = done(&mut house, BEA, "/nod no top-up north fresh").await;
    holds(
        &said,
        &[
            "Not done, says Bea: North fresh: top-up, done 08:10 by Kid.",
            "the turn stays open",
        ],
    );
    assert_eq!(due(&mut house).await, before);
    assert_eq!(house.say("/nod").await, "Nothing waits for a nod.");
    holds(
        &refused(&mut house, 1, "/nod no top-up north fresh").await,
        &["No top-up of that waits"],
    );
    // It may be logged anew, with what went in, and pressed away whole.
    let (_, logged) = told(&mut house, 1, "/did top-up north fresh 1 L by Kid").await;
    let nod = nod_of(&logged);
    let (_, listed) = told(&mut house, 1, "/nod").await;
    let no = listed
        .iter()
        .find(|code| code.starts_with("notdone."))
        .expect("a press");
    assert!(house.press(BEA, no, None).await.0);
    let (ok, said) = house.press(1, &nod, None).await;
    assert!(!ok, "{said}");
    let held = house.app.house.shelf.open(house.place).await.expect("the book");
    let last = held.book().last_seq();
    let void: Vec<bool> = (last - 3..=last).map(|seq| held.book().is_void(seq)).collect();
    assert_eq!(void, [true, true, false, false], "the work and its litres");
}

#[tokio::test]
async fn what_is_not_marked_and_what_adults_do_counts_at_once() {
    let mut house = marked().await;
    let (answer, codes) = told(&mut house, 1, "/did top-up north fresh by Bea").await;
    assert!(!plain::text(&answer.blocks).contains("nod"));
    assert!(codes.iter().all(|code| !code.starts_with("nod.")));
    let said = house.say("/did change north fresh by Kid").await;
    assert!(!said.contains("nod"), "{said}");
    holds(
        &house.say("/duty list").await,
        &["nod when a helper did it: top-up"],
    );
    assert!(
        refused(&mut house, 1, "/duty set top-up nod yes")
            .await
            .contains("already")
    );
    assert!(
        refused(&mut house, BEA, "/duty set top-up nod no")
            .await
            .contains("Only a keeper")
    );
    house.say("/duty set top-up nod no").await;
    assert!(
        refused(&mut house, 1, "/duty set top-up nod no")
            .await
            .contains("waits for no nod")
    );
    house.at("2026-03-04 08:10");
    let said = house.say("/did top-up north fresh by Kid").await;
    assert!(!said.contains("nod"), "{said}");
    // A duty of the place's own can be marked as well.
    house.say("/duty add Feed crabs north every 1 day").await;
    house.say("/duty set feed nod yes").await;
    let said = house.say("/did feed crabs by Kid").await;
    holds(&said, &["Waits for a nod"]);
    let (ok, _) = house.press(1, "nod.1", None).await;
    assert!(!ok, "only a helper's work is nodded at");
}

#[tokio::test]
async fn a_round_call_shows_what_waits_and_all_done_nods() {
    use wrackline::outbox::Dispatcher;
    let mut house = marked().await;
    let settle = async |house: &TestHouse| {
        let porch = std::sync::Arc::new(house.app.porch.as_ref().clone());
        let mut dispatcher = Dispatcher::new(house.app.house.clone(), porch, "test".to_owned());
        loop {
            let dealt = engine::step(&house.app.house).await.expect("the engine's step");
            if dealt + dispatcher.step().await.expect("the dispatcher's step") == 0 {
                break;
            }
        }
    };
    house.say("/duty set still nod yes").await;
    house.at("2026-03-10 08:00");
    settle(&house).await;
    let posts = async |house: &TestHouse| -> Vec<Vec<Block>> {
        let rows = house
            .store
            .porch_after(house.place, 0, 1000)
            .await
            .expect("the porch");
        let bodies = rows
            .iter()
            .map(|row| serde_json::from_str::<serde_json::Value>(&row.body).expect("a body"));
        bodies
            .filter(|body| body["kind"] == "post")
            .map(|mut body| serde_json::from_value(body["blocks"].take()).expect("blocks"))
            .collect()
    };
    house.at("2026-03-10 08:05");
    let (_, logged) = told(&mut house, 1, "/did change north fresh by Kid").await;
    let nod = nod_of(&logged);
    settle(&house).await;
    let call = posts(&house).await.pop().expect("the call");
    holds(&plain::text(&call), &["done 08:05 by Kid, waits for a nod"]);
    assert_eq!(nod_of(&codes(&call)), nod);
    let all = codes(&call)
        .into_iter()
        .find(|code| code.starts_with("all."))
        .expect("all done");
    let (ok, said) = house.press(BEA, &all, None).await;
    assert!(ok, "{said}");
    holds(&said, &["North fresh changed, 08:05, by Kid"]);
    let (list, _) = told(&mut house, 1, "/due").await;
    assert!(!plain::text(&list.blocks).contains("waits for a nod"));
}

#[tokio::test]
async fn that_it_was_not_done_is_not_taken_back_nor_is_what_was_said_before_it() {
    let mut house = marked().await;
    done(&mut house, SVEN, "/did top-up north salt").await;
    house.at("2026-03-03 08:15");
    done(&mut house, BEA, "/did top-up north fresh by Kid").await;
    house.at("2026-03-03 08:20");
    done(&mut house, SVEN, "/nod no top-up north fresh").await;
    let said = refused(&mut house, SVEN, "/undo").await;
    holds(&said, &["North fresh: top-up", "log it anew"]);
    // What was said after it is taken back as ever.
    house.at("2026-03-03 08:30");
    done(&mut house, SVEN, "/did top-up north fresh").await;
    let said = done(&mut house, SVEN, "/undo").await;
    holds(&said, &["Taken back: North fresh: top-up"]);
    refused(&mut house, SVEN, "/undo").await;
}
