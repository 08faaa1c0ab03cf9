//! Parts of a duty and turns that needed no doing: how far they move what the next turn counts from.
//! The rows follow from the project's own definition of parts.

use wrackline_core::care::Duty;

use super::check;

#[test]
fn a_half_change_at_day_two_is_as_if_all_had_been_changed_at_day_one() {
    let half = "still, 03-05 08:00, 03-05 20:00, 03-07 08:00, calm";
    check(
        Duty::Change,
        "03-02 08:00 change; 03-04 08:00 change 0.5",
        "03-04 09:00",
        half,
    );
    check(Duty::Change, "03-03 08:00 change", "03-04 09:00", half);
}

#[test]
fn nine_tenths_are_the_whole() {
    let part = |fraction: &str| format!("03-02 08:00 change; 03-04 08:00 change {fraction}");
    let whole = "still, 03-06 08:00, 03-06 20:00, 03-08 08:00, calm";
    check(Duty::Change, &part("1"), "03-04 09:00", whole);
    check(Duty::Change, &part("0.9"), "03-04 09:00", whole);
    // 0.89 of 48 h is 42 h 43 min 12 s; that day's nearest round is the same one.
    let less = "still, 03-06 08:00, 03-06 20:00, 03-08 02:43, calm";
    check(Duty::Change, &part("0.89"), "03-04 09:00", less);
}

#[test]
fn parts_add_up() {
    let change = |lines: &str, expected: &str| {
        check(
            Duty::Change,
            &format!("03-02 08:00 change; {lines}"),
            "03-04 21:00",
            expected,
        );
    };
    // Half the way to Wednesday morning, then half of what is left to Wednesday evening: 02:00.
    let two = "03-04 08:00 change 0.5; 03-04 20:00 change 0.5";
    change(two, "still, 03-06 08:00, 03-06 20:00, 03-08 02:00, calm");
    // Steps are shares of the work, so that all of them are all of it.
    let quarter = "still, 03-04 20:00, 03-05 08:00, 03-06 20:00, due";
    change("03-04 08:00 change steps 1", quarter);
    change("03-04 08:00 change steps 1; 03-04 08:00 change steps 1", quarter);
    let half = "still, 03-05 08:00, 03-05 20:00, 03-07 08:00, calm";
    change("03-04 08:00 change steps 1 2", half);
    change("03-04 08:00 change steps 1; 03-04 08:00 change steps 3", half);
    let whole = "still, 03-06 08:00, 03-06 20:00, 03-08 08:00, calm";
    change(
        "03-04 08:00 change steps 1 2; 03-04 08:00 change steps 3 4",
        whole,
    );
    change("03-04 08:00 change steps 1 2 3 4", whole);
    // After a whole one the steps begin anew.
    let anew = "03-03 08:00 change steps 1; 03-04 08:00 change; 03-04 20:00 change steps 1";
    change(anew, "still, 03-06 08:00, 03-06 20:00, 03-08 11:00, calm");
}

#[test]
fn a_filtered_pools_own_fraction_is_its_whole() {
    let filtered = |lines: &str, expected: &str| {
        let lines = &format!("03-01 07:00 gear filter added-proven; 03-02 08:00 change; {lines}");
        check(Duty::Change, lines, "03-04 09:00", expected);
    };
    let whole = "part-change, 03-11 08:00, 03-13 08:00, 03-25 08:00, calm";
    filtered("03-04 08:00 change 0.5", whole);
    filtered("03-04 08:00 part", whole);
    filtered("03-04 08:00 change", whole);
    // A quarter of the water is half of what is asked for.
    let half = "part-change, 03-10 08:00, 03-12 08:00, 03-24 08:00, calm";
    filtered("03-04 08:00 change 0.25", half);
    filtered("03-04 08:00 part 0.25", half);
    // At 1 US gal all that can be had is asked for, so that half is half.
    filtered("03-03 08:00 litres 3.7; 03-04 08:00 change 0.5", half);
}

#[test]
fn a_turn_that_was_not_needed_is_closed_but_the_water_is_no_younger() {
    let check = |word: &str, expected: &str| {
        check(
            Duty::Change,
            &format!("03-02 08:00 change; 03-04 08:00 {word}"),
            "03-04 09:00",
            expected,
        );
    };
    check(
        "notneeded change",
        "still, 03-06 08:00, 03-06 20:00, 03-06 08:00, calm",
    );
    check(
        "keeper-notneeded change",
        "still, 03-06 08:00, 03-06 20:00, 03-08 08:00, calm",
    );
}

#[test]
fn a_part_renews_the_conditioner_by_the_water_that_is_new() {
    let check = |lines: &str, expected: &str| {
        check(
            Duty::Condition,
            &format!("03-02 08:00 change; {lines}"),
            "03-04 09:00",
            expected,
        );
    };
    check(
        "03-04 08:00 change",
        "condition, 03-06 08:00, 03-06 20:00, never, calm",
    );
    check(
        "03-04 08:00 change 0.5",
        "condition, 03-05 08:00, 03-05 20:00, never, calm",
    );
    // The first step of a change is not the first step of a dose: from 03-02 20:00 half the way to 03-04 08:00.
    let both = "03-04 08:00 change steps 1; 03-04 08:00 condition steps 1";
    check(both, "condition, 03-05 08:00, 03-05 20:00, never, calm");
}

#[test]
fn however_little_was_changed_the_pool_is_full_again() {
    let lines = "03-02 08:00 change; 03-04 08:00 change 0.2";
    check(
        Duty::TopUp,
        lines,
        "03-04 09:00",
        "top-up, 03-05 08:00, 03-06 08:00, 03-08 08:00, calm",
    );
}

#[test]
fn a_duty_never_done_counts_from_when_its_pool_came_into_use() {
    let check = |lines: &str, expected: &str| check(Duty::Change, lines, "03-20 10:00", expected);
    check(
        "03-20 09:00 life planned; 03-20 09:00 life in-use",
        "still, 03-22 08:00, 03-22 20:00, 03-24 09:00, calm",
    );
    // A part of what was never done counts from there too.
    let part = "03-16 08:00 life planned; 03-16 08:00 life in-use; 03-20 08:00 change 0.5";
    check(part, "still, 03-20 08:00, 03-20 20:00, 03-22 08:00, due");
}
