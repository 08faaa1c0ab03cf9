//! Ids as the platform makes them: numbers that rise with time, written as text.

use std::fmt;
use std::time::Instant;

/// The platform's first moment, in milliseconds since 1970.
const EPOCH: u64 = 1_420_070_400_000;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, Eq, Hash, Ord, PartialEq, PartialOrd)]
        pub struct $name(pub u64);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{}", self.0)
            }
        }
    )*};
}

ids! {
    /// A guild.
    GuildId,
    /// A channel, a thread among them.
    ChannelId,
    /// A person or a bot.
    UserId,
    /// A role.
    RoleId,
    /// A message.
    MessageId,
    /// A command, a press, a choice: one thing a person did.
    InteractionId,
    /// A file somebody attached.
    AttachmentId,
}

/// Makes ids: one after the other, a millisecond apart, so that the same test sees the same ids; or no earlier than the
/// clock, as the platform's are.
#[derive(Debug)]
pub(super) struct Snowflakes {
    ms: u64,
    clock: Option<(Instant, u64)>,
}

impl Snowflakes {
    /// Ids from a moment on, in milliseconds since 1970.
    pub(super) fn from(base_ms: u64) -> Self {
        Self {
            ms: base_ms.max(EPOCH),
            clock: None,
        }
    }

    /// From now on they follow the clock, on which it is that moment now.
    pub(super) fn follow_clock(&mut self) {
        self.clock = Some((Instant::now(), self.ms));
    }

    /// The next id.
    pub(super) fn next(&mut self) -> u64 {
        self.ms += 1;
        if let Some((started, base)) = self.clock {
            let passed = u64::try_from(started.elapsed().as_millis()).unwrap_or(u64::MAX);
            self.ms = self.ms.max(base.saturating_add(passed));
        }
        ((self.ms - EPOCH) << 22) | (1 << 17)
    }
}

/// The moment an id speaks of, as the platform writes it.
pub(super) fn written(id: u64) -> String {
    moment((id >> 22) + EPOCH)
}

/// A moment in milliseconds since 1970, as the platform writes it.
pub(super) fn moment(ms: u64) -> String {
    let ms = i64::try_from(ms).unwrap_or(i64::MAX);
    jiff::Timestamp::from_millisecond(ms)
        .unwrap_or(jiff::Timestamp::UNIX_EPOCH)
        .strftime("%Y-%m-%dT%H:%M:%S%.6f+00:00")
        .to_string()
}
