//! The moments at which a process is killed.

use std::time::Duration;

use wrackline::clock::wait;

use super::people::Dice;
use crate::platform::{Double, Request, Route, Trouble};

/// How long a moment is waited for; then it is now.
const WITHIN: Duration = Duration::from_secs(3);
/// How long a slow reply takes.
const SLOW: Duration = Duration::from_millis(500);

/// When a process is killed.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Moment {
    /// While it starts.
    Early,
    /// At any time.
    Any,
    /// Right after a request of this kind came in.
    Asked(Route),
    /// Right after such a request was answered.
    Answered(Route),
    /// While the reply to such a request is slow: it is done already.
    Slow(Route),
    /// Soon after the reply to such a request was lost: it is done already.
    Lost(Route),
}

/// What the program asks of the platform under load.
const ROUTES: [Route; 3] = [Route::Callback, Route::CreateMessage, Route::EditMessage];

impl Moment {
    /// Draws one.
    pub fn draw(dice: &mut Dice) -> Self {
        let route = *dice.pick(&ROUTES);
        match dice.below(10) {
            0 => Self::Early,
            1..4 => Self::Any,
            4 => Self::Asked(route),
            5..7 => Self::Answered(route),
            7..9 => Self::Slow(route),
            _ => Self::Lost(route),
        }
    }

    /// Waits for it.
    pub async fn come(self, double: &Double, dice: &mut Dice) {
        let from = double.request_count();
        match self {
            Self::Early => return wait(dice.ms(0, 60)).await,
            Self::Any => return wait(dice.ms(30, 900)).await,
            _ => wait(dice.ms(30, 400)).await,
        }
        let (route, trouble, after) = match self {
            Self::Early | Self::Any => return,
            Self::Asked(route) | Self::Answered(route) => (route, None, dice.ms(0, 2)),
            Self::Slow(route) => (route, Some(Trouble::Slow(SLOW)), dice.ms(0, 400)),
            Self::Lost(route) => (route, Some(Trouble::Dropped), dice.ms(0, 100)),
        };
        double.trouble(route, trouble);
        let from = from.max(double.request_count());
        let is_answered = matches!(self, Self::Answered(_));
        let wanted = |request: &Request| request.route == route && (!is_answered || request.status.is_some());
        // None may come: a channel is quiet after a kill that left all posts claimed.
        drop(tokio::time::timeout(WITHIN, double.await_request(from, wanted)).await);
        wait(after).await;
    }
}
