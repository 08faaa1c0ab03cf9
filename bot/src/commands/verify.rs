//! `wrackline verify`: every stored mark is computed anew from the journal.

use super::{Failure, Outcome, open_existing, print};
use crate::config::Config;
use crate::engine::stored_standings;
use crate::shelf::Shelf;
use crate::store::{PlaceId, Store};

/// Verifies all places and prints the number of differences.
///
/// # Errors
/// Refused when there are differences; broken when the store cannot be used.
pub async fn run(config: &Config) -> Outcome {
    let store = open_existing(config).await?;
    let mut sum = 0;
    for place in store.places().await? {
        let found = differences(&store, place).await?;
        for line in &found {
            print(&format!("place {place}: {line}"));
        }
        sum += found.len();
    }
    store.close().await;
    print(&format!("{sum} differences"));
    if sum == 0 {
        Ok(())
    } else {
        Err(Failure::Refused(
            "The stored marks are not what the journal says.".to_owned(),
        ))
    }
}

/// How the stored marks of a place differ from those that its journal gives.
///
/// # Errors
/// Those of the store.
pub async fn differences(
    store: &std::sync::Arc<dyn Store>,
    place: PlaceId,
) -> crate::store::Result<Vec<String>> {
    let held = Shelf::new(store.clone()).open(place).await?;
    let stored = store.standings(place).await?;
    let computed = stored_standings(&held);
    if stored.is_empty() && held.head.seen_at_ms == 0 {
        // Nothing was ever stored: a place that was just made.
        return Ok(Vec::new());
    }
    let mut found = Vec::new();
    for row in &computed {
        match stored.iter().find(|one| one.turn == row.turn) {
            None => found.push(format!("{} is not stored", row.turn)),
            Some(one) if one != row => found.push(format!("{} is stored otherwise", row.turn)),
            Some(_) => {}
        }
    }
    let known = |turn: &str| computed.iter().any(|row| row.turn == turn);
    found.extend(
        stored
            .iter()
            .filter(|row| !known(&row.turn))
            .map(|row| format!("{} is stored in vain", row.turn)),
    );
    Ok(found)
}
