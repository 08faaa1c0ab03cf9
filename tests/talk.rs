//! Conversations: what people say and press, what they are told, and what is posted.

mod alarms;
mod asleep;
mod calls;
mod logging;
mod matters;
mod parts;
mod people;
mod presses;
mod settled;
mod unchanged;
mod weeks;

use wrackline::chat::blocks::{Answer, Block};
use wrackline::chat::plain;
use wrackline::engine;
use wrackline::house::Input;
use wrackline::outbox::Dispatcher;
use wrackline_tests::house::TestHouse;

/// The carers of [`north`] beside Ada, the keeper, who is 1: two regulars and a helper.
pub(super) const BEA: u32 = 2;
pub(super) const CLEO: u32 = 3;
pub(super) const DOT: u32 = 4;

/// A place with two enclosures of two pools each, two rounds a day and quiet hours, kept since 1 March at noon.
pub(super) async fn north() -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        "/place set quiet 22:00 to 07:00",
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Bea regular",
        "/carer add Cleo regular",
        "/carer add Dot helper",
        "/enclosure add North 400 L",
        "/enclosure add South 300 L",
        "/pool add north fresh 8 L",
        "/pool add north salt 8 L",
        "/pool add south fresh 8 L",
        "/pool add south salt 8 L",
    ] {
        house.say(line).await;
    }
    house
}

/// What a carer is answered, as blocks.
pub(super) async fn answer(house: &mut TestHouse, carer: u32, line: &str) -> Answer {
    house.hear(carer, Input::Line(line.to_owned())).await
}

/// The codes of all that can be pressed in blocks, in order.
pub(super) fn codes(blocks: &[Block]) -> Vec<String> {
    let mut all = Vec::new();
    for block in blocks {
        match block {
            Block::Items { items } => {
                all.extend(
                    items
                        .iter()
                        .flat_map(|item| &item.answers)
                        .map(|press| press.code.clone()),
                );
            }
            Block::Answers { answers } => all.extend(answers.iter().map(|press| press.code.clone())),
            _ => {}
        }
    }
    all
}

/// The one code that starts and ends so.
#[track_caller]
pub(super) fn code(blocks: &[Block], start: &str, part: &str) -> String {
    let all = codes(blocks);
    let found: Vec<&String> = all
        .iter()
        .filter(|code| code.starts_with(start) && code.contains(part))
        .collect();
    assert_eq!(found.len(), 1, "{start}…{part} among {all:?}");
    found[0].clone()
}

/// One post as the porch shows it now.
#[derive(Debug)]
pub(super) struct Posted {
    /// When it appeared.
    at_ms: i64,
    /// What it shows.
    pub(super) blocks: Vec<Block>,
}

impl Posted {
    pub(super) fn text(&self) -> String {
        plain::text(&self.blocks)
    }

    pub(super) fn title(&self) -> String {
        self.text().lines().next().unwrap_or("").to_owned()
    }
}

/// Lets the house do all that its moment calls for.
pub(super) async fn settle(house: &TestHouse) {
    let porch = std::sync::Arc::new(house.app.porch.as_ref().clone());
    let mut dispatcher = Dispatcher::new(house.app.house.clone(), porch, "test".to_owned());
    settle_by(house, &mut dispatcher).await;
}

/// The same, by a dispatcher of any chat.
pub(super) async fn settle_by(house: &TestHouse, dispatcher: &mut Dispatcher) {
    loop {
        let dealt = engine::step(&house.app.house).await.expect("the engine's step");
        if dealt + dispatcher.step().await.expect("the dispatcher's step") == 0 {
            break;
        }
    }
}

/// The posts on the porch, in order.
pub(super) async fn posts(house: &TestHouse) -> Vec<Posted> {
    let mut rows = house
        .store
        .porch_after(house.place, 0, 1000)
        .await
        .expect("the porch");
    rows.sort_by_key(|row| row.id);
    let bodies = rows
        .iter()
        .map(|row| (row.at_ms, serde_json::from_str(&row.body).expect("a body")));
    bodies
        .filter(|(_, body): &(i64, serde_json::Value)| body["kind"] == "post")
        .map(|(at_ms, body)| Posted {
            at_ms,
            blocks: serde_json::from_value(body["blocks"].clone()).expect("blocks"),
        })
        .collect()
}

/// Puts the clock on, lets the house work, and gives what was posted meanwhile.
pub(super) async fn posted_at(house: &TestHouse, local: &str) -> Vec<Posted> {
    let before = posts(house).await.len();
    house.at(local);
    settle(house).await;
    posts(house).await.split_off(before)
}

/// A part of the one turn that `/why` tells of.
async fn turn(house: &mut TestHouse, line: &str, part: &str) -> String {
    let told = answer(house, 1, line).await;
    assert_eq!(told.turns.len(), 1, "{line}: {told:?}");
    told.turns[0][part].as_str().unwrap_or("").to_owned()
}

/// Holds that the stored marks are what the journal says.
pub(super) async fn verify(house: &TestHouse) {
    let found = wrackline::commands::verify::differences(&house.store, house.place)
        .await
        .expect("the store");
    assert_eq!(found, Vec::<String>::new());
    assert!(
        !house
            .store
            .standings(house.place)
            .await
            .expect("marks")
            .is_empty()
    );
}

/// How many entries the journal has.
pub(super) async fn entries(house: &TestHouse) -> i64 {
    house
        .store
        .head(house.place)
        .await
        .expect("the store")
        .expect("a place")
        .last_seq
}
