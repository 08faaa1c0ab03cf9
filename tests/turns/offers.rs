//! `/offer`: the other is told, takes it or not, and the turn stays the same.

use super::{change_of, name, owners, plan, posted, said, shared, with};
use crate::talk::{BEA, CLEO, DOT, code, entries, posted_at, verify};
use wrackline::chat::blocks::Block;
use wrackline_core::civil::plus_minutes;
use wrackline_core::place::CarerId;
use wrackline_core::rota::Turn;
use wrackline_tests::house::TestHouse;

#[tokio::test]
#[expect(clippy::too_many_lines, reason = "one story from the offer to the next day")]
async fn an_accepted_offer_gives_the_same_turn_another_owner() {
    let mut house = shared().await;
    let before = owners(&house).await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let (ok, receipt) = house
        .say_as(owner, &format!("/offer {} to {}", said(turn), name(other)))
        .await;
    assert!(
        ok && receipt.contains(&format!("offered to {}", name(other))),
        "{receipt}"
    );
    let told = posted(&house).await;
    let post = with(&told, "offers you North salt: change")[0];
    assert!(
        post.title()
            .starts_with(&format!("{}: {}", name(other), name(owner))),
        "{}",
        post.text()
    );
    assert!(
        post.blocks.contains(&Block::For { carers: vec![other] }),
        "{post:?}"
    );
    let (yes, no) = (
        code(&post.blocks, "accept.", ""),
        code(&post.blocks, "decline.", ""),
    );
    // Until then it is its owner's, and it shows.
    assert_eq!(owners(&house).await, before);
    for carer in [owner, other] {
        let (_, list) = house.say_as(carer, "/turns").await;
        assert!(list.contains("ffered to "), "{list}");
    }
    let count = entries(&house).await;
    let (ok, refused) = house.press(1, &yes, None).await;
    assert!(
        !ok && refused.contains(&format!("offered to {}", name(other))),
        "{refused}"
    );
    assert_eq!(entries(&house).await, count);

    let (ok, receipt) = house.press(other, &yes, None).await;
    assert!(
        ok && receipt.contains(&format!("{} does it", name(other))),
        "{receipt}"
    );
    assert_eq!(entries(&house).await, count + 1, "nothing else moves");
    let after = owners(&house).await;
    let changed: Vec<_> = before
        .iter()
        .zip(&after)
        .filter(|(one, other)| one != other)
        .collect();
    let slot = turn.expected.slot;
    assert_eq!(
        changed,
        [(&(slot, Some(CarerId(owner))), &(slot, Some(CarerId(other))))],
        "the same slot with another owner"
    );
    // Nobody is told again what they did themselves; the offer shows what came of it.
    assert!(posted(&house).await.is_empty());
    let all = crate::talk::posts(&house).await;
    assert_eq!(with(&all, &format!("{} does it", name(other))).len(), 1);
    let (ok, refused) = house.press(other, &no, None).await;
    assert!(!ok && refused.contains("stands no longer"), "{refused}");
    // Taken back, the offer stands again.
    let (ok, undone) = house.say_as(other, "/undo").await;
    assert!(ok, "{undone}");
    assert_eq!(owners(&house).await, before);
    let (ok, receipt) = house.press(other, &no, None).await;
    assert!(
        ok && receipt.contains(&format!("{} keeps it", name(owner))),
        "{receipt}"
    );
    assert_eq!(owners(&house).await, before);
    verify(&house).await;
}

#[tokio::test]
async fn an_offer_lapses_after_a_day_and_its_post_says_so_by_itself() {
    let mut house = shared().await;
    posted_at(&house, "2026-03-02 09:13").await;
    let plan = plan(&house).await;
    let day = jiff::civil::date(2026, 3, 5);
    let later: Vec<_> = plan
        .into_iter()
        .filter(|turn| turn.expected.when.date >= day)
        .collect();
    let turn = change_of(&later, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let line = format!("/offer {} to {}", said(turn), name(other));
    let (ok, _) = house.say_as(owner, &line).await;
    assert!(ok);
    let (ok, again) = house.say_as(owner, &line).await;
    assert!(!ok && again.contains("already"), "{again}");
    let told = posted(&house).await;
    let yes = code(&with(&told, "offers you")[0].blocks, "accept.", "");
    let lapsed = format!(
        "the offer to {} stands no longer; {} keeps it",
        name(other),
        name(owner)
    );
    posted_at(&house, "2026-03-03 09:12").await;
    let all = crate::talk::posts(&house).await;
    assert_eq!(
        (with(&all, "offers you").len(), with(&all, &lapsed).len()),
        (1, 0)
    );
    assert!(
        house
            .say(&format!("/turns {} two weeks", name(owner)))
            .await
            .contains("offered to")
    );
    // Nothing is said anew: the post that made the offer shows what became of it.
    assert!(posted_at(&house, "2026-03-03 09:13").await.is_empty());
    let all = crate::talk::posts(&house).await;
    assert_eq!(
        (with(&all, "offers you").len(), with(&all, &lapsed).len()),
        (0, 1)
    );
    assert!(
        !house
            .say(&format!("/turns {} two weeks", name(owner)))
            .await
            .contains("offered to")
    );
    let (ok, refused) = house.press(other, &yes, None).await;
    assert!(
        !ok && refused.contains(&format!("with {}", name(owner))),
        "{refused}"
    );
}

#[tokio::test]
async fn an_offer_of_a_late_turn_lapses_half_way_to_its_hazard() {
    let mut house = shared().await;
    posted_at(&house, "2026-03-05 08:00").await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[]);
    let now = house.app.house.clock.now();
    let hazard = turn.expected.hazard.expect("a hazard limit");
    assert!(turn.expected.due < now && now < hazard, "{turn:?}");
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let line = format!("/offer {} to {}", said(turn), name(other));
    let (ok, refused) = house.say_as(owner, &line).await;
    assert!(ok, "{refused}");
    posted(&house).await;
    let left_min = (hazard.as_second() - now.as_second()) / 60;
    let open = |posts: &[crate::talk::Posted]| with(posts, "offers you North salt: change").len();
    for (minutes, expected) in [(left_min / 2 - 1, 1), (left_min / 2, 0)] {
        house.at(&local(plus_minutes(now, minutes)));
        posted(&house).await;
        assert_eq!(
            open(&crate::talk::posts(&house).await),
            expected,
            "{minutes} min later"
        );
    }
    verify(&house).await;
}

/// A moment as the clock of the house is set.
fn local(at: jiff::Timestamp) -> String {
    let zone = wrackline_core::civil::Zone::get("America/New_York").expect("a zone");
    zone.civil(at).strftime("%Y-%m-%d %H:%M").to_string()
}

/// The first coming change of North's salt pool from a day on, who has it, and somebody else.
async fn offered(house: &mut TestHouse, from: jiff::civil::Date) -> (u32, u32) {
    let plan = plan(house).await;
    let later: Vec<_> = plan
        .into_iter()
        .filter(|turn| turn.expected.when.date >= from)
        .collect();
    let turn = change_of(&later, &[]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let line = format!("/offer {} to {}", said(turn), name(other));
    let (ok, refused) = house.say_as(owner, &line).await;
    assert!(ok, "{refused}");
    assert_eq!(
        with(&posted(house).await, "offers you North salt: change").len(),
        1
    );
    (owner, other)
}

/// Of the one offer that was posted: that it stands no longer, and whose the turn is.
async fn passed_on(house: &TestHouse, (owner, other): (u32, u32)) -> String {
    let all = crate::talk::posts(house).await;
    assert!(with(&all, "offers you").is_empty(), "it stands no longer");
    let over = with(&all, &format!("the offer to {} stands no longer", name(other)));
    assert_eq!(over.len(), 1);
    let text = over[0].text();
    assert!(!text.contains(name(owner)), "it is not theirs: {text}");
    assert!(crate::talk::codes(&over[0].blocks).is_empty(), "{:?}", over[0]);
    text
}

#[tokio::test]
async fn the_post_of_an_offer_tells_who_has_it_once_its_owner_is_away() {
    let mut house = shared().await;
    let (owner, other) = offered(&mut house, jiff::civil::date(2026, 3, 5)).await;
    let away = "/away from 2026-03-05 to 2026-03-12 sure";
    let (ok, refused) = house.say_as(owner, away).await;
    assert!(ok, "{refused}");
    posted(&house).await;
    let text = passed_on(&house, (owner, other)).await;
    assert!(text.contains("has it now"), "{text}");
    // With everybody away, nobody has it.
    for carer in [1, BEA, CLEO].into_iter().filter(|carer| *carer != owner) {
        house.say_as(carer, away).await;
    }
    posted(&house).await;
    let text = passed_on(&house, (owner, other)).await;
    assert!(text.contains("nobody has it now"), "{text}");
    verify(&house).await;
}

#[tokio::test]
async fn the_post_of_an_offer_tells_who_has_it_once_the_house_moved_the_turn_by_itself() {
    let mut house = shared().await;
    let day = jiff::civil::date(2026, 3, 5);
    let later: Vec<_> = plan(&house).await;
    let later: Vec<_> = later
        .into_iter()
        .filter(|turn| turn.expected.when.date >= day)
        .collect();
    let turn = change_of(&later, &[]);
    assert_eq!(turn.expected.when.date, day);
    let owner = turn.carer.expect("somebody").0;
    let (ok, refused) = house
        .say_as(owner, "/away from 2026-03-06 to 2026-03-06 sure")
        .await;
    assert!(ok, "{refused}");
    // The change of 3 March is late, so that a day later this one comes in its owner's absence.
    posted_at(&house, "2026-03-03 20:00").await;
    let (offering, other) = offered(&mut house, day).await;
    assert_eq!(offering, owner);
    posted_at(&house, "2026-03-04 08:00").await;
    let text = passed_on(&house, (owner, other)).await;
    assert!(text.contains("has it now"), "{text}");
    verify(&house).await;
}

#[tokio::test]
async fn what_cannot_be_offered_is_refused_in_one_sentence() {
    let mut house = shared().await;
    house.say("/carer add Ede regular").await;
    house.say("/carer retire Ede").await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let date = turn.expected.when.date;
    house
        .say(&format!("/away by {} from {date} to {date} sure", name(other)))
        .await;
    let words = said(turn);
    let count = entries(&house).await;
    for (carer, line, part) in [
        (other, format!("/offer {words} to Ada"), "is not yours but"),
        (
            owner,
            format!("/offer {words} to {}", name(other)),
            "is away then",
        ),
        (
            owner,
            format!("/offer {words} to {}", name(owner)),
            "yours already",
        ),
        (owner, format!("/offer {words} to {}", name(DOT)), "helper"),
        (owner, format!("/offer {words} to Ede"), "no carer “Ede”"),
        (owner, format!("/offer {words}"), "behind “to”"),
        (owner, "/offer change to Ada".to_owned(), "pool or enclosure"),
        (owner, "/offer change north to Ada".to_owned(), "Which change"),
        (
            owner,
            "/offer change north salt 2026-03-30 to Ada".to_owned(),
            "There is no change of it then",
        ),
        (
            owner,
            "/offer rinse north salt to Ada".to_owned(),
            "in the next 14 days",
        ),
    ] {
        let (ok, refused) = house.say_as(carer, &line).await;
        assert!(
            !ok && refused.contains(part) && !refused.contains('\n'),
            "{line}: {refused}"
        );
    }
    assert_eq!(entries(&house).await, count);
}

#[tokio::test]
async fn an_offer_is_refused_by_a_line_that_its_post_tells() {
    let mut house = shared().await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let (other, third) = if owner == BEA {
        (CLEO, 1)
    } else {
        (BEA, if owner == 1 { CLEO } else { 1 })
    };
    let (ok, refused) = house.say_as(other, "/offer no").await;
    assert!(
        !ok && refused == "No turn is offered to you now. Nothing was saved.",
        "{refused}"
    );
    let offer = format!("/offer {} to {}", said(turn), name(other));
    let (ok, receipt) = house.say_as(owner, &offer).await;
    assert!(ok, "{receipt}");
    let told = posted(&house).await;
    let text = with(&told, "offers you North salt: change")[0].text();
    let typed = |label: &str, text: &str| {
        let line = text.lines().find_map(|line| line.trim().strip_prefix(label));
        line.unwrap_or_else(|| panic!("{label} is not in {text}"))
            .to_owned()
    };
    let (take, no) = (typed("I'll do it: ", &text), typed("Not for me: ", &text));
    assert!(take.starts_with("/take change North salt ") && no.starts_with("/offer no change North salt "));
    // The list of one's turns says the same.
    let (_, list) = house.say_as(other, "/turns").await;
    assert_eq!(
        (typed("I'll do it: ", &list), typed("Not for me: ", &list)),
        (take.clone(), no.clone())
    );
    let count = entries(&house).await;
    let (ok, refused) = house.say_as(third, &no).await;
    assert!(
        !ok && refused.contains(&format!("offered to {}, who answers", name(other))),
        "{refused}"
    );
    assert_eq!(entries(&house).await, count);
    for line in [no.as_str(), "/offer no"] {
        let (ok, receipt) = house.say_as(other, line).await;
        assert!(
            ok && receipt.contains(&format!("not for {}; {} keeps it", name(other), name(owner))),
            "{receipt}"
        );
        assert!(!house.say_as(other, &no).await.0, "an offer is refused once");
        let (ok, undone) = house.say_as(other, "/undo").await;
        assert!(ok, "{undone}");
    }
    let (ok, receipt) = house.say_as(other, &take).await;
    assert!(
        ok && receipt.contains(&format!("{} does it", name(other))),
        "{receipt}"
    );
    verify(&house).await;
}

/// The plan from Thursday on.
async fn later(house: &TestHouse) -> Vec<Turn> {
    let day = jiff::civil::date(2026, 3, 5);
    let all = plan(house).await.into_iter();
    all.filter(|turn| turn.expected.when.date >= day).collect()
}

#[tokio::test]
async fn whoever_will_be_away_turns_down_what_was_offered_to_them() {
    let mut house = shared().await;
    let later = later(&house).await;
    let turn = change_of(&later, &[]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let (ok, receipt) = house
        .say_as(owner, &format!("/offer {} to {}", said(turn), name(other)))
        .await;
    assert!(ok, "{receipt}");
    posted(&house).await;
    let before = owners(&house).await;
    let date = turn.expected.when.date;
    let line = format!("/away from {date} to {date}");
    let (_, shown) = house.say_as(other, &line).await;
    let declined = format!("What was offered to {} then is turned down with it", name(other));
    assert!(shown.contains(&declined), "{shown}");
    let (ok, made) = house.say_as(other, &format!("{line} sure")).await;
    assert!(ok && made.contains(&declined), "{made}");
    posted(&house).await;
    let slot = turn.expected.slot;
    let keeps = |owners: &[(_, Option<CarerId>)]| owners.contains(&(slot, Some(CarerId(owner))));
    assert!(keeps(&owners(&house).await));
    let kept = format!("{} keeps it", name(owner));
    let all = crate::talk::posts(&house).await;
    assert_eq!(with(&all, &kept).len(), 1, "whoever offered it is told");
    let (_, list) = house.say_as(owner, "/turns").await;
    assert!(!list.contains("ffered to "), "{list}");
    // Taken back, the offer stands again with all else.
    let (ok, undone) = house.say_as(other, "/undo").await;
    assert!(ok, "{undone}");
    assert_eq!(owners(&house).await, before);
    let (_, list) = house.say_as(owner, "/turns").await;
    assert!(list.contains("ffered to "), "{list}");
    verify(&house).await;
}

#[tokio::test]
async fn an_offer_that_stands_no_longer_is_not_what_is_taken_back() {
    let mut house = shared().await;
    let later = later(&house).await;
    let turn = change_of(&later, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let (ok, noted) = house.say_as(owner, "/did top-up north fresh").await;
    assert!(ok, "{noted}");
    house.at("2026-03-02 08:20");
    for (number, to) in [other, 1].into_iter().enumerate() {
        house.at(["2026-03-02 08:20", "2026-03-02 08:21"][number]);
        let (ok, said) = house
            .say_as(owner, &format!("/offer {} to {}", said(turn), name(to)))
            .await;
        assert!(ok, "{said}");
    }
    // The one that stands is taken back; then the one before it stands again, until it is refused.
    let (ok, undone) = house.say_as(owner, "/undo").await;
    assert!(ok && undone.contains("the offer of"), "{undone}");
    let (ok, said) = house.say_as(other, "/offer no").await;
    assert!(ok, "{said}");
    let (ok, undone) = house.say_as(owner, "/undo").await;
    assert!(
        ok && undone.contains("top-up") && !undone.contains("offer"),
        "{undone}"
    );
    let (ok, said) = house.say_as(owner, "/undo").await;
    assert!(!ok && said.contains("nothing of yours"), "{said}");
    verify(&house).await;
}

#[tokio::test]
async fn a_round_alone_is_the_next_in_which_there_is_such_a_turn() {
    let mut house = shared().await;
    let all = plan(&house).await;
    let turn = change_of(&all, &[]);
    let round = turn.expected.when.round;
    let slot = turn.expected.slot;
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let before = owners(&house).await;
    let name = ["morning", "evening"][round.0 as usize - 1];
    let line = format!("/take change north salt {name} sure");
    let (ok, said) = house.say_as(other, &line).await;
    assert!(ok, "{said}");
    let after = owners(&house).await;
    assert!(before.contains(&(slot, Some(CarerId(owner)))));
    assert!(after.contains(&(slot, Some(CarerId(other)))), "{said}");
}
