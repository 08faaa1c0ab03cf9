//! What stands beside the steps: what can hurt, whether this is the pool's own turn, and how it is logged.

use wrackline_core::care::{Because, Duty, Rule, cadence};
use wrackline_core::place::{Enclosure, Pool, Target, Water};

use super::Amounts;
use crate::desk::Desk;
use crate::msg;

/// What can hurt people or animals in this work.
pub(super) fn cautions(
    desk: &Desk<'_>,
    duty: Duty,
    target: Target,
    pool: Option<&Pool>,
    amounts: &Amounts,
) -> Vec<String> {
    let hands_in = matches!(
        duty,
        Duty::Change | Duty::PartChange | Duty::Rinse | Duty::AirCheck | Duty::LeakCheck | Duty::Scrub
    );
    let lifts = matches!(duty, Duty::Change | Duty::PartChange | Duty::LeakCheck);
    let adds = matches!(
        duty,
        Duty::Change | Duty::PartChange | Duty::TopUp | Duty::Condition
    );
    let salt = pool.is_some_and(|pool| pool.water == Water::Salt);
    let word = |id: &str| desk.tell.word(id.to_owned());
    let quiet = desk
        .place()
        .enclosure_of(target)
        .and_then(|one| quiet_zone(desk, one));
    let closed = super::super::cycle::closed(&desk.tell, pool.map(|pool| pool.id));
    let closed = closed.into_iter().find_map(|block| match block {
        crate::chat::blocks::Block::Caution { text } => Some(text),
        _ => None,
    });
    let all = [
        closed,
        quiet.filter(|_| hands_in || matches!(duty, Duty::Look)),
        hands_in.then(|| word("how-care-mains")),
        lifts.then(|| amounts.say(desk, "how-care-lift".to_owned())),
        adds.then(|| {
            word(if salt && duty != Duty::TopUp {
                "how-care-water-salt"
            } else {
                "how-care-water"
            })
        }),
        (duty == Duty::Look).then(|| word("how-care-sick")),
        (duty == Duty::Hygrometer).then(|| word("how-care-paste")),
    ];
    all.into_iter().flatten().collect()
}

fn quiet_zone(desk: &Desk<'_>, one: &Enclosure) -> Option<String> {
    let zone = one
        .quiet
        .as_ref()
        .filter(|zone| zone.until > desk.place().zone.date(desk.now()))?;
    let (name, spot, until) = (one.name.as_str(), zone.spot.as_str(), desk.tell.date(zone.until));
    Some(desk.say(&msg!("how-care-quiet", name = name, spot = spot, until = until)))
}

/// What else is to be known: whether this is the pool's own turn, and how it is logged.
pub(super) fn notes(
    desk: &Desk<'_>,
    duty: Duty,
    target: Target,
    pool: Option<&Pool>,
    amounts: &Amounts,
) -> Vec<String> {
    let cadence = cadence(desk.book(), desk.place(), duty, target, desk.now());
    let rule = cadence.as_ref().and_then(|cadence| cadence.rule);
    let name = desk.tell.target(target);
    let (litres, part) = (amounts.litres.as_str(), amounts.part.as_str());
    let instead = match (duty, rule) {
        (_, None) => Some(msg!("how-not-called", target = name)),
        (Duty::Change, Some(Rule::PartChange)) => Some(msg!(
            "how-part-instead",
            target = name,
            part = part,
            litres = litres
        )),
        (Duty::PartChange, Some(Rule::ChangeStill | Rule::ChangeAerated)) => {
            let because = cadence.iter().flat_map(|cadence| &cadence.because);
            let id = because.copied().find_map(|one| match one {
                Because::FilterWaits(_) => Some("how-change-first"),
                Because::FilterUnproven(_) => Some("how-change-unproven"),
                Because::FilterLapsed(_) => Some("how-change-lapsed"),
                Because::FilterStopped(_) => Some("how-change-stopped"),
                _ => None,
            });
            Some(msg!(
                id.unwrap_or("how-change-instead"),
                target = name,
                litres = litres
            ))
        }
        _ => None,
    };
    let nearly_all = duty == Duty::PartChange && pool.is_some() && amounts.part_fraction > 0.99;
    let filter = pool.and_then(|pool| pool.filter);
    let unproven = duty == Duty::Test && filter.is_some_and(|filter| filter.proven.is_none());
    let said = !matches!(duty, Duty::Test | Duty::Reading);
    let word = desk.tell.duty(duty).to_lowercase();
    let all = [
        instead,
        nearly_all.then(|| msg!("how-part-all")),
        unproven.then(|| msg!("how-test-dosed", spot = amounts.spot.as_str())),
        unproven.then(|| msg!("how-test-tap", spot = amounts.spot.as_str())),
        said.then(|| msg!("how-then", duty = word, spot = amounts.spot.as_str())),
        Some(msg!("how-practice")),
    ];
    all.iter().flatten().map(|message| desk.say(message)).collect()
}
