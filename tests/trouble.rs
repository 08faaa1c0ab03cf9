//! What goes wrong between the house and the platform, and what becomes of it: nothing is lost, nothing is doubled,
//! and who can put it right is told.

mod channels;
mod connection;
mod posting;

use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::stage::Stage;

/// A house that is set up, and somebody who saw wet substrate: one alarm waits to be posted.
async fn alarmed() -> Stage {
    let stage = Stage::new().await;
    stage.set_up().await;
    saw(&stage).await;
    stage
}

async fn saw(stage: &Stage) -> Message {
    let options = [Opt::text("sighting", "wet substrate"), Opt::text("spot", "north")];
    stage.say(stage.ilja, "saw", &options).await
}

/// Lets time pass and posts be carried, so many times a minute further.
async fn minutes_pass(stage: &mut Stage, minutes: i64) {
    use wrackline::clock::Clock;
    for _ in 0..minutes {
        let now = stage.clock.now();
        stage.clock.put(now + jiff::SignedDuration::from_mins(1));
        stage.turn().await;
    }
}
