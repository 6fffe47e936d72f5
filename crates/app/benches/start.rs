//! How long the window takes to appear, and how much memory it has then and once the demo tune is arranged.
//!
//! Beside the time on the wall stands the processor time of all threads, which other programs do not lengthen much.
//!
//! `xvfb-run -a cargo bench -p handspan --bench start` on a machine without a display; needs xdotool, whose way of asking
//! makes the time a little longer than it is.

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How often the window is opened.
const TIMES: usize = 5;
/// How long the demo tune may take to be arranged.
const ARRANGED: Duration = Duration::from_secs(5);
/// How long a window is waited for, and how long between two looks.
const PATIENCE: Duration = Duration::from_secs(20);
const BETWEEN: Duration = Duration::from_millis(5);

fn main() {
    let home = tempfile::tempdir().expect("a folder in place of the user's own");
    for _ in 0..TIMES {
        let begun = now();
        let mut program = start(home.path());
        while !is_shown() {
            assert!(begun.elapsed() < PATIENCE, "no window, or no xdotool to find it");
            sleep(BETWEEN);
        }
        let took = begun.elapsed();
        let (at_first, ran) = (resident(&program), milliseconds_run(&program));
        sleep(ARRANGED);
        say(&format!(
            "window after {} ms, {ran} ms of processor time, with {at_first} MB resident, {} MB once arranged",
            took.as_millis(),
            resident(&program)
        ));
        program.kill().and_then(|()| program.wait()).expect("the program can be ended");
    }
}

/// Whether a window is there; it is shown once its first frame is drawn.
fn is_shown() -> bool {
    let search = ["search", "--onlyvisible", "--name", "Handspan$"];
    let found = Command::new("xdotool").args(search).stdout(Stdio::null()).stderr(Stdio::null()).status();
    found.is_ok_and(|status| status.success())
}

fn start(home: &Path) -> Child {
    let mut program = Command::new(env!("CARGO_BIN_EXE_handspan"));
    program.env("XDG_CONFIG_HOME", home).env("XDG_STATE_HOME", home.join("state"));
    program.spawn().expect("the program was built with this bench")
}

/// How long all threads of the program have run on a processor.
fn milliseconds_run(program: &Child) -> u64 {
    let threads = std::fs::read_dir(format!("/proc/{}/task", program.id())).into_iter().flatten().flatten();
    let told = threads.filter_map(|thread| std::fs::read_to_string(thread.path().join("schedstat")).ok());
    let nanoseconds = told.filter_map(|told| told.split_whitespace().next()?.parse::<u64>().ok());
    nanoseconds.sum::<u64>() / 1_000_000
}

/// Megabytes of the program that lie in memory now.
fn resident(program: &Child) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{}/status", program.id())).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kilobytes = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok());
    kilobytes.unwrap_or(0) / 1024
}

#[expect(clippy::disallowed_methods, reason = "a bench reads the clock")]
fn now() -> Instant {
    Instant::now()
}

#[expect(clippy::print_stdout, reason = "a bench says what it measured")]
fn say(line: &str) {
    println!("{line}");
}
