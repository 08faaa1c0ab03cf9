//! The main job through the group-chat platform: what people do there, and what they see, on the platform's double.

mod alone;
mod answering;
mod as_typed;
mod channels;
mod codes;
mod crowded;
mod every_line;
mod late;
mod lines;
mod linking;
mod mischief;
mod people;
mod photos;
mod pictures;
mod registered;
mod round;
mod scenes;
mod sickness;
mod strangers;
mod together;
mod turns;
mod twice;
mod typing;

use wrackline_tests::platform::{GuildId, Message, Opt, UserId};
use wrackline_tests::stage::Stage;

/// What a person reads: the signs that keep a letter from being markup are not shown.
fn read(message: &Message) -> String {
    let text = message.text();
    let mut letters = text.chars();
    let mut shown = String::new();
    while let Some(letter) = letters.next() {
        shown.extend(if letter == '\\' {
            letters.next()
        } else {
            Some(letter)
        });
    }
    shown
}

/// Says a line that is to be refused: the refusal, for the eyes of the one who said it alone.
async fn refused(stage: &Stage, by: UserId, line: &str, options: &[Opt]) -> String {
    let answer = stage.say(by, line, options).await;
    let text = read(&answer);
    assert!(answer.ephemeral, "/{line} is refused before all eyes: {text}");
    assert!(answer.calls_nobody() && answer.shown().is_empty(), "{text}");
    assert!(
        !text.trim_matches('*').contains('\n'),
        "more than one sentence: {text}"
    );
    text
}

/// Says a line that is to be done: the answer, for all eyes.
async fn done(stage: &Stage, by: UserId, line: &str, options: &[Opt]) -> String {
    let answer = stage.say(by, line, options).await;
    let text = read(&answer);
    assert!(!answer.ephemeral, "/{line}: {text}");
    text
}

/// How many entries the server's place has.
async fn entries(stage: &Stage) -> usize {
    let tail = stage.store.tail(stage.place().await, 0).await;
    // Those of the house come when its moment comes.
    let all = tail.expect("the store answers").entries;
    all.iter().filter(|row| row.by != 0).count()
}

/// The number of the last entry that says so.
async fn last_entry(stage: &Stage, kind: &str) -> i64 {
    let tail = stage.store.tail(stage.place().await, 0).await;
    let entries = tail.expect("the store answers").entries;
    let says_so = |row: &&wrackline::store::EntryRow| row.body.starts_with(&format!("{{\"{kind}\""));
    entries.iter().rev().find(says_so).expect("such an entry").seq
}

/// Whether a server has a place.
async fn has_place(stage: &Stage, guild: GuildId) -> bool {
    let server = i64::try_from(guild.0).expect("a number");
    let found = stage.store.place_of_server(server).await;
    found.expect("the store answers").is_some()
}
