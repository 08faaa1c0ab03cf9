//! Figures that have more to them than a number and a unit: sizes, shapes, lids, flows.
//!
//! `figure/lengths` reads several lengths in a row, `figure/vessel` what a pool is made of, `figure/gear` what gear is; here
//! is what an enclosure and a room are, and which figure is read how.

mod gear;
mod lengths;
mod person;
mod vessel;

use wrackline_core::particulars::{Glazing, Lid, Material, RoomAir, Size};
use wrackline_core::quantity::{Measured, Units, length_cm, readings};

pub(super) use self::gear::{flow, head, pressure, pump, rated};
use self::lengths::lengths;
pub(super) use self::person::{free, language, lifts, minutes, share, skill};
pub(super) use self::vessel::{WORDS_MAX, gravel, shape, shape_in, way_out};
use super::problem::problem;
use super::token::{Token, join};
use super::{Context, Refusal, people, refuse};
use crate::msg;

/// A figure of a set-up line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Inside length, width and height.
    Size,
    /// A depth, or none.
    Layer,
    /// Panes: material and thickness.
    Glazing,
    /// A lid, or exchanges an hour.
    Lid,
    /// A temperature of air.
    Heat,
    /// Temperature and humidity of a room.
    RoomAir,
    /// The inside of a pool's container.
    Shape,
    /// A layer of gravel, or none.
    Gravel,
    /// How crabs get out.
    WayOut,
    /// The pools that a filter is rated for.
    Rated,
    /// A flow of air or water.
    Flow,
    /// A pressure.
    Pressure,
    /// A height above or below the water line.
    Pump,
    /// How far a siphon's end lies below the water.
    Head,
    /// A language.
    Language,
    /// Weekdays, each lot with a round or for all of them.
    Free,
    /// What a person can do.
    Skill,
    /// What a person lifts.
    Lifts,
    /// A share of the work.
    Share,
    /// Minutes on one day.
    Minutes,
}

impl Figure {
    /// All of them.
    pub const ALL: [Self; 20] = [
        Self::Size,
        Self::Layer,
        Self::Glazing,
        Self::Lid,
        Self::Heat,
        Self::RoomAir,
        Self::Shape,
        Self::Gravel,
        Self::WayOut,
        Self::Rated,
        Self::Flow,
        Self::Pressure,
        Self::Pump,
        Self::Head,
        Self::Language,
        Self::Free,
        Self::Skill,
        Self::Lifts,
        Self::Share,
        Self::Minutes,
    ];

    /// One as people say it; it stands in usages and in refusals.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            Self::Size => "90x45x45 cm",
            Self::Layer => "15 cm",
            Self::Glazing => "6 mm",
            Self::Lid => "closed|gaps|open|0.5/h",
            Self::Heat => "27C",
            Self::RoomAir => "21C 40%",
            Self::Shape => "box 30x20x12 cm",
            Self::Gravel => "3 cm",
            Self::WayOut => "ramp 8x12 cm",
            Self::Rated => "5-10 gal",
            Self::Flow => "200 L/h",
            Self::Pressure => "12 kPa",
            Self::Pump => "30 cm below",
            Self::Head => "50 cm",
            Self::Language => "en",
            Self::Free => "Mon Wed evening, Sat Sun",
            Self::Skill => "siphon|salt|all|none",
            Self::Lifts => "10 kg|anything",
            Self::Share => "0.5|none",
            Self::Minutes => "30|any",
        }
    }

    /// What it is called in the words file.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Layer => "layer",
            Self::Glazing => "glazing",
            Self::Lid => "lid",
            Self::Heat => "heat",
            Self::RoomAir => "room-air",
            Self::Shape => "shape",
            Self::Gravel => "gravel",
            Self::WayOut => "way-out",
            Self::Rated => "rated",
            Self::Flow => "flow",
            Self::Pressure => "pressure",
            Self::Pump => "pump",
            Self::Head => "head",
            Self::Language => "language",
            Self::Free => "free",
            Self::Skill => "skill",
            Self::Lifts => "lifts",
            Self::Share => "share",
            Self::Minutes => "minutes",
        }
    }
}

/// Whether words are such a figure.
///
/// # Errors
/// One sentence: what was wrong, and how it is said.
pub(super) fn check(figure: Figure, words: &[Token], ctx: &Context<'_>) -> Result<(), Refusal> {
    match figure {
        Figure::Size => size(words, ctx).map(drop),
        Figure::Layer => layer(words, ctx).map(drop),
        Figure::Glazing => glazing(words, ctx).map(drop),
        Figure::Lid => lid(words).map(drop),
        Figure::Heat => heat(words).map(drop),
        Figure::RoomAir => room_air(words).map(drop),
        Figure::Shape => shape(words, ctx).map(drop),
        Figure::Gravel => gravel(words, ctx).map(drop),
        Figure::WayOut => way_out(words, ctx).map(drop),
        Figure::Rated => rated(words, ctx).map(drop),
        Figure::Flow => flow(words, ctx).map(drop),
        Figure::Pressure => pressure(words).map(drop),
        Figure::Pump => pump(words, ctx).map(drop),
        Figure::Head => head(words, ctx).map(drop),
        Figure::Language => language(words).map(drop),
        Figure::Free => free(words, ctx).map(drop),
        Figure::Skill => skill(words).map(drop),
        Figure::Lifts => lifts(words, ctx).map(drop),
        Figure::Share => share(words).map(drop),
        Figure::Minutes => minutes(words).map(drop),
    }
}

/// That words are no such figure.
fn wrong(figure: Figure, words: &[Token]) -> Refusal {
    if figure == Figure::Shape {
        return refuse(msg!("no-figure-shape", text = join(words)));
    }
    refuse(msg!(
        "no-figure-unreadable",
        text = join(words),
        what = msg!(format!("figure-{}", figure.code())),
        example = figure.example()
    ))
}

/// Words in lower case with single spaces, as the readers here take them.
fn plain(words: &[Token]) -> String {
    join(words).to_lowercase()
}

/// "90x45x45 cm".
pub(super) fn size(words: &[Token], ctx: &Context<'_>) -> Result<Size, Refusal> {
    let found = lengths(&plain(words), ctx.place.units)?;
    match found.as_slice() {
        [length, width, height] => Ok(Size {
            length: *length,
            width: *width,
            height: *height,
        }),
        _ => Err(wrong(Figure::Size, words)),
    }
}

/// "15 cm" or "none", which is 0.
pub(super) fn layer(words: &[Token], ctx: &Context<'_>) -> Result<f64, Refusal> {
    let text = join(words);
    // "0 cm" is no length anywhere else.
    let number: String = text
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    if people::is_nobody(words) || number.parse() == Ok(0.0) {
        return Ok(0.0);
    }
    one_length(&text, ctx.place.units)
}

fn one_length(text: &str, units: Units) -> Result<f64, Refusal> {
    length_cm(text, units).map_err(|found| Refusal(problem(&found, units)))
}

/// "6 mm", "acrylic 5 mm".
pub(super) fn glazing(words: &[Token], ctx: &Context<'_>) -> Result<Glazing, Refusal> {
    let (material, rest) = match words {
        [first, rest @ ..] if first.is("acrylic") || first.is("plastic") => (Material::Acrylic, rest),
        [first, rest @ ..] if first.is("glass") => (Material::Glass, rest),
        all => (Material::Glass, all),
    };
    let thickness = one_length(&join(rest), ctx.place.units)?;
    // Panes of more than a hand's width are a slip of the pen.
    if thickness > 10.0 {
        return Err(wrong(Figure::Glazing, words));
    }
    Ok(Glazing { material, thickness })
}

/// "closed", "gaps", "open", "0.5/h", "0.5 an hour".
pub(super) fn lid(words: &[Token]) -> Result<Lid, Refusal> {
    let text = plain(words);
    match text.as_str() {
        "closed" | "sealed" | "tight" => return Ok(Lid::Closed),
        "gaps" | "with gaps" => return Ok(Lid::Gaps),
        "open" | "mesh" => return Ok(Lid::Open),
        _ => {}
    }
    let hourly = ["/h", "an hour", "per hour", "times an hour", "changes an hour"]
        .iter()
        .filter_map(|end| text.strip_suffix(end))
        .find_map(|number| number.trim().replace(',', ".").parse::<f64>().ok());
    match hourly {
        // From hardly any to more than a fan gives.
        Some(hourly) if (0.01..=100.0).contains(&hourly) => Ok(Lid::Changes(hourly)),
        _ => Err(wrong(Figure::Lid, words)),
    }
}

/// A temperature at which animals are kept, in °C.
pub(super) fn heat(words: &[Token]) -> Result<f64, Refusal> {
    match measured(words).as_slice() {
        [Measured::Temperature(celsius)] if (0.0..=45.0).contains(celsius) => Ok(*celsius),
        _ => Err(wrong(Figure::Heat, words)),
    }
}

/// "21C 40%", in either order.
pub(super) fn room_air(words: &[Token]) -> Result<RoomAir, Refusal> {
    let (celsius, percent) = match measured(words).as_slice() {
        [Measured::Temperature(celsius), Measured::Humidity(percent)]
        | [Measured::Humidity(percent), Measured::Temperature(celsius)] => (*celsius, *percent),
        _ => return Err(wrong(Figure::RoomAir, words)),
    };
    if (-20.0..=45.0).contains(&celsius) && (1.0..=100.0).contains(&percent) {
        Ok(RoomAir { celsius, percent })
    } else {
        Err(wrong(Figure::RoomAir, words))
    }
}

/// The readings that words are, if they are nothing else.
fn measured(words: &[Token]) -> Vec<Measured> {
    match readings(&join(words), None) {
        Ok((found, left)) if left.trim().is_empty() => found,
        _ => Vec::new(),
    }
}
