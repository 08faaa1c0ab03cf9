//! The journal and what lies beside it, read back.

use wrackline::store::{Change, EntryRow, PhotoRow, StandingRow, StoreError};

use super::{Case, entries, entry};

checks![
    entries_come_back_as_written_and_in_order,
    the_tail_starts_after_the_entry_asked_for,
    names_are_replaced_carer_by_carer,
    notes_belong_to_entries_and_come_with_them,
    a_photo_comes_back_byte_for_byte,
    what_lies_beside_an_entry_needs_the_entry,
    marks_are_replaced_as_a_whole,
    places_share_nothing_beside_their_journals,
];

async fn entries_come_back_as_written_and_in_order(case: &Case<'_>) {
    let odd = EntryRow {
        seq: 4,
        at_ms: -1,
        logged_at_ms: i64::MAX,
        by: u32::MAX,
        said_by: 0,
        body: "{\"text\":\"it's 7 °C; \\\"no\\\" -- 水 🦀\"}".to_owned(),
    };
    let place = case.place_with(&entries(1..=3)).await;
    case.commit(
        place,
        &Change {
            entries: vec![odd.clone()],
            ..Change::default()
        },
    )
    .await;
    let tail = case.store.tail(place, 0).await.expect("a tail");
    assert_eq!(tail.entries, [entry(1), entry(2), entry(3), odd]);
    assert_eq!((tail.head.version, tail.head.last_seq), (2, 4));
}

async fn the_tail_starts_after_the_entry_asked_for(case: &Case<'_>) {
    let place = case.place_with(&entries(1..=3)).await;
    let after = async |seq| case.store.tail(place, seq).await.expect("a tail").entries;
    assert_eq!(after(2).await, [entry(3)]);
    assert!(after(3).await.is_empty());
    assert!(after(99).await.is_empty());
}

async fn names_are_replaced_carer_by_carer(case: &Case<'_>) {
    let named = |names: &[(u32, &str)]| Change {
        names: names
            .iter()
            .map(|(carer, name)| (*carer, (*name).to_owned()))
            .collect(),
        ..entries([])
    };
    let place = case.place_with(&named(&[(7, "Ilja"), (3, "Maren")])).await;
    case.commit(place, &named(&[(3, "Maren H.")])).await;
    let names = case.store.tail(place, 99).await.expect("a tail").names;
    assert_eq!(
        names,
        [(3, "Maren H.".to_owned()), (7, "Ilja".to_owned())],
        "all names, whatever is asked for"
    );
}

async fn notes_belong_to_entries_and_come_with_them(case: &Case<'_>) {
    let note = |seq: i64, text: &str| (seq, text.to_owned());
    let place = case
        .place_with(&Change {
            notes: vec![note(2, "cloudy")],
            ..entries(1..=3)
        })
        .await;
    case.commit(
        place,
        &Change {
            notes: vec![note(3, "shell moved"), note(2, "clear")],
            ..entries([])
        },
    )
    .await;
    let after = async |seq| case.store.tail(place, seq).await.expect("a tail").notes;
    assert_eq!(after(0).await, [note(2, "clear"), note(3, "shell moved")]);
    assert_eq!(after(2).await, [note(3, "shell moved")]);
}

async fn a_photo_comes_back_byte_for_byte(case: &Case<'_>) {
    let photo = |bytes: Vec<u8>| PhotoRow {
        seq: 1,
        media_type: "image/png".to_owned(),
        bytes,
    };
    let first = photo((0..100_000_u32).map(|n| (n % 256) as u8).collect());
    let place = case
        .place_with(&Change {
            photos: vec![first.clone()],
            ..entries(1..=2)
        })
        .await;
    assert_eq!(case.store.photo(place, 1).await.expect("a photo"), Some(first));
    assert_eq!(case.store.photo(place, 2).await.expect("a photo"), None);
    let second = photo(Vec::new());
    case.commit(
        place,
        &Change {
            photos: vec![second.clone()],
            ..entries([])
        },
    )
    .await;
    assert_eq!(case.store.photo(place, 1).await.expect("a photo"), Some(second));
}

async fn what_lies_beside_an_entry_needs_the_entry(case: &Case<'_>) {
    let place = case.place_with(&entries([1])).await;
    let note = Change {
        notes: vec![(3, "lost".to_owned())],
        ..entries([2])
    };
    let error = case.refused(place, &note).await;
    assert!(matches!(error, StoreError::Other { .. }), "{error:?}");
    let photo = PhotoRow {
        seq: 3,
        media_type: "image/png".to_owned(),
        bytes: vec![1],
    };
    let error = case
        .refused(
            place,
            &Change {
                photos: vec![photo],
                ..entries([2])
            },
        )
        .await;
    assert!(matches!(error, StoreError::Other { .. }), "{error:?}");
}

async fn marks_are_replaced_as_a_whole(case: &Case<'_>) {
    let mark = |turn: &str, due_ms, hazard_ms| StandingRow {
        turn: turn.to_owned(),
        due_ms,
        overdue_ms: due_ms + 1,
        hazard_ms,
    };
    let marks = |rows: &[StandingRow]| Change {
        standings: Some(rows.to_vec()),
        ..Change::default()
    };
    let stored = async |place| case.store.standings(place).await.expect("marks");
    let place = case.place().await;
    assert!(stored(place).await.is_empty());
    let forty: Vec<_> = (0..40)
        .map(|n| mark(&format!("turn {n:02}"), n, Some(n + 9)))
        .collect();
    let reversed: Vec<_> = forty.iter().rev().cloned().collect();
    case.commit(place, &marks(&reversed)).await;
    assert_eq!(
        stored(place).await,
        forty,
        "in order of turn, whatever order they came in"
    );
    case.commit(place, &Change::default()).await;
    assert_eq!(stored(place).await, forty, "a change without marks keeps them");
    let mut fewer = forty[1..].to_vec();
    fewer[0].hazard_ms = None;
    fewer[5].due_ms = 500;
    fewer.push(mark("turn 99", 1, None));
    case.commit(place, &marks(&fewer)).await;
    assert_eq!(stored(place).await, fewer);
    case.commit(place, &marks(&[])).await;
    assert!(stored(place).await.is_empty());
}

async fn places_share_nothing_beside_their_journals(case: &Case<'_>) {
    let full = |word: &str| Change {
        names: vec![(1, word.to_owned())],
        notes: vec![(1, word.to_owned())],
        photos: vec![PhotoRow {
            seq: 1,
            media_type: word.to_owned(),
            bytes: word.as_bytes().to_vec(),
        }],
        standings: Some(vec![StandingRow {
            turn: "turn".to_owned(),
            due_ms: word.len() as i64,
            overdue_ms: 2,
            hazard_ms: None,
        }]),
        ..entries([1])
    };
    let (north, south) = (
        case.place_with(&full("north")).await,
        case.place_with(&full("southern")).await,
    );
    case.commit(south, &entries([2])).await;
    for (place, word, last_seq) in [(north, "north", 1), (south, "southern", 2)] {
        let tail = case.store.tail(place, 0).await.expect("a tail");
        assert_eq!((tail.head.version, tail.head.last_seq), (last_seq, last_seq));
        assert_eq!(tail.entries.len() as i64, last_seq);
        assert_eq!(tail.names, [(1, word.to_owned())]);
        assert_eq!(tail.notes, [(1, word.to_owned())]);
        let photo = case
            .store
            .photo(place, 1)
            .await
            .expect("a photo")
            .expect("the photo");
        assert_eq!(photo.bytes, word.as_bytes());
        let marks = case.store.standings(place).await.expect("marks");
        assert_eq!(
            marks.iter().map(|row| row.due_ms).collect::<Vec<_>>(),
            [word.len() as i64]
        );
    }
    case.commit(
        north,
        &Change {
            standings: Some(Vec::new()),
            ..Change::default()
        },
    )
    .await;
    assert_eq!(case.store.standings(south).await.expect("marks").len(), 1);
}
