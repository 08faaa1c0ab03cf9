//! Matters: what was seen and is or was open, and what carers did about it.
//!
//! What is seen again while it is open is the same matter, as far as it is of the spot. That is read from the journal each
//! time: where the first sighting is taken back, the second stands by itself.

use jiff::Timestamp;

use super::{Book, Event, Seq, Sighting};
use crate::place::{CarerId, Target};

/// What carers did about an alarm, as far as it is known at a moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FollowUp {
    /// Who has seen it last.
    pub noted: Option<CarerId>,
    /// Who went to look after it last.
    pub going: Option<CarerId>,
    /// When it was looked at last and found open still, and by whom.
    pub looked: Option<(Timestamp, CarerId)>,
    /// When it was closed first, and by whom.
    pub closed: Option<(Timestamp, CarerId)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Follow {
    Noted,
    Going,
    Looked,
    Closed,
}

/// Something seen that is or was open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Matter {
    /// The entry that opened it: of its sightings the one that was logged first.
    pub seq: Seq,
    /// When it was seen.
    pub at: Timestamp,
    /// Who saw it.
    pub by: CarerId,
    /// Where.
    pub target: Target,
    /// What.
    pub sighting: Sighting,
    /// When it was seen last and by whom, where it was seen again later than [`Matter::at`].
    pub again: Option<(Timestamp, CarerId)>,
    /// When it was closed.
    pub closed: Option<Timestamp>,
    /// What carers did about it.
    pub follow_up: FollowUp,
}

/// A sighting: when, its number, who.
type Seen = (Timestamp, Seq, CarerId);

impl Book {
    /// Matters that were seen up to and with a moment, as they stood then, in order of number.
    pub fn matters(&self, now: Timestamp) -> impl Iterator<Item = Matter> {
        let mut all: Vec<Matter> = Vec::new();
        for of in self.sightings.keys() {
            let groups = self.grouped(*of, now);
            all.extend(groups.iter().map(|seen| self.told(*of, seen, now)));
        }
        all.sort_by_key(|matter| matter.seq);
        all.into_iter()
    }

    /// The matter that a sighting opened or was added to; `None` where it was taken back or is yet to come.
    #[must_use]
    pub fn matter(&self, sighting: Seq, now: Timestamp) -> Option<Matter> {
        let (of, seen) = self.seen_with(sighting, now)?;
        Some(self.told(of, &seen, now))
    }

    /// The sightings of the matter that one of them opened or was added to, in order of time; none where it was taken back.
    #[must_use]
    pub fn sightings_of(&self, sighting: Seq, now: Timestamp) -> Vec<Seq> {
        let seen = self.seen_with(sighting, now);
        seen.map_or_else(Vec::new, |(_, seen)| {
            seen.iter().map(|(_, seq, _)| *seq).collect()
        })
    }

    /// All that was seen of the same at the same spot as by one sighting, which itself may be taken back.
    pub fn seen_alike(&self, sighting: Seq) -> impl Iterator<Item = Seq> {
        let of = self.sighting(sighting).and_then(|of| self.sightings.get(&of));
        of.into_iter().flatten().map(|((_, seq), _)| *seq)
    }

    /// What carers did about a sighting's matter or about an alarm up to and with a moment.
    #[must_use]
    pub fn follow_up(&self, of: Seq, now: Timestamp) -> FollowUp {
        match self.seen_with(of, now) {
            Some((_, seen)) => self.followed(&seen, now),
            None => self.followed(&[(now, of, CarerId(0))], now),
        }
    }

    fn sighting(&self, seq: Seq) -> Option<(Target, Sighting)> {
        match self.entry(seq)?.event {
            Event::Saw(target, sighting) => Some((target, sighting)),
            _ => None,
        }
    }

    fn seen_with(&self, sighting: Seq, now: Timestamp) -> Option<((Target, Sighting), Vec<Seen>)> {
        let of = self.sighting(sighting)?;
        let with = |seen: &Vec<Seen>| seen.iter().any(|(_, seq, _)| *seq == sighting);
        let seen = self.grouped(of, now).into_iter().find(with)?;
        Some((of, seen))
    }

    /// The sightings of each matter of one kind and spot, in order of time.
    fn grouped(&self, of: (Target, Sighting), now: Timestamp) -> Vec<Vec<Seen>> {
        let all = self.sightings.get(&of).map(|seen| seen.range(..=(now, Seq::MAX)));
        let mut groups: Vec<Vec<Seen>> = Vec::new();
        for ((at, seq), by) in all.into_iter().flatten() {
            let open = groups.last_mut().filter(|_| of.1.is_of_spot());
            match open.filter(|seen| !self.is_closed_before(seen, (*at, *seq))) {
                Some(seen) => seen.push((*at, *seq, *by)),
                None => groups.push(vec![(*at, *seq, *by)]),
            }
        }
        groups
    }

    fn is_closed_before(&self, seen: &[Seen], key: (Timestamp, Seq)) -> bool {
        let of_each = seen.iter().filter_map(|(_, seq, _)| self.follow_ups.get(seq));
        of_each
            .flat_map(|known| known.range(..key))
            .any(|(_, (follow, _))| *follow == Follow::Closed)
    }

    /// What was done about any of these.
    fn followed(&self, seen: &[Seen], now: Timestamp) -> FollowUp {
        let of_each = seen.iter().filter_map(|(_, seq, _)| self.follow_ups.get(seq));
        let mut known: Vec<_> = of_each
            .flat_map(|known| known.range(..=(now, Seq::MAX)))
            .collect();
        known.sort_by_key(|(key, _)| **key);
        let mut all = FollowUp::default();
        for ((at, _), (follow, who)) in known {
            match follow {
                Follow::Noted => all.noted = Some(*who),
                Follow::Going => all.going = Some(*who),
                Follow::Looked => all.looked = Some((*at, *who)),
                Follow::Closed => all.closed = all.closed.or(Some((*at, *who))),
            }
        }
        all
    }

    /// A matter of these sightings, of which there is at least one.
    fn told(&self, (target, sighting): (Target, Sighting), seen: &[Seen], now: Timestamp) -> Matter {
        let opened = seen.iter().min_by_key(|(_, seq, _)| *seq);
        let (at, seq, by) = opened.copied().unwrap_or((now, 0, CarerId(0)));
        let last = seen.last().filter(|(last, _, _)| *last > at);
        let follow_up = self.followed(seen, now);
        Matter {
            seq,
            at,
            by,
            target,
            sighting,
            again: last.map(|(at, _, by)| (*at, *by)),
            closed: follow_up.closed.map(|(at, _)| at),
            follow_up,
        }
    }
}
