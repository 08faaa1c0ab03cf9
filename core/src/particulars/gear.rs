//! What is told of gear.

use serde::{Deserialize, Serialize};

/// The particulars of an airline. Heights are above the water line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct AirMade {
    /// What the pump is rated for, in Pa.
    pub pressure_pa: Option<f64>,
    /// What it blows, in litres a minute.
    pub flow: Option<f64>,
    /// Where it stands above the water line, in cm; below it when negative.
    pub pump_cm: Option<f64>,
    /// Whether a check valve is in the line.
    pub check_valve: Option<bool>,
    /// How deep the stone lies, in cm.
    pub stone_cm: Option<f64>,
    /// From above the stone to where the tube goes over the rim, level, in cm.
    pub across_cm: Option<f64>,
    /// The highest rim that the tube goes over, above the water line, in cm.
    pub rim_cm: Option<f64>,
    /// From that rim down to the valve, in cm.
    pub valve_cm: Option<f64>,
    /// From under the valve to the pump, level, in cm.
    pub run_cm: Option<f64>,
    /// Whether the stone lies under something heavy.
    pub weighted: Option<bool>,
    /// The room that the stone takes with what weighs it down, in litres.
    pub displaces: Option<f64>,
}

/// The particulars of a filter.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct FilterMade {
    /// The smallest and the largest pool that it is rated for, in litres.
    pub rated: Option<(f64, f64)>,
    /// Its minimum fill line above the pool's floor, in cm.
    pub fill_line_cm: Option<f64>,
    /// Its rated flow in litres a minute.
    pub flow: Option<f64>,
    /// The room that it takes under water, in litres.
    pub displaces: Option<f64>,
}

/// One thing told of a piece of gear. Lengths are in cm, volumes in litres, flows in litres a minute.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GearFact {
    /// What it pumps or blows.
    Flow(f64),
    /// The room that it takes under water.
    Displaces(f64),
    /// The pools that a filter is rated for.
    Rated {
        /// The smallest.
        from: f64,
        /// The largest.
        to: f64,
    },
    /// A filter's minimum fill line above the pool's floor.
    FillLine(f64),
    /// What an air pump is rated for, in Pa.
    Pressure(f64),
    /// Where it stands above the water line; below it when negative.
    Pump(f64),
    /// Whether a check valve is in the airline.
    CheckValve(bool),
    /// How deep the air stone lies.
    Stone(f64),
    /// From above the stone to the rim, level.
    Across(f64),
    /// The highest rim above the water line.
    Rim(f64),
    /// From that rim down to the valve.
    Valve(f64),
    /// From under the valve to the pump, level.
    Run(f64),
    /// Whether the stone lies under something heavy.
    Weighted(bool),
}

impl GearFact {
    /// Whether it can be told of an air stone.
    #[must_use]
    pub fn is_of_air(self) -> bool {
        !matches!(self, Self::Rated { .. } | Self::FillLine(_))
    }

    /// Whether it can be told of a filter.
    #[must_use]
    pub fn is_of_filter(self) -> bool {
        matches!(
            self,
            Self::Flow(_) | Self::Displaces(_) | Self::Rated { .. } | Self::FillLine(_)
        )
    }
}

impl AirMade {
    /// Takes up what was told.
    pub fn take(&mut self, fact: GearFact) {
        match fact {
            GearFact::Flow(flow) => self.flow = Some(flow),
            GearFact::Displaces(litres) => self.displaces = Some(litres),
            GearFact::Pressure(pa) => self.pressure_pa = Some(pa),
            GearFact::Pump(cm) => self.pump_cm = Some(cm),
            GearFact::CheckValve(is) => self.check_valve = Some(is),
            GearFact::Stone(cm) => self.stone_cm = Some(cm),
            GearFact::Across(cm) => self.across_cm = Some(cm),
            GearFact::Rim(cm) => self.rim_cm = Some(cm),
            GearFact::Valve(cm) => self.valve_cm = Some(cm),
            GearFact::Run(cm) => self.run_cm = Some(cm),
            GearFact::Weighted(is) => self.weighted = Some(is),
            GearFact::Rated { .. } | GearFact::FillLine(_) => {}
        }
    }
}

impl FilterMade {
    /// Takes up what was told.
    pub fn take(&mut self, fact: GearFact) {
        match fact {
            GearFact::Flow(flow) => self.flow = Some(flow),
            GearFact::Displaces(litres) => self.displaces = Some(litres),
            GearFact::Rated { from, to } => self.rated = Some((from, to)),
            GearFact::FillLine(cm) => self.fill_line_cm = Some(cm),
            _ => {}
        }
    }
}
