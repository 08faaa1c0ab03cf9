//! `/place link`: a place and its keeper come to be at home on a server of the chat platform.

use wrackline_core::journal::{CarerChange, Event, PlaceChange};
use wrackline_core::place::{CarerId, Role};

use super::{carers, receipt};
use crate::chat::blocks::Answer;
use crate::desk::{Desk, Draft, Outcome, Refused};
use crate::lines::fitting_name;
use crate::msg;

/// How long a code may lie before it is used, in minutes.
pub const CODE_VALID_MIN: i64 = 15;

/// The zone of a place that was made on the platform and for which none was said.
pub const ZONE_UNSAID: &str = "Etc/UTC";

/// `/place link` said elsewhere than on the platform: a keeper gets a code to say there.
///
/// # Errors
/// Only a keeper gets one; more than that, a channel, a zone or a code, is said on the platform.
pub(super) fn ask_for_code<A, B, C>(
    desk: &Desk<'_>,
    (channel, zone, code): (Option<A>, Option<B>, Option<C>),
) -> Result<Outcome, Refused> {
    if desk.role != Role::Keeper {
        return Err(msg!("refuse-keeper-only", keepers = desk.keepers()));
    }
    if channel.is_some() || zone.is_some() || code.is_some() {
        return Err(msg!("link-not-here"));
    }
    Ok(Outcome::code(|desk, code| {
        let title = desk.say(&msg!("link-code", code = code, minutes = CODE_VALID_MIN));
        let what_to_do = desk.say(&msg!("link-code-use", code = code));
        Answer {
            private: true,
            ..receipt::answer(desk, title, [what_to_do])
        }
    }))
}

/// What is to be linked, with all that the store knows of it.
#[derive(Clone, Debug)]
pub struct Linked {
    /// The server of the platform, and the channel in it.
    pub server: (i64, i64),
    /// The account of the member who says so.
    pub account: i64,
    /// What the member is called there.
    pub name: String,
    /// Whose the account is, or is to become; `None`: nobody's yet, so they become a keeper.
    pub carer: Option<CarerId>,
    /// The zone that was said, checked.
    pub zone: Option<String>,
}

/// Links the place that the desk has before it; with whose the account is from now on.
///
/// # Errors
/// Only a keeper sets the zone.
pub fn link(desk: &Desk<'_>, linked: &Linked) -> Result<(CarerId, Outcome), Refused> {
    let place = desk.place();
    let zone = linked.zone.clone().filter(|zone| *zone != place.zone.name());
    let known = linked.carer.and_then(|carer| place.carers.get(&carer));
    if zone.is_some() && known.is_some_and(|carer| carer.role != Role::Keeper) {
        return Err(msg!("refuse-keeper-only", keepers = desk.keepers()));
    }
    let mut names = Vec::new();
    let mut events: Vec<Event> = Vec::new();
    let me = match known {
        Some(carer) => carer.id,
        None => {
            let id = carers::next_id(desk);
            let taken = place.carers.keys().chain(place.ended.keys());
            let taken = taken.map(|id| desk.book().name(*id));
            names.push((id, fitting_name(&linked.name, taken)));
            events.push(Event::Carer(id, CarerChange::Added(Role::Keeper)));
            id
        }
    };
    events.extend(zone.map(|zone| Event::Place(PlaceChange::Zone(zone))));
    let draft = |event| Draft {
        by: me,
        ..desk.draft(event)
    };
    let drafts = events.into_iter().map(draft).collect();
    let outcome = Outcome {
        names,
        accounts: vec![(me, linked.account)],
        server: Some(linked.server),
        ..Outcome::write(drafts, move |desk, _| told(desk, me))
    };
    Ok((me, outcome))
}

/// What was linked, who the keepers are, and what comes next; the place has it already.
fn told(desk: &Desk<'_>, me: CarerId) -> Answer {
    let place = desk.place();
    let name = if place.name.is_empty() {
        desk.tell.word("setup-place-unnamed")
    } else {
        place.name.clone()
    };
    let title = desk.say(&msg!("link-done", place = name));
    let zone = if place.zone.name() == ZONE_UNSAID {
        msg!("link-zone-unsaid")
    } else {
        msg!(
            "setup-place-clock",
            zone = place.zone.name(),
            time = desk.tell.time(desk.now())
        )
    };
    let next = if place.enclosures.is_empty() {
        "link-next"
    } else {
        "link-next-carers"
    };
    let speaks = place
        .carers
        .get(&me)
        .is_some_and(|carer| carer.role != Role::Helper);
    let lines = [
        Some(desk.say(&msg!("link-keepers", keepers = desk.keepers()))),
        speaks.then(|| carers::account_told(desk, &desk.tell.carer(me))),
        Some(desk.say(&zone)),
        Some(desk.tell.word(next)),
    ];
    receipt::answer(desk, title, lines.into_iter().flatten())
}
