//! Turns given out, then moved and swapped for as long as that makes loads evener.

use super::Draft;
use super::table::Table;

/// How often all turns are looked at again.
const SWEEPS_MAX: usize = 12;

/// Gives out the turns that nobody has yet; `evens`: published ones are moved where loads are far from even.
pub(super) fn deal(draft: &mut Draft<'_>, evens: bool) {
    let mut table = Table::new(draft);
    improve(&mut table);
    write(&table, draft);
    if !evens {
        return;
    }
    if table.even_out(draft) {
        // A day may have room now for what nobody had time for.
        improve(&mut table);
        write(&table, draft);
    }
}

pub(super) fn write(table: &Table, draft: &mut Draft<'_>) {
    for (turn, owner) in table.owners() {
        draft.turns[turn].carer = owner;
    }
}

/// Gives every group to whoever is best when it comes to it, then each anew for as long as anything gets better.
pub(super) fn improve(table: &mut Table) {
    for group in 0..table.groups.len() {
        table.give_out(group);
    }
    for _ in 0..SWEEPS_MAX {
        if !table.sweep() && !table.swap() && !table.relay() && !table.cover() {
            break;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::improve;
    use crate::rota::share_out::table::made::table;

    #[test]
    fn what_follows_a_turn_counts_for_whoever_gets_it() {
        // The first person alone can do the first turn; the second has done a little more than them already.
        let check = |more: f64, owner: u32| {
            let people = [(None, 0.0), (None, 15.0)];
            let mut table = table(&people, vec![vec![(10.0, &[0])], vec![(12.0, &[0, 1])]]);
            table.groups[0].turns[0].more = more;
            improve(&mut table);
            let second = table.owners().nth(1).and_then(|(_, owner)| owner);
            assert_eq!(second.map(|owner| owner.0), Some(owner), "{more}");
        };
        check(0.0, 1);
        check(40.0, 2);
    }
}
