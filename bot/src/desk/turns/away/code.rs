//! The code of the press that makes a shown absence final: who, when, and what was shown to move.

use jiff::{Timestamp, civil};
use sha2::{Digest, Sha256};
use wrackline_core::journal::Absence;
use wrackline_core::place::{CarerId, RoundId};
use wrackline_core::rota::{Moves, Turn};

/// Who and when: seconds of a span, or rounds with their dates; and behind that what was shown.
pub(super) fn write(who: CarerId, absence: &Absence, moves: &Moves) -> String {
    let shown = shown(moves);
    match absence {
        Absence::Span { from, to } => format!("{}.{}.{}.s{shown}", who.0, from.as_second(), to.as_second()),
        Absence::Rounds(rounds) => {
            let one =
                |(round, date): &(RoundId, civil::Date)| format!("r{}-{}", round.0, date.strftime("%Y%m%d"));
            let all: Vec<String> = rounds.iter().map(one).collect();
            format!("{}.{}.s{shown}", who.0, all.join("."))
        }
    }
}

/// What a code says. One that was made before such codes had it says nothing of what was shown.
pub(super) fn read(about: &str) -> Option<(CarerId, Absence, Option<String>)> {
    let (who, rest) = about.split_once('.')?;
    let who = CarerId(who.parse().ok()?);
    let (rest, seen) = match rest.rsplit_once(".s") {
        Some((rest, seen)) => (rest, Some(seen.to_owned())),
        None => (rest, None),
    };
    if !rest.starts_with('r') {
        let (from, to) = rest.split_once('.')?;
        let moment = |text: &str| Timestamp::from_second(text.parse().ok()?).ok();
        let (from, to) = (moment(from)?, moment(to)?);
        return Some((who, Absence::Span { from, to }, seen));
    }
    let one = |text: &str| {
        let (round, date) = text.strip_prefix('r')?.split_once('-')?;
        let date = civil::Date::strptime("%Y%m%d", date).ok()?;
        Some((RoundId(round.parse().ok()?), date))
    };
    let rounds: Option<Vec<_>> = rest.split('.').map(one).collect();
    Some((who, Absence::Rounds(rounds?), seen))
}

/// What was shown to move, in eight letters: each turn with its day and round, and who has it then.
pub(super) fn shown(moves: &Moves) -> String {
    let mut all = Sha256::new();
    let uncovered = moves.uncovered.iter().map(|(turn, _)| turn);
    for turn in moves.moved.iter().chain(uncovered) {
        all.update(line(turn));
    }
    let digest = all.finalize();
    digest[..4].iter().map(|byte| format!("{byte:02x}")).collect()
}

fn line(turn: &Turn) -> String {
    let (expected, carer) = (&turn.expected, turn.carer.map_or(0, |carer| carer.0));
    let when = &expected.when;
    format!("{} {} {} {carer}\n", expected.slot, when.date, when.round.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_says_the_absence() {
        let moment = |second| Timestamp::from_second(second).expect("a moment");
        let span = Absence::Span {
            from: moment(1_772_737_200),
            to: moment(1_773_342_000),
        };
        let rounds = Absence::Rounds(vec![
            (RoundId(1), civil::date(2026, 3, 6)),
            (RoundId(12), civil::date(2026, 3, 6)),
        ]);
        let seen = shown(&Moves::default());
        for absence in [span, rounds] {
            let code = write(CarerId(7), &absence, &Moves::default());
            let (before, _) = code.rsplit_once('.').expect("a part");
            assert_eq!(
                read(before),
                Some((CarerId(7), absence.clone(), None)),
                "{before}"
            );
            assert_eq!(
                read(&code),
                Some((CarerId(7), absence, Some(seen.clone()))),
                "{code}"
            );
        }
        for wrong in [
            "",
            "7",
            "7.",
            "7.1",
            "7.x.y",
            "7.r1",
            "7.r1-2026",
            "x.1.2",
            "7.s1.2",
        ] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
