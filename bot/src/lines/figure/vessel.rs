//! What a pool is made of: shape, gravel, way out.

use wrackline_core::particulars::Way;
use wrackline_core::pool::contents::{Gravel, Porosity};
use wrackline_core::pool::shape::{Fill, Shape};
use wrackline_core::quantity::{Centimetres, Litres, fraction, volume};

use super::lengths::lengths;
use super::{Figure, one_length, plain, wrong};
use crate::lines::problem::problem;
use crate::lines::token::{Token, join};
use crate::lines::{Context, Refusal, people};

/// Shapes by the words that people say for them, and how many lengths each has.
const SHAPES: [(&str, usize); 12] = [
    ("box", 3),
    ("tray", 3),
    ("cylinder", 2),
    ("round", 2),
    ("bowl", 3),
    ("frustum", 3),
    ("tub", 5),
    ("quarter round", 2),
    ("ellipse", 3),
    ("oval", 3),
    ("hexagon", 2),
    ("filled", 0),
];

/// The most words that a shape has: a table of a dozen fillings.
pub(in crate::lines) const WORDS_MAX: usize = 60;

/// "box 30x20x12 cm": lengths in the order of [`SHAPES`], from the floor to the rim; the height comes last. A bowl's are the
/// widths at the floor and at the rim. "filled 3 cm 1.2 L, 6 cm 2.6 L" is a table of levels and what was poured in.
pub(in crate::lines) fn shape(words: &[Token], ctx: &Context<'_>) -> Result<Shape, Refusal> {
    let text = plain(words);
    let text = text.strip_prefix("tapered ").unwrap_or(&text);
    let named = SHAPES
        .iter()
        .filter(|(name, _)| text.strip_prefix(name).is_some_and(|rest| rest.starts_with(' ')))
        .max_by_key(|(name, _)| name.len());
    let Some((name, count)) = named else {
        return Err(wrong(Figure::Shape, words));
    };
    let rest = text[name.len()..].trim();
    let units = ctx.place.units;
    if *name == "filled" {
        return table(rest, words, ctx);
    }
    let found: Vec<Centimetres> = lengths(rest, units)?.into_iter().map(Centimetres).collect();
    if found.len() != *count {
        return Err(wrong(Figure::Shape, words));
    }
    Ok(match (*name, found.as_slice()) {
        ("box" | "tray", [length, width, height]) => Shape::Box {
            length: *length,
            width: *width,
            height: *height,
        },
        ("cylinder" | "round", [diameter, height]) => Shape::Cylinder {
            diameter: *diameter,
            height: *height,
        },
        ("bowl" | "frustum", [bottom, top, height]) => Shape::Frustum {
            bottom_radius: *bottom * 0.5,
            top_radius: *top * 0.5,
            height: *height,
        },
        ("tub", [bottom_length, bottom_width, top_length, top_width, height]) => Shape::Tub {
            bottom_length: *bottom_length,
            bottom_width: *bottom_width,
            top_length: *top_length,
            top_width: *top_width,
            height: *height,
        },
        ("quarter round", [radius, height]) => Shape::QuarterRound {
            radius: *radius,
            height: *height,
        },
        ("ellipse" | "oval", [length, width, height]) => Shape::Ellipse {
            length: *length,
            width: *width,
            height: *height,
        },
        ("hexagon", [side, height]) => Shape::Hexagon {
            side: *side,
            height: *height,
        },
        _ => return Err(wrong(Figure::Shape, words)),
    })
}

/// "3 cm 1.2 L, 6 cm 2.6 L": a level and what was poured in until there.
fn table(rest: &str, words: &[Token], ctx: &Context<'_>) -> Result<Shape, Refusal> {
    let units = ctx.place.units;
    let mut points = Vec::new();
    // A comma between digits is that of a decimal.
    let pairs = rest.split(", ").map(|pair| pair.trim().trim_end_matches(','));
    for pair in pairs.filter(|pair| !pair.is_empty()) {
        let parts: Vec<&str> = pair.split_whitespace().collect();
        let read = |cut: usize| {
            let level = one_length(&parts[..cut].join(" "), units).ok()?;
            let litres = volume(&parts[cut..].join(" "), units).ok()?;
            Some(Fill {
                level: Centimetres(level),
                litres: Litres(litres),
            })
        };
        let point = (1..parts.len()).find_map(read);
        points.push(point.ok_or_else(|| wrong(Figure::Shape, words))?);
    }
    if points.len() < 2 {
        return Err(wrong(Figure::Shape, words));
    }
    Ok(Shape::Table { points })
}

/// Where among bare words a shape stands, and up to where: an enclosure may be called like one.
pub(in crate::lines) fn shape_in(words: &[Token], ctx: &Context<'_>) -> Option<(usize, usize)> {
    let ends = |from: usize| {
        let most = words.len().min(from + WORDS_MAX);
        (from + 2..=most).rev().find(|to| {
            words[from..*to].iter().all(|word| !word.quoted) && shape(&words[from..*to], ctx).is_ok()
        })
    };
    (0..words.len()).find_map(|from| ends(from).map(|to| (from, to)))
}

/// "3 cm", "3 cm sand", "3 cm clean", "3 cm porosity 40%", "none".
pub(in crate::lines) fn gravel(words: &[Token], ctx: &Context<'_>) -> Result<Option<Gravel>, Refusal> {
    if people::is_nobody(words) {
        return Ok(None);
    }
    let units = ctx.place.units;
    let (depth, porosity) = match words {
        [depth @ .., last] if last.is("sand") => (depth, Porosity::SAND),
        [depth @ .., last] if last.is("clean") => (depth, Porosity::CLEAN_EVEN_GRAVEL),
        all => match all.iter().position(|word| word.is("porosity")) {
            Some(at) => {
                let share =
                    fraction(&join(&all[at + 1..])).map_err(|found| Refusal(problem(&found, units)))?;
                (&all[..at], Porosity::measured(share))
            }
            None => (all, Porosity::GRAVEL),
        },
    };
    Ok(Some(Gravel {
        depth: Centimetres(one_length(&join(depth), units)?),
        porosity,
    }))
}

/// "ramp 8x12 cm" (rise, run), "steps 2x8 cm" (the highest step, all of them), "none".
pub(in crate::lines) fn way_out(words: &[Token], ctx: &Context<'_>) -> Result<Way, Refusal> {
    if people::is_nobody(words) || matches!(words, [one] if one.is("wall")) {
        return Ok(Way::Wall);
    }
    let [kind, rest @ ..] = words else {
        return Err(wrong(Figure::WayOut, words));
    };
    let found = lengths(&plain(rest), ctx.place.units)?;
    match found.as_slice() {
        [rise, run] if kind.is("ramp") => Ok(Way::Ramp {
            rise: *rise,
            run: *run,
        }),
        [highest, rise] if kind.is("steps") => Ok(Way::Steps {
            highest: *highest,
            rise: *rise,
        }),
        _ => Err(wrong(Figure::WayOut, words)),
    }
}
