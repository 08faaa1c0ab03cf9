//! How many words behind a small word belong to it.

use wrackline_core::quantity::{Problem, Units, fraction, length_cm, mass_g, volume};

use super::people::Vessels;
use super::problem::problem;
use super::span::Edge;
use super::table::{ArgSpec, Kind, Lead};
use super::token::{Token, join};
use super::water::figures;
use super::{
    Context, Figure, Refusal, choice, figure, mention, people, refuse, schedule, span, spot, supplies,
    values, when,
};
use crate::msg;

/// What comes of a small word.
pub(super) enum Claim {
    /// It takes so many words.
    Take(usize),
    /// It is no small word here, but a word like any other.
    Bare,
    /// It is one, and what follows cannot be read.
    Refuse(Refusal),
}

/// The most words that a quantity has: "one and a half imperial gallons".
const QUANTITY_WORDS_MAX: usize = 8;

/// Measures what belongs to the small word of `spec` in the words up to the next one.
pub(super) fn claim(spec: &ArgSpec, run: &[Token], ctx: &Context<'_>) -> Claim {
    if spec.kind == Kind::Flag {
        return Claim::Take(0);
    }
    if spec.kind == Kind::Switch {
        return Claim::Take(
            run.first()
                .map_or(0, |token| usize::from(token.is("yes") || token.is("no"))),
        );
    }
    if run.is_empty() {
        return match spec.lead {
            Lead::Either(_) => Claim::Bare,
            _ => Claim::Refuse(refuse(msg!("no-line-empty", word = spec.words()[0]))),
        };
    }
    let units = ctx.place.units;
    match spec.kind {
        Kind::Time => time(spec, run, ctx),
        Kind::Fraction if spec.name == "margin" && supplies::no_margin(run).is_some() => {
            Claim::Take(supplies::no_margin(run).unwrap_or_default())
        }
        Kind::Fraction => fraction_of(run, units),
        Kind::Volume => quantity(run, units, &|text| volume(text, units)),
        Kind::Length => quantity(run, units, &|text| length_cm(text, units)),
        Kind::Mass => quantity(run, units, &|text| mass_g(text, units)),
        Kind::Salinity => longest(run, &|words| figures::salinity(words, ctx).map(drop)),
        // "At" is a word of many uses; a temperature begins with its figure.
        Kind::Temperature if !figures::begins(&run[0]) => Claim::Bare,
        Kind::Temperature => longest(run, &|words| figures::celsius(words, ctx).map(drop)),
        Kind::Concentration => longest(run, &|words| figures::concentration(words).map(drop)),
        Kind::Decimal => longest(run, &|words| figures::decimal(words).map(drop)),
        Kind::Figure(one) => figure_of(one, run, ctx),
        Kind::Vessel => vessel(run, ctx),
        Kind::Day => day(run, ctx),
        Kind::Date => match day(run, ctx) {
            Claim::Refuse(_) => Claim::Take(1),
            taken => taken,
        },
        Kind::Carer if people::is_nobody(&run[..1]) => Claim::Take(1),
        // What a sitter did within their span is logged for them once it is over.
        Kind::Carer if spec.name == "by" => {
            longest(run, &|words| people::carer_or_ended(words, ctx).map(drop))
        }
        Kind::Carer => longest(run, &|words| people::carer(words, ctx).map(drop)),
        Kind::Choice(choices) => longest(run, &|words| choice::of(words, choices).map(drop)),
        Kind::Every => longest(run, &|words| schedule::often(words, ctx).map(drop)),
        Kind::Span if spec.name == "span" => longest(run, &|words| schedule::length(words, ctx).map(drop)),
        Kind::Span => longest(run, &|words| schedule::hours(words, ctx).map(drop)),
        Kind::ClockSpan => longest(run, &|words| values::clock_span(words).map(drop)),
        Kind::Weekdays => longest(run, &|words| days(words)),
        Kind::Cron if run[0].quoted => Claim::Take(1),
        Kind::Cron => longest(run, &|words| schedule::cron(words).map(drop)),
        Kind::Clock => match when::clock(run) {
            Some((Ok(_), used)) => Claim::Take(used),
            Some((Err(refusal), _)) => Claim::Refuse(refusal),
            None => Claim::Refuse(refuse(msg!("no-time-no-clock", text = join(run)))),
        },
        Kind::Steps => {
            let numeric = |token: &&Token| token.joins() || token.key.bytes().all(|b| b.is_ascii_digit());
            Claim::Take(run.iter().take_while(numeric).count())
        }
        Kind::Number | Kind::Zone => Claim::Take(1),
        Kind::Channel | Kind::Member => mention_of(spec, run),
        // Text ends at the next small word, or with its quotation marks.
        Kind::Text | Kind::Name | Kind::Rest if run[0].quoted => Claim::Take(1),
        _ => Claim::Take(run.len()),
    }
}

/// The longest run of words that is such a figure. A table of fillings has many.
fn figure_of(one: Figure, run: &[Token], ctx: &Context<'_>) -> Claim {
    let read = |end: usize| figure::check(one, &run[..end], ctx);
    let most = run.len().min(figure::WORDS_MAX);
    match (1..=most).rev().find(|end| read(*end).is_ok()) {
        Some(taken) => Claim::Take(taken),
        None => read(most).map_or_else(Claim::Refuse, |()| Claim::Take(most)),
    }
}

/// A channel or a member. The words for them are words of names as well: "Member Jones".
fn mention_of(spec: &ArgSpec, run: &[Token]) -> Claim {
    match (mention::number(spec.kind, &run[0]), spec.lead) {
        (Some(_), _) => Claim::Take(1),
        (None, Lead::Either(_)) => Claim::Bare,
        (None, _) => Claim::Refuse(mention::unknown(&run[..1])),
    }
}

/// "From" is a word of many uses: it leads to a vessel where one is named behind it, and no pool or enclosure is.
fn vessel(run: &[Token], ctx: &Context<'_>) -> Claim {
    let most = run.len().min(QUANTITY_WORDS_MAX);
    let find = |fits: &dyn Fn(&[Token]) -> bool| (1..=most).rev().find(|end| fits(&run[..*end]));
    let whole = find(&|words| people::is_vessel(words, Vessels::InUse, ctx));
    let in_part = || {
        let is_spot = find(&|words| spot::read(words, ctx).is_ok()).is_some();
        find(&|words| !is_spot && people::vessel(words, Vessels::InUse, ctx).is_ok())
    };
    whole.or_else(in_part).map_or(Claim::Bare, Claim::Take)
}

/// The longest run of words that is one end of a span.
fn day(run: &[Token], ctx: &Context<'_>) -> Claim {
    longest(run, &|words| {
        let begins = span::from(words, &[], ctx).is_some_and(|edge| edge.is_ok());
        if begins {
            Ok(())
        } else {
            span::until(words, Edge::Now, ctx).map(drop)
        }
    })
}

fn days(words: &[Token]) -> Result<(), Refusal> {
    match schedule::weekdays(words) {
        Some(_) => Ok(()),
        None => Err(refuse(msg!("no-weekday-unknown", text = join(words)))),
    }
}

/// The longest run of words that can be read, else what is wrong with the first word.
fn longest(run: &[Token], read: &dyn Fn(&[Token]) -> Result<(), Refusal>) -> Claim {
    let most = run.len().min(QUANTITY_WORDS_MAX);
    if let Some(taken) = (1..=most).rev().find(|end| read(&run[..*end]).is_ok()) {
        return Claim::Take(taken);
    }
    match read(run) {
        Err(refusal) => Claim::Refuse(refusal),
        Ok(()) => Claim::Take(run.len()),
    }
}

fn time(spec: &ArgSpec, run: &[Token], ctx: &Context<'_>) -> Claim {
    match when::read(run, ctx) {
        Some(Ok((_, used))) => Claim::Take(used),
        Some(Err(refusal)) => Claim::Refuse(refusal),
        // "At" is a word of many uses: "at the north pool", "53 mS/cm at 25 C". "From" is not.
        None if matches!(spec.lead, Lead::Either(_)) && !is_lone_number(run) => Claim::Bare,
        None => Claim::Refuse(refuse(msg!("no-time-unknown", text = join(run)))),
    }
}

fn is_lone_number(run: &[Token]) -> bool {
    run[0].key.bytes().all(|b| b.is_ascii_digit()) && run.len() == 1
}

/// "Part change" is a duty, "part 50%" a part of one: what follows tells.
fn fraction_of(run: &[Token], units: Units) -> Claim {
    match best(run, &|text| fraction(text)) {
        Ok(taken) => Claim::Take(taken),
        Err(Problem::NotANumber { .. } | Problem::Unknown { .. }) => Claim::Bare,
        Err(found) => Claim::Refuse(Refusal(problem(&found, units))),
    }
}

fn quantity(run: &[Token], units: Units, read: &dyn Fn(&str) -> Result<f64, Problem>) -> Claim {
    match best(run, read) {
        Ok(taken) => Claim::Take(taken),
        Err(found) => Claim::Refuse(Refusal(problem(&found, units))),
    }
}

/// How many words the longest quantity at the start has, else the problem that says most.
pub(super) fn best(run: &[Token], read: &dyn Fn(&str) -> Result<f64, Problem>) -> Result<usize, Problem> {
    let most = run.len().min(QUANTITY_WORDS_MAX);
    let mut worst = Problem::NotANumber { text: String::new() };
    for end in (1..=most).rev() {
        match read(&join(&run[..end])) {
            Ok(_) => return Ok(end),
            Err(found) if weight(&found) >= weight(&worst) => worst = found,
            Err(_) => {}
        }
    }
    Err(worst)
}

/// How much a problem says about what was meant.
fn weight(problem: &Problem) -> u8 {
    match problem {
        Problem::NotANumber { .. } => 0,
        Problem::Unknown { .. } => 1,
        Problem::NoUnit { .. } => 2,
        _ => 3,
    }
}
