//! How long a frame takes: models are built and the whole window is drawn and cut into triangles, without a display, on
//! a tune of at least two thousand moments and the moment with the longest list of grips: first on a guitar, then on one
//! of eight strings with rich chords, where the list has thousands of rows.
//!
//! `cargo bench -p handspan --bench frames` prints median and worst for every place: standing still, stepping, browsing.
//! Where the system tells how long the thread has run, time in which other programs had the processor does not count.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::time::Instant;

use eframe::egui::{Context, RawInput, Rect, Vec2, pos2};
use handspan_app::command::{Browse, Command, FileWish, Go, ViewWish};
use handspan_app::job::Lane;
use handspan_app::session::Place;
use handspan_app::window::App;
use handspan_core::arrangement::Edit;
use handspan_core::harmony::ChordSymbol;
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::tune::Mend;

/// The fewest moments that count as a large tune.
const MOMENTS: usize = 2_000;
/// Frames measured a row.
const FRAMES: usize = 200;
/// The open strings of a guitar with two lower ones, from the lowest on.
const EIGHT_STRINGS: [u8; 8] = [30, 35, 40, 45, 50, 55, 59, 64];
/// Chords with many tones, for the first bars.
const RICH: [&str; 6] = ["C13", "Cmaj13", "Am11", "F13", "Dm13", "G13"];

fn main() {
    let folder = tempfile::tempdir().expect("a folder for the large tune");
    let path = folder.path().join("large.musicxml");
    std::fs::write(&path, large_tune()).expect("the large tune is written");
    let ctx = Context::default();
    let mut app = App::on(&ctx, Lane::Inline);
    app.wish(Command::File(FileWish::OpenAt(path)));
    settle(&ctx, &mut app);
    let moments = app.session().arrangement().map_or(0, |a| a.moments.len());
    assert!(moments >= MOMENTS, "only {moments} moments");
    every_place(&ctx, &mut app, "six strings");
    for edit in richer(&app) {
        app.wish(Command::Edit(edit));
    }
    settle(&ctx, &mut app);
    every_place(&ctx, &mut app, "eight strings");
}

/// Eight strings, and rich chords over the first bars.
fn richer(app: &App) -> Vec<Edit> {
    let tuning = Tuning::from_low_to_high("eight strings", EIGHT_STRINGS.map(Pitch::new));
    let guitar = Instrument::try_new(tuning, 24, Instrument::CLASSICAL_SCALE, 0).expect("a guitar");
    let chord = |text: &str| ChordSymbol::parse(text).expect("a chord symbol");
    let bars = app.session().work().tune.bars().iter();
    let chords = bars
        .zip(RICH)
        .map(|(bar, text)| Edit::Tune(Mend::Chord { at: bar.start, symbol: Some(chord(text)) }));
    std::iter::once(Edit::Instrument(guitar)).chain(chords).collect()
}

fn every_place(ctx: &Context, app: &mut App, guitar: &str) {
    let moments = app.session().arrangement().map_or(0, |a| a.moments.len());
    let (longest, rows) = longest_list(ctx, app);
    say(&format!("{guitar}: {moments} moments, longest list {rows} grips, moment {longest}"));
    for place in Place::ALL {
        app.wish(Command::View(ViewWish::Place(*place)));
        settle(ctx, app);
        measure(ctx, app, &format!("{place:?}, standing still"), None);
        measure(ctx, app, &format!("{place:?}, browsing"), Some(&Command::Browse(Browse::Down)));
        measure(ctx, app, &format!("{place:?}, stepping"), Some(&Command::Go(Go::Next)));
    }
}

/// Frames in a row with a command before each, jobs not counted: they run beside the window.
fn measure(ctx: &Context, app: &mut App, name: &str, command: Option<&Command>) {
    let mut times: Vec<f64> = (0..FRAMES)
        .map(|_| {
            app.work();
            if let Some(command) = command {
                app.wish(command.clone());
            }
            let (begun, ran) = (now(), nanoseconds_run());
            frame(ctx, app);
            let on_the_wall = begun.elapsed().as_secs_f64() * 1000.0;
            nanoseconds_run().zip(ran).map_or(on_the_wall, |(after, before)| (after - before) as f64 / 1e6)
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let mut line = String::new();
    write!(line, "{name:32} median {:5.2} ms, worst {:5.2} ms", times[FRAMES / 2], times[FRAMES - 1])
        .expect("writing to a string cannot fail");
    say(&line);
}

fn frame(ctx: &Context, app: &mut App) {
    let input = RawInput {
        screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), Vec2::new(1280.0, 800.0))),
        ..RawInput::default()
    };
    let mut output = ctx.run_ui(input, |ui| app.frame(ui));
    // There is no graphics card to take them.
    output.textures_delta.clear();
    let triangles = ctx.tessellate(output.shapes, output.pixels_per_point);
    assert!(!triangles.is_empty());
}

fn settle(ctx: &Context, app: &mut App) {
    for _ in 0..30 {
        app.work();
        frame(ctx, app);
    }
}

/// Stands at the moment with the longest list among the first hundred.
fn longest_list(ctx: &Context, app: &mut App) -> (usize, usize) {
    let mut longest = (0, 0);
    for moment in 0..100 {
        let rows = app.session().browsing().grips().len();
        if rows > longest.1 {
            longest = (moment, rows);
        }
        app.wish(Command::Go(Go::Next));
        frame(ctx, app);
        app.work();
    }
    let at = app.session().arrangement().and_then(|a| Some(a.moments.get(longest.0)?.at));
    app.wish(Command::Go(Go::To(at.expect("the moment was counted"))));
    settle(ctx, app);
    longest
}

/// The demo tune so many times over that it has enough moments.
fn large_tune() -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/gangway-at-six.musicxml");
    let tune = std::fs::read_to_string(path).expect("the demo tune is there");
    let first = tune.find("<measure").expect("a tune has bars");
    let end = tune.rfind("</part>").expect("a tune has a part");
    let bars = &tune[first..end];
    let mut large = tune[..first].to_owned();
    for _ in 0..=MOMENTS / 100 {
        large.push_str(bars);
    }
    large.push_str(&tune[end..]);
    large
}

/// How long this thread has run on a processor, as Linux tells it: the first number of the file. It is counted up to the
/// last time that the thread offered to wait.
fn nanoseconds_run() -> Option<u64> {
    std::thread::yield_now();
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split_whitespace().next()?.parse().ok()
}

#[expect(clippy::disallowed_methods, reason = "a bench reads the clock")]
fn now() -> Instant {
    Instant::now()
}

#[expect(clippy::print_stdout, reason = "a bench says what it measured")]
fn say(line: &str) {
    println!("{line}");
}
