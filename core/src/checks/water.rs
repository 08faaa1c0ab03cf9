//! Topics of what is mixed, thinned and conditioned.

use super::{Claim, Row, named, numbers};
use crate::quantity::{Celsius, Days, Litres, MilligramsPerLitre};
use crate::water::conditioner::{Authority, LIMITS, Mains, Route, freed_ammonia, titrant};
use crate::water::dilution::{
    Keeping, Longest, Made, after, changes_to, continuous, longest_interval, same_as_one,
};
use crate::water::mixing::{largest_fraction, mixed};

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("thiosulfate", Claim::By(thiosulfate)),
    ("chloramine", Claim::By(chloramine)),
    ("chlorine_limits", Claim::By(limits)),
    ("dilution", Claim::By(dilution)),
    ("steady_state", Claim::By(steady)),
    ("mixing", Claim::By(mixing)),
];

fn mg(value: f64) -> MilligramsPerLitre {
    MilligramsPerLitre(value)
}

fn thiosulfate(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    if text.starts_with("mL of") {
        return Some(vec![titrant(1.0, *numbers(text).first()?).ok()?.0]);
    }
    let route = [
        ("to sulfate 1:4", Route::Sulfate),
        ("to sulfur+sulfate 1:1", Route::SulfurAndSulfate),
        ("to tetrathionate 2:1", Route::Tetrathionate),
    ]
    .into_iter()
    .find_map(|(words, route)| text.starts_with(words).then_some(route))?;
    Some(vec![if text.contains("anhydrous") {
        route.anhydrous()
    } else if text.contains("Na2S2O3.5H2O") {
        route.pentahydrate()
    } else {
        return None;
    }])
}

fn chloramine(row: &Row) -> Option<Vec<f64>> {
    let freed = freed_ammonia(mg(1.0)).ok()?;
    match row.inputs.split_once(" released")?.0 {
        "NH3" => Some(vec![freed.ammonia.0]),
        "NH3-N" => Some(vec![freed.nitrogen.0]),
        _ => None,
    }
}

/// One number where the row names one substance or gives one figure for both.
fn limits(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    let authority = if text.starts_with("WHO") {
        Authority::Who
    } else if text.starts_with("US EPA") {
        Authority::UsEpa
    } else {
        return None;
    };
    let named = |mains: Mains| match mains {
        Mains::Chlorine => text.contains(" chlorine"),
        Mains::Chloramine => text.contains("chloramine"),
    };
    let mut all: Vec<f64> = LIMITS
        .iter()
        .filter(|limit| limit.authority == authority && named(limit.mains))
        .map(|limit| limit.most.0)
        .collect();
    all.dedup();
    Some(all)
}

fn dilution(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    let source = named(text, "s").or_else(|| numbers(text.split_once("source ")?.1).first().copied());
    let value = match text {
        "two 25% changes remove" => same_as_one(0.25, 2).ok()?,
        "continuous change replacing volume ln2*V leaves" => {
            let all = continuous(
                mg(1.0),
                mg(0.0),
                Litres(std::f64::consts::LN_2 * 20.0),
                Litres(20.0),
            );
            all.ok()?.0
        }
        "continuous change of exactly 1 V leaves" => {
            continuous(mg(1.0), mg(0.0), Litres(20.0), Litres(20.0)).ok()?.0
        }
        _ => {
            let (start, source, fraction) = (mg(named(text, "C0")?), mg(source?), named(text, "f")?);
            if let Some((_, target)) = text.split_once("first n with C<=") {
                let target = mg(*numbers(target).first()?);
                f64::from(changes_to(start, target, source, fraction).ok()?)
            } else {
                let n = *numbers(text.split_once("; after ")?.1).first()?;
                after(start, source, fraction, n as u32).ok()?.0
            }
        }
    };
    Some(vec![value])
}

fn keeping(text: &str, removal: f64) -> Option<Keeping> {
    let made = Made {
        per_day: mg(named(text, "p")?),
        removal,
    };
    Keeping::new(
        mg(named(text, "s")?),
        named(text, "f")?,
        Days(named(text, "k")?),
        made,
    )
    .ok()
}

fn steady(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    if text == "same: trough" {
        return trough_of_the_same(row);
    }
    if text.starts_with("50 mg/d into 700 L; 25 % every 14 d") {
        let [mg_d, litres, percent, days, ..] = numbers(text)[..] else {
            return None;
        };
        let made = Made {
            per_day: mg(mg_d / litres),
            removal: 0.0,
        };
        let keeping = Keeping::new(mg(0.0), percent / 100.0, Days(days), made).ok()?;
        return Some(vec![keeping.steady().peak.0]);
    }
    if let Some(limit) = text.strip_prefix("limit ") {
        let limit = mg(*numbers(limit).first()?);
        let made = Made {
            per_day: mg(named(text, "p")?),
            removal: 0.0,
        };
        return match longest_interval(limit, mg(named(text, "s")?), named(text, "f")?, made).ok()? {
            Longest::Days { exact, .. } => Some(vec![exact.0]),
            Longest::Any => None,
        };
    }
    let keeping = keeping(text, 0.0)?;
    if let Some(start) = text.strip_prefix("start ") {
        let n = *numbers(text.split_once("before change ")?.1).first()?;
        let peaks = keeping.peaks(mg(*numbers(start).first()?), n as u32).ok()?;
        return Some(vec![peaks.last()?.0]);
    }
    text.ends_with(": peak").then(|| vec![keeping.steady().peak.0])
}

/// Two rows ask for the trough of "the same", and each belongs to a row before it. The first follows the peak of a pool
/// that nothing is taken up in. The row that the second followed, the same pool with a tenth taken up a day, is not in
/// the table: its removal stands here. Which of the two is asked for is where it stands in the table.
fn trough_of_the_same(row: &Row) -> Option<Vec<f64>> {
    let all = super::rows();
    let steady: Vec<&Row> = all.iter().filter(|other| other.topic == row.topic).collect();
    let is_this = |other: &&Row| other.inputs == row.inputs && other.expected == row.expected;
    let at = steady.iter().position(is_this)?;
    let first = steady.iter().position(|other| other.inputs == row.inputs)?;
    let removal = if at == first { 0.0 } else { 0.1 };
    let pool = steady.iter().find(|other| other.inputs.ends_with("s=5: peak"))?;
    Some(vec![keeping(&pool.inputs, removal)?.steady().trough.0])
}

fn mixing(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    let [first, second, third, ..] = numbers(text)[..] else {
        return None;
    };
    if text.contains(" % of ") {
        return Some(vec![
            mixed(Celsius(third), Celsius(second), first / 100.0).ok()?.0,
        ]);
    }
    let fraction = text
        .contains("keep change")
        .then(|| largest_fraction(Celsius(second), Celsius(first), third))?;
    Some(vec![fraction.ok()?])
}
