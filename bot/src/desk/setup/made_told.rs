//! How the particulars are told: shapes, sizes, lids, in the place's units; `made_told/gear` tells those of gear.

mod gear;

use wrackline_core::particulars::{
    EnclosureMade, Filled, Glazing, Lid, Material, RoomAir, Size, Vessel, Way, volumes,
};
use wrackline_core::place::{Enclosure, Pool};
use wrackline_core::pool::contents::{Gravel, Porosity};
use wrackline_core::pool::shape::Shape;
use wrackline_core::quantity::{celsius, centimetres, plain, square_centimetres};

pub(super) use self::gear::state;
pub(in crate::desk) use self::gear::{fact, range};

use crate::desk::Desk;
use crate::msg;
use crate::words::Message;

/// A length.
pub(in crate::desk) fn length(desk: &Desk<'_>, cm: f64) -> String {
    centimetres(cm, desk.place().units)
}

/// A surface.
pub(in crate::desk) fn area(desk: &Desk<'_>, cm2: f64) -> String {
    square_centimetres(cm2, desk.place().units)
}

/// Lengths with crosses between, the unit once: `30 × 20 × 12 cm`.
fn measures(desk: &Desk<'_>, lengths: &[f64]) -> String {
    let all: Vec<String> = lengths.iter().map(|cm| length(desk, *cm)).collect();
    let unit = all
        .last()
        .and_then(|last| last.split_once(' '))
        .map_or("", |(_, unit)| unit);
    let numbers: Vec<&str> = all
        .iter()
        .map(|one| one.split_once(' ').map_or(one.as_str(), |(number, _)| number))
        .collect();
    format!("{} {unit}", numbers.join(" × "))
}

/// An enclosure's inside.
pub(super) fn size(desk: &Desk<'_>, size: Size) -> String {
    measures(desk, &[size.length, size.width, size.height])
}

/// The inside of a pool's container.
pub(super) fn shape(desk: &Desk<'_>, shape: &Shape) -> String {
    let of = |id: &'static str, lengths: &[f64]| {
        desk.say(&Message::new(id).with("measures", measures(desk, lengths)))
    };
    match shape {
        Shape::Box {
            length,
            width,
            height,
        } => of("made-shape-box", &[length.0, width.0, height.0]),
        Shape::Cylinder { diameter, height } => of("made-shape-cylinder", &[diameter.0, height.0]),
        Shape::Frustum {
            bottom_radius,
            top_radius,
            height,
        } => of(
            "made-shape-bowl",
            &[bottom_radius.0 * 2.0, top_radius.0 * 2.0, height.0],
        ),
        Shape::Tub {
            bottom_length,
            bottom_width,
            top_length,
            top_width,
            height,
        } => {
            let bottom = measures(desk, &[bottom_length.0, bottom_width.0]);
            let top = measures(desk, &[top_length.0, top_width.0]);
            desk.say(&msg!(
                "made-shape-tub",
                bottom = bottom,
                top = top,
                height = length_of(desk, height.0)
            ))
        }
        Shape::QuarterRound { radius, height } => of("made-shape-quarter", &[radius.0, height.0]),
        Shape::Ellipse {
            length,
            width,
            height,
        } => of("made-shape-ellipse", &[length.0, width.0, height.0]),
        Shape::Hexagon { side, height } => of("made-shape-hexagon", &[side.0, height.0]),
        Shape::Table { points } => {
            let last = points.last();
            desk.say(&msg!(
                "made-shape-filled",
                count = points.len(),
                litres = desk.tell.litres(last.map_or(0.0, |last| last.litres.0)),
                level = length_of(desk, last.map_or(0.0, |last| last.level.0))
            ))
        }
    }
}

fn length_of(desk: &Desk<'_>, cm: f64) -> String {
    length(desk, cm)
}

/// Panes.
pub(super) fn glazing(desk: &Desk<'_>, glazing: Glazing) -> String {
    let id = match glazing.material {
        Material::Glass => "made-glass",
        Material::Acrylic => "made-acrylic",
    };
    desk.say(&Message::new(id).with("thickness", length(desk, glazing.thickness)))
}

/// A lid.
pub(super) fn lid(desk: &Desk<'_>, lid: Lid) -> String {
    let spread = lid.exchange();
    let of = |id: &'static str| {
        desk.say(
            &Message::new(id)
                .with("low", plain(spread.low.0))
                .with("likely", plain(spread.likely.0))
                .with("high", plain(spread.high.0)),
        )
    };
    match lid {
        Lid::Closed => of("made-lid-closed"),
        Lid::Gaps => of("made-lid-gaps"),
        Lid::Open => of("made-lid-open"),
        Lid::Changes(hourly) => desk.say(&msg!("made-lid-changes", hourly = plain(hourly))),
    }
}

/// The substrate.
pub(super) fn substrate(desk: &Desk<'_>, cm: f64) -> String {
    if cm > 0.0 {
        desk.say(&msg!("made-substrate", depth = length(desk, cm)))
    } else {
        desk.tell.word("made-substrate-none")
    }
}

/// A room's air.
pub(in crate::desk) fn room_air(desk: &Desk<'_>, air: RoomAir) -> String {
    desk.say(&msg!(
        "made-air",
        temperature = celsius(air.celsius, desk.place().units),
        humidity = plain(air.percent)
    ))
}

/// Gravel.
pub(super) fn gravel(desk: &Desk<'_>, gravel: &Gravel) -> String {
    let porosity = gravel.porosity;
    let id = match porosity {
        Porosity::SAND => "made-sand",
        _ => "made-gravel",
    };
    let percent = |share: f64| plain(share * 100.0);
    let gaps = if (porosity.high - porosity.low).abs() < 1e-9 {
        percent(porosity.likely)
    } else {
        format!("{}–{}", percent(porosity.low), percent(porosity.high))
    };
    desk.say(
        &Message::new(id)
            .with("depth", length(desk, gravel.depth.0))
            .with("gaps", gaps),
    )
}

/// A way out.
pub(super) fn way_out(desk: &Desk<'_>, way: Way) -> String {
    match way {
        Way::Ramp { rise, run } => desk.say(&msg!(
            "made-ramp",
            rise = length(desk, rise),
            run = length(desk, run)
        )),
        Way::Steps { highest, rise } => desk.say(&msg!(
            "made-steps",
            highest = length(desk, highest),
            rise = length(desk, rise)
        )),
        Way::Wall => desk.tell.word("made-wall"),
    }
}

/// What is known of how an enclosure is made, a piece each.
pub(super) fn enclosure(desk: &Desk<'_>, made: &EnclosureMade) -> Vec<String> {
    let parts = [
        made.size.map(|one| size(desk, one)),
        made.substrate_cm.map(|cm| substrate(desk, cm)),
        made.glazing.map(|one| glazing(desk, one)),
        made.lid.map(|one| lid(desk, one)),
        made.heated_c
            .map(|c| desk.say(&msg!("made-heated", temperature = celsius(c, desk.place().units)))),
    ];
    parts.into_iter().flatten().collect()
}

/// The volumes of an enclosure whose size or substrate was told.
pub(super) fn enclosure_volumes(desk: &Desk<'_>, one: &Enclosure) -> Option<String> {
    if one.made.size.is_none() && one.made.substrate_cm.is_none() {
        return None;
    }
    let found = volumes(one.litres, &one.made);
    let told = msg!(
        "made-volumes",
        gross = desk.tell.litres(found.gross.0),
        air = desk.tell.litres(found.air.0)
    );
    let both = found.differs.map(|size| {
        desk.say(&msg!(
            "made-volumes-differ",
            stated = desk.tell.litres(one.litres),
            size = desk.tell.litres(size.0)
        ))
    });
    let parts = [Some(desk.say(&told)), both];
    Some(parts.into_iter().flatten().collect::<Vec<_>>().join(" "))
}

/// What is known of how a pool is made, a piece each; its gear is told with the gear.
pub(super) fn pool(desk: &Desk<'_>, pool: &Pool) -> Vec<String> {
    let made = &pool.made;
    let parts = [
        made.shape.as_ref().map(|one| shape(desk, one)),
        made.depth_cm
            .map(|cm| desk.say(&msg!("made-depth", depth = length(desk, cm)))),
        made.gravel.as_ref().map(|one| gravel(desk, one)),
        made.stones
            .map(|litres| desk.say(&msg!("made-stones", litres = desk.tell.litres(litres)))),
        made.way_out.map(|way| way_out(desk, way)),
    ];
    parts.into_iter().flatten().collect()
}

/// The water in a pool, computed: net litres with their band, surface and depth; and what was stated where it differs.
pub(in crate::desk) fn water(desk: &Desk<'_>, pool: &Pool) -> Option<String> {
    let vessel = Vessel::of(pool).ok().flatten()?;
    let filled = vessel.filled(pool.litres).ok()?;
    let told = msg!(
        "made-water",
        net = net(desk, &filled),
        level = length(desk, filled.level.0),
        surface = area(desk, filled.surface.0)
    );
    let both = filled.stated.map(|stated| {
        desk.say(&msg!(
            "made-water-differs",
            stated = desk.tell.litres(stated.0),
            net = desk.tell.litres(filled.water.likely.0),
            pool = desk.tell.pool(pool.id).to_lowercase()
        ))
    });
    let parts = [Some(desk.say(&told)), both];
    Some(parts.into_iter().flatten().collect::<Vec<_>>().join(" "))
}

/// Net litres, with the band that gravel leaves in doubt.
fn net(desk: &Desk<'_>, filled: &Filled) -> String {
    let water = filled.water;
    let litres = |litres: f64| desk.tell.litres(litres);
    if water.high.0 - water.low.0 < 0.005 * water.likely.0 {
        return litres(water.likely.0);
    }
    desk.say(&msg!(
        "made-between",
        likely = litres(water.likely.0),
        low = litres(water.low.0),
        high = litres(water.high.0)
    ))
}
