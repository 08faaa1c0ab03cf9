//! The program as a whole: what a person at a shell types, and what comes back.

mod cases;
mod copies;
mod health;
mod json;
mod lines;
mod postgres;
mod refusals;
mod serving;
mod settings;
mod tour;
mod turns;
mod unwritable;

use std::path::Path;

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, Row};
use wrackline_tests::binary::Shell;

/// A practice place as most tests want it: rounds in the morning and the evening, North with both pools, Bea.
fn north() -> Shell {
    let shell = Shell::practice("America/New_York");
    for line in [
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Bea regular",
        "/enclosure add North 400 L crabs 4 smallest 2 cm largest 5 cm",
        "/pool add north fresh 8 L",
        "/pool add north salt 8 L",
    ] {
        shell.say("2026-03-01T12:00", line).done();
    }
    shell
}

/// How many rows a query counts in a database, read beside the program.
async fn count(database: &Path, query: &'static str) -> i64 {
    let options = SqliteConnectOptions::new().filename(database).read_only(true);
    let mut conn = options.connect().await.expect("the database opens");
    let row = sqlx::query(query).fetch_one(&mut conn).await.expect("a count");
    conn.close().await.expect("it closes");
    row.get(0)
}

/// How many entries people have made in all journals of a database.
async fn entries(database: &Path) -> i64 {
    // Those of the house come when its moment comes.
    count(
        database,
        "SELECT count(*) FROM entry WHERE body NOT LIKE '{\"published\"%' AND body NOT LIKE '{\"shared\"%'",
    )
    .await
}

/// Holds that the stored marks are what the journal says.
#[track_caller]
fn verified(shell: &Shell) {
    assert_eq!(shell.run(&["verify"]).done(), "0 differences\n");
}
