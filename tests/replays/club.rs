//! Twelve members without fixed days, and a screen in the hall at which some of them log.

use wrackline_core::journal::{Absence, Event, Say};

use super::lived::Lived;

/// Three weeks: eight take half a minute of a machine's time as it is built for tests.
#[tokio::test]
async fn work_is_even_among_twelve_who_come_and_go() {
    let lived = Lived::through("club", 21, 3).await;
    let reckoned = lived.reckoned();
    assert!(reckoned.whole.jain >= 0.95, "{}", lived.report);
    assert!(reckoned.last.is_none());
    assert_eq!(reckoned.people.len(), 12, "{}", lived.report);
    let screen = lived.carer("Screen");
    assert!(
        !reckoned.people.contains_key(&screen),
        "the screen does nothing itself"
    );
    assert_eq!((reckoned.unowned, reckoned.hazards), (0, 0), "{}", lived.report);
    lived.sharing_out_is_lawful();
    assert!(lived.whoever_did_it_could() > 200);
    // Those who log at the screen did it themselves.
    let at_screen = lived
        .said()
        .filter(|entry| entry.said_by == screen && entry.by != screen);
    let names: std::collections::BTreeSet<&str> = at_screen.map(|entry| lived.book.name(entry.by)).collect();
    assert_eq!(names, ["Henk", "Jorun"].into());
    let away = lived.said().filter(|entry| matches!(entry.event, Event::Away(_)));
    assert!(away.count() >= 5);
    let spans = lived
        .said()
        .filter(|entry| matches!(entry.event, Event::Away(Absence::Span { .. })));
    assert!(spans.count() >= 4);
    offers_are_answered(&lived);
}

fn offers_are_answered(lived: &Lived) {
    let said = |wanted: fn(&Say) -> bool| {
        let says = |event: &Event| matches!(event, Event::Coming(_, say) if wanted(say));
        lived.said().filter(|entry| says(&entry.event)).count()
    };
    let offered = said(|say| matches!(say, Say::Offered(_)));
    let taken = said(|say| matches!(say, Say::Taken));
    let declined = said(|say| matches!(say, Say::Declined));
    assert_eq!((offered, taken, declined), (2, 1, 1), "{}", lived.text);
}
