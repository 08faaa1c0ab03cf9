//! How a line that is being typed may go on.

use wrackline_core::place::Role;

use super::parse::WORDS_MAX;
use super::split::{Args, small_word, split};
use super::table::{ArgSpec, Kind, LINES, Lead, LineSpec, SubSpec, spec};
use super::token::{Token, key, tokens};
use super::usage::allows;
use super::{Context, duty, people, spot, turn};
use crate::msg;
use crate::words::Message;

/// The most completions that are offered at once.
const OFFERED_MAX: usize = 12;

/// A text that may come next.
pub(super) struct Candidate {
    /// The text.
    pub(super) text: String,
    hint: Message,
    /// Whether it may open something new; else it only goes on from words that stand.
    opens: bool,
}

impl Candidate {
    fn new(text: impl Into<String>, hint: Message) -> Self {
        Self {
            text: text.into(),
            hint,
            opens: true,
        }
    }
}

/// How a line may go on: the whole line with the completion taken, and what it stands for. At most 12.
#[must_use]
pub fn complete(line: &str, ctx: &Context<'_>, role: Role) -> Vec<(String, Message)> {
    let indent = line.len() - line.trim_start().len();
    let slash = indent + usize::from(line[indent..].starts_with('/'));
    let words = tokens(&line[slash..]);
    let open = words.last().is_some_and(|word| slash + word.end == line.len());
    if words.is_empty() || (words.len() == 1 && open) {
        let start = words.first().map_or("", |word| &word.key);
        let fitting = LINES
            .iter()
            .filter(|line| allows(line.who, role) && line.name.starts_with(start));
        return fitting
            .take(OFFERED_MAX)
            .map(|found| (format!("/{}", found.name), msg!(found.help(None))))
            .collect();
    }
    if words.len() > WORDS_MAX {
        return Vec::new();
    }
    let Some(found) = spec(&words[0].key) else {
        return Vec::new();
    };
    let typed: Vec<Token> = words[1..].to_vec();
    let candidates = candidates(found, &typed, open, ctx, role);
    let mut taken: Vec<(String, Message)> = Vec::new();
    for candidate in candidates {
        let Some(whole) = extended(line, slash, &typed, open, &candidate) else {
            continue;
        };
        if !taken.iter().any(|(other, _)| *other == whole) {
            taken.push((whole, candidate.hint));
        }
    }
    taken.truncate(OFFERED_MAX);
    taken
}

/// The line with its last words replaced by a text that starts with them; `None` if it does not go on from them.
fn extended(line: &str, slash: usize, typed: &[Token], open: bool, candidate: &Candidate) -> Option<String> {
    let text = &candidate.text;
    let wanted = key(text);
    let most = text.split_whitespace().count().min(typed.len());
    // The word that is being typed goes on from no other word yet.
    let fewest = if candidate.opens || !open { 1 } else { 2 };
    for back in (fewest..=most).rev() {
        let from = slash + typed[typed.len() - back].start;
        let mut said = key(line[from..].trim_end());
        if !open {
            said.push(' ');
        }
        if wanted.starts_with(&said) && wanted.len() > said.len() {
            return Some(format!("{}{text}", &line[..from]));
        }
        if wanted == said.trim_end() {
            return None;
        }
    }
    (!open && candidate.opens).then(|| format!("{line}{text}"))
}

fn candidates(
    line: &'static LineSpec,
    typed: &[Token],
    open: bool,
    ctx: &Context<'_>,
    role: Role,
) -> Vec<Candidate> {
    if line.subs.is_empty() {
        return if allows(line.who, role) {
            of_args(line.args, typed, open, ctx)
        } else {
            Vec::new()
        };
    }
    let allowed = |sub: &&SubSpec| allows(sub.who, role);
    if typed.is_empty() || (typed.len() == 1 && open) {
        let subs = line.subs.iter().filter(allowed);
        return subs
            .map(|sub| Candidate::new(sub.name, msg!(line.help(Some(sub.name)))))
            .collect();
    }
    match line.sub(&typed[0].key).filter(|sub| allowed(sub)) {
        Some(sub) => of_args(sub.args, &typed[1..], open, ctx),
        None => Vec::new(),
    }
}

/// What may come next among the arguments of a line.
fn of_args(specs: &'static [ArgSpec], typed: &[Token], open: bool, ctx: &Context<'_>) -> Vec<Candidate> {
    // The last word is perhaps only begun, so it says nothing yet about what stands.
    let whole = if open {
        &typed[..typed.len().saturating_sub(1)]
    } else {
        typed
    };
    if let Some(spec) = waiting(specs, whole, ctx) {
        return values(spec, ctx);
    }
    let args = split("", whole, specs, ctx).unwrap_or_default();
    let (mut found, mut words) = (Vec::new(), Vec::new());
    for spec in specs.iter().filter(|spec| !args.has(spec.name)) {
        let opens = !stands(spec, &args, ctx);
        if let Some(word) = spec.words().first().filter(|_| opens) {
            words.push(Candidate::new(*word, msg!(spec.help())));
        }
        if !matches!(spec.lead, Lead::Word(_)) {
            found.extend(
                values(spec, ctx)
                    .into_iter()
                    .map(|one| Candidate { opens, ..one }),
            );
        }
    }
    found.extend(words);
    found
}

/// The argument whose small word was said last and that still waits for its value.
fn waiting(specs: &'static [ArgSpec], typed: &[Token], ctx: &Context<'_>) -> Option<&'static ArgSpec> {
    let (at, (spec, words)) = (0..typed.len())
        .rev()
        .find_map(|at| small_word(&typed[at..], specs).map(|found| (at, found)))?;
    let behind = &typed[at + words..];
    let waits = match spec.kind {
        Kind::Flag => false,
        // Without prepared water "from" is a word like any other.
        Kind::Vessel if ctx.place.batches.is_empty() => false,
        Kind::Rest | Kind::Text | Kind::Name => true,
        _ if behind.is_empty() => true,
        // A value of several words may be only begun: "life out of".
        _ => values(spec, ctx).iter().any(|one| begins(behind, &one.text)),
    };
    waits.then_some(spec)
}

fn begins(typed: &[Token], text: &str) -> bool {
    let said = typed
        .iter()
        .map(|word| word.key.as_str())
        .collect::<Vec<_>>()
        .join(" ");
    let text = key(text);
    text.len() > said.len() && text.starts_with(&said)
}

/// Whether an argument without a small word already stands among the bare words.
fn stands(spec: &ArgSpec, args: &Args, ctx: &Context<'_>) -> bool {
    let bare = &args.bare;
    match spec.kind {
        Kind::Duty => !duty::duties(bare, ctx).is_empty(),
        Kind::Sighting => !duty::sightings(bare).is_empty(),
        // All bare words are of it, and it may go on.
        Kind::Turn(_) => false,
        Kind::Choice(choices) if spec.lead == Lead::Bare => {
            bare.iter().any(|word| choices.iter().any(|one| word.is(one)))
        }
        Kind::Spot => {
            let around = duty::duties(bare, ctx).into_iter().map(|hit| hit.rest(bare));
            let around = around.chain(duty::sightings(bare).into_iter().map(|hit| hit.rest(bare)));
            let mut all = around.chain([bare.clone()]);
            all.any(|words| spot::read(&words, ctx).is_ok())
        }
        _ => false,
    }
}

/// The values that an argument may take, where they can be listed.
pub(super) fn values(spec: &ArgSpec, ctx: &Context<'_>) -> Vec<Candidate> {
    let hint = || msg!(spec.help());
    let all = |words: Vec<String>| {
        words
            .into_iter()
            .map(|word| Candidate::new(word, hint()))
            .collect()
    };
    let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    match spec.kind {
        Kind::Duty => all(duty::duty_names(ctx)),
        Kind::Sighting => all(owned(&duty::sighting_names())),
        Kind::Spot => spots(spec, ctx),
        Kind::Choice(choices) => all(owned(choices)),
        Kind::Switch => all(owned(&["yes", "no"])),
        Kind::Carer => all(people::carers(ctx)
            .into_iter()
            .map(|(_, name)| name.to_owned())
            .collect()),
        Kind::Vessel => all(people::vessels(people::Vessels::InUse, ctx)
            .into_iter()
            .map(|(_, name)| name.to_owned())
            .collect()),
        Kind::Round => all(people::rounds(ctx)
            .into_iter()
            .map(|(_, name)| name.to_owned())
            .collect()),
        Kind::OwnDuty => all(ctx
            .place
            .duties
            .values()
            .map(|(duty, _)| duty.name.clone())
            .collect()),
        Kind::Turn(whose) => all(turn::texts(whose, ctx)),
        Kind::Day => all(days(spec, ctx)),
        Kind::Line => all(LINES.iter().map(|line| line.name.to_owned()).collect()),
        Kind::Fraction => all(owned(&["50%"])),
        Kind::Gravity => all(owned(
            &wrackline_core::quantity::GravityConvention::ALL.map(|one| one.as_str()),
        )),
        _ => Vec::new(),
    }
}

/// The days of a week; where single rounds are meant, each with its rounds.
fn days(spec: &ArgSpec, ctx: &Context<'_>) -> Vec<String> {
    let names = [
        "today",
        "tomorrow",
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
    ];
    let alone = names.iter().map(|day| (*day).to_owned());
    if spec.name != "rounds" {
        return alone.collect();
    }
    let rounds = people::rounds(ctx);
    let of_day = |day: &&str| {
        let day = (*day).to_owned();
        let each = rounds.iter();
        let each: Vec<String> = each
            .map(|(_, name)| format!("{day} {}", name.to_lowercase()))
            .collect();
        each
    };
    alone.chain(names.iter().flat_map(of_day)).collect()
}

/// Pools and enclosures in walking order, rooms, and all.
fn spots(spec: &ArgSpec, ctx: &Context<'_>) -> Vec<Candidate> {
    let mut found = Vec::new();
    let mut rooms: Vec<&str> = Vec::new();
    for enclosure in ctx.place.walk() {
        if spec.name != "enclosure" {
            for pool in ctx.place.pools_of(enclosure.id) {
                found.push(Candidate::new(spot::call_pool(pool, ctx), msg!("hint-pool")));
            }
        }
        found.push(Candidate::new(&enclosure.name, msg!("hint-enclosure")));
        if !enclosure.room.is_empty() && !rooms.contains(&enclosure.room.as_str()) {
            rooms.push(&enclosure.room);
        }
    }
    if spec.name != "enclosure" {
        found.extend(
            rooms
                .into_iter()
                .map(|room| Candidate::new(room, msg!("hint-room"))),
        );
        found.push(Candidate::new("all", msg!("hint-all")));
    }
    found
}
