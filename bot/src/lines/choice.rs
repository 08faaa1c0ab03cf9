//! One of a few words: waters, gear, roles, lives, rules.

use wrackline_core::care::{CATALOGUE, Rule};
use wrackline_core::place::{Gear, Life, Role, Water};

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
    fn rules_are_said_by_their_codes() {
        let codes: Vec<_> = CATALOGUE.iter().map(|row| row.rule.code()).collect();
        assert_eq!(codes, table::RULES);
    }
}
