//! `/rounds`: the times of day at which a place does its care.

use jiff::civil;
use wrackline_core::civil::{is_quiet, next_round, waking};
use wrackline_core::journal::{Event, RoundChange};
use wrackline_core::place::{Round, RoundId};

use super::{check, hush, receipt};
use crate::chat::blocks::{Answer, Block};
use crate::desk::tell::{capital, clock};
use crate::desk::{Desk, Outcome, Refused};
use crate::msg;

/// The round that is assumed while there is none: nobody set it up, so nobody can change it.
const ASSUMED: RoundId = RoundId(0);

/// A round as it is told: its name and its time.
fn told(round: &Round) -> String {
    if round.name.is_empty() {
        clock(round.time)
    } else {
        format!("{} {}", round.name, clock(round.time))
    }
}

/// The rounds with their times.
pub(super) fn times(desk: &Desk<'_>) -> String {
    let all: Vec<String> = desk.place().rounds.iter().map(told).collect();
    desk.tell.list(&all)
}

/// Says when a round is called that lies in the quiet hours.
pub(super) fn quiet_note(desk: &Desk<'_>, round: &Round) -> Option<String> {
    let place = desk.place();
    let at = next_round(&place.zone, std::slice::from_ref(round), desk.now()).at;
    let quiet = place.quiet.filter(|_| is_quiet(&place.zone, place.quiet, at))?;
    Some(desk.say(&msg!(
        "setup-round-quiet",
        round = capital(&told(round)),
        from = clock(quiet.from),
        to = clock(quiet.to),
        called = desk.tell.time(waking(&place.zone, place.quiet, at))
    )))
}

/// The first line of a receipt with what has to be known of this round.
fn answer(desk: &Desk<'_>, title: String, id: RoundId, further: Option<String>) -> Answer {
    let round = desk.place().rounds.iter().find(|round| round.id == id);
    let quiet = round.and_then(|round| quiet_note(desk, round));
    receipt::answer(desk, title, [quiet, further].into_iter().flatten())
}

/// When a round is held next.
fn next(desk: &Desk<'_>, time: civil::Time) -> String {
    let round = Round {
        id: ASSUMED,
        name: String::new(),
        time,
    };
    desk.tell
        .near(next_round(&desk.place().zone, std::slice::from_ref(&round), desk.now()).at)
}

/// Two rounds of one time would call everything twice.
fn free_time(desk: &Desk<'_>, time: civil::Time, but: Option<RoundId>) -> Result<(), Refused> {
    let rounds = desk.place().rounds.iter();
    let mut others = rounds.filter(|round| round.id != ASSUMED && Some(round.id) != but);
    match others.find(|round| round.time == time) {
        Some(other) => Err(msg!(
            "setup-round-time",
            time = clock(time),
            round = desk.tell.round(other.id)
        )),
        None => Ok(()),
    }
}

fn set_up_one<'a>(desk: &Desk<'a>, id: RoundId) -> Result<&'a Round, Refused> {
    if id == ASSUMED {
        return Err(msg!("setup-round-assumed"));
    }
    desk.place()
        .rounds
        .iter()
        .find(|round| round.id == id)
        .ok_or(msg!("setup-round-gone"))
}

/// `/rounds add NAME 08:00`
pub(super) fn add(desk: &Desk<'_>, name: &str, time: civil::Time) -> Result<Outcome, Refused> {
    let name = check::name(name)?;
    let rounds = &desk.place().rounds;
    check::free(
        &name,
        rounds.iter().map(|round| round.name.as_str()),
        "setup-round-name",
    )?;
    free_time(desk, time, None)?;
    let assumed = rounds
        .iter()
        .find(|round| round.id == ASSUMED)
        .map(|round| round.time);
    let id = RoundId(check::next_number(desk, |event| match event {
        Event::Round(id, _) => Some(id.0),
        _ => None,
    }));
    let added = desk.draft(Event::Round(
        id,
        RoundChange::Added {
            name: name.clone(),
            time,
        },
    ));
    Ok(Outcome::write(vec![added], move |desk, _| {
        let (round, at) = (capital(&name), clock(time));
        let title = desk.say(&msg!(
            "setup-round-added",
            round = round,
            time = at,
            next = next(desk, time)
        ));
        let further = assumed.filter(|assumed| *assumed != time);
        let further = further.map(|was| desk.say(&msg!("setup-round-no-longer-assumed", time = clock(was))));
        answer(desk, title, id, further)
    }))
}

/// `/rounds set NAME 08:30`
pub(super) fn set(desk: &Desk<'_>, id: RoundId, time: civil::Time) -> Result<Outcome, Refused> {
    let before = set_up_one(desk, id)?.time;
    if before == time {
        return Err(msg!(
            "setup-round-already",
            round = capital(&desk.tell.round(id)),
            time = clock(time)
        ));
    }
    free_time(desk, time, Some(id))?;
    let moved = desk.draft(Event::Round(id, RoundChange::Time(time)));
    Ok(Outcome::write(vec![moved], move |desk, _| {
        let title = desk.say(&msg!(
            "setup-round-moved",
            round = capital(&desk.tell.round(id)),
            before = clock(before),
            time = clock(time),
            next = next(desk, time)
        ));
        answer(desk, title, id, None)
    }))
}

/// `/rounds retire NAME`
pub(super) fn retire(desk: &Desk<'_>, id: RoundId) -> Result<Outcome, Refused> {
    let gone = capital(&told(set_up_one(desk, id)?));
    let retired = desk.draft(Event::Round(id, RoundChange::Retired));
    Ok(Outcome::write(vec![retired], move |desk, _| {
        let rounds = &desk.place().rounds;
        let Some(assumed) = rounds.iter().find(|round| round.id == ASSUMED) else {
            let (round, rest) = (gone.as_str(), times(desk));
            return receipt::answer(
                desk,
                desk.say(&msg!("setup-round-retired", round = round, rounds = rest)),
                [],
            );
        };
        let title = msg!(
            "setup-round-last",
            round = gone.as_str(),
            time = clock(assumed.time)
        );
        answer(desk, desk.say(&title), ASSUMED, None)
    }))
}

/// `/rounds list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let place = desk.place();
    if place.rounds.iter().all(|round| round.id == ASSUMED) {
        let mut answer = desk.done(&msg!("setup-rounds-none", time = clock(place.rounds[0].time)));
        answer.blocks.extend(hush::told(desk));
        return answer;
    }
    let title = desk.say(&msg!("setup-rounds-title", count = place.rounds.len()));
    let items = place.rounds.iter().map(|round| {
        let next = msg!(
            "setup-rounds-item",
            round = capital(&told(round)),
            next = next(desk, round.time)
        );
        desk.item(receipt::sentences([
            Some(desk.say(&next)),
            quiet_note(desk, round),
        ]))
    });
    let mut answer = desk.done_text(title);
    answer.blocks.push(Block::Items {
        items: items.collect(),
    });
    answer.blocks.extend(hush::told(desk));
    answer
}
