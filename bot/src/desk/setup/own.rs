//! `/duty add`, `/duty retire`: duties of the place's own.

use jiff::Timestamp;
use wrackline_core::care::{Duty, OwnDuty, Schedule, standing};
use wrackline_core::journal::{Event, OwnDutyChange};
use wrackline_core::place::{OwnDutyId, Target};

use super::{check, receipt, spoken};
use crate::desk::tell::capital;
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::{Grain, Spot};
use crate::msg;

/// What a duty is about: one thing, since a turn of it is one thing to do.
fn target(desk: &Desk<'_>, spot: Option<&Spot>) -> Result<Target, Refused> {
    let Some(spot) = spot else {
        return Ok(Target::Place);
    };
    let place = desk.place();
    match (spot.grain, spot.pools.as_slice(), spot.enclosures.as_slice()) {
        (Grain::Pool, [pool], _) if place.pools.contains_key(pool) => Ok(Target::Pool(*pool)),
        (Grain::Enclosure, _, [one]) if place.enclosures.contains_key(one) => Ok(Target::Enclosure(*one)),
        // A room or "all" may come to one enclosure with all that is in it.
        (Grain::Set, pools, [one]) if pools.len() == place.pools_of(*one).len() => {
            Ok(Target::Enclosure(*one))
        }
        (Grain::Set, ..) => Err(msg!("setup-own-one")),
        _ => Err(msg!("setup-own-where")),
    }
}

/// A name that no duty has.
fn free_name(desk: &Desk<'_>, name: &str) -> Result<(), Refused> {
    let own = desk.place().duties.values().map(|(duty, _)| duty.name.as_str());
    check::free(name, own, "setup-own-name")?;
    let catalogue: Vec<String> = Duty::ALL.iter().map(|duty| desk.tell.duty(*duty)).collect();
    check::free(name, catalogue.iter().map(String::as_str), "setup-own-catalogue")
}

/// Whether a schedule ever comes.
fn comes(desk: &Desk<'_>, schedule: &Schedule) -> Result<(), Refused> {
    let comes = match schedule {
        Schedule::Every(every) => every.minutes() > 0,
        Schedule::Weekdays { days, .. } if days.is_empty() => false,
        calendar => calendar
            .next(desk.place(), desk.place().zone.civil(desk.now()))
            .is_some(),
    };
    if comes {
        Ok(())
    } else {
        Err(msg!("setup-own-never"))
    }
}

/// `/duty add NAME SPOT every 3 days | on Mon Thu | cron "…"`
pub(super) fn add(
    desk: &Desk<'_>,
    name: &str,
    spot: Option<&Spot>,
    schedule: Schedule,
    grace_h: u32,
    disturbs: bool,
) -> Result<Outcome, Refused> {
    let name = check::name(name)?;
    free_name(desk, &name)?;
    let target = target(desk, spot)?;
    comes(desk, &schedule)?;
    seldom_enough(desk, &schedule)?;
    let id = OwnDutyId(check::next_number(desk, |event| match event {
        Event::OwnDuty(id, _) => Some(id.0),
        _ => None,
    }));
    let duty = OwnDuty {
        name,
        target,
        schedule,
        grace_h,
        disturbs,
    };
    let drafts = vec![desk.draft(Event::OwnDuty(id, OwnDutyChange::Added(duty.clone())))];
    Ok(Outcome::write(drafts, move |desk, _| {
        let title = msg!(
            "setup-own-added",
            name = capital(&duty.name),
            target = desk.tell.target(target),
            schedule = spoken::schedule(desk, &duty.schedule)
        );
        let grace = desk.say(&msg!("setup-own-grace", grace = spoken::hours(desk, grace_h)));
        let disturbs = disturbs.then(|| desk.tell.word("setup-own-disturbs"));
        let title = receipt::sentences([Some(desk.say(&title)), first_due(desk, id, target)]);
        receipt::answer(desk, title, std::iter::once(grace).chain(disturbs))
    }))
}

/// The least minutes between two turns of a duty: people do it, not machines.
const APART_MIN: i64 = 15;

/// How many of a calendar's occurrences are looked at for that.
const LOOKED_AT: usize = 100;

fn seldom_enough(desk: &Desk<'_>, schedule: &Schedule) -> Result<(), Refused> {
    let mut one = schedule.next(desk.place(), desk.place().zone.civil(desk.now()));
    for _ in 0..LOOKED_AT {
        let Some(on) = one else { return Ok(()) };
        one = schedule.next(desk.place(), on);
        if one.is_some_and(|next| next.duration_since(on).as_mins() < APART_MIN) {
            return Err(msg!("setup-own-often", minutes = APART_MIN));
        }
    }
    Ok(())
}

fn first_due(desk: &Desk<'_>, id: OwnDutyId, target: Target) -> Option<String> {
    let standing = standing(desk.book(), desk.place(), Duty::Own(id), target, desk.now())?;
    (standing.due < Timestamp::MAX)
        .then(|| desk.say(&msg!("setup-own-first", due = receipt::due(desk, standing.due))))
}

/// `/duty retire NAME`
pub(super) fn retire(desk: &Desk<'_>, id: OwnDutyId) -> Result<Outcome, Refused> {
    let (duty, _) = desk.place().duties.get(&id).ok_or(msg!("setup-own-gone"))?;
    let (name, target) = (capital(&duty.name), desk.tell.target(duty.target));
    let drafts = vec![desk.draft(Event::OwnDuty(id, OwnDutyChange::Retired))];
    Ok(Outcome::write(drafts, move |desk, _| {
        let title = msg!(
            "setup-own-retired",
            name = name.as_str(),
            target = target.as_str()
        );
        receipt::answer(desk, desk.say(&title), [desk.tell.word("setup-journal-keeps")])
    }))
}

/// A duty of the place's own as a row of the list of duties.
pub(super) fn row(desk: &Desk<'_>, duty: &OwnDuty) -> Vec<String> {
    let name = desk.say(&msg!(
        "setup-own-row",
        name = duty.name.as_str(),
        target = desk.tell.target(duty.target)
    ));
    vec![
        name,
        spoken::schedule(desk, &duty.schedule),
        spoken::hours(desk, duty.grace_h),
        desk.tell.word("setup-never"),
        desk.tell.word("setup-basis-place"),
    ]
}
