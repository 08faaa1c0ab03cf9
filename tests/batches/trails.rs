//! Where a batch went that proved wrong, and what brings each pool back.

use wrackline::chat::plain;
use wrackline::desk::posts::render;
use wrackline::desk::tell::Tell;
use wrackline::house::Input;
use wrackline::shelf::Shelf;
use wrackline::words::Words;
use wrackline_core::moment::Subject;
use wrackline_tests::house::TestHouse;

use super::{first, holds, north, us};
use crate::talk::{Posted, code, posts, settle};

#[tokio::test]
async fn untreated_water_is_followed_to_each_pool() {
    let mut house = north().await;
    house.say("/batch add Blue can 30 L salt 35 conditioned").await;
    house.say("/did change north salt from blue can").await;
    house.say("/did change dune salt part 50% from blue can").await;
    house.at("2026-03-04 08:00");
    house.say("/did change north salt part 25%").await;
    let said = house.say("/trail blue can unconditioned").await;
    assert_eq!(
        first(&said),
        "First: keep the crabs out, then conditioner by its label into North salt (8 L) and Dune salt (6 L). Blue can went in untreated."
    );
    // Of the 5 mg/L that may have come in, three quarters are left in North, half in Dune.
    holds(
        &said,
        &[
            "North salt: at most 3.75 mg/L of chlorine now, 75 % of its water; 8 L went in, the first yesterday 08:00.",
            "Dune salt: at most 2.5 mg/L of chlorine now, 50 % of its water; 3 L went in, the first yesterday 08:00.",
            "as if the tap water held 5 mg/L, the most that any authority allows (WHO)",
            "Blue can is set aside as wrong from now on: this line was saved",
            "veterinarian",
            "Blue can holds 19 L of salt water: use none before it is conditioned by its label",
        ],
    );
    assert!(!said.contains("fresh:"), "{said}");
    // It is set aside, until it has been conditioned.
    holds(&house.say("/batch").await, &["set aside as wrong"]);
    let said = house.say("/trail blue can chlorine 1 mg/L").await;
    holds(&said, &["North salt: at most 0.75 mg/L of chlorine now"]);
    house.say("/did condition north salt again").await;
    holds(
        &house.say("/trail blue can unconditioned").await,
        &["The pool itself was conditioned after that, 08:00."],
    );
    house.say("/batch set blue can conditioned").await;
    assert!(!house.say("/batch").await.contains("set aside"));
    // What is drawn from now on is good: the trail stays as it was.
    house.at("2026-03-05 08:00");
    house.say("/did change dune salt from blue can").await;
    let said = house.say("/trail blue can unconditioned").await;
    holds(
        &said,
        &[
            "Nothing is to be done: Blue can reached North salt",
            "Dune salt: none of it is left",
        ],
    );
    holds(&house.say("/batch").await, &["Blue can: 13 L of salt water"]);
}

#[tokio::test]
async fn a_wrong_salinity_is_followed_and_put_right() {
    let mut house = north().await;
    house.say("/batch add Blue can 30 L salt 35 conditioned").await;
    house.say("/did change north salt part 50% from blue can").await;
    let said = house.say("/trail blue can salinity 40").await;
    // Half of 35 and half of 40 is 37.5, of which a fifteenth is to be changed.
    holds(
        first(&said),
        &[
            "North salt: change ",
            " for conditioned fresh water, by at most 2 g/kg a day. Blue can reached it.",
        ],
    );
    holds(
        &said,
        &[
            "North salt: 37.5 g/kg now, believed to be 35 g/kg; 4 L went in",
            "use none before it is put right",
        ],
    );
    // Too little salt: dry salt is added.
    let said = house.say("/trail blue can salinity 30").await;
    holds(
        first(&said),
        &[
            "North salt: ",
            " of dry salt, dissolved first in some of its water, by at most 2 g/kg a day.",
        ],
    );
    holds(&said, &["32.5 g/kg now"]);
    // 4 L of 30 and 4 L of 35 g/kg are 8.172 kg of 32.505; 8.172 (35 − 32.505) / 965 kg of salt are 21.1 g.
    holds(&said, &["21.1 g of dry salt"]);
    // What was measured after it went in is told with the pools at once.
    let said = house.say("/batch set blue can salinity 40").await;
    holds(
        &said,
        &[
            "It went into pools before it was measured:",
            "North salt: 37.5 g/kg now, believed to be 35 g/kg",
        ],
    );
    holds(&house.say("/batch").await, &["40 g/kg"]);
    assert!(!house.say("/batch").await.contains("set aside"));
    house.say("/undo").await;
    holds(&house.say("/batch").await, &["35 g/kg"]);
}

#[tokio::test]
async fn what_is_missing_is_weighed_at_the_true_density_and_by_the_salt_at_hand() {
    let mut house = north().await;
    house.say("/batch add Blue can 30 L salt 35 conditioned").await;
    house.say("/did change north salt from blue can").await;
    // 8 L of 5 g/kg weigh 8.006 kg: 8.006 (35 − 5) / 965 kg of salt are 248.9 g. Believed 35 g/kg they were 8.187 kg.
    let said = house.say("/trail blue can salinity 5").await;
    holds(
        first(&said),
        &["North salt: 248.9 g of dry salt, dissolved first in some of its water"],
    );
    holds(
        &said,
        &["North salt: 5 g/kg now, believed to be 35 g/kg; 8 L went in"],
    );
    // Of a salt that counts 0.9 of dry salt it takes more.
    house.say("/supplies set factor 0.9").await;
    let said = house.say("/trail blue can salinity 5").await;
    holds(
        first(&said),
        &["North salt: 276.6 g of this place’s salt, dissolved first"],
    );
}

#[tokio::test]
async fn chloramine_is_taken_at_the_most_that_is_allowed_of_it() {
    let mut house = north().await;
    house.say("/supplies set mains chloramine").await;
    house.say("/batch add Blue can 30 L fresh conditioned").await;
    house.say("/did change north fresh from blue can").await;
    let said = house.say("/trail blue can unconditioned").await;
    holds(
        &said,
        &["as if the tap water held 4 mg/L, the most that any authority allows (US EPA)"],
    );
}

#[tokio::test]
async fn a_trail_names_no_pool_that_it_did_not_reach() {
    let mut house = us().await;
    house.say("/batch add Blue can 5 gal salt 35 conditioned").await;
    let said = house.say("/trail blue can unconditioned").await;
    assert_eq!(first(&said), "Blue can reached no pool.");
    house.say("/undo").await;
    house.say("/batch add Red can 5 gal salt 35 conditioned").await;
    house.say("/did change north salt from red can").await;
    house.say("/did change dune salt from blue can").await;
    let said = house.say("/trail red can unconditioned").await;
    holds(first(&said), &["North salt (2 US gal)"]);
    assert!(!said.contains("Dune"), "{said}");
    // The name of the vessel stands for its last batch; an earlier one is asked for by its time.
    house.at("2026-03-04 08:00");
    house.say("/batch retire red can").await;
    house.say("/batch add Red can 3 gal fresh conditioned").await;
    assert_eq!(
        first(&house.say("/trail red can").await),
        "Red can reached no pool."
    );
    let said = house.say("/trail red can at yesterday 09:00").await;
    assert_eq!(first(&said), "Red can went into North salt.");
    holds(&said, &["Red can is empty."]);
}

#[tokio::test]
async fn a_pool_that_was_given_up_is_still_told() {
    let mut house = north().await;
    house.say("/batch add Blue can 30 L salt 35 conditioned").await;
    house.say("/did change dune salt from blue can").await;
    house.at("2026-03-04 08:00");
    house.say("/pool retire dune salt").await;
    let said = house.say("/trail blue can unconditioned").await;
    holds(&said, &["a pool that is no longer kept: none of it is left"]);
}

/// The dangers that were posted of untreated water, each as it reads now.
async fn dangers(house: &TestHouse) -> Vec<String> {
    let (words, shelf) = (Words::english(), Shelf::new(house.store.clone()));
    let held = shelf.open(house.place).await.expect("a book");
    let place = held.book().place_at(held.moment());
    let tell = Tell {
        words: &words,
        book: held.book(),
        place: &place,
        now: held.moment(),
        zone: None,
    };
    let posts = house.store.posts(house.place, i64::MIN).await.expect("posts");
    let untreated = posts.iter().filter(|post| post.keys[0].starts_with("untreated."));
    untreated
        .map(|post| {
            let subject: Subject = serde_json::from_str(&post.body).expect("a subject");
            let day = place.zone.date(tell.now);
            plain::text(&render(&tell, &subject, post.id, day).blocks)
        })
        .collect()
}

#[tokio::test]
async fn untreated_water_in_a_pool_in_use_is_posted_at_once() {
    let mut house = north().await;
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L")
        .await;
    house.say("/batch add Blue can 8 L salt 35 conditioned").await;
    house.say("/did change north salt from blue can").await;
    assert_eq!(dangers(&house).await, [""; 0]);
    // It proves wrong once the vessel is empty.
    let said = house.say("/trail blue can unconditioned").await;
    holds(&said, &["Blue can is empty.", "was wrong is saved by this line"]);
    let posted = dangers(&house).await;
    assert_eq!(posted.len(), 1, "{posted:?}");
    holds(
        &posted[0],
        &[
            "Untreated water in a pool with crabs: logged by Ada",
            "First: keep the crabs out, then conditioner by its label into North salt (8 L: 1 mL).",
            "veterinarian",
        ],
    );
    house.say("/did condition north salt again").await;
    holds(
        &dangers(&house).await[0],
        &["Conditioned since, or all of it changed."],
    );
    // Drawn from a batch that nobody conditioned: one post for the line, whatever pools it names.
    house.at("2026-03-05 08:00");
    house.say("/batch add Jug 14 L salt 35").await;
    house.say("/did change north salt and dune salt from jug").await;
    let posted = dangers(&house).await;
    assert_eq!(posted.len(), 2, "{posted:?}");
    holds(
        &posted[1],
        &["North salt (8 L: 1 mL) and Dune salt (6 L: 0.75 mL)"],
    );
    house.say("/undo").await;
    holds(&dangers(&house).await[1], &["Taken back: it was wrong."]);
}

#[tokio::test]
async fn what_a_helper_poured_is_a_danger_before_anybody_nods_and_its_post_says_when_it_is_over() {
    let mut house = north().await;
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L")
        .await;
    house.say("/carer add Kid helper").await;
    house.say("/duty set part-change nod yes").await;
    house.say("/duty set condition nod yes").await;
    house.say("/batch add Jug 14 L salt 35").await;
    let said = house.say("/did change north salt from jug by Kid").await;
    holds(&said, &["Waits for a nod", "Jug was not conditioned"]);
    let first = "First: keep the crabs out, then conditioner by its label into North salt (8 L: 1 mL).";
    holds(&dangers(&house).await[0], &["logged by Kid", first]);
    settle(&house).await;
    let posted = |all: &[Posted], words: &str| all.iter().filter(|post| post.text().contains(words)).count();
    let all = posts(&house).await;
    assert_eq!((posted(&all, first), posted(&all, "Conditioned since")), (1, 0));
    // A helper's word that it was conditioned ends no danger; an adult's nod does.
    house.at("2026-03-04 08:10");
    let answer = house
        .hear(
            1,
            Input::Line("/did condition north salt by Kid again".to_owned()),
        )
        .await;
    assert!(answer.ok, "{answer:?}");
    settle(&house).await;
    assert_eq!(posted(&posts(&house).await, first), 1);
    let nod = code(&answer.blocks, "nod.", "");
    let (ok, said) = house.press(1, &nod, None).await;
    assert!(ok, "{said}");
    settle(&house).await;
    let all = posts(&house).await;
    assert_eq!((posted(&all, first), posted(&all, "Conditioned since")), (0, 1));
}

#[tokio::test]
async fn no_danger_is_posted_where_no_crab_is() {
    let mut house = north().await;
    house.say("/pool set dune salt life cycling").await;
    house.say("/batch add Jug 14 L salt 35").await;
    house.say("/did change dune salt from jug").await;
    assert_eq!(dangers(&house).await, [""; 0]);
}
