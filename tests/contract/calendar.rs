//! Addresses of calendars.

use wrackline::store::CalendarRow;

use super::Case;

checks![
    an_address_leads_to_its_calendar,
    a_new_address_replaces_the_earlier_one,
    the_first_seed_of_a_place_stays,
    an_address_that_ended_leads_nowhere,
    addresses_are_in_a_backup,
];

impl Case<'_> {
    async fn address(&self, place: i64, carer: u32, hash: &str, alarm_min: Option<i64>, seed: &str) {
        let put = self.store.calendar_put(place, carer, hash, alarm_min, seed);
        put.await.expect("an address");
    }

    async fn calendar(&self, hash: &str) -> Option<CalendarRow> {
        self.store.calendar(hash).await.expect("a look")
    }
}

fn row(place: i64, carer: u32, alarm_min: Option<i64>, seed: &str) -> Option<CalendarRow> {
    Some(CalendarRow {
        place,
        carer,
        alarm_min,
        seed: seed.to_owned(),
    })
}

async fn an_address_leads_to_its_calendar(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    case.address(north, 7, "n", Some(30), "a").await;
    case.address(south, u32::MAX, "s", None, "b").await;
    assert_eq!(case.calendar("n").await, row(north, 7, Some(30), "a"));
    assert_eq!(case.calendar("s").await, row(south, u32::MAX, None, "b"));
    for hash in ["", "N", "n ", "%"] {
        assert_eq!(case.calendar(hash).await, None, "{hash:?}");
    }
    let of = async |place, carer| case.store.calendar_of(place, carer).await.expect("a look");
    assert_eq!(of(north, 7).await, Some(Some(30)));
    assert_eq!(of(south, u32::MAX).await, Some(None));
    assert_eq!(of(south, 7).await, None);
}

async fn a_new_address_replaces_the_earlier_one(case: &Case<'_>) {
    let place = case.place().await;
    case.address(place, 7, "first", Some(30), "a").await;
    case.address(place, 8, "other", None, "a").await;
    case.address(place, 7, "second", None, "a").await;
    assert_eq!(case.calendar("first").await, None);
    assert_eq!(case.calendar("second").await, row(place, 7, None, "a"));
    assert_eq!(case.calendar("other").await, row(place, 8, None, "a"));
    let taken = case.store.calendar_put(place, 9, "other", None, "a").await;
    assert!(taken.is_err(), "an address never changes hands");
    assert_eq!(case.calendar("other").await, row(place, 8, None, "a"));
}

async fn the_first_seed_of_a_place_stays(case: &Case<'_>) {
    let place = case.place().await;
    case.address(place, 7, "first", None, "a").await;
    case.address(place, 7, "second", None, "b").await;
    assert!(case.store.calendar_end(place, 7).await.expect("an end"));
    case.address(place, 8, "third", None, "c").await;
    assert_eq!(case.calendar("third").await, row(place, 8, None, "a"));
}

async fn an_address_that_ended_leads_nowhere(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    case.address(north, 7, "n", None, "a").await;
    case.address(south, 7, "s", None, "b").await;
    assert!(case.store.calendar_end(north, 7).await.expect("an end"));
    assert!(!case.store.calendar_end(north, 7).await.expect("no end"));
    assert_eq!(case.calendar("n").await, None);
    assert_eq!(case.calendar("s").await, row(south, 7, None, "b"));
}

async fn addresses_are_in_a_backup(case: &Case<'_>) {
    let place = case.place().await;
    case.address(place, 7, "n", Some(5), "a").await;
    let file = case.folder.path().join("backup");
    case.store.backup(&file).await.expect("a backup");
    let folder = tempfile::tempdir().expect("a folder");
    let restored = case.adapter.restore(&file, folder.path()).await;
    let found = restored.calendar("n").await.expect("a look");
    assert_eq!(found, row(place, 7, Some(5), "a"));
    restored.close().await;
}
