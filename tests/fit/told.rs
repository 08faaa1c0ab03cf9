//! Particulars are told, listed, taken back, and counted from their date.

use super::{american, bare, holds, worked};

#[tokio::test]
async fn an_enclosure_is_told_and_listed() {
    let mut house = bare().await;
    let told = house
        .say("/enclosure set box size 50 x 50 x 40 cm substrate 20 cm glass acrylic 5 mm lid gaps heated 27C")
        .await;
    holds(
        &told,
        &[
            "Box: 50 × 50 × 40 cm.",
            "Box: substrate 20 cm deep.",
            "Box: acrylic 0.5 cm.",
            "Box: lid with gaps, 0.5 to 2 exchanges an hour, likely 1 (common practice).",
            "Box: kept at 27 °C.",
            "In all 100 L, of it air 50 L.",
        ],
    );
    holds(
        &house.say("/enclosure list").await,
        &["50 × 50 × 40 cm, substrate 20 cm deep, acrylic 0.5 cm, lid with gaps"],
    );
    // What stands on top of the measured box counts as air, and both volumes are said.
    let told = house.say("/enclosure set box volume 130 L").await;
    holds(
        &told,
        &["In all 130 L, of it air 80 L. 130 L were stated; the size gives 100 L."],
    );
    holds(
        &house.say("/enclosure set box lid closed").await,
        &["lid closed, 0.25 to 1"],
    );
    holds(
        &house.say("/enclosure set box lid open").await,
        &["lid open, 1 to 10"],
    );
    holds(
        &house
            .say("/enclosure set box lid 0.8 an hour substrate none")
            .await,
        &["no substrate", "0.8 exchanges of air an hour, as stated"],
    );
}

#[tokio::test]
async fn the_rooms_of_a_place_are_told() {
    let mut house = bare().await;
    holds(
        &house.say("/place list").await,
        &[
            "Room air in winter: 21 °C, 40 %, assumed (common practice).",
            "Room air in summer: 25 °C, 55 %, assumed (common practice).",
        ],
    );
    let told = house.say("/place set winter 20C 40% summer 24C 55%").await;
    holds(
        &told,
        &[
            "Room air in winter: 20 °C, 40 %.",
            "Room air in summer: 24 °C, 55 %.",
        ],
    );
    let list = house.say("/place list").await;
    holds(&list, &["Room air in winter: 20 °C, 40 %."]);
    assert!(!list.contains("assumed"), "{list}");
}

/// Volumes of the fact sheet, section 6: box 30×20×10 6.0 L; cylinder 30×12 8.4823; bowl of radius 10 to 13, 12 high 5.01398;
/// tapered tub 5.8; quarter round 30×12 8.4823; ellipse 40×25×10 7.854; hexagon of side 15, 10 high 5.8457.
#[tokio::test]
async fn every_shape_can_be_told() {
    let mut house = bare().await;
    house.say("/pool add box salt 2 L").await;
    for (shape, told, full) in [
        ("box 30x20x10 cm", "box 30 × 20 × 10 cm", "6 L net"),
        ("cylinder 30x12 cm", "cylinder 30 × 12 cm", "8.5 L net"),
        ("bowl 20x26x12 cm", "bowl 20 × 26 × 12 cm", "5 L net"),
        (
            "tapered tub 25x15 to 30x20 x 12 cm",
            "tapered tub 25 × 15 cm at the floor, 30 × 20 cm at the rim, 12 cm high",
            "5.8 L net",
        ),
        (
            "quarter round 30 by 12 cm",
            "quarter round 30 × 12 cm",
            "8.5 L net",
        ),
        ("oval 40x25x10 cm", "ellipse 40 × 25 × 10 cm", "7.9 L net"),
        ("hexagon 15x10 cm", "hexagon 15 × 10 cm", "5.8 L net"),
        (
            "filled 4 cm 1 L, 8 cm 2.2 L, 12 cm 3.6 L",
            "filled by measure, 3 points up to 3.6 L at 12 cm",
            "3.6 L net",
        ),
    ] {
        let height = if full.starts_with(['6', '7']) || shape.starts_with("hexagon") {
            "10 cm"
        } else {
            "12 cm"
        };
        let text = house
            .say(&format!("/pool set box salt shape {shape} depth {height}"))
            .await;
        holds(
            &text,
            &[&format!("Box salt: {told}."), full, &format!("{height} deep")],
        );
    }
}

/// 30 × 20 cm, 10 cm deep, 3 cm of gravel of 40 % gaps, 0.4 L of rock: 4.52 L (fact sheet, section 6).
#[tokio::test]
async fn both_volumes_of_a_pool_are_said() {
    let mut house = bare().await;
    let text = house
        .say("/pool add box fresh 6 L box 30x20x12 cm depth 10 cm")
        .await;
    holds(&text, &["6 L net, 10 cm deep, surface 600 cm²."]);
    let text = house
        .say("/pool set box fresh gravel 3 cm porosity 40% stones 0.4 L")
        .await;
    holds(
        &text,
        &[
            "Box fresh: gravel 3 cm deep, 40 % gaps.",
            "Box fresh: stones that take 400 mL.",
            "4.5 L net, 10 cm deep, surface 600 cm². 6 L were stated, 4.5 L are computed; care counts with what was stated \
             until /pool set box fresh volume 4.5 L.",
        ],
    );
    // Gravel that was not measured leaves a band: 30 to 40 % of 1.8 L.
    let text = house.say("/pool set box fresh gravel 3 cm").await;
    holds(
        &text,
        &["gravel 3 cm deep, 30–40 % gaps", "4.4 L (4.3 L to 4.5 L) net"],
    );
    holds(
        &house.say("/pool list").await,
        &["box 30 × 20 × 12 cm, water 10 cm deep, gravel 3 cm deep, 30–40 % gaps, stones that take 400 mL"],
    );
    house.say("/pool set box fresh gravel none").await;
}

#[tokio::test]
async fn gear_is_told_listed_and_taken_back() {
    let mut house = american().await;
    house
        .say("/gear set north fresh filter rated 5-10 gal fill line 3 in displaces 0.1 gal")
        .await;
    holds(
        &house.say("/gear list").await,
        &["filter, rated 5–10 US gal, minimum fill line 3 in above the floor, takes 0.1 US gal under water"],
    );
    let undone = house.say("/undo").await;
    holds(
        &undone,
        &["North fresh: rated 5–10 US gal", "minimum fill line 3 in"],
    );
    let list = house.say("/gear list").await;
    assert!(!list.contains("rated"), "{list}");
    // With the gear what was told of it goes.
    house.say("/gear set north fresh filter rated 5-10 gal").await;
    house.at("2026-03-01 13:00");
    house.say("/gear retire north fresh filter").await;
    house.say("/gear add north fresh filter").await;
    let list = house.say("/gear list").await;
    assert!(!list.contains("rated"), "{list}");
}

#[tokio::test]
async fn a_particular_counts_from_its_date() {
    let mut house = worked().await;
    house.at("2026-03-05 12:00");
    house
        .say("/enclosure set box lid 2/h from 2026-03-04 09:00")
        .await;
    let refused = house
        .refused("/enclosure set box lid 1/h from 2026-03-03 09:00")
        .await;
    holds(&refused, &["The same was changed at Box"]);
    holds(
        &house.say("/enclosure list").await,
        &["2 exchanges of air an hour"],
    );
}

#[tokio::test]
async fn an_enclosure_may_be_told_with_all_its_particulars_at_once() {
    let mut house = bare().await;
    let text = house
        .say("/enclosure add Tall 200 L size 100x50x40 cm substrate 10 cm glass 6 mm lid gaps heated 27C")
        .await;
    holds(
        &text,
        &[
            "Tall: 200 L",
            "substrate 10 cm deep",
            "kept at 27 °C",
            "In all 200 L, of it air 150 L.",
        ],
    );
    let said = house
        .refused("/enclosure add Flat 50 L size 100x50x10 cm substrate 12 cm")
        .await;
    holds(&said, &["12 cm of substrate leave no air in Flat"]);
}
