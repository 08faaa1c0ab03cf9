//! The gateway as a test turns it.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::platform::gateway::{Identify, Out};
use crate::platform::server::Double;
use crate::platform::state::{Shared, State};

/// The gateway in a test's hands.
#[derive(Clone, Debug)]
pub struct GatewayDial {
    shared: Arc<Shared>,
}

impl Double {
    /// The gateway.
    #[must_use]
    pub fn gateway(&self) -> GatewayDial {
        let shared = Arc::clone(&self.shared);
        GatewayDial { shared }
    }
}

impl GatewayDial {
    /// Waits until so many sessions are connected.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn connected(&self, sessions: usize) {
        let found = self.shared.until(|state| {
            let linked = state
                .gateway
                .sessions
                .values()
                .filter(|session| session.link.is_some());
            (linked.count() >= sessions).then_some(())
        });
        found.await.expect("the bot connects");
    }

    /// Sessions that are connected.
    #[must_use]
    pub fn sessions(&self) -> usize {
        self.shared.look(|state| {
            let linked = state
                .gateway
                .sessions
                .values()
                .filter(|session| session.link.is_some());
            linked.count()
        })
    }

    /// Waits until something was counted, such as `|counts| counts.resumes > 0`.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn until(&self, wanted: impl Fn(&GatewayCounts) -> bool) {
        let found = self.shared.until(|state| {
            let counts = counts(state);
            wanted(&counts).then_some(())
        });
        assert!(found.await.is_some(), "never as wanted: {:?}", self.counts());
    }

    /// What was counted so far.
    #[must_use]
    pub fn counts(&self) -> GatewayCounts {
        self.shared.look(counts)
    }

    /// Every identify so far.
    #[must_use]
    pub fn identifies(&self) -> Vec<Identify> {
        self.shared.look(|state| state.gateway.identifies.clone())
    }

    /// Asks all sessions to connect anew and to resume.
    pub fn reconnect(&self) {
        let frame = json!({"op": 7, "d": null}).to_string();
        self.shared
            .with(|state| state.gateway.send_all(&Out::Text(frame)));
    }

    /// Says to all sessions that they are invalid; whether they may resume.
    pub fn invalidate(&self, resumable: bool) {
        let frame = json!({"op": 9, "d": resumable}).to_string();
        self.shared.with(|state| {
            state.gateway.send_all(&Out::Text(frame));
            if !resumable {
                state.gateway.sessions.clear();
            }
        });
    }

    /// Forgets the sessions that nobody is connected to: their process is gone for ever.
    pub fn bury(&self) {
        self.shared.with(|state| {
            let sessions = &mut state.gateway.sessions;
            sessions.retain(|_, session| session.link.is_some());
        });
    }

    /// Cuts all connections without a word.
    pub fn cut(&self) {
        self.shared.with(|state| state.gateway.send_all(&Out::Cut));
    }

    /// Closes all connections with a code.
    pub fn close(&self, code: u16) {
        self.shared
            .with(|state| state.gateway.send_all(&Out::Close(code)));
    }

    /// Whether heartbeats are acknowledged from now on.
    pub fn acknowledge(&self, acknowledge: bool) {
        self.shared.with(|state| state.gateway.acks = acknowledge);
    }

    /// The next resume is refused: the session is gone.
    pub fn refuse_resume(&self) {
        self.shared.with(|state| state.gateway.refuse_resume = true);
    }

    /// Sends all sessions an event of a known name whose body cannot be decoded.
    pub fn broken_event(&self) {
        self.event("INTERACTION_CREATE", &json!({"id": [], "type": "two"}));
    }

    /// Sends all sessions an event of a name that nobody knows.
    pub fn unknown_event(&self) {
        self.event("TIDE_TURNED", &json!({"height": 3}));
    }

    /// Sends all connections a frame as it stands.
    pub fn frame(&self, text: &str) {
        self.shared
            .with(|state| state.gateway.send_all(&Out::Text(text.to_owned())));
    }

    /// All connections stay as they are, but nothing is read from them nor written to them any more.
    pub fn hush(&self) {
        self.shared.with(|state| state.gateway.send_all(&Out::Hush));
    }

    /// Whether everybody who wants to connect is turned away from now on.
    pub fn shut(&self, shut: bool) {
        self.shared.with(|state| state.gateway.shut = shut);
    }

    /// The bot is told to connect to this address from now on.
    pub fn elsewhere(&self, url: &str) {
        self.shared
            .with(|state| state.gateway.elsewhere = Some(url.to_owned()));
    }

    /// What people do comes without these fields from now on.
    pub fn leave_out(&self, fields: &[&str]) {
        let fields = fields.iter().map(|field| (*field).to_owned()).collect();
        self.shared.with(|state| state.gateway.left_out = fields);
    }

    /// Sends all sessions an event.
    pub fn event(&self, name: &str, data: &Value) {
        self.shared.with(|state| {
            for session in state.gateway.sessions.values_mut() {
                session.tell(name, data);
            }
        });
    }
}

/// What happened at the gateway so far.
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub struct GatewayCounts {
    /// New sessions.
    pub identifies: usize,
    /// Sessions taken up again.
    pub resumes: u32,
    /// Resumes of sessions that were gone.
    pub refused_resumes: u32,
    /// Heartbeats.
    pub heartbeats: u32,
    /// Connections.
    pub connections: u64,
}

fn counts(state: &State) -> GatewayCounts {
    GatewayCounts {
        identifies: state.gateway.identifies.len(),
        resumes: state.gateway.resumes,
        refused_resumes: state.gateway.refused_resumes,
        heartbeats: state.gateway.heartbeats,
        connections: state.gateway.connections,
    }
}
