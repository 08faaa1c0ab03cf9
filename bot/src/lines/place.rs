//! `/place` and `/enclosure`.

use jiff::tz::TimeZoneDatabase;
use wrackline_core::civil::Zone;
use wrackline_core::place::{EnclosureId, QuietZone};
use wrackline_core::quantity::{GravityConvention, Units};

use super::ask::{Ask, EnclosureField, Grain, PlaceField, SetUp};
use super::nearest::{list, nearest};
use super::parse::Call;
use super::table::{Kind, UNITS};
use super::token::{Token, join, tokens};
use super::{Context, Refusal, choice, coming, figure, mention, names, people, refuse, spot, values};
use crate::msg;

/// The most crabs and the highest point of a walking order that are taken for no slip of the pen.
const COUNT_MAX: u32 = 1000;

/// Reads a `/place` line.
pub(super) fn place(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    match sub {
        "list" => return call.done(Ask::SetUp(SetUp::PlaceShow)),
        "link" => {
            let channel = mention::take(&mut call, "channel", Kind::Channel);
            let zone = call.args.get("zone").map(zone).transpose()?;
            let code = values::text(&call.args, "code");
            return call.done(Ask::SetUp(SetUp::PlaceLink { channel, zone, code }));
        }
        _ => {}
    }
    let args = &call.args;
    let mut fields = Vec::new();
    if let Some(words) = args.get("name") {
        fields.push(PlaceField::Name(names::text(words)?));
    }
    if let Some(words) = args.get("zone") {
        fields.push(PlaceField::Zone(zone(words)?));
    }
    if let Some(words) = args.get("quiet") {
        fields.push(PlaceField::Quiet(values::clock_span(words)?));
    }
    if let Some(words) = args.get("units") {
        let word = choice::of(words, UNITS)?;
        fields.extend(Units::parse(word).map(PlaceField::Units));
    }
    if let Some(words) = args.get("sg") {
        let conventions = GravityConvention::ALL.map(GravityConvention::as_str);
        let found = GravityConvention::parse(&join(words));
        let unknown = || {
            refuse(msg!(
                "no-gravity-unknown",
                text = join(words),
                names = list(&conventions)
            ))
        };
        fields.push(PlaceField::Gravity(found.ok_or_else(unknown)?));
    }
    let air = |name: &str| args.get(name).map(figure::room_air).transpose();
    fields.extend(air("winter")?.map(PlaceField::Winter));
    fields.extend(air("summer")?.map(PlaceField::Summer));
    call.done(Ask::SetUp(SetUp::PlaceSet(fields)))
}

/// The IANA name of a zone, as it is said: in any case, with spaces.
///
/// # Errors
/// There is none of that name; with the nearest names, where there are some.
pub fn zone_named(text: &str) -> Result<String, Refusal> {
    zone(&tokens(text))
}

fn zone(words: &[Token]) -> Result<String, Refusal> {
    let text = join(words).replace(' ', "_");
    if let Some(zone) = Zone::get(&text) {
        return Ok(zone.name().to_owned());
    }
    let all: Vec<String> = TimeZoneDatabase::bundled()
        .available()
        .map(|name| name.to_string())
        .collect();
    // "London" alone is enough to be shown the way.
    let ends = all.iter().filter(|name| {
        name.rsplit('/')
            .next()
            .is_some_and(|city| city.eq_ignore_ascii_case(&text))
    });
    let mut near: Vec<&str> = ends.map(String::as_str).take(super::nearest::OFFERED).collect();
    if near.is_empty() {
        near = nearest(&text, all.iter().map(String::as_str));
    }
    Err(if near.is_empty() {
        refuse(msg!("no-zone-unknown", text = text))
    } else {
        refuse(msg!("no-zone-nearest", text = text, names = list(&near)))
    })
}

/// Reads an `/enclosure` line.
pub(super) fn enclosure(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => enclosure_add(call),
        "set" => {
            let enclosure = one_enclosure(&call.bare("spot")?, ctx)?;
            let (fields, from) = (
                enclosure_fields(&call, Some(enclosure))?,
                values::from(&call.args, ctx)?,
            );
            Ok(Ask::SetUp(SetUp::EnclosureSet {
                enclosure,
                fields,
                from,
            }))
        }
        "retire" => {
            let enclosure = one_enclosure(&call.bare("spot")?, ctx)?;
            Ok(Ask::SetUp(SetUp::EnclosureRetire { enclosure }))
        }
        _ => call.done(Ask::SetUp(SetUp::EnclosureList)),
    }
}

fn enclosure_add(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    if !call.args.has("volume") {
        values::take_quantity(&mut call.args, "volume", Kind::Volume, ctx);
    }
    let Some(litres) = values::litres(&call.args, "volume", ctx)? else {
        // "Living room tank 400 L": the room would take the rest of the name and the volume.
        if call
            .args
            .get("room")
            .is_some_and(|words| values::holds_volume(words, ctx))
        {
            return Err(refuse(msg!("no-name-holds-room")));
        }
        return Err(values::no_volume(&call.args, ctx).unwrap_or_else(|| call.missing("volume")));
    };
    let words = call.new_name()?;
    // An enclosure that is called like a person would hide them.
    let people = people::carers(ctx).into_iter().map(|(_, name)| name);
    let name = names::new(&words, names::enclosures(ctx).chain(people))?;
    let (fields, from) = (enclosure_fields(&call, None)?, values::from(&call.args, ctx)?);
    Ok(Ask::SetUp(SetUp::EnclosureAdd {
        name,
        litres,
        fields,
        from,
    }))
}

/// One enclosure; a set of them is refused.
pub(super) fn one_enclosure(words: &[Token], ctx: &Context<'_>) -> Result<EnclosureId, Refusal> {
    let found = spot::read(words, ctx)?;
    match (found.enclosures.as_slice(), found.grain) {
        ([one], Grain::Enclosure | Grain::Set) => Ok(*one),
        _ => Err(refuse(msg!("no-spot-one-enclosure", text = join(words)))),
    }
}

fn enclosure_fields(call: &Call<'_>, own: Option<EnclosureId>) -> Result<Vec<EnclosureField>, Refusal> {
    let (args, ctx) = (&call.args, call.ctx);
    let mut fields = Vec::new();
    if let (Some(own), Some(words)) = (own, args.get("name")) {
        // An enclosure may be called otherwise in case alone.
        let others = ctx.place.enclosures.values().filter(|other| other.id != own);
        fields.push(EnclosureField::Name(names::new(
            words,
            others.map(|other| other.name.as_str()),
        )?));
    }
    if own.is_some() {
        fields.extend(values::litres(args, "volume", ctx)?.map(EnclosureField::Litres));
    }
    if let Some(words) = args.get("room") {
        let room = if people::is_nobody(words) {
            String::new()
        } else {
            names::text(words)?
        };
        fields.push(EnclosureField::Room(room));
    }
    fields.extend(values::number(args, "order", COUNT_MAX)?.map(EnclosureField::Order));
    fields.extend(values::number(args, "crabs", COUNT_MAX)?.map(EnclosureField::Crabs));
    let (smallest, largest) = (
        values::centimetres(args, "smallest", ctx)?,
        values::centimetres(args, "largest", ctx)?,
    );
    if let (Some(small), Some(large)) = (smallest, largest)
        && small > large
    {
        return Err(refuse(msg!("no-crabs-upside-down")));
    }
    fields.extend(smallest.map(EnclosureField::Smallest));
    fields.extend(largest.map(EnclosureField::Largest));
    fields.extend(values::carer_or_nobody(args, "carer", ctx)?.map(EnclosureField::Carer));
    fields.extend(values::switch(args, "quarantine")?.map(EnclosureField::Quarantine));
    fields.extend(values::switch(args, "sensor")?.map(EnclosureField::Sensor));
    fields.extend(quiet_zone(call)?.map(EnclosureField::Quiet));
    fields.extend(made(call)?);
    Ok(fields)
}

/// How it is made: `size 90x45x45 cm substrate 15 cm glass 6 mm lid gaps heated 27C`.
fn made(call: &Call<'_>) -> Result<Vec<EnclosureField>, Refusal> {
    let (args, ctx) = (&call.args, call.ctx);
    let mut fields = Vec::new();
    if let Some(words) = args.get("size") {
        fields.push(EnclosureField::Size(figure::size(words, ctx)?));
    }
    if let Some(words) = args.get("substrate") {
        fields.push(EnclosureField::Substrate(figure::layer(words, ctx)?));
    }
    if let Some(words) = args.get("glass") {
        fields.push(EnclosureField::Glazing(figure::glazing(words, ctx)?));
    }
    if let Some(words) = args.get("lid") {
        fields.push(EnclosureField::Lid(figure::lid(words)?));
    }
    if let Some(words) = args.get("heated") {
        fields.push(EnclosureField::Heated(figure::heat(words)?));
    }
    Ok(fields)
}

/// `quiet left back until 2026-04-02`, or `quiet none`.
fn quiet_zone(call: &Call<'_>) -> Result<Option<Option<QuietZone>>, Refusal> {
    let (quiet, until) = (call.args.get("quiet"), call.args.get("until"));
    let Some(words) = quiet else {
        return if until.is_some() {
            Err(refuse(msg!("no-quiet-without-spot")))
        } else {
            Ok(None)
        };
    };
    if people::is_nobody(words) {
        return Ok(Some(None));
    }
    let Some(date) = until else {
        return Err(refuse(msg!("no-quiet-without-date")));
    };
    let text = join(date);
    let until = coming::whole(date, call.ctx)?.date;
    if until <= call.ctx.place.zone.date(call.ctx.now) {
        return Err(refuse(msg!("no-quiet-date-past", text = text)));
    }
    Ok(Some(Some(QuietZone {
        spot: names::text(words)?,
        until,
    })))
}
