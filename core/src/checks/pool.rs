//! Topics of vessels, tubes and filters.

use super::{Claim, Row, numbers};
use crate::pool::contents::{Contents, Displaced, Gravel, Porosity, Thing, porosity};
use crate::pool::shape::Shape;
use crate::quantity::{Centimetres, Litres};
use Claim::By;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("volume_L", By(volume)),
    ("fill_height", By(fill_height)),
    ("displacement", By(displacement)),
    ("porosity", By(porosity_of)),
];

/// The shape that a row tells of, and how many numbers it took to tell.
fn shape(inputs: &str) -> Option<(Shape, usize)> {
    // "30x20" is two numbers, "r10->13" too.
    let given: Vec<Centimetres> = numbers(&inputs.replace("->", " "))
        .into_iter()
        .map(Centimetres)
        .collect();
    let shape = match (inputs.split([' ', '-']).next()?, given.as_slice()) {
        ("box", &[length, width, height, ..]) => (Shape::Box { length, width, height }, 3),
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
    Some(vec![
        contents.water_to(&shape, Centimetres(level)).ok()?.likely.0,
    ])
}

fn porosity_of(row: &Row) -> Option<Vec<f64>> {
    let [bulk, particle, ..] = numbers(&row.inputs)[..] else {
        return None;
    };
    Some(vec![porosity(bulk, particle).ok()?])
}
