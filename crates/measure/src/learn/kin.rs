//! Which entries of the tables are kin, so that what is printed often teaches what is printed rarely.
//!
//! Entries that say the same of other fingers, other strings or another place on the neck share a part of their
//! weights, which is learned from all of them; what an entry has beyond that is its own.

use std::collections::BTreeMap;

use handspan_core::grip::moves::Way;
use handspan_core::grip::weights::Table;

/// By how much the numbers of each pair of fingers differ, in the order of the tables.
const APART: [usize; 6] = [1, 1, 1, 2, 2, 3];

/// The slots of entries that are kin, each family once. An entry may be in several.
pub(super) fn families() -> Vec<Vec<usize>> {
    let mut families = Vec::new();
    leads(&mut families);
    // How two fingers lie: for other pairs as far from each other in number, for all pairs, at any fret.
    sort(&mut families, Table::Slant, |entry| Some((APART[entry / 35], entry % 35)));
    sort(&mut families, Table::Slant, |entry| Some((0, entry % 35)));
    sort(&mut families, Table::Slant, |entry| Some((entry / 35, entry % 7)));
    // One finger for each fret: how much more or less than that two fingers are apart.
    sort(&mut families, Table::Apart, |entry| Some(entry % 7 + 3 - APART[entry / 7]));
    // A finger alone: at this fret, with the hand in this position, this finger.
    sort(&mut families, Table::Alone, |entry| Some(entry % 10));
    sort(&mut families, Table::Alone, |entry| Some(entry % 10 + 3 - entry / 10));
    sort(&mut families, Table::Alone, |entry| Some(entry / 10));
    // The four fingers do alike; the thumb comes first in these tables and is no kin.
    for (table, ways) in [
        (Table::Stays, 1),
        (Table::Slides, 3),
        (Table::Hops, 2),
        (Table::Jumps, 2),
        (Table::Lands, 1),
        (Table::Leaves, 1),
    ] {
        let digits = 5 * ways;
        sort(&mut families, table, |entry| {
            (entry % digits >= ways).then_some((entry / digits, entry % ways))
        });
    }
    // The hand travels as far, whatever the fingers do meanwhile.
    families
        .extend((0..Table::Shifts.len()).map(|entry| Way::ALL.map(|way| way.table().slot(entry)).to_vec()));
    families
}

/// The fingers of the top voice: as far from each other in number and place, along a string or to another; the same
/// fingers on any string; any fingers.
fn leads(families: &mut Vec<Vec<usize>>) {
    let half = Table::Leads.len() / 2;
    let ways = half / 16;
    let at_leisure = |entry: usize| entry < half;
    sort(families, Table::Leads, |entry| {
        let (old, new, way) = (entry / ways / 4, entry / ways % 4, entry % ways);
        at_leisure(entry).then_some((new + 3 - old.min(3), way / 3, way % 3 == 1))
    });
    sort(families, Table::Leads, |entry| at_leisure(entry).then_some(entry / 3));
    sort(families, Table::Leads, |entry| at_leisure(entry).then_some(entry % ways));
}

/// Sorts the entries of a table into families by what they have in common; an entry without has no kin.
fn sort<K: Ord>(families: &mut Vec<Vec<usize>>, table: Table, common: impl Fn(usize) -> Option<K>) {
    let mut by_kind: BTreeMap<K, Vec<usize>> = BTreeMap::new();
    for entry in 0..table.len() {
        if let Some(kind) = common(entry) {
            by_kind.entry(kind).or_default().push(table.slot(entry));
        }
    }
    families.extend(by_kind.into_values().filter(|family| family.len() > 1));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn are_kin(one: usize, other: usize) -> bool {
        families().iter().any(|family| family.contains(&one) && family.contains(&other))
    }

    #[test]
    fn fingers_are_kin_and_the_thumb_is_not() {
        let slides = |digit: usize, frets: usize| Table::Slides.slot(digit * 3 + frets - 1);
        assert!(are_kin(slides(1, 2), slides(4, 2)));
        assert!(!are_kin(slides(1, 2), slides(4, 1)));
        assert!(!are_kin(slides(0, 2), slides(1, 2)));
        // What haste adds is another family.
        assert!(!are_kin(slides(1, 2), slides(4, 2) + Table::Slides.len() / 2));
    }

    #[test]
    fn ways_along_the_neck_are_kin_where_they_are_as_far() {
        assert!(are_kin(Table::Shifts.slot(3), Table::ShiftsFree.slot(3)));
        assert!(!are_kin(Table::Shifts.slot(3), Table::ShiftsFree.slot(4)));
    }

    #[test]
    fn one_finger_a_fret_is_kin_for_every_pair_of_neighbours() {
        // From finger 1 to 2, and from 3 to 4, one fret away from the nut, on the same string.
        let up = |old: usize, new: usize| Table::Leads.slot((old * 4 + new) * 21 + 4 * 3 + 1);
        assert!(are_kin(up(0, 1), up(2, 3)));
        let in_no_group = |slot: usize| families().iter().all(|family| !family.contains(&slot));
        assert!(
            (Table::Leads.len() / 2..Table::Leads.len()).all(|entry| in_no_group(Table::Leads.slot(entry)))
        );
    }
}
