//! The table of units: symbol, what it measures, size, names.

use super::super::factor;
use super::{Dim, Scale, Unit};

/// A unit whose names mean it alone.
const fn plain(symbol: &'static str, dim: Dim, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        symbol,
        dim,
        scale: Scale::Times(factor),
        names,
        shared: &[],
        imperial: false,
    }
}

/// A unit whose name needs a country.
const fn gallonlike(
    symbol: &'static str,
    litres: f64,
    shared: &'static [&'static str],
    imperial: bool,
) -> Unit {
    Unit {
        symbol,
        dim: Dim::Volume,
        scale: Scale::Times(litres),
        names: &[],
        shared,
        imperial,
    }
}

const GALLON: &[&str] = &["gal", "gals", "gallon", "gallons"];
const QUART: &[&str] = &["qt", "qts", "quart", "quarts"];
const PINT: &[&str] = &["pt", "pts", "pint", "pints"];
const FLUID_OUNCE: &[&str] = &[
    "fl oz",
    "fl. oz",
    "floz",
    "fluid ounce",
    "fluid ounces",
    "fl ounces",
];

pub(super) static UNITS: &[Unit] = &[
    plain(
        "L",
        Dim::Volume,
        1.0,
        &["l", "ltr", "ltrs", "litre", "litres", "liter", "liters"],
    ),
    plain(
        "mL",
        Dim::Volume,
        1e-3,
        &[
            "ml",
            "mls",
            "millilitre",
            "millilitres",
            "milliliter",
            "milliliters",
            "cc",
            "cm3",
            "cm³",
        ],
    ),
    plain(
        "cL",
        Dim::Volume,
        1e-2,
        &["cl", "centilitre", "centilitres", "centiliter", "centiliters"],
    ),
    plain(
        "dL",
        Dim::Volume,
        1e-1,
        &["dl", "decilitre", "decilitres", "deciliter", "deciliters"],
    ),
    gallonlike("US gal", factor::US_GALLON_L, GALLON, false),
    gallonlike("imp gal", factor::IMPERIAL_GALLON_L, GALLON, true),
    gallonlike("US qt", factor::US_QUART_L, QUART, false),
    gallonlike("imp qt", factor::IMPERIAL_QUART_L, QUART, true),
    gallonlike("US pt", factor::US_PINT_L, PINT, false),
    gallonlike("imp pt", factor::IMPERIAL_PINT_L, PINT, true),
    gallonlike("US fl oz", factor::US_FLUID_OUNCE_L, FLUID_OUNCE, false),
    gallonlike("imp fl oz", factor::IMPERIAL_FLUID_OUNCE_L, FLUID_OUNCE, true),
    // There is no imperial cup in use, so a cup is the US one everywhere.
    plain(
        "US cup",
        Dim::Volume,
        factor::US_CUP_L,
        &["cup", "cups", "us cup", "us cups"],
    ),
    plain(
        "cm",
        Dim::Length,
        1.0,
        &[
            "cm",
            "cms",
            "centimetre",
            "centimetres",
            "centimeter",
            "centimeters",
        ],
    ),
    plain(
        "mm",
        Dim::Length,
        0.1,
        &["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
    ),
    plain(
        "m",
        Dim::Length,
        100.0,
        &["m", "metre", "metres", "meter", "meters"],
    ),
    plain(
        "in",
        Dim::Length,
        factor::INCH_CM,
        &["in", "inch", "inches", "\"", "″", "”"],
    ),
    plain("ft", Dim::Length, factor::FOOT_CM, &["ft", "foot", "feet"]),
    plain(
        "g",
        Dim::Mass,
        1.0,
        &["g", "gr", "gram", "grams", "gramme", "grammes"],
    ),
    plain(
        "kg",
        Dim::Mass,
        1000.0,
        &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"],
    ),
    plain("mg", Dim::Mass, 1e-3, &["mg", "milligram", "milligrams"]),
    plain("oz", Dim::Mass, factor::OUNCE_G, &["oz", "ounce", "ounces"]),
    plain(
        "lb",
        Dim::Mass,
        factor::POUND_G,
        &["lb", "lbs", "pound", "pounds"],
    ),
    plain("min", Dim::Time, 1.0, &["min", "mins", "minute", "minutes"]),
    plain("h", Dim::Time, 60.0, &["h", "hr", "hrs", "hour", "hours"]),
    plain("d", Dim::Time, 1440.0, &["d", "day", "days"]),
    plain("wk", Dim::Time, 10_080.0, &["w", "wk", "wks", "week", "weeks"]),
    plain("fortnights", Dim::Time, 20_160.0, &["fortnight", "fortnights"]),
    plain("", Dim::Clock, 1.0, &["am", "pm", "a.m", "p.m", "o'clock"]),
    plain("%", Dim::Percent, 1.0, &["%", "percent", "per cent", "pct"]),
    plain(
        "%",
        Dim::Moisture,
        1.0,
        &[
            "% rh",
            "%rh",
            "percent rh",
            "% humidity",
            "percent humidity",
            "% relative humidity",
            "percent relative humidity",
            "per cent humidity",
        ],
    ),
    plain("°C", Dim::Temperature, 1.0, &["c", "celsius", "centigrade"]),
    Unit {
        symbol: "°F",
        dim: Dim::Temperature,
        scale: Scale::Fahrenheit,
        names: &["f", "fahrenheit"],
        shared: &[],
        imperial: false,
    },
    plain("°", Dim::Degrees, 1.0, &["°", "deg", "degs", "degree", "degrees"]),
    plain(
        "g/kg",
        Dim::Salinity,
        1.0,
        &[
            "g/kg",
            "ppt",
            "psu",
            "‰",
            "grams per kilogram",
            "grams per kilo",
            "parts per thousand",
        ],
    ),
    plain(
        "mS/cm",
        Dim::Conductivity,
        1.0,
        &[
            "ms/cm",
            "ms",
            "ds/m",
            "millisiemens",
            "millisiemens per centimetre",
            "millisiemens per centimeter",
        ],
    ),
    plain(
        "µS/cm",
        Dim::Conductivity,
        1e-3,
        &[
            "us/cm",
            "microsiemens",
            "microsiemens per centimetre",
            "microsiemens per centimeter",
        ],
    ),
    plain(
        "S/m",
        Dim::Conductivity,
        10.0,
        &["s/m", "siemens per metre", "siemens per meter"],
    ),
    // In fresh water a litre weighs a kilogram, and test kits print either for the same colour.
    plain(
        "mg/L",
        Dim::Dissolved,
        1.0,
        &[
            "mg/l",
            "ppm",
            "parts per million",
            "milligrams per litre",
            "milligrams per liter",
            "milligrams a litre",
            "milligrams a liter",
        ],
    ),
    plain(
        "mg/L",
        Dim::DissolvedNitrogen,
        1.0,
        &["mg/l-n", "mg/l n", "mg-n/l", "mg n/l", "ppm-n", "ppm n"],
    ),
];
