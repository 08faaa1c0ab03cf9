//! The table of check values, `tests/data/checks.csv`, row by row against the computation: each topic is claimed by a
//! function here, by another test, or stands with the reason why it is not claimed.
//!
//! Columns: topic, inputs, expected, tolerance, source, and what the value rests on: S seen in the named source or
//! returned by an independent library, M from memory, C common practice, D computed from a stated formula.

mod air;
mod ammonia;
mod claims;
mod pool;
mod seawater;
mod water;

/// How many rows the table has.
const ROWS: usize = 857;

/// As many of them at least are computed.
const COMPUTED_MIN: usize = 789;

/// A row of the table.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub(crate) topic: String,
    pub(crate) inputs: String,
    pub(crate) expected: String,
    pub(crate) tolerance: String,
}

/// Who answers for a topic.
pub(crate) enum Claim {
    /// What a row's inputs give, in the order of the expected numbers. `None` if the inputs are not understood.
    By(fn(&Row) -> Option<Vec<f64>>),
    /// The same where the row's own tolerance is of another formula than ours: how far ours may be off, and why.
    Near(fn(&Row) -> Option<Vec<f64>>, fn(&Row) -> f64, &'static str),
    /// A row that expects no numbers: it is judged as a whole.
    Judged(fn(&Row) -> bool),
    /// A test in another file, which reads the row from a table of its own.
    Elsewhere(&'static str),
    /// Nobody, for this reason.
    Not(&'static str),
}

/// Each topic of the table, once, with who answers for it.
fn claims() -> impl Iterator<Item = &'static (&'static str, Claim)> {
    let lists = [
        seawater::CLAIMS,
        water::CLAIMS,
        ammonia::CLAIMS,
        pool::CLAIMS,
        air::CLAIMS,
        claims::CLAIMS,
    ];
    lists.into_iter().flatten()
}

/// All rows of the table.
pub(crate) fn rows() -> Vec<Row> {
    let rows: Vec<Row> = include_str!("../../tests/data/checks.csv")
        .lines()
        .skip(1)
        .map(|line| {
            let mut cells = cells(line).into_iter();
            let mut next = || cells.next().expect("a cell");
            Row {
                topic: next(),
                inputs: next(),
                expected: next(),
                tolerance: next(),
            }
        })
        .collect();
    assert_eq!(rows.len(), ROWS);
    rows
}

/// The cells of a line, where a cell in double quotes may hold commas.
fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut quoted) = (vec![String::new()], false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            other => cells.last_mut().expect("a cell").push(other),
        }
    }
    cells
}

/// The numbers in a text, in order: `SP=5; t90=20 C` gives 5, 90, 20. A minus counts where no digit or letter stands
/// before it.
pub(crate) fn numbers(text: &str) -> Vec<f64> {
    let letters: Vec<char> = text.chars().collect();
    let (mut found, mut at) = (Vec::new(), 0);
    while at < letters.len() {
        let before = at.checked_sub(1).map_or(' ', |before| letters[before]);
        let minus = letters[at] == '-' && !before.is_alphanumeric();
        let digits = at + usize::from(minus);
        if !letters.get(digits).is_some_and(char::is_ascii_digit) {
            at += 1;
            continue;
        }
        let mut end = digits;
        while end < letters.len() {
            let exponent = matches!(letters[end], '-' | '+') && matches!(letters[end - 1], 'e' | 'E');
            let starts_exponent = matches!(letters[end], 'e' | 'E')
                && letters
                    .get(end + 1)
                    .is_some_and(|next| next.is_ascii_digit() || *next == '-');
            if letters[end].is_ascii_digit() || letters[end] == '.' || exponent || starts_exponent {
                end += 1;
            } else {
                break;
            }
        }
        let text: String = letters[at..end].iter().collect();
        if let Ok(number) = text.trim_end_matches('.').parse() {
            found.push(number);
        }
        at = end;
    }
    found
}

/// The number behind `name=` in a text.
pub(crate) fn named(text: &str, name: &str) -> Option<f64> {
    let start = text.find(&format!("{name}="))? + name.len() + 1;
    numbers(&text[start..]).first().copied()
}

/// How far a value may lie from the expected one.
fn tolerance(row: &Row, expected: f64) -> f64 {
    let first = numbers(&row.tolerance).first().copied();
    match first {
        Some(percent) if row.tolerance.contains('%') => expected.abs() * percent / 100.0,
        Some(absolute) => absolute,
        // "exact": as far as it was printed.
        None => 1e-9,
    }
}

/// What is wrong with the numbers of a row, if anything is.
fn compare(row: &Row, got: Option<Vec<f64>>, within: impl Fn(f64) -> f64) -> Option<String> {
    let expected = numbers(&row.expected);
    let Some(got) = got else {
        return Some(format!("{row:?}: not understood"));
    };
    let near = |(want, got): (&f64, &f64)| (want - got).abs() <= within(*want) * (1.0 + 1e-9);
    let fine = !expected.is_empty() && expected.len() == got.len() && expected.iter().zip(&got).all(near);
    (!fine).then(|| format!("{row:?}: got {got:?}"))
}

/// What is wrong with a row, if anything is.
fn judge(row: &Row, claim: &Claim) -> Option<String> {
    match claim {
        Claim::By(compute) => compare(row, compute(row), |want| tolerance(row, want)),
        Claim::Near(compute, within, _) => compare(row, compute(row), |_| within(row)),
        Claim::Judged(judge) => (!judge(row)).then(|| format!("{row:?}: judged wrong")),
        Claim::Elsewhere(_) | Claim::Not(_) => None,
    }
}

#[test]
fn every_topic_is_claimed_once() {
    let mut wrong: Vec<String> = rows()
        .into_iter()
        .filter_map(|row| {
            let count = claims().filter(|(topic, _)| *topic == row.topic).count();
            (count != 1).then(|| format!("{}: {count} claims", row.topic))
        })
        .collect();
    wrong.dedup();
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn every_computed_row_holds() {
    let (mut wrong, mut computed) = (Vec::new(), 0);
    for row in rows() {
        for (_, claim) in claims().filter(|(topic, _)| *topic == row.topic) {
            computed += usize::from(matches!(claim, Claim::By(_) | Claim::Near(..) | Claim::Judged(_)));
            wrong.extend(judge(&row, claim));
        }
    }
    let count = wrong.len();
    assert!(
        wrong.is_empty(),
        "{count} of {computed} rows:\n{}",
        wrong.join("\n")
    );
    // A table of claims that shrank would say nothing any more.
    assert!(computed >= COMPUTED_MIN, "{computed} computed");
}

#[test]
fn every_claim_names_what_there_is() {
    let rows = rows();
    for (topic, claim) in claims() {
        assert!(rows.iter().any(|row| row.topic == *topic), "{topic}");
        match claim {
            Claim::Elsewhere(file) => {
                let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
                    .join("..")
                    .join(file);
                assert!(path.exists(), "{topic}: {file}");
            }
            Claim::Not(reason) | Claim::Near(_, _, reason) => assert!(reason.len() > 20, "{topic}: a reason"),
            Claim::By(_) | Claim::Judged(_) => {}
        }
    }
}

#[test]
fn check_numbers() {
    for (text, want) in [
        ("SP=5; t90=20 C; p=0 -> mS/cm", vec![5.0, 90.0, 20.0, 0.0]),
        ("1e-9, -3 and 2-4", vec![1e-9, -3.0, 2.0, 4.0]),
        ("k=5e-5.", vec![5e-5]),
        ("V-(1-phi)", vec![1.0]),
    ] {
        assert_eq!(numbers(text), want, "{text}");
    }
    assert_eq!(named("U=2; S=35.5", "S"), Some(35.5));
}
