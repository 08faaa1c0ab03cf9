//! On the porch, what calls one person who is reminded alone is shown to them and to nobody else.

use super::{name, shared};
use crate::talk::settle;
use wrackline::chat::blocks::Block;
use wrackline::chat::plain;

#[tokio::test]
async fn what_calls_one_alone_is_theirs_alone_and_what_calls_several_is_everyones() {
    let mut house = shared().await;
    for carer in 1..=3 {
        house
            .say(&format!("/carer set {} private yes", name(carer)))
            .await;
    }
    for moment in [
        "03-03 08:00",
        "03-03 19:30",
        "03-03 20:00",
        "03-04 04:00",
        "03-04 08:00",
        "03-04 20:00",
        "03-05 12:00",
    ] {
        house.at(&format!("2026-{moment}"));
        settle(&house).await;
    }
    let rows = house
        .store
        .porch_after(house.place, 0, 1000)
        .await
        .expect("the porch");
    let (mut alone, mut common) = (0, 0);
    for row in rows {
        let body: serde_json::Value = serde_json::from_str(&row.body).expect("a body");
        let Ok(blocks) = serde_json::from_value::<Vec<Block>>(body["blocks"].clone()) else {
            continue;
        };
        let text = plain::text(&blocks);
        let called = blocks.iter().find_map(|block| match block {
            Block::For { carers } => Some(carers.as_slice()),
            _ => None,
        });
        match called {
            Some([carer]) => {
                alone += 1;
                assert_eq!(row.only_for, Some(*carer), "{text}");
                assert!(text.starts_with(&format!("{}: ", name(*carer))), "{text}");
            }
            Some(_) => {
                common += 1;
                assert_eq!(row.only_for, None, "{text}");
            }
            None => assert_eq!(row.only_for, None, "{text}"),
        }
    }
    assert!(
        alone > 0 && common > 0,
        "{alone} to one alone, {common} to several"
    );
}
