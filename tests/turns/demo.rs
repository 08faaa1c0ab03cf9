//! The demo place: what an absence of a week moves there.

use super::{owners, posted_at};
use wrackline::replay::Scenario;
use wrackline_core::place::CarerId;
use wrackline_tests::house::TestHouse;

/// The demo place, its turns shared out, on the morning of 2 March.
async fn demo() -> TestHouse {
    let scenario = Scenario::load("demo").expect("the demo");
    let mut house = TestHouse::new(&scenario.zone).await;
    for line in &scenario.set_up {
        house.say(line).await;
    }
    posted_at(&house, "2026-03-02 08:00").await;
    house
}

#[tokio::test]
async fn a_week_away_moves_that_persons_turns_and_nobody_elses() {
    for (carer, name) in [(1, "Ada"), (2, "Ilja"), (3, "Odile"), (4, "Bram"), (5, "Sanna")] {
        let mut house = demo().await;
        let before = owners(&house).await;
        let (ok, said) = house
            .say_as(carer, "/away from 2026-03-04 to 2026-03-10 sure")
            .await;
        assert!(ok && said.starts_with(&format!("{name} is away")), "{said}");
        let after = owners(&house).await;
        let changed: Vec<_> = before
            .iter()
            .zip(&after)
            .filter(|(one, other)| one != other)
            .collect();
        let others = changed
            .iter()
            .filter(|((_, owner), _)| *owner != Some(CarerId(carer)))
            .count();
        let of_others = before
            .iter()
            .filter(|(_, owner)| *owner != Some(CarerId(carer)))
            .count();
        assert!(!changed.is_empty(), "{name} has turns in a week");
        assert!(
            others * 10 <= of_others,
            "{others} of {of_others} turns of others moved"
        );
        let told = match others {
            0 => "No turn of anybody else moves.".to_owned(),
            moved => format!("Of the turns of others {moved} of {of_others} move too."),
        };
        assert!(said.contains(&told), "{said}");
    }
}
