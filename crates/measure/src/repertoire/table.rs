//! The table by piece.

use std::fmt::Write as _;

use super::figures::Figures;

/// The heads of the columns.
pub(super) fn head() -> String {
    let mut line = format!("{:<44}", "piece");
    for name in ["onsets", "reachable", "grip", "route", "cuts", "fingers", "half", "open", "strings"] {
        column(&mut line, name);
    }
    line + "   voicings: first, 3, 10"
}

/// One piece.
pub(super) fn row(name: &str, f: &Figures) -> String {
    let mut line = format!("{name:<44}");
    for count in [f.onsets, f.reachable, f.with_grip, f.with_route, f.cuts] {
        column(&mut line, &count.to_string());
    }
    for (agree, printed) in [
        (f.fingers_agree, f.fingers_printed),
        (f.fingers_agree_half_locked, f.fingers_half_locked),
        (f.open_agree, f.open_printed),
        (f.strings_agree, f.strings_printed),
    ] {
        column(&mut line, &format!("{agree}/{printed}"));
    }
    let ranks = format!("   {}: {}, {}, {}", f.voicings, f.voicing_first, f.voicing_top3, f.voicing_top10);
    line + &ranks
}

fn column(line: &mut String, cell: &str) {
    // Writing to a text cannot fail.
    write!(line, " {cell:>9}").unwrap_or_default();
}
