//! What happened in a run, in words: printed when the run fails, and hashed so that runs of one seed can be compared.

/// How many of the last events a failing run prints.
const SHOWN_MAX: usize = 30;

/// The events of one run.
pub(super) struct Trace {
    seed: u64,
    events: Vec<String>,
    /// What the run left behind: hashed, but too long to print.
    rest: String,
}

impl Trace {
    pub(super) fn new(seed: u64) -> Self {
        Self {
            seed,
            events: Vec::new(),
            rest: String::new(),
        }
    }

    pub(super) fn seal(&mut self, rest: String) {
        self.rest = rest;
    }

    pub(super) fn add(&mut self, event: String) {
        self.events.push(event);
    }

    /// FNV-1a over all events (Fowler, Noll & Vo): it is the same in every build and on every machine.
    pub(super) fn hash(&self) -> u64 {
        let bytes = self
            .events
            .iter()
            .flat_map(|event| event.bytes().chain([b'\n']))
            .chain(self.rest.bytes());
        bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        })
    }
}

impl Drop for Trace {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let from = self.events.len().saturating_sub(SHOWN_MAX);
            eprintln!(
                "seed {} failed; its last events:\n{}",
                self.seed,
                self.events[from..].join("\n")
            );
        }
    }
}
