//! What an answer or a post is made of, before any transport has seen it.

use serde::{Deserialize, Serialize};
use wrackline_core::care::Mark;

/// One piece of a message. Texts are plain: no transport may read markup in them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "block", rename_all = "snake_case")]
pub enum Block {
    /// The first line: it must be enough for a person with wet hands.
    Title {
        /// Its text.
        text: String,
    },
    /// A paragraph; line breaks are kept.
    Text {
        /// Its text.
        text: String,
    },
    /// Turns or other things, one a line, each perhaps with a mark and answers of its own.
    Items {
        /// The lines.
        items: Vec<Item>,
    },
    /// A table; the first column names the row.
    Table {
        /// The head of each column.
        head: Vec<String>,
        /// The rows, each as long as the head.
        rows: Vec<Vec<String>>,
    },
    /// A word of caution.
    Caution {
        /// Its text.
        text: String,
    },
    /// Whom the message is for: a transport that can call people by name calls these, and shows nothing else of it.
    For {
        /// The carers' numbers.
        carers: Vec<u32>,
    },
    /// A photo beside an entry, by the entry's number.
    Photo {
        /// The entry.
        seq: u64,
    },
    /// Answers to the message as a whole.
    Answers {
        /// The answers.
        answers: Vec<Press>,
    },
}

/// One line of a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    /// Its text.
    pub text: String,
    /// How the duty stands.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mark: Option<Mark>,
    /// Whether it is settled and shown as such.
    #[serde(default)]
    pub settled: bool,
    /// Its answers.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub answers: Vec<Press>,
}

/// Something to press.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Press {
    /// Its label, at most 80 characters.
    pub label: String,
    /// What comes back when it is pressed, at most 100 bytes.
    pub code: String,
    /// A question whose answer (a text) is to come back with the code.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub asks: Option<String>,
    /// What is typed where nothing can be pressed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub typed: Option<String>,
}

impl Press {
    /// The same, with what is typed where nothing can be pressed.
    #[must_use]
    pub fn typed(self, line: String) -> Self {
        Self {
            typed: Some(line),
            ..self
        }
    }
}

/// What a person is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// Whether the request was done; a refusal changed nothing.
    pub ok: bool,
    /// What it shows.
    pub blocks: Vec<Block>,
    /// Whether only the person who asked may see it.
    #[serde(default)]
    pub private: bool,
    /// Turns in machine-readable form, for `--json`.
    #[serde(default)]
    pub turns: Vec<serde_json::Value>,
}

impl Answer {
    /// Puts a danger before what else is told: it becomes the first line.
    pub fn put_first(&mut self, text: String) {
        if let Some(Block::Title { text }) = self.blocks.first().cloned() {
            self.blocks[0] = Block::Text { text };
        }
        self.blocks.insert(0, Block::Title { text });
    }
}
