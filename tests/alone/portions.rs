//! The labelled portions of a visit add up to what `/mix` gives for the same changes.

use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};
use regex::Regex;
use wrackline_tests::house::TestHouse;

use super::holds;

/// What a label or a mixture holds of salt, in grams, and of conditioner, in mL.
fn figures(text: &str) -> (f64, f64) {
    let of = |pattern: &str| -> f64 {
        let pattern = Regex::new(pattern).expect("a pattern");
        pattern
            .captures_iter(text)
            .map(|found| {
                found[1].parse::<f64>().expect("a figure") * if &found[2] == "kg" { 1000.0 } else { 1.0 }
            })
            .sum()
    };
    (of(r"([\d.]+) (g|kg) salt"), of(r"conditioner ([\d.]+) (mL)"))
}

/// The labels of a visit in an answer.
fn labels(text: &str, visit: u32) -> Vec<&str> {
    let start = format!("Visit {visit}, ");
    text.lines()
        .filter_map(|line| line.find(&format!(". {start}")).map(|at| &line[at..]))
        .collect()
}

#[tokio::test]
async fn portions_add_up_to_what_is_mixed() {
    for seed in 0..12 {
        let mut dice = ChaCha8Rng::seed_from_u64(seed);
        let mut part = || f64::from(dice.next_u32()) / f64::from(u32::MAX);
        let mut house = TestHouse::new("Europe/London").await;
        house.say("/rounds add morning 08:00").await;
        let (dose, target, tap) = (2.0 + 8.0 * part(), 30.0 + 8.0 * part(), 0.4 * part());
        house
            .say(&format!(
                "/supplies set conditioner Clear {dose:.2} mL per 40 L target {target:.1} source {tap:.2}"
            ))
            .await;
        for number in 1..=3 {
            house.say(&format!("/enclosure add E{number} 300 L")).await;
            for water in ["fresh", "salt"] {
                let litres = 1.5 + 2.5 * part();
                house
                    .say(&format!("/pool add e{number} {water} {litres:.2} L"))
                    .await;
            }
        }
        let text = house.say("/alone 5 days").await;
        holds(&text, &["One visit prevents it"]);
        let labels = labels(&text, 1);
        assert_eq!(labels.len(), 6, "seed {seed}: {text}");
        let mixed = house.say("/mix all").await;
        let mixed = figures(mixed.lines().next().expect("a first line"));
        let portions = figures(&labels.join("\n"));
        let told = text
            .lines()
            .find(|line| line.starts_with("Portions for all visits:"));
        let told = figures(told.expect("the sum"));
        // Each figure is printed to a tenth of a gram and to a hundredth of a millilitre: six of them may be off by so much.
        // A kilogram and more is told to a hundredth of it.
        let salt_off = if mixed.0 < 1000.0 { 0.4 } else { 5.4 };
        for (sum, of) in [(portions, "labels"), (told, "the sum")] {
            assert!(
                (sum.0 - mixed.0).abs() < salt_off,
                "seed {seed}: salt of {of}: {sum:?}, {mixed:?}"
            );
            assert!(
                (sum.1 - mixed.1).abs() < 0.05,
                "seed {seed}: conditioner of {of}: {sum:?}, {mixed:?}"
            );
        }
        assert!(
            mixed.0 > 100.0 && mixed.0 < 1500.0 && mixed.1 > 0.3,
            "seed {seed}: {mixed:?}"
        );
    }
}

#[tokio::test]
async fn a_portion_is_what_mix_says_of_its_pool() {
    let mut house = super::still().await;
    let text = house.say("/alone 9d").await;
    // 8 L and 5 % for spills, at 35 g/kg.
    let mixed = house.say("/mix north salt").await;
    let salt = Regex::new(r"\(([\d.]+ g) salt").expect("a pattern");
    let salt = salt.captures(&mixed).expect("salt")[1].to_owned();
    holds(
        &text,
        &[&format!(
            "Visit 1, North salt: {salt} salt, conditioner by its label, in "
        )],
    );
}
