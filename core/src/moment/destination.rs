//! Where a post goes.

use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;

use super::{Post, Subject};
use crate::place::CarerId;

/// Where a post goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Destination {
    /// The chat that all of a place's carers read.
    #[default]
    Chat,
    /// One carer alone.
    Carer(CarerId),
}

impl fmt::Display for Destination {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Chat => f.write_str("chat"),
            Self::Carer(carer) => write!(f, "carer.{}", carer.0),
        }
    }
}

/// The text was no destination's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not a destination")]
pub struct NoDestination;

impl FromStr for Destination {
    type Err = NoDestination;

    fn from_str(text: &str) -> Result<Self, NoDestination> {
        match text.split_once('.') {
            None if text == "chat" => Ok(Self::Chat),
            Some(("carer", carer)) => {
                let carer = carer.parse().map_err(|_| NoDestination)?;
                Ok(Self::Carer(CarerId(carer)))
            }
            _ => Err(NoDestination),
        }
    }
}

/// The key of a post that goes to one carer alone, from the key of what called for it: there is one for each.
#[must_use]
pub fn private_key(key: &str, carer: CarerId) -> String {
    format!("{key}.c{}", carer.0)
}

/// The same post to each of these carers alone. `keys` are those of what called for it, which the first post covers;
/// `name` is what the posts' own keys begin with.
#[must_use]
pub fn to_each(
    carers: impl IntoIterator<Item = CarerId>,
    name: &str,
    keys: Vec<String>,
    subject: &Subject,
    not_after: Timestamp,
) -> Vec<Post> {
    let mut keys = Some(keys);
    let post = |carer| Post {
        keys: std::iter::once(private_key(name, carer))
            .chain(keys.take().into_iter().flatten())
            .collect(),
        to: Destination::Carer(carer),
        subject: subject.clone(),
        not_after,
    };
    carers.into_iter().map(post).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_destination_is_read_back() {
        for (text, to) in [
            ("chat", Some(Destination::Chat)),
            ("carer.7", Some(Destination::Carer(CarerId(7)))),
            ("carer.x", None),
            ("carer", None),
            ("hall", None),
        ] {
            assert_eq!(text.parse::<Destination>().ok(), to, "{text}");
            assert!(to.is_none_or(|to| to.to_string() == text));
        }
    }
}
