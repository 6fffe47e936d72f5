//! The `handspan` binary: with no command, or with a file, the window opens; with a command it runs without.

use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let file = file_to_open();
    if file.is_none() && std::env::args_os().len() > 1 {
        return ExitCode::from(handspan_cli::run(std::env::args_os()));
    }
    match handspan_app::window::open(file) {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            report(&sentence);
            ExitCode::from(2)
        }
    }
}

/// The file that stands alone in the place of a command, as desktops call a program for a file.
fn file_to_open() -> Option<PathBuf> {
    let mut args = std::env::args_os().skip(1);
    let file = args.next().map(PathBuf::from).filter(|file| file.is_file())?;
    // Absolute, because it is opened again next time from wherever that may be.
    args.next().is_none().then(|| std::path::absolute(&file).unwrap_or(file))
}

#[expect(clippy::print_stderr, reason = "with no window the terminal is the only place to say so")]
fn report(sentence: &str) {
    eprintln!("{sentence}");
}
