//! What a seed draws for its run: where and when it plays, and which faults come how often. Some are switched off
//! entirely, so that the others can show what they hide.

use jiff::civil;
use wrackline::replay::carers::Dice;
use wrackline_core::civil::Zone;

/// Zones with a day shortly before one of their clock changes. Apia leapt over the whole of 30 December 2011.
const STARTS: [(&str, civil::Date); 11] = [
    ("America/New_York", civil::date(2026, 3, 5)),
    ("America/New_York", civil::date(2026, 10, 29)),
    ("Europe/London", civil::date(2026, 3, 26)),
    ("Europe/London", civil::date(2026, 10, 22)),
    ("Australia/Lord_Howe", civil::date(2026, 4, 2)),
    ("Australia/Lord_Howe", civil::date(2026, 10, 1)),
    ("America/Vancouver", civil::date(2026, 3, 5)),
    ("America/Vancouver", civil::date(2026, 10, 29)),
    ("Pacific/Apia", civil::date(2011, 12, 27)),
    ("America/Santiago", civil::date(2026, 9, 3)),
    ("Europe/Berlin", civil::date(2026, 6, 20)),
];

/// How often each fault comes, as a share of the occasions for it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rates {
    /// A process dies at some store call.
    pub(super) crash: f64,
    /// Whoever asked goes away in the middle, but the process lives on.
    pub(super) leave: f64,
    /// A store call fails before it did anything.
    pub(super) fail: f64,
    /// A store call did its work, but the reply is lost.
    pub(super) lost: f64,
    /// The store fails for a while.
    pub(super) outage: f64,
    /// A call to the chat goes wrong.
    pub(super) slip: f64,
    /// The chat refuses for a while.
    pub(super) refusal: f64,
    /// The clock steps back two hours.
    pub(super) back: f64,
    /// The clock leaps three days ahead.
    pub(super) leap: f64,
    /// All processes are down for some hours.
    pub(super) stop: f64,
    /// Two processes work at the same instant.
    pub(super) race: f64,
    /// The same line is delivered again.
    pub(super) again: f64,
}

/// All that a seed draws before its run.
#[derive(Clone, Debug)]
pub(super) struct Swarm {
    pub(super) zone: Zone,
    pub(super) first_day: civil::Date,
    pub(super) processes: usize,
    /// By how much the second process's clock is ahead, in milliseconds.
    pub(super) skew_ms: i64,
    pub(super) has_quiet_hours: bool,
    pub(super) has_night_round: bool,
    pub(super) rates: Rates,
    /// What [`Self::rates`] were before the faults ended.
    pub(super) rates_drawn: Rates,
}

impl Swarm {
    pub(super) fn draw(seed: u64, dice: &mut Dice) -> Self {
        // Neighbouring seeds play in different zones, so that a few seeds see them all.
        let (zone, first_day) = STARTS[usize::try_from(seed).unwrap_or(0) % STARTS.len()];
        let mut rate = |share: f64| if dice.happens(0.6) { share } else { 0.0 };
        let rates = Rates {
            crash: rate(0.06),
            leave: rate(0.04),
            fail: rate(0.06),
            lost: rate(0.05),
            outage: rate(0.01),
            slip: rate(0.12),
            refusal: rate(0.015),
            back: rate(0.008),
            leap: rate(0.004),
            stop: rate(0.008),
            race: rate(0.3),
            again: rate(0.1),
        };
        Self {
            zone: Zone::get(zone).expect("a zone"),
            first_day,
            processes: if dice.happens(0.6) { 2 } else { 1 },
            skew_ms: if dice.happens(0.5) {
                dice.between(1, 90_000)
            } else {
                0
            },
            has_quiet_hours: dice.happens(0.7),
            has_night_round: dice.happens(0.3),
            rates,
            rates_drawn: rates,
        }
    }
}
