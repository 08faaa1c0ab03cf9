//! What a scenario has people say at a time, and what stands in its lines for what only the place knows.

use jiff::civil;
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::plus_days;
use wrackline_core::people::Carer;
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use super::{Result, Stage, StageError, What};
use crate::replay::scenario::{Cue, dated};

/// What stands in a line for the first turn from tomorrow on that is the speaker's and that the one behind `to` can do.
const MY_TURN: &str = "{my turn}";

impl Stage {
    pub(super) fn take_cue(&mut self, cue: &Cue) -> Result<()> {
        let broken = || StageError::Cue {
            day: cue.day,
            time: cue.time.clone(),
        };
        let time: civil::Time = format!("{}:00", cue.time).parse().map_err(|_| broken())?;
        let carer = *self.names.get(&cue.who).ok_or_else(broken)?;
        let day = plus_days(self.first_day, cue.day - 1);
        let what = match (&cue.line, &cue.press) {
            (Some(line), None) => What::Line(dated(line, self.first_day)),
            (None, Some(verb)) => What::Press(verb.clone(), None),
            _ => return Err(broken()),
        };
        self.put(self.zone.instant(day.to_datetime(time)), carer, what);
        Ok(())
    }

    /// A line with `{my turn}` made the first turn from tomorrow on that is the speaker's, as it is typed; `None` where
    /// they have none.
    pub(super) async fn filled(&self, carer: CarerId, line: &str) -> Result<Option<String>> {
        if !line.contains(MY_TURN) {
            return Ok(Some(line.to_owned()));
        }
        let turn = self
            .told(|tell| {
                let board = board(tell.book, tell.place, tell.now);
                let shared = rota::share_out(tell.book, tell.place, &board, tell.now, rota::HORIZON_DAYS);
                let tomorrow = plus_days(tell.place.zone.date(tell.now), 1);
                let whom = line.split(" to ").nth(1).and_then(|name| self.names.get(name));
                let whom = whom.and_then(|whom| tell.place.carers.get(whom));
                let is_theirs = |turn: &&rota::Turn| {
                    let expected = &turn.expected;
                    let (needs, when) = (&expected.work.needs, &expected.when);
                    let can =
                        |one: &Carer| rota::able(tell.book, one, needs, when, tell.now) == rota::Able::Yes;
                    turn.carer == Some(carer)
                        && expected.when.date >= tomorrow
                        && !matches!(expected.duty, Duty::Own(_))
                        && whom.is_none_or(can)
                };
                let turn = shared.turns.iter().find(is_theirs)?;
                let what = &turn.expected;
                let (duty, target) = (tell.duty(what.duty), tell.target(what.target));
                let round = tell.round(what.when.round);
                Some(format!("{duty} {target} {} {round}", what.when.date).to_lowercase())
            })
            .await?;
        Ok(turn.map(|turn| line.replace(MY_TURN, &turn)))
    }
}
