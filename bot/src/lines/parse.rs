//! From a line to what it asks.

use super::ask::Ask;
use super::nearest::{list, nearest};
use super::split::{Args, split};
use super::table::{ArgSpec, CANNOT, LINES, Lead, LineSpec, Need, SubSpec, Who, spec};
use super::token::{Token, join, tokens};
use super::{
    Context, Refusal, alone, away, batch, care, carer, did, fitting, link, nod, place, pool, refuse,
    rehearse, seen, set_up, sheet, supplies, turn, usage, water,
};
use crate::msg;

/// The most words of a line that are sought for names, its values and note left out. What people say has a dozen;
/// the search grows with the square of them and more.
pub(super) const WORDS_MAX: usize = 60;

/// A line whose words are sorted into arguments.
pub(super) struct Call<'a> {
    /// Its line of the table.
    pub(super) line: &'static LineSpec,
    /// Its subcommand.
    pub(super) sub: Option<&'static SubSpec>,
    /// Its arguments.
    pub(super) args: Args,
    /// What it is read against.
    pub(super) ctx: &'a Context<'a>,
}

impl Call<'_> {
    /// That an argument is missing.
    pub(super) fn missing(&self, name: &str) -> Refusal {
        refuse(msg!(
            "no-line-missing",
            what = msg!(format!("need-{name}")),
            usage = self.usage()
        ))
    }

    /// How the line goes.
    pub(super) fn usage(&self) -> String {
        usage(self.line, self.sub)
    }

    /// Holds that all bare words were used up.
    pub(super) fn done(&self, ask: Ask) -> Result<Ask, Refusal> {
        if self.args.bare.is_empty() {
            return Ok(ask);
        }
        Err(refuse(msg!(
            "no-line-leftover",
            text = join(&self.args.bare),
            usage = self.usage()
        )))
    }

    /// The bare words, which are all one argument; that it is missing when there are none.
    pub(super) fn bare(&mut self, name: &str) -> Result<Vec<Token>, Refusal> {
        if self.args.bare.is_empty() {
            return Err(self.missing(name));
        }
        Ok(std::mem::take(&mut self.args.bare))
    }

    /// The bare words that are a name for something new: nothing may stand apart from them, since it would become
    /// part of the name.
    pub(super) fn new_name(&mut self) -> Result<Vec<Token>, Refusal> {
        match self.args.apart() {
            Some(apart) => Err(refuse(msg!(
                "no-line-leftover",
                text = join(apart),
                usage = self.usage()
            ))),
            None => self.bare("name"),
        }
    }

    /// Holds that at least one, or exactly one, of the arguments stands that are marked so.
    fn hold(&self, specs: &[ArgSpec]) -> Result<(), Refusal> {
        let said = |need: Need| {
            let all = specs.iter().filter(move |arg| arg.need == need);
            (
                all.clone().count(),
                all.filter(|arg| self.args.has(arg.name)).count(),
            )
        };
        // Of bare words only the reader of the line can say whether they are the one that has to stand.
        let bare = specs
            .iter()
            .any(|arg| arg.need == Need::SomeOf && !matches!(arg.lead, Lead::Word(_)));
        let some = if bare { (0, 0) } else { said(Need::SomeOf) };
        let wrong = match (some, said(Need::OneOf)) {
            // Who offers and says no name has to be told what is missing, not when.
            (_, (1.., 0)) if self.line.name == "offer" => return Err(self.missing("whom")),
            ((1.., 0), _) => Some("no-line-needs-some"),
            (_, (1.., 0)) => Some("no-line-needs-one"),
            (_, (1.., 2..)) => Some("no-line-needs-only-one"),
            _ => None,
        };
        wrong.map_or(Ok(()), |id| Err(refuse(msg!(id, usage = self.usage()))))
    }
}

/// Takes the name off a line; the slash, its case and a word such as "I" before it do not matter.
fn named(line: &str) -> (Option<&'static LineSpec>, Vec<Token>) {
    let line = line.trim_start().trim_start_matches('/');
    let mut words = tokens(line);
    if words.len() > 1 && matches!(words[0].key.as_str(), "i" | "we" | "i've" | "we've" | "please") {
        words.remove(0);
    }
    if let Some(found) = words.first().and_then(|word| spec(&word.key)) {
        return (Some(found), words);
    }
    plain_talk(words)
}

/// Words by which people begin to tell what they did.
const TELLING: [&str; 11] = [
    "changed",
    "conditioned",
    "dechlorinated",
    "topped",
    "tested",
    "rinsed",
    "scrubbed",
    "looked",
    "checked",
    "cleaned",
    "done",
];

/// Lines that people say without their name: what they did, what is due, whose turn it is.
fn plain_talk(mut words: Vec<Token>) -> (Option<&'static LineSpec>, Vec<Token>) {
    let Some(first) = words.first().cloned() else {
        return (None, words);
    };
    if CANNOT.iter().any(|way| says(&words, way)) {
        words.insert(0, first);
        return (spec("offer"), words);
    }
    if let Some(used) = all_are_here(&words) {
        let hush = tokens("rounds hush").into_iter();
        return (spec("rounds"), hush.chain(words.drain(used..)).collect());
    }
    let asks = [
        "what", "what's", "whats", "who", "who's", "whos", "whose", "anything", "is",
    ];
    if TELLING.iter().any(|word| first.is(word)) {
        words.insert(0, first);
        return (spec("did"), words);
    }
    if asks.iter().any(|word| first.is(word)) {
        let has = |wanted: &[&str]| words.iter().any(|word| wanted.iter().any(|one| word.is(one)));
        // Nothing else in such a question is an argument.
        if has(&["due"]) {
            return (spec("due"), vec![first]);
        }
        if has(&["turn", "turns"]) {
            let all = tokens("all");
            return (spec("turns"), [vec![first], all].concat());
        }
    }
    (None, words)
}

/// How many words say that nobody has to be called to the rounds, since everybody is there.
fn all_are_here(words: &[Token]) -> Option<usize> {
    let ways = [
        "hush",
        "are all here",
        "we're all here",
        "we are all here",
        "all here",
        "everyone is here",
        "everyone's here",
        "everybody is here",
        "everybody's here",
    ];
    let found = ways.iter().find(|way| says(words, way))?;
    Some(found.split(' ').count())
}

/// Whether words begin with a phrase.
fn says(words: &[Token], phrase: &str) -> bool {
    let mut pairs = phrase.split(' ').zip(words);
    words.len() >= phrase.split(' ').count() && pairs.all(|(word, token)| token.is(word))
}

/// A line that begins with no name but holds readings is one of readings.
fn holds_readings(words: &[Token], ctx: &Context<'_>) -> bool {
    let found = wrackline_core::quantity::readings(&join(words), ctx.place.gravity);
    found.is_ok_and(|(readings, left)| !readings.is_empty() && !left.trim().is_empty())
}

/// The name of the line that a text is, without its slash; `None` when it is none.
#[must_use]
pub fn line_name(line: &str) -> Option<&'static str> {
    named(line).0.map(|spec| spec.name)
}

/// Who may say a line, by the table; `None` when it is none. A set-up line alone lists, which all may.
#[must_use]
pub fn who(line: &str) -> Option<Who> {
    let (spec, words) = named(line);
    let spec = spec?;
    let sub = words
        .get(1)
        .filter(|word| !word.quoted)
        .and_then(|word| spec.sub(&word.key));
    let alone = !spec.subs.is_empty() && words.len() == 1;
    Some(if alone {
        Who::All
    } else {
        sub.map_or(spec.who, |sub| sub.who)
    })
}

/// Reads a line.
///
/// # Errors
/// One sentence: what was wrong, and what would be right.
pub fn parse(line: &str, ctx: &Context<'_>) -> Result<Ask, Refusal> {
    let (found, mut words) = named(line);
    let found = match found {
        Some(found) => found,
        None if words.len() <= WORDS_MAX && holds_readings(&words, ctx) => {
            words.insert(0, words[0].clone());
            spec("read").ok_or_else(|| no_line(&words))?
        }
        None => return Err(seen::seen(&words, ctx).unwrap_or_else(|| no_line(&words))),
    };
    let rest = &words[1..];
    let (sub, rest) = if found.subs.is_empty() {
        (None, rest)
    } else {
        subcommand(found, rest)?
    };
    let specs = sub.map_or(found.args, |sub| sub.args);
    // The positions of words are those within the line behind its slash.
    let text = line.trim_start().trim_start_matches('/');
    let plain = water::plain(found, rest);
    let args = split(text, plain.as_deref().unwrap_or(rest), specs, ctx)?;
    if args.bare.len() > WORDS_MAX {
        return Err(refuse(msg!("no-line-long", most = WORDS_MAX)));
    }
    let call = Call {
        line: found,
        sub,
        args,
        ctx,
    };
    call.hold(specs)?;
    dispatch(call)
}

fn dispatch(call: Call<'_>) -> Result<Ask, Refusal> {
    let sub = call.sub.map_or("", |sub| sub.name);
    match (call.line.name, sub) {
        ("did", _) => did::did(call),
        ("fit", _) => fitting::fit(call),
        ("plumb", _) => fitting::plumb(call),
        ("rehearse", _) => rehearse::rehearse(call),
        ("sheet", _) => sheet::sheet(call),
        ("alone", _) => alone::alone(call),
        ("batch", _) => batch::batch(call, sub),
        ("trail", _) => batch::trail(call),
        ("place", _) => place::place(call, sub),
        ("enclosure", _) => place::enclosure(call, sub),
        ("pool", _) => pool::pool(call, sub),
        ("gear", _) => pool::gear(call, sub),
        ("duty", _) => set_up::duty(call, sub),
        ("carer", _) => carer::carer(call, sub),
        ("rounds", _) => set_up::rounds(call, sub),
        ("mix", _) => water::mix(call),
        ("dilute", _) => water::dilute(call),
        ("link", _) => link::link(call, sub),
        ("turns", _) => turn::turns(call),
        ("away", _) => away::away(call),
        ("offer", _) => turn::offer(call),
        ("take", _) => turn::take(call),
        ("nod", _) => nod::nod(call),
        ("supplies", _) => supplies::supplies(call, sub),
        _ => care::care(call),
    }
}

fn subcommand<'t>(
    line: &'static LineSpec,
    rest: &'t [Token],
) -> Result<(Option<&'static SubSpec>, &'t [Token]), Refusal> {
    let Some(first) = rest.first() else {
        return Ok((line.sub("list"), rest));
    };
    match line.sub(&first.key).filter(|_| !first.quoted) {
        Some(sub) => Ok((Some(sub), &rest[1..])),
        None => {
            let names: Vec<&str> = line.subs.iter().map(|sub| sub.name).collect();
            Err(refuse(msg!(
                "no-line-needs-sub",
                line = line.name,
                text = first.text.clone(),
                names = list(&names)
            )))
        }
    }
}

fn no_line(words: &[Token]) -> Refusal {
    let Some(first) = words.first() else {
        return refuse(msg!("no-line-none"));
    };
    let known = LINES
        .iter()
        .flat_map(|line| line.aliases.iter().chain([&line.name]).copied());
    let near = nearest(&first.key, known);
    if near.is_empty() {
        return refuse(msg!("no-line-unknown", text = first.text.clone()));
    }
    let mut names: Vec<String> = Vec::new();
    for name in near
        .iter()
        .filter_map(|name| spec(name))
        .map(|line| format!("/{}", line.name))
    {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    refuse(msg!(
        "no-line-nearest",
        text = first.text.clone(),
        names = list(&names)
    ))
}
