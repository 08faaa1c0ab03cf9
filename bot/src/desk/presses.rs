//! Answers that are pressed. A code is a verb and what it is about, with a dot between: `did.change.p4.12`.

use jiff::Timestamp;
use wrackline_core::care::{DueBy, Duty, Mark, Standing, TurnKey, closers, standing};
use wrackline_core::civil::{next_round, plus_minutes};
use wrackline_core::journal::{Event, Part, Seq};
use wrackline_core::moment::Subject;
use wrackline_core::place::Role;
use wrackline_core::rota::{self, Slot};

use super::{Desk, Outcome, Refused, care, looks, nods, readings, turns, undo, why};
use crate::chat::blocks::{Answer, Block, Press};
use crate::lines;
use crate::lines::ask::{Did, Grain, Spot};
use crate::msg;

/// Hears a press.
///
/// # Errors
/// The refusal, as one sentence.
pub fn hear(desk: &Desk<'_>, code: &str, text: Option<&str>) -> Result<Outcome, Refused> {
    if desk.role == Role::Helper {
        return Err(msg!("refuse-helper"));
    }
    let (verb, about) = code.split_once('.').ok_or(msg!("refuse-press"))?;
    let turn = || about.parse::<TurnKey>().map_err(|_| msg!("refuse-press"));
    let number = || about.parse::<Seq>().map_err(|_| msg!("refuse-press"));
    match verb {
        "did" => did(desk, &turn()?, text),
        "again" => care::did(desk, did_ask(&turn()?, true)),
        "later" => later(desk, &turn()?),
        "put" => put_off(desk, about),
        "cannot" => cannot(desk, &turn()?),
        "take" => take(desk, &turn()?),
        "takeover" => turns::offer::take_over(desk, about),
        "takefrom" => turns::offer::take_from(desk, about),
        "accept" => turns::offer::answered(desk, about, true),
        "decline" => turns::offer::answered(desk, about, false),
        "away" => turns::away::pressed(desk, about),
        "leave" => Ok(Outcome::answer(desk.done(&msg!("left-receipt")))),
        "notneeded" => not_needed(desk, &turn()?, text),
        "why" => {
            let turn = turn()?;
            why::why_turn(desk, turn.duty, turn.target).map(Outcome::answer)
        }
        "nod" => nods::nod(desk, &[number()?]),
        "notdone" => nods::not_done(desk, &[number()?]),
        "undo" => undo::undo(desk, Some(number()?)),
        "noted" => follow(desk, Event::Noted(number()?), "noted-receipt"),
        "going" => follow(desk, Event::Going(number()?), "going-receipt"),
        "looked" => follow(desk, Event::Looked(number()?), "looked-receipt"),
        "close" => follow(desk, Event::Closed(number()?), "closed-receipt"),
        "wrong" => wrong(desk, number()?),
        _ => Err(msg!("refuse-press")),
    }
}

/// The id of the question whose answer a press needs; `None` for a press that says all by itself.
#[must_use]
pub fn question(code: &str) -> Option<&'static str> {
    let (verb, about) = code.split_once('.')?;
    match verb {
        "but" => Some("ask-all-but"),
        "notneeded" => Some("ask-reason"),
        "did" => match about.parse::<TurnKey>().ok()?.duty {
            Duty::Reading => Some("ask-reading"),
            Duty::Test => Some("ask-test"),
            _ => None,
        },
        _ => None,
    }
}

/// Hears `All done` or `All but…` on a call: the subject of the post is what the press was about.
///
/// # Errors
/// The refusal, as one sentence.
pub fn hear_call(desk: &Desk<'_>, subject: &Subject, but: Option<&str>) -> Result<Outcome, Refused> {
    let open = super::posts::open_turns(&desk.tell, subject.turns());
    let except: Vec<usize> = match but {
        None => Vec::new(),
        Some(text) => numbers(text, subject.turns().len())?,
    };
    // A reading without its values is none: it stays open.
    let (readings, rest): (Vec<_>, Vec<_>) = open
        .iter()
        .filter(|(number, _)| !except.contains(number))
        .partition(|(_, standing)| standing.turn.duty == Duty::Reading);
    let wanting: Vec<String> = readings
        .iter()
        .map(|(_, standing)| desk.tell.target(standing.turn.target))
        .collect();
    let besides: Vec<String> = match wanting.as_slice() {
        [] => Vec::new(),
        names => vec![desk.say(&msg!("all-but-readings", names = desk.tell.list(names)))],
    };
    let drafts: Vec<_> = rest
        .iter()
        .map(|(_, standing)| desk.draft(done(desk, standing)))
        .collect();
    if drafts.is_empty() {
        return match besides.as_slice() {
            [only] => Ok(Outcome::answer(Answer {
                ok: false,
                ..desk.done_text(only.clone())
            })),
            _ => Err(msg!("refuse-nothing-open")),
        };
    }
    Ok(Outcome::write(drafts, move |desk, numbers| {
        // What was nodded at is told as what was done.
        let told: Vec<Seq> = numbers.iter().map(|seq| nodded_at(desk, *seq)).collect();
        let mut answer = care::receipt(desk, &told, &besides);
        if let (Some(Block::Answers { answers }), Some(first)) = (answer.blocks.last_mut(), numbers.first()) {
            let take_back = answers.iter_mut().find(|press| press.code.starts_with("undo."));
            take_back
                .into_iter()
                .for_each(|press| press.code = format!("undo.{first}"));
        }
        answer
    }))
}

/// What `All done` writes for a turn: that it was done, or a nod at what a helper did.
fn done(desk: &Desk<'_>, standing: &Standing) -> Event {
    let (duty, target) = (standing.duty(), standing.turn.target);
    match desk.book().waiting_for(duty, target, desk.now()) {
        Some(waiting) => Event::Nodded(waiting.seq),
        None => Event::Did(duty, target, Part::Whole),
    }
}

fn nodded_at(desk: &Desk<'_>, seq: Seq) -> Seq {
    match desk.book().entry(seq).map(|entry| &entry.event) {
        Some(Event::Nodded(of)) => *of,
        _ => seq,
    }
}

fn numbers(text: &str, count: usize) -> Result<Vec<usize>, Refused> {
    let words = text
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty());
    let read: Result<Vec<usize>, Refused> = words
        .filter(|word| !word.eq_ignore_ascii_case("and"))
        .map(|word| match word.parse() {
            Ok(number) if (1..=count).contains(&number) => Ok(number),
            _ => Err(msg!("refuse-number", text = word, count = count)),
        })
        .collect();
    match read {
        Ok(all) if all.is_empty() => Err(msg!("refuse-number", text = text.trim(), count = count)),
        other => other,
    }
}

/// The turn as it stands, if it is still the same one.
fn open(desk: &Desk<'_>, turn: &TurnKey) -> Result<Standing, Refused> {
    let current = standing(desk.book(), desk.place(), turn.duty, turn.target, desk.now());
    match current {
        Some(standing) if standing.turn == *turn => Ok(standing),
        // A calendar's later occurrence stands for the one that was called.
        Some(standing) if turn.on.is_some() && standing.turn.from == turn.from => Ok(standing),
        _ => Err(closed(desk, turn)),
    }
}

fn closed(desk: &Desk<'_>, turn: &TurnKey) -> Refused {
    let later = closers(desk.book(), turn, desk.now()).next();
    let target = desk.tell.target(turn.target);
    let duty = desk.tell.duty(turn.duty);
    match later {
        Some(done) => msg!(
            "refuse-closed-by",
            who = desk.tell.carer(done.by),
            target = target,
            duty = desk.tell.duty(done.duty),
            at = desk.tell.near(done.at),
            ago = desk.tell.ago(done.at)
        ),
        None => msg!("refuse-closed", target = target, duty = duty),
    }
}

fn did_ask(turn: &TurnKey, again: bool) -> Did {
    let mut spot = Spot::default();
    match turn.target {
        wrackline_core::place::Target::Place => {}
        wrackline_core::place::Target::Enclosure(id) => {
            spot = Spot {
                enclosures: vec![id],
                grain: Grain::Enclosure,
                ..spot
            };
        }
        wrackline_core::place::Target::Pool(id) => {
            spot = Spot {
                pools: vec![id],
                grain: Grain::Pool,
                ..spot
            }
        }
    }
    Did {
        duty: turn.duty,
        spot,
        part: Part::Whole,
        litres: None,
        batch: None,
        at: None,
        by: None,
        with: None,
        again,
        note: None,
    }
}

fn did(desk: &Desk<'_>, turn: &TurnKey, text: Option<&str>) -> Result<Outcome, Refused> {
    let standing = open(desk, turn)?;
    // What is pressed is what was called: of a filtered pool the part change, of any other the whole.
    let turn = TurnKey {
        duty: standing.duty(),
        ..*turn
    };
    let did = did_ask(&turn, false);
    let read = text.map(str::trim).filter(|text| !text.is_empty());
    match (turn.duty, read) {
        (Duty::Reading | Duty::Test, Some(text)) => {
            let (readings, rest) = wrackline_core::quantity::readings(text, desk.place().gravity)
                .map_err(|problem| msg!("refuse-line", why = lines::problem(&problem, desk.place().units)))?;
            if readings.is_empty() || !rest.is_empty() {
                return Err(msg!("refuse-reading-text", text = text));
            }
            readings::read(desk, &did.spot, &readings, None, None, None)
        }
        _ => care::did(desk, did),
    }
}

/// `Later`: the times at which the turn may come back, all before its hazard limit.
fn later(desk: &Desk<'_>, turn: &TurnKey) -> Result<Outcome, Refused> {
    let standing = open(desk, turn)?;
    let (zone, rounds) = (&desk.place().zone, &desk.place().rounds);
    let first = next_round(zone, rounds, desk.now()).at;
    let second = next_round(zone, rounds, first).at;
    let mut times = vec![
        plus_minutes(desk.now(), 60),
        plus_minutes(desk.now(), 180),
        first,
        second,
    ];
    times.retain(|at| fits(&standing, *at));
    times.sort();
    times.dedup();
    if times.is_empty() {
        return Err(too_late(desk, &standing));
    }
    let answers = times.iter().map(|at| Press {
        label: desk.tell.near(*at),
        code: format!("put.{}.{}", at.as_second(), turn),
        asks: None,
        typed: None,
    });
    let title = desk.say(&msg!("later-when", turn = desk.tell.turn(&standing)));
    let blocks = vec![
        Block::Title { text: title },
        Block::Answers {
            answers: answers.collect(),
        },
    ];
    Ok(Outcome::answer(Answer {
        ok: true,
        blocks,
        private: true,
        turns: Vec::new(),
    }))
}

fn fits(standing: &Standing, at: Timestamp) -> bool {
    standing.hazard.is_none_or(|hazard| at < hazard)
}

fn too_late(desk: &Desk<'_>, standing: &Standing) -> Refused {
    let hazard = standing.hazard.unwrap_or(standing.due);
    msg!(
        "refuse-later",
        turn = desk.tell.turn(standing),
        hazard = desk.tell.near(hazard)
    )
}

fn put_off(desk: &Desk<'_>, about: &str) -> Result<Outcome, Refused> {
    let (at, turn) = about.split_once('.').ok_or(msg!("refuse-press"))?;
    let until = at
        .parse()
        .ok()
        .and_then(|at| Timestamp::from_second(at).ok())
        .ok_or(msg!("refuse-press"))?;
    let turn: TurnKey = turn.parse().map_err(|_| msg!("refuse-press"))?;
    let standing = open(desk, &turn)?;
    if until <= desk.now() {
        return Err(msg!("refuse-later-past"));
    }
    if !fits(&standing, until) {
        return Err(too_late(desk, &standing));
    }
    let drafts = vec![desk.draft(Event::Later {
        turn: standing.turn,
        until,
    })];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let turn = desk.tell.turn(&standing);
        let title = msg!("later-receipt", turn = turn, until = desk.tell.near(until));
        with_take_back(desk, desk.done(&title), numbers)
    }))
}

/// An answer with `Take back` for the entries of its line.
pub fn with_take_back(desk: &Desk<'_>, mut answer: Answer, numbers: &[u64]) -> Answer {
    if let Some(first) = numbers.first() {
        let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
        answer.blocks.push(Block::Answers { answers });
    }
    answer
}

/// `Can't`: the turn is free for anyone, and others are asked in turn.
///
/// # Errors
/// A refusal when it is done or gone, or was given up by the one who says it.
pub fn cannot(desk: &Desk<'_>, turn: &TurnKey) -> Result<Outcome, Refused> {
    let standing = open(desk, turn)?;
    let (book, place, now) = (desk.book(), desk.place(), desk.now());
    let is_mine = rota::hand(book, place, &standing, now).carer == Some(desk.me);
    if !is_mine && rota::gave_up_standing(book, place, &standing, desk.me, now) {
        return Err(msg!("refuse-cannot-twice", turn = desk.tell.turn(&standing)));
    }
    let drafts = vec![desk.draft(Event::Cannot { turn: standing.turn })];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let (turn, who) = (desk.tell.turn(&standing), desk.tell.carer(desk.me));
        let hand = rota::hand(desk.book(), desk.place(), &standing, desk.now());
        if let Some(owner) = hand.carer.filter(|owner| *owner != desk.me) {
            let owner = desk.tell.carer(owner);
            let answer = desk.done(&msg!(
                "cannot-receipt-others",
                turn = turn,
                who = who,
                owner = owner
            ));
            return with_take_back(desk, answer, numbers);
        }
        let mut answer = desk.done(&msg!("cannot-receipt", turn = turn, who = who));
        answer.blocks.push(Block::Text {
            text: turns::cannot::follows(&desk.tell, &standing),
        });
        let take = format!("takeover.{}", slot(desk, &standing));
        let mut answers = vec![desk.press(&msg!("press-take"), take)];
        answers.extend(
            numbers
                .first()
                .map(|seq| desk.press(&msg!("press-take-back"), format!("undo.{seq}"))),
        );
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// `I'll do it` on a turn that was called, as older messages have it.
fn take(desk: &Desk<'_>, turn: &TurnKey) -> Result<Outcome, Refused> {
    let standing = open(desk, turn)?;
    turns::offer::take_slot(desk, &slot(desk, &standing), None)
}

fn slot(desk: &Desk<'_>, standing: &Standing) -> Slot {
    Slot::of(desk.book(), &desk.place().zone, standing, desk.now())
}

/// `Not needed`: closes a turn as neither done nor missed; never past a hazard limit without the keeper.
fn not_needed(desk: &Desk<'_>, turn: &TurnKey, reason: Option<&str>) -> Result<Outcome, Refused> {
    let standing = open(desk, turn)?;
    let reason = reason.map(str::trim).filter(|reason| !reason.is_empty());
    let reason = reason.ok_or(msg!("refuse-no-reason"))?.to_owned();
    let keeper = desk.role == Role::Keeper;
    let draft = desk.draft(Event::NotNeeded {
        turn: standing.turn,
        keeper,
    });
    if !keeper {
        allowed(desk, &standing, &draft)?;
    }
    let draft = super::Draft {
        note: Some(reason.clone()),
        ..draft
    };
    Ok(Outcome::write(vec![draft], move |desk, numbers| {
        let turn = &standing.turn;
        let next =
            wrackline_core::care::standing(desk.book(), desk.place(), turn.duty, turn.target, desk.now());
        let next = next.map_or(String::new(), |next| desk.tell.turn_moment(next.due));
        let title = msg!(
            "not-needed-receipt",
            turn = desk.tell.turn(&standing),
            reason = reason.trim_end_matches('.'),
            next = next
        );
        with_take_back(desk, desk.done(&title), numbers)
    }))
}

/// The next turn must come no later than the hazard limit, which runs on from when the duty was last done.
fn allowed(desk: &Desk<'_>, standing: &Standing, draft: &super::Draft) -> Result<(), Refused> {
    let Some(hazard) = standing.hazard else {
        return Ok(());
    };
    let mut book = desk.book().clone();
    let seq = book.last_seq() + 1;
    book.insert(wrackline_core::journal::Entry::at_once(
        seq,
        draft.at,
        draft.by,
        draft.event.clone(),
    ));
    let turn = &standing.turn;
    let next = wrackline_core::care::standing(&book, desk.place(), turn.duty, turn.target, desk.now());
    let too_late = next.is_some_and(|next| next.due > hazard && next.due_by != DueBy::Held);
    if too_late || standing.mark == Mark::Hazard {
        return Err(msg!(
            "refuse-not-needed",
            turn = desk.tell.turn(standing),
            hazard = desk.tell.near(hazard),
            keepers = desk.keepers()
        ));
    }
    Ok(())
}

fn follow(desk: &Desk<'_>, event: Event, receipt: &'static str) -> Result<Outcome, Refused> {
    let (Event::Noted(of) | Event::Going(of) | Event::Looked(of) | Event::Closed(of)) = event else {
        return Err(msg!("refuse-press"));
    };
    looks::may_answer(desk, of)?;
    if desk
        .book()
        .entry(of)
        .is_none_or(|entry| !matches!(entry.event, Event::Saw(..) | Event::Read(..)))
    {
        return Err(msg!("refuse-press"));
    }
    if let Some((at, who)) = desk.book().follow_up(of, desk.now()).closed {
        return Err(msg!(
            "refuse-alarm-closed",
            who = desk.tell.carer(who),
            at = desk.tell.near(at)
        ));
    }
    let drafts = match event {
        Event::Closed(of) => super::sightings::close(desk, of),
        event => vec![desk.draft(event)],
    };
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let mut answer = desk.done(&msg!(receipt, who = desk.tell.carer(desk.me)));
        if let Some(next) = looks::next(&desk.tell, of).filter(|_| receipt == "looked-receipt") {
            let text = desk.say(&msg!("looked-next", at = desk.tell.near(next)));
            answer.blocks.push(Block::Text { text });
        }
        answer.private = looks::is_of_keepers(&desk.tell, of);
        with_take_back(desk, answer, numbers)
    }))
}

/// `It's wrong`: the sighting or the reading behind an alarm is retracted.
fn wrong(desk: &Desk<'_>, of: Seq) -> Result<Outcome, Refused> {
    looks::may_answer(desk, of)?;
    if desk
        .book()
        .entry(of)
        .is_none_or(|entry| !matches!(entry.event, Event::Saw(..) | Event::Read(..)))
    {
        return Err(msg!("refuse-press"));
    }
    if desk.book().is_void(of) {
        return Err(msg!("refuse-undo-twice"));
    }
    let drafts = vec![desk.draft(Event::Retract(of))];
    Ok(Outcome::write(drafts, move |desk, _| Answer {
        private: looks::is_of_keepers(&desk.tell, of),
        ..desk.done(&msg!("wrong-receipt", who = desk.tell.carer(desk.me)))
    }))
}
