//! What `/rehearse` tells.

use super::month;

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

#[tokio::test]
async fn air_is_rehearsed() {
    let mut house = month().await;
    let told = house.say("/rehearse north salt with air from 2026-03-02").await;
    let first = told.lines().next().unwrap_or_default();
    // 2, 9, 16, 23 and 30 March instead of every second day.
    assert!(
        first.starts_with(
            "With air, North salt would have wanted 5 changes instead of 15 in 28 days: 40 L of water instead of 120 L, "
        ),
        "{first}"
    );
    holds(
        &told,
        &[
            "No turn came to a hazard as it was: the set-up as it is works too, and nothing need be bought.",
            "as it was",
            "as it would have been",
            "Minutes a week, Ada",
            "Minutes a week, Maren",
            "Salt a week",
            "Conditioner a week",
            "Least left before a hazard, change",
            "North salt in a power cut, as it was: nothing runs that could stop.",
            "North salt in a power cut, as it would have been: its water stands still from then on. At the worst time,",
            "the time left before the hazard of its change was none at all.",
            "common practice with no published source",
            "Nothing was written.",
        ],
    );
}

#[tokio::test]
async fn with_nothing_changed_all_marks_come_out_again() {
    let mut house = month().await;
    let told = house.say("/rehearse from 2026-03-03").await;
    holds(
        &told,
        &[
            "The place in 27 days: 14 changes, 112 L of water, ",
            "are those of the journal.",
        ],
    );
    assert!(!told.contains("would have been"), "{told}");
    // Without a day the last eight weeks count, or since it was set up.
    holds(
        &house.say("/rehearse north salt").await,
        &["North salt in 29 days: 15 changes, "],
    );
}

#[tokio::test]
async fn numbers_volumes_and_proven_filters_are_rehearsed() {
    let mut house = month().await;
    let told = house
        .say("/rehearse north salt every 3 days from 2026-03-02")
        .await;
    holds(
        &told,
        &[
            "With change of a still pool every 3 days, a hazard after 4 days, the place would have wanted 10 changes instead of 15",
            "A rule's numbers hold for the whole place",
        ],
    );
    // Nobody logged a top-up by itself; changes made them on every second day.
    let told = house.say("/rehearse rule top-up every 1 h from 2026-03-02").await;
    holds(
        &told,
        &[
            "the place would have wanted ",
            " turns of it instead of 0 in 28 days, ",
        ],
    );
    let told = house
        .say("/rehearse north salt volume 20 L from 2026-03-02")
        .await;
    holds(
        &told,
        &["With 20 L, North salt would have wanted 15 changes instead of 15 in 28 days: 300 L of water"],
    );
    let told = house
        .say("/rehearse north salt with filter proven from 2026-03-02")
        .await;
    holds(
        &told,
        &[
            "With a proven filter, North salt would have wanted 5 changes instead of 15",
            "Part change",
            "has its cycle to prove anew.",
        ],
    );
}

#[tokio::test]
async fn it_is_the_keepers_alone_and_writes_nothing() {
    let mut house = month().await;
    for line in ["/rehearse north salt with air", "/alone 9d"] {
        let (ok, text) = house.say_as(2, line).await;
        assert!(!ok, "{text}");
        let name = line.split(' ').next().unwrap_or_default();
        let expected = format!("{name} is a question that only a keeper asks: Ada can.");
        assert_eq!(text.trim(), expected);
    }
    let before = house.store.head(house.place).await.expect("a head");
    house.say("/rehearse north salt with air and filter").await;
    assert_eq!(house.store.head(house.place).await.expect("a head"), before);
}

#[tokio::test]
async fn days_begin_with_the_set_up_and_end_with_themselves() {
    let mut house = month().await;
    let told = house
        .say("/rehearse north salt with air from 2026-03-01 to 2026-03-28")
        .await;
    holds(
        &told,
        &["Counted from Sunday 1 March 12:00 to the end of Saturday 28 March."],
    );
    let told = house
        .refused("/rehearse north salt with air from 2026-02-28")
        .await;
    holds(&told, &["North salt was set up on Sunday 1 March 12:00"]);
}
