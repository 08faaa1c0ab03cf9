//! One of a few words: waters, gear, roles, lives, rules.

use wrackline_core::care::{CATALOGUE, Rule};
use wrackline_core::place::{Gear, Life, Role, Water};

use super::ask::Card;
use super::nearest::{list, nearest};
use super::token::{Token, join, phrase};
use super::{Refusal, refuse, spot, table};
use crate::msg;

/// Which of some words these are.
pub(super) fn of(tokens: &[Token], choices: &[&'static str]) -> Result<&'static str, Refusal> {
    let asked = phrase(tokens);
    if let Some(found) = choices.iter().find(|one| one.replace('-', " ") == asked) {
        return Ok(found);
    }
    let near = nearest(&asked, choices.iter().copied());
    let text = join(tokens);
    Err(if near.is_empty() {
        refuse(msg!("no-choice-unknown", text = text, names = list(choices)))
    } else {
        refuse(msg!("no-choice-nearest", text = text, names = list(&near)))
    })
}

/// The place among some words, for values that stand in the same order.
fn index(tokens: &[Token], choices: &[&'static str]) -> Result<usize, Refusal> {
    let found = of(tokens, choices)?;
    Ok(choices.iter().position(|one| *one == found).unwrap_or_default())
}

/// A water; other words for it count.
pub(super) fn water(tokens: &[Token]) -> Result<Water, Refusal> {
    match spot::water(tokens) {
        Some((water, used)) if used == tokens.len() => Ok(water),
        _ => index(tokens, table::WATERS).map(|at| [Water::Fresh, Water::Salt][at]),
    }
}

/// A piece of gear.
pub(super) fn gear(tokens: &[Token]) -> Result<Gear, Refusal> {
    index(tokens, table::GEAR).map(|at| [Gear::Air, Gear::Filter][at])
}

/// A role.
pub(super) fn role(tokens: &[Token]) -> Result<Role, Refusal> {
    index(tokens, table::ROLES).map(|at| [Role::Keeper, Role::Regular, Role::Sitter, Role::Helper][at])
}

/// Where a pool is in its life.
pub(super) fn life(tokens: &[Token]) -> Result<Life, Refusal> {
    let lives = [
        Life::Planned,
        Life::LeakTest,
        Life::Cycling,
        Life::InUse,
        Life::OutOfUse,
    ];
    index(tokens, table::LIVES).map(|at| lives[at])
}

/// A rule of the catalogue.
pub(super) fn rule(tokens: &[Token]) -> Result<Rule, Refusal> {
    index(tokens, table::RULES).map(|at| CATALOGUE[at].rule)
}

/// What people say for an emergency beside the names of the cards.
const CALLED: [(Card, &[&str]); 6] = [
    (
        Card::Flood,
        &[
            "flooding",
            "flooded",
            "spill",
            "water on floor",
            "wet floor",
            "tipped pool",
            "pool tipped",
            "wet substrate",
        ],
    ),
    (
        Card::PowerCut,
        &[
            "power",
            "outage",
            "power outage",
            "power failure",
            "no power",
            "blackout",
            "power is out",
            "power out",
        ],
    ),
    (
        Card::Untreated,
        &[
            "untreated",
            "tap water",
            "chlorine",
            "chloramine",
            "no conditioner",
            "forgot conditioner",
        ],
    ),
    (
        Card::Salt,
        &[
            "salt",
            "salty",
            "too salty",
            "much salt",
            "oversalted",
            "too much sea salt",
        ],
    ),
    (
        Card::Humid,
        &["humid", "too humid", "humidity", "high humidity", "condensation"],
    ),
    (
        Card::Leak,
        &[
            "leaks",
            "leaking",
            "leaked",
            "crack",
            "cracked",
            "cracked glass",
            "broken glass",
        ],
    ),
];

/// A card for an emergency, by its name or what people say for it; `None` where nothing was said.
pub(super) fn card(tokens: &[Token]) -> Result<Option<Card>, Refusal> {
    let is_said = |token: &&Token| {
        let fillers = [
            "a", "an", "the", "long", "there", "there's", "we", "have", "it's", "is",
        ];
        token.quoted || fillers.iter().all(|filler| !token.is(filler))
    };
    let said: Vec<Token> = tokens.iter().filter(is_said).cloned().collect();
    if said.is_empty() {
        return Ok(None);
    }
    for words in [tokens, said.as_slice()] {
        let asked = phrase(words);
        let called = CALLED.iter().find(|(_, names)| names.contains(&asked.as_str()));
        if let Some((card, _)) = called {
            return Ok(Some(*card));
        }
    }
    index(&said, table::EMERGENCIES).map(|at| Some(Card::ALL[at]))
}

/// Yes or no; yes where nothing was said.
pub(super) fn switch(tokens: &[Token]) -> Result<bool, Refusal> {
    if tokens.is_empty() {
        return Ok(true);
    }
    of(tokens, &["yes", "no"]).map(|word| word == "yes")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_card_has_its_name() {
        for (at, card) in Card::ALL.into_iter().enumerate() {
            assert_eq!(card.code().replace('-', " "), table::EMERGENCIES[at]);
            assert!(CALLED.iter().any(|(one, _)| *one == card));
        }
    }

    #[test]
    fn rules_are_said_by_their_codes() {
        let codes: Vec<_> = CATALOGUE.iter().map(|row| row.rule.code()).collect();
        assert_eq!(codes, table::RULES);
    }
}
