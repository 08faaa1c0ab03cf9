//! `/fit`: pools against their enclosure. The first line is the verdict with its numbers.
//!
//! `fit/looked` gathers what is known, `fit/air` tells of humidity, `fit/pools` of depth, ways out and spills, `fit/gaps`
//! what was not told and how it is said.

mod air;
mod gaps;
mod looked;
mod pools;

use wrackline_core::air::fit::{BAND, Fit as Found, Setting, fit as reckon};

pub(super) use self::gaps::Gaps;
pub(super) use self::looked::{Looked, Seen, refuse_air};
use super::setup::made;
use super::{Desk, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::Fit;
use crate::msg;
use crate::words::Message;

/// `/fit`
///
/// # Errors
/// A refusal where the enclosure is gone, or its figures cannot be.
pub(super) fn fit(desk: &Desk<'_>, ask: &Fit) -> Result<Answer, Refused> {
    let looked = Looked::of(desk, ask)?;
    let found = reckoned(desk, &looked, &looked.boxed.setting)?;
    let mut title = air::title(desk, &looked, &found);
    if let Some(damp) = damp(desk, &looked)? {
        title = format!("{title} {damp}");
    }
    let misfit = looked
        .pools
        .iter()
        .find_map(|seen| made::filter(desk, seen.pool).err());
    let title = match &misfit {
        // A filter that is wrong for its pool comes first, whatever the humidity.
        Some(refused) => format!("{} {title}", desk.say(refused)),
        None => title,
    };
    let mut answer = desk.done_text(title);
    let blocks = &mut answer.blocks;
    blocks.push(air::table(desk, &looked, &found)?);
    let items: Vec<String> = pools::lines(desk, &looked)?
        .into_iter()
        .chain(air::glass(desk, &found))
        .chain(advice(desk, &found, looked.is_whole()))
        .collect();
    blocks.push(Block::Items {
        items: items.into_iter().map(|text| desk.item(text)).collect(),
    });
    let texts = [
        Some(air::volumes(desk, &looked)),
        Some(air::narrow(desk, &found)),
        air::assumed(desk, &looked, ask),
        gaps(desk, &looked),
        Some(desk.tell.word("fit-checks")),
    ];
    blocks.extend(texts.into_iter().flatten().map(|text| Block::Text { text }));
    Ok(answer)
}

fn reckoned(desk: &Desk<'_>, looked: &Looked<'_>, setting: &Setting) -> Result<Found, Refused> {
    let (pools, winter, summer) = (&looked.boxed.pools, &looked.winter, &looked.summer);
    reckon(setting, pools, winter, summer, BAND).map_err(|error| refuse_air(desk, &error))
}

/// That damp substrate is assumed, with what would be without any: it may turn the verdict, so it stands beside it.
fn damp(desk: &Desk<'_>, looked: &Looked<'_>) -> Result<Option<String>, Refused> {
    let setting = &looked.boxed.setting;
    if setting.substrate.is_none() || looked.enclosure.made.substrate_cm.is_some() {
        return Ok(None);
    }
    if !looked.is_whole() {
        return Ok(Some(desk.tell.word("fit-title-damp-open")));
    }
    let mut bare = looked.enclosure.clone();
    bare.made.substrate_cm = Some(0.0);
    let bare = looked.boxed_as(desk, &bare)?;
    let found = reckoned(desk, looked, &bare.setting)?;
    Ok(Some(desk.say(&air::without_damp(desk, &found))))
}

/// What can be done; none of it has to be bought. Nothing is advised about pools whose surface is not known.
fn advice(desk: &Desk<'_>, found: &Found, is_whole: bool) -> Vec<String> {
    use wrackline_core::air::fit::Advice;
    if !is_whole {
        return Vec::new();
    }
    let exchange = found.summer.exchange.amount().or(found.winter.exchange.amount());
    let say = |advice: &Advice| {
        let id = match advice {
            Advice::SimpleSetUpWorks => "fit-advice-simple",
            Advice::ShallowerSmallerSurface => "fit-advice-smaller",
            Advice::CoverPart => "fit-advice-cover",
            Advice::LessAir => "fit-advice-less-air",
            Advice::VentMore => {
                return match exchange {
                    Some(exchange) => desk.say(&msg!(
                        "fit-advice-vent-by",
                        hourly = wrackline_core::quantity::plain(exchange.0)
                    )),
                    None => desk.tell.word("fit-advice-vent"),
                };
            }
            Advice::WiderSurface => "fit-advice-wider",
            Advice::SealGaps => "fit-advice-seal",
            Advice::VentBySeason => "fit-advice-season",
            Advice::ColdGlass => "fit-advice-cold-glass",
            Advice::MeasureFirst => "fit-advice-measure",
        };
        desk.say(&Message::new(id))
    };
    found.advice.iter().map(say).collect()
}

/// What was not told, in one line.
fn gaps(desk: &Desk<'_>, looked: &Looked<'_>) -> Option<String> {
    let mut gaps = Gaps::default();
    gaps.enclosure(desk, looked);
    for seen in &looked.pools {
        gaps.pool(desk, seen);
    }
    gaps.crabs(desk, looked);
    gaps.say(desk)
}
