//! What gear is: rated ranges, flows, pressures, heights.

use wrackline_core::quantity::{Units, volume};

use super::{Figure, one_length, plain, wrong};
use crate::lines::token::{Token, join};
use crate::lines::{Context, Refusal};

/// "5-10 gal", "5 to 10 gal": litres from and to.
pub(in crate::lines) fn rated(words: &[Token], ctx: &Context<'_>) -> Result<(f64, f64), Refusal> {
    let text = plain(words).replace('–', "-");
    let parted = text.split_once(" to ").or_else(|| text.split_once('-'));
    let Some((from, to)) = parted else {
        return Err(wrong(Figure::Rated, words));
    };
    let (from, to) = (from.trim(), to.trim());
    let unit = to.trim_start_matches(|c: char| c.is_ascii_digit() || c.is_whitespace() || ".,".contains(c));
    let read = |text: &str| volume(text, ctx.place.units).ok();
    let low = read(from).or_else(|| read(&format!("{from} {unit}")));
    match (low, read(to)) {
        (Some(low), Some(high)) if low < high => Ok((low, high)),
        _ => Err(wrong(Figure::Rated, words)),
    }
}

/// "200 L/h", "3 L/min", "50 gph": litres a minute.
pub(in crate::lines) fn flow(words: &[Token], ctx: &Context<'_>) -> Result<f64, Refusal> {
    const MINUTE: [&str; 5] = ["/min", "per minute", "a minute", "/minute", "pm"];
    const HOUR: [&str; 6] = ["/h", "per hour", "an hour", "/hour", "/hr", "ph"];
    let text = plain(words);
    let ends = MINUTE
        .iter()
        .map(|end| (*end, 1.0))
        .chain(HOUR.iter().map(|end| (*end, 60.0)));
    let read = |(end, minutes): (&str, f64)| {
        let amount = text.strip_suffix(end)?.trim();
        // "50 gph" is gallons an hour.
        let amount = match amount.strip_suffix('g') {
            Some(number) if matches!(end, "ph" | "pm") => format!("{number} gal"),
            _ => amount.to_owned(),
        };
        volume(&amount, ctx.place.units)
            .ok()
            .map(|litres| litres / minutes)
    };
    let found = ends.into_iter().find_map(read);
    found
        .filter(|flow| *flow <= 1000.0)
        .ok_or_else(|| wrong(Figure::Flow, words))
}

/// "12 kPa", "120 mbar", "1.7 psi", "0.012 MPa": pascals.
pub(in crate::lines) fn pressure(words: &[Token]) -> Result<f64, Refusal> {
    /// A psi in Pa (from memory; the pound and the inch by definition give it).
    const PSI: f64 = 6_894.757;
    let text = plain(words);
    let units = [
        ("kpa", 1e3),
        ("mpa", 1e6),
        ("mbar", 100.0),
        ("hpa", 100.0),
        ("psi", PSI),
        ("pa", 1.0),
    ];
    let read = |(unit, pascals): (&str, f64)| {
        let number = text.strip_suffix(unit)?.trim().replace(',', ".");
        number.parse::<f64>().ok().map(|value| value * pascals)
    };
    let found = units.into_iter().find_map(read);
    found
        .filter(|pa| *pa > 0.0 && *pa <= 200_000.0)
        .ok_or_else(|| wrong(Figure::Pressure, words))
}

/// "30 cm below", "10 cm above", "level": cm above the water line.
pub(in crate::lines) fn pump(words: &[Token], ctx: &Context<'_>) -> Result<f64, Refusal> {
    if matches!(words, [one] if one.is("level")) {
        return Ok(0.0);
    }
    let [length @ .., side] = words else {
        return Err(wrong(Figure::Pump, words));
    };
    let sign = match side.key.as_str() {
        "below" | "under" => -1.0,
        "above" | "over" => 1.0,
        _ => return Err(wrong(Figure::Pump, words)),
    };
    one_length(&join(length), ctx.place.units).map(|cm| sign * cm)
}

/// "50 cm": how far the bucket's water lies below the pool's. Nothing and less than nothing can be said too: the answer is
/// that nothing flows then.
pub(in crate::lines) fn head(words: &[Token], ctx: &Context<'_>) -> Result<f64, Refusal> {
    let text = join(words);
    let (sign, rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim()),
        None => (1.0, text.as_str()),
    };
    let zero = rest.split_whitespace().next().is_some_and(|first| {
        let digits = first.trim_end_matches(|c: char| c.is_alphabetic() || c == '"');
        digits.parse::<f64>().is_ok_and(|number| number == 0.0)
    });
    if zero {
        return Ok(0.0);
    }
    one_length(rest, units(ctx)).map(|cm| sign * cm)
}

fn units(ctx: &Context<'_>) -> Units {
    ctx.place.units
}
