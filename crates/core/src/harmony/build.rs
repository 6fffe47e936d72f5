//! From what is written in a chord symbol to kind and degrees.

use super::kind::Kind;
use super::symbol::{Chord, Degree, DegreeKind, dominant_scale};
use crate::spelling::Spelling;

/// The letters after the root.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(super) enum Quality {
    /// None: a major third, a minor seventh.
    #[default]
    Plain,
    /// maj
    Major,
    /// m
    Minor,
    /// dim
    Diminished,
    /// ø
    HalfDiminished,
    /// aug
    Augmented,
}

/// A degree and by how much it differs from a dominant chord's.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Alteration {
    pub(super) number: u8,
    pub(super) by: i8,
}

/// What takes the place of the third.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Suspension {
    Second,
    Fourth,
    Both,
}

/// Something written after quality and number.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Change {
    /// `add9`: sounds besides.
    Add(Alteration),
    /// `b9`: alters the degree if the chord has it, else adds it.
    Set(Alteration),
    /// `9` by itself: added if the chord lacks it.
    Number(u8),
    /// `no3`
    LeaveOut(u8),
    /// `sus4`
    Suspend(Suspension),
    /// `alt`
    Altered,
}

/// A chord symbol as written after its root.
#[derive(Debug, Default)]
pub(super) struct Written {
    /// A kind that has a word of its own.
    pub(super) kind: Option<Kind>,
    pub(super) quality: Quality,
    /// Whether a seventh is a major one.
    pub(super) major_seventh: bool,
    pub(super) number: Option<u8>,
    pub(super) changes: Vec<Change>,
}

impl Written {
    /// The chord, without bass; none where the parts do not go together.
    pub(super) fn into_chord(self, root: Spelling) -> Option<Chord> {
        let altered = self.changes.contains(&Change::Altered);
        if altered {
            let alone = self.changes.len() == 1 && self.quality == Quality::Plain;
            let mut chord = Chord::plain(root, Kind::Dominant);
            chord.degrees = Degree::ALTERED.to_vec();
            return (alone && matches!(self.number, None | Some(7))).then_some(chord);
        }
        let (kind, degrees) = self.kind_and_degrees()?;
        let mut builder =
            Builder { kind, of_number: degrees.len(), degrees, third_in_place: self.kind.is_some() };
        for change in &self.changes {
            builder.apply(*change);
        }
        builder.name_half_diminished();
        let mut chord = Chord::plain(root, builder.kind);
        chord.degrees = builder.degrees;
        Some(chord)
    }

    /// What quality, number and the first suspension say.
    fn kind_and_degrees(&self) -> Option<(Kind, Vec<Degree>)> {
        if let Some(kind) = self.kind {
            return Some((kind, Vec::new()));
        }
        let whole = self.with_third()?;
        let suspended = self.changes.iter().find_map(|change| match change {
            Change::Suspend(Suspension::Fourth) => Some(Kind::SuspendedFourth),
            Change::Suspend(_) => Some(Kind::SuspendedSecond),
            _ => None,
        });
        let Some(kind) = suspended else {
            return Some(whole);
        };
        let mut degrees = match self.quality {
            Quality::Diminished | Quality::HalfDiminished => vec![Degree::new(5, -1, DegreeKind::Alter)],
            Quality::Augmented => vec![Degree::new(5, 1, DegreeKind::Alter)],
            _ => Vec::new(),
        };
        match self.number {
            Some(number @ (2 | 4 | 6)) => degrees.push(added(number)),
            Some(number @ 7..) => {
                degrees.push(self.seventh());
                // The eleventh is the suspended fourth itself.
                degrees.extend(stacked(number).filter(|d| d.number != 11 || kind == Kind::SuspendedSecond));
            }
            _ => (),
        }
        Some((kind, degrees))
    }

    /// What quality and number say of a chord whose third is in its place.
    fn with_third(&self) -> Option<(Kind, Vec<Degree>)> {
        let triad = match self.quality {
            Quality::Plain if self.number == Some(5) => Kind::Power,
            Quality::Plain | Quality::Major => Kind::Major,
            Quality::Minor => Kind::Minor,
            Quality::Diminished => Kind::Diminished,
            Quality::HalfDiminished => Kind::HalfDiminished,
            Quality::Augmented => Kind::Augmented,
        };
        match self.number {
            None | Some(5) => Some((triad, Vec::new())),
            Some(6) if triad == Kind::Major => Some((Kind::MajorSixth, Vec::new())),
            Some(6) if triad == Kind::Minor => Some((Kind::MinorSixth, Vec::new())),
            Some(number @ (2 | 4 | 6)) => Some((triad, vec![added(number)])),
            Some(number @ (7 | 9 | 11 | 13)) => Some(self.with_seventh(triad, number)),
            Some(_) => None,
        }
    }

    fn with_seventh(&self, triad: Kind, number: u8) -> (Kind, Vec<Degree>) {
        let level = usize::from(number - 7) / 2;
        let named = |kinds: [Kind; 4]| (kinds[level], Vec::new());
        let stacked_on = |kind| (kind, stacked(number).collect());
        match (self.quality, self.major_seventh) {
            (Quality::Plain, _) => {
                named([Kind::Dominant, Kind::DominantNinth, Kind::Dominant11th, Kind::Dominant13th])
            }
            (Quality::Major, _) => {
                named([Kind::MajorSeventh, Kind::MajorNinth, Kind::Major11th, Kind::Major13th])
            }
            (Quality::Minor, false) => {
                named([Kind::MinorSeventh, Kind::MinorNinth, Kind::Minor11th, Kind::Minor13th])
            }
            (Quality::Minor, true) => stacked_on(Kind::MajorMinor),
            (Quality::HalfDiminished, _) => stacked_on(Kind::HalfDiminished),
            (Quality::Diminished, false) => stacked_on(Kind::DiminishedSeventh),
            (Quality::Augmented, false) => stacked_on(Kind::AugmentedSeventh),
            (Quality::Diminished | Quality::Augmented, true) => {
                let degrees = [self.seventh()].into_iter().chain(stacked(number));
                (triad, degrees.collect())
            }
        }
    }

    fn seventh(&self) -> Degree {
        Degree::new(7, i8::from(self.major_seventh), DegreeKind::Add)
    }
}

const fn added(number: u8) -> Degree {
    Degree::new(number, 0, DegreeKind::Add)
}

/// The degrees that a number piles on the seventh.
fn stacked(number: u8) -> impl Iterator<Item = Degree> {
    [9, 11, 13].into_iter().filter(move |n| *n <= number).map(added)
}

/// The chord while its changes are applied.
struct Builder {
    kind: Kind,
    degrees: Vec<Degree>,
    /// How many of the degrees the number said: a later accidental alters these.
    of_number: usize,
    /// Whether another suspension adds to the chord instead of replacing its third.
    third_in_place: bool,
}

impl Builder {
    fn apply(&mut self, change: Change) {
        match change {
            Change::Add(Alteration { number, by }) => self.push(number, by, DegreeKind::Add),
            Change::Set(alteration) => self.set(alteration),
            Change::Number(number) => {
                let there =
                    self.kind.tone_of(number).is_some() || self.degrees.iter().any(|d| d.number == number);
                if !there {
                    self.push(number, 0, DegreeKind::Add);
                }
            }
            Change::LeaveOut(number) => self.push(number, 0, DegreeKind::Subtract),
            Change::Suspend(suspension) => {
                match (self.third_in_place, suspension) {
                    (true, Suspension::Second) => self.push(2, 0, DegreeKind::Add),
                    (true, Suspension::Fourth) | (_, Suspension::Both) => self.push(4, 0, DegreeKind::Add),
                    (false, _) => (),
                }
                self.third_in_place = true;
            }
            // Stands alone, see `into_chord`.
            Change::Altered => (),
        }
    }

    fn set(&mut self, Alteration { number, by }: Alteration) {
        let of_number = self.degrees[..self.of_number]
            .iter_mut()
            .find(|d| d.number == number && d.kind == DegreeKind::Add && d.alter == 0);
        if let Some(degree) = of_number {
            degree.alter = by;
            return;
        }
        let touched = self.degrees.iter().any(|d| d.number == number && d.kind != DegreeKind::Add);
        match self.kind.tone_of(number).filter(|_| !touched) {
            Some(tone) => {
                let alter = dominant_scale(number) + i16::from(by) - tone;
                if alter != 0 {
                    self.push(number, alter as i8, DegreeKind::Alter);
                }
            }
            None => self.push(number, by, DegreeKind::Add),
        }
    }

    fn push(&mut self, number: u8, alter: i8, kind: DegreeKind) {
        let degree = Degree::new(number, alter, kind);
        let major_seventh = Degree::new(7, 1, DegreeKind::Add);
        match self.kind {
            // A triad with a major seventh is a kind that has a name.
            Kind::Major if degree == major_seventh && self.degrees.is_empty() => {
                self.kind = Kind::MajorSeventh;
            }
            Kind::Minor if degree == major_seventh && self.degrees.is_empty() => self.kind = Kind::MajorMinor,
            _ => self.degrees.push(degree),
        }
    }

    /// m7b5 is the half-diminished chord, not an altered minor seventh.
    fn name_half_diminished(&mut self) {
        let flat_fifth = Degree::new(5, -1, DegreeKind::Alter);
        let mut fifths = self.degrees.iter().filter(|d| d.number == 5);
        if self.kind == Kind::MinorSeventh && fifths.next() == Some(&flat_fifth) && fifths.next().is_none() {
            self.kind = Kind::HalfDiminished;
            self.degrees.retain(|d| *d != flat_fifth);
        }
    }
}
