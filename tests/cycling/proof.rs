//! From the first dose to the proof, and what the proof does.

use super::{PROVING, holds, house, told, verify};

#[tokio::test]
async fn zeros_without_input_prove_nothing() {
    let mut house = house("cycling").await;
    let zeros = "/read north salt ammonia 0 mg/L nitrite 0 mg/L nitrate 0 mg/L";
    let receipt = house.say(zeros).await;
    holds(
        &receipt,
        &[
            "North salt, the filter's cycle: not started.",
            "ammonia that is known to go in",
            "Expected: 21 to 42 days more, counted from when ammonia goes in.",
        ],
    );
    house.at("2026-03-03 12:00");
    house.say(zeros).await;
    holds(
        &house.say("/why north salt").await,
        &[
            "0/0/0 without input proves nothing",
            "North salt is cycling: closed to the crabs until the filter's cycle is proven",
            "/read north salt dosed ammonia 2 mg/L",
            "common practice, no published source",
        ],
    );
    holds(
        &house.say("/due").await,
        &["North salt is cycling: closed to the crabs"],
    );
    holds(
        &house.say("/how test north salt").await,
        &["closed to the crabs", "/read north salt tap nitrate 5 mg/L"],
    );
}

#[tokio::test]
async fn tests_prove_a_cycle_step_by_step() {
    let mut house = house("cycling").await;
    told(&mut house, &PROVING[..1]).await;
    for (until, parts) in [
        (
            2,
            [
                "ammonia up",
                "Missing for its proof: a test of ammonia, a test of nitrite",
            ],
        ),
        (3, ["ammonia up", "Expected: 17 to 39 days more."]),
        (4, ["nitrite up", "a test with ammonia and nitrite at 0"]),
        (6, ["nitrate up", "a second test at 0, in 24 h or later"]),
    ] {
        let text = told(&mut house, &PROVING[until - 1..until]).await;
        holds(&text, &parts);
        if until == 4 {
            told(&mut house, &PROVING[4..5]).await;
        }
    }
    let text = told(&mut house, &PROVING[6..]).await;
    holds(
        &text,
        &["the filter's cycle: proven since Monday 30 March 12:00."],
    );
    holds(
        &house.say("/due").await,
        &["a keeper opens it with /pool set north salt life in use"],
    );
    let text = told(&mut house, &["30 12:30 /pool set north salt life in use"]).await;
    holds(&text, &["Part change: 4 L of 8 L every 7 days."]);
    holds(
        &house.say("/why north salt change").await,
        &[
            "every 7 days",
            "Filtered, cycle proven, since Monday 30 March 12:00.",
        ],
    );
    holds(
        &house.say("/why north salt").await,
        &["Two tests prove it: Sunday 29 March 12:00 and Monday 30 March 12:00."],
    );
    // What was so before stays so.
    let before = house.say("/why north salt test at 2026-03-29 20:00").await;
    holds(
        &before,
        &["The filter has been cycling since", "nitrate up, not proven"],
    );
    verify(&house).await;
}

#[tokio::test]
async fn a_pool_in_use_is_fed_by_its_crabs_and_needs_its_tap_water_told() {
    let mut house = house("in use").await;
    let zero = "/read north salt ammonia 0 mg/L nitrite 0 mg/L nitrate 20 mg/L";
    told(&mut house, &[&format!("03 12:00 {zero}")]).await;
    let text = told(&mut house, &[&format!("05 12:00 {zero}")]).await;
    holds(&text, &["Missing for its proof: nitrate of the tap water"]);
    holds(
        &house.say("/why north salt change").await,
        &["every 2 days", "its cycle is not proven, so it does not count"],
    );
    let text = told(&mut house, &["05 12:10 /read north salt tap nitrate 5 mg/L"]).await;
    holds(
        &text,
        &[
            "North salt, tap water: nitrate 5 mg/L, 12:10.",
            "the filter's cycle: proven since Thursday 5 March 12:00.",
        ],
    );
    // Until the first change under the proven filter the stricter cadence holds.
    holds(&house.say("/why north salt change").await, &["every 2 days"]);
    told(&mut house, &["05 12:20 /did change north salt"]).await;
    holds(&house.say("/why north salt change").await, &["every 7 days"]);
    verify(&house).await;
    // Taken back, the proof is gone, and the cadence with it.
    let taken = house.say("/undo").await;
    holds(&taken, &["North salt: change"]);
    let taken = house.say("/undo").await;
    holds(&taken, &["North salt, tap water: nitrate 5 mg/L"]);
    holds(&house.say("/why north salt change").await, &["every 2 days"]);
    verify(&house).await;
}

#[tokio::test]
async fn what_tells_nothing_of_a_filter_is_refused() {
    let mut house = house("cycling").await;
    for (line, why) in [
        ("/read north salt dosed nitrate 2 mg/L", "Dosed goes with ammonia"),
        ("/read north salt dosed ammonia 0 mg/L", "ammonia over 0"),
        (
            "/read north salt tap ammonia 1 mg/L",
            "Of tap water nitrate alone",
        ),
        ("/read north salt tap", "The reading with its unit is missing"),
    ] {
        let text = house.refused(line).await;
        holds(&text, &[why]);
    }
    house.say("/pool add north fresh 8 L").await;
    let text = house.refused("/read north dosed ammonia 2 mg/L").await;
    holds(&text, &["Put into which pool?", "Nothing was saved."]);
}
