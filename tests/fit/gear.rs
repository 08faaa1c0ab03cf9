//! `/plumb`: airline, pump, filter, siphon.

use super::{american, first, holds, worked};

/// Stone 8 cm deep, 20 cm across, a rim 25 cm above the water, the valve 40 cm below it: 93 cm and a tenth more are 102.3 cm.
/// The valve hangs 15 cm below the water line and the pump 30 cm: 60 + 15 cm and a tenth more, 82.5 cm, and 10 cm for the loop.
#[tokio::test]
async fn an_airline_is_cut_in_two_lengths() {
    let mut house = worked().await;
    house.say("/gear add box fresh air").await;
    let open = house.say("/plumb box fresh").await;
    holds(
        &open,
        &[
            "Not known: the way across to the rim, the rim's height above the water, how far the valve hangs below the rim",
            "/gear set box fresh air across 20 cm rim 25 cm valve 40 cm run 60 cm pump 30 cm below",
            // Water above the stone 795 Pa, the stone 2 kPa, the valve 0.5 kPa.
            "Pump: the stone 8.1 cm deep takes 3.3 kPa (1.8 kPa to 4.8 kPa",
        ],
    );
    house
        .say("/gear set box fresh air stone 8 cm across 20 cm rim 25 cm valve 40 cm run 60 cm pump 30 cm below")
        .await;
    let text = house.say("/plumb box fresh").await;
    holds(
        first(&text),
        &[
            "Box fresh: airline 102.3 cm and 92.5 cm, the valve between; siphon 0.6 cm inside, 2 L in 1 bucket, ",
        ],
    );
    holds(
        &text,
        &[
            "cut 102.3 cm from stone to valve and 92.5 cm from valve to pump",
            "The pump stands 30 cm below the water line: a check valve goes into the second length",
            "Mains beside water",
            "Local codes and licensed people come first",
            "drip loop",
            "sealed",
            "whether the stone is weighted",
        ],
    );
    for (pressure, said) in [
        ("12 kPa", "Rated 12 kPa: enough."),
        ("4 kPa", "Rated 4 kPa: likely enough."),
        ("2 kPa", "Rated 2 kPa: perhaps enough"),
        (
            "10 mbar",
            "Rated 1 kPa: too weak by 2.3 kPa. First what is there: open the valve all the way, and change a fine-pored \
             stone for a coarser one (a stone takes 1 kPa to 3 kPa, the finer the more); a shallower stone helps too, but \
             no depth makes up for all of it. A still pool needs no air at all",
        ),
    ] {
        house
            .say(&format!("/gear set box fresh air pressure {pressure} weighted"))
            .await;
        holds(&house.say("/plumb box fresh").await, &[said]);
    }
    let text = house.say("/plumb box fresh").await;
    holds(
        first(&text),
        &["Box fresh: pump too weak by 2.3 kPa; airline 102.3 cm and 92.5 cm"],
    );
    house
        .say("/gear set box fresh air pump 20 cm above weighted no")
        .await;
    holds(
        &house.say("/plumb box fresh").await,
        &["a check valve is not needed", "The stone is loose"],
    );
}

/// The pump is taken for 30 cm below the water line: the second length is 60 + 15 cm and a tenth more, and 10 cm.
#[tokio::test]
async fn a_pump_whose_place_was_not_told_is_taken_to_stand_low() {
    let mut house = worked().await;
    house.say("/gear add box fresh air").await;
    house
        .say("/gear set box fresh air stone 8 cm across 20 cm rim 25 cm valve 40 cm run 60 cm")
        .await;
    let text = house.say("/plumb box fresh").await;
    holds(first(&text), &["airline 102.3 cm and 92.5 cm"]);
    holds(
        &text,
        &[
            "Where the pump stands was not told: it is taken to stand 30 cm below the water line, so a check valve goes into",
            "/gear set box fresh air pump 30 cm below",
        ],
    );
}

#[tokio::test]
async fn a_pump_below_the_water_needs_a_check_valve() {
    let mut house = worked().await;
    house.say("/gear add box fresh air").await;
    let sentence = "The pump of Box fresh stands 30 cm below the water line without a check valve, so the pool runs out \
                    through it when it stops; put one in, or stand the pump above the water.";
    let said = house
        .refused("/gear set box fresh air pump 30 cm below check valve no")
        .await;
    assert!(said.starts_with(sentence), "{said}");
    // Told one after the other, it is refused as well.
    house.say("/gear set box fresh air check valve no").await;
    holds(
        &house.refused("/gear set box fresh air pump 30 cm below").await,
        &[sentence],
    );
    house.say("/gear set box fresh air pump 30 cm above").await;
    house
        .say("/gear set box fresh air check valve yes pump 30 cm below")
        .await;
}

/// 2.5 US gal: the smallest usual range that starts there or above is 5–10 (rule of thumb, fact sheet section 10). The water
/// stands 577.5 in³ / 160 in² = 3.61 in deep.
#[tokio::test]
async fn a_filter_has_its_range_and_its_fill_line() {
    let mut house = american().await;
    let text = house.say("/plumb north fresh").await;
    holds(
        &text,
        &[
            "filter rated 5–10 US gal",
            "Filter for 2.5 US gal: the smallest rated range that starts there or above is 5–10 US gal (rule of thumb",
            "/gear set north fresh filter rated 5-10 gal",
            "/gear set north fresh filter fill line 3 in",
        ],
    );
    let said = house
        .refused("/gear set north fresh filter rated 5-10 gal fill line 5 in")
        .await;
    assert!(
        said.starts_with(
            "The filter is wrong for North fresh: its minimum fill line at 5 in lies 1.4 in above the water at 3.6 in"
        ),
        "{said}"
    );
    let told = house
        .say("/gear set north fresh filter rated 5-10 gal fill line 3 in flow 50 gph")
        .await;
    assert_eq!(
        told,
        "North fresh, filter: rated 5–10 US gal, minimum fill line 3 in above the floor, flow 0.83 US gal/min."
    );
    let text = house.say("/plumb north fresh").await;
    holds(
        &text,
        &[
            "Filter rated 5–10 US gal: it starts at the pool's 2.5 US gal or above",
            "the filter's minimum fill line at 3 in lies 0.61 in under the water at 3.6 in. Evaporation bares it in ",
            // 50 gal an hour through 2.5 gal; in use a quarter to two fifths less.
            "the water goes through 20 times an hour by its rating, 12 to 15 in use",
            "nothing is published for land hermit crabs",
        ],
    );
    house.say("/gear set north fresh filter rated 1-4 gal").await;
    holds(
        &house.say("/plumb north fresh").await,
        &[
            "it starts below the pool's 2.5 US gal",
            "Readings that stay in order count for more",
        ],
    );
}

#[tokio::test]
async fn a_fill_line_above_the_water_is_refused_in_centimetres() {
    let mut house = worked().await;
    house.say("/pool set box fresh depth 10 cm").await;
    house.say("/gear add box fresh filter").await;
    holds(
        &house.refused("/gear set box fresh filter fill line 12 cm").await,
        &["its minimum fill line at 12 cm lies 2 cm above the water at 10 cm"],
    );
    // Water that was lowered since is the truth, and the line is above it from then on.
    house.say("/gear set box fresh filter fill line 9 cm").await;
    let lowered = house.say("/pool set box fresh depth 8.5 cm").await;
    holds(&lowered, &["lies 0.5 cm above the water at 8.5 cm"]);
    let refused = house.refused("/plumb box fresh").await;
    holds(&refused, &["The filter is wrong for Box fresh"]);
    let fit = house.say("/fit box").await;
    holds(first(&fit), &["The filter is wrong for Box fresh", "Box: "]);
}

/// A tube of 9 mm, 1.5 m long with 60 cm of head gives 5.224 L/min of fresh water at 25 °C (the fluids library, fact sheet
/// section 5).
#[tokio::test]
async fn a_siphon_fills_buckets() {
    let mut house = worked().await;
    house
        .say("/pool set box fresh shape box 50x40x12 cm volume 20 L")
        .await;
    let text = house
        .say("/plumb box fresh head 60 cm tube 150 cm bore 9 mm bucket 10 L")
        .await;
    holds(
        &text,
        &[
            "a tube 0.9 cm inside and 150 cm long, its end 60 cm below the water, gives 5.2 L/min at first; 20 L take ",
            "Bucket of 10 L, filled to 8 L: 3 buckets",
            "a filled one weighs 8 kg without the bucket",
            "never by mouth",
            "Box fresh weighs about 19.9 kg without its container.",
        ],
    );
    assert!(!text.contains("Assumed"), "{text}");
    let usual = house.say("/plumb box fresh").await;
    holds(
        &usual,
        &[
            "Assumed (common practice): the bore by the pool's volume, 50 cm of head, 150 cm of tube and a bucket of 10 L.",
            "No air is fitted; a still pool needs none.",
            "No filter is fitted",
        ],
    );
}

#[tokio::test]
async fn a_siphon_without_head_is_one_sentence() {
    let mut house = worked().await;
    let sentence = "Nothing flows without a head: the bucket has to stand lower than the water in Box fresh; say by how \
                    much, as in head 50 cm.";
    for head in ["0 cm", "0", "-10 cm"] {
        assert_eq!(
            house.refused(&format!("/plumb box fresh head {head}")).await,
            sentence
        );
    }
    for (line, part) in [
        (
            "head 90 cm tube 50 cm",
            "A tube of 50 cm does not reach 90 cm down",
        ),
        ("head 3 cm", "With a head of 3 cm the flow stops after "),
    ] {
        holds(&house.refused(&format!("/plumb box fresh {line}")).await, &[part]);
    }
}

#[tokio::test]
async fn a_measure_of_the_siphon_that_cannot_be_says_which() {
    let mut house = worked().await;
    let said = house.refused("/plumb box fresh bore 500 cm").await;
    holds(
        &said,
        &["The bore of the tube: 500 cm cannot be; it runs from 0.1 cm to 20 cm."],
    );
}
