//! What was not told, and the lines that tell it: one line of text in all.

use wrackline_core::particulars::TubeGap;
use wrackline_core::place::Pool;
use wrackline_core::quantity::Units;

use super::{Looked, Seen};
use crate::desk::Desk;
use crate::msg;

/// What is missing, and how it is said.
#[derive(Debug, Default)]
pub(in crate::desk) struct Gaps {
    what: Vec<String>,
    lines: Vec<String>,
}

impl Gaps {
    fn push(&mut self, desk: &Desk<'_>, id: &'static str) {
        let what = desk.tell.word(id);
        if !self.what.contains(&what) {
            self.what.push(what);
        }
    }

    /// Of an enclosure.
    pub(in crate::desk) fn enclosure(&mut self, desk: &Desk<'_>, looked: &Looked<'_>) {
        let made = &looked.enclosure.made;
        let us = desk.place().units == Units::Us;
        let all = [
            (
                made.size.is_none(),
                "fit-gap-size",
                "size 90x45x45 cm",
                "size 36x18x18 in",
            ),
            (
                made.substrate_cm.is_none(),
                "fit-gap-substrate",
                "substrate 15 cm",
                "substrate 6 in",
            ),
            (
                made.glazing.is_none(),
                "fit-gap-glazing",
                "glass 6 mm",
                "glass 0.24 in",
            ),
            (
                made.lid.is_none(),
                "fit-gap-lid",
                "lid closed|gaps|open",
                "lid closed|gaps|open",
            ),
            (
                made.heated_c.is_none(),
                "fit-gap-heated",
                "heated 27C",
                "heated 80F",
            ),
        ];
        let mut words = Vec::new();
        for (missing, id, metric, inches) in all {
            if missing {
                self.push(desk, id);
                words.push(if us { inches } else { metric });
            }
        }
        if !words.is_empty() {
            let name = looked.enclosure.name.to_lowercase();
            self.lines
                .push(format!("/enclosure set {name} {}", words.join(" ")));
        }
    }

    /// The sizes of crabs, which depth and ways out need.
    pub(in crate::desk) fn crabs(&mut self, desk: &Desk<'_>, looked: &Looked<'_>) {
        let enclosure = looked.enclosure;
        let us = desk.place().units == Units::Us;
        let mut words = Vec::new();
        if enclosure.smallest_cm.is_none() {
            self.push(desk, "fit-gap-smallest");
            words.push(if us { "smallest 0.8 in" } else { "smallest 2 cm" });
        }
        if enclosure.largest_cm.is_none() {
            self.push(desk, "fit-gap-largest");
            words.push(if us { "largest 2 in" } else { "largest 5 cm" });
        }
        if !words.is_empty() {
            let name = enclosure.name.to_lowercase();
            self.lines
                .push(format!("/enclosure set {name} {}", words.join(" ")));
        }
    }

    /// Of a pool.
    pub(in crate::desk) fn pool(&mut self, desk: &Desk<'_>, seen: &Seen<'_>) {
        let us = desk.place().units == Units::Us;
        let mut words = Vec::new();
        if seen.pool.made.shape.is_none() {
            self.push(desk, "fit-gap-shape");
            words.push(if us {
                "shape box 12x8x5 in"
            } else {
                "shape box 30x20x12 cm"
            });
        }
        if seen.pool.made.way_out.is_none() {
            self.push(desk, "fit-gap-way-out");
            words.push(if us {
                "way out ramp 3x5 in"
            } else {
                "way out ramp 8x12 cm"
            });
        }
        if !words.is_empty() {
            let name = desk.tell.pool(seen.pool.id).to_lowercase();
            self.lines.push(format!("/pool set {name} {}", words.join(" ")));
        }
        if seen.read.is_none() && seen.filled.is_some() {
            self.push(desk, "fit-gap-water");
            let name = desk.tell.pool(seen.pool.id).to_lowercase();
            let reading = if us { "79F" } else { "26C" };
            self.lines.push(format!("/read {name} {reading}"));
        }
    }

    /// The shape alone, where the depth is what is wanted.
    pub(in crate::desk) fn shape(&mut self, desk: &Desk<'_>, pool: &Pool) {
        if pool.made.shape.is_none() {
            let us = desk.place().units == Units::Us;
            self.push(desk, "fit-gap-shape");
            let name = desk.tell.pool(pool.id).to_lowercase();
            let shape = if us { "box 12x8x5 in" } else { "box 30x20x12 cm" };
            self.lines.push(format!("/pool set {name} shape {shape}"));
        }
    }

    /// Measures of an airline.
    pub(in crate::desk) fn airline(&mut self, desk: &Desk<'_>, pool: &Pool, gaps: &[TubeGap]) {
        let us = desk.place().units == Units::Us;
        let mut words = Vec::new();
        for gap in gaps {
            let (id, metric, inches) = match gap {
                TubeGap::Stone => ("fit-gap-stone", "stone 8 cm", "stone 3 in"),
                TubeGap::Across => ("fit-gap-across", "across 20 cm", "across 8 in"),
                TubeGap::Rim => ("fit-gap-rim", "rim 25 cm", "rim 10 in"),
                TubeGap::Valve => ("fit-gap-valve", "valve 40 cm", "valve 16 in"),
                TubeGap::Run => ("fit-gap-run", "run 60 cm", "run 24 in"),
                TubeGap::Pump => ("fit-gap-pump", "pump 30 cm below", "pump 12 in below"),
            };
            self.push(desk, id);
            words.push(if us { inches } else { metric });
        }
        self.gear(desk, pool, "air", &words);
    }

    /// Something of a piece of gear, with how it is said.
    pub(in crate::desk) fn of_gear(
        &mut self,
        desk: &Desk<'_>,
        pool: &Pool,
        gear: &str,
        id: &'static str,
        (metric, inches): (&'static str, &'static str),
    ) {
        self.push(desk, id);
        let us = desk.place().units == Units::Us;
        self.gear(desk, pool, gear, &[if us { inches } else { metric }]);
    }

    fn gear(&mut self, desk: &Desk<'_>, pool: &Pool, gear: &str, words: &[&str]) {
        if !words.is_empty() {
            let name = desk.tell.pool(pool.id).to_lowercase();
            self.lines
                .push(format!("/gear set {name} {gear} {}", words.join(" ")));
        }
    }

    /// All of it in one line; nothing where nothing is missing.
    pub(in crate::desk) fn say(&self, desk: &Desk<'_>) -> Option<String> {
        if self.what.is_empty() {
            return None;
        }
        Some(desk.say(&msg!(
            "fit-gaps",
            what = desk.tell.list(&self.what),
            lines = self.lines.join(", ")
        )))
    }
}
