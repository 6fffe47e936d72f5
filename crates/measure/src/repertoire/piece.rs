//! Reads published pieces: a line an onset, with what is struck, what is held, and the printed marks.

use std::fs;
use std::path::Path;

use handspan_core::demand::{Mark, Part, SoundingNote, WrittenDemand, WrittenNote};
use handspan_core::grip::StringSet;
use handspan_core::grip::moves::USUAL_MILLISECONDS;
use handspan_core::hand::Finger;
use handspan_core::neck::{Instrument, StringIndex, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Tempo, Ticks};
use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::fault::Fault;

/// The frets of a classical guitar.
const FRETS: u8 = 19;

/// A published piece.
pub(crate) struct Piece {
    pub(crate) name: String,
    pub(crate) instrument: Instrument,
    pub(crate) onsets: Vec<Onset>,
}

impl Piece {
    /// How many left-hand digits and string numbers are printed in it.
    pub(crate) fn marks(&self) -> usize {
        let of = |note: &WrittenNote| usize::from(note.mark.is_some()) + usize::from(note.string.is_some());
        self.onsets.iter().flat_map(|onset| &onset.struck).map(of).sum()
    }

    /// What every onset demands, without any marks.
    pub(crate) fn demands(&self) -> impl Iterator<Item = WrittenDemand> + '_ {
        let on = |pitch: &Pitch| SoundingNote { pitch: *pitch, part: Part::Inner };
        let bars = self.onsets.iter().map(|onset| onset.bar);
        let begins = bars.scan(None, |before, bar| Some(before.replace(bar) != Some(bar)));
        self.onsets.iter().zip(begins).map(move |(onset, begins_bar)| WrittenDemand {
            milliseconds: onset.milliseconds,
            begins_bar,
            struck: onset.plain(),
            sounding_on: onset.sounding_on.iter().map(on).collect(),
        })
    }
}

/// One onset: something is struck.
pub(crate) struct Onset {
    pub(crate) bar: i64,
    /// How long after the bar line, where that is told.
    pub(crate) beat: Option<Ticks>,
    /// The time since the onset before.
    pub(crate) milliseconds: i64,
    /// What is struck with its printed marks, lowest first; no pitch twice.
    pub(crate) struck: Vec<WrittenNote>,
    /// What sounds on from before, without what is struck anew.
    pub(crate) sounding_on: Vec<Pitch>,
}

impl Onset {
    /// What is struck, without its marks.
    pub(crate) fn plain(&self) -> Vec<WrittenNote> {
        self.struck.iter().map(|note| WrittenNote::plain(note.pitch)).collect()
    }

    /// Everything that sounds, without its marks.
    pub(crate) fn sounding(&self) -> Vec<WrittenNote> {
        let struck = self.struck.iter().map(|note| note.pitch);
        struck.chain(self.sounding_on.iter().copied()).map(WrittenNote::plain).collect()
    }

    /// Whether every sounding pitch has a string of its own, whatever a hand may say.
    pub(crate) fn is_reachable(&self, instrument: &Instrument) -> bool {
        have_strings(instrument, &self.sounding(), StringSet::EMPTY)
    }
}

/// Whether every note has a string of its own besides those that are taken.
fn have_strings(instrument: &Instrument, left: &[WrittenNote], taken: StringSet) -> bool {
    let Some((note, rest)) = left.split_first() else { return true };
    let mut free = instrument.places(note.pitch).map(|place| place.string).filter(|s| !taken.contains(*s));
    free.any(|string| have_strings(instrument, rest, taken.union([string].into_iter().collect())))
}

/// A line of manifest.jsonl.
#[derive(Deserialize)]
struct Listed {
    piece: String,
    file: String,
    tempo_qpm: Option<f64>,
    tuning: String,
    #[serde(default)]
    capo: u8,
}

/// A line of a piece.
#[derive(Deserialize)]
struct Line {
    /// In quarters from the beginning.
    onset: String,
    bar: i64,
    /// In quarters from the bar line.
    beat: Option<String>,
    new: Vec<New>,
    held: Vec<Held>,
}

#[derive(Deserialize)]
struct New {
    p: i32,
    lh: Option<String>,
    str: Option<u8>,
}

#[derive(Deserialize)]
struct Held {
    p: i32,
}

/// Reads every piece that the folder's manifest lists.
pub(crate) fn pieces(folder: &Path) -> Result<Vec<Piece>, Fault> {
    let manifest = folder.join("manifest.jsonl");
    lines(&manifest, |listed: &Listed| {
        let instrument = instrument(listed)?;
        Ok((listed.piece.clone(), listed.file.clone(), tempo(listed), instrument))
    })?
    .into_iter()
    .map(|(name, file, tempo, instrument)| {
        let mut before = None;
        let onsets = lines(&folder.join(file), |line: &Line| {
            let at = quarters(&line.onset)?;
            let milliseconds =
                before.map_or(USUAL_MILLISECONDS, |before| tempo.milliseconds(at - before).max(0));
            before = Some(at);
            onset(line, milliseconds)
        })?;
        Ok(Piece { name, instrument, onsets })
    })
    .collect()
}

/// Reads a file of JSON lines and makes something of each.
fn lines<T: DeserializeOwned, U>(
    path: &Path,
    mut make: impl FnMut(&T) -> Result<U, String>,
) -> Result<Vec<U>, Fault> {
    let text = fs::read_to_string(path).map_err(|why| Fault::Unread { path: path.to_path_buf(), why })?;
    let numbered = text.lines().zip(1..).filter(|(line, _)| !line.trim().is_empty());
    numbered
        .map(|(line, number)| {
            let read = serde_json::from_str(line).map_err(|why| why.to_string());
            read.and_then(|value| make(&value)).map_err(|why| Fault::Line {
                path: path.to_path_buf(),
                line: number,
                why,
            })
        })
        .collect()
}

fn onset(line: &Line, milliseconds: i64) -> Result<Onset, String> {
    let pitch = |midi: i32| Pitch::try_new(midi).ok_or_else(|| format!("{midi} is no pitch"));
    let note = |new: &New| -> Result<WrittenNote, String> {
        let string = new.str.and_then(StringIndex::from_number);
        Ok(WrittenNote {
            pitch: pitch(new.p)?,
            string,
            mark: new.lh.as_deref().and_then(mark),
            harmonic: None,
        })
    };
    let mut struck = line.new.iter().map(note).collect::<Result<Vec<_>, _>>()?;
    struck.sort_by_key(|note| note.pitch);
    struck.dedup_by_key(|note| note.pitch);
    let mut sounding_on = line.held.iter().map(|held| pitch(held.p)).collect::<Result<Vec<_>, _>>()?;
    sounding_on.sort_unstable();
    sounding_on.dedup();
    sounding_on.retain(|on| struck.iter().all(|note| note.pitch != *on));
    let beat = line.beat.as_deref().map(quarters).transpose()?;
    Ok(Onset { bar: line.bar, beat, milliseconds, struck, sounding_on })
}

/// A printed digit; anything else is no left-hand finger.
fn mark(printed: &str) -> Option<Mark> {
    match printed.parse().ok()? {
        0 => Some(Mark::Open),
        digit => Finger::from_number(digit).map(Mark::Stopped),
    }
}

fn tempo(listed: &Listed) -> Tempo {
    let rounded = listed.tempo_qpm.map(|quarters| quarters.round() as u16);
    rounded.and_then(Tempo::try_new).unwrap_or(Tempo::MODERATE)
}

/// Reads `E2 A2 D3 G3 B3 E4`.
fn instrument(listed: &Listed) -> Result<Instrument, String> {
    let pitch = |name: &str| {
        let (spelling, octave) = Spelling::read(name)?;
        SpelledPitch { spelling, octave: octave.parse().ok()? }.pitch()
    };
    let string = |name: &str| pitch(name).ok_or_else(|| format!("{name} is no open string"));
    let open = listed.tuning.split_whitespace().map(string).collect::<Result<Vec<_>, _>>()?;
    let tuning = Tuning::from_low_to_high(listed.tuning.clone(), open);
    Instrument::try_new(tuning, FRETS, Instrument::CLASSICAL_SCALE, listed.capo)
        .map_err(|why| why.to_string())
}

/// Reads a fraction of quarters; what no tick meets is rounded down, since here time only weighs moves.
fn quarters(text: &str) -> Result<Ticks, String> {
    let (count, parts) = text.split_once('/').unwrap_or((text, "1"));
    let read = || {
        let parts: i64 = parts.parse().ok().filter(|parts| *parts > 0)?;
        Some(Ticks::new(count.parse::<i64>().ok()?.checked_mul(Ticks::PER_QUARTER)? / parts))
    };
    read().ok_or_else(|| format!("{text} is no number of quarters"))
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Two bars of D and G with a held bass, some marks, and a chord no hand can hold.
    pub(in super::super) const LINES: &str = r#"
{"onset":"0","bar":1,"new":[{"p":50,"lh":"0"},{"p":57,"lh":"1"},{"p":62,"lh":"3","str":2},{"p":66,"lh":"2"}],"held":[]}
{"onset":"1","bar":1,"beat":"1","new":[{"p":67,"lh":"3"}],"held":[{"p":50}]}
{"onset":"3/2","bar":1,"new":[{"p":41},{"p":58},{"p":75}],"held":[]}
{"onset":"2","bar":2,"new":[{"p":43,"lh":"3"},{"p":59},{"p":67,"lh":"4"}],"held":[]}
{"onset":"3","bar":2,"new":[{"p":69,"lh":"T"}],"held":[{"p":43}]}
{"onset":"3","bar":2,"new":[{"p":30}],"held":[]}
"#;

    /// A folder with one piece of [`LINES`].
    pub(in super::super) fn folder() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        let listed = r#"{"piece":"two-bars","file":"a.jsonl","tempo_qpm":120.0,"tuning":"E2 A2 D3 G3 B3 E4","capo":0}"#;
        fs::write(folder.path().join("manifest.jsonl"), listed).unwrap();
        fs::write(folder.path().join("a.jsonl"), LINES).unwrap();
        folder
    }

    #[test]
    fn a_piece_is_read_with_its_marks_and_times() {
        let folder = folder();
        let piece = pieces(folder.path()).unwrap().remove(0);
        assert_eq!(piece.instrument.open_pitch(StringIndex::new(5)), Pitch::new(40));
        let times: Vec<i64> = piece.onsets.iter().map(|onset| onset.milliseconds).collect();
        assert_eq!(times, [USUAL_MILLISECONDS, 500, 250, 250, 500, 0]);
        let marks: Vec<Option<Mark>> = piece.onsets[0].struck.iter().map(|note| note.mark).collect();
        let stopped = |finger| Some(Mark::Stopped(finger));
        assert_eq!(
            marks,
            [Some(Mark::Open), stopped(Finger::Index), stopped(Finger::Ring), stopped(Finger::Middle)]
        );
        assert_eq!(piece.onsets[0].struck[2].string, Some(StringIndex::new(1)));
        assert_eq!(piece.onsets[4].struck[0].mark, None);
        assert_eq!(piece.onsets[1].sounding_on, [Pitch::new(50)]);
    }

    #[test]
    fn two_pitches_need_two_strings() {
        let guitar = Instrument::classical();
        let onset = |pitches: &[u8]| Onset {
            bar: 1,
            beat: None,
            milliseconds: 500,
            struck: pitches.iter().map(|p| WrittenNote::plain(Pitch::new(*p))).collect(),
            sounding_on: Vec::new(),
        };
        assert!(onset(&[40, 45]).is_reachable(&guitar));
        assert!(!onset(&[40, 41]).is_reachable(&guitar));
        assert!(!onset(&[39]).is_reachable(&guitar));
    }

    #[test]
    fn a_broken_line_is_named() {
        let folder = folder();
        fs::write(folder.path().join("a.jsonl"), "\n{\"onset\":\"1/0\",\"bar\":1,\"new\":[],\"held\":[]}")
            .unwrap();
        let fault = pieces(folder.path()).err().unwrap().to_string();
        assert!(
            fault.ends_with("a.jsonl, line 2 is not what it should be: 1/0 is no number of quarters"),
            "{fault}"
        );
    }
}
