//! The porch's transcript: lines once, revisions that only rise.

use wrackline::store::PorchRow;

use super::Case;

checks![
    a_line_is_added_once_for_each_key,
    an_edit_raises_the_revision_and_keeps_the_rest,
    an_edit_of_no_line_changes_nothing,
    a_reader_gets_the_newest_in_order_of_revision,
    places_have_porches_of_their_own,
    the_porch_leaves_the_version_of_the_place_alone,
];

async fn a_line_is_added_once_for_each_key(case: &Case<'_>) {
    let place = case.place().await;
    let first = case
        .store
        .porch_add(place, "a", 10, Some(u32::MAX), r#"{"n":1}"#)
        .await
        .expect("a line");
    let body = r#"{"n":1}"#.to_owned();
    assert_eq!(
        first,
        PorchRow {
            id: 1,
            revision: 1,
            at_ms: 10,
            only_for: Some(u32::MAX),
            body
        }
    );
    let again = case
        .store
        .porch_add(place, "a", 99, None, "other")
        .await
        .expect("a line");
    assert_eq!(again, first);
    let second = case
        .store
        .porch_add(place, "b", 20, None, "{}")
        .await
        .expect("a line");
    assert_eq!(
        (second.id, second.revision, second.only_for),
        (2, 2, None),
        "the repeat used nothing up"
    );
    assert_eq!(
        case.store.porch_after(place, 0, 10).await.expect("lines"),
        [first, second]
    );
}

async fn an_edit_raises_the_revision_and_keeps_the_rest(case: &Case<'_>) {
    let place = case.place().await;
    let first = case
        .store
        .porch_add(place, "a", 10, Some(3), "one")
        .await
        .expect("a line");
    case.store
        .porch_add(place, "b", 20, None, "two")
        .await
        .expect("a line");
    let edited = case
        .store
        .porch_edit(place, first.id, "three")
        .await
        .expect("an edit")
        .expect("the line");
    assert_eq!(
        edited,
        PorchRow {
            revision: 3,
            body: "three".to_owned(),
            ..first
        }
    );
    let again = case
        .store
        .porch_add(place, "a", 10, Some(3), "one")
        .await
        .expect("a line");
    assert_eq!(again, edited, "a repeat gets the line as it is now");
    let new = case
        .store
        .porch_add(place, "c", 30, None, "four")
        .await
        .expect("a line");
    assert_eq!((new.id, new.revision), (3, 4));
}

async fn an_edit_of_no_line_changes_nothing(case: &Case<'_>) {
    let (place, other) = (case.place().await, case.place().await);
    let line = case
        .store
        .porch_add(other, "a", 10, None, "one")
        .await
        .expect("a line");
    assert_eq!(
        case.store.porch_edit(place, line.id, "x").await.expect("an edit"),
        None
    );
    assert_eq!(
        case.store
            .porch_edit(other + 1, line.id, "x")
            .await
            .expect("an edit"),
        None
    );
    assert_eq!(case.store.porch_after(other, 0, 10).await.expect("lines"), [line]);
    let first = case
        .store
        .porch_add(place, "a", 10, None, "one")
        .await
        .expect("a line");
    assert_eq!(first.revision, 1, "the edit used no revision up");
}

async fn a_reader_gets_the_newest_in_order_of_revision(case: &Case<'_>) {
    let place = case.place().await;
    for n in 1..=6 {
        case.store
            .porch_add(place, &n.to_string(), n, None, "{}")
            .await
            .expect("a line");
    }
    case.store.porch_edit(place, 2, "edited").await.expect("an edit");
    let after = async |revision, limit| {
        let lines = case
            .store
            .porch_after(place, revision, limit)
            .await
            .expect("lines");
        lines
            .iter()
            .map(|line| (line.id, line.revision))
            .collect::<Vec<_>>()
    };
    assert_eq!(
        after(0, 10).await,
        [(1, 1), (3, 3), (4, 4), (5, 5), (6, 6), (2, 7)]
    );
    assert_eq!(after(0, 3).await, [(5, 5), (6, 6), (2, 7)]);
    assert_eq!(after(6, 3).await, [(2, 7)]);
    assert!(after(7, 3).await.is_empty());
    assert!(after(0, 0).await.is_empty());
}

async fn places_have_porches_of_their_own(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    for place in [north, south] {
        let line = case
            .store
            .porch_add(place, "a", place, None, "{}")
            .await
            .expect("a line");
        assert_eq!((line.id, line.revision, line.at_ms), (1, 1, place));
    }
    case.store
        .porch_edit(north, 1, "edited")
        .await
        .expect("an edit")
        .expect("the line");
    let south = case.store.porch_after(south, 0, 10).await.expect("lines");
    assert_eq!(
        south.iter().map(|line| line.body.as_str()).collect::<Vec<_>>(),
        ["{}"]
    );
}

async fn the_porch_leaves_the_version_of_the_place_alone(case: &Case<'_>) {
    let place = case.place().await;
    case.store
        .porch_add(place, "a", 1, None, "{}")
        .await
        .expect("a line");
    case.store
        .porch_edit(place, 1, "edited")
        .await
        .expect("an edit")
        .expect("the line");
    assert_eq!(
        case.version(place).await,
        1,
        "else every line shown would make a commit retry"
    );
}
