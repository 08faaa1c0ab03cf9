//! Care: what falls due when, what renews it, what holds it back, and that nothing else moves it.

mod gear;
mod guards;
mod keeping;
mod numbers;
pub(crate) mod order;
mod own;
mod parts;

use wrackline_core::care::Duty;
use wrackline_core::place::Target;
use wrackline_tests::journal::{NORTH_ITSELF, NORTH_SALT, Script};

/// The place of most tests: two rounds a day, no clock changes.
fn two_rounds(lines: &str) -> Script {
    let mut script = Script::place("UTC", "08:00 20:00");
    script.tell(lines);
    script
}

fn target_of(duty: Duty) -> Target {
    if duty.is_of_pool() {
        NORTH_SALT
    } else {
        NORTH_ITSELF
    }
}

/// After these lines, at this moment, a duty stands like this: rule, due, overdue, hazard, mark.
fn check(duty: Duty, lines: &str, moment: &str, expected: &str) {
    let found = two_rounds(lines).line(moment, duty, target_of(duty));
    assert_eq!(found, expected, "{duty:?} at {moment} after {lines:?}");
}
