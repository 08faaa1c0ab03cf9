//! `/away`: an absence is shown with all that it moves before it is final.

mod back;
mod code;
mod told;

use jiff::{Timestamp, civil};
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::journal::{Absence, Event, Say, When};
use wrackline_core::place::{CarerId, Role};
use wrackline_core::rota::{self, Expected, Moves};

pub use back::stays;
use told::{counted, told, when};

use super::{dated, hand, named, plain, shared};
use crate::chat::blocks::{Answer, Block};
use crate::desk::tell::Tell;
use crate::desk::{Desk, Draft, Outcome, Refused};
use crate::lines::ask::AwayAsk;
use crate::msg;

/// The longest absence in days.
pub const AWAY_DAYS_MAX: i64 = 200;

/// How long a code of a press may be, in bytes; one byte of mark and a reference go behind it.
const CODE_BYTES_MAX: usize = 86;

/// Hears an `/away` line.
///
/// # Errors
/// A refusal when it ends before it starts, is past or too long, or is about somebody else.
pub fn away(desk: &Desk<'_>, ask: AwayAsk) -> Result<Outcome, Refused> {
    match ask {
        AwayAsk::List => Ok(Outcome::answer(list(desk))),
        AwayAsk::Back { by } => back::back(desk, whom(desk, by)?),
        AwayAsk::Set { absence, by, sure } => {
            let who = whom(desk, by)?;
            check(desk, who, &absence)?;
            let moves = of(desk, who, &[Event::Away(absence.clone())]);
            if sure {
                return Ok(made(desk, who, absence, moves));
            }
            Ok(Outcome::answer(preview(desk, who, &absence, &moves)))
        }
    }
}

/// `Yes, away` on a preview: the code says who and when, and what was shown. Where turns would go otherwise by now, that
/// is shown instead.
///
/// # Errors
/// The same as of the line.
pub fn pressed(desk: &Desk<'_>, about: &str) -> Result<Outcome, Refused> {
    let (who, absence, seen) = code::read(about).ok_or(msg!("refuse-press"))?;
    let who = whom(desk, Some(who))?;
    check(desk, who, &absence)?;
    let moves = of(desk, who, &[Event::Away(absence.clone())]);
    if seen == Some(code::shown(&moves)) {
        return Ok(made(desk, who, absence, moves));
    }
    let mut answer = preview(desk, who, &absence, &moves);
    let text = desk.tell.word("away-changed");
    answer.blocks.insert(1, Block::Text { text });
    Ok(Outcome::answer(answer))
}

/// Who is meant: oneself, or for a keeper anyone.
fn whom(desk: &Desk<'_>, by: Option<CarerId>) -> Result<CarerId, Refused> {
    let who = by.unwrap_or(desk.me);
    if who != desk.me && desk.role != Role::Keeper {
        return Err(msg!("refuse-away-others", keepers = desk.keepers()));
    }
    if !desk.place().carers.contains_key(&who) {
        return Err(msg!("refuse-press"));
    }
    Ok(who)
}

fn check(desk: &Desk<'_>, who: CarerId, absence: &Absence) -> Result<(), Refused> {
    let (zone, now) = (&desk.place().zone, desk.now());
    let today = zone.date(now);
    let (first, last, is_upside_down) = match absence {
        Absence::Span { from, to } => (zone.date(*from), last_day(desk, *to), to <= from),
        Absence::Rounds(rounds) => {
            let dates = || rounds.iter().map(|(_, date)| *date);
            let (Some(first), Some(last)) = (dates().min(), dates().max()) else {
                return Err(msg!("refuse-press"));
            };
            (first.max(today), last, false)
        }
    };
    let is_over = match absence {
        Absence::Span { to, .. } => *to <= now,
        Absence::Rounds(rounds) => rounds.iter().any(|(_, date)| *date < today),
    };
    if is_over {
        return Err(msg!("refuse-away-past"));
    }
    if is_upside_down {
        return Err(msg!("refuse-away-ends"));
    }
    if first < today {
        return Err(msg!("refuse-away-past"));
    }
    if last > plus_days(first, AWAY_DAYS_MAX) {
        return Err(msg!("refuse-away-long", days = AWAY_DAYS_MAX));
    }
    if is_said(desk, who, absence) {
        return Err(msg!("refuse-away-already", who = desk.tell.carer(who)));
    }
    Ok(())
}

/// Whether somebody is away by what was said already, all through an absence.
fn is_said(desk: &Desk<'_>, who: CarerId, absence: &Absence) -> bool {
    let (book, place, now) = (desk.book(), desk.place(), desk.now());
    match absence {
        Absence::Span { from, to } => {
            let said = book.absences(who, now, place.zone.date(now));
            let span = |(_, one): &(_, &Absence)| match one {
                Absence::Span { from, to } => Some((*from, *to)),
                Absence::Rounds(_) => None,
            };
            let mut spans: Vec<(Timestamp, Timestamp)> = said.iter().filter_map(span).collect();
            spans.sort();
            // How far one follows on the other without a gap.
            let reached = |at: Timestamp, (from, to): (Timestamp, Timestamp)| {
                if from <= at { at.max(to) } else { at }
            };
            spans.into_iter().fold(*from, reached) >= *to
        }
        Absence::Rounds(rounds) => rounds.iter().all(|(id, date)| {
            let round = place.rounds.iter().find(|round| round.id == *id);
            round.is_some_and(|round| {
                let (round, date, at) = (*id, *date, hold(&place.zone, round, *date).at);
                book.is_away(who, &When { at, round, date }, now)
            })
        }),
    }
}

/// The last civil day of which anything lies before a moment.
fn last_day(desk: &Desk<'_>, to: Timestamp) -> civil::Date {
    let before = to.checked_sub(jiff::SignedDuration::from_secs(1));
    desk.place().zone.date(before.unwrap_or(to))
}

fn of(desk: &Desk<'_>, who: CarerId, events: &[Event]) -> Moves {
    let board = desk.board();
    rota::moves(desk.book(), desk.place(), &board, (who, events), desk.now())
}

/// What an absence would move, with a press that makes it final.
fn preview(desk: &Desk<'_>, who: CarerId, absence: &Absence, moves: &Moves) -> Answer {
    let title = msg!(
        "away-preview",
        who = desk.tell.carer(who),
        when = when(&desk.tell, absence),
        moves = counted(&desk.tell, "away-moves", moves)
    );
    let declined = offered_then(desk, who, absence);
    let mut answer = told(desk, desk.say(&title), who, absence, moves);
    answer.blocks.extend(declined_told(&desk.tell, who, &declined));
    let code = format!("away.{}", code::write(who, absence, moves));
    if code.len() <= CODE_BYTES_MAX {
        let answers = vec![
            desk.press(&msg!("press-away"), code)
                .typed(desk.tell.word("typed-sure")),
            desk.press(&msg!("press-leave"), "leave.away".to_owned()),
        ];
        answer.blocks.push(Block::Answers { answers });
    } else {
        answer.blocks.push(Block::Text {
            text: desk.tell.word("away-say-sure"),
        });
    }
    answer
}

fn made(desk: &Desk<'_>, who: CarerId, absence: Absence, moves: Moves) -> Outcome {
    let by_them = |event| Draft {
        by: who,
        ..desk.draft(event)
    };
    // Whoever is away then takes no turn of it that was offered to them.
    let declined = offered_then(desk, who, &absence);
    let said = declined
        .iter()
        .map(|turn| by_them(Event::Coming(turn.slot, Say::Declined)));
    let drafts = std::iter::once(by_them(Event::Away(absence.clone())))
        .chain(said)
        .collect();
    Outcome::write(drafts, move |desk, numbers| {
        let title = msg!(
            "away-made",
            who = desk.tell.carer(who),
            when = when(&desk.tell, &absence),
            moves = counted(&desk.tell, "away-moved", &moves)
        );
        let mut answer = told(desk, desk.say(&title), who, &absence, &moves);
        answer.blocks.extend(declined_told(&desk.tell, who, &declined));
        crate::desk::presses::with_take_back(desk, answer, numbers)
    })
}

/// The turns within an absence that are offered to whoever will be away.
fn offered_then(desk: &Desk<'_>, who: CarerId, absence: &Absence) -> Vec<Expected> {
    let is_to_them = |turn: &&rota::Turn| {
        let offered = hand(&desk.tell, &turn.expected).offered;
        !turn.follows && offered.is_some_and(|offer| offer.to == who) && absence.holds(&turn.expected.when)
    };
    let all = shared(&desk.tell).turns.into_iter();
    let theirs = all.filter(|turn| is_to_them(&turn));
    theirs.map(|turn| turn.expected).collect()
}

/// That an absence turns offers down; nothing where there is none.
fn declined_told(tell: &Tell<'_>, who: CarerId, declined: &[Expected]) -> Option<Block> {
    let names: Vec<String> = declined.iter().map(|turn| named(tell, turn)).collect();
    let text = msg!("away-declined", who = tell.carer(who), turns = tell.list(&names));
    (!names.is_empty()).then(|| Block::Text {
        text: tell.say(&text),
    })
}

/// Who is away when, as far as it is not over.
fn list(desk: &Desk<'_>) -> Answer {
    let tell = &desk.tell;
    let today = desk.place().zone.date(desk.now());
    let mut items = Vec::new();
    for who in desk.place().carers.keys() {
        for (seq, absence) in desk.book().absences(*who, desk.now(), today) {
            let text = msg!(
                "away-list-line",
                who = tell.carer(*who),
                when = when(tell, absence),
                entry = seq.to_string()
            );
            items.push(plain(tell.say(&text), Vec::new()));
        }
    }
    let mut answer = desk.done(&msg!("away-list", count = items.len()));
    if !items.is_empty() {
        answer.blocks.push(Block::Items { items });
    }
    answer
}
