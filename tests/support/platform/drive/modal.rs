//! Modals: what they show, and how they are sent off.

use serde_json::{Value, json};

use super::component::chosen;
use super::{Act, Deed, Place, Refused, may, refused};
use crate::platform::interaction::Did;
use crate::platform::server::Double;
use crate::platform::state::State;

impl Double {
    /// Somebody sends off the modal that was the answer to an act; what is not named goes as it was filled in before.
    ///
    /// # Errors
    /// When no modal was shown, it has no such input, or an input does not fit.
    pub fn submit(&self, act: &Act, inputs: &[(&str, &str)]) -> Result<Act, Refused> {
        let (place, data, source) = self.shared.look(|state| {
            let held = &state.world.interactions[&act.id()];
            let modal = held.first.as_ref().filter(|first| first.kind == 9);
            let Some(modal) = modal.map(|first| &first.data) else {
                return refused("no modal was shown");
            };
            let place = Place {
                channel: held.channel,
                by: held.by,
            };
            may(state, place)?;
            let parts = modal["components"].as_array().cloned().unwrap_or_default();
            for (id, _) in inputs {
                if !ids(&parts).contains(id) {
                    return refused(format!("the modal has no `{id}`"));
                }
            }
            let mut filled = Vec::new();
            for part in &parts {
                filled.push(fill(state, part, inputs)?);
            }
            let data = json!({"custom_id": modal["custom_id"], "components": filled});
            Ok((place, data, held.source))
        })?;
        Ok(self.deliver(Deed {
            did: Did::Modal,
            place,
            data,
            source,
        }))
    }
}

/// The inputs of a modal.
fn ids(parts: &[Value]) -> Vec<&str> {
    let mut found = Vec::new();
    for part in parts {
        found.extend(part["custom_id"].as_str());
        found.extend(part["component"]["custom_id"].as_str());
        found.extend(
            part["components"]
                .as_array()
                .map(|inner| ids(inner))
                .unwrap_or_default(),
        );
    }
    found
}

fn fill(state: &State, part: &Value, inputs: &[(&str, &str)]) -> Result<Value, Refused> {
    let id = part.get("id").cloned().unwrap_or(json!(0));
    let mut filled = json!({"type": part["type"], "id": id});
    match part["type"].as_u64() {
        Some(1) => {
            let mut inner = Vec::new();
            for part in part["components"].as_array().into_iter().flatten() {
                inner.push(fill(state, part, inputs)?);
            }
            filled["components"] = inner.into();
        }
        Some(18) => filled["component"] = fill(state, &part["component"], inputs)?,
        Some(4) => {
            filled["custom_id"] = part["custom_id"].clone();
            filled["value"] = json!(text(part, inputs)?);
        }
        Some(3 | 5..=8) => {
            let given = inputs.iter().filter(|(id, _)| part["custom_id"] == *id);
            let values: Vec<&str> = given.map(|(_, value)| *value).collect();
            let optional = part["required"] == false && values.is_empty();
            if !optional {
                chosen(state, part, &values)?;
            }
            filled["custom_id"] = part["custom_id"].clone();
            filled["values"] = json!(values);
        }
        _ => {}
    }
    Ok(filled)
}

/// What stands in a text input when it is sent off.
fn text(part: &Value, inputs: &[(&str, &str)]) -> Result<String, Refused> {
    let id = part["custom_id"].as_str().unwrap_or_default();
    let given = inputs
        .iter()
        .find(|(known, _)| *known == id)
        .map(|(_, text)| *text);
    let text = given.or_else(|| part["value"].as_str()).unwrap_or_default();
    let count = text.chars().count() as u64;
    if count == 0 && part["required"] != false {
        return refused(format!("`{id}` is required"));
    }
    let least = part["min_length"].as_u64().unwrap_or(0);
    let most = part["max_length"].as_u64().unwrap_or(4000);
    if count > most || (count > 0 && count < least) {
        return refused(format!("`{id}` is too short or too long"));
    }
    Ok(text.to_owned())
}
