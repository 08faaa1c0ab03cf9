//! Water: what is mixed for the pools, what part changes do, and what the place mixes with.
//!
//! `made` is one amount of water with all that goes into it; `mix`, `changes` and `stands` tell it for an amount, for the
//! changes of a round and for a pool that stands; `portions` weighs it out for single pools; `dilute` is part changes, `supplies` what is mixed with; `said` prints
//! figures, `no` says what cannot be.

mod changes;
mod dilute;
mod made;
mod mix;
mod no;
mod placeless;
mod portions;
pub(super) mod said;
mod stands;
pub(super) mod supplies;

use wrackline_core::place::Place;
use wrackline_core::quantity::{Litres, Millilitres, Span};
use wrackline_core::water::conditioner::{Authority, Limit};

use super::{Desk, Outcome, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::{Mix, MixAmount, MixStands};
use crate::words::Message;

pub(super) use self::changes::{amounts, for_pool, to_prepare, used};
pub(super) use self::dilute::dilute;
pub(super) use self::made::label;
pub use self::placeless::answer as placeless;
pub(super) use self::portions::{Portion, in_all, portion, prepare};
pub(super) use self::said::units;
pub(super) use self::stands::STEP;

/// How warm water may be said to be that is mixed, in °C: liquid, and no warmer than hot tap water that hands can bear.
/// Common practice, no published source.
const TEMPERATURES: Span = Span::new(0.0, 45.0);

/// The dose of the place's conditioner for an amount of water in mL; `None` without a label that says one.
pub(super) fn dose_ml(place: &Place, litres: Litres) -> Option<f64> {
    let supplies = &place.supplies;
    let label = supplies.conditioner.as_ref()?.label();
    let dose = label.dose_for(litres, supplies.mains()).ok()?;
    Some(dose.amount.0)
}

/// Who set a limit, as a word.
pub(super) fn authority(limit: &Limit) -> &'static str {
    match limit.authority {
        Authority::Who => "authority-who",
        Authority::UsEpa => "authority-us-epa",
    }
}

/// The same, as it is told.
pub(super) fn dose(place: &Place, litres: Litres) -> Option<String> {
    dose_ml(place, litres).map(|ml| said::dose(Millilitres(ml)))
}

/// A dose in mL, as it is told.
pub(super) fn said_dose(ml: f64) -> String {
    said::dose(Millilitres(ml))
}

/// Some grams of salt, as they are told.
pub(super) fn said_salt(place: &Place, of: f64) -> String {
    said::mass(place, wrackline_core::quantity::Grams(of))
}

/// `/mix`
///
/// # Errors
/// The refusal, as one sentence.
pub(super) fn mix(desk: &Desk<'_>, ask: &Mix) -> Result<Outcome, Refused> {
    let (Mix::Amount(MixAmount { at_c, .. })
    | Mix::Changes { at_c, .. }
    | Mix::Stands(MixStands { at_c, .. })) = ask;
    if let Some(at) = at_c.filter(|at| !TEMPERATURES.has(*at)) {
        return Err(no::temperature(desk, at));
    }
    let answer = match ask {
        Mix::Amount(amount) => return mix::amount(desk, amount),
        Mix::Changes { spot, salinity, at_c } => {
            changes::changes(desk, spot.as_ref(), salinity.as_ref(), *at_c)
        }
        Mix::Stands(stands) => stands::stands(desk, stands),
    };
    answer.map(Outcome::answer)
}

/// An answer that is being put together.
struct Sheet<'d, 'a> {
    desk: &'d Desk<'a>,
    answer: Answer,
}

impl<'d, 'a> Sheet<'d, 'a> {
    fn new(desk: &'d Desk<'a>, title: &Message) -> Self {
        Self {
            desk,
            answer: desk.done(title),
        }
    }

    fn text(&mut self, message: &Message) {
        let text = self.desk.say(message);
        self.answer.blocks.push(Block::Text { text });
    }

    fn told(&mut self, text: String) {
        self.answer.blocks.push(Block::Text { text });
    }

    fn caution(&mut self, message: &Message) {
        let text = self.desk.say(message);
        self.answer.blocks.push(Block::Caution { text });
    }

    fn table(&mut self, head: &[&'static str], rows: Vec<Vec<String>>) {
        let head = head.iter().map(|id| self.desk.tell.word(*id)).collect();
        self.answer.blocks.push(Block::Table { head, rows });
    }

    fn steps(&mut self, steps: &[Message]) {
        let items = (1..)
            .zip(steps)
            .map(|(number, step)| {
                let text = self.desk.say(step);
                self.desk.item(
                    self.desk
                        .say(&crate::msg!("how-step", number = number, text = text)),
                )
            })
            .collect();
        self.answer.blocks.push(Block::Items { items });
    }
}
