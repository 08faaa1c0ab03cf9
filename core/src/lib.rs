//! The pure computation behind Wrackline.
//!
//! From a place's journal and a moment follow its marks, its turns, its posts and its summaries. Nothing here
//! reads a clock, a file or a socket, and nothing here can wait.
//!
//! In reading order:
//!
//! * [`quantity`] — litres, degrees, percent, salinity: what people write, read and printed again.
//! * [`civil`] — local time: the one place where a wall-clock time becomes an instant.
//! * [`place`] — the things a place has: enclosures, pools, carers, rounds.
//! * [`people`] — those who share the work: what they can, when they are there.
//! * [`journal`] — what happened: entries, and the book that holds them.
//! * [`care`] — the duty catalogue, cadences, marks, and how they came about.
//! * [`water`] — salt, conditioner, ammonia: what is in the water, how it is mixed and thinned.
//! * [`pool`] — vessels, and the gear on them.
//! * [`air`] — moist air, what pools do to it, spells outside the band.
//! * [`supplies`] — what a place mixes with.
//! * [`particulars`] — how enclosures, pools and gear are made, as a place told it.
//! * [`rests`] — what a number rests on.
//! * [`rota`] — whose turn it is: what comes, what it takes, who can, how it is shared out.
//! * [`reckoning`] — how work was shared over a span: loads, lateness, evenness, gaps to the best.
//! * [`matter`] — how something seen is followed up until it is closed, and who may know of it.
//! * [`calendar`] — a carer's coming turns, as a calendar tells them.
//! * [`moment`] — which posts a moment calls for, and when the next such moment is.
//! * [`delivery`] — the life of a post on its way out.
//! * [`week`] — the week summed up.
//! * [`rehearse`] — a place's own journal under another way of keeping.
//! * [`alone`] — how long a place can be left with nobody there.

pub mod air;
pub mod alone;
pub mod calendar;
pub mod care;
pub mod civil;
pub mod delivery;
pub mod journal;
pub mod matter;
pub mod moment;
pub mod particulars;
pub mod people;
pub mod place;
pub mod pool;
pub mod quantity;
pub mod reckoning;
pub mod rehearse;
pub mod rests;
pub mod rota;
pub mod supplies;
pub mod water;
pub mod week;

#[cfg(test)]
mod checks;
