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
use wrackline_core::quantity::{Litres, Millilitres};

use super::{Desk, Outcome, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::Mix;
use crate::words::Message;

pub(super) use self::changes::to_prepare;
pub(super) use self::dilute::dilute;
pub use self::placeless::answer as placeless;
pub(super) use self::portions::{Portion, in_all, portion, prepare};
pub(super) use self::stands::STEP;

/// The dose of the place's conditioner for an amount of water in mL; `None` without a label that says one.
pub(super) fn dose_ml(place: &Place, litres: Litres) -> Option<f64> {
    let supplies = &place.supplies;
    let label = supplies.conditioner.as_ref()?.label();
    let dose = label.dose_for(litres, supplies.mains()).ok()?;
    Some(dose.amount.0)
}

/// The same, as it is told.
pub(super) fn dose(place: &Place, litres: Litres) -> Option<String> {
    dose_ml(place, litres).map(|ml| said::dose(Millilitres(ml)))
}

/// `/mix`
///
/// # Errors
/// The refusal, as one sentence.
pub(super) fn mix(desk: &Desk<'_>, ask: &Mix) -> Result<Outcome, Refused> {
    let answer = match ask {
        Mix::Amount(amount) => mix::amount(desk, amount),
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
