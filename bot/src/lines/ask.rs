//! What a line asks for, once it is read and its names are resolved.

mod alone;
mod batch;
mod card;
mod carer;
mod fields;
mod fitting;
mod link;
mod nod;
mod rehearse;
mod sheet;
mod turns;
mod water;

use jiff::{Timestamp, civil};
use wrackline_core::care::{Duty, Schedule};
use wrackline_core::journal::{Input, Part, Sighting};
use wrackline_core::particulars::{GearFact, RoomAir};
use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, EnclosureId, Gear, OwnDutyId, PoolId, Role, RoundId, Target, Water};
use wrackline_core::quantity::{GravityConvention, Measured, Units};
use wrackline_core::water::batch::BatchId;

pub use self::alone::LeftAlone;
pub use self::batch::{BatchAsk, Suspect};
pub use self::card::Card;
pub use self::carer::{CarerField, DaysSaid, SkillSaid};
pub use self::fields::{EnclosureField, PoolField};
pub use self::fitting::{Fit, Plumb};
pub use self::link::{Alarm, LinkAsk};
pub use self::nod::NodAsk;
pub use self::rehearse::Rehearse;
pub use self::sheet::SheetAsk;
pub use self::turns::{AwayAsk, TurnAsk};
pub use self::water::{Dilute, Mix, MixAmount, MixStands, SupplyField, SupplyLabel};

/// What a SPOT came to: one pool, one enclosure, or a set of them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// The pools meant: the pool itself, an enclosure's pools, or those of the set; in walking order.
    pub pools: Vec<PoolId>,
    /// The enclosures meant: the enclosure itself, the one a pool stands in, or those of the set; in walking order.
    pub enclosures: Vec<EnclosureId>,
    /// How narrowly it was said.
    pub grain: Grain,
}

impl Spot {
    /// Whether a pool or an enclosure is among those meant.
    #[must_use]
    pub fn holds(&self, target: Target) -> bool {
        match target {
            Target::Pool(id) => self.pools.contains(&id),
            Target::Enclosure(id) => self.enclosures.contains(&id),
            Target::Place => false,
        }
    }
}

/// How narrowly a SPOT was said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Grain {
    /// One pool.
    Pool,
    /// One enclosure.
    Enclosure,
    /// A set: a room, a water, several names, all.
    #[default]
    Set,
}

/// A duty done.
#[derive(Clone, Debug, PartialEq)]
pub struct Did {
    /// The duty.
    pub duty: Duty,
    /// Where.
    pub spot: Spot,
    /// How much of it.
    pub part: Part,
    /// Litres that went in or out, as said.
    pub litres: Option<f64>,
    /// The batch that the water came from.
    pub batch: Option<BatchId>,
    /// When; `None`: now.
    pub at: Option<Timestamp>,
    /// Who; `None`: the one who says it.
    pub by: Option<CarerId>,
    /// With whom it was done together.
    pub with: Option<CarerId>,
    /// Whether it insists on a second log.
    pub again: bool,
    /// A note.
    pub note: Option<String>,
}

/// A question, a log or a change.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// What wants doing.
    Due {
        /// Everyone's, else the asker's own.
        everyone: bool,
    },
    /// The asker's own turns to press.
    DidBare,
    /// A duty done.
    Did(Did),
    /// Quantities read.
    Read {
        /// Where.
        spot: Spot,
        /// What; never empty.
        readings: Vec<Measured>,
        /// When; `None`: now.
        at: Option<Timestamp>,
        /// Who; `None`: the one who says it.
        by: Option<CarerId>,
        /// A note.
        note: Option<String>,
    },
    /// What went into a pool that a test of its water does not tell.
    PutIn {
        /// Where.
        spot: Spot,
        /// What; never empty.
        inputs: Vec<Input>,
        /// When; `None`: now.
        at: Option<Timestamp>,
        /// Who; `None`: the one who says it.
        by: Option<CarerId>,
        /// A note.
        note: Option<String>,
    },
    /// A card for an emergency.
    Emergency {
        /// Which; `None`: which ones there are.
        card: Option<Card>,
    },
    /// Something seen.
    Saw {
        /// What.
        sighting: Sighting,
        /// Where.
        spot: Spot,
        /// When; `None`: now.
        at: Option<Timestamp>,
        /// A note.
        note: Option<String>,
    },
    /// What was seen is over.
    SawOver {
        /// What.
        sighting: Sighting,
        /// Where.
        spot: Spot,
    },
    /// An own entry was wrong.
    Undo {
        /// Which; `None`: the last one.
        seq: Option<u64>,
    },
    /// How marks came about.
    Why {
        /// Where.
        spot: Spot,
        /// Which duty; `None`: all of them.
        duty: Option<Duty>,
        /// As of when; `None`: now.
        at: Option<Timestamp>,
    },
    /// The steps of a duty.
    How {
        /// Which.
        duty: Duty,
        /// Where.
        spot: Spot,
    },
    /// The week summed up.
    Week {
        /// The last one rather than the one that runs.
        last: bool,
        /// The full table.
        full: bool,
    },
    /// Whose turn, when.
    Turns {
        /// Only this person's.
        carer: Option<CarerId>,
        /// The first day.
        from: civil::Date,
        /// The last day.
        to: civil::Date,
    },
    /// Who is away.
    Away(AwayAsk),
    /// An own turn offered to someone.
    Offer {
        /// Which.
        turn: TurnAsk,
        /// To whom.
        to: CarerId,
    },
    /// An offered turn refused.
    Decline {
        /// Which; `None`: the only one that is offered.
        turn: Option<TurnAsk>,
    },
    /// A called turn that somebody cannot do.
    Cannot {
        /// Which; `None`: the only one of theirs that was called.
        turn: Option<TurnAsk>,
    },
    /// A helper's work that waits for a nod.
    Nod(NodAsk),
    /// A turn taken.
    Take {
        /// Which.
        turn: TurnAsk,
        /// Whether it is final at once, whoever has it.
        sure: bool,
    },
    /// What to mix.
    Mix(Mix),
    /// What part changes do to a concentration.
    Dilute(Dilute),
    /// A pool against its enclosure.
    Fit(Fit),
    /// What is laid to a pool.
    Plumb(Plumb),
    /// The place's past under another way of keeping.
    Rehearse(Rehearse),
    /// A sitter's handover sheet.
    Sheet(SheetAsk),
    /// How long the place can be left.
    Alone(LeftAlone),
    /// Prepared water, and where it went.
    Batch(BatchAsk),
    /// What is linked to the asker.
    Link(LinkAsk),
    /// Set-up lines.
    SetUp(SetUp),
    /// What can be said.
    Help {
        /// About one line only, by its name without the slash.
        line: Option<&'static str>,
    },
}

/// What a `/rounds hush` asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HushAsk {
    /// Nobody is called to rounds and late turns until then; to the end of the day where no time was said.
    Until(Option<Timestamp>),
    /// They are called again.
    Off,
}

/// What to do with something that is set up.
#[derive(Clone, Debug, PartialEq)]
pub enum SetUp {
    /// `/place list`
    PlaceShow,
    /// `/place link [CHANNEL] [zone ZONE] [code CODE]`, where it is not said on the chat platform itself
    PlaceLink {
        /// The channel of the platform.
        channel: Option<i64>,
        /// The place's zone, checked.
        zone: Option<String>,
        /// A code that was given out before.
        code: Option<String>,
    },
    /// `/place set …`
    PlaceSet(Vec<PlaceField>),
    /// `/rounds list`
    RoundList,
    /// `/rounds add NAME 08:00`
    RoundAdd {
        /// What it is called.
        name: String,
        /// Its time of day.
        time: civil::Time,
    },
    /// `/rounds set NAME 08:30`
    RoundSet {
        /// Which.
        round: RoundId,
        /// Its time of day.
        time: civil::Time,
    },
    /// `/rounds retire NAME`
    RoundRetire {
        /// Which.
        round: RoundId,
    },
    /// `/rounds hush …`
    RoundHush(HushAsk),
    /// `/carer list`
    CarerList,
    /// `/carer list NAME`
    CarerShow {
        /// Who.
        carer: CarerId,
    },
    /// `/carer add NAME [role] [member @MEMBER] [from DATE] [to DATE]`
    CarerAdd {
        /// Their name.
        name: String,
        /// Their role.
        role: Role,
        /// Their account on the chat platform.
        account: Option<i64>,
        /// The days of a sitter's span.
        span: Option<Span>,
    },
    /// `/carer set NAME …`
    CarerSet {
        /// Who.
        carer: CarerId,
        /// What.
        fields: Vec<CarerField>,
    },
    /// `/carer retire NAME`
    CarerRetire {
        /// Who.
        carer: CarerId,
    },
    /// `/enclosure list`
    EnclosureList,
    /// `/enclosure add NAME VOLUME [room NAME] [crabs 6] [smallest 2 cm] [largest 5 cm] [from TIME]`
    EnclosureAdd {
        /// What it is called.
        name: String,
        /// Gross volume in litres.
        litres: f64,
        /// The rest.
        fields: Vec<EnclosureField>,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/enclosure set SPOT …`
    EnclosureSet {
        /// Which.
        enclosure: EnclosureId,
        /// What.
        fields: Vec<EnclosureField>,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/enclosure retire SPOT`
    EnclosureRetire {
        /// Which.
        enclosure: EnclosureId,
    },
    /// `/pool list`
    PoolList,
    /// `/pool add ENCLOSURE fresh|salt VOLUME [life …] [nested] [stationary] [from TIME]`
    PoolAdd {
        /// Where.
        enclosure: EnclosureId,
        /// Which water.
        water: Water,
        /// Litres.
        litres: f64,
        /// The rest.
        fields: Vec<PoolField>,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/pool set SPOT …`
    PoolSet {
        /// Which.
        pool: PoolId,
        /// What.
        fields: Vec<PoolField>,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/pool retire SPOT`
    PoolRetire {
        /// Which.
        pool: PoolId,
    },
    /// `/gear list`
    GearList,
    /// `/gear add|stop|start|retire SPOT air|filter [proven] [from TIME]`, `/gear set SPOT filter proven`
    Gear {
        /// Which pools; one or several.
        spot: Spot,
        /// Which gear.
        gear: Gear,
        /// What about it.
        verb: GearVerb,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/gear set SPOT air|filter …` with more than `proven`
    GearSet {
        /// Which pools; one or several.
        spot: Spot,
        /// Which gear.
        gear: Gear,
        /// Whether a filter's cycle is proven as well.
        proven: bool,
        /// What is told of it; never empty.
        facts: Vec<GearFact>,
        /// From when; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/duty list`
    DutyList,
    /// `/duty add NAME SPOT every 3 days | on Mon Thu [time 21:00] | cron "…" [grace 12 h] [digs]`
    DutyAdd {
        /// What it is called.
        name: String,
        /// Where; `None`: the place as a whole.
        spot: Option<Spot>,
        /// When.
        schedule: Schedule,
        /// Hours of grace.
        grace_h: u32,
        /// Whether a quiet zone holds it back.
        disturbs: bool,
    },
    /// `/duty set DUTY every 3 days [grace 12 h] [hazard 4 days]`: the place's own numbers of a catalogue duty
    DutySet {
        /// Which rule of the catalogue.
        rule: wrackline_core::care::Rule,
        /// The numbers.
        numbers: wrackline_core::care::Numbers,
        /// Whether it waits for an adult's nod when a helper did it.
        nod: Option<bool>,
    },
    /// `/duty set NAME nod yes|no` of a duty of the place's own
    DutyNod {
        /// Which.
        duty: Duty,
        /// Whether it waits for an adult's nod when a helper did it.
        nod: bool,
    },
    /// `/duty retire NAME`
    DutyRetire {
        /// Which.
        duty: OwnDutyId,
    },
    /// `/supplies list`
    SuppliesList,
    /// `/supplies set …`
    SuppliesSet(Vec<SupplyField>),
}

/// What to do with gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearVerb {
    /// It is fitted; a filter perhaps with its cycle proven.
    Add {
        /// By the keeper's word.
        proven: bool,
    },
    /// It stands still.
    Stop,
    /// It runs again.
    Start,
    /// Its cycle is proven.
    Proven,
    /// It is taken off.
    Retire,
}

/// A field of the place.
#[derive(Clone, Debug, PartialEq)]
pub enum PlaceField {
    /// `name NAME`
    Name(String),
    /// `zone ZONE`, checked
    Zone(String),
    /// `quiet 22:00 to 07:00`, `quiet none`
    Quiet(Option<wrackline_core::place::QuietHours>),
    /// `units metric|us|imperial`
    Units(Units),
    /// `sg 25/25`
    Gravity(GravityConvention),
    /// `winter 21C 40%`
    Winter(RoomAir),
    /// `summer 25C 55%`
    Summer(RoomAir),
}
