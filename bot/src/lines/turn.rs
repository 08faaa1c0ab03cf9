//! A TURN: a duty, where, and perhaps its day and round; and the lines that are about one.

use jiff::civil;
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::plus_days;
use wrackline_core::place::{RoundId, Target};
use wrackline_core::rota::{Expected, HORIZON_DAYS, Turn, share_out};

use super::ask::{Ask, TurnAsk};
use super::did::duty_and_spot;
use super::parse::Call;
use super::table::Whose;
use super::token::Token;
use super::{Context, Refusal, coming, duty, people, refuse, span, spot, table, values};
use crate::msg;

/// The most words behind a duty and its place that tell a day.
const DAY_WORDS_MAX: usize = 6;

/// Reads an `/offer` line.
pub(super) fn offer(mut call: Call<'_>) -> Result<Ask, Refusal> {
    if call.args.has("no") {
        let words = std::mem::take(&mut call.args.bare);
        let said = Some(words).filter(|words| !words.is_empty());
        let turn = said.map(|words| turn(&words, &call)).transpose()?;
        return Ok(Ask::Decline { turn });
    }
    if call.args.has("cannot") {
        let words: Vec<Token> = std::mem::take(&mut call.args.bare);
        let words = without_doing(&words);
        let said = Some(words).filter(|words| !words.is_empty());
        let turn = said.map(|words| turn(words, &call)).transpose()?;
        return Ok(Ask::Cannot { turn });
    }
    let to = values::carer(&call.args, "whom", call.ctx)?.ok_or_else(|| call.missing("whom"))?;
    let words = call.bare("turn")?;
    let turn = turn(&words, &call)?;
    Ok(Ask::Offer { turn, to })
}

/// Words of a turn without those by which somebody says that they cannot do it: "make it", "do".
fn without_doing(words: &[Token]) -> &[Token] {
    let is_said = |word: &&Token| ["make", "do", "it"].iter().any(|said| word.is(said));
    &words[words.iter().take_while(is_said).count()..]
}

/// Reads a `/take` line.
pub(super) fn take(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let sure = call.args.has("sure");
    let words = call.bare("turn")?;
    let turn = turn(&words, &call)?;
    Ok(Ask::Take { turn, sure })
}

/// The turn that words tell: a duty and where, in either order, and a day behind them.
fn turn(words: &[Token], call: &Call<'_>) -> Result<TurnAsk, Refusal> {
    // A name may hold a word that is a day's too: the whole is tried first.
    let first = match duty_and_spot(words, call) {
        Ok((duty, spot)) => {
            return Ok(TurnAsk {
                duty,
                spot,
                date: None,
                round: None,
            });
        }
        Err(refusal) => refusal,
    };
    let most = words.len().saturating_sub(1).min(DAY_WORDS_MAX);
    for length in 1..=most {
        let (head, tail) = words.split_at(words.len() - length);
        let (Ok((duty, spot)), Some((date, round))) = (duty_and_spot(head, call), day(tail, call.ctx)) else {
            continue;
        };
        return Ok(TurnAsk {
            duty,
            spot,
            date,
            round,
        });
    }
    // Where a day stands behind it, the words before are what is wrong.
    let before = (1..=most).find(|length| day(&words[words.len() - length..], call.ctx).is_some());
    match before.map(|length| duty_and_spot(&words[..words.len() - length], call)) {
        Some(Err(refusal)) => Err(refusal),
        _ => Err(first),
    }
}

/// The day and the round of a turn, each where it is said: a round alone is the next one in which there is such a turn.
fn day(words: &[Token], ctx: &Context<'_>) -> Option<(Option<civil::Date>, Option<RoundId>)> {
    if let Some(round) = coming::round_alone(words, ctx) {
        return Some((None, Some(round)));
    }
    let day = coming::tonight(words, ctx).or_else(|| coming::whole(words, ctx).ok())?;
    Some((Some(day.date), day.round(ctx)))
}

/// Reads a `/turns` line.
pub(super) fn turns(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let mut words = std::mem::take(&mut call.args.bare);
    let (from, to) = days(&mut words, ctx)?;
    let is = |all: &[&str]| matches!(words.as_slice(), [one] if all.iter().any(|word| one.is(word)));
    let carer = if words.is_empty() || is(&["mine", "my", "me"]) {
        Some(ctx.me)
    } else if is(&["all", "everyone", "everyone's"]) {
        None
    } else {
        Some(people::carer(&words, ctx).map_err(|refusal| coming::misspelt(&words).unwrap_or(refusal))?)
    };
    Ok(Ask::Turns { carer, from, to })
}

/// The days that words ask for, which are taken out of them: a week from today where nothing is said.
fn days(words: &mut Vec<Token>, ctx: &Context<'_>) -> Result<(civil::Date, civil::Date), Refusal> {
    let today = ctx.place.zone.date(ctx.now);
    let monday = plus_days(today, -i64::from(today.weekday().to_monday_zero_offset()));
    let spans = [
        ("next week", (plus_days(monday, 7), plus_days(monday, 13))),
        ("two weeks", (today, plus_days(today, HORIZON_DAYS - 1))),
        ("week", (today, plus_days(today, 6))),
        ("today", (today, today)),
        ("tomorrow", (plus_days(today, 1), plus_days(today, 1))),
    ];
    debug_assert!(spans.iter().all(|(name, _)| table::TURN_DAYS.contains(name)));
    for (name, span) in spans {
        let length = name.split(' ').count();
        let is_here = |from: &usize| {
            let mut pairs = name.split(' ').zip(&words[*from..]);
            pairs.all(|(word, token)| token.is(word))
        };
        let last = words.len().checked_sub(length);
        if let Some(from) = last.and_then(|last| (0..=last).find(is_here)) {
            words.drain(from..from + length);
            return Ok(span);
        }
    }
    let Some((first, last)) = day_or_span(words, ctx) else {
        return Ok((today, plus_days(today, 6)));
    };
    let horizon = today..=plus_days(today, HORIZON_DAYS - 1);
    if horizon.contains(&first) && horizon.contains(&last) {
        Ok((first, last))
    } else {
        Err(refuse(msg!("no-turns-day", days = HORIZON_DAYS)))
    }
}

/// A single day or a span among words, which is taken out of them; a name that is a day's too is the person's.
fn day_or_span(words: &mut Vec<Token>, ctx: &Context<'_>) -> Option<(civil::Date, civil::Date)> {
    if people::called(words, ctx).is_some() {
        return None;
    }
    let parts = (1..=words.len().min(DAY_WORDS_MAX))
        .rev()
        .flat_map(|length| (0..=words.len() - length).map(move |from| from..from + length));
    let read = |part: std::ops::Range<usize>| {
        let said = &words[part.clone()];
        // "All this weekend" is everyone's.
        if said.first().is_some_and(|word| word.is("all")) {
            return None;
        }
        match coming::whole(said, ctx) {
            Ok(day) if matches!(day.of, coming::Of::Time(_)) => None,
            Ok(day) => Some((part, (day.date, day.date))),
            Err(_) => Some((part, span::alone(said, ctx)?.ok()?.dates(ctx))),
        }
    };
    let (part, dates) = parts.into_iter().find_map(read)?;
    words.drain(part);
    Some(dates)
}

/// Coming turns as they are said: those of the speaker, or those of all others and open ones.
pub(super) fn texts(whose: Whose, ctx: &Context<'_>) -> Vec<String> {
    let board = board(ctx.book, ctx.place, ctx.now);
    let shared = share_out(ctx.book, ctx.place, &board, ctx.now, HORIZON_DAYS);
    let is_mine = |turn: &&Turn| (turn.carer == Some(ctx.me)) == (whose == Whose::Mine);
    let mut all: Vec<String> = Vec::new();
    for turn in shared.turns.iter().filter(is_mine) {
        let text = turn_as_typed(&turn.expected, ctx);
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// A turn as it is said: "change North salt sunday evening".
#[must_use]
pub fn turn_as_typed(expected: &Expected, ctx: &Context<'_>) -> String {
    let today = ctx.place.zone.date(ctx.now);
    let date = expected.when.date;
    let day = if date < plus_days(today, 7) && date >= today {
        date.strftime("%A").to_string().to_lowercase()
    } else {
        date.to_string()
    };
    let rounds = ctx.place.rounds.iter();
    let mut round = rounds.filter(|round| round.id == expected.when.round && !round.name.is_empty());
    let round = round.next().map(|round| round.name.to_lowercase());
    let words = [
        Some(as_typed(expected.duty, expected.target, ctx)),
        Some(day),
        round,
    ];
    words.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// A duty and where it is done, as they are said: "change North salt".
#[must_use]
pub fn as_typed(duty: Duty, target: Target, ctx: &Context<'_>) -> String {
    let place = match target {
        Target::Place => None,
        Target::Enclosure(id) => ctx.place.enclosures.get(&id).map(|one| one.name.clone()),
        Target::Pool(id) => ctx.place.pools.get(&id).map(|pool| spot::call_pool(pool, ctx)),
    };
    let name = match duty {
        Duty::Own(id) => ctx.place.duties.get(&id).map(|(own, _)| own.name.clone()),
        duty => duty::name(duty).map(str::to_owned),
    };
    [name, place].into_iter().flatten().collect::<Vec<_>>().join(" ")
}
