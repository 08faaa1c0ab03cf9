//! A carer's turns as a calendar: what its address gives, to whom, and for how long; what independent readers make of it.

mod address;
mod grid;
mod hands;
mod http;
mod offered;

use std::collections::BTreeMap;

/// One component of a calendar: its properties by name, parameters and all that stands before the colon left out.
type Event = BTreeMap<String, String>;

/// The events of a calendar, by UID. Only as much as these tests ask for; the grid is what independent readers say.
fn events(text: &str) -> BTreeMap<String, Event> {
    let text = text.replace("\r\n ", "");
    let events = text.split("BEGIN:VEVENT\r\n").skip(1);
    events
        .map(|event| {
            let own = event.split("END:VEVENT").next().expect("an end");
            // What stands in an alarm is told by a name of its own.
            let (own, alarm) = own.split_once("BEGIN:VALARM\r\n").unwrap_or((own, ""));
            let lines = |text: &str, start: &str| -> Vec<(String, String)> {
                text.lines()
                    .filter_map(|line| line.split_once(':'))
                    .map(|(name, value)| {
                        let name = name.split(';').next().unwrap_or(name);
                        (format!("{start}{name}"), value.to_owned())
                    })
                    .collect()
            };
            let all: Event = lines(own, "").into_iter().chain(lines(alarm, "ALARM-")).collect();
            (all["UID"].clone(), all)
        })
        .collect()
}
