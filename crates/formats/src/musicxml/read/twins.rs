//! A note that stands in the staff and in the tablature is one note.

use handspan_core::time::Ticks;

use super::note::ReadNote;
use super::part::ReadBar;
use super::report::Report;
use crate::diagnostic::{Severity, Whereabouts};

/// Joins the notes of staff and tablature in a bar: the staff's length, voice and spelling, the marks of both.
pub(super) fn merge(bar: &mut ReadBar, report: &mut Report) {
    let (mut tablature, staff): (Vec<ReadNote>, Vec<ReadNote>) =
        std::mem::take(&mut bar.notes).into_iter().partition(|note| note.tablature);
    if tablature.is_empty() || staff.is_empty() {
        bar.notes = if staff.is_empty() { tablature } else { staff };
        return;
    }
    for note in staff {
        let twin = twin(&note, &tablature).map(|index| tablature.remove(index));
        let Some(twin) = twin else {
            bar.notes.push(note);
            continue;
        };
        if twin.length != note.length {
            say(
                report,
                bar,
                &note,
                "a note lasts another time in the staff than in the tablature; the staff counts",
            );
        }
        bar.notes.push(ReadNote {
            tie_stop: note.tie_stop || twin.tie_stop,
            tie_start: note.tie_start || twin.tie_start,
            technique: note.technique.with(twin.technique),
            ..note
        });
    }
    for note in tablature {
        say(report, bar, &note, "a note of the tablature is missing in the staff; it is kept");
        bar.notes.push(note);
    }
}

fn say(report: &mut Report, bar: &ReadBar, note: &ReadNote, message: &str) {
    let place = Whereabouts::Bar(bar.bar.number.clone());
    report.push(Severity::Fault, place, Some(note.line), message);
}

/// The note of the tablature that is the same; one of the same length where there are several.
fn twin(note: &ReadNote, tablature: &[ReadNote]) -> Option<usize> {
    let fits = |other: &ReadNote| {
        let own = &note.technique.string;
        let same_string = own.is_none() || *own == other.technique.string;
        other.at == note.at && other.written.pitch() == note.written.pitch() && same_string
    };
    let farthest = |other: &ReadNote| {
        let difference: Ticks = other.length - note.length;
        difference.count().abs()
    };
    let fitting = tablature.iter().enumerate().filter(|(_, other)| fits(other));
    fitting.min_by_key(|(_, other)| farthest(other)).map(|(index, _)| index)
}
