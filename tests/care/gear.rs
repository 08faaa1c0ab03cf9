//! Changes of gear: from when which cadence of changes holds.
//! The rows follow from the project's own definition of cadences under changing gear.

use wrackline_core::care::{Because, Duty};

use super::two_rounds;
use wrackline_tests::journal::NORTH_SALT;

fn check(lines: &str, moment: &str, expected: &str) {
    super::check(Duty::Change, lines, moment, expected);
}

const STILL: &str = "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, calm";

#[test]
fn air_counts_from_the_first_change_under_it() {
    let fitted = "03-02 08:00 change; 03-03 09:00 gear air added";
    check("03-02 08:00 change", "03-02 10:00", STILL);
    check(fitted, "03-03 10:00", STILL);
    let changed = &format!("{fitted}; 03-04 08:00 change");
    check(
        changed,
        "03-04 07:59",
        "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, calm",
    );
    check(
        changed,
        "03-04 09:00",
        "aerated, 03-11 08:00, 03-12 08:00, 03-14 08:00, calm",
    );
    let part = &format!("{fitted}; 03-04 08:00 change 0.5");
    check(
        part,
        "03-04 09:00",
        "aerated, 03-10 08:00, 03-11 08:00, 03-13 08:00, calm",
    );
}

#[test]
fn what_is_aerated_from_tuesday_was_still_on_monday_for_ever() {
    let later = "03-02 08:00 change; 03-03 07:00 gear air added; 03-03 08:00 change; 03-20 08:00 change";
    check(later, "03-02 12:00", STILL);
    check(
        later,
        "03-03 12:00",
        "aerated, 03-10 08:00, 03-11 08:00, 03-13 08:00, calm",
    );
    check(later, "03-02 12:00", STILL);
}

#[test]
fn a_filter_counts_from_its_proof_and_the_first_change_after() {
    let unproven = "03-02 08:00 change; 03-03 09:00 gear filter added; 03-04 08:00 change";
    check(
        unproven,
        "03-04 09:00",
        "still, 03-06 08:00, 03-06 20:00, 03-08 08:00, calm",
    );
    let proven = &format!("{unproven}; 03-05 09:00 gear filter proven");
    check(
        proven,
        "03-05 10:00",
        "still, 03-06 08:00, 03-06 20:00, 03-08 08:00, calm",
    );
    let changed = "part-change, 03-13 08:00, 03-15 08:00, 03-27 08:00, calm";
    check(&format!("{proven}; 03-06 08:00 change"), "03-06 09:00", changed);
    check(&format!("{proven}; 03-06 08:00 part"), "03-06 09:00", changed);
    check(
        &format!("{proven}; 03-06 08:00 change 0.5"),
        "03-06 09:00",
        changed,
    );
}

#[test]
fn the_part_follows_the_volume() {
    let check = |litres: f64, fraction: f64| {
        let script = two_rounds(&format!(
            "03-01 08:00 litres {litres}; 03-01 09:00 gear filter added-proven; 03-02 08:00 change"
        ));
        let standing = script
            .standing("2026-03-02 09:00", Duty::Change, NORTH_SALT)
            .expect("a change");
        assert!(
            (standing.cadence.fraction - fraction).abs() < 1e-9,
            "{litres} L: {standing:?}"
        );
        assert_eq!(standing.duty(), Duty::PartChange, "{litres} L");
    };
    let us_gallon = 3.785_411_784;
    check(2.0, 1.0);
    check(us_gallon, 1.0);
    check(1.25 * us_gallon, 0.875);
    check(1.5 * us_gallon, 0.75);
    check(2.0 * us_gallon, 0.5);
    check(40.0, 0.5);
}

const AERATED: &str = "03-01 07:00 gear air added; 03-02 08:00 change";

#[test]
fn when_air_stops_the_turn_falls_due_at_the_next_round() {
    let stopped = |at: &str| format!("{AERATED}; {at} gear air stopped");
    check(
        AERATED,
        "03-02 09:00",
        "aerated, 03-09 08:00, 03-10 08:00, 03-12 08:00, calm",
    );
    // Within the still pool's two days nothing is over yet.
    check(&stopped("03-03 10:00"), "03-03 11:00", STILL);
    check(
        &stopped("03-05 10:00"),
        "03-05 11:00",
        "still, 03-05 20:00, 03-06 08:00, 03-06 08:00, calm",
    );
    check(
        &stopped("03-05 20:00"),
        "03-05 20:00",
        "still, 03-05 20:00, 03-06 08:00, 03-06 08:00, due",
    );
    // The hazard counts from the last entry, so six days are too long at once.
    check(
        &stopped("03-08 10:00"),
        "03-08 11:00",
        "still, 03-08 20:00, 03-09 08:00, 03-06 08:00, hazard",
    );
    // What was due already stays due since then.
    check(
        &stopped("03-10 10:00"),
        "03-10 11:00",
        "still, 03-09 08:00, 03-09 20:00, 03-06 08:00, hazard",
    );
    // Before it stopped, it ran.
    let before = "aerated, 03-09 08:00, 03-10 08:00, 03-12 08:00, calm";
    check(&stopped("03-08 10:00"), "03-08 09:59", before);
}

#[test]
fn when_air_runs_again_its_cadence_is_back() {
    let again = &format!("{AERATED}; 03-05 10:00 gear air stopped; 03-05 15:00 gear air started");
    check(
        again,
        "03-05 14:00",
        "still, 03-05 20:00, 03-06 08:00, 03-06 08:00, calm",
    );
    check(
        again,
        "03-05 16:00",
        "aerated, 03-09 08:00, 03-10 08:00, 03-12 08:00, calm",
    );
    let changed =
        &format!("{AERATED}; 03-05 10:00 gear air stopped; 03-05 20:00 change; 03-06 09:00 gear air started");
    check(
        changed,
        "03-05 21:00",
        "still, 03-07 20:00, 03-08 08:00, 03-09 20:00, calm",
    );
    check(
        changed,
        "03-06 10:00",
        "aerated, 03-12 20:00, 03-13 20:00, 03-15 20:00, calm",
    );
}

#[test]
fn gear_that_is_taken_off_is_gone() {
    let bared = &format!("{AERATED}; 03-05 10:00 gear air removed");
    check(
        bared,
        "03-05 11:00",
        "still, 03-05 20:00, 03-06 08:00, 03-06 08:00, calm",
    );
    // Fitted anew, it waits for a change again.
    let anew = &format!("{bared}; 03-05 12:00 gear air added");
    check(
        anew,
        "03-05 13:00",
        "still, 03-05 20:00, 03-06 08:00, 03-06 08:00, calm",
    );
    let changed = &format!("{anew}; 03-05 20:00 change");
    check(
        changed,
        "03-05 21:00",
        "aerated, 03-12 20:00, 03-13 20:00, 03-15 20:00, calm",
    );
}

#[test]
fn air_and_filter_are_independent() {
    let both = "03-01 07:00 gear air added; 03-01 07:00 gear filter added-proven; 03-02 08:00 change";
    let filtered = "part-change, 03-09 08:00, 03-11 08:00, 03-23 08:00, calm";
    check(both, "03-02 09:00", filtered);
    check(
        &format!("{both}; 03-05 10:00 gear air stopped"),
        "03-05 11:00",
        filtered,
    );
    let aerated = "aerated, 03-09 08:00, 03-10 08:00, 03-12 08:00, calm";
    check(
        &format!("{both}; 03-05 10:00 gear filter stopped"),
        "03-05 11:00",
        aerated,
    );
    check(
        &format!("{both}; 03-05 10:00 gear filter removed"),
        "03-05 11:00",
        aerated,
    );
    let neither = &format!("{both}; 03-05 10:00 gear air stopped; 03-06 10:00 gear filter stopped");
    check(
        neither,
        "03-06 11:00",
        "still, 03-06 20:00, 03-07 08:00, 03-06 08:00, hazard",
    );
}

#[test]
fn the_reasons_are_told() {
    let check = |lines: &str, moment: &str, expected: &[Because]| {
        let script = two_rounds(lines);
        let standing = script.standing(&format!("2026-{moment}"), Duty::Change, NORTH_SALT);
        assert_eq!(standing.expect("a change").cadence.because, expected, "{lines}");
    };
    let at = |local: &str| two_rounds("").at(&format!("2026-{local}"));
    let fitted = at("03-01 07:00");
    check("03-02 08:00 change", "03-02 09:00", &[Because::Still]);
    check(AERATED, "03-02 09:00", &[Because::Aerated(fitted)]);
    check(
        "03-01 07:00 gear air added",
        "03-02 09:00",
        &[Because::AirWaits(fitted)],
    );
    let unproven = [Because::Still, Because::FilterUnproven(fitted)];
    check("03-01 07:00 gear filter added", "03-02 09:00", &unproven);
    let stopped = [Because::Still, Because::AirStopped(at("03-05 10:00"))];
    check(
        &format!("{AERATED}; 03-05 10:00 gear air stopped"),
        "03-05 11:00",
        &stopped,
    );
    let proven = "03-01 07:00 gear filter added-proven";
    check(proven, "03-02 09:00", &[Because::FilterWaits(fitted)]);
    check(
        &format!("{proven}; 03-02 08:00 change"),
        "03-02 09:00",
        &[Because::Filtered(fitted)],
    );
}

#[test]
fn a_part_after_a_stop_is_counted_under_the_stricter_rule() {
    // Seven days of aerated water on 8 March; the stop makes it two days' water, due at the next round.
    let stopped = "03-01 08:00 change; 03-01 09:00 gear air added; 03-02 08:00 change; \
                   03-08 12:00 gear air stopped";
    check(
        stopped,
        "03-08 14:00",
        "still, 03-08 20:00, 03-09 08:00, 03-06 08:00, hazard",
    );
    // 60 % at 15:00 move the anchor from 2 March 08:00 to 6 March 02:36: due with the round of 8 March 08:00 by
    // the rule, which was over when the rule came into force, so at the next round after that.
    check(
        &format!("{stopped}; 03-08 15:00 change 0.6"),
        "03-08 16:00",
        "still, 03-08 20:00, 03-09 08:00, 03-10 02:36, calm",
    );
}
