//! What is said of a rehearsal.

use wrackline_core::care::{Duty, Numbers, Rule};
use wrackline_core::civil::plus_days;
use wrackline_core::place::Gear;
use wrackline_core::rehearse::{Change, Cut, Kept, Plan, Rehearsal, differences};
use wrackline_core::water::cycle::Rules;

use super::table::{least, left, minutes, table};
use crate::chat::blocks::{Answer, Block};
use crate::desk::Desk;
use crate::desk::setup::spoken;
use crate::desk::tell::capital;
use crate::msg;

/// Pools whose power cuts are told one by one; of a larger place the worst are told.
const CUTS_MAX: usize = 4;

/// The answer: the verdict, both keepings beside each other, margins, power cuts, and what it rests on.
pub(super) fn answer(desk: &Desk<'_>, plan: &Plan, found: &Rehearsal) -> Answer {
    let changed = !plan.changes.is_empty();
    let mut answer = desk.done_text(if changed {
        title(desk, plan, found)
    } else {
        title_same(desk, plan, found)
    });
    let blocks = &mut answer.blocks;
    if changed {
        blocks.push(Block::Text {
            text: verdict(desk, plan, found),
        });
    }
    blocks.push(table(desk, found, changed));
    let cuts = cuts(desk, found, changed);
    if !cuts.is_empty() {
        blocks.push(Block::Items {
            items: cuts.into_iter().map(|text| desk.item(text)).collect(),
        });
    }
    let has_filter = |change: &Change| {
        matches!(
            change,
            Change::With {
                gear: Gear::Filter,
                ..
            }
        )
    };
    let has_numbers = |change: &Change| matches!(change, Change::Numbers(..));
    let stood = Rules::default().stood.0;
    let texts = [
        stays(desk, found).filter(|_| changed),
        plan.changes
            .iter()
            .any(has_filter)
            .then(|| desk.say(&msg!("rehearse-filter", hours = stood))),
        plan.changes
            .iter()
            .any(has_numbers)
            .then(|| desk.tell.word("rehearse-numbers-all")),
        Some(span(desk, plan)),
        changed.then(|| desk.tell.word("rehearse-assumed")),
        Some(desk.tell.word("rehearse-rests")),
    ];
    blocks.extend(texts.into_iter().flatten().map(|text| Block::Text { text }));
    answer
}

/// What is told of: the pools, or the place.
fn subject(desk: &Desk<'_>, plan: &Plan) -> String {
    let has_numbers = plan.changes.iter().any(|one| matches!(one, Change::Numbers(..)));
    if plan.pools.is_empty() || has_numbers {
        return desk.tell.word("the-place");
    }
    let names: Vec<String> = plan.pools.iter().map(|pool| desk.tell.pool(*pool)).collect();
    desk.tell.list(&names)
}

/// The other keeping in a few words, each once: "with air, without filter".
fn keeping(desk: &Desk<'_>, plan: &Plan) -> String {
    let mut all: Vec<String> = Vec::new();
    for change in &plan.changes {
        let said = match *change {
            Change::With { gear, proven, .. } => with(desk, gear, proven),
            Change::Without { gear, .. } => without(desk, gear),
            Change::Litres(_, litres) => {
                desk.say(&msg!("rehearse-litres", litres = desk.tell.litres(litres)))
            }
            Change::Numbers(rule, numbers) => with_numbers(desk, rule, numbers),
        };
        if !all.contains(&said) {
            all.push(said);
        }
    }
    capital(&all.join(", "))
}

/// With a piece of gear, as it is told.
pub(super) fn with(desk: &Desk<'_>, gear: Gear, proven: bool) -> String {
    let gear = if proven { "proven" } else { code(gear) };
    desk.say(&msg!("rehearse-with", gear = gear))
}

/// Without a piece of gear, as it is told.
pub(super) fn without(desk: &Desk<'_>, gear: Gear) -> String {
    desk.say(&msg!("rehearse-without", gear = code(gear)))
}

fn code(gear: Gear) -> &'static str {
    match gear {
        Gear::Air => "air",
        Gear::Filter => "filter",
    }
}

fn with_numbers(desk: &Desk<'_>, rule: Rule, numbers: Numbers) -> String {
    let row = rule.row();
    let hazard = numbers.hazard_h.or(row.hazard_h);
    let (rule, every) = (
        spoken::rule(desk, rule),
        spoken::every(desk, numbers.every.unwrap_or(row.every)),
    );
    match hazard {
        Some(hours) => desk.say(&msg!(
            "rehearse-numbers-hazard",
            rule = rule,
            every = every,
            hazard = spoken::hours(desk, hours)
        )),
        None => desk.say(&msg!("rehearse-numbers", rule = rule, every = every)),
    }
}

/// The duty whose numbers are all that is changed, where it is no change of water.
fn only_numbers(plan: &Plan) -> Option<Duty> {
    match plan.changes.as_slice() {
        [Change::Numbers(rule, _)] => Some(rule.row().duty).filter(|duty| *duty != Duty::Change),
        _ => None,
    }
}

fn title(desk: &Desk<'_>, plan: &Plan, found: &Rehearsal) -> String {
    let weekly = |kept: &Kept| minutes(found.weekly(kept.minutes()));
    if let Some(duty) = only_numbers(plan) {
        let count = |kept: &Kept| kept.turns.iter().filter(|turn| turn.duty == duty).count();
        return desk.say(&msg!(
            "rehearse-title-turns",
            keeping = keeping(desk, plan),
            subject = subject(desk, plan),
            would = count(&found.would),
            was = count(&found.was),
            days = found.days.round(),
            minutes = weekly(&found.would),
            wasminutes = weekly(&found.was)
        ));
    }
    let litres = |kept: &Kept| desk.tell.litres(kept.water().litres);
    desk.say(&msg!(
        "rehearse-title",
        keeping = keeping(desk, plan),
        subject = subject(desk, plan),
        would = found.would.changes(),
        was = found.was.changes(),
        days = found.days.round(),
        litres = litres(&found.would),
        waslitres = litres(&found.was),
        minutes = weekly(&found.would),
        wasminutes = weekly(&found.was)
    ))
}

/// With nothing changed: that every mark comes out as the journal has it.
fn title_same(desk: &Desk<'_>, plan: &Plan, found: &Rehearsal) -> String {
    let (marks, differ) = differences(desk.book(), &found.would.book, plan);
    desk.say(&msg!(
        "rehearse-title-same",
        subject = capital(&subject(desk, plan)),
        was = found.was.changes(),
        days = found.days.round(),
        litres = desk.tell.litres(found.was.water().litres),
        minutes = minutes(found.weekly(found.was.minutes())),
        marks = marks,
        differ = differ
    ))
}

/// Whether the other keeping is worth its while. Nothing is urged to be bought.
fn verdict(desk: &Desk<'_>, plan: &Plan, found: &Rehearsal) -> String {
    let is_more = |change: &Change| matches!(change, Change::With { .. });
    let buys = if plan.changes.iter().any(is_more) {
        "yes"
    } else {
        "no"
    };
    let (was, would) = (found.was.hazards(), found.would.hazards());
    desk.say(&match (was, would) {
        (0, 0) if found.is_same() => msg!("rehearse-verdict-same"),
        (0, 0) if found.is_small() => msg!("rehearse-verdict-small", buys = buys),
        (0, 0) => msg!("rehearse-verdict-works", buys = buys),
        _ => msg!("rehearse-verdict-hazards", was = was, would = would),
    })
}

/// What the very same deeds would have left before a hazard.
fn stays(desk: &Desk<'_>, found: &Rehearsal) -> Option<String> {
    let (was, stays) = (
        least(&found.was, Duty::Change)?,
        least(&found.stays, Duty::Change)?,
    );
    Some(desk.say(&msg!(
        "rehearse-stays",
        left = left(desk, stays),
        was = left(desk, was)
    )))
}

/// Power cuts under both keepings, pool by pool, the worst first.
fn cuts(desk: &Desk<'_>, found: &Rehearsal, changed: bool) -> Vec<String> {
    let mut pools: Vec<&Cut> = found.would.cuts.iter().collect();
    pools.sort_by_key(|cut| cut.worst.minutes);
    let mut lines = Vec::new();
    for would in pools.into_iter().take(CUTS_MAX) {
        let was = found.was.cuts.iter().find(|cut| cut.pool == would.pool);
        lines.extend(was.map(|cut| one_cut(desk, cut, "rehearse-head-was")));
        if changed {
            lines.push(one_cut(desk, would, "rehearse-head-would"));
        }
    }
    lines
}

fn one_cut(desk: &Desk<'_>, cut: &Cut, keeping: &'static str) -> String {
    let id = if cut.stopped == 0 {
        "rehearse-cut-still"
    } else {
        "rehearse-cut"
    };
    let worst = if cut.worst.minutes > 0 {
        left(desk, cut.worst.minutes)
    } else {
        desk.tell.word("rehearse-at-once")
    };
    let mut message = msg!(
        id,
        pool = desk.tell.pool(cut.pool),
        keeping = desk.tell.word(keeping),
        left = worst,
        at = desk.tell.moment(cut.worst.at)
    );
    if cut.stopped > 0 {
        message = message
            .with("rounds", cut.rounds)
            .with("half", cut.within[0])
            .with("whole", cut.within[1]);
    }
    desk.say(&message)
}

/// From when to when.
fn span(desk: &Desk<'_>, plan: &Plan) -> String {
    let zone = &desk.place().zone;
    let day = zone.date(plan.to);
    if plan.to == zone.day_start(day) {
        return desk.say(&msg!(
            "rehearse-span-days",
            from = desk.tell.moment(plan.from),
            to = desk.tell.date(plus_days(day, -1))
        ));
    }
    desk.say(&msg!(
        "rehearse-span",
        from = desk.tell.moment(plan.from),
        to = desk.tell.moment(plan.to)
    ))
}
