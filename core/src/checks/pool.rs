//! Topics of vessels, tubes and filters.

use super::{Claim, Row, named, numbers};
use crate::pool::airline::water_above;
use crate::pool::contents::{Contents, Displaced, Gravel, Porosity, Thing, porosity};
use crate::pool::shape::Shape;
use crate::pool::siphon::{Liquid, Tube, flow, frictionless};
use crate::quantity::{Celsius, Centimetres, Density, Litres, Salinity};
use Claim::By;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("volume_L", By(volume)),
    ("fill_height", By(fill_height)),
    ("displacement", By(displacement)),
    ("porosity", By(porosity_of)),
    ("siphon", By(siphon_flow)),
    ("air_stone", By(water_above_a_stone)),
];

/// The shape that a row tells of, and how many numbers it took to tell.
fn shape(inputs: &str) -> Option<(Shape, usize)> {
    // "30x20" is two numbers, "r10->13" too.
    let given: Vec<Centimetres> = numbers(&inputs.replace("->", " "))
        .into_iter()
        .map(Centimetres)
        .collect();
    let shape = match (inputs.split([' ', '-']).next()?, given.as_slice()) {
        ("box", &[length, width, height, ..]) => (
            Shape::Box {
                length,
                width,
                height,
            },
            3,
        ),
        ("cylinder", &[diameter, height, ..]) => (Shape::Cylinder { diameter, height }, 2),
        ("frustum", &[bottom_radius, top_radius, height, ..]) => (
            Shape::Frustum {
                bottom_radius,
                top_radius,
                height,
            },
            3,
        ),
        ("rectangular", &[bottom_length, bottom_width, top_length, top_width, height, ..]) => (
            Shape::Tub {
                bottom_length,
                bottom_width,
                top_length,
                top_width,
                height,
            },
            5,
        ),
        ("quarter", &[radius, height, ..]) => (Shape::QuarterRound { radius, height }, 2),
        ("hexagon", &[side, height, ..]) => (Shape::Hexagon { side, height }, 2),
        _ => return None,
    };
    Some(shape)
}

fn volume(row: &Row) -> Option<Vec<f64>> {
    let (shape, _) = shape(&row.inputs)?;
    Some(vec![shape.full().ok()?.0])
}

fn fill_height(row: &Row) -> Option<Vec<f64>> {
    let (shape, taken) = shape(&row.inputs)?;
    let litres = *numbers(&row.inputs.replace("->", " ")).get(taken)?;
    Some(vec![shape.level_for(Litres(litres)).ok()?.0])
}

/// "30x20 cm; level 10 cm; gravel 3 cm porosity 0.40; rocks 0.4 L".
fn displacement(row: &Row) -> Option<Vec<f64>> {
    let [length, width, level, depth, open, stones] = numbers(&row.inputs)[..] else {
        return None;
    };
    let shape = Shape::Box {
        length: Centimetres(length),
        width: Centimetres(width),
        height: Centimetres(level),
    };
    let contents = Contents {
        gravel: Some(Gravel {
            depth: Centimetres(depth),
            porosity: Porosity::measured(open),
        }),
        displaced: vec![Displaced {
            thing: Thing::Stones,
            litres: Litres(stones),
        }],
    };
    Some(vec![contents.water_to(&shape, Centimetres(level)).ok()?.likely.0])
}

fn porosity_of(row: &Row) -> Option<Vec<f64>> {
    let [bulk, particle, ..] = numbers(&row.inputs)[..] else {
        return None;
    };
    Some(vec![porosity(bulk, particle).ok()?])
}

/// "D=0.006 m; L=1.5 m; head 0.5 m; K=0.5; 25 C smooth PVC", or "same D=0.012 h=0.6: frictionless Torricelli".
fn siphon_flow(row: &Row) -> Option<Vec<f64>> {
    let text = &row.inputs;
    let bore = Centimetres(100.0 * named(text, "D")?);
    if text.contains("frictionless") {
        let head = Centimetres(100.0 * named(text, "h")?);
        return Some(vec![frictionless(bore, head).ok()?.0]);
    }
    let [_, length, head, losses, celsius] = numbers(text)[..] else {
        return None;
    };
    let tube = Tube {
        bore,
        length: Centimetres(100.0 * length),
        losses,
    };
    let liquid = Liquid::new(Celsius(celsius), Salinity(0.0)).ok()?;
    Some(vec![flow(tube, Centimetres(100.0 * head), liquid).ok()?.rate.0])
}

/// "depth 0.1 m; rho 997.05".
fn water_above_a_stone(row: &Row) -> Option<Vec<f64>> {
    let [depth, density] = numbers(&row.inputs)[..] else {
        return None;
    };
    Some(vec![
        water_above(Centimetres(100.0 * depth), Density(density)).ok()?.0,
    ])
}
