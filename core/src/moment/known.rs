//! Which items are new, by the keys that whoever holds the store knows.

use super::calls::{again_key, left_out_key, person_key, unnamed_key};
use super::{Item, What};

impl Item {
    /// The key that has to be known before this calls for anything: whoever a step named is not called for it later.
    #[must_use]
    pub fn after(&self) -> Option<String> {
        let What::Woken(_, _, carer) = self.what else {
            return None;
        };
        if let Some(step) = self.key.strip_suffix(&again_key("", carer)) {
            return Some(unnamed_key(step, carer));
        }
        let step = self.key.strip_suffix(&person_key("", carer))?;
        Some(left_out_key(step, carer))
    }

    /// Whether it calls for a post, by what is known.
    fn is_new(&self, is_known: impl Fn(&str) -> bool) -> bool {
        !is_known(&self.key) && self.after().is_none_or(|key| is_known(&key))
    }
}

/// The keys by which it is told which items are new.
#[must_use]
pub fn asked_keys(items: &[Item]) -> Vec<String> {
    let keys = items
        .iter()
        .flat_map(|item| std::iter::once(item.key.clone()).chain(item.after()));
    keys.collect()
}

/// The items that are new, by what is known of [`asked_keys`].
#[must_use]
pub fn new_items(mut items: Vec<Item>, is_known: impl Fn(&str) -> bool) -> Vec<Item> {
    items.retain(|item| item.is_new(&is_known));
    items
}
