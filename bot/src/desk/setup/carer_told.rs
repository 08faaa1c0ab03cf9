//! How people are told of: what was set, the list of all, and everything of one.

use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::people::{Free, Skills, Span};
use wrackline_core::place::{Carer, CarerId, Role};
use wrackline_core::quantity::{Units, grams};
use wrackline_core::rota::{Needs, work};

use super::carers::known;
use crate::chat::blocks::{Answer, Block};
use crate::desk::tell::Tell;
use crate::desk::tell::clock;
use crate::desk::{Desk, Refused};
use crate::house::role_word;
use crate::msg;

/// What a role means for the one who has it.
pub(super) fn meaning(desk: &Desk<'_>, role: Role) -> String {
    desk.tell.word(match role {
        Role::Keeper => "setup-role-keeper",
        Role::Regular => "setup-role-regular",
        Role::Sitter => "setup-role-sitter",
        Role::Helper => "setup-role-helper",
    })
}

/// Kilograms to a tenth, in the units of whoever reads.
pub(in crate::desk) fn mass(tell: &Tell<'_>, kg: f64) -> String {
    grams((kg * 10.0).round() * 100.0, tell.place.units)
}

/// What somebody lifts, as it was said: a pound stays one.
fn lifts(desk: &Desk<'_>, kg: f64) -> String {
    grams(kg * 1_000.0, desk.place().units)
}

/// The enclosures that are someone's by habit.
pub(super) fn habit(desk: &Desk<'_>, id: CarerId) -> Vec<String> {
    let walk = desk.place().walk().into_iter();
    walk.filter(|one| one.carer == Some(id))
        .map(|one| one.name.clone())
        .collect()
}

/// What becomes of those who named someone as their stand-in that can be it no longer.
pub(super) fn stand_in_lost(desk: &Desk<'_>, id: CarerId) -> Option<String> {
    let carers = desk.place().carers.values();
    let all: Vec<String> = carers
        .filter(|carer| carer.stand_in == Some(id) && carer.id != id)
        .map(|carer| desk.tell.carer(carer.id))
        .collect();
    let lost = msg!(
        "setup-stand-in-lost",
        names = desk.tell.list(&all),
        name = desk.tell.carer(id)
    );
    (!all.is_empty()).then(|| desk.say(&lost))
}

/// The days of someone's span.
pub(super) fn span(desk: &Desk<'_>, id: CarerId, span: Option<Span>) -> String {
    let name = desk.tell.carer(id);
    desk.say(&match span {
        Some(Span { from, to }) => msg!(
            "setup-span",
            name = name,
            from = desk.tell.date(from),
            to = desk.tell.date(to)
        ),
        None => msg!("setup-span-none", name = name),
    })
}

/// What a change comes to; the place has it already. `could` is what they could do before.
pub(super) fn change(desk: &Desk<'_>, id: CarerId, change: &CarerChange, could: Skills) -> Vec<String> {
    let name = desk.tell.carer(id);
    let one = |message: &crate::words::Message| vec![desk.say(message)];
    match change {
        CarerChange::Added(_) | CarerChange::Retired => Vec::new(),
        CarerChange::Role(role) => {
            let word = desk.tell.word(role_word(*role));
            let first = desk.say(&msg!("setup-carer-role", name = name, role = word));
            let lost = stand_in_lost(desk, id).filter(|_| *role == Role::Helper);
            [first, meaning(desk, *role)].into_iter().chain(lost).collect()
        }
        CarerChange::StandIn(Some(other)) => one(&msg!(
            "setup-stand-in",
            name = name,
            other = desk.tell.carer(*other)
        )),
        CarerChange::StandIn(None) => one(&msg!("setup-stand-in-none", name = name)),
        CarerChange::Span(days) => vec![span(desk, id, *days)],
        CarerChange::Zone(zone) => one(&match zone.as_deref() {
            Some(zone) => msg!("setup-own-zone", name = name, zone = zone),
            None => msg!("setup-own-zone-none", name = name),
        }),
        CarerChange::Units(Some(units)) => one(&own_units(name, *units)),
        CarerChange::Units(None) => one(&msg!("setup-own-units-none", name = name)),
        CarerChange::Language(_) => one(&msg!("setup-own-language", name = name)),
        CarerChange::Free(when) => one(&match when {
            Some(when) => msg!("setup-free", name = name, when = free(desk, when)),
            None => msg!("setup-free-any", name = name),
        }),
        CarerChange::Quiet(Some(hours)) => {
            let (from, to) = (clock(hours.from), clock(hours.to));
            one(&msg!("setup-own-quiet", name = name, from = from, to = to))
        }
        CarerChange::Quiet(None) => one(&msg!("setup-own-quiet-none", name = name)),
        CarerChange::Skills(skills) => {
            let first = desk.say(&msg!("setup-skills", name = name, can = can(desk, *skills)));
            std::iter::once(first)
                .chain(granted(desk, id, could, *skills))
                .collect()
        }
        CarerChange::Share(share) if *share > 0.0 => {
            one(&msg!("setup-share", name = name, share = share.to_string()))
        }
        CarerChange::Share(_) => one(&msg!("setup-share-none", name = name)),
        CarerChange::MinutesMax(Some(most)) => one(&msg!("setup-minutes", name = name, minutes = *most)),
        CarerChange::MinutesMax(None) => one(&msg!("setup-minutes-any", name = name)),
        CarerChange::Private(true) => one(&msg!("setup-private", name = name)),
        CarerChange::Private(false) => one(&msg!("setup-private-no", name = name)),
    }
}

fn own_units(name: String, units: Units) -> crate::words::Message {
    match units {
        Units::Metric => msg!("setup-own-units-metric", name = name),
        Units::Us => msg!("setup-own-units-us", name = name),
        Units::Imperial => msg!("setup-own-units-imperial", name = name),
    }
}

/// What someone can do, as `siphon, salt, up to 10 kg`.
fn can(desk: &Desk<'_>, skills: Skills) -> String {
    if skills == Skills::ALL {
        return desk.tell.word("skills-all");
    }
    let siphon = skills.siphon.then(|| desk.tell.word("skill-word-siphon"));
    let salt = skills.salt.then(|| desk.tell.word("skill-word-salt"));
    let lift = skills
        .lift_kg
        .map(|kg| desk.say(&msg!("skills-lift", most = lifts(desk, kg))));
    let all: Vec<String> = siphon.into_iter().chain(salt).chain(lift).collect();
    if all.is_empty() {
        desk.tell.word("skills-none")
    } else {
        all.join(", ")
    }
}

/// A skill that turns ask for, with what it is called.
type Skill = (&'static str, fn(&Needs) -> bool);

const SIPHON: Skill = ("skill-siphon", |needs| needs.siphon);
const SALT: Skill = ("skill-salt", |needs| needs.salt);

/// How many turns that ask for what is granted now were done together with someone before.
fn granted(desk: &Desk<'_>, id: CarerId, could: Skills, can: Skills) -> Vec<String> {
    let siphon = (can.siphon && !could.siphon).then_some(SIPHON);
    let salt = (can.salt && !could.salt).then_some(SALT);
    let all = siphon.into_iter().chain(salt);
    all.map(|(skill, asks)| {
        let (name, skill) = (desk.tell.carer(id), desk.tell.word(skill));
        desk.say(&match done_together(desk, id, asks) {
            0 => msg!("setup-skill-untried", name = name, skill = skill),
            turns => msg!("setup-skill-tried", name = name, skill = skill, turns = turns),
        })
    })
    .collect()
}

/// The turns that someone did together with another, of duties that ask for something as the place is now.
fn done_together(desk: &Desk<'_>, id: CarerId, asks: fn(&Needs) -> bool) -> usize {
    let book = desk.book();
    let counts = |entry: &&wrackline_core::journal::Entry| {
        let (duty, target) = match &entry.event {
            Event::Did(duty, target, _) => (*duty, *target),
            Event::Waits(duty, target, _) if book.is_nodded(entry.seq) => (*duty, *target),
            _ => return false,
        };
        let with = book.together(entry.seq);
        let took_part = with.is_some_and(|with| with == id || entry.by == id);
        took_part && !book.is_void(entry.seq) && asks(&work(desk.place(), duty, target).needs)
    };
    book.entries().filter(counts).count()
}

/// When someone is there, as `Mon Wed evening; Sat Sun`.
fn free(desk: &Desk<'_>, all: &[Free]) -> String {
    let lot = |free: &Free| {
        let days: Vec<String> = free
            .days
            .numbers()
            .map(|day| desk.tell.word(format!("weekday-short-{day}")))
            .collect();
        let round = free.round.map(|round| desk.tell.round(round));
        days.into_iter().chain(round).collect::<Vec<_>>().join(" ")
    };
    all.iter().map(lot).collect::<Vec<_>>().join("; ")
}

/// The role with the days of a span.
fn role(desk: &Desk<'_>, carer: &Carer) -> String {
    let role = desk.tell.word(role_word(carer.role));
    match carer.span {
        Some(span) => desk.say(&msg!(
            "carer-role-span",
            role = role,
            from = span.from.to_string(),
            to = span.to.to_string()
        )),
        None => role,
    }
}

fn share(carer: &Carer) -> String {
    carer.wants().to_string()
}

/// `/carer list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let place = desk.place();
    let head = [
        "setup-head-name",
        "setup-head-role",
        "setup-head-stand-in",
        "setup-head-habit",
        "setup-head-share",
        "setup-head-can",
        "setup-head-free",
    ];
    let dash = || "–".to_owned();
    let rows = place.carers.values().map(|carer| {
        let stand_in = carer.stand_in.filter(|other| place.carers.contains_key(other));
        let habit = habit(desk, carer.id);
        vec![
            desk.tell.carer(carer.id),
            role(desk, carer),
            stand_in.map_or_else(dash, |other| desk.tell.carer(other)),
            Some(desk.tell.list(&habit))
                .filter(|text| !text.is_empty())
                .unwrap_or_else(dash),
            share(carer),
            can(desk, carer.can()),
            carer.free.as_ref().map_or_else(dash, |when| free(desk, when)),
        ]
    });
    let mut answer = desk.done(&msg!("setup-carers-title", count = place.carers.len()));
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table {
        head,
        rows: rows.collect(),
    });
    let ended = place.ended.values().filter_map(|carer| {
        let (name, over) = (desk.tell.carer(carer.id), desk.tell.date(carer.span?.to));
        Some(Block::Text {
            text: desk.say(&msg!("carer-ended", name = name, ended = over)),
        })
    });
    answer.blocks.extend(ended);
    answer
}

/// `/carer list NAME`: everything of one person.
pub(super) fn show(desk: &Desk<'_>, id: CarerId) -> Result<Answer, Refused> {
    let carer = known(desk, id)?;
    let name = desk.tell.carer(id);
    let title = desk.say(&msg!(
        "carer-title",
        name = name.as_str(),
        role = role(desk, carer)
    ));
    let told = |of: CarerChange| change(desk, id, &of, Skills::ALL);
    let habit = habit(desk, id);
    let habit =
        (!habit.is_empty()).then(|| desk.say(&msg!("carer-habit", enclosures = desk.tell.list(&habit))));
    let share = if carer.wants() > 0.0 {
        msg!("setup-share", name = name.as_str(), share = share(carer))
    } else {
        msg!("setup-share-none", name = name.as_str())
    };
    let zone = carer.zone.as_ref().map(|zone| zone.name().to_owned());
    let lines = [
        told(CarerChange::Skills(carer.can())),
        vec![desk.say(&share)],
        told(CarerChange::MinutesMax(carer.minutes_max)),
        told(CarerChange::Free(carer.free.clone())),
        told(CarerChange::StandIn(carer.stand_in)),
        habit.into_iter().collect(),
        told(CarerChange::Quiet(carer.quiet)),
        told(CarerChange::Zone(zone)),
        told(CarerChange::Units(carer.units)),
        told(CarerChange::Private(carer.private)),
    ];
    let items = lines.into_iter().flatten().map(|line| desk.item(line)).collect();
    let mut answer = desk.done_text(title);
    answer.blocks.push(Block::Items { items });
    Ok(answer)
}
