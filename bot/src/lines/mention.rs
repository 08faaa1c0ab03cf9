//! Channels and members of the chat platform, in the form in which it writes them.

use super::parse::Call;
use super::table::Kind;
use super::token::{Token, join};
use super::{Refusal, refuse};
use crate::msg;

/// The number in `<#123>`, `<@123>` or `<@!123>`; `None` when the word is none of the kind.
pub(super) fn number(kind: Kind, word: &Token) -> Option<i64> {
    let inner = word.text.strip_prefix('<')?.strip_suffix('>')?;
    let digits = match kind {
        Kind::Channel => inner.strip_prefix('#')?,
        Kind::Member => {
            let member = inner.strip_prefix('@')?;
            member.strip_prefix('!').unwrap_or(member)
        }
        _ => return None,
    };
    let plain = !word.quoted && digits.bytes().all(|digit| digit.is_ascii_digit());
    digits.parse().ok().filter(|number| plain && *number > 0)
}

/// That words are no member.
pub(super) fn unknown(words: &[Token]) -> Refusal {
    refuse(msg!("no-member-unknown", text = join(words)))
}

/// A channel or a member behind its small word, or the first among the bare words, which it is taken from.
pub(super) fn take(call: &mut Call<'_>, name: &'static str, kind: Kind) -> Option<i64> {
    if !call.args.has(name) {
        let bare = &call.args.bare;
        let at = bare.iter().position(|word| number(kind, word).is_some())?;
        call.args.take(name, at, at + 1);
    }
    call.args.get(name)?.first().and_then(|word| number(kind, word))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lines::token::tokens;

    #[test]
    fn check_mentions() {
        for (text, kind, expected) in [
            ("<#123>", Kind::Channel, Some(123)),
            ("<@123>", Kind::Member, Some(123)),
            ("<@!123>", Kind::Member, Some(123)),
            (
                "<@1234567890123456789>",
                Kind::Member,
                Some(1_234_567_890_123_456_789),
            ),
            ("<@123>", Kind::Channel, None),
            ("<#123>", Kind::Member, None),
            ("<@&123>", Kind::Member, None),
            ("<@>", Kind::Member, None),
            ("<@0>", Kind::Member, None),
            ("<@-1>", Kind::Member, None),
            ("<@+1>", Kind::Member, None),
            ("<@99999999999999999999>", Kind::Member, None),
            ("\"<@123>\"", Kind::Member, None),
            ("@123", Kind::Member, None),
        ] {
            let words = tokens(text);
            assert_eq!(number(kind, &words[0]), expected, "{text}");
        }
    }
}
