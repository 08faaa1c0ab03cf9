//! Four people with school nights: a parent who is always late, a child whose work an adult nods at.

use jiff::civil::Weekday;
use wrackline_core::journal::{Event, When};
use wrackline_core::place::{CarerId, RoundId};

use super::lived::Lived;
use super::replay;

#[tokio::test]
async fn work_is_even_though_one_is_always_late() {
    let lived = Lived::through("family", 56, 3).await;
    let reckoned = lived.reckoned();
    let last = reckoned.last.expect("more than four weeks");
    assert!(reckoned.whole.jain >= 0.95, "{}", lived.report);
    assert!(last.jain >= 0.95, "{}", lived.report);
    assert!(reckoned.whole.bound.most >= reckoned.whole.jain - 1e-9);
    assert_eq!(reckoned.people.len(), 4, "{}", lived.report);
    let late = |name: &str| {
        let turns = reckoned.people[&lived.carer(name)].turns;
        turns.late_share().unwrap_or_else(|| panic!("{name} has no turn"))
    };
    assert!(late("Bo") > 0.5, "{}", lived.report);
    for name in ["Asta", "Mika", "Pip"] {
        assert!(late(name) < 0.25, "{name}: {}", lived.report);
    }
    assert_eq!(reckoned.hazards, 0, "{}", lived.report);
    // A message that would show the same is left alone, but where two entries came before it could be looked at.
    let edits = lived.edits;
    eprintln!("{edits:?}");
    assert!(edits.all > 100 && edits.idle * 20 < edits.all, "{edits:?}");
    let given = lived.sharing_out_is_lawful();
    assert!(lived.whoever_did_it_could() > 200);
    nobody_works_on_school_nights(&lived, &given);
    the_childs_work_waited_for_a_nod(&lived);
}

/// Those who go to school get no turn in the morning of a school day, nor in the evenings that are not theirs.
fn nobody_works_on_school_nights(lived: &Lived, given: &[(CarerId, When)]) {
    let (morning, evening) = (RoundId(1), RoundId(2));
    for name in ["Mika", "Pip"] {
        let carer = lived.carer(name);
        let theirs: Vec<&When> = given
            .iter()
            .filter(|one| one.0 == carer)
            .map(|one| &one.1)
            .collect();
        assert!(theirs.len() > 20, "{name} gets {} turns", theirs.len());
        for when in theirs {
            let weekday = when.date.weekday();
            let weekend = matches!(weekday, Weekday::Saturday | Weekday::Sunday);
            assert!(weekend || when.round != morning, "{name}: {when:?}");
            let training = matches!(weekday, Weekday::Tuesday | Weekday::Thursday);
            assert!(!training || when.round != evening, "{name}: {when:?}");
        }
    }
}

/// What the child did was logged by an adult, and counts by the nod of one.
fn the_childs_work_waited_for_a_nod(lived: &Lived) {
    let (pip, asta, bo) = (lived.carer("Pip"), lived.carer("Asta"), lived.carer("Bo"));
    let (mut waited, mut nodded) = (0, 0);
    for entry in lived.said() {
        assert_ne!(entry.said_by, pip, "the child has no account: {entry:?}");
        match entry.event {
            Event::Waits(..) => {
                assert_eq!((entry.by, entry.said_by), (pip, asta), "{entry:?}");
                waited += 1;
            }
            Event::Nodded(seq) => {
                assert!([asta, bo].contains(&entry.by), "{entry:?}");
                assert!(lived.book.is_nodded(seq));
                nodded += 1;
            }
            _ => {}
        }
    }
    assert!(
        waited >= 5 && nodded >= 5 && nodded <= waited,
        "{nodded} of {waited}"
    );
    assert!(lived.text.contains("Waits for a nod") && lived.text.contains("Bo nodded."));
}

#[test]
fn the_report_stands_after_the_days_and_is_the_same_every_time() {
    let arguments = ["--scenario", "family", "--days", "5", "--seed", "3"];
    let told = replay(&[&arguments[..], &["--report"]].concat());
    let again = replay(&[&arguments[..], &["--report"]].concat());
    assert!(told == again, "two reports of one replay");
    let without = replay(&arguments);
    let report = told
        .strip_prefix(without.trim_end())
        .expect("the transcript comes first");
    for words in [
        "5 days, from Monday 2 March to Friday 6 March: how the work was shared",
        "Who ",
        "Load ÷ share",
        "Jain's index of load ÷ share: ",
        "Gap to the optimum (by a bound)",
        "Gap to the optimum (exact)",
        "Turns that nobody had when they fell due: 0.",
        "Turns that were a hazard before they were done: 0.",
    ] {
        assert!(report.contains(words), "{words}: {report}");
    }
    for name in ["Asta", "Bo"] {
        assert!(report.lines().any(|line| line.starts_with(name)), "{report}");
    }
    assert!(!report.contains("Over the last four weeks"), "{report}");
    assert!(!without.contains("Jain"), "it is told where it is asked for");
}
