//! How far a filter's cycle is, what its proof lacks, and which pools are closed to the crabs for it.

pub(in crate::desk) mod free;
mod said;

use wrackline_core::journal::{TellsFrom, kit_step};
use wrackline_core::place::{Life, PoolId};
use wrackline_core::quantity::{Kind, celsius, plain};
use wrackline_core::water::cycle::{Left, Missing, Rules, Stage, State};

use self::said::{missing, note, reason};
use super::tell::Tell;
use crate::chat::blocks::Block;
use crate::msg;

/// Everything that is known of a pool's filter and its ammonia; nothing for a pool without a filter.
#[must_use]
pub fn blocks(tell: &Tell<'_>, id: PoolId) -> Vec<Block> {
    let mut blocks: Vec<Block> = closed(tell, [id]);
    if let Some((state, from)) = tell.book.filter_at(id, tell.now) {
        blocks.push(Block::Title {
            text: title(tell, id, &state),
        });
        let text = lines(tell, id, &state, from).join("\n");
        blocks.push(Block::Text { text });
    }
    blocks.extend(free::blocks(tell, id));
    blocks
}

/// What a receipt says of a pool's filter and its ammonia.
#[must_use]
pub fn short(tell: &Tell<'_>, id: PoolId) -> Vec<Block> {
    let filter = tell.book.filter_at(id, tell.now).map(|(state, _)| {
        let title = title(tell, id, &state);
        let lacks = lacks(tell, &state);
        let more: Vec<String> = [lacks, left(tell, &state, false)].into_iter().flatten().collect();
        let text = if more.is_empty() {
            title
        } else {
            tell.say(&msg!("cycle-short", title = title, more = more.join(" ")))
        };
        Block::Text { text }
    });
    let mut blocks: Vec<Block> = filter.into_iter().collect();
    blocks.extend(free::blocks(tell, id));
    blocks
}

/// Which of these pools are closed to the crabs since they cycle.
#[must_use]
pub fn closed(tell: &Tell<'_>, pools: impl IntoIterator<Item = PoolId>) -> Vec<Block> {
    let mut cycling: Vec<PoolId> = Vec::new();
    for id in pools {
        let cycles = |pool: &wrackline_core::place::Pool| pool.life == Life::Cycling;
        if tell.place.pools.get(&id).is_some_and(cycles) && !cycling.contains(&id) {
            cycling.push(id);
        }
    }
    let is_proven = |id: &PoolId| {
        tell.place.pools[id]
            .filter
            .is_some_and(|filter| filter.proven.is_some())
    };
    let (proven, waiting): (Vec<PoolId>, Vec<PoolId>) = cycling.into_iter().partition(is_proven);
    let mut messages = Vec::new();
    if !waiting.is_empty() {
        let names: Vec<String> = waiting.iter().map(|id| tell.pool(*id)).collect();
        messages.push(msg!(
            "cycle-closed",
            pools = tell.list(&names),
            count = names.len()
        ));
    }
    messages.extend(proven.into_iter().map(|id| {
        let pool = tell.pool(id);
        let spot = pool.to_lowercase();
        msg!("cycle-closed-proven", pool = pool, spot = spot)
    }));
    let texts = messages.iter().map(|message| tell.say(message));
    texts.map(|text| Block::Caution { text }).collect()
}

/// That a dose counts for so many days alone; nothing of a pool whose crabs feed its filter.
#[must_use]
pub fn of_a_dose(tell: &Tell<'_>, id: PoolId) -> Option<String> {
    let cycles = |pool: &wrackline_core::place::Pool| pool.life == Life::Cycling;
    let (state, _) = tell.book.filter_at(id, tell.now)?;
    let asked = !state.proven && tell.place.pools.get(&id).is_some_and(cycles);
    asked.then(|| tell.say(&msg!("cycle-dose-counts", days = plain(Rules::default().quiet.0))))
}

fn title(tell: &Tell<'_>, id: PoolId, state: &State) -> String {
    let stage = match (state.stage, state.since) {
        (Stage::Finished, Some(at)) => tell.say(&msg!("cycle-finished", at = tell.moment(at))),
        (Stage::AmmoniaUp, _) => tell.word("cycle-ammonia-up"),
        (Stage::NitriteUp, _) => tell.word("cycle-nitrite-up"),
        (Stage::NitrateUp, _) => tell.word("cycle-nitrate-up"),
        (Stage::Again, _) if state.was_proven => tell.word("cycle-again"),
        (Stage::Again, _) => tell.word("cycle-anew"),
        (Stage::NotStarted | Stage::Finished, _) => tell.word("cycle-not-started"),
    };
    tell.say(&msg!("cycle-title", pool = tell.pool(id), stage = stage))
}

fn lines(tell: &Tell<'_>, id: PoolId, state: &State, from: TellsFrom) -> Vec<String> {
    let spot = tell.pool(id).to_lowercase();
    let mut lines: Vec<String> = state.reasons.iter().map(|one| reason(tell, one, from)).collect();
    lines.extend(lacks(tell, state));
    if state.missing.contains(&Missing::Feed) {
        lines.push(tell.say(&msg!("cycle-say-feed", spot = spot.as_str())));
    }
    if state.missing.contains(&Missing::Source) {
        lines.push(tell.say(&msg!("cycle-say-tap", spot = spot.as_str())));
    }
    lines.extend(left(tell, state, true));
    lines.extend(state.notes.iter().filter_map(|one| note(tell, one)));
    if let Some(stood) = state.standing.filter(|_| state.rinse) {
        lines.push(tell.say(&msg!("cycle-note-rinse", hours = plain(stood.0))));
    }
    let rules = Rules::default();
    lines.push(tell.say(&msg!(
        "cycle-rule",
        apart = plain(rules.apart.0),
        step = plain(kit_step(Kind::Ammonia)),
        stood = plain(rules.stood.0),
        quiet = plain(rules.quiet.0)
    )));
    lines
}

fn lacks(tell: &Tell<'_>, state: &State) -> Option<String> {
    let what: Vec<String> = state.missing.iter().map(|one| missing(tell, one)).collect();
    (!what.is_empty()).then(|| tell.say(&msg!("cycle-missing", what = tell.list(&what))))
}

/// How long it may still take.
fn left(tell: &Tell<'_>, state: &State, with_basis: bool) -> Option<String> {
    let left: &Left = state.left.as_ref()?;
    if left.overdue {
        return Some(tell.word("cycle-left-overdue"));
    }
    if left.low == left.high {
        return Some(match (left.low.0 * 24.0).ceil() {
            hours if hours < 1.0 => tell.word("cycle-left-now"),
            hours => tell.say(&msg!("cycle-left-second", hours = plain(hours))),
        });
    }
    let said = tell.say(&msg!(
        "cycle-left",
        low = plain(left.low.0.floor()),
        high = plain(left.high.0.ceil()),
        from = if left.from_feed { "feed" } else { "now" }
    ));
    let basis = with_basis.then(|| {
        let warm = left
            .at
            .map_or_else(|| "none".to_owned(), |at| celsius(at.0, tell.place.units));
        tell.say(&msg!("cycle-left-basis", warm = warm))
    });
    Some(
        [Some(said), basis]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(" "),
    )
}
