//! Who a message would call: what its content names, as far as `allowed_mentions` lets it.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::ids::{RoleId, UserId};

/// Who is called by a message.
#[derive(Clone, Debug, Default, Eq, PartialEq)]
pub struct Notified {
    /// People by themselves.
    pub users: BTreeSet<UserId>,
    /// All people of a role.
    pub roles: BTreeSet<RoleId>,
    /// Everyone, or everyone who is there.
    pub everyone: bool,
}

impl Notified {
    /// Whether nobody is.
    #[must_use]
    pub fn is_nobody(&self) -> bool {
        self.users.is_empty() && self.roles.is_empty() && !self.everyone
    }
}

/// What is let through when `allowed_mentions` says nothing.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Fallback {
    /// A channel's message: users, roles, everyone.
    All,
    /// An interaction's answer: users only.
    Users,
}

/// Whom the content calls under this body's `allowed_mentions`.
pub(super) fn notified(content: &str, body: &Map<String, Value>, usual: Fallback) -> Notified {
    let named = named(content);
    let Some(allowed) = body.get("allowed_mentions").filter(|allowed| !allowed.is_null()) else {
        return match usual {
            Fallback::All => named,
            Fallback::Users => Notified {
                users: named.users,
                ..Notified::default()
            },
        };
    };
    let parses = |what: &str| {
        allowed["parse"]
            .as_array()
            .is_some_and(|parse| parse.iter().any(|one| one == what))
    };
    let lists = |what: &str, id: u64| {
        let id = id.to_string();
        allowed[what]
            .as_array()
            .is_some_and(|ids| ids.iter().any(|one| one.as_str() == Some(&id)))
    };
    Notified {
        users: (named.users.into_iter())
            .filter(|user| parses("users") || lists("users", user.0))
            .collect(),
        roles: (named.roles.into_iter())
            .filter(|role| parses("roles") || lists("roles", role.0))
            .collect(),
        everyone: named.everyone && parses("everyone"),
    }
}

/// Everybody the content names.
fn named(content: &str) -> Notified {
    let mut named = Notified {
        everyone: content.contains("@everyone") || content.contains("@here"),
        ..Notified::default()
    };
    for part in content.split("<@").skip(1) {
        let Some((inside, _)) = part.split_once('>') else {
            continue;
        };
        if let Some(role) = inside.strip_prefix('&') {
            named.roles.extend(role.parse().map(RoleId));
        } else {
            let user = inside.strip_prefix('!').unwrap_or(inside);
            named.users.extend(user.parse().map(UserId));
        }
    }
    named
}
