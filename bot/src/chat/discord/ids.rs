//! The platform's numbers.

use serde_json::Value;

/// The platform's first moment, in milliseconds since the epoch: its numbers count from there.
const FIRST_MS: i64 = 1_420_070_400_000;

/// A message that is out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MessageId {
    /// The channel it stands in.
    pub channel: i64,
    /// Its number.
    pub message: i64,
}

impl std::fmt::Display for MessageId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.channel, self.message)
    }
}

impl std::str::FromStr for MessageId {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        let (channel, message) = text.split_once('/').ok_or(())?;
        let number = |text: &str| text.parse().map_err(|_| ());
        Ok(Self {
            channel: number(channel)?,
            message: number(message)?,
        })
    }
}

/// The least number of anything made at a moment, in milliseconds since the epoch.
#[must_use]
pub fn snowflake(at_ms: i64) -> i64 {
    (at_ms - FIRST_MS).max(0) << 22
}

/// The number of a thing that the platform sent.
#[must_use]
pub fn message_of(thing: &Value) -> Option<i64> {
    thing["id"].as_str()?.parse().ok()
}

/// A number of serenity's as the store keeps it: the platform's numbers fit into 63 bits.
#[must_use]
pub fn number(id: u64) -> i64 {
    i64::try_from(id).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_tell_their_moment() {
        // The worked example of the platform's reference page on its numbers.
        assert_eq!(snowflake(1_462_015_105_796), 175_928_847_299_117_063 >> 22 << 22);
    }

    #[test]
    fn a_message_is_read_back() {
        let id = MessageId {
            channel: 7,
            message: 9,
        };
        assert_eq!(id.to_string().parse(), Ok(id));
        assert_eq!("12".parse::<MessageId>(), Err(()));
    }
}
