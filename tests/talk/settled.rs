//! That what is stored stays what the journal says, whatever is logged in whatever order.

use super::{BEA, CLEO, entries, north, settle, verify};
use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};

/// The seeds of the shuffled journals.
const SEEDS: [u64; 3] = [1, 7, 2026];

fn pick<'a, T: ?Sized>(dice: &mut ChaCha8Rng, all: &[&'a T]) -> &'a T {
    let index = dice.next_u64() % u64::try_from(all.len()).expect("few");
    all[usize::try_from(index).expect("few")]
}

#[tokio::test]
async fn marks_are_those_of_the_journal_whatever_its_order() {
    for seed in SEEDS {
        eprintln!("seed {seed}");
        let mut dice = ChaCha8Rng::seed_from_u64(seed);
        let mut house = north().await;
        house.say("/duty add \"night dish\" north every 2 days").await;
        let mut done = 0;
        for step in 0..60 {
            let hour = 12 + step * 3;
            house.at(&format!(
                "2026-03-{:02} {:02}:{:02}",
                1 + hour / 24,
                hour % 24,
                step % 60
            ));
            let spot = pick(
                &mut dice,
                &[
                    "north salt",
                    "north fresh",
                    "south salt",
                    "south fresh",
                    "north",
                    "all",
                ],
            );
            let back = dice.next_u64() % 40;
            let line = match dice.next_u64() % 9 {
                0..=2 => format!("/did change {spot} at {back}h ago again"),
                3 => format!("/did top-up {spot} again"),
                4 => format!(
                    "/did change {spot} part {}% at {back}h ago again",
                    10 + dice.next_u64() % 80
                ),
                5 => format!("/undo {}", 13 + dice.next_u64() % 40),
                6 => "/undo".to_owned(),
                7 => format!(
                    "/gear {} north salt air",
                    pick(&mut dice, &["add", "stop", "start"])
                ),
                _ => format!(
                    "/read {} {}%",
                    pick(&mut dice, &["north", "south"]),
                    60 + dice.next_u64() % 35
                ),
            };
            let who = [1, BEA, CLEO][usize::try_from(dice.next_u64() % 3).expect("few")];
            let before = entries(&house).await;
            let (ok, said) = house.say_as(who, &line).await;
            assert_eq!(ok, entries(&house).await > before, "{line}: {said}");
            done += u32::from(ok);
            if step % 4 == 0 {
                settle(&house).await;
            }
            verify(&house).await;
        }
        assert!(done >= 25, "seed {seed}: only {done} lines were done");
    }
}

#[tokio::test]
async fn the_order_of_logging_does_not_matter() {
    let lines = [
        "/did change north salt at 2026-03-02 08:00 again",
        "/did change north salt at 2026-03-04 19:00 again",
        "/did change north salt part 50% at 2026-03-06 08:00 again",
        "/did top-up north salt at 2026-03-07 08:00 again",
        "/gear add north salt air from 2026-03-03 10:00",
    ];
    let mut told = Vec::new();
    for order in [[0, 1, 2, 3, 4], [4, 3, 2, 1, 0], [2, 4, 0, 3, 1], [3, 0, 4, 2, 1]] {
        let mut house = north().await;
        house.at("2026-03-08 12:00");
        for index in order {
            house.say(lines[index]).await;
        }
        verify(&house).await;
        let answer = super::answer(&mut house, 1, "/why north salt").await;
        let mut turns = answer.turns;
        // Whose turn it is follows from who took which before, not from this arithmetic.
        turns
            .iter_mut()
            .for_each(|turn| turn["carer"] = serde_json::Value::Null);
        told.push(turns);
    }
    assert!(told[0].len() >= 4, "{told:?}");
    assert!(told.windows(2).all(|pair| pair[0] == pair[1]), "{told:#?}");
}
