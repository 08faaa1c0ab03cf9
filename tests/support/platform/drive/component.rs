//! Presses and choices.

use serde_json::{Value, json};

use super::option::{Input, resolved};
use super::{Act, Deed, Place, Refused, may, refused};
use crate::platform::ids::{ChannelId, MessageId, RoleId, UserId};
use crate::platform::interaction::Did;
use crate::platform::message::{Message, components};
use crate::platform::server::Double;
use crate::platform::state::State;

impl Double {
    /// Somebody presses a button.
    ///
    /// # Errors
    /// When they cannot: the message does not show it to them, or it cannot be pressed.
    pub fn press(&self, message: MessageId, custom_id: &str, by: UserId) -> Result<Act, Refused> {
        let place = self.shared.look(|state| {
            let (place, part) = shown(state, message, custom_id, by)?;
            if part["type"] != 2 {
                return refused("this is no button");
            }
            Ok(place)
        })?;
        Ok(self.deliver(Deed {
            did: Did::Component,
            place,
            data: json!({"custom_id": custom_id, "component_type": 2}),
            source: Some(message),
        }))
    }

    /// Somebody presses the button with this label.
    ///
    /// # Errors
    /// When they cannot, as with [`Double::press`].
    pub fn press_label(&self, message: MessageId, label: &str, by: UserId) -> Result<Act, Refused> {
        let custom_id = self.message(message).and_then(|message| message.button(label));
        match custom_id {
            Some(custom_id) => self.press(message, &custom_id, by),
            None => refused(format!("no button says `{label}`")),
        }
    }

    /// Somebody chooses in a select: values of its options, or ids of people, roles, channels.
    ///
    /// # Errors
    /// When they cannot: it is not shown to them, there is no such option, they are too few or too many.
    pub fn choose(
        &self,
        message: MessageId,
        custom_id: &str,
        by: UserId,
        values: &[&str],
    ) -> Result<Act, Refused> {
        let (place, data) = self.shared.look(|state| {
            let (place, part) = shown(state, message, custom_id, by)?;
            let inputs = chosen(state, &part, values)?;
            let mut data = json!({
                "custom_id": custom_id,
                "component_type": part["type"],
                "values": values,
            });
            let resolved = resolved(state, place.channel, &inputs);
            if !resolved.is_empty() {
                data["resolved"] = resolved.into();
            }
            Ok((place, data))
        })?;
        Ok(self.deliver(Deed {
            did: Did::Component,
            place,
            data,
            source: Some(message),
        }))
    }
}

/// A component as a person sees it on a message.
fn shown(state: &State, id: MessageId, custom_id: &str, by: UserId) -> Result<(Place, Value), Refused> {
    let message = state.world.messages.get(&id).filter(|message| !message.deleted);
    let Some(message) = message else {
        return refused("the message is gone");
    };
    let place = Place {
        channel: message.channel,
        by,
    };
    may(state, place)?;
    if message.ephemeral && asker(state, message) != Some(by) {
        return refused("the person does not see this message");
    }
    let found = components(message.body())
        .into_iter()
        .find(|part| part["custom_id"] == custom_id);
    match found {
        None => refused(format!("the message does not show `{custom_id}`")),
        Some(part) if part["disabled"] == true => refused(format!("`{custom_id}` is disabled")),
        Some(part) => Ok((place, part.clone())),
    }
}

fn asker(state: &State, message: &Message) -> Option<UserId> {
    let held = state.world.interactions.get(&message.interaction?)?;
    Some(held.by)
}

/// Whether the values can be chosen; what they stand for.
pub(super) fn chosen(state: &State, part: &Value, values: &[&str]) -> Result<Vec<Input>, Refused> {
    let bound = |key: &str| part[key].as_u64().unwrap_or(1);
    let count = values.len() as u64;
    if count < bound("min_values") || count > bound("max_values") {
        return refused("too few or too many are chosen");
    }
    let options = part["options"].as_array();
    let mut inputs = Vec::new();
    for value in values {
        let id = value.parse().unwrap_or_default();
        let input = match part["type"].as_u64() {
            Some(3) => {
                let offered = options
                    .into_iter()
                    .flatten()
                    .any(|option| option["value"] == *value);
                if !offered {
                    return refused(format!("there is no option `{value}`"));
                }
                continue;
            }
            Some(5) => Input::User(UserId(id)),
            Some(6) => Input::Role(RoleId(id)),
            Some(7) if state.world.users.contains_key(&UserId(id)) => Input::User(UserId(id)),
            Some(7) => Input::Role(RoleId(id)),
            Some(8) => Input::Channel(ChannelId(id)),
            _ => return refused("this is no select"),
        };
        inputs.push(input);
    }
    Ok(inputs)
}
