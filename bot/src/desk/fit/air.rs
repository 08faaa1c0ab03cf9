//! How the humidity of an enclosure is told: the verdict, the surfaces, the glass, the doubt.

use wrackline_core::air::Side;
use wrackline_core::air::balance::Need;
use wrackline_core::air::evaporation::{Spread, UNHEATED_BELOW_AIR};
use wrackline_core::air::fit::{Doubt, Ends, Fit as Found, RoomFit, Verdict, balances};
use wrackline_core::particulars::{Assumed, rooms};
use wrackline_core::place::Fitted;
use wrackline_core::quantity::{Humidity, Input, SquareCentimetres, Units, celsius, plain};

use super::{Looked, refuse_air};
use crate::chat::blocks::Block;
use crate::desk::setup::made_told::{area, room_air};
use crate::desk::tell::capital;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Fit;
use crate::msg;
use crate::words::Message;

/// A humidity in percent.
fn percent(humidity: Humidity) -> String {
    format!("{} %", plain(humidity.0 * 100.0))
}

/// A humidity as it may be: the likely one, and the ends of the doubt.
fn spread(desk: &Desk<'_>, humidity: Spread<Humidity>) -> String {
    let whole = |one: Humidity| format!("{:.0}", one.0 * 100.0);
    desk.say(&msg!(
        "fit-between",
        likely = percent(humidity.likely),
        low = whole(humidity.low),
        high = whole(humidity.high)
    ))
}

fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fit-verdict-fits",
        Verdict::TooSmall => "fit-verdict-small",
        Verdict::AtTheEdge(Side::Low) => "fit-verdict-dry",
        Verdict::AtTheEdge(Side::High) => "fit-verdict-humid",
        Verdict::TooBig => "fit-verdict-big",
        Verdict::Swings => "fit-verdict-swings",
    }
}

/// The first line: the verdict, what the pools give, what the middle of the band takes, and where the glass sweats.
pub(super) fn title(desk: &Desk<'_>, looked: &Looked<'_>, found: &Found) -> String {
    let winter = &found.winter;
    let middle = winter.band[1];
    let wanted = needed(desk, middle.surface);
    let glass = match winter.glass.surface.likely {
        _ if winter.glass.humidity.0 >= 1.0 => desk.tell.word("fit-title-dry"),
        Need::Of(surface) => desk.say(&msg!("fit-title-glass", surface = area(desk, surface.0))),
        Need::Nothing => desk.tell.word("fit-title-glass-always"),
        Need::OutOfReach => desk.tell.word("fit-title-dry"),
    };
    let name = looked.enclosure.name.as_str();
    if !looked.is_whole() {
        return desk.say(&msg!(
            "fit-title-open",
            enclosure = name,
            middle = percent(middle.humidity),
            wanted = wanted,
            glass = glass
        ));
    }
    desk.say(&msg!(
        "fit-title",
        enclosure = name,
        verdict = desk.tell.word(verdict_word(found.verdict)),
        surface = area(desk, looked.surface()),
        winter = percent(winter.steady.likely),
        summer = percent(found.summer.steady.likely),
        middle = percent(middle.humidity),
        wanted = wanted,
        glass = glass
    ))
}

/// What the verdict would be without the damp substrate that is assumed.
pub(super) fn without_damp(desk: &Desk<'_>, found: &Found) -> Message {
    msg!(
        "fit-title-damp",
        verdict = desk.tell.word(verdict_word(found.verdict)),
        winter = percent(found.winter.steady.likely),
        summer = percent(found.summer.steady.likely)
    )
}

/// A surface that is needed: the likely one, and the ends of the doubt.
fn needed(desk: &Desk<'_>, surface: Ends<SquareCentimetres>) -> String {
    let Need::Of(likely) = surface.likely else {
        return one(desk, surface.likely);
    };
    let end = |need: Need<SquareCentimetres>| match need {
        Need::Of(surface) => area(desk, surface.0)
            .split_once(' ')
            .map_or_else(String::new, |(number, _)| number.to_owned()),
        Need::Nothing => "0".to_owned(),
        Need::OutOfReach => desk.tell.word("fit-no-end"),
    };
    desk.say(&msg!(
        "fit-between",
        likely = area(desk, likely.0),
        low = end(surface.low),
        high = end(surface.high)
    ))
}

fn one(desk: &Desk<'_>, need: Need<SquareCentimetres>) -> String {
    match need {
        Need::Of(surface) => area(desk, surface.0),
        Need::Nothing => desk.tell.word("fit-needs-nothing"),
        Need::OutOfReach => desk.tell.word("fit-out-of-reach"),
    }
}

/// Surfaces and humidities by season.
pub(super) fn table(desk: &Desk<'_>, looked: &Looked<'_>, found: &Found) -> Result<Block, Refused> {
    let seasons = [
        ("fit-head-winter", &found.winter),
        ("fit-head-summer", &found.summer),
    ];
    let heads = seasons.map(|(id, room)| {
        let air = wrackline_core::particulars::RoomAir {
            celsius: room.room.temperature().0,
            percent: room.room.humidity().0 * 100.0,
        };
        let air = room_air(desk, air);
        let season = desk.tell.word(id);
        desk.say(&msg!("fit-head-season", season = season, air = air))
    });
    let rooms: [&RoomFit; 2] = seasons.map(|(_, room)| room);
    let row = |name: String, cell: &dyn Fn(&RoomFit) -> String| {
        let mut row = vec![name];
        row.extend(rooms.map(cell));
        row
    };
    let mut rows: Vec<Vec<String>> = (0..3)
        .map(|at| {
            let name = desk.say(&msg!(
                "fit-row-band",
                humidity = percent(found.winter.band[at].humidity)
            ));
            row(name, &|room| needed(desk, room.band[at].surface))
        })
        .collect();
    rows.push(row(desk.tell.word("fit-row-glass"), &|room| {
        if room.glass.humidity.0 >= 1.0 {
            return desk.tell.word("fit-never");
        }
        desk.say(&msg!(
            "fit-cell-glass",
            surface = needed(desk, room.glass.surface),
            humidity = percent(room.glass.humidity)
        ))
    }));
    if looked.is_whole() {
        rows.push(row(desk.tell.word("fit-row-now"), &|room| {
            spread(desk, room.steady)
        }));
        let mut follows = vec![desk.tell.word("fit-row-follows")];
        for room in rooms {
            let found = balances(&looked.boxed.setting, &looked.boxed.pools, &room.room)
                .map_err(|error| refuse_air(desk, &error))?;
            let minutes = (found.likely.time_constant().0 * 60.0).round();
            follows.push(desk.say(&msg!("fit-minutes", count = minutes)));
        }
        rows.push(follows);
    }
    let [winter, summer] = heads;
    Ok(Block::Table {
        head: vec![desk.tell.word("fit-head-surface"), winter, summer],
        rows,
    })
}

/// Whether the glass sweats, a line a season.
pub(super) fn glass(desk: &Desk<'_>, found: &Found) -> Vec<String> {
    let of = |season: &'static str, room: &RoomFit| {
        let season = capital(&desk.tell.word(season));
        let limit = percent(room.glass.humidity);
        if room.glass.humidity.0 >= 1.0 {
            return desk.say(&msg!("fit-glass-warm", season = season));
        }
        let id = if room.sweats {
            "fit-glass-sweats"
        } else {
            "fit-glass-dry"
        };
        desk.say(&msg!(id, season = season, limit = limit))
    };
    vec![
        of("fit-head-winter", &found.winter),
        of("fit-head-summer", &found.summer),
    ]
}

/// The volumes, gross and air apart, and the damp surface beside the pools.
pub(super) fn volumes(desk: &Desk<'_>, looked: &Looked<'_>) -> String {
    let volumes = looked.boxed.volumes;
    let first = desk.say(&msg!(
        "made-volumes",
        gross = desk.tell.litres(volumes.gross.0),
        air = desk.tell.litres(volumes.air.0)
    ));
    let damp = match looked.boxed.setting.substrate {
        Some(damp) => desk.say(&msg!("fit-damp", surface = area(desk, damp.surface.0))),
        None if volumes.floor.is_none() => desk.tell.word("fit-damp-unknown"),
        None => desk.tell.word("fit-damp-none"),
    };
    format!("{first} {damp}")
}

/// How far the answer may be out, and what would narrow it.
pub(super) fn narrow(desk: &Desk<'_>, found: &Found) -> String {
    let of = |doubt: Doubt| match doubt {
        Doubt::Exchange => "fit-narrow-exchange",
        Doubt::Transfer => "fit-narrow-transfer",
        Doubt::WaterTemperature => "fit-narrow-water",
        Doubt::Substrate => "fit-narrow-substrate",
    };
    let all: Vec<String> = found
        .narrow
        .iter()
        .map(|one| {
            desk.say(&msg!(
                "fit-narrow-one",
                what = desk.tell.word(of(one.doubt)),
                moves = format!("{:.0}", (one.moves * 100.0).max(1.0))
            ))
        })
        .collect();
    let doubt = desk.tell.word("fit-doubt");
    let cold = found
        .beyond
        .iter()
        .find(|beyond| beyond.input == Input::Temperature);
    let doubt = match cold {
        Some(beyond) => {
            let temperature = |c| celsius(c, desk.place().units);
            let beyond = msg!(
                "fit-beyond",
                value = temperature(beyond.value),
                low = temperature(beyond.range.low),
                high = temperature(beyond.range.high)
            );
            format!("{doubt} {}", desk.say(&beyond))
        }
        None => doubt,
    };
    if all.is_empty() {
        return doubt;
    }
    format!("{doubt} {}", desk.say(&msg!("fit-narrow", list = all.join("; "))))
}

fn runs(fitted: Option<Fitted>) -> bool {
    fitted.is_some_and(|fitted| fitted.stopped.is_none())
}

/// How much cooler than the air an unheated pool is, in the place's units.
fn cooler(desk: &Desk<'_>) -> String {
    let (scale, unit) = match desk.place().units {
        Units::Us => (1.8, "°F"),
        Units::Metric | Units::Imperial => (1.0, "°C"),
    };
    let of = |kelvin: f64| plain((kelvin * scale * 10.0).round() / 10.0);
    let below = UNHEATED_BELOW_AIR;
    desk.say(&msg!(
        "fit-span",
        low = of(below.low),
        high = of(below.high),
        unit = unit
    ))
}

/// What was assumed since the place has not told it.
pub(super) fn assumed(desk: &Desk<'_>, looked: &Looked<'_>, ask: &Fit) -> Option<String> {
    let setting = &looked.boxed.setting;
    let mut all: Vec<String> = looked
        .boxed
        .assumed
        .iter()
        .filter_map(|what| match what {
            Assumed::Size => None,
            Assumed::Substrate => Some(desk.tell.word("fit-assumed-substrate")),
            Assumed::Lid => Some(desk.tell.word("fit-assumed-lid")),
            Assumed::Heated => {
                let temperature = celsius(setting.temperature.0, desk.place().units);
                Some(desk.say(&msg!("fit-assumed-heated", temperature = temperature)))
            }
            Assumed::Glazing => Some(desk.tell.word("fit-assumed-glazing")),
        })
        .collect();
    let said = [ask.winter.is_some(), ask.summer.is_some()];
    for ((air, told), (said, id)) in rooms(desk.place())
        .into_iter()
        .zip(said.into_iter().zip(["fit-assumed-winter", "fit-assumed-summer"]))
    {
        if !told && !said {
            all.push(desk.say(&Message::new(id).with("air", room_air(desk, air))));
        }
    }
    if looked
        .pools
        .iter()
        .any(|seen| seen.filled.is_some() && seen.read.is_none())
    {
        all.push(desk.say(&msg!("fit-assumed-water", span = cooler(desk))));
    }
    let known = || looked.pools.iter().filter(|seen| seen.filled.is_some());
    if known().any(|seen| runs(seen.pool.filter)) {
        all.push(desk.tell.word("fit-assumed-filter"));
    } else if known().any(|seen| runs(seen.pool.air)) {
        all.push(desk.tell.word("fit-assumed-air"));
    }
    (!all.is_empty()).then(|| desk.say(&msg!("fit-assumed", list = all.join("; "))))
}
