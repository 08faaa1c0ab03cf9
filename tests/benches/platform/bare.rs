//! The bare bot beside the program: a process of its own on a double of its own.

use std::process::{Child, Command, Stdio};

use wrackline_tests::platform::{ChannelId, ChannelKind, Double, DoubleConfig, UserId};

/// A bare bot, connected.
pub(crate) struct Bare {
    pub(crate) double: Double,
    pub(crate) channel: ChannelId,
    pub(crate) person: UserId,
    child: Child,
}

impl Drop for Bare {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Bare {
    pub(crate) async fn start() -> Self {
        let double = Double::start(DoubleConfig::default())
            .await
            .expect("the double starts");
        let guild = double.guild("Bare Hall");
        let channel = double.channel(guild, ChannelKind::Text, "bare");
        let person = double.member(guild, "Pat Example");
        let child = Command::new(env!("CARGO_BIN_EXE_bare"))
            .args([double.url(), double.token().to_owned()])
            .stderr(Stdio::null())
            .spawn()
            .expect("the bare bot starts");
        double.await_commands().await;
        Self {
            double,
            channel,
            person,
            child,
        }
    }

    /// How long an answer takes, in milliseconds.
    pub(crate) async fn answer(&self) -> f64 {
        let act = self
            .double
            .command(self.channel, self.person, "due", &[])
            .expect("a command");
        act.first().await.took.as_secs_f64() * 1e3
    }

    pub(crate) fn pid(&self) -> u32 {
        self.child.id()
    }
}
