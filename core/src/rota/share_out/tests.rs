//! What the dealer knows of turns that somebody has.

use super::table::Table;
use super::{Draft, deal};
use crate::care::board;
use crate::journal::Event;
use crate::place::CarerId;
use crate::rota::HORIZON_DAYS;
use crate::rota::tests::Script;

#[test]
fn what_is_dealt_after_moves_is_dealt_beside_the_hands_that_they_leave() {
    let mut script = Script::place();
    let now = script.at(0, 7);
    // One person has two turns of three, the others are nobody's yet.
    let all = script.shared(now).changes().into_iter().enumerate();
    let theirs = all.filter(|(index, _)| index % 3 != 0);
    let theirs = theirs.map(|(_, (slot, _))| (slot, Some(CarerId(1)))).collect();
    script.add(now, 0, Event::Shared(theirs));
    let book = script.book();
    let place = book.place_at(now);
    let mut draft = Draft::new(&book, &place, &board(&book, &place, now), now, HORIZON_DAYS);
    let mut table = Table::new(&draft);
    deal::improve(&mut table);
    deal::write(&table, &mut draft);
    assert!(table.even_out(&mut draft));
    let dealt: Vec<usize> = table.owners().map(|(turn, _)| turn).collect();
    let mut beside_moved = 0;
    for group in &table.groups {
        let mut hands = Vec::new();
        for (index, turn) in draft.turns.iter().enumerate() {
            if draft.key(index) == group.key && !dealt.contains(&index) {
                // People are numbered from 1 here, their places in the table from 0.
                hands.extend(turn.carer.map(|carer| carer.0 as usize - 1));
            }
        }
        assert_eq!(group.with, hands, "{:?}", group.key);
        assert_eq!(table.published.get(&group.key), hands.first());
        beside_moved += usize::from(hands.iter().any(|hand| *hand != 0));
    }
    assert!(beside_moved > 0);
}
