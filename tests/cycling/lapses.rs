//! What was proven counts no longer: after a stop, after a test that finds ammonia, after weeks without any.

use super::{PROVING, holds, house, told, verify};

#[tokio::test]
async fn a_stopped_filter_must_prove_itself_again() {
    for (back, lapsed) in [("05 12:00", false), ("06 12:00", false), ("06 13:00", true)] {
        let mut house = house("in use").await;
        told(
            &mut house,
            &[
                "02 12:00 /gear set north salt filter proven",
                "03 12:00 /did change north salt",
                "05 12:00 /gear stop north salt filter",
            ],
        )
        .await;
        let started = told(&mut house, &[&format!("{back} /gear start north salt filter")]).await;
        let why = house.say("/why north salt change").await;
        verify(&house).await;
        if lapsed {
            holds(
                &started,
                &[
                    "The filter stood still for 25 h.",
                    "starting it does not bring the proof back",
                    "What the filter had proven counts no longer since 12:00.",
                ],
            );
            holds(
                &why,
                &[
                    "every 2 days",
                    "What the filter had proven counts no longer since",
                ],
            );
            // The stop put the stricter cadence in force, and the start does not put the turn off.
            holds(
                &why,
                &[
                    "this rule holds only since Thursday 5 March 12:00",
                    "Friday 6 March 08:00",
                ],
            );
            // A keeper's word brings it back, and a change under it.
            told(&mut house, &["06 14:00 /gear set north salt filter proven"]).await;
            told(&mut house, &["06 15:00 /did change north salt"]).await;
            holds(&house.say("/why north salt change").await, &["every 7 days"]);
            holds(
                &house.say("/why north salt change at 2026-03-06 13:30").await,
                &["every 2 days"],
            );
            verify(&house).await;
        } else {
            assert!(!started.contains("proven again"), "{started}");
            holds(&why, &["every 7 days"]);
        }
    }
}

#[tokio::test]
async fn a_test_that_finds_ammonia_undoes_the_proof() {
    let mut house = house("in use").await;
    told(
        &mut house,
        &[
            "02 12:00 /gear set north salt filter proven",
            "03 12:00 /did change north salt",
        ],
    )
    .await;
    holds(&house.say("/why north salt change").await, &["every 7 days"]);
    let text = told(&mut house, &["08 12:00 /read north salt ammonia 0.5 mg/L"]).await;
    holds(
        &text,
        &[
            "the filter's cycle: ammonia up, not proven.",
            "needs pH and temperature",
        ],
    );
    let why = house.say("/why north salt change").await;
    holds(&why, &["every 2 days", "Monday 9 March 08:00"]);
    holds(
        &house.say("/why north salt change at 2026-03-08 11:00").await,
        &["every 7 days"],
    );
    holds(
        &house.say("/why north salt").await,
        &["A test found ammonia or nitrite again, Sunday 8 March 12:00"],
    );
    verify(&house).await;
    house.say("/undo").await;
    holds(&house.say("/why north salt change").await, &["every 7 days"]);
    verify(&house).await;
}

#[tokio::test]
async fn a_cycle_starves_without_ammonia() {
    let mut house = house("cycling").await;
    told(&mut house, &PROVING).await;
    holds(
        &house.say("/why north salt").await,
        &["proven since Monday 30 March 12:00"],
    );
    house.at("2026-04-12 12:00");
    let text = house.say("/why north salt").await;
    holds(
        &text,
        &[
            "the filter's cycle: to be proven again.",
            "No ammonia is known to have gone in since Saturday 28 March 12:00, 15 days",
        ],
    );
    // A pool in use is never without: its crabs feed it.
    house.at("2026-03-30 13:00");
    house.say("/pool set north salt life in use").await;
    house.at("2026-04-20 12:00");
    holds(
        &house.say("/why north salt").await,
        &["proven since Monday 30 March 12:00"],
    );
    verify(&house).await;
}

#[tokio::test]
async fn one_dose_alone_is_said_to_prove_nothing_for_long() {
    let mut house = house("cycling").await;
    let text = told(&mut house, &["01 12:20 /read north salt dosed ammonia 2 mg/L"]).await;
    holds(&text, &["One dose proves nothing after 14 days without another"]);
    house.at("2026-03-16 13:00");
    let text = house.say("/why north salt").await;
    holds(&text, &["the filter's cycle: to be begun anew, never proven."]);
}
