//! What cannot be: one sentence that says what would be right, and nothing is written.

use super::{bare, worked};

#[tokio::test]
async fn impossible_combinations_are_refused() {
    let mut house = worked().await;
    for line in ["/gear add box fresh filter", "/gear add box fresh air"] {
        house.say(line).await;
    }
    for (line, part) in [
        (
            "/pool set box fresh depth 13 cm",
            "Water 13 cm deep does not stand in the container of Box fresh, which is 12 cm high; say a depth up to that.",
        ),
        (
            "/pool add box salt 3 L box 24x10x12 cm",
            "3 L of water do not fit into that container, which holds 2.9 L to its rim",
        ),
        ("/pool set box fresh volume 5 L", "5 L of water do not fit"),
        (
            "/pool set box fresh gravel 13 cm",
            "13 cm of gravel do not lie in a container 12 cm high",
        ),
        (
            "/pool set box fresh stones 1.5 L",
            "2 L of water do not fit beside 1.5 L of gravel and stones",
        ),
        (
            "/pool set box fresh depth 5 cm stones 1.5 L",
            "What lies in the pool takes 1.5 L of the 1.2 L to the water line",
        ),
        (
            "/pool set box fresh stones 9 L",
            "9 L do not fit into a container of 2.9 L",
        ),
        (
            "/pool set box fresh shape box 60x60x12 cm",
            "A container 3600 cm² wide at its rim does not stand on the floor of Box, 2500 cm²",
        ),
        (
            "/pool set box fresh shape box 20x10x45 cm",
            "A container 45 cm high does not stand in Box, which is 40 cm high",
        ),
        (
            "/pool set box fresh shape filled 4 cm 2 L, 8 cm 1 L",
            "level and litres rise from each to the next; number 2 does not",
        ),
        (
            "/enclosure set box substrate 40 cm",
            "40 cm of substrate leave no air in Box, which is 40 cm high",
        ),
        (
            "/enclosure set box size 20x10x40 cm",
            "does not stand on the floor of Box",
        ),
        (
            "/gear set box fresh filter pressure 12 kPa",
            "is not told of filter",
        ),
        ("/gear set box fresh air fill line 5 cm", "is not told of air"),
        (
            "/gear set box fresh filter displaces 4 L",
            "4 L do not fit into a container",
        ),
    ] {
        let said = house.refused(line).await;
        assert!(said.contains(part), "{line}: {said}");
    }
}

#[tokio::test]
async fn what_cannot_be_read_says_how_it_is_said() {
    let mut house = bare().await;
    house.say("/pool add box fresh 2 L").await;
    house.say("/gear add box fresh filter").await;
    for (line, part) in [
        ("/enclosure set box size 50x50 cm", "say it as 90x45x45 cm"),
        ("/enclosure set box size 50x50x40", "needs its unit"),
        ("/enclosure set box lid half", "say it as closed|gaps|open|0.5/h"),
        ("/enclosure set box heated 200C", "say it as 27C"),
        ("/enclosure set box heated 27", "say it as 27C"),
        ("/place set winter 20C", "say it as 21C 40%"),
        ("/place set winter 20C 140%", "say it as 21C 40%"),
        (
            "/pool set box fresh shape star 20x20x10 cm",
            "the forms are box 30x20x12 cm",
        ),
        (
            "/pool set box fresh shape box 20x10 cm",
            "filled 4 cm 1 L, 8 cm 2.2 L",
        ),
        (
            "/pool set box fresh way out rope 3x3 cm",
            "say it as ramp 8x12 cm",
        ),
        ("/gear set box fresh filter rated 10-5 gal", "say it as 5-10 gal"),
        ("/gear set box fresh filter flow fast", "say it as 200 L/h"),
        ("/gear set box fresh filter", "What is to be set?"),
    ] {
        let said = house.refused(line).await;
        assert!(said.contains(part), "{line}: {said}");
    }
}
