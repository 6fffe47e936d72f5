//! The practice page put together: heading, moves, ladder, cautions.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;
use handspan_core::time::Tempo;

use super::hardest::{HardMove, hardest};
use super::necks::necks;
use super::ways::ways;
use crate::draw::{pen, signs};
use crate::frame::{Frame, Group, Ink, Item, Path, Role, Stroke};
use crate::glyph::Face;
use crate::look;
use crate::options::SheetOptions;
use crate::page::finish::{page, type_area};
use crate::points::{Point, Points, Rect};

/// How many moves are shown.
const MOVES: usize = 6;
/// The rungs of the ladder in hundredths of the tempo (common practice, no source).
const RUNGS: [u32; 6] = [50, 60, 70, 80, 90, 100];

const HEADING: Points = Points::new(15.0);
const NAME: Points = Points::new(11.0);
const TEXT: Points = Points::new(9.5);
/// The white below a move and below the heading, and what is left of it where that keeps the cautions on the page.
const GAP: Points = Points::new(15.0);
const LEAST_GAP: Points = Points::new(8.0);
/// From the necks to the words.
const BESIDE_NECKS: Points = Points::new(16.0);
/// The box that is ticked off, and the white around it.
const TICK: Points = Points::new(7.0);
const TICK_GAP: Points = Points::new(3.0);
const RUNG_GAP: Points = Points::new(11.0);

const HOW: &str = "Play each move alone, back and forth, then with the beat before and after it. Begin on the lowest \
                   tempo; tick it off when the move has gone well five times running and the hand stayed loose, then \
                   take the next one. When it fails twice, go one tempo back.";
const CAUTIONS: &str = "Wide stretches, long barres and repetition can hurt a hand. Warm up first, keep sessions \
                        short, rest between moves, and stop at once when anything hurts, tingles or goes numb. Ask a \
                        teacher how your hand should stand, and a doctor about any pain that stays or comes back. \
                        What is too wide for your hand may be left out or fingered otherwise.";
const NONE: &str = "No move here asks anything of the left hand.";

/// The pages, without footers: one, or more in large print.
pub(crate) fn pages(score: &Score, options: &SheetOptions) -> Vec<Frame> {
    let area = type_area(options);
    let bottom = area.bottom - look::FOOTER;
    let moves = hardest(score, &options.printed_times(score), MOVES);
    let mut blocks = vec![opening(moves.is_empty(), area.width())];
    let drawn: Vec<Group> = moves
        .iter()
        .map(|hard| necks(&score.instrument, &hard.from, &hard.to, options.left_handed_boxes))
        .collect();
    let rights = drawn.iter().filter_map(Group::bounds).map(|ink| ink.right);
    let words = rights.fold(Points::ZERO, Points::max) + BESIDE_NECKS;
    for (number, (hard, necks)) in moves.iter().zip(drawn).enumerate() {
        blocks.push(cell(score, number, hard, necks, (words, area.width())));
    }
    blocks.push(paragraph(CAUTIONS, area.width()));
    let room = bottom - area.top;
    let mut pages = filled(blocks, room);
    keep_company(&mut pages, room);
    pages.into_iter().map(|blocks| page(placed(blocks, area, room), options)).collect()
}

fn height(block: &Group) -> Points {
    block.bounds().map_or(Points::ZERO, |ink| ink.height())
}

/// The blocks of every page, as many as it holds.
fn filled(blocks: Vec<Group>, room: Points) -> Vec<Vec<Group>> {
    let mut pages: Vec<Vec<Group>> = Vec::new();
    let mut y = Points::ZERO;
    for block in blocks {
        let high = height(&block);
        if let Some(page) = pages.last_mut().filter(|_| y + high <= room) {
            page.push(block);
        } else {
            pages.push(vec![block]);
            y = Points::ZERO;
        }
        y += high + GAP;
    }
    pages
}

/// Takes the cautions that would stand alone on the last page to the page before where less white makes room for them,
/// otherwise the last move of that page to them.
fn keep_company(pages: &mut Vec<Vec<Group>>, room: Points) {
    let Some(mut last) = pages.pop_if(|last| last.len() == 1) else { return };
    if let Some(before) = pages.last_mut() {
        let needed: Points = before.iter().chain(&last).map(|block| height(block) + LEAST_GAP).sum();
        if needed - LEAST_GAP <= room {
            before.append(&mut last);
            return;
        }
        if before.len() > 1 {
            last.splice(0..0, before.pop());
        }
    }
    pages.push(last);
}

/// The blocks of a page one below the other.
fn placed(blocks: Vec<Group>, area: Rect, room: Points) -> Vec<Item> {
    let gaps = blocks.len().saturating_sub(1).max(1) as f64;
    let white = room - blocks.iter().map(height).sum::<Points>();
    let gap = (white / gaps).min(GAP);
    let mut y = area.top;
    let mut items = Vec::new();
    for mut block in blocks {
        let Some(ink) = block.bounds() else { continue };
        block.at = Point::new(area.left, y - ink.top);
        y += ink.height() + gap;
        items.push(block.into());
    }
    items
}

fn opening(nothing: bool, width: Points) -> Group {
    let mut group = Group::new(Role::Practice);
    let title = pen::text_from(Face::Bold, HEADING, "Practice: the hardest moves", Point::ORIGIN);
    group.push(Group::of(Role::PracticeHeading, title));
    let mut text = paragraph(if nothing { NONE } else { HOW }, width);
    text.at.y = HEADING * 1.2;
    group.push(text);
    group
}

fn paragraph(words: &str, width: Points) -> Group {
    let mut group = Group::new(Role::Paragraph);
    for line in pen::paragraph(words, Face::Regular, TEXT, Point::ORIGIN, width) {
        group.push(line);
    }
    group
}

/// A move: its necks to the left; its place, the fingers' ways and its ladder to their right, from edge to edge.
fn cell(score: &Score, number: usize, hard: &HardMove, necks: Group, edges: (Points, Points)) -> Group {
    let mut group = Group::new(Role::Move(number));
    let (x, width) = edges;
    let top = necks.bounds().map_or(Points::ZERO, |ink| ink.top);
    group.push(necks);
    let (place, chords) = (place(score, number, hard), chords(score, hard));
    let mut y = top + NAME * 0.8;
    let name = pen::text_from(Face::Bold, NAME, &place, Point::new(x, y));
    let after = x + name.advance();
    group.push(name);
    // Strong letters have no accidentals.
    group.push(pen::text_from(Face::Regular, NAME, &chords, Point::new(after, y)));
    let ways = ways(&hard.from, &hard.to);
    y += NAME * 1.35;
    let lines = pen::paragraph(&ways.join(" "), Face::Regular, TEXT, Point::new(x, y), width - x);
    y += TEXT * (pen::LEADING * lines.len().saturating_sub(1) as f64);
    for line in lines {
        group.push(line);
    }
    ladder(score, hard, Rect { left: x, top: y + Points::new(8.0), right: width, bottom: y }, &mut group);
    let strings = score.instrument.string_count();
    let written = |grip: &Grip| grip.voicing().written(strings);
    group.described(format!(
        "{place}{chords}. From {} to {}. {}",
        written(&hard.from),
        written(&hard.to),
        ways.join(" ")
    ))
}

/// `1. Bar 7, beat 3`.
fn place(score: &Score, number: usize, hard: &HardMove) -> String {
    let at = score.tune.bar_beat(hard.at).to_string();
    format!("{}. B{}", number + 1, &at[1..])
}

/// `: B♭m7 to E♭7`.
fn chords(score: &Score, hard: &HardMove) -> String {
    let before = score.notes.partition_point(|note| note.at < hard.at);
    let since = before.checked_sub(1).map(|last| score.notes[last].at);
    let names = since.and_then(|since| Some((score.tune.chord_at(since)?, score.tune.chord_at(hard.at)?)));
    match names {
        Some((old, new)) if old == new => format!(": within {old:#}"),
        Some((old, new)) => format!(": {old:#} to {new:#}"),
        None => String::new(),
    }
}

/// The tempi from half the tempo up to the whole, each with a box to tick off.
fn ladder(score: &Score, hard: &HardMove, room: Rect, into: &mut Group) {
    let bar = &score.tune.bars()[score.tune.bar_index(hard.at)];
    let tempo = score.tune.tempo_at(hard.at);
    let mut at = Point::new(room.left, room.top + TEXT);
    for (index, rung) in RUNGS.into_iter().enumerate() {
        let slower = (u32::from(tempo.quarters_a_minute()) * rung).div_ceil(100);
        let Some(slower) = u16::try_from(slower).ok().and_then(Tempo::try_new) else { continue };
        let mut runs = signs::tempo(slower, bar.metre);
        if index > 0 {
            let figure = signs::beats_a_minute(slower, bar.metre).to_string();
            runs = vec![pen::text_from(Face::Regular, TEXT, &figure, Point::ORIGIN)];
        }
        let wide = runs.last().map_or(Points::ZERO, |run| run.at.x + run.advance());
        let whole = wide + TICK_GAP + TICK;
        if at.x > room.left && at.x + whole > room.right {
            at = Point::new(room.left, at.y + TEXT * 1.6);
        }
        for mut run in runs {
            run.at = run.at.moved(at.x, at.y);
            into.push(run);
        }
        let left = at.x + wide + TICK_GAP;
        let tick = Rect { left, top: at.y - TICK, right: left + TICK, bottom: at.y };
        let mut square = Path::rectangle(tick, Ink::BLACK);
        (square.fill, square.stroke) =
            (None, Some(Stroke { width: Points::new(0.6), ink: Ink::BLACK, round: false }));
        into.push(square);
        at.x += whole + RUNG_GAP;
    }
}
