//! `/away`: shown first, then saved, told, taken back.

use super::{name, owners, plan, posted, shared, with};
use crate::talk::{BEA, CLEO, answer, code, codes, entries, posted_at, verify};
use wrackline::chat::blocks::Block;
use wrackline::chat::plain;
use wrackline::house::Input;
use wrackline_core::place::CarerId;

#[tokio::test]
async fn an_absence_is_shown_then_saved_and_moves_that_persons_turns_alone() {
    let mut house = shared().await;
    let before = owners(&house).await;
    let count = entries(&house).await;
    let shown = answer(&mut house, BEA, "/away from 2026-03-04 to 2026-03-08").await;
    let text = plain::text(&shown.blocks);
    assert!(
        shown.ok && text.starts_with("Bea away from Wednesday 4 March to Sunday 8 March: "),
        "{text}"
    );
    assert!(
        text.contains("Not saved yet")
            && text.contains("There again for Monday 9 March, morning. No turn of anybody else moves."),
        "{text}"
    );
    assert_eq!(
        (entries(&house).await, owners(&house).await),
        (count, before.clone()),
        "nothing is saved"
    );
    let (ok, said) = house.press(BEA, &code(&shown.blocks, "leave.", ""), None).await;
    assert!(ok && said.contains("Nothing was changed"), "{said}");
    assert_eq!(entries(&house).await, count);

    let (ok, made) = house.press(BEA, &code(&shown.blocks, "away.", ""), None).await;
    assert!(
        ok && made.starts_with("Bea is away from Wednesday 4 March to Sunday 8 March: "),
        "{made}"
    );
    let gone = |turn: &wrackline_core::rota::Turn| {
        let day = turn.expected.when.date;
        (jiff::civil::date(2026, 3, 4)..=jiff::civil::date(2026, 3, 8)).contains(&day)
    };
    let plan = plan(&house).await;
    assert!(
        plan.iter()
            .filter(|turn| gone(turn))
            .all(|turn| turn.carer != Some(CarerId(BEA)))
    );
    let moved: Vec<_> = before
        .iter()
        .zip(&plan)
        .filter(|((slot, owner), turn)| {
            assert_eq!(*slot, turn.expected.slot);
            *owner != turn.carer
        })
        .collect();
    assert!(
        !moved.is_empty()
            && moved.iter().all(|((_, owner), turn)| {
                *owner == Some(CarerId(BEA)) && gone(turn) && turn.carer.is_some()
            })
    );
    let told = format!("Sunday 8 March: {} turns moved.", moved.len());
    assert!(made.contains(&told), "{made}\nnot {told}");
    // The days are told with whom each goes to, and the list of absences has it.
    for ((_, _), turn) in &moved {
        assert!(made.contains(name(turn.carer.expect("somebody").0)), "{made}");
    }
    let list = house.say("/away").await;
    assert!(
        list.contains("Bea: away from Wednesday 4 March to Sunday 8 March"),
        "{list}"
    );
    verify(&house).await;

    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    assert_eq!(owners(&house).await, before, "taken back with all that moved");
    assert!(house.say("/away list").await.contains("Nobody is away"));
}

#[tokio::test]
async fn single_rounds_and_sure() {
    let mut house = shared().await;
    let shown = answer(&mut house, CLEO, "/away friday evening and saturday").await;
    let text = plain::text(&shown.blocks);
    let rounds = "Friday 6 March, evening, Saturday 7 March, morning and Saturday 7 March, evening";
    assert!(text.contains(rounds), "{text}");
    let (ok, said) = house.say_as(CLEO, "/away friday evening and saturday sure").await;
    assert!(
        ok && said.starts_with(&format!("Cleo is away on {rounds}")),
        "{said}"
    );
    let held = |turn: &wrackline_core::rota::Turn| {
        let when = &turn.expected.when;
        let (friday, saturday) = (jiff::civil::date(2026, 3, 6), jiff::civil::date(2026, 3, 7));
        (when.date == friday && when.round.0 == 2) || when.date == saturday
    };
    let plan = plan(&house).await;
    assert!(plan.iter().any(held));
    assert!(
        plan.iter()
            .filter(|turn| held(turn))
            .all(|turn| turn.carer != Some(CarerId(CLEO)))
    );
    // Until a day is to its end; more rounds than a press can carry say so.
    let (_, said) = house.say_as(BEA, "/away until sunday").await;
    assert!(said.starts_with("Bea away from now to Sunday 8 March"), "{said}");
    let many = "/away mon and tue and wed and thu and fri and sat and sun";
    let shown = answer(&mut house, 1, many).await;
    assert!(shown.ok && codes(&shown.blocks).is_empty());
    assert!(plain::text(&shown.blocks).contains("with “sure” at its end"));
}

#[tokio::test]
async fn whoever_is_back_takes_up_what_nobody_could_do() {
    let mut house = shared().await;
    for (carer, line) in [
        (BEA, "/away from 2026-03-04 to 2026-03-08 sure"),
        (CLEO, "/away until 2026-03-08 sure"),
    ] {
        let (ok, said) = house.say_as(carer, line).await;
        assert!(ok && !said.contains("left with nobody"), "{said}");
    }
    posted(&house).await;
    let said = house.say("/away from 2026-03-05 to 2026-03-06 sure").await;
    assert!(
        said.contains("left with nobody") && said.contains("nobody is there then"),
        "{said}"
    );
    let open = plan(&house)
        .await
        .iter()
        .filter(|turn| turn.carer.is_none())
        .count();
    assert!(open > 4, "{open}");
    let told = posted(&house).await;
    let told = with(&told, "left with nobody");
    assert_eq!(told.len(), 1);
    assert!(
        told[0].title().contains(&format!("Ada: {open} turns are left")),
        "{}",
        told[0].text()
    );
    assert!(
        told[0].blocks.contains(&Block::For { carers: vec![1] }),
        "{told:?}"
    );
    let listed = house.say("/turns all").await;
    assert!(listed.contains("Nobody has these:"), "{listed}");
    let (before, all) = (
        listed.find("Nobody has").expect("open ones"),
        listed.find(" min\n").expect("a day"),
    );
    assert!(before < all, "open ones come first: {listed}");

    // Whose absence begins later is not back from it.
    let (ok, said) = house.say_as(BEA, "/away back").await;
    assert!(!ok && said.contains("not away now, only later"), "{said}");
    let (ok, said) = house.say_as(CLEO, "/away back").await;
    assert!(
        ok && said.contains(&format!("{open} that nobody had are taken up")),
        "{said}"
    );
    let plan = plan(&house).await;
    assert!(plan.iter().all(|turn| turn.carer.is_some()));
    settle_and_check(&mut house).await;
}

/// The post of what was left uncovered says that all is covered.
async fn settle_and_check(house: &mut wrackline_tests::house::TestHouse) {
    assert!(posted(house).await.is_empty());
    let all = crate::talk::posts(house).await;
    assert_eq!(with(&all, "Covered: every turn has somebody again").len(), 1);
    let (ok, said) = house.say_as(CLEO, "/away back").await;
    assert!(!ok && said.contains("Cleo is not away"), "{said}");
    verify(house).await;
}

#[tokio::test]
async fn what_is_left_uncovered_waits_for_the_waking_hour() {
    let mut house = shared().await;
    for carer in [BEA, CLEO] {
        house
            .say_as(carer, "/away from 2026-03-04 to 2026-03-08 sure")
            .await;
    }
    posted_at(&house, "2026-03-02 23:00").await;
    house.say("/away from 2026-03-05 to 2026-03-06 sure").await;
    assert!(with(&posted(&house).await, "left with nobody").is_empty());
    assert!(with(&posted_at(&house, "2026-03-03 06:59").await, "left with nobody").is_empty());
    assert_eq!(
        with(&posted_at(&house, "2026-03-03 07:00").await, "left with nobody").len(),
        1
    );
}

#[tokio::test]
async fn what_cannot_be_is_refused_in_one_sentence_and_nothing_changes() {
    let mut house = shared().await;
    for (line, words) in [
        ("/away from 2026-03-08 to 2026-03-05", "ends before it starts"),
        ("/away from 2026-02-20 to 2026-02-25", "in the past"),
        ("/away from 2026-02-20 to 2026-03-05", "in the past"),
        ("/away until 2026-03-01", "in the past"),
        ("/away from 2026-03-05 to 2026-12-01", "at most 200 days"),
        ("/away from 2026-03-05", "behind “to”"),
        ("/away until someday", "no day to come"),
        ("/away friday at 18:00", "is no round"),
        ("/away from friday to sunday evening gone", "means nothing here"),
        ("/away back", "is not away"),
        ("/away until sunday back", "Only one of these"),
        ("/away back from tomorrow", "Only one of these"),
        ("/away back list", "Only one of these"),
        ("/away list until sunday", "Only one of these"),
        ("/away list by Cleo", "Only one of these"),
        ("/away friday evening back", "means nothing here"),
        ("/away list friday", "means nothing here"),
    ] {
        let said = house.refused(line).await;
        assert!(said.contains(words) && !said.contains('\n'), "{line}: {said}");
    }
    let count = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "/away by Cleo until sunday").await;
    assert!(!ok && said.contains("ask Ada"), "{said}");
    let (ok, said) = house.press(BEA, "away.3.1772737200.1773342000", None).await;
    assert!(!ok && said.contains("ask Ada"), "{said}");
    assert_eq!(entries(&house).await, count);
    let said = house.say("/away by Cleo until sunday sure").await;
    assert!(
        said.starts_with("Cleo is away from now to Sunday 8 March"),
        "{said}"
    );
    let said = house.refused("/away by Cleo from tomorrow to thursday").await;
    assert!(said.contains("Cleo is away then already"), "{said}");
}

#[tokio::test]
async fn a_press_on_what_was_shown_before_turns_went_otherwise_shows_it_anew() {
    let mut house = shared().await;
    let line = "/away from 2026-03-04 to 2026-03-08";
    let old = answer(&mut house, BEA, line).await;
    let old = code(&old.blocks, "away.", "");
    let (ok, said) = house.say_as(CLEO, &format!("{line} sure")).await;
    assert!(ok, "{said}");
    let count = entries(&house).await;
    let pressed = |code: String| Input::Press { code, text: None };
    let shown = house.hear(BEA, pressed(old.clone())).await;
    let text = plain::text(&shown.blocks);
    assert!(
        shown.ok && text.contains("Not saved yet") && text.contains("go otherwise by now"),
        "{text}"
    );
    assert_eq!(entries(&house).await, count, "nothing is saved");
    let new = code(&shown.blocks, "away.", "");
    assert_ne!(new, old);
    let (ok, said) = house.press(BEA, &new, None).await;
    assert!(ok && said.starts_with("Bea is away from Wednesday"), "{said}");
    assert!(!said.contains("otherwise by now"), "{said}");
    // One made before codes told what was shown is shown anew too.
    let count = entries(&house).await;
    let (ok, said) = house.press(CLEO, "away.3.1773518400.1773604800", None).await;
    assert!(ok && said.contains("Not saved yet"), "{said}");
    assert_eq!(entries(&house).await, count);
}

#[tokio::test]
async fn what_lies_within_absences_is_not_said_again() {
    let mut house = shared().await;
    for line in [
        "/away from 2026-03-04 to 2026-03-06 sure",
        "/away from 2026-03-06 to 2026-03-08 sure",
        "/away 2026-03-10 and 2026-03-11 morning sure",
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok, "{line}: {said}");
    }
    let count = entries(&house).await;
    for (line, is_new) in [
        ("/away from 2026-03-05 to 2026-03-05 sure", false),
        ("/away from 2026-03-04 to 2026-03-08 sure", false),
        ("/away 2026-03-07 evening sure", false),
        ("/away 2026-03-05 and 2026-03-10 evening sure", false),
        ("/away 2026-03-11 morning", false),
        ("/away from 2026-03-04 to 2026-03-09", true),
        ("/away 2026-03-11", true),
        ("/away from 2026-03-10 to 2026-03-11", true),
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert_eq!(ok, is_new, "{line}: {said}");
        assert!(ok || said.contains("Bea is away then already"), "{line}: {said}");
        assert_eq!(entries(&house).await, count, "{line}");
    }
    // Somebody else is not away by that.
    let (ok, said) = house.say_as(CLEO, "/away from 2026-03-05 to 2026-03-05").await;
    assert!(ok, "{said}");
}

/// The entries' numbers of the absences that are listed, in order.
async fn listed(house: &mut wrackline_tests::house::TestHouse) -> Vec<String> {
    let said = house.say("/away list").await;
    let numbers = said.lines().filter_map(|line| line.split_once("entry "));
    numbers.map(|(_, number)| number.to_owned()).collect()
}

#[tokio::test]
async fn back_ends_what_holds_now_and_keeps_what_comes_later() {
    let mut house = shared().await;
    for line in [
        "/away until tomorrow sure",
        "/away from 2026-03-10 to 2026-03-12 sure",
        "/away 2026-03-02 evening and 2026-03-14 morning sure",
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok, "{line}: {said}");
    }
    assert_eq!(listed(&mut house).await.len(), 3);
    let (ok, said) = house.say_as(BEA, "/away back").await;
    assert!(
        ok && said.contains("Still away later: from Tuesday 10 March to Thursday 12 March (entry "),
        "{said}"
    );
    assert!(
        said.contains("on Saturday 14 March, morning (entry ") && !said.contains("2 March, evening"),
        "{said}"
    );
    let later = listed(&mut house).await;
    assert_eq!(later.len(), 2);
    let theirs = |owners: &[(_, Option<CarerId>)]| {
        owners
            .iter()
            .filter(|(_, one)| *one == Some(CarerId(BEA)))
            .count()
    };
    let held = plan(&house).await;
    let within = |turn: &&wrackline_core::rota::Turn| {
        let day = turn.expected.when.date;
        (jiff::civil::date(2026, 3, 10)..=jiff::civil::date(2026, 3, 12)).contains(&day)
    };
    assert!(held.iter().any(|turn| within(&turn)));
    assert!(
        held.iter()
            .filter(within)
            .all(|turn| turn.carer != Some(CarerId(BEA)))
    );
    // Back already, what is left is named and nothing is written.
    let count = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "/away back").await;
    let hint = format!("/undo {} takes the first of them back", later[0]);
    assert!(
        !ok && said.contains("only later: from Tuesday 10 March") && said.contains(&hint),
        "{said}"
    );
    assert_eq!(entries(&house).await, count);
    // One of them is taken back alone, though days have gone by and one line said both.
    posted_at(&house, "2026-03-07 09:00").await;
    let (ok, said) = house.say_as(BEA, &format!("/undo {}", later[0])).await;
    assert!(
        ok && said.contains("an absence") && !said.contains("you are back"),
        "{said}"
    );
    assert_eq!(listed(&mut house).await, later[1..]);
    assert!(theirs(&owners(&house).await) > 0);
    // What has begun and is old is no longer one's own to take back.
    posted_at(&house, "2026-03-14 07:00").await;
    let (ok, said) = house.say_as(BEA, &format!("/undo {}", later[1])).await;
    assert!(!ok && said.contains("older than"), "{said}");
    verify(&house).await;
}

#[tokio::test]
async fn a_return_that_is_taken_back_leaves_all_absences_as_they_were() {
    let mut house = shared().await;
    for line in [
        "/away until tomorrow sure",
        "/away from 2026-03-10 to 2026-03-12 sure",
    ] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok, "{line}: {said}");
    }
    let before = (owners(&house).await, listed(&mut house).await);
    let back = answer(&mut house, BEA, "/away back").await;
    let (ok, said) = house.press(BEA, &code(&back.blocks, "undo.", ""), None).await;
    assert!(ok && said.contains("you are back"), "{said}");
    assert_eq!((owners(&house).await, listed(&mut house).await), before);
    let (ok, _) = house.say_as(BEA, "/away back").await;
    assert!(ok);
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok && said.contains("you are back"), "{said}");
    assert_eq!((owners(&house).await, listed(&mut house).await), before);
    verify(&house).await;
}
