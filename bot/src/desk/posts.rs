//! What the bot says of itself: calls, alarms, summaries. A post is rendered from the journal at the moment it is
//! sent, so it never tells of a past that has changed.

use jiff::civil::Date;
use wrackline_core::care::{Duty, Mark, Standing, closers, standing};
use wrackline_core::journal::{Done, DoneKind};
use wrackline_core::matter::is_private;
use wrackline_core::moment::{Called, Look, Step, Subject, called_at, rests};
use wrackline_core::place::{CarerId, Target};
use wrackline_core::rota::{self, Hand};

use super::alarms;
use super::tell::{Tell, capital};
use super::{cycle, looks, turns};
use crate::chat::blocks::{Block, Item, Press};
use crate::msg;
use crate::words::Message;

/// A post as it is sent now.
#[derive(Clone, Debug, PartialEq)]
pub struct Rendered {
    /// What it shows.
    pub blocks: Vec<Block>,
    /// Whether any of its turns is still open.
    pub open: bool,
}

/// Renders a post, made for a day, from the journal as it stands.
#[must_use]
pub fn render(tell: &Tell<'_>, subject: &Subject, post: i64, day: Date) -> Rendered {
    let plain = |blocks| Rendered { blocks, open: true };
    match subject {
        Subject::Round {
            round,
            date,
            held,
            turns,
            looks,
        } => {
            let name = match tell.place.rounds.iter().find(|one| one.id == *round) {
                Some(one) if !one.name.is_empty() => msg!("round-named", name = capital(&one.name)),
                Some(one) => msg!("round-at", time = super::tell::clock(one.time)),
                None => msg!("round-gone"),
            };
            let open = open_count(tell, turns, looks);
            let title = tell.say(&msg!(
                "round-title",
                round = name,
                date = tell.date(*date),
                open = open
            ));
            let mut blocks = vec![Block::Title { text: title }];
            if let Some(held) = held {
                blocks.push(text(tell, &msg!("round-late", at = tell.stamp(*date, *held))));
            }
            // Nobody is called to a round as such; those are to whom a late turn in it was passed on.
            blocks.extend(for_asked(tell, turns, looks));
            blocks.extend(looks::urgent(tell, looks));
            blocks.extend(water_to_prepare(tell, turns));
            call(tell, (turns, looks), (post, *date), blocks)
        }
        Subject::Late { turns, looks } => {
            let mut blocks = vec![Block::Title {
                text: late_title(tell, turns, looks),
            }];
            blocks.extend(for_asked(tell, turns, looks));
            blocks.extend(looks::urgent(tell, looks));
            call(tell, (turns, looks), (post, day), blocks)
        }
        Subject::Seen(seq) => plain(for_keepers(tell, alarms::seen(tell, *seq, day))),
        Subject::Spell {
            enclosure,
            high,
            from,
        } => {
            let alarm = alarms::spell_alarm(tell, *enclosure, (*high, *from), day);
            plain(for_keepers(tell, alarm))
        }
        Subject::SeenSettled(seq) => plain(alarms::seen_settled(tell, *seq, day)),
        Subject::SpellSettled { enclosure, from } => {
            plain(alarms::spell_settled(tell, *enclosure, *from, day))
        }
        Subject::Offered(seq) => told(turns::told::offered(tell, *seq)),
        Subject::Moved(seq) => told(turns::told::moved(tell, *seq)),
        Subject::Uncovered(seq) => told(turns::told::uncovered(tell, *seq)),
        Subject::Week { monday } => {
            let week = wrackline_core::civil::Week { monday: *monday };
            plain(super::week::summary(tell, week, false))
        }
        Subject::Handover { carer, span, begins } => plain(if *begins {
            super::handover::begins(tell, *carer, *span)
        } else {
            super::handover::ended(tell, *carer, *span)
        }),
    }
}

fn told((blocks, open): turns::told::Told) -> Rendered {
    Rendered { blocks, open }
}

/// Those who are asked for late turns are called by name.
fn for_asked(tell: &Tell<'_>, turns: &[Called], looks: &[Look]) -> Option<Block> {
    let carers = awake(tell, asked(tell, turns, looks));
    (!carers.is_empty()).then_some(Block::For { carers })
}

/// Nobody is called by name in their own quiet hours, but for danger.
fn awake(tell: &Tell<'_>, carers: Vec<CarerId>) -> Vec<u32> {
    let awake = carers
        .into_iter()
        .filter(|carer| !rests(tell.place, *carer, tell.now));
    awake.map(|carer| carer.0).collect()
}

/// A danger calls the keepers by name.
fn for_keepers(tell: &Tell<'_>, mut blocks: Vec<Block>) -> Vec<Block> {
    let carers = tell.place.keepers().map(|id| id.0).collect();
    blocks.insert(1.min(blocks.len()), Block::For { carers });
    blocks
}

pub(super) fn text(tell: &Tell<'_>, message: &Message) -> Block {
    Block::Text {
        text: tell.say(message),
    }
}

pub(super) fn press(tell: &Tell<'_>, id: &'static str, code: String) -> Press {
    Press {
        label: tell.word(id),
        asks: super::presses::question(&code).map(|id| tell.word(id)),
        code,
        typed: None,
    }
}

/// How a called turn stands now: still open, or what closed it.
enum Now {
    Open(Box<Standing>),
    Done(Done),
    Gone,
}

fn now(tell: &Tell<'_>, called: &Called) -> Now {
    let turn = &called.turn;
    let current = standing(tell.book, tell.place, turn.duty, turn.target, tell.now);
    match current {
        Some(standing) if standing.turn == *turn => Now::Open(Box::new(standing)),
        current => {
            // The entry that closed it is the first one after the entry it counted from; a back-dated one too.
            let later = closers(tell.book, turn, tell.now).next();
            match (later, current) {
                (Some(done), _) => Now::Done(*done),
                // An occurrence of a calendar that the next one superseded is open as that one.
                (None, Some(standing)) if standing.turn.from == turn.from => Now::Open(Box::new(standing)),
                (None, _) => Now::Gone,
            }
        }
    }
}

/// The open turns of a call, as they stand now, by their place in it (from 1).
#[must_use]
pub fn open_turns(tell: &Tell<'_>, turns: &[Called]) -> Vec<(usize, Standing)> {
    let open = |(number, called): (usize, &Called)| match now(tell, called) {
        Now::Open(standing) => Some((number, *standing)),
        _ => None,
    };
    (1..).zip(turns).filter_map(open).collect()
}

fn open_count(tell: &Tell<'_>, turns: &[Called], looks: &[Look]) -> usize {
    open_turns(tell, turns).len() + looks::open(tell, looks).len()
}

/// The turns of a call with their answers, then what holds for all of it.
fn call(
    tell: &Tell<'_>,
    (turns, looks): (&[Called], &[Look]),
    (post, day): (i64, Date),
    mut blocks: Vec<Block>,
) -> Rendered {
    let item = |(number, called): (usize, &Called)| called_item(tell, number, called, day);
    let items: Vec<Item> = (1..).zip(turns).map(item).collect();
    let open = items.iter().filter(|item| !item.settled).count();
    let items = on_the_way(tell, (turns, items), looks, day);
    let any_open = items.iter().any(|item| !item.settled);
    blocks.push(Block::Items { items });
    let pools = turns.iter().filter_map(|called| match called.turn.target {
        Target::Pool(id) => Some(id),
        _ => None,
    });
    blocks.extend(cycle::closed(tell, pools));
    blocks.extend(quiet_zones(tell));
    if open > 0 {
        let but = press(tell, "press-all-but", format!("but.{post}"));
        let answers = vec![press(tell, "press-all", format!("all.{post}")), but];
        blocks.push(Block::Answers { answers });
    }
    Rendered {
        blocks,
        open: any_open,
    }
}

/// The looks before the turns of their enclosure, urgent ones before all else. They have no number: a look is done by
/// saying what was found.
fn on_the_way(
    tell: &Tell<'_>,
    (turns, items): (&[Called], Vec<Item>),
    looks: &[Look],
    day: Date,
) -> Vec<Item> {
    let walk: Vec<_> = tell.place.walk().iter().map(|enclosure| enclosure.id).collect();
    // What is of no enclosure comes last, as it does in the calls.
    let point = |target| {
        let enclosure = tell.place.enclosure_of(target).map(|one| one.id);
        let at = walk.iter().position(|id| Some(*id) == enclosure);
        at.unwrap_or(walk.len())
    };
    let looks = looks.iter().map(|look| {
        let point = match looks::spot(tell, look) {
            Some((_, true)) => None,
            Some((target, false)) => Some(point(target)),
            None => Some(walk.len()),
        };
        (point, looks::called(tell, look, day))
    });
    let turns = turns
        .iter()
        .zip(items)
        .map(|(called, item)| (Some(point(called.turn.target)), item));
    let mut all: Vec<_> = looks.chain(turns).collect();
    all.sort_by_key(|(point, _)| *point);
    all.into_iter().map(|(_, item)| item).collect()
}

/// The first line of a late call: who is asked, how many turns wait, and which.
fn late_title(tell: &Tell<'_>, turns: &[Called], looks: &[Look]) -> String {
    const NAMED_MAX: usize = 3;
    let open = open_turns(tell, turns);
    let name = |(_, standing): &(usize, Standing)| {
        format!(
            "{}: {}",
            tell.target(standing.turn.target),
            tell.duty(standing.duty())
        )
    };
    let looks_open = looks::open(tell, looks);
    let looks_named = looks_open.iter().map(|(_, turn)| looks::short(tell, turn));
    let mut names: Vec<String> = looks_named.chain(open.iter().map(name)).collect();
    let count = names.len();
    if count > NAMED_MAX {
        names.truncate(NAMED_MAX);
        names.push(tell.say(&msg!("week-unknown-more", count = count - NAMED_MAX)));
    }
    let mut who = asked(tell, turns, looks);
    // What is the keepers' alone goes to each of them, whoever was called for it before.
    if who.is_empty()
        && turns.is_empty()
        && looks_open
            .iter()
            .all(|(_, turn)| is_private(turn.matter.sighting))
    {
        who.extend(tell.place.keepers());
    }
    let who: Vec<String> = who.into_iter().map(|carer| tell.carer(carer)).collect();
    let who = match who.as_slice() {
        [] => tell.word("late-anyone"),
        who => tell.list(who),
    };
    tell.say(&msg!(
        "late-title",
        open = count,
        who = who,
        names = tell.list(&names)
    ))
}

fn called_item(tell: &Tell<'_>, number: usize, called: &Called, day: Date) -> Item {
    let target = tell.target_on_the_way(called.turn.target);
    match now(tell, called) {
        Now::Open(standing) => open_item(tell, number, called, &standing, day),
        Now::Done(done) => {
            let id = match done.kind {
                DoneKind::NotNeeded { .. } => "called-not-needed",
                _ => "called-done",
            };
            // A change that was done in part, or a part that was asked for, is told as what it was.
            let same = done.duty.family() == called.turn.duty;
            let duty = tell.duty(if same { done.duty } else { called.turn.duty });
            let message = msg!(
                id,
                number = number,
                target = target,
                duty = duty,
                who = tell.carer(done.by),
                at = tell.stamp(day, done.at)
            );
            Item {
                text: tell.say(&message),
                mark: None,
                settled: true,
                answers: Vec::new(),
            }
        }
        Now::Gone => {
            let duty = tell.duty(called.turn.duty);
            let message = msg!("called-gone", number = number, target = target, duty = duty);
            Item {
                text: tell.say(&message),
                mark: None,
                settled: true,
                answers: Vec::new(),
            }
        }
    }
}

fn open_item(tell: &Tell<'_>, number: usize, called: &Called, standing: &Standing, day: Date) -> Item {
    let hand = rota::hand(tell.book, tell.place, standing, tell.now);
    let duty = match litres(tell, standing) {
        Some((litres, all)) if standing.duty() == Duty::PartChange => tell.say(&msg!(
            "duty-part-of",
            duty = tell.duty(standing.duty()),
            litres = tell.litres(litres),
            all = tell.litres(all)
        )),
        _ => tell.duty(standing.duty()),
    };
    let mut text = tell.say(&msg!(
        "called-open",
        number = number,
        target = tell.target_on_the_way(standing.turn.target),
        duty = duty,
        who = tell.carer_or_anyone(hand.carer)
    ));
    text += &match standing.mark {
        Mark::Overdue => tell.say(&msg!("called-overdue", at = tell.stamp(day, standing.overdue))),
        Mark::Hazard => {
            let since = standing.hazard.unwrap_or(standing.overdue);
            tell.say(&msg!("called-hazard", at = tell.stamp(day, since)))
        }
        _ => String::new(),
    };
    text += &passed_on(tell, called, standing, &hand);
    text += &turns::offered(tell, &hand);
    if let Some(until) = hand.later {
        text += &tell.say(&msg!("turn-later", until = tell.stamp(day, until)));
    }
    let key = standing.turn;
    let waiting = tell
        .book
        .waiting_for(standing.turn.duty, standing.turn.target, tell.now);
    if let Some(entry) = waiting {
        let (who, at) = (tell.carer(entry.by), tell.stamp(day, entry.at));
        text += &tell.say(&msg!("called-waits", who = who, at = at));
    }
    let first = match waiting {
        Some(entry) => super::nods::press(tell, entry.seq),
        None => did_press(tell, standing),
    };
    let answers = vec![
        first,
        press(tell, "press-later", format!("later.{key}")),
        press(tell, "press-cannot", format!("cannot.{key}")),
        press(tell, "press-not-needed", format!("notneeded.{key}")),
    ];
    Item {
        text,
        mark: Some(standing.mark),
        settled: false,
        answers,
    }
}

/// `Did it`; on a reading or a test it asks for what was read.
#[must_use]
pub fn did_press(tell: &Tell<'_>, standing: &Standing) -> Press {
    press(tell, "press-did", format!("did.{}", standing.turn))
}

/// Who is called by name, each once: the carers of the open turns and looks that no earlier post called for at this
/// step, or those to whom these were passed on.
fn asked(tell: &Tell<'_>, turns: &[Called], looks: &[Look]) -> Vec<CarerId> {
    let looks = looks::open(tell, looks)
        .into_iter()
        .filter(|(look, _)| look.names);
    let mut who: Vec<CarerId> = looks
        .flat_map(|(look, turn)| turn.asked(tell.place, look.late))
        .collect();
    for (number, standing) in open_turns(tell, turns) {
        let hand = rota::hand(tell.book, tell.place, &standing, tell.now);
        let Some(called) = turns.get(number - 1) else {
            continue;
        };
        if let Some(step) = called.names {
            let all = called_at(tell.book, tell.place, &standing, &hand, step, tell.now);
            let is_meant = |carer: &CarerId| called.only.is_empty() || called.only.contains(carer);
            who.extend(all.into_iter().filter(is_meant));
        }
    }
    who.sort();
    who.dedup();
    who
}

/// To whom a late turn was passed on.
fn passed_on(tell: &Tell<'_>, called: &Called, standing: &Standing, hand: &Hand) -> String {
    let step = match called.step {
        // Whose it is stands before it already.
        None => return String::new(),
        Some(step) => step,
    };
    let all: Vec<CarerId> = match step {
        Step::Hazard => tell.place.keepers().collect(),
        step => called_at(tell.book, tell.place, standing, hand, step, tell.now),
    };
    // Whoever has it may be the only keeper: then it was passed on to nobody.
    if step < Step::Hazard && all.iter().all(|carer| hand.carer == Some(*carer)) {
        return String::new();
    }
    let names: Vec<String> = all.into_iter().map(|id| tell.carer(id)).collect();
    let who = tell.list(&names);
    match step {
        _ if names.is_empty() => String::new(),
        Step::Hazard => tell.say(&msg!("passed-on-to-all", who = who)),
        _ => tell.say(&msg!("passed-on", who = who)),
    }
}

/// The litres that a change asks for, and all of the pool's.
fn litres(tell: &Tell<'_>, standing: &Standing) -> Option<(f64, f64)> {
    let Target::Pool(id) = standing.turn.target else {
        return None;
    };
    let pool = tell.place.pools.get(&id)?;
    (standing.turn.duty == Duty::Change).then_some((pool.litres * standing.cadence.fraction, pool.litres))
}

/// The water to prepare for the open changes of a call, and what is prepared already.
fn water_to_prepare(tell: &Tell<'_>, turns: &[Called]) -> Vec<Block> {
    let open: Vec<Standing> = open_turns(tell, turns).into_iter().map(|(_, one)| one).collect();
    let mut blocks: Vec<Block> = super::water::to_prepare(tell, &open)
        .map(|text| Block::Text { text })
        .into_iter()
        .collect();
    blocks.extend(super::batches::offer::for_turns(tell, open.iter()));
    blocks
}

/// The quiet zones of the place: nothing is dug, lifted or scrubbed there.
#[must_use]
pub fn quiet_zones(tell: &Tell<'_>) -> Vec<Block> {
    let today = tell.place.zone.date(tell.now);
    let zones = tell.place.walk().into_iter().filter_map(|enclosure| {
        let zone = enclosure.quiet.as_ref().filter(|zone| today < zone.until)?;
        let said = tell.say(&msg!(
            "quiet-zone",
            enclosure = enclosure.name.as_str(),
            spot = zone.spot.as_str(),
            until = tell.date(zone.until)
        ));
        Some(Block::Text { text: said })
    });
    zones.collect()
}
