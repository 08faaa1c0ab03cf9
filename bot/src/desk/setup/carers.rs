//! `/carer`: the people who share the work.

use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::place::{Carer, CarerId, Role};

use super::{check, receipt};
use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::house::role_word;
use crate::msg;

fn known<'a>(desk: &Desk<'a>, id: CarerId) -> Result<&'a Carer, Refused> {
    desk.place().carers.get(&id).ok_or(msg!("setup-carer-gone"))
}

/// What a role means for the one who has it.
fn meaning(desk: &Desk<'_>, role: Role) -> String {
    desk.tell.word(match role {
        Role::Keeper => "setup-role-keeper",
        Role::Regular => "setup-role-regular",
        Role::Sitter => "setup-role-sitter",
        Role::Helper => "setup-role-helper",
    })
}

/// A place without a keeper could not be set up any more.
fn not_the_last_keeper(desk: &Desk<'_>, id: CarerId) -> Result<(), Refused> {
    if desk.place().keepers().eq([id]) {
        return Err(msg!("setup-carer-last-keeper", name = desk.tell.carer(id)));
    }
    Ok(())
}

/// Those who named this person as their stand-in.
fn stood_in_for(desk: &Desk<'_>, id: CarerId) -> Vec<String> {
    let all = desk
        .place()
        .carers
        .values()
        .filter(|carer| carer.stand_in == Some(id) && carer.id != id);
    all.map(|carer| desk.tell.carer(carer.id)).collect()
}

/// What becomes of those who named someone as their stand-in that can be it no longer.
fn stand_in_lost(desk: &Desk<'_>, id: CarerId) -> Option<String> {
    let all = stood_in_for(desk, id);
    let lost = msg!(
        "setup-stand-in-lost",
        names = desk.tell.list(&all),
        name = desk.tell.carer(id)
    );
    (!all.is_empty()).then(|| desk.say(&lost))
}

/// A helper speaks nowhere: others log for them.
fn may_have_account(desk: &Desk<'_>, name: &str, role: Role) -> Result<(), Refused> {
    if role == Role::Helper {
        return Err(msg!(
            "setup-account-helper",
            name = name,
            role = desk.tell.word(role_word(role))
        ));
    }
    Ok(())
}

/// That someone may speak from their account now.
pub(super) fn account_told(desk: &Desk<'_>, name: &str) -> String {
    desk.say(&msg!("setup-account-linked", name = name))
}

/// `/carer add NAME [role] [member @MEMBER]`. Whose the account is already is known to the house alone.
pub(super) fn add(desk: &Desk<'_>, name: &str, role: Role, account: Option<i64>) -> Result<Outcome, Refused> {
    let name = check::name(name)?;
    if account.is_some() {
        may_have_account(desk, &name, role)?;
    }
    let book = desk.book();
    check::free(
        &name,
        desk.place().carers.keys().map(|id| book.name(*id)),
        "setup-carer-name",
    )?;
    let id = next_id(desk);
    let names = vec![(id, name.clone())];
    let drafts = vec![desk.draft(Event::Carer(id, CarerChange::Added(role)))];
    let written = Outcome::write(drafts, move |desk, _| {
        let joined = msg!(
            "setup-carer-added",
            name = name.as_str(),
            role = desk.tell.word(role_word(role))
        );
        let linked = account.map(|_| account_told(desk, &name));
        receipt::answer(
            desk,
            desk.say(&joined),
            [meaning(desk, role)].into_iter().chain(linked),
        )
    });
    Ok(Outcome {
        names,
        accounts: account.map(|account| (id, account)).into_iter().collect(),
        ..written
    })
}

/// The number of the next carer.
pub(super) fn next_id(desk: &Desk<'_>) -> CarerId {
    CarerId(check::next_number(desk, |event| match event {
        Event::Carer(id, _) => Some(id.0),
        _ => None,
    }))
}

/// `/carer set NAME [role ROLE] [stand-in NAME|none] [member @MEMBER]`
pub(super) fn set(
    desk: &Desk<'_>,
    id: CarerId,
    role: Option<Role>,
    stand_in: Option<Option<CarerId>>,
    account: Option<i64>,
) -> Result<Outcome, Refused> {
    let now = known(desk, id)?.role;
    if account.is_some() {
        may_have_account(desk, &desk.tell.carer(id), role.unwrap_or(now))?;
    }
    let mut drafts = Vec::new();
    if let Some(role) = role {
        if role != Role::Keeper {
            not_the_last_keeper(desk, id)?;
        }
        drafts.push(desk.draft(Event::Carer(id, CarerChange::Role(role))));
    }
    if let Some(stand_in) = stand_in {
        if let Some(other) = stand_in {
            can_stand_in(desk, id, other)?;
        }
        drafts.push(desk.draft(Event::Carer(id, CarerChange::StandIn(stand_in))));
    }
    if drafts.is_empty() && account.is_none() {
        return Err(msg!("setup-nothing"));
    }
    let written = Outcome::write(drafts, move |desk, _| {
        let name = desk.tell.carer(id);
        let mut lines = Vec::new();
        if let Some(role) = role {
            let word = desk.tell.word(role_word(role));
            lines.push(desk.say(&msg!("setup-carer-role", name = name.as_str(), role = word)));
            lines.push(meaning(desk, role));
            lines.extend(stand_in_lost(desk, id).filter(|_| role == Role::Helper));
        }
        if let Some(stand_in) = stand_in {
            lines.push(desk.say(&match stand_in {
                Some(other) => msg!(
                    "setup-stand-in",
                    name = name.as_str(),
                    other = desk.tell.carer(other)
                ),
                None => msg!("setup-stand-in-none", name = name.as_str()),
            }));
        }
        lines.extend(account.map(|_| account_told(desk, &name)));
        let mut lines = lines.into_iter();
        receipt::answer(desk, lines.next().unwrap_or_default(), lines)
    });
    Ok(Outcome {
        accounts: account.map(|account| (id, account)).into_iter().collect(),
        ..written
    })
}

fn can_stand_in(desk: &Desk<'_>, id: CarerId, other: CarerId) -> Result<(), Refused> {
    let name = desk.tell.carer(other);
    if other == id {
        return Err(msg!("setup-stand-in-self", name = name));
    }
    if known(desk, other)?.role == Role::Helper {
        return Err(msg!("setup-stand-in-helper", name = name));
    }
    Ok(())
}

/// `/carer retire NAME`
pub(super) fn retire(desk: &Desk<'_>, id: CarerId) -> Result<Outcome, Refused> {
    known(desk, id)?;
    not_the_last_keeper(desk, id)?;
    let drafts = vec![desk.draft(Event::Carer(id, CarerChange::Retired))];
    let habit = desk
        .place()
        .walk()
        .into_iter()
        .filter(|one| one.carer == Some(id));
    let habit: Vec<String> = habit.map(|one| one.name.clone()).collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let name = desk.tell.carer(id);
        let title = desk.say(&msg!("setup-carer-retired", name = name.as_str()));
        let theirs = (!habit.is_empty()).then(|| {
            desk.say(&msg!(
                "setup-carer-habit-lost",
                enclosures = desk.tell.list(&habit)
            ))
        });
        receipt::answer(desk, title, theirs.into_iter().chain(stand_in_lost(desk, id)))
    }))
}

/// `/carer list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let carers = &desk.place().carers;
    let head = [
        "setup-head-name",
        "setup-head-role",
        "setup-head-stand-in",
        "setup-head-habit",
    ];
    let rows = carers.values().map(|carer| {
        let stand_in = carer.stand_in.filter(|other| carers.contains_key(other));
        let walk = desk.place().walk().into_iter();
        let habit: Vec<String> = walk
            .filter(|one| one.carer == Some(carer.id))
            .map(|one| one.name.clone())
            .collect();
        vec![
            desk.tell.carer(carer.id),
            desk.tell.word(role_word(carer.role)),
            stand_in.map_or_else(|| "–".to_owned(), |other| desk.tell.carer(other)),
            if habit.is_empty() {
                "–".to_owned()
            } else {
                desk.tell.list(&habit)
            },
        ]
    });
    let mut answer = desk.done(&msg!("setup-carers-title", count = carers.len()));
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table {
        head,
        rows: rows.collect(),
    });
    answer
}
