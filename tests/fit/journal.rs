//! What was told is read back from the journal as it was told.

use wrackline_core::journal::{EnclosureChange, Event, PlaceChange, PoolChange};
use wrackline_core::particulars::{GearFact, Glazing, Lid, Material, RoomAir, Size, Way};
use wrackline_core::place::{EnclosureId, Gear, PoolId};
use wrackline_core::pool::contents::{Gravel, Porosity};
use wrackline_core::pool::shape::{Fill, Shape};
use wrackline_core::quantity::{Centimetres, Litres};

fn places_and_enclosures() -> Vec<Event> {
    let air = RoomAir {
        celsius: 21.0,
        percent: 45.0,
    };
    let size = Size {
        length: 90.0,
        width: 45.0,
        height: 45.5,
    };
    let glazing = Glazing {
        material: Material::Acrylic,
        thickness: 0.5,
    };
    let enclosures = [
        EnclosureChange::Size(size),
        EnclosureChange::Substrate(15.0),
        EnclosureChange::Glazing(glazing),
        EnclosureChange::Lid(Lid::Closed),
        EnclosureChange::Lid(Lid::Gaps),
        EnclosureChange::Lid(Lid::Open),
        EnclosureChange::Lid(Lid::Changes(0.5)),
        EnclosureChange::Heated(27.0),
    ];
    let places = [PlaceChange::Winter(air), PlaceChange::Summer(air)].map(Event::Place);
    let enclosures = enclosures.map(|change| Event::Enclosure(EnclosureId(1), change));
    places.into_iter().chain(enclosures).collect()
}

fn pools() -> Vec<Event> {
    let cm = Centimetres;
    let fill = |(level, litres)| Fill {
        level: Centimetres(level),
        litres: Litres(litres),
    };
    let shapes = [
        Shape::Box {
            length: cm(30.0),
            width: cm(20.0),
            height: cm(12.0),
        },
        Shape::Cylinder {
            diameter: cm(30.0),
            height: cm(12.0),
        },
        Shape::Table {
            points: [(4.0, 1.0), (8.0, 2.2)].map(fill).to_vec(),
        },
    ];
    let gravel = |porosity| {
        PoolChange::Gravel(Some(Gravel {
            depth: cm(3.0),
            porosity,
        }))
    };
    let ways = [
        Way::Ramp { rise: 8.0, run: 12.0 },
        Way::Steps {
            highest: 2.0,
            rise: 8.0,
        },
        Way::Wall,
    ];
    let others = [
        PoolChange::Depth(10.0),
        gravel(Porosity::GRAVEL),
        gravel(Porosity::SAND),
        gravel(Porosity::measured(0.4)),
        PoolChange::Gravel(None),
        PoolChange::Stones(0.4),
    ];
    let shapes = shapes.into_iter().map(PoolChange::Shape);
    let ways = ways.into_iter().map(PoolChange::WayOut);
    let all = shapes.chain(others).chain(ways);
    all.map(|change| Event::Pool(PoolId(1), change)).collect()
}

#[test]
fn entries_are_read_back() {
    let gear = [
        GearFact::Flow(3.3),
        GearFact::Displaces(0.2),
        GearFact::Rated { from: 18.9, to: 37.9 },
        GearFact::FillLine(7.0),
        GearFact::Pressure(12_000.0),
        GearFact::Pump(-30.0),
        GearFact::CheckValve(false),
        GearFact::Stone(8.0),
        GearFact::Across(20.0),
        GearFact::Rim(25.0),
        GearFact::Valve(40.0),
        GearFact::Run(60.0),
        GearFact::Weighted(true),
    ];
    let gear = gear.map(|fact| Event::GearFact(PoolId(1), Gear::Air, fact));
    for event in places_and_enclosures().into_iter().chain(pools()).chain(gear) {
        let text = serde_json::to_string(&event).expect("JSON");
        let read: Event = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(read, event, "{text}");
    }
}
