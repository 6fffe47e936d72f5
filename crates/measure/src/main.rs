//! Measures the engine: against published repertoire, against common grips, and by the clock.
//!
//! A command a file. Each prints one piece of JSON on the standard output and remarks on the standard error; every
//! figure but the times is the same on every machine.

mod clock;
mod fault;
mod repertoire;
mod shapes;
mod sonority;
mod speed;

use std::io::{self, Write as _};
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use fault::Fault;

/// Measures the engine of Handspan.
#[derive(Parser, Debug)]
#[command(name = "handspan-measure", version)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand, Debug)]
enum Command {
    Repertoire(repertoire::Options),
    Shapes(shapes::Options),
    Speed(speed::Options),
    Sonority(sonority::Options),
}

/// What a command found out.
struct Findings {
    /// One piece of JSON.
    json: String,
    /// Lines beside it, for people.
    remarks: Vec<String>,
}

fn main() -> ExitCode {
    let findings = match Arguments::parse().command {
        Command::Repertoire(options) => repertoire::run(&options),
        Command::Shapes(options) => shapes::run(&options),
        Command::Speed(options) => speed::run(&options),
        Command::Sonority(options) => sonority::run(&options),
    };
    match findings.and_then(|findings| tell(&findings)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            // Where nobody listens there is nothing left to do but to end.
            writeln!(io::stderr(), "{fault}").unwrap_or_default();
            ExitCode::FAILURE
        }
    }
}

fn tell(findings: &Findings) -> Result<(), Fault> {
    for remark in &findings.remarks {
        writeln!(io::stderr(), "{remark}").map_err(Fault::Untold)?;
    }
    writeln!(io::stdout(), "{}", findings.json).map_err(Fault::Untold)
}
