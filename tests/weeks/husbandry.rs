//! Published and common figures of care beside the numbers in the code: `data/husbandry.csv`, each with its source.

use wrackline_core::air::{BAND_CELSIUS, BAND_PERCENT};
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::care::{Every, Rule};

use crate::time::cells;

const US_GALLON_L: f64 = 3.785_411_784;

/// What the code says of a row's matter, in that row's own words; `None` where the core has no such number.
fn said(inputs: &str) -> Option<String> {
    let days = |rule: Rule| match rule.row().every {
        Every::Days(days) => days.to_string(),
        Every::Hours(hours) => (hours / 24).to_string(),
    };
    Some(match inputs {
        "relative humidity band %" => format!("{}-{}", BAND_PERCENT.0, BAND_PERCENT.1),
        "temperature band C" => format!("{}-{}", BAND_CELSIUS.0, BAND_CELSIUS.1),
        "still pool change interval days" => days(Rule::ChangeStill),
        "aerated pool change interval days" => days(Rule::ChangeAerated),
        "conditioner re-dose interval days" => days(Rule::Condition),
        "filtered pool" => {
            let is_part = [2.0, 5.0, 20.0]
                .iter()
                .all(|gallons| part_fraction(gallons * US_GALLON_L) < 1.0);
            if is_part {
                "partial change on a fraction/limit rule"
            } else {
                "change"
            }
            .to_owned()
        }
        "small pool threshold US gal: change nearly all / partial enough" => {
            // The largest of the tenths of a gallon at which all is asked for, and the smallest with the least.
            let tenths = || (1..=100).map(|tenth| f64::from(tenth) / 10.0);
            let all = tenths().rfind(|gallons| part_fraction(gallons * US_GALLON_L) >= 1.0)?;
            let least = tenths().find(|gallons| part_fraction(gallons * US_GALLON_L) <= 0.5)?;
            format!("{all} / {least}")
        }
        _ => return None,
    })
}

#[test]
fn the_figures_are_those_of_the_table() {
    let (mut compared, mut others) = (0, Vec::new());
    for line in include_str!("../data/husbandry.csv").lines().skip(1) {
        let [_, inputs, expected, source] = cells(line).try_into().expect("four cells");
        assert!(!source.is_empty(), "no source: {line}");
        match said(&inputs) {
            Some(found) => {
                assert_eq!(found, expected, "{inputs}");
                compared += 1;
            }
            None => others.push(inputs),
        }
    }
    assert_eq!(compared, 7);
    assert_eq!(
        others,
        ["filter turnover per hour", "filter rated-flow loss in use %"]
    );
}
