//! What happened to a filter, gone through in order of time.

use jiff::Timestamp;

use super::answer::{Lapse, Note};
use super::tidy::{merged, still_standing, together};
use super::{Fed, History, Rules, Shown, Test, hours};
use crate::quantity::{Basis, Days, Hours, Kind, rebase};

/// Rounding in the bringing of readings to nitrogen must not decide.
const ROUNDING: f64 = 1e-9;

/// A reading that counts, brought to nitrogen.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    pub(super) at: Timestamp,
    pub(super) value: f64,
    step: f64,
    zero: bool,
}

impl Seen {
    pub(super) fn new(at: Timestamp, kind: Kind, shown: Shown) -> Self {
        // The three kinds that come here all hold nitrogen.
        let as_nitrogen = |mg_l: f64| rebase(kind, mg_l, shown.basis, Basis::Nitrogen).unwrap_or(mg_l);
        Self {
            at,
            value: as_nitrogen(shown.value.0),
            step: as_nitrogen(shown.step.0),
            zero: shown.is_zero(),
        }
    }

    pub(super) fn is_zero(&self) -> bool {
        self.zero
    }

    /// Whether it is above another by at least a step of either kit.
    fn above(&self, other: &Self) -> bool {
        self.value - other.value >= self.step.max(other.step) * (1.0 - ROUNDING)
    }
}

/// What is known of a filter since it last had to begin anew.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    pub(super) ammonia: Option<Seen>,
    pub(super) nitrite: Option<Seen>,
    pub(super) nitrate: Option<Seen>,
    /// Nitrate of the water put in, and whether a test stands for it.
    pub(super) source: Option<(Seen, bool)>,
    pub(super) saw_ammonia: bool,
    pub(super) saw_nitrite: bool,
    nitrite_peak: Option<Seen>,
    /// When nitrate was above the source, by the last test of it.
    pub(super) nitrate_above: Option<Timestamp>,
    pub(super) first_fed: Option<Timestamp>,
    pub(super) last_fed: Option<Fed>,
    /// When a test last found ammonia or nitrite.
    found: Option<Timestamp>,
    /// The first test of both at 0, of those that stand unbroken at the end.
    pub(super) first_zero: Option<Timestamp>,
    /// The last of them.
    last_zero: Option<Timestamp>,
    tested: bool,
    /// The two tests of the proof, or twice the time of a keeper's word.
    pub(super) proof: Option<(Timestamp, Timestamp)>,
    /// When it was complete.
    pub(super) proven: Option<Timestamp>,
    pub(super) by_word: bool,
    /// Whether it ever had a proof.
    pub(super) was_proven: bool,
    pub(super) lapse: Option<Lapse>,
    pub(super) notes: Vec<Note>,
    /// Stops that have begun, put together, each with its end or now.
    stops: Vec<(Timestamp, Timestamp)>,
    /// Since when it stands, if it does.
    pub(super) standing: Option<Timestamp>,
}

/// What happens at one moment, in this order: what is fed at the moment of a test was not there for it.
#[derive(Clone, Copy, Debug)]
enum What {
    Stood { from: Timestamp, long: bool },
    Word,
    Test(Test),
    Fed(Fed),
}

impl What {
    const fn order(self) -> u8 {
        match self {
            Self::Stood { .. } => 0,
            Self::Word => 1,
            Self::Test(_) => 2,
            Self::Fed(_) => 3,
        }
    }
}

impl Run {
    /// Goes through a history that was checked.
    pub(super) fn of(history: &History<'_>, now: Timestamp) -> Self {
        let mut run = Self {
            source: history
                .source
                .map(|shown| (Seen::new(history.started, Kind::Nitrate, shown), false)),
            ..Self::default()
        };
        run.stops = merged(history.stops, history.started, now);
        run.standing = still_standing(&run.stops, history.stops, now);
        for (at, what) in run.order(history, now) {
            run.starve(&history.rules, at);
            match what {
                What::Stood { from, long: true } => run.begin_anew(Lapse::Stood {
                    from,
                    hours: Hours(hours(from, at)),
                }),
                What::Stood { long: false, .. } => {}
                What::Word => run.take_word(at),
                What::Test(test) => run.test(&test, &history.rules),
                What::Fed(fed) => {
                    run.first_fed.get_or_insert(at);
                    run.last_fed = Some(fed);
                }
            }
        }
        run.starve(&history.rules, now);
        run
    }

    /// All that counts, in order. What does not is noted.
    fn order(&mut self, history: &History<'_>, now: Timestamp) -> Vec<(Timestamp, What)> {
        let span = history.started..=now;
        let mut all = Vec::new();
        for (from, to) in &self.stops {
            let long = hours(*from, *to) > history.rules.stood.0;
            all.push((*to, What::Stood { from: *from, long }));
        }
        all.extend(
            history
                .word
                .filter(|at| span.contains(at))
                .map(|at| (at, What::Word)),
        );
        if !history.tests.is_sorted_by_key(|test| test.at) {
            self.notes.push(Note::Sorted);
        }
        for test in together(history.tests, &mut self.notes) {
            // A filter that stands does not clean what is tested.
            let stood = self
                .stops
                .iter()
                .any(|(from, to)| *from < test.at && test.at < *to);
            if stood || !span.contains(&test.at) || self.standing.is_some_and(|from| from < test.at) {
                self.notes.push(Note::SetAside { at: test.at });
            } else {
                all.push((test.at, What::Test(test)));
            }
        }
        let fed = history.fed.iter().filter(|fed| span.contains(&fed.at));
        all.extend(fed.map(|fed| (fed.at, What::Fed(*fed))));
        all.sort_by_key(|(at, what)| (*at, what.order()));
        all
    }

    /// Forgets what was found, and that it was proven. What is put in stays what it is, unless a test stood for it.
    fn begin_anew(&mut self, lapse: Lapse) {
        let had = self.proof.is_some() || self.tested || self.first_fed.is_some() || self.lapse.is_some();
        *self = Self {
            source: self.source.filter(|(_, tested)| !tested),
            lapse: had.then_some(lapse),
            was_proven: self.was_proven,
            notes: std::mem::take(&mut self.notes),
            stops: std::mem::take(&mut self.stops),
            standing: self.standing,
            ..Self::default()
        };
    }

    /// Begins anew if nothing went in for too long. A keeper's word counts as if something had, and what a test found
    /// is food as long as no later test shows it gone.
    fn starve(&mut self, rules: &Rules, at: Timestamp) {
        let lasts = |seen: Option<Seen>| seen.is_some_and(|seen| !seen.zero);
        if lasts(self.ammonia) || lasts(self.nitrite) {
            return;
        }
        let word = self.proof.filter(|_| self.by_word).map(|(first, _)| first);
        let Some(since) = self.last_fed.map(|fed| fed.at).max(word).max(self.found) else {
            return;
        };
        let days = hours(since, at) / 24.0;
        if days > rules.quiet.0 {
            self.begin_anew(Lapse::Quiet {
                since,
                days: Days(days),
            });
        }
    }

    fn take_word(&mut self, at: Timestamp) {
        self.proof = Some((at, at));
        self.was_proven = true;
        self.proven = Some(at);
        self.by_word = true;
        self.lapse = None;
    }

    fn test(&mut self, test: &Test, rules: &Rules) {
        let at = test.at;
        let seen = |kind, shown: Option<Shown>| shown.map(|shown| Seen::new(at, kind, shown));
        let ammonia = seen(Kind::Ammonia, test.ammonia);
        let nitrite = seen(Kind::Nitrite, test.nitrite);
        if ammonia.is_some() || nitrite.is_some() || test.nitrate.is_some() {
            self.tested = true;
        }
        if let Some(nitrate) = seen(Kind::Nitrate, test.nitrate) {
            self.see_nitrate(nitrate);
        }
        let found = |seen: Option<Seen>| seen.is_some_and(|seen| !seen.zero);
        if found(ammonia) && self.first_fed.is_none() && !self.by_word {
            self.notes.push(Note::UnknownAmmonia { at });
        }
        self.saw_ammonia |= found(ammonia);
        self.saw_nitrite |= found(nitrite);
        if let Some(nitrite) = nitrite
            && self.nitrite_peak.is_none_or(|peak| peak.value < nitrite.value)
        {
            self.nitrite_peak = Some(nitrite);
        }
        self.ammonia = ammonia.or(self.ammonia);
        self.nitrite = nitrite.or(self.nitrite);
        if found(ammonia) || found(nitrite) {
            self.found = Some(at);
            (self.first_zero, self.last_zero) = (None, None);
            if self.proof.take().is_some() {
                self.by_word = false;
                self.proven = None;
                self.lapse = Some(Lapse::Back { at });
            }
        } else if ammonia.is_some() && nitrite.is_some() && self.first_fed.is_some() {
            self.first_zero.get_or_insert(at);
            self.last_zero = Some(at);
        }
        self.prove(rules, at);
    }

    /// Takes the tests so far for a proof, if they are one.
    fn prove(&mut self, rules: &Rules, at: Timestamp) {
        let (Some(first), Some(last), None) = (self.first_zero, self.last_zero, self.proof) else {
            return;
        };
        if self.nitrate_above.is_some() && hours(first, last) >= rules.apart.0 {
            self.proof = Some((first, last));
            self.was_proven = true;
            self.proven = Some(at);
            self.lapse = None;
        }
    }

    fn see_nitrate(&mut self, nitrate: Seen) {
        self.nitrate = Some(nitrate);
        if self.first_fed.is_none() {
            // Before ammonia went in, nitrate is that of the water.
            if self.source.is_none_or(|(_, tested)| tested) {
                self.source = Some((nitrate, true));
            }
            return;
        }
        let above = self.source.is_some_and(|(source, _)| nitrate.above(&source));
        self.nitrate_above = above.then_some(nitrate.at);
    }

    /// Whether something was read after ammonia first went in.
    pub(super) fn after_feed(&self, seen: Option<Seen>) -> bool {
        let fed = self.first_fed;
        seen.is_some_and(|seen| fed.is_some_and(|fed| fed < seen.at))
    }

    /// Whether nitrite is less than it was at its most.
    pub(super) fn nitrite_falls(&self) -> bool {
        match (self.nitrite_peak, self.nitrite) {
            (Some(peak), Some(last)) => peak.at < last.at && peak.above(&last),
            _ => false,
        }
    }

    /// How many hours the filter stood after a time.
    pub(super) fn stood_since(&self, since: Timestamp) -> f64 {
        let after = |(from, to): &(Timestamp, Timestamp)| hours((*from).max(since), *to).max(0.0);
        self.stops.iter().map(after).sum()
    }
}
