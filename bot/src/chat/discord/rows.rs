//! What can be pressed, as rows of buttons and menus: at most 5 rows of 5 buttons or one menu of 25 options.

use std::collections::BTreeSet;

use serenity::all::{
    ButtonStyle, CreateActionRow, CreateButton, CreateSelectMenu, CreateSelectMenuKind,
    CreateSelectMenuOption,
};

use super::text::cut;
use crate::chat::blocks::{Block, Item, Press};

/// Rows in a message.
const ROWS_MAX: usize = 5;
/// Buttons in a row.
const BUTTONS_MAX: usize = 5;
/// Options of a menu.
const OPTIONS_MAX: usize = 25;
/// Letters of a button's label.
const LABEL_CHARS_MAX: usize = 80;
/// Letters of an option's label and of its description.
const OPTION_CHARS_MAX: usize = 100;
/// Bytes of what comes back.
const CODE_BYTES_MAX: usize = 100;
/// What stands before the number in a menu's own code: what is chosen there is the code that counts.
pub const MENU: &str = "menu.";
/// What stands between a code and the message's reference.
const MARK: char = '|';

/// The words on menus.
#[derive(Clone, Copy, Debug)]
pub struct MenuWords<'a> {
    /// On a menu of turns that are done.
    pub done: &'a str,
    /// On a menu of other answers.
    pub other: &'a str,
}

/// One thing to press, with the number of its line where there are several.
struct Offer<'a> {
    number: Option<usize>,
    item: &'a Item,
    press: &'a Press,
}

impl Offer<'_> {
    fn label(&self) -> String {
        match self.number {
            Some(number) => format!("{number} · {}", self.press.label),
            None => self.press.label.clone(),
        }
    }
}

/// The rows of a message. `reference` is put behind each code, so that the message can be told by its rows.
#[must_use]
pub fn rows(blocks: &[Block], reference: Option<&str>, words: MenuWords<'_>) -> Vec<CreateActionRow> {
    let items: Vec<&Item> = blocks.iter().flat_map(items_of).collect();
    let several = items.len() > 1;
    let offers: Vec<Vec<Offer<'_>>> = (1..)
        .zip(items)
        .map(|(number, item)| {
            let offer = |press| Offer {
                number: several.then_some(number),
                item,
                press,
            };
            item.answers.iter().map(offer).collect()
        })
        .filter(|offers: &Vec<_>| !offers.is_empty())
        .collect();
    let whole: Vec<&Press> = blocks.iter().flat_map(answers_of).collect();
    let mut making = Making {
        reference,
        taken: BTreeSet::new(),
        rows: Vec::new(),
    };
    let whole_rows = whole.len().div_ceil(BUTTONS_MAX);
    let own_rows: usize = offers
        .iter()
        .map(|offers| offers.len().div_ceil(BUTTONS_MAX))
        .sum();
    making.whole(&whole);
    if own_rows + whole_rows <= ROWS_MAX {
        for offers in &offers {
            making.buttons(offers.iter().map(|offer| (offer.label(), offer.press)));
        }
    } else {
        making.crowd(&offers, words);
    }
    making.rows.truncate(ROWS_MAX);
    making.rows
}

fn items_of(block: &Block) -> &[Item] {
    match block {
        Block::Items { items } => items,
        _ => &[],
    }
}

fn answers_of(block: &Block) -> &[Press] {
    match block {
        Block::Answers { answers } => answers,
        _ => &[],
    }
}

struct Making<'a> {
    reference: Option<&'a str>,
    taken: BTreeSet<String>,
    rows: Vec<CreateActionRow>,
}

impl Making<'_> {
    /// The code as it is put on the message; `None` when it stands there already or is too long to come back.
    fn code(&mut self, code: &str) -> Option<String> {
        let marked = self.reference.map(|reference| format!("{code}{MARK}{reference}"));
        let full = marked
            .filter(|full| full.len() <= CODE_BYTES_MAX)
            .unwrap_or_else(|| code.to_owned());
        (full.len() <= CODE_BYTES_MAX && self.taken.insert(full.clone())).then_some(full)
    }

    fn whole(&mut self, presses: &[&Press]) {
        self.buttons(presses.iter().map(|press| (press.label.clone(), *press)));
    }

    fn buttons<'p>(&mut self, presses: impl Iterator<Item = (String, &'p Press)>) {
        let mut buttons = Vec::new();
        for (at, (label, press)) in presses.enumerate() {
            let Some(code) = self.code(&press.code) else {
                continue;
            };
            let style = if at == 0 {
                ButtonStyle::Primary
            } else {
                ButtonStyle::Secondary
            };
            buttons.push(
                CreateButton::new(code)
                    .label(cut(&label, LABEL_CHARS_MAX))
                    .style(style),
            );
        }
        for row in buttons.chunks(BUTTONS_MAX) {
            self.rows.push(CreateActionRow::Buttons(row.to_vec()));
        }
    }

    /// More turns than buttons fit: the first answer of each as buttons as long as these fit, else in menus; the
    /// other answers in menus.
    fn crowd(&mut self, offers: &[Vec<Offer<'_>>], words: MenuWords<'_>) {
        let firsts: Vec<&Offer<'_>> = offers.iter().filter_map(|offers| offers.first()).collect();
        let others: Vec<&Offer<'_>> = offers.iter().flat_map(|offers| offers.iter().skip(1)).collect();
        let other_rows = others.len().div_ceil(OPTIONS_MAX);
        let left = ROWS_MAX.saturating_sub(self.rows.len());
        if firsts.len().div_ceil(BUTTONS_MAX) + other_rows <= left {
            self.buttons(firsts.iter().map(|offer| (offer.label(), offer.press)));
        } else {
            self.menus(&firsts, words.done);
        }
        self.menus(&others, words.other);
    }

    fn menus(&mut self, offers: &[&Offer<'_>], placeholder: &str) {
        for offers in offers.chunks(OPTIONS_MAX) {
            let mut values = BTreeSet::new();
            let options: Vec<CreateSelectMenuOption> = offers
                .iter()
                .filter(|offer| offer.press.code.len() <= CODE_BYTES_MAX)
                .filter(|offer| values.insert(offer.press.code.clone()))
                .map(|offer| {
                    CreateSelectMenuOption::new(cut(&offer.label(), OPTION_CHARS_MAX), &offer.press.code)
                        .description(cut(&offer.item.text, OPTION_CHARS_MAX))
                })
                .collect();
            let number = self.rows.len();
            let Some(code) = self
                .code(&format!("{MENU}{number}"))
                .filter(|_| !options.is_empty())
            else {
                continue;
            };
            let menu = CreateSelectMenu::new(code, CreateSelectMenuKind::String { options })
                .placeholder(placeholder)
                .min_values(1)
                .max_values(1);
            self.rows.push(CreateActionRow::SelectMenu(menu));
        }
    }
}

/// The code that was put on a message, without the message's reference.
#[must_use]
pub fn code_of(custom_id: &str) -> &str {
    custom_id.split_once(MARK).map_or(custom_id, |(code, _)| code)
}

/// Whether a code on a message names the message's reference.
#[must_use]
pub fn names_reference(custom_id: &str, reference: &str) -> bool {
    custom_id
        .split_once(MARK)
        .is_some_and(|(_, named)| named == reference)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORDS: MenuWords<'_> = MenuWords {
        done: "Did it: which?",
        other: "Another answer",
    };

    fn press(label: &str, code: String) -> Press {
        Press {
            label: label.to_owned(),
            code,
            asks: None,
            typed: None,
        }
    }

    fn round(turns: usize) -> Vec<Block> {
        let item = |number: usize| Item {
            text: format!("{number} · Hall, Dune salt: change · Maren"),
            mark: None,
            settled: false,
            answers: ["did", "later", "cannot", "notneeded"]
                .map(|verb| press(verb, format!("{verb}.change.p{number}.{number}")))
                .to_vec(),
        };
        let items = (1..=turns).map(item).collect();
        let answers = vec![
            press("All done", "all.7".to_owned()),
            press("All but…", "but.7".to_owned()),
        ];
        vec![Block::Items { items }, Block::Answers { answers }]
    }

    /// The codes that can come back from a message, and the number of buttons and menus.
    fn check(turns: usize) -> (BTreeSet<String>, usize, usize) {
        let rows = rows(&round(turns), Some("abcdefghijkl"), WORDS);
        assert!(rows.len() <= ROWS_MAX, "{turns}: {} rows", rows.len());
        let (mut codes, mut buttons, mut menus) = (BTreeSet::new(), 0, 0);
        for row in serde_json::to_value(&rows)
            .expect("rows")
            .as_array()
            .expect("a list")
        {
            let parts = row["components"].as_array().expect("parts");
            assert!((1..=BUTTONS_MAX).contains(&parts.len()), "{turns}: {parts:?}");
            for part in parts {
                let id = part["custom_id"].as_str().expect("an id");
                assert!(names_reference(id, "abcdefghijkl"), "{id}");
                match part["options"].as_array() {
                    Some(options) => {
                        menus += 1;
                        assert!((1..=OPTIONS_MAX).contains(&options.len()), "{turns}");
                        codes.extend(
                            options
                                .iter()
                                .map(|one| one["value"].as_str().expect("a value").to_owned()),
                        );
                    }
                    None => {
                        buttons += 1;
                        assert!(codes.insert(code_of(id).to_owned()), "{id} stands twice");
                    }
                }
            }
        }
        (codes, buttons, menus)
    }

    #[test]
    fn every_answer_can_be_given() {
        for turns in 1..=25 {
            let (codes, buttons, menus) = check(turns);
            assert_eq!(codes.len(), turns * 4 + 2, "{turns} turns");
            assert_eq!(
                menus == 0,
                turns <= 4,
                "{turns} turns: {buttons} buttons and {menus} menus"
            );
        }
    }

    #[test]
    fn a_crowd_can_at_least_say_that_it_is_done() {
        let (codes, ..) = check(50);
        let done = codes.iter().filter(|code| code.starts_with("did.")).count();
        assert_eq!(done, 50);
        assert!(codes.contains("all.7"));
    }
}
