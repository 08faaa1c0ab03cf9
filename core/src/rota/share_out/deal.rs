//! Turns given out, then moved and swapped for as long as that makes loads evener.

use super::Draft;
use super::table::Table;

/// How often all turns are looked at again.
const SWEEPS_MAX: usize = 12;

/// Gives out the turns that nobody has yet; `evens`: published ones are moved where loads are far from even.
pub(super) fn deal(draft: &mut Draft<'_>, evens: bool) {
    let mut table = Table::new(draft);
    improve(&mut table);
    let owners: Vec<_> = table.owners().collect();
    for (turn, owner) in owners {
        draft.turns[turn].carer = owner;
    }
    if evens {
        for (turn, to) in table.even_out(draft) {
            draft.turns[turn].carer = Some(table.carer(to));
        }
    }
}

/// Gives every group to whoever is best when it comes to it, then each anew for as long as anything gets better.
pub(super) fn improve(table: &mut Table) {
    for group in 0..table.groups.len() {
        table.give_out(group);
    }
    for _ in 0..SWEEPS_MAX {
        if !table.sweep() && !table.swap() {
            break;
        }
    }
}
