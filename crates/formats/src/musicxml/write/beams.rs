//! Beams over the short notes of a beat, for programs that set only those that a file names.

use handspan_core::time::{Metre, Ticks};

use super::events::Event;

/// How many beams a note value carries, by the standard's word for it.
fn flags(event: &Event) -> usize {
    let name = event.value.filter(|_| event.is_chord()).map_or("", |value| value.name);
    match name {
        "eighth" => 1,
        "16th" => 2,
        "32nd" => 3,
        "64th" => 4,
        "128th" => 5,
        "256th" => 6,
        _ => 0,
    }
}

/// Gives the events of a voice in one bar their beams: one group a beat, ended by rests, gaps and longer values (common
/// practice of the notation handbooks).
pub(super) fn add(events: &mut [Event], counted_from: Ticks, metre: Metre) {
    let beat = metre.beat().count().max(Ticks::PER_QUARTER);
    let window = |event: &Event| (event.at - counted_from).count().div_euclid(beat);
    let mut from = 0;
    while from < events.len() {
        let joins = |pair: &[Event]| {
            flags(&pair[1]) > 0
                && pair[0].at + pair[0].length == pair[1].at
                && window(&pair[0]) == window(&pair[1])
        };
        let more = events[from..].windows(2).take_while(|pair| flags(&pair[0]) > 0 && joins(pair)).count();
        let group = &mut events[from..=from + more];
        if more > 0 {
            let levels: Vec<usize> = group.iter().map(flags).collect();
            for (index, event) in group.iter_mut().enumerate() {
                event.beams = (1..=levels[index]).map(|level| word(&levels, index, level)).collect();
            }
        }
        from += more + 1;
    }
}

/// The standard's word for a beam at a level over one of the notes of a group.
fn word(levels: &[usize], index: usize, level: usize) -> &'static str {
    let reaches = |at: Option<usize>| at.and_then(|at| levels.get(at)).is_some_and(|beams| *beams >= level);
    match (reaches(index.checked_sub(1)), reaches(Some(index + 1))) {
        (true, true) => "continue",
        (true, false) => "end",
        (false, true) => "begin",
        (false, false) if index == 0 => "forward hook",
        (false, false) => "backward hook",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dotted_figure_has_a_hook() {
        let words = |levels: &[usize]| -> Vec<Vec<&str>> {
            (0..levels.len())
                .map(|index| (1..=levels[index]).map(|level| word(levels, index, level)).collect())
                .collect()
        };
        assert_eq!(words(&[1, 2]), [vec!["begin"], vec!["end", "backward hook"]]);
        assert_eq!(
            words(&[2, 1, 2]),
            [vec!["begin", "forward hook"], vec!["continue"], vec!["end", "backward hook"],]
        );
        assert_eq!(words(&[2, 2]), [vec!["begin", "begin"], vec!["end", "end"]]);
    }
}
