//! The `handspan` binary: with no command the window opens, with one it runs without.

use std::process::ExitCode;

fn main() -> ExitCode {
    if std::env::args_os().len() > 1 {
        return ExitCode::from(handspan_cli::run(std::env::args_os()));
    }
    match handspan_app::window::open() {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            report(&sentence);
            ExitCode::from(2)
        }
    }
}

#[expect(clippy::print_stderr, reason = "with no window the terminal is the only place to say so")]
fn report(sentence: &str) {
    eprintln!("{sentence}");
}
