//! The README's tour: every command that it shows is run in order, and prints what it shows.

use wrackline_tests::binary::Shell;

/// The commands of the tour with the output shown under each; a command with none shown is only run.
fn tour() -> Vec<(String, Vec<String>)> {
    let mut all: Vec<(String, Vec<String>)> = Vec::new();
    let mut shown = false;
    for line in include_str!("../../README.md").lines() {
        match line.strip_prefix("    ") {
            Some(line) if line.starts_with("$ wrackline ") => {
                all.push((line["$ wrackline ".len()..].to_owned(), Vec::new()));
                shown = true;
            }
            Some(line) if shown => {
                let (_, output) = all.last_mut().expect("a command stands before its output");
                output.push(line.to_owned());
            }
            _ => shown = false,
        }
    }
    all
}

/// A command's words; those in quotation marks are one.
fn words(command: &str) -> Vec<String> {
    let parts = command.split('"').enumerate();
    let words = parts.flat_map(|(index, part)| match index % 2 {
        0 => part.split_whitespace().map(str::to_owned).collect::<Vec<_>>(),
        _ => vec![part.to_owned()],
    });
    words.collect()
}

#[test]
fn the_tour_shows_what_is_printed() {
    let shell = Shell::new();
    let mut compared = 0;
    for (command, shown) in tour() {
        let words = words(&command);
        let ran = shell.run(&words.iter().map(String::as_str).collect::<Vec<_>>());
        let printed = format!("{}{}", ran.out, ran.err);
        let printed: Vec<&str> = printed.lines().collect();
        // Where only a part is shown, what is left out is marked.
        let whole = !shown.iter().any(|line| line.contains('…'));
        if whole && !shown.is_empty() {
            assert_eq!(printed, shown, "{command}");
            compared += 1;
        }
        for line in shown.iter().filter(|line| !whole && *line != "…") {
            let start = line.trim_end_matches('…').trim_end();
            assert!(
                printed.iter().any(|one| one.starts_with(start)),
                "{command}: {line}"
            );
        }
    }
    assert!(compared >= 6, "{compared} outputs were compared");
}
