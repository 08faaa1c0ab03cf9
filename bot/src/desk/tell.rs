//! How things are told: names, times, amounts, in the place's words and units.

use jiff::{Timestamp, civil};
use wrackline_core::care::{Duty, Mark, Standing};
use wrackline_core::civil::{Zone, plus_days, seconds_between};
use wrackline_core::journal::Book;
use wrackline_core::place::{CarerId, EnclosureId, Place, PoolId, Round, RoundId, Target, Water};

use crate::lines::Context;
use crate::msg;
use crate::words::{Message, Words};

/// A place at a moment, and the words to tell of it.
#[derive(Clone, Copy)]
pub struct Tell<'a> {
    /// The words.
    pub words: &'a Words,
    /// The journal.
    pub book: &'a Book,
    /// The place at the moment.
    pub place: &'a Place,
    /// The moment.
    pub now: Timestamp,
    /// The zone of the person who is told, where it is another than the place's; `None` for what everyone reads.
    pub zone: Option<&'a Zone>,
}

impl<'a> Tell<'a> {
    /// Tells everyone, by the place's own clock.
    #[must_use]
    pub fn to_all(words: &'a Words, book: &'a Book, place: &'a Place, now: Timestamp) -> Self {
        Self {
            words,
            book,
            place,
            now,
            zone: None,
        }
    }
}

impl Tell<'_> {
    /// Says a message.
    #[must_use]
    pub fn say(&self, message: &Message) -> String {
        self.words.say(message)
    }

    /// Says a message that takes no arguments.
    #[must_use]
    pub fn word(&self, id: impl Into<std::borrow::Cow<'static, str>>) -> String {
        self.words.say(&Message::new(id))
    }

    /// A carer's name.
    #[must_use]
    pub fn carer(&self, carer: CarerId) -> String {
        self.book.name(carer).to_owned()
    }

    /// A carer's name, or the word for anyone.
    #[must_use]
    pub fn carer_or_anyone(&self, carer: Option<CarerId>) -> String {
        carer.map_or_else(|| self.word("anyone"), |carer| self.carer(carer))
    }

    /// An enclosure's name.
    #[must_use]
    pub fn enclosure(&self, id: EnclosureId) -> String {
        self.place
            .enclosures
            .get(&id)
            .map_or_else(|| self.word("gone-enclosure"), |one| one.name.clone())
    }

    /// The word for a water.
    #[must_use]
    pub fn water(&self, water: Water) -> String {
        self.word(match water {
            Water::Fresh => "water-fresh",
            Water::Salt => "water-salt",
        })
    }

    /// A pool's name: its enclosure's and its water, and its number where that is not enough.
    #[must_use]
    pub fn pool(&self, id: PoolId) -> String {
        let Some(pool) = self.place.pools.get(&id) else {
            return self.word("gone-pool");
        };
        let same = |other: &&wrackline_core::place::Pool| other.water == pool.water;
        let siblings = self.place.pools_of(pool.enclosure);
        let name = format!("{} {}", self.enclosure(pool.enclosure), self.water(pool.water));
        match siblings
            .iter()
            .copied()
            .filter(same)
            .position(|other| other.id == id)
        {
            Some(index) if index > 0 => format!("{name} {}", index + 1),
            _ => name,
        }
    }

    /// What a duty or a reading is about.
    #[must_use]
    pub fn target(&self, target: Target) -> String {
        match target {
            Target::Place => self.word("the-place"),
            Target::Enclosure(id) => self.enclosure(id),
            Target::Pool(id) => self.pool(id),
        }
    }

    /// A target with the building room before it, where there is one: for walking.
    #[must_use]
    pub fn target_on_the_way(&self, target: Target) -> String {
        let name = self.target(target);
        match self.place.enclosure_of(target).map(|one| one.room.as_str()) {
            Some(room) if !room.is_empty() => format!("{room}, {name}"),
            _ => name,
        }
    }

    /// A duty's name.
    #[must_use]
    pub fn duty(&self, duty: Duty) -> String {
        match duty {
            Duty::Own(id) => self
                .place
                .duties
                .get(&id)
                .map_or_else(|| self.word("gone-duty"), |(own, _)| own.name.clone()),
            duty => self.word(format!("duty-{}", duty.code())),
        }
    }

    /// A mark with its tide height and its word.
    #[must_use]
    pub fn mark(&self, mark: Mark) -> String {
        format!("{} {}", mark.glyph(), self.word(format!("mark-{}", mark.word())))
    }

    /// A weekday's name.
    #[must_use]
    pub fn weekday(&self, weekday: civil::Weekday) -> String {
        self.word(format!("weekday-{}", weekday.to_monday_one_offset()))
    }

    /// A date, as `Monday 9 March`, with the year where it is another than now's.
    #[must_use]
    pub fn date(&self, date: civil::Date) -> String {
        let month = self.word(format!("month-{}", date.month()));
        let text = format!("{} {} {month}", self.weekday(date.weekday()), date.day());
        let this_year = self.place.zone.date(self.now).year();
        if date.year() == this_year {
            text
        } else {
            format!("{text} {}", date.year())
        }
    }

    /// A time of day.
    #[must_use]
    pub fn time(&self, instant: Timestamp) -> String {
        clock(self.place.zone.civil(instant).time())
    }

    /// A date and a time, as `Monday 9 March 08:00`; to a person of another zone in theirs, with the place's beside it.
    #[must_use]
    pub fn moment(&self, instant: Timestamp) -> String {
        self.in_both(instant, |zone| self.moment_in(zone, instant))
    }

    fn moment_in(&self, zone: &Zone, instant: Timestamp) -> String {
        let civil = zone.civil(instant);
        format!("{} {}", self.date(civil.date()), clock(civil.time()))
    }

    /// A moment near now: the time alone today, `yesterday 21:00`, else date and time; to a person of another zone in
    /// theirs, with the place's beside it.
    #[must_use]
    pub fn near(&self, instant: Timestamp) -> String {
        self.in_both(instant, |zone| self.near_in(zone, instant))
    }

    fn near_in(&self, zone: &Zone, instant: Timestamp) -> String {
        let (civil, today) = (zone.civil(instant), zone.date(self.now));
        let (day, time) = (civil.date(), clock(civil.time()));
        if day == today {
            time
        } else if day == plus_days(today, -1) {
            self.say(&msg!("yesterday-at", time = time))
        } else if day == plus_days(today, 1) {
            self.say(&msg!("tomorrow-at", time = time))
        } else {
            self.moment_in(zone, instant)
        }
    }

    /// The zone of the person who is told, if their clock shows another time at an instant than the place's.
    fn other_clock(&self, instant: Timestamp) -> Option<&Zone> {
        self.zone
            .filter(|zone| zone.civil(instant) != self.place.zone.civil(instant))
    }

    /// An instant as a person's clock and the place's show it; of the place's the time alone where the day is the same.
    fn in_both(&self, instant: Timestamp, told: impl Fn(&Zone) -> String) -> String {
        let here = &self.place.zone;
        let Some(own) = self.other_clock(instant) else {
            return told(here);
        };
        let same_day = own.date(instant) == here.date(instant);
        let there = if same_day { self.time(instant) } else { told(here) };
        self.say(&msg!("in-both-zones", yours = told(own), there = there))
    }

    /// A moment as a post tells it that was made for a day: the time alone on that day, else date and time. A post
    /// stands in the chat for days, so it never says `yesterday`.
    #[must_use]
    pub fn stamp(&self, day: civil::Date, instant: Timestamp) -> String {
        if self.place.zone.date(instant) == day {
            self.time(instant)
        } else {
            self.moment(instant)
        }
    }

    /// When a turn comes next: the date with the round's name where it is held then, else with the time.
    #[must_use]
    pub fn turn_moment(&self, instant: Timestamp) -> String {
        let civil = self.place.zone.civil(instant);
        let round = self.place.rounds.iter().find(|round| {
            !round.name.is_empty() && self.place.zone.instant(civil.date().to_datetime(round.time)) == instant
        });
        let Some(round) = round else {
            return self.moment(instant);
        };
        let there = format!("{}, {}", self.date(civil.date()), round.name);
        match self.other_clock(instant) {
            Some(own) if own.date(instant) == civil.date() => {
                let yours = clock(own.civil(instant).time());
                self.say(&msg!("round-in-your-time", there = there, yours = yours))
            }
            Some(own) => {
                let yours = self.moment_in(own, instant);
                self.say(&msg!("round-in-your-time", there = there, yours = yours))
            }
            None => there,
        }
    }

    /// How long ago something was.
    #[must_use]
    pub fn ago(&self, instant: Timestamp) -> String {
        let minutes = seconds_between(instant, self.now).max(0) / 60;
        self.say(&match minutes {
            0 => msg!("just-now"),
            1..=119 => msg!("minutes-ago", count = minutes),
            120..=2879 => msg!("hours-ago", count = minutes / 60),
            _ => msg!("days-ago", count = minutes / 1440),
        })
    }

    /// How long a span is.
    #[must_use]
    pub fn span(&self, minutes: i64) -> String {
        self.say(&match minutes {
            ..=119 => msg!("span-minutes", count = minutes.max(0)),
            120..=2879 => msg!("span-hours", count = minutes / 60),
            _ => msg!("span-days", count = minutes / 1440),
        })
    }

    /// A round's name, or its time where it has none.
    #[must_use]
    pub fn round(&self, id: RoundId) -> String {
        let round = self.place.rounds.iter().find(|round| round.id == id);
        round.map_or_else(|| self.word("a-round"), Self::round_name)
    }

    fn round_name(round: &Round) -> String {
        if round.name.is_empty() {
            clock(round.time)
        } else {
            round.name.clone()
        }
    }

    /// A turn in one phrase: where, what.
    #[must_use]
    pub fn turn(&self, standing: &Standing) -> String {
        format!(
            "{}: {}",
            self.target(standing.turn.target),
            self.duty(standing.duty())
        )
    }

    /// Litres in the place's units.
    #[must_use]
    pub fn litres(&self, litres: f64) -> String {
        wrackline_core::quantity::litres(litres, self.place.units)
    }

    /// What a line would be read against, by whomever it is said.
    #[must_use]
    pub fn context(&self) -> Context<'_> {
        Context {
            book: self.book,
            place: self.place,
            me: CarerId(0),
            now: self.now,
        }
    }

    /// A list of names, as `a, b and c`.
    #[must_use]
    pub fn list(&self, names: &[String]) -> String {
        match names {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => self.say(&msg!("list-and", first = first.join(", "), last = last.as_str())),
        }
    }

    /// Names of which one is meant, as "North, Dune or Reef".
    #[must_use]
    pub fn either(&self, names: &[String]) -> String {
        match names {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => self.say(&msg!("list-or", first = first.join(", "), last = last.as_str())),
        }
    }
}

/// A time of day as `08:00`.
#[must_use]
pub fn clock(time: civil::Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

/// A text with its first letter made a capital.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
