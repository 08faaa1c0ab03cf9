//! The worked cases of the cadence arithmetic, set up by lines and asked for by `/why`, as a reader of them would.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Mutex;

use wrackline_tests::binary::Shell;

const CASES: &str = include_str!("../data/cadence-cases.csv");

/// Threads that run cases beside each other.
const THREADS: usize = 2;

/// A place with rounds, and what the duty of a case needs, in use long before.
fn set_up(zone: &str, rounds: &str, duty: &str) -> Shell {
    let shell = Shell::practice(zone);
    let say = |line: &str| shell.say("2000-01-01T00:00", line).done();
    for (number, time) in (1..).zip(rounds.split_whitespace()) {
        say(&format!("/rounds add r{number} {time}"));
    }
    say("/enclosure add North 400 L");
    say("/pool add north salt 8 L");
    match duty {
        "change-aerated" => drop(say("/gear add north salt air from 2000-01-01 00:00")),
        "part-change" => drop(say("/gear add north salt filter proven from 2000-01-01 00:00")),
        _ => {}
    }
    shell
}

/// A shell whose database is a copy of another's.
fn copy(from: &Shell) -> Shell {
    let shell = Shell::new();
    let folder = shell.database();
    std::fs::create_dir_all(folder.parent().unwrap_or(Path::new("."))).expect("a folder");
    std::fs::copy(from.database(), shell.database()).expect("a copy");
    shell
}

/// What is wrong with a case; `None` when nothing is.
fn wrong(ready: &Shell, line: &str) -> Option<String> {
    let cells: Vec<&str> = line.split(',').collect();
    let &[_, _, duty, entry, due, overdue, hazard] = cells.as_slice() else {
        panic!("not seven cells: {line}");
    };
    let name = match duty {
        "change-still" | "change-aerated" => "change",
        "part-change" => "part change",
        "condition" => "condition",
        other => panic!("no such duty: {other}"),
    };
    let shell = copy(ready);
    let now = entry.replace(' ', "T");
    shell.say(&now, &format!("/did {name} north salt")).done();
    let asked = shell.ask(&now, &format!("/why north salt {name}"));
    let turn = &asked.json()["turns"][0];
    let found = ["due", "overdue", "hazard"].map(|part| turn[part].as_str().unwrap_or("").to_owned());
    (found != [due, overdue, hazard]).then(|| format!("{line}\n  found {found:?}"))
}

#[test]
fn every_worked_case_comes_out_of_the_program() {
    let mut groups: BTreeMap<Vec<&str>, Vec<&str>> = BTreeMap::new();
    for line in CASES.lines().skip(1) {
        let key: Vec<&str> = line.split(',').take(3).collect();
        groups.entry(key).or_default().push(line);
    }
    let groups: Vec<_> = groups.into_iter().collect();
    let (checked, failed) = (Mutex::new(0), Mutex::new(Vec::new()));
    std::thread::scope(|scope| {
        for part in groups.chunks(groups.len().div_ceil(THREADS)) {
            let (checked, failed) = (&checked, &failed);
            scope.spawn(move || {
                for (key, lines) in part {
                    let ready = set_up(key[0], key[1], key[2]);
                    for line in lines {
                        let found = wrong(&ready, line);
                        *checked.lock().expect("the count") += 1;
                        failed.lock().expect("the list").extend(found);
                    }
                }
            });
        }
    });
    let failed = failed.into_inner().expect("the list");
    assert!(
        failed.is_empty(),
        "{} cases:\n{}",
        failed.len(),
        failed.join("\n")
    );
    assert_eq!(checked.into_inner().expect("the count"), 100, "rows of the table");
}
