//! A carer's turns as an RFC 5545 calendar, with the properties of RFC 7986.
//!
//! Nothing here asks for the time: stamps are the journal's, so the text is the same to the byte while nothing changes.
//! A computed turn stands at its instant in UTC; one that a calendar rule holds stands at its civil time, with its zone.
//! `METHOD` is not written: this is a feed to be read again, and no message about events.

mod zone;

use calcard::icalendar::{
    ICalendar, ICalendarComponent, ICalendarComponentType, ICalendarParameter, ICalendarProperty,
    ICalendarValue, ICalendarValueType,
};
use jiff::{Timestamp, civil};
use sha2::{Digest, Sha256};
use wrackline_core::calendar::{Feed, FeedTurn};
use wrackline_core::place::Target;
use wrackline_core::rota::HORIZON_DAYS;

use super::tell::{Tell, capital};
use crate::msg;

/// The CSS name nearest to the palette's tide: calendars take no other names (RFC 7986, section 5.9).
const COLOUR: &str = "steelblue";

/// How often a calendar is to ask again: more often than it takes a turn to come near, seldom enough to cost nothing.
const REFRESH: &str = "PT1H";

/// What one address says beside the turns.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// What the place's ids are hashed with, so that nobody can tell a place or a turn by them.
    pub seed: &'a str,
    /// How many minutes before a turn its alarm rings; `None`: there is none.
    pub alarm_min: Option<u32>,
    /// The address itself.
    pub address: &'a str,
}

/// A component with its own components in it.
struct Part {
    head: ICalendarComponent,
    parts: Vec<Part>,
}

impl Part {
    fn new(kind: ICalendarComponentType) -> Self {
        Self {
            head: ICalendarComponent::new(kind),
            parts: Vec::new(),
        }
    }

    /// Sets a property to a text; what is special in a text is escaped, and the line folded, when it is written.
    fn put(&mut self, name: ICalendarProperty, text: impl AsRef<str>) {
        self.head
            .add_property(name, ICalendarValue::Text(clean(text.as_ref())));
    }

    /// Sets a property that takes parameters.
    fn put_as(&mut self, name: ICalendarProperty, parameter: ICalendarParameter, text: String) {
        self.head
            .add_property_with_params(name, [parameter], ICalendarValue::Text(text));
    }

    /// Lays it and all within it flat, as the library numbers components.
    fn lay(self, all: &mut Vec<ICalendarComponent>) -> u32 {
        let at = all.len();
        all.push(self.head);
        let within = self.parts.into_iter().map(|part| part.lay(all)).collect();
        all[at].component_ids = within;
        u32::try_from(at).expect("a feed has a few thousand components at the most")
    }
}

/// A text without what no calendar may hold: of the control characters only the line break means anything.
fn clean(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace(['\r', '\t'], " ");
    text.chars()
        .filter(|letter| *letter == '\n' || !letter.is_control())
        .collect()
}

/// A carer's turns as a calendar.
#[must_use]
pub fn text(tell: &Tell<'_>, feed: &Feed, given: &Given<'_>) -> String {
    let mut calendar = head(tell, feed, given);
    let held = feed.turns.iter().filter(|turn| turn.on.is_some());
    let span = held.clone().map(|turn| turn.due).min();
    if let Some((from, until)) = span.zip(held.map(|turn| turn.due).max()) {
        calendar.parts.push(zone::zone(&tell.place.zone, from, until));
    }
    let events = feed.turns.iter().map(|turn| event(tell, turn, given));
    calendar.parts.extend(events);
    let mut components = Vec::new();
    calendar.lay(&mut components);
    ICalendar { components }.to_string()
}

/// The calendar without its turns.
fn head(tell: &Tell<'_>, feed: &Feed, given: &Given<'_>) -> Part {
    use ICalendarProperty as P;
    let mut head = Part::new(ICalendarComponentType::VCalendar);
    head.put(P::Version, "2.0");
    head.put(P::Prodid, "-//Wrackline//Turns//EN");
    head.put(P::Uid, uid(given.seed, &format!("carer.{}", feed.carer.0)));
    let place = match tell.place.name.as_str() {
        "" => capital(&tell.word("the-place")),
        name => name.to_owned(),
    };
    let carer = tell.carer(feed.carer);
    let name = msg!("calendar-name", place = place.as_str(), carer = carer.as_str());
    head.put(P::Name, tell.say(&name));
    let what = msg!("calendar-what", place = place, carer = carer, days = HORIZON_DAYS);
    head.put(P::Description, tell.say(&what));
    if let Some(changed) = feed.turns.iter().map(|turn| turn.changed_at).max() {
        head.put(P::LastModified, utc(changed));
    }
    head.put_as(
        P::RefreshInterval,
        ICalendarParameter::value(ICalendarValueType::Duration),
        REFRESH.to_owned(),
    );
    head.put_as(
        P::Source,
        ICalendarParameter::value(ICalendarValueType::Uri),
        given.address.to_owned(),
    );
    head.put(P::Color, COLOUR);
    head
}

/// One turn.
fn event(tell: &Tell<'_>, turn: &FeedTurn, given: &Given<'_>) -> Part {
    use ICalendarProperty as P;
    let (duty, target) = (tell.duty(turn.duty), tell.target(turn.target));
    let summary = msg!("calendar-turn", duty = capital(&duty), target = target.as_str());
    let summary = tell.say(&summary);
    let mut event = Part::new(ICalendarComponentType::VEvent);
    event.put(P::Uid, uid(given.seed, &turn.code));
    event.put(P::Sequence, turn.sequence.to_string());
    event.put(P::Dtstamp, utc(turn.changed_at));
    event.put(P::LastModified, utc(turn.changed_at));
    match turn.on {
        None => event.put(P::Dtstart, utc(turn.due)),
        // As the clock shows it: a time that a clock change leaps over is read in more than one way.
        Some(_) => event.put_as(
            P::Dtstart,
            ICalendarParameter::tzid(tell.place.zone.name().to_owned()),
            local(tell.place.zone.civil(turn.due)),
        ),
    }
    // A length rather than an end: it holds across a clock change, and in an hour that comes twice.
    event.put(P::Duration, format!("PT{}M", turn.minutes.max(1)));
    event.put(P::Summary, &summary);
    if let Some(room) = tell.place.enclosure_of(turn.target).map(|one| one.room.as_str())
        && !room.is_empty()
    {
        event.put(P::Location, room);
    }
    // A duty of the place itself is logged by its name alone.
    let what = match turn.target {
        Target::Place => duty.clone(),
        _ => format!("{duty} {target}"),
    };
    let about = msg!("calendar-about", minutes = turn.minutes.max(1), what = what);
    event.put(P::Description, tell.say(&about));
    event.put(P::Categories, capital(&duty));
    let status = if turn.is_cancelled {
        "CANCELLED"
    } else {
        "CONFIRMED"
    };
    event.put(P::Status, status);
    // A turn is done somewhere around its time: it keeps nobody from being asked to dinner.
    event.put(P::Transp, "TRANSPARENT");
    if let Some(minutes) = given.alarm_min.filter(|_| !turn.is_cancelled) {
        let mut alarm = Part::new(ICalendarComponentType::VAlarm);
        alarm.put(P::Action, "DISPLAY");
        alarm.put(P::Trigger, format!("-PT{minutes}M"));
        alarm.put(P::Description, &summary);
        event.parts.push(alarm);
    }
    event
}

/// An id that is the same whoever reads it, and that tells nothing of what it stands for (RFC 7986, section 5.3).
#[must_use]
pub fn uid(seed: &str, code: &str) -> String {
    let digest = Sha256::digest(format!("{seed}:{code}"));
    let id: String = digest[..16].iter().map(|byte| format!("{byte:02x}")).collect();
    format!("{id}@wrackline")
}

/// An instant, in UTC.
fn utc(instant: Timestamp) -> String {
    instant.strftime("%Y%m%dT%H%M%SZ").to_string()
}

/// A civil time, which its zone goes with.
fn local(civil: civil::DateTime) -> String {
    civil.strftime("%Y%m%dT%H%M%S").to_string()
}
