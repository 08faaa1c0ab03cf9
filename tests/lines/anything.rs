//! Whatever is typed, there is an answer.

use proptest::prelude::*;
use wrackline::lines::{complete, parse};
use wrackline::words::Words;
use wrackline_core::place::Role;

use super::house::House;

/// Words that lines are made of, and some that they are not.
fn word() -> impl Strategy<Value = String> {
    let known: Vec<&str> = "did /read saw change part 50% north salt Tall and , all at 18:40 yesterday 2h ago by Ada \
         note \" 82% sg 1.0245 /enclosure add 400 L room gear filter every 3 days on Mon cron * from steps set duty"
        .split_whitespace()
        .collect();
    prop_oneof![4 => prop::sample::select(known).prop_map(str::to_owned), 1 => "\\PC{0,6}"]
}

proptest! {
    #[test]
    fn no_text_is_too_odd(text in "\\PC{0,60}", line in prop::collection::vec(word(), 0..12)) {
        let (house, words) = (House::usual(), Words::english());
        for line in [text, line.join(" ")] {
            // Every refusal has its words.
            if let Err(refusal) = parse(&line, &house.context()) {
                prop_assert!(words.has(&refusal.0.id), "{line}: {}", refusal.0.id);
                let said = words.say(&refusal.0);
                prop_assert!(!said.is_empty(), "{line}");
            }
            for role in [Role::Keeper, Role::Regular] {
                for (whole, hint) in complete(&line, &house.context(), role) {
                    prop_assert!(whole.starts_with('/') || !line.starts_with('/'), "{line}: {whole}");
                    prop_assert!(words.has(&hint.id), "{line}: {}", hint.id);
                }
            }
        }
    }

    #[test]
    fn case_never_matters(words in prop::collection::vec(word(), 0..10)) {
        let house = House::usual();
        // Notes and new names keep their case, so lines that hold them are compared without it.
        let shown = |line: &str| house.say(&Words::english(), line).to_lowercase();
        let line: String = words.join(" ").chars().filter(char::is_ascii).collect();
        prop_assert_eq!(shown(&line.to_ascii_lowercase()), shown(&line.to_ascii_uppercase()));
    }
}
