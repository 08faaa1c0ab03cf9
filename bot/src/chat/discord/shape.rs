//! Blocks as the platform's messages: content, further text in embeds, rows to press, and who may be called by it.

use serde_json::Value;
use serenity::all::{
    CreateActionRow, CreateAllowedMentions, CreateEmbed, CreateInteractionResponseFollowup,
    CreateInteractionResponseMessage, CreateMessage, EditInteractionResponse, EditMessage, MessageFlags,
    Nonce, UserId,
};

use super::rows::{MenuWords, names_reference, rows};
use super::text;
use crate::chat::blocks::Block;
use crate::chat::pages::pages;
use crate::msg;
use crate::words::{Message, Words};

/// Letters in a message's content.
pub const CONTENT_CHARS_MAX: usize = 2_000;
/// Letters in an embed's description.
const EMBED_CHARS_MAX: usize = 4_000;
/// Letters in all embeds of a message.
const EMBEDS_CHARS_MAX: usize = 6_000;
/// How long the plain text of a page is at most, tried in this order: telling markup apart may double a text.
const PAGE_CHARS: [usize; 4] = [1_900, 1_600, 1_300, 900];

/// What one message shows.
#[derive(Clone, Debug)]
pub struct Shape {
    content: String,
    embeds: Vec<String>,
    rows: Vec<CreateActionRow>,
    calls: Vec<UserId>,
}

/// An answer to one person, as one message or several.
#[must_use]
pub fn answer(blocks: &[Block], words: &Words) -> Vec<Shape> {
    let shapes = |chars_max| -> Vec<Shape> {
        let pages = pages(blocks, chars_max);
        pages.iter().map(|page| page_shape(page, words)).collect()
    };
    let fits = |shapes: &Vec<Shape>| {
        shapes
            .iter()
            .all(|shape| chars(&shape.content) <= CONTENT_CHARS_MAX)
    };
    let mut tried = PAGE_CHARS.into_iter().map(shapes);
    let found = tried.find(fits).unwrap_or_default();
    if found.is_empty() {
        // Nothing to show would be refused by the platform.
        return vec![Shape::of("…".to_owned())];
    }
    found
}

fn page_shape(blocks: &[Block], words: &Words) -> Shape {
    Shape {
        rows: rows_of(blocks, None, words),
        ..Shape::of(said(blocks, words))
    }
}

/// A post: one message, however long. `reference` stands on it, so that it can be found again.
#[must_use]
pub fn post(blocks: &[Block], reference: &str, calls: Vec<UserId>, words: &Words) -> Shape {
    let rows = rows_of(blocks, Some(reference), words);
    let mut end = String::new();
    if !calls.is_empty() {
        let named: Vec<String> = calls.iter().map(|user| format!("<@{user}>")).collect();
        end = format!("\n{}", named.join(" "));
    }
    if !rows_name(&rows, reference) {
        end = format!("{end}\n-# {reference}");
    }
    let whole = said(blocks, words) + &end;
    if chars(&whole) <= CONTENT_CHARS_MAX {
        return Shape {
            rows,
            calls,
            ..Shape::of(whole)
        };
    }
    let (first, rest) = blocks.split_at(1.min(blocks.len()));
    let room = CONTENT_CHARS_MAX - chars(&end);
    Shape {
        content: text::cut(&said(first, words), room) + &end,
        embeds: embeds(rest, words),
        rows,
        calls,
    }
}

/// What does not fit the content, and a word where even this is not enough.
fn embeds(blocks: &[Block], words: &Words) -> Vec<String> {
    let more = words.say(&Message::new("post-more"));
    let texts = |chars_max| -> Vec<String> {
        let pages = pages(blocks, chars_max);
        pages.iter().map(|page| said(page, words)).collect()
    };
    let fits = |texts: &Vec<String>| texts.iter().all(|text| chars(text) <= EMBED_CHARS_MAX);
    let all = [3_800, 2_800, 1_900]
        .into_iter()
        .map(texts)
        .find(fits)
        .unwrap_or_default();
    let mut kept = Vec::new();
    let mut room = EMBEDS_CHARS_MAX - chars(&more) - 1;
    for text in all {
        let size = chars(&text);
        if size > room {
            let mut cut: Vec<&str> = Vec::new();
            let mut left = room;
            for line in text.lines().take_while(|line| !line.starts_with("```")) {
                let size = chars(line) + 1;
                if size > left {
                    break;
                }
                left -= size;
                cut.push(line);
            }
            cut.push(&more);
            kept.push(cut.join("\n"));
            break;
        }
        room -= size;
        kept.push(text);
    }
    kept
}

fn chars(text: &str) -> usize {
    text.chars().count()
}

fn said(blocks: &[Block], words: &Words) -> String {
    let photo = |seq: u64| words.say(&msg!("photo-with", seq = seq.to_string()));
    let texts: Vec<String> = blocks
        .iter()
        .filter_map(|block| text::block(block, photo))
        .collect();
    texts.join("\n")
}

fn rows_of(blocks: &[Block], reference: Option<&str>, words: &Words) -> Vec<CreateActionRow> {
    let done = words.say(&Message::new("menu-done"));
    let other = words.say(&Message::new("menu-other"));
    let words = MenuWords {
        done: &done,
        other: &other,
    };
    rows(blocks, reference, words)
}

fn rows_name(rows: &[CreateActionRow], reference: &str) -> bool {
    let rows = serde_json::to_value(rows).unwrap_or_default();
    message_names(&serde_json::json!({ "components": rows }), reference)
}

/// Whether a message of the platform carries a reference, on its rows or in its small print.
#[must_use]
pub fn message_names(message: &Value, reference: &str) -> bool {
    let content = message["content"].as_str().unwrap_or_default();
    if content.lines().last() == Some(&format!("-# {reference}")) {
        return true;
    }
    let rows = message["components"].as_array().into_iter().flatten();
    let mut parts = rows.flat_map(|row| row["components"].as_array().into_iter().flatten());
    parts.any(|part| {
        part["custom_id"]
            .as_str()
            .is_some_and(|id| names_reference(id, reference))
    })
}

impl Shape {
    /// A message of a text alone, in the platform's markup.
    #[must_use]
    pub fn of(content: String) -> Self {
        Self {
            content,
            embeds: Vec::new(),
            rows: Vec::new(),
            calls: Vec::new(),
        }
    }

    /// Whom the message may call: those who were meant, never whom a person wrote into it.
    fn mentions(&self) -> CreateAllowedMentions {
        CreateAllowedMentions::new().users(self.calls.clone())
    }

    fn embedded(&self) -> Vec<CreateEmbed> {
        self.embeds
            .iter()
            .map(|text| CreateEmbed::new().description(text))
            .collect()
    }

    /// The body that makes a message in a channel.
    #[must_use]
    pub fn create(&self, nonce: &str) -> Value {
        let message = CreateMessage::new()
            .content(&self.content)
            .embeds(self.embedded())
            .components(self.rows.clone())
            .allowed_mentions(self.mentions())
            .nonce(Nonce::String(nonce.to_owned()))
            .enforce_nonce(true);
        json(&message)
    }

    /// The body that replaces what a message in a channel shows.
    #[must_use]
    pub fn edit(&self) -> Value {
        let message = EditMessage::new()
            .content(&self.content)
            .embeds(self.embedded())
            .components(self.rows.clone())
            .allowed_mentions(self.mentions());
        json(&message)
    }

    /// The message that answers an interaction.
    pub fn response(&self, private: bool) -> CreateInteractionResponseMessage {
        CreateInteractionResponseMessage::new()
            .content(&self.content)
            .embeds(self.embedded())
            .components(self.rows.clone())
            .allowed_mentions(self.mentions())
            .ephemeral(private)
    }

    /// The body that fills in an answer that was put off.
    #[must_use]
    pub fn fill_in(&self) -> Value {
        let message = EditInteractionResponse::new()
            .content(&self.content)
            .embeds(self.embedded())
            .components(self.rows.clone())
            .allowed_mentions(self.mentions());
        json(&message)
    }

    /// The body of a further message behind an answer.
    #[must_use]
    pub fn follow_up(&self, private: bool) -> Value {
        let mut message = CreateInteractionResponseFollowup::new()
            .content(&self.content)
            .embeds(self.embedded())
            .components(self.rows.clone())
            .allowed_mentions(self.mentions());
        if private {
            message = message.flags(MessageFlags::EPHEMERAL);
        }
        json(&message)
    }
}

/// A builder as JSON.
pub(super) fn json(builder: &impl serde::Serialize) -> Value {
    serde_json::to_value(builder).expect("a builder becomes JSON")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chat::blocks::{Item, Press};

    fn text(text: impl Into<String>) -> Block {
        Block::Text { text: text.into() }
    }

    fn long_call(turns: usize) -> Vec<Block> {
        let item = |number: usize| Item {
            text: format!(
                "{number} · Hall, the enclosure by the window, salt: change · Maren, `late` since *Friday*"
            ),
            mark: None,
            settled: false,
            answers: vec![Press {
                label: "Did it".to_owned(),
                code: format!("did.change.p{number}.1"),
                asks: None,
                typed: None,
            }],
        };
        let title = Block::Title {
            text: "Morning round".to_owned(),
        };
        vec![
            title,
            Block::Items {
                items: (1..=turns).map(item).collect(),
            },
        ]
    }

    /// A post of so many turns; letters in its content and in its embeds.
    fn check(turns: usize) -> (usize, usize, Value) {
        let body = post(&long_call(turns), "abcdefghijkl", Vec::new(), &Words::english()).create("nonce");
        let embeds = body["embeds"].as_array().expect("embeds");
        let texts = embeds
            .iter()
            .map(|embed| embed["description"].as_str().expect("a text"));
        let sizes: Vec<usize> = texts.map(chars).collect();
        assert!(
            sizes.iter().all(|size| (1..=4_096).contains(size)),
            "{turns}: {sizes:?}"
        );
        let content = chars(body["content"].as_str().expect("a content"));
        (content, sizes.iter().sum(), body)
    }

    #[test]
    fn a_post_is_one_message_however_long() {
        for turns in [1, 15, 30, 60, 120] {
            let (content, embedded, body) = check(turns);
            assert!((1..=CONTENT_CHARS_MAX).contains(&content), "{turns}: {content}");
            assert!(embedded <= 6_000, "{turns}: {embedded}");
            assert!(message_names(&body, "abcdefghijkl"), "{turns}");
            assert!(!message_names(&body, "lkjihgfedcba"), "{turns}");
            let whole = format!("{}{}", body["content"], body["embeds"]);
            let all_there = (1..=turns).all(|number| whole.contains(&format!("{number} · Hall")));
            assert!(
                all_there || whole.contains("/due"),
                "{turns}: neither whole nor said to be cut"
            );
            assert_eq!(all_there, turns <= 60, "{turns}");
        }
    }

    #[test]
    fn a_post_without_anything_to_press_is_told_by_its_small_print() {
        let words = Words::english();
        let body = post(&[text("The week")], "abcdefghijkl", Vec::new(), &words).create("nonce");
        assert_eq!(body["content"], "The week\n-# abcdefghijkl");
        assert!(message_names(&body, "abcdefghijkl"));
        // Small print that a person typed stands escaped, and names nothing.
        let typed = post(&[text("-# abcdefghijkl")], "000000000000", Vec::new(), &words).create("nonce");
        assert!(!message_names(&typed, "abcdefghijkl"));
    }

    #[test]
    fn only_those_who_were_meant_are_called() {
        let words = Words::english();
        let body = post(
            &[text("Ask <@7> or @everyone")],
            "r",
            vec![UserId::new(9)],
            &words,
        )
        .create("nonce");
        assert_eq!(
            body["allowed_mentions"],
            serde_json::json!({"parse": [], "users": ["9"], "roles": []})
        );
        assert_eq!(body["content"], "Ask \\<@7> or @everyone\n<@9>\n-# r");
    }

    #[test]
    fn a_long_answer_comes_in_messages_that_each_fit() {
        let blocks = vec![text("*".repeat(1_500)), text("word ".repeat(1_000))];
        let shapes = answer(&blocks, &Words::english());
        assert!(shapes.len() >= 4, "{}", shapes.len());
        for shape in &shapes {
            assert!((1..=CONTENT_CHARS_MAX).contains(&chars(&shape.content)));
        }
        assert_eq!(
            answer(&[], &Words::english()).len(),
            1,
            "nothing to show is shown as something"
        );
    }
}
