//! The generic pass: a typed line is split into its arguments by the table's small words.

use super::claim::{Claim, claim};
use super::table::{ArgSpec, Kind, Lead};
use super::token::{Token, join, keys};
use super::{Context, Figure, Refusal, refuse, when};
use crate::msg;

/// The arguments of a line, still as words.
#[derive(Clone, Debug, Default)]
pub(super) struct Args {
    /// Words that no small word introduced.
    pub(super) bare: Vec<Token>,
    given: Vec<(&'static str, Vec<Token>)>,
    /// The first bare word behind a value, where others stand before it.
    gap: Option<usize>,
}

impl Args {
    /// What stood behind the small word of an argument; `None` when it was not said.
    pub(super) fn get(&self, name: &str) -> Option<&[Token]> {
        self.given
            .iter()
            .find(|(one, _)| *one == name)
            .map(|(_, words)| words.as_slice())
    }

    /// Whether an argument was said.
    pub(super) fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    /// Takes some of the bare words for an argument.
    pub(super) fn take(&mut self, name: &'static str, from: usize, to: usize) {
        let words = self.bare.drain(from..to).collect();
        self.given.push((name, words));
        if from > 0 && from < self.bare.len() {
            self.gap = Some(self.gap.map_or(from, |gap| gap.min(from)));
        }
    }

    /// Bare words that stand apart from the first ones, behind the value of an argument.
    pub(super) fn apart(&self) -> Option<&[Token]> {
        self.bare.get(self.gap?..)
    }

    fn push(&mut self, words: &[Token], behind_value: bool) {
        if behind_value && !self.bare.is_empty() && self.gap.is_none() {
            self.gap = Some(self.bare.len());
        }
        self.bare.extend_from_slice(words);
    }
}

/// Splits the words behind a line's name.
pub(super) fn split(
    line: &str,
    tokens: &[Token],
    specs: &'static [ArgSpec],
    ctx: &Context<'_>,
) -> Result<Args, Refusal> {
    let named = in_names(tokens, specs, ctx);
    let mut times = Times::of(specs, ctx);
    let mut args = Args::default();
    let mut behind_value = false;
    let mut at = 0;
    while at < tokens.len() {
        if let Some((name, used)) = times.read(&tokens[at..], &args) {
            args.given.push((name, tokens[at..at + used].to_vec()));
            (at, behind_value) = (at + used, true);
            continue;
        }
        let Some((spec, words)) = small_word(&tokens[at..], specs).filter(|_| !named[at]) else {
            args.push(&tokens[at..=at], behind_value);
            (at, behind_value) = (at + 1, false);
            continue;
        };
        let start = at + words;
        let ends = |end: &usize| {
            let next = small_word(&tokens[*end..], specs).filter(|_| !named[*end]);
            // "At yesterday at 21:00" is one time, and "room Living room" one room.
            let goes_on = matches!(spec.kind, Kind::Time | Kind::Text | Kind::Name);
            // "21:00 to 07:00" are one pair of times, and "free always" says always.
            let is_value = match spec.kind {
                Kind::ClockSpan => tokens[*end].is("to") && *end <= start + 2,
                Kind::Figure(Figure::Free) => *end == start && tokens[*end].is("always"),
                _ => false,
            };
            !is_value && next.is_some_and(|(next, _)| next.name != spec.name || !goes_on)
        };
        let end = (start..tokens.len()).find(ends).unwrap_or(tokens.len());
        let end = if spec.kind == Kind::Rest {
            tokens.len()
        } else {
            end
        };
        match claim(spec, &tokens[start..end], ctx) {
            Claim::Bare => {
                args.push(&tokens[at..start], behind_value);
                (at, behind_value) = (start, false);
            }
            Claim::Refuse(refusal) => return Err(refusal),
            Claim::Take(_) if args.has(spec.name) => {
                return Err(refuse(msg!("no-line-twice", word = spec.words()[0])));
            }
            Claim::Take(taken) => {
                let words = &tokens[start..start + taken];
                let words = if spec.kind == Kind::Rest {
                    rest(line, words)
                } else {
                    words.to_vec()
                };
                args.given.push((spec.name, words));
                (at, behind_value) = (start + taken, true);
            }
        }
    }
    times.settle(&args)?;
    Ok(args)
}

/// The argument whose small word starts here, the longest word first, and how many words it is.
pub(super) fn small_word(tokens: &[Token], specs: &'static [ArgSpec]) -> Option<(&'static ArgSpec, usize)> {
    let length = |words: &str| words.split(' ').count();
    let stands = |words: &str| {
        let mut all = words.split(' ').zip(tokens);
        tokens.len() >= length(words) && all.all(|(word, token)| token.is(word))
    };
    let all = specs
        .iter()
        .flat_map(|spec| spec.words().iter().map(move |words| (spec, *words)));
    let found = all
        .filter(|(_, words)| stands(words))
        .max_by_key(|(_, words)| length(words));
    found.map(|(spec, words)| (spec, length(words)))
}

/// A note as it was written, with its own spaces and signs; with single spaces where the line is not at hand.
fn rest(line: &str, words: &[Token]) -> Vec<Token> {
    let [first, .., last] = words else {
        return words.to_vec();
    };
    let text = line
        .get(first.start..last.end)
        .map_or_else(|| join(words), |text| text.trim().to_owned());
    vec![Token {
        text,
        quoted: true,
        ..first.clone()
    }]
}

/// Which words are part of a known name that holds a small word ("By the window"), and are none themselves.
fn in_names(tokens: &[Token], specs: &'static [ArgSpec], ctx: &Context<'_>) -> Vec<bool> {
    let mut named = vec![false; tokens.len()];
    for name in known_names(ctx) {
        let name = keys(name);
        let is_small = |key: &String| specs.iter().any(|spec| spec.words().contains(&key.as_str()));
        if name.len() < 2 || !name.iter().any(is_small) {
            continue;
        }
        for from in 0..(tokens.len() + 1).saturating_sub(name.len()) {
            let window = &tokens[from..from + name.len()];
            if window.iter().zip(&name).all(|(token, key)| token.is(key)) {
                named[from..from + name.len()].fill(true);
            }
        }
    }
    named
}

/// The names of everything the place has.
pub(super) fn known_names<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a str> {
    let enclosures = ctx
        .place
        .enclosures
        .values()
        .flat_map(|one| [one.name.as_str(), one.room.as_str()]);
    let duties = ctx.place.duties.values().map(|(duty, _)| duty.name.as_str());
    let carers = ctx.book.names.values().map(String::as_str);
    let rounds = ctx.place.rounds.iter().map(|round| round.name.as_str());
    let vessels = ctx.place.batches.values().map(|batch| batch.vessel.as_str());
    enclosures
        .chain(duties)
        .chain(carers)
        .chain(rounds)
        .chain(vessels)
}

/// Times that are clear without their small word: "yesterday 21:00", "2h ago".
struct Times<'a> {
    spec: Option<&'static ArgSpec>,
    /// Words of names, at which no time starts.
    names: Vec<String>,
    /// What was wrong with the first that looked like one.
    wrong: Option<Refusal>,
    ctx: &'a Context<'a>,
}

impl<'a> Times<'a> {
    fn of(specs: &'static [ArgSpec], ctx: &'a Context<'a>) -> Self {
        let clear = |spec: &&ArgSpec| spec.kind == Kind::Time && matches!(spec.lead, Lead::Either(_));
        Self {
            spec: specs.iter().find(clear),
            names: known_names(ctx).flat_map(keys).collect(),
            wrong: None,
            ctx,
        }
    }

    /// The time that starts at the first word, and how many words it has.
    fn read(&mut self, tokens: &[Token], args: &Args) -> Option<(&'static str, usize)> {
        let spec = self.spec.filter(|spec| !args.has(spec.name))?;
        let first = &tokens[0];
        if self.names.contains(&first.key) {
            return None;
        }
        match when::read(tokens, self.ctx)? {
            Ok((_, used)) => Some((spec.name, used)),
            Err(refusal) => {
                // Where a span does not start at this word it may at the next one: "tank 2 2 h ago".
                if first.key.starts_with(|c: char| c.is_ascii_digit()) {
                    self.wrong.get_or_insert(refusal);
                }
                None
            }
        }
    }

    /// Refuses what looked like a time where no other one was found.
    fn settle(self, args: &Args) -> Result<(), Refusal> {
        match (self.spec, self.wrong) {
            (Some(spec), Some(refusal)) if !args.has(spec.name) => Err(refusal),
            _ => Ok(()),
        }
    }
}
