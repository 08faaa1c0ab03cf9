//! What cannot be rehearsed is said in one sentence.

use super::month;

#[tokio::test]
async fn one_sentence_each() {
    let mut house = month().await;
    house.say("/pool add north fresh 6 L").await;
    house.say("/gear add north fresh air").await;
    for (line, expected) in [
        (
            "/rehearse north fresh with air from 2026-03-10",
            "North fresh was set up on Monday 30 March 12:00, so it was not there on Tuesday 10 March; say a later day behind “from”.",
        ),
        (
            "/rehearse north salt without air",
            "North salt was kept without air all that time; say “with air” for the other way.",
        ),
        (
            "/rehearse north salt with air from 2026-04-10",
            "Friday 10 April is still to come; a rehearsal replays days that have been.",
        ),
        (
            "/rehearse north salt with air from 2026-03-20 to 2026-03-10",
            "The span ends with Tuesday 10 March, before it begins on Friday 20 March 00:00; say the earlier day behind “from”.",
        ),
        (
            "/rehearse north salt with air from 2026-03-20 to 2026-04-10",
            "Friday 10 April is not over yet; leave “to” out for up to now.",
        ),
        (
            "/rehearse north salt with air from 2026-03-25",
            "A rehearsal takes 7 days at least, and this span has 5; say an earlier day behind “from”.",
        ),
        (
            "/rehearse north salt with air without air",
            "A pool is rehearsed with air or without it, not both.",
        ),
        (
            "/rehearse north salt volume 8 L",
            "North salt holds just that already; say another volume.",
        ),
        (
            "/rehearse north salt every 2 days",
            "These are the numbers of the change of a still pool already; say others.",
        ),
        ("/rehearse with air", "The pool or enclosure is missing;"),
        (
            "/rehearse north salt with air proven",
            "Only a filter has a cycle to prove; say with filter proven.",
        ),
        (
            "/rehearse every 3 days",
            "Whose interval is it? Name a pool for that of its changes, or a rule, such as rule top-up every 2 days.",
        ),
    ] {
        let told = house.refused(line).await;
        assert!(told.starts_with(expected), "{line}: {told}");
    }
    // An interval beyond the hazard limit is as wrong here as where it is set.
    let told = house.refused("/rehearse north salt every 9 days").await;
    assert!(told.contains("4 days"), "{told}");
    house.at("2026-04-20 12:00");
    let told = house.refused("/rehearse north fresh with air").await;
    assert_eq!(
        told.trim(),
        "North fresh has been kept with air since Monday 30 March already; say “without air” for the other way."
    );
}
