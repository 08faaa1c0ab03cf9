//! Whose turn, when: the list, absences, offers, what is taken over, and what follows when somebody cannot.

mod alone;
mod away;
mod before;
mod cannot;
mod demo;
mod list;
mod offers;
mod sizes;
mod taken;
mod told;

use wrackline_core::care::{Duty, board};
use wrackline_core::place::{CarerId, PoolId, Target};
use wrackline_core::rota::{self, HORIZON_DAYS, Slot, Turn};
use wrackline_tests::house::TestHouse;

use super::talk::{Posted, north, posted_at, settle};

/// North's salt pool.
const NORTH_SALT: Target = Target::Pool(PoolId(2));

/// A place whose turns were shared out on the morning of Monday, 2 March.
async fn shared() -> TestHouse {
    let house = north().await;
    posted_at(&house, "2026-03-02 08:00").await;
    house
}

/// The coming turns as they stand.
async fn plan(house: &TestHouse) -> Vec<Turn> {
    let held = house.app.house.shelf.open(house.place).await.expect("a book");
    let now = house.app.house.clock.now();
    let place = held.book().place_at(now);
    let board = board(held.book(), &place, now);
    rota::share_out(held.book(), &place, &board, now, HORIZON_DAYS).turns
}

/// A turn's slot and its owner.
async fn owners(house: &TestHouse) -> Vec<(Slot, Option<CarerId>)> {
    let all = plan(house).await;
    all.iter().map(|turn| (turn.expected.slot, turn.carer)).collect()
}

/// The first coming change of North's salt pool that somebody other than these has.
fn change_of<'a>(plan: &'a [Turn], not: &[u32]) -> &'a Turn {
    let is_it = |turn: &&Turn| {
        let slot = &turn.expected.slot;
        let owner = turn.carer.map(|carer| carer.0);
        (slot.duty, slot.target) == (Duty::Change, NORTH_SALT)
            && owner.is_some_and(|owner| !not.contains(&owner))
    };
    plan.iter().find(is_it).expect("such a change")
}

/// A turn as it is said.
fn said(turn: &Turn) -> String {
    let round = ["morning", "evening"][turn.expected.when.round.0 as usize - 1];
    format!("change north salt {} {round}", turn.expected.when.date)
}

/// The posts with these words in them.
fn with<'a>(posts: &'a [Posted], words: &str) -> Vec<&'a Posted> {
    posts.iter().filter(|post| post.text().contains(words)).collect()
}

/// Lets the house work now, and gives what was posted by it.
async fn posted(house: &TestHouse) -> Vec<Posted> {
    let before = super::talk::posts(house).await.len();
    settle(house).await;
    super::talk::posts(house).await.split_off(before)
}

/// A carer's name in these places.
fn name(carer: u32) -> &'static str {
    ["", "Ada", "Bea", "Cleo", "Dot"][carer as usize]
}
