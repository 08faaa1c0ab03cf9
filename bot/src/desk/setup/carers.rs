//! `/carer`: the people who share the work.

use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::people::Span;
use wrackline_core::place::{Carer, CarerId, Role};

use super::{carer_told, check, person, receipt};
use crate::desk::{Desk, Outcome, Refused};
use crate::house::role_word;
use crate::lines::ask::CarerField;
use crate::msg;

/// Someone who shares the work, or a sitter whose span is over.
pub(super) fn known<'a>(desk: &Desk<'a>, id: CarerId) -> Result<&'a Carer, Refused> {
    let place = desk.place();
    let found = place.carers.get(&id).or_else(|| place.ended.get(&id));
    found.ok_or(msg!("setup-carer-gone"))
}

/// A place without a keeper could not be set up any more.
fn not_the_last_keeper(desk: &Desk<'_>, id: CarerId) -> Result<(), Refused> {
    if desk.place().keepers().eq([id]) {
        return Err(msg!("setup-carer-last-keeper", name = desk.tell.carer(id)));
    }
    Ok(())
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

/// `/carer add NAME [role] [member @MEMBER] [from DATE] [to DATE]`. Whose the account is already is known to the house
/// alone.
pub(super) fn add(
    desk: &Desk<'_>,
    name: &str,
    role: Role,
    account: Option<i64>,
    span: Option<Span>,
) -> Result<Outcome, Refused> {
    let name = check::name(name)?;
    if account.is_some() {
        may_have_account(desk, &name, role)?;
    }
    let (book, place) = (desk.book(), desk.place());
    let taken = place.carers.keys().chain(place.ended.keys());
    check::free(&name, taken.map(|id| book.name(*id)), "setup-carer-name")?;
    let span = span.map(|span| person::checked(desk, role, span)).transpose()?;
    let id = next_id(desk);
    let names = vec![(id, name.clone())];
    let mut changes = vec![CarerChange::Added(role)];
    changes.extend(span.map(|span| CarerChange::Span(Some(span))));
    let drafts = changes
        .into_iter()
        .map(|change| desk.draft(Event::Carer(id, change)));
    let written = Outcome::write(drafts.collect(), move |desk, _| {
        let joined = msg!(
            "setup-carer-added",
            name = name.as_str(),
            role = desk.tell.word(role_word(role))
        );
        let days = span.map(|span| carer_told::span(desk, id, Some(span)));
        let linked = account.map(|_| account_told(desk, &name));
        let meaning = carer_told::meaning(desk, role);
        receipt::answer(
            desk,
            desk.say(&joined),
            [meaning].into_iter().chain(days).chain(linked),
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

/// `/carer set NAME …`: of others a keeper sets everything, of oneself everyone their own.
pub(super) fn set(desk: &Desk<'_>, id: CarerId, fields: &[CarerField]) -> Result<Outcome, Refused> {
    person::may_set(desk, id, fields)?;
    let account = fields.iter().find_map(|field| match field {
        CarerField::Account(account) => Some(*account),
        _ => None,
    });
    let before = known(desk, id)?;
    let role = person::role_after(before, fields);
    if account.is_some() {
        may_have_account(desk, &desk.tell.carer(id), role)?;
    }
    if role != Role::Keeper && before.role == Role::Keeper {
        not_the_last_keeper(desk, id)?;
    }
    let changes = person::changes(desk, before, fields)?;
    if changes.is_empty() && account.is_none() {
        return Err(msg!("setup-nothing"));
    }
    person::brought_back(desk, before, &changes)?;
    let mut after = desk.place().carers.clone();
    let carer = after.entry(id).or_insert_with(|| before.clone());
    changes.iter().for_each(|change| change.apply(carer));
    person::nothing_left_undone(desk, &after)?;
    let drafts = changes
        .iter()
        .map(|change| desk.draft(Event::Carer(id, change.clone())))
        .collect();
    let could = before.can();
    let written = Outcome::write(drafts, move |desk, _| {
        let told = changes
            .iter()
            .flat_map(|change| carer_told::change(desk, id, change, could));
        let linked = account.map(|_| account_told(desk, &desk.tell.carer(id)));
        let mut lines = told.chain(linked);
        let title = lines.next().unwrap_or_default();
        let rest: Vec<String> = lines.chain(person::with_nobody(desk)).collect();
        receipt::answer(desk, title, rest)
    });
    Ok(Outcome {
        accounts: account.map(|account| (id, account)).into_iter().collect(),
        ..written
    })
}

/// `/carer retire NAME`
pub(super) fn retire(desk: &Desk<'_>, id: CarerId) -> Result<Outcome, Refused> {
    known(desk, id)?;
    not_the_last_keeper(desk, id)?;
    let mut after = desk.place().carers.clone();
    after.remove(&id);
    person::nothing_left_undone(desk, &after)?;
    let drafts = vec![desk.draft(Event::Carer(id, CarerChange::Retired))];
    let habit = carer_told::habit(desk, id);
    Ok(Outcome::write(drafts, move |desk, _| {
        let name = desk.tell.carer(id);
        let title = desk.say(&msg!("setup-carer-retired", name = name.as_str()));
        let theirs = (!habit.is_empty()).then(|| {
            desk.say(&msg!(
                "setup-carer-habit-lost",
                enclosures = desk.tell.list(&habit)
            ))
        });
        let lost = carer_told::stand_in_lost(desk, id);
        let left = person::with_nobody(desk);
        receipt::answer(desk, title, theirs.into_iter().chain(lost).chain(left))
    }))
}
