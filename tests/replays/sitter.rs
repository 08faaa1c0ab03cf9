//! A sitter for a fortnight: a power cut on the sixth day, a leak on the ninth, and nothing after the last.

use wrackline_core::journal::{Event, Sighting};
use wrackline_core::place::CarerId;

use super::lived::Lived;

#[tokio::test]
async fn a_fortnight_with_a_sitter_is_lived_through() {
    let lived = Lived::through("sitter", 16, 3).await;
    lived.sharing_out_is_lawful();
    assert!(lived.whoever_did_it_could() > 60);
    let (nadja, rike) = (lived.carer("Nadja"), lived.carer("Rike"));
    all_of_it_is_handed_over(&lived);
    everything_is_in_her_hands_for_the_fortnight(&lived, nadja, rike);
    the_power_cut_is_answered(&lived);
    the_leak_is_looked_at_until_it_is_over(&lived, rike);
    let reckoned = lived.reckoned();
    assert_eq!(reckoned.unowned, 0, "{}", lived.report);
    // The pools that stood still in the power cut had gone past the limit of still ones by then; nothing else did.
    assert_eq!(reckoned.hazards, 2, "{}", lived.report);
    assert!(reckoned.whole.jain >= 0.95, "{}", lived.report);
}

/// Before she leaves the keeper is told what the sitter will have to do: every day of the fortnight, and its water.
fn all_of_it_is_handed_over(lived: &Lived) {
    let said = "Nadja     /sheet";
    let from = lived.text.find(said).expect("the sheet is asked for");
    let sheet: Vec<&str> = lived.text[from..].lines().take(40).collect();
    let has = |words: &str| sheet.iter().any(|line| line.contains(words));
    for words in [
        "Wrackline Handover for Rike, Monday 1 June to Sunday 14 June: ",
        "from=2026-06-01&to=2026-06-14 on the porch",
        "Every day, morning: Parlour, Dune: morning look",
        "All of these changes together take ",
        "Sunday 14 June, ",
        "Call in this order: Nadja.",
    ] {
        assert!(has(words), "{words}: {sheet:#?}");
    }
}

fn everything_is_in_her_hands_for_the_fortnight(lived: &Lived, nadja: CarerId, rike: CarerId) {
    let day = |entry: &wrackline_core::journal::Entry| lived.zone.date(entry.at).day();
    for entry in lived.said().filter(|entry| entry.at >= lived.from) {
        let is_work = matches!(entry.event, Event::Did(..) | Event::Read(..));
        let expected = if day(entry) <= 14 { rike } else { nadja };
        assert!(!is_work || entry.by == expected, "{entry:?}");
    }
    let after = lived.said().filter(|entry| entry.by == rike && day(entry) > 14);
    assert_eq!(after.count(), 0, "nothing is heard from her after her span");
    let refusals = lived
        .text
        .matches("Your span ended on Sunday 14 June: ask Nadja for another one.");
    assert_eq!(refusals.count(), 2);
    for line in [
        "2026-06-15 09:00 +01:00  Rike      /due",
        "2026-06-15 09:05 +01:00  Rike      /did top-up all",
    ] {
        let mut shown = lived.text.lines().skip_while(|shown| *shown != line);
        let answer = shown.nth(1).unwrap_or_else(|| panic!("{line} is not said"));
        assert!(answer.contains("Wrackline Your span ended"), "{answer}");
    }
}

fn the_power_cut_is_answered(lived: &Lived) {
    let day: Vec<&str> = lived
        .text
        .lines()
        .filter(|line| line.starts_with("2026-06-06"))
        .collect();
    let has = |words: &str| day.iter().any(|line| line.contains(words));
    for words in [
        "Rike      /emergency power cut",
        "Wrackline Power cut: unplug heater, pump and filter, close the lids, wrap the enclosure warm.",
        "Filters that stop: Reef salt.",
        "Air that stops: Dune salt.",
        "Nadja     /gear stop reef salt filter from 16:15",
        "11:15 your time, 16:15 there",
        "The filter stood still for 4.75 h.",
    ] {
        assert!(has(words), "{words}: {day:#?}");
    }
}

fn the_leak_is_looked_at_until_it_is_over(lived: &Lived, rike: CarerId) {
    let is_leak = |event: &Event| matches!(event, Event::Saw(_, Sighting::Leak));
    let seen: Vec<_> = lived.said().filter(|entry| is_leak(&entry.event)).collect();
    assert_eq!(seen.len(), 1);
    let (of, at) = (seen[0].seq, seen[0].at);
    let looks: Vec<_> = lived
        .said()
        .filter(|entry| entry.event == Event::Looked(of))
        .collect();
    assert!(looks.len() >= 3, "{looks:?}");
    assert!(looks.iter().all(|look| look.by == rike && look.at > at));
    let closed: Vec<_> = lived
        .said()
        .filter(|entry| entry.event == Event::Closed(of))
        .collect();
    assert_eq!(closed.len(), 1);
    assert!(looks.iter().all(|look| look.at < closed[0].at));
    for words in [
        "Wrackline Leak: Parlour, Dune salt. Seen by Rike, 19:50",
        "▃ due Parlour, Dune salt: leak, look again",
        "Rike      [Looked: still open] Dune salt: leak",
        "Wrackline Settled: Dune salt, leak. Closed by Rike, 09:15.",
    ] {
        assert!(lived.text.contains(words), "{words}");
    }
}
