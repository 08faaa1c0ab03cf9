//! How absences and offers are told: when, until when, what of it together, and what takes the place of what.

use super::{change_of, name, plan, posted, said, shared, with};
use crate::talk::{BEA, CLEO, answer, code, verify};
use wrackline::chat::blocks::Block;
use wrackline::chat::plain;

/// Lines of an absence, and how it is told: the days or hours, and the round at which somebody is there again.
#[tokio::test]
async fn check_how_an_absence_is_told() {
    let mut house = shared().await;
    for (line, title, again) in [
        (
            "tonight",
            "Bea away on Monday 2 March, 18:00 to midnight: ",
            "Tuesday 3 March, morning",
        ),
        (
            "until 6pm",
            "Bea away on Monday 2 March, now to 18:00: ",
            "Monday 2 March, evening",
        ),
        (
            "saturday afternoon",
            "Bea away on Saturday 7 March, 12:00 to 18:00: ",
            "Saturday 7 March, evening",
        ),
        (
            "from sunday for 1 day",
            "Bea away on Sunday 8 March: ",
            "Monday 9 March, morning",
        ),
        (
            "to sunday morning",
            "Bea away from now to Sunday 8 March 19:30: ",
            "Sunday 8 March, evening",
        ),
        (
            "to sunday evening",
            "Bea away from now to Sunday 8 March: ",
            "Monday 9 March, morning",
        ),
    ] {
        let (ok, said) = house.say_as(BEA, &format!("/away {line}")).await;
        let again = format!("There again for {again}.");
        assert!(
            ok && said.starts_with(title) && said.contains(&again),
            "{line}: {said}"
        );
    }
    // Nothing is told in figures of nought.
    let (_, said) = house.say_as(BEA, "/away this afternoon").await;
    assert!(
        said.contains("12:00 to 18:00: no turn moves. Not saved yet."),
        "{said}"
    );
    // Of single rounds everybody knows when they are over.
    let (_, said) = house.say_as(BEA, "/away friday evening").await;
    assert!(!said.contains("There again"), "{said}");
}

#[tokio::test]
async fn many_turns_that_nobody_has_are_told_together() {
    let mut house = shared().await;
    for (carer, line) in [
        (BEA, "/away for a fortnight sure"),
        (CLEO, "/away for a fortnight sure"),
    ] {
        let (ok, said) = house.say_as(carer, line).await;
        assert!(ok, "{said}");
    }
    let plan = plan(&house).await;
    let count = |last: jiff::civil::Date| {
        let is_of = |turn: &&wrackline_core::rota::Turn| turn.expected.when.date <= last;
        plan.iter().filter(is_of).count()
    };
    for (line, last) in [
        ("/away until wednesday", jiff::civil::date(2026, 3, 4)),
        ("/away until next sunday", jiff::civil::date(2026, 3, 8)),
        ("/away for 10 days", jiff::civil::date(2026, 3, 11)),
    ] {
        let shown = answer(&mut house, 1, line).await;
        let text = plain::text(&shown.blocks);
        let open = count(last);
        assert!(
            text.contains(&format!("{open} turns are left with nobody")),
            "{open}: {text}"
        );
        let items: Vec<&str> = shown
            .blocks
            .iter()
            .filter_map(|block| match block {
                Block::Items { items } => Some(items),
                _ => None,
            })
            .flatten()
            .map(|item| item.text.as_str())
            .collect();
        assert!(open > 6 && items.len() < open, "{open}: {items:?}");
        assert!(items.iter().all(|line| line.contains(" · ")), "why: {items:?}");
        // Every turn is of one of the lines.
        let named: usize = items
            .iter()
            .map(|line| line.split(" · ").next().unwrap_or_default())
            .map(|line| {
                let by_duty = line
                    .split_once(": ")
                    .and_then(|(_, rest)| rest.split_once(" turn"));
                let by_duty = by_duty.and_then(|(count, _)| count.parse::<usize>().ok());
                let works = |line: &str| line.matches(", ").count() + line.matches("; ").count();
                // The date and the round stand before the works of a round.
                by_duty.unwrap_or_else(|| works(line))
            })
            .sum();
        assert_eq!(named, open, "{items:?}");
    }
}

#[tokio::test]
async fn a_second_offer_says_whom_it_takes_the_place_of() {
    let mut house = shared().await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[]);
    let owner = turn.carer.expect("somebody").0;
    let others: Vec<u32> = [1, BEA, CLEO].into_iter().filter(|one| *one != owner).collect();
    let [first, second] = others[..] else {
        panic!("three can do it: {others:?}")
    };
    let offer = |to: u32| format!("/offer {} to {}", said(turn), name(to));
    let (ok, said) = house.say_as(owner, &offer(first)).await;
    assert!(ok && !said.contains("it was offered"), "{said}");
    let told = posted(&house).await;
    let yes = code(
        &with(&told, "offers you North salt: change")[0].blocks,
        "accept.",
        "",
    );

    let (ok, said) = house.say_as(owner, &offer(second)).await;
    let both = format!(
        "it was offered to {}; now it is offered to {} until",
        name(first),
        name(second)
    );
    assert!(ok && said.contains(&both), "{said}");
    // The post of the first offer says so too, and its press takes nothing.
    posted(&house).await;
    let all = crate::talk::posts(&house).await;
    let instead = format!(
        "the offer to {} stands no longer; {} has offered it to {} instead",
        name(first),
        name(owner),
        name(second)
    );
    assert_eq!(
        (
            with(&all, &instead).len(),
            with(&all, "offers you North salt: change").len()
        ),
        (1, 1)
    );
    let (ok, refused) = house.press(first, &yes, None).await;
    let whose = format!("offered to {}, who answers", name(second));
    assert!(!ok && refused.contains(&whose), "{refused}");

    // Who offers what to whom, and until when, stands in one line of each list that it belongs to.
    let line = format!("offered to {} by {}, until tomorrow ", name(second), name(owner));
    for (carer, list, is_told) in [
        (owner, "/turns", true),
        (first, "/turns all", true),
        (first, "/turns", false),
        (second, "/turns all", false),
    ] {
        let (_, said) = house.say_as(carer, list).await;
        assert_eq!(
            said.matches(&line).count(),
            usize::from(is_told),
            "{list}: {said}"
        );
        let to_them = said.matches("Offered to you:").count();
        assert_eq!(to_them, usize::from(carer == second), "{said}");
    }
    verify(&house).await;
}
