//! Arguments by name, written as the line that a person would type.

use super::split::small_word;
use super::table::{Kind, Lead, LineSpec, SubSpec};
use super::token::{is_quote, tokens};

/// Writes a line of the table from its arguments, in the table's order; names that it does not have are left out.
/// Native commands of a chat platform become lines this way.
#[must_use]
pub fn write(line: &LineSpec, sub: Option<&SubSpec>, given: &[(&str, &str)]) -> String {
    let mut words = vec![format!("/{}", line.name)];
    words.extend(sub.map(|sub| sub.name.to_owned()));
    let specs = sub.map_or(line.args, |sub| sub.args);
    for spec in specs {
        let Some((_, value)) = given.iter().find(|(name, _)| *name == spec.name) else {
            continue;
        };
        match (spec.kind, *value) {
            (Kind::Flag, "yes" | "true") => {
                words.push(spec.words().first().unwrap_or(&spec.name).to_string())
            }
            (Kind::Flag, _) => {}
            (kind, value) => {
                if let Lead::Word(all) | Lead::Either(all) = spec.lead {
                    words.push(all[0].to_owned());
                }
                let free = matches!(kind, Kind::Name | Kind::Text | Kind::Rest | Kind::Cron);
                let named = matches!(kind, Kind::Carer | Kind::OwnDuty | Kind::Round | Kind::Vessel);
                let parts = tokens(value);
                let small = (0..parts.len()).any(|at| small_word(&parts[at..], specs).is_some());
                words.push(if free || (named && small) {
                    format!("\"{}\"", value.replace(is_quote, "'"))
                } else {
                    value.to_owned()
                });
            }
        }
    }
    words.join(" ")
}
