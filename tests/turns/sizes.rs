//! What an absence of a week moves in places of other sizes than the demo's.

use super::{name, owners, plan, posted_at};
use wrackline_core::place::CarerId;
use wrackline_tests::house::TestHouse;
use wrackline_tests::rota::Dice;

/// How many people and enclosures each place has.
const SIZES: [(u32, u32); 3] = [(2, 1), (3, 3), (4, 7)];

/// A place drawn with these dice, its turns shared out on the morning of 2 March.
async fn place(people: u32, enclosures: u32, dice: &mut Dice) -> TestHouse {
    let zone = *dice.one_of(&["Europe/Berlin", "America/New_York", "Asia/Tokyo"]);
    let mut house = TestHouse::new(zone).await;
    let mut lines = vec![
        "/rounds add morning 08:00".to_owned(),
        "/rounds add evening 19:30".to_owned(),
    ];
    for carer in 2..=people {
        lines.push(format!("/carer add {} regular", name(carer)));
        if dice.happens(0.3) {
            lines.push(format!(
                "/carer set {} share {}",
                name(carer),
                dice.one_of(&["0.5", "1.5"])
            ));
        }
        if dice.happens(0.3) {
            let minutes = dice.between(30, 120);
            lines.push(format!("/carer set {} minutes {minutes}", name(carer)));
        }
    }
    for enclosure in 1..=enclosures {
        lines.push(format!(
            "/enclosure add Box{enclosure} {} L",
            dice.between(200, 600)
        ));
        for water in ["fresh", "salt"] {
            lines.push(format!(
                "/pool add box{enclosure} {water} {} L",
                dice.between(4, 12)
            ));
        }
        if dice.happens(0.3) {
            let habit = name(dice.between(1, people));
            lines.push(format!("/enclosure set Box{enclosure} carer {habit}"));
        }
    }
    for line in &lines {
        house.say(line).await;
    }
    posted_at(&house, "2026-03-02 08:00").await;
    house
}

#[tokio::test]
async fn a_week_away_moves_that_persons_turns_and_at_most_a_tenth_of_the_others() {
    for (people, enclosures) in SIZES {
        for seed in 1..=2_u64 {
            let mut dice = Dice::new(seed * 1_000 + u64::from(enclosures));
            let mut house = place(people, enclosures, &mut dice).await;
            let carer = dice.between(1, people);
            let place = format!(
                "seed {seed}, {people} people, {enclosures} enclosures, {} away",
                name(carer)
            );
            let before = owners(&house).await;
            let (ok, said) = house
                .say_as(carer, "/away from 2026-03-04 to 2026-03-10 sure")
                .await;
            assert!(ok, "{place}: {said}");
            let gone = jiff::civil::date(2026, 3, 4)..=jiff::civil::date(2026, 3, 10);
            let after = plan(&house).await;
            assert_eq!(before.len(), after.len(), "{place}");
            let (mut theirs, mut others) = (0, 0);
            for ((slot, was), turn) in before.iter().zip(&after) {
                assert_eq!(*slot, turn.expected.slot, "{place}");
                let is_gone = gone.contains(&turn.expected.when.date);
                assert!(
                    !(is_gone && turn.carer == Some(CarerId(carer))),
                    "{place}: {turn:?}"
                );
                if *was == turn.carer {
                    continue;
                }
                if *was == Some(CarerId(carer)) {
                    assert!(is_gone, "{place}: moved though they are there: {turn:?}");
                    theirs += 1;
                } else {
                    others += 1;
                }
            }
            let of_others = before
                .iter()
                .filter(|(_, was)| *was != Some(CarerId(carer)))
                .count();
            assert!(
                theirs > 0 && others * 10 <= of_others,
                "{place}: {theirs}, {others} of {of_others}"
            );
        }
    }
}
