//! Quantities: parsing what people write and dictate, printing in a place's units.
//!
//! Everything is kept in one canonical unit (litres, centimetres, grams, °C, g/kg, mS/cm, mg/L, minutes), so
//! that nothing else has to convert. What cannot be understood, or cannot be true, is a [`Problem`]; nothing is
//! guessed where two readings of a text would both be plausible.
//!
//! In reading order: `system`, `gravity`, `nitrogen`, `measured` and `problem` are the values; `factor` and
//! `unit` are the units; `word` takes text apart, `literal`, `spelled` and `number` find the numbers in it; `amount`
//! parses one quantity; `name`, `look`, `draft` and `reading` parse many out of free text; `print` writes them again.
//! `typed` has a type for each unit, for what is computed; `beyond` tells where a formula leaves its published range.

mod amount;
mod beyond;
mod draft;
mod factor;
mod gravity;
mod literal;
mod look;
mod measured;
mod name;
mod nitrogen;
mod number;
mod print;
mod problem;
mod reading;
mod spelled;
mod system;
mod typed;
mod unit;
mod word;

#[cfg(test)]
mod properties;

pub use self::amount::{duration_min, fraction, length_cm, mass_g, volume};
pub use self::beyond::{Beyond, Formula, Input, Span};
pub use self::gravity::GravityConvention;
pub use self::measured::{Kind, Measured};
pub use self::nitrogen::{Basis, ion_per_nitrogen, rebase};
pub use self::print::{
    celsius, centimetres, grams, litres, litres_per_minute, pascals, plain, show, square_centimetres,
};
pub use self::problem::{Problem, What};
pub use self::reading::readings;
pub use self::system::Units;
pub use self::typed::{
    Celsius, Centimetres, Conductivity, Days, Density, Grams, Gravity, Hours, Humidity, Kilograms, Litres,
    LitresPerMinute, MilligramsPerLitre, Millilitres, Minutes, Pascals, Salinity, SquareCentimetres,
};
