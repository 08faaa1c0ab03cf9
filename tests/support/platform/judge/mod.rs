//! What speaks against a body: five judges who know nothing of how it was made.
//!
//! Known false alarms of the schemas, which are tolerated, stand in [`schema`].

mod commands;
mod components;
mod embeds;
mod keys;
mod messages;
mod model;
mod openapi;
mod schema;

use serde_json::Value;

use super::record::{Judge, Verdict};
use super::route::Route;

pub use openapi::skipped;

/// What a body is.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub(super) enum Shape {
    MessageCreate,
    MessageEdit,
    Callback,
    WebhookCreate,
    WebhookEdit,
    Commands,
    Dm,
}

impl Shape {
    pub(super) const ALL: [Self; 7] = [
        Self::MessageCreate,
        Self::MessageEdit,
        Self::Callback,
        Self::WebhookCreate,
        Self::WebhookEdit,
        Self::Commands,
        Self::Dm,
    ];

    pub(super) fn of(route: Route) -> Option<Self> {
        Some(match route {
            Route::CreateMessage => Self::MessageCreate,
            Route::EditMessage => Self::MessageEdit,
            Route::Callback => Self::Callback,
            Route::FollowUp => Self::WebhookCreate,
            Route::EditResponse => Self::WebhookEdit,
            Route::SetCommands => Self::Commands,
            Route::OpenDm => Self::Dm,
            _ => return None,
        })
    }
}

/// What the judges say, each in its place.
#[derive(Debug, Default)]
pub(super) struct Bench {
    verdicts: Vec<Verdict>,
}

impl Bench {
    pub(super) fn say(&mut self, judge: Judge, place: &str, said: impl Into<String>) {
        self.verdicts.push(Verdict::new(judge, place, said));
    }

    /// A rule of the documentation is broken.
    pub(super) fn rule(&mut self, place: &str, said: impl Into<String>) {
        self.say(Judge::Rules, place, said);
    }

    /// A rule of the documentation has to hold.
    pub(super) fn hold(&mut self, holds: bool, place: &str, said: &str) {
        if !holds {
            self.rule(place, said);
        }
    }
}

/// Everything that speaks against a request's body; `files` are numbers and sizes in bytes.
#[must_use]
pub fn judge(route: Route, body: &Value, files: &[(u64, usize)]) -> Vec<Verdict> {
    let mut bench = Bench::default();
    let Some(shape) = Shape::of(route) else {
        let carries = !body.is_null() || !files.is_empty();
        bench.hold(!carries, "", "this operation takes no body");
        return bench.verdicts;
    };
    model::judge(&mut bench, shape, body);
    keys::judge(&mut bench, shape, body);
    match shape {
        Shape::Commands => commands::judge(&mut bench, body),
        Shape::Dm => {}
        Shape::Callback => messages::callback(&mut bench, body, files),
        _ => messages::judge(&mut bench, shape, "", body, files),
    }
    schema::judge(&mut bench, shape, body);
    bench.verdicts
}

/// Characters, as the limits count them.
pub(super) fn length(value: &Value) -> usize {
    value.as_str().map_or(0, |text| text.chars().count())
}

/// A place one step further in.
pub(super) fn within(place: &str, step: impl std::fmt::Display) -> String {
    if place.is_empty() {
        step.to_string()
    } else {
        format!("{place}.{step}")
    }
}

/// The elements of a list with their places.
pub(super) fn each<'a>(place: &str, list: &'a Value) -> Vec<(String, &'a Value)> {
    let list = list.as_array().into_iter().flatten().enumerate();
    list.map(|(at, one)| (within(place, at), one)).collect()
}
