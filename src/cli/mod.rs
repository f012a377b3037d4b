//! The commands, and the only place that touches files and the terminal.
//!
//! Exit codes, decided here alone: 0 when all is well, 1 when a check fails, 2 when the input
//! cannot be used (a bad job, bad arguments, a file that cannot be read or written).

mod arguments;
mod check;
mod draw;
mod help;
mod misuse;
mod new;
mod run;
mod say;
mod write;

use std::ffi::OsString;
use std::process::ExitCode;

use arguments::{Answer, Command};

/// How a command ended.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// All is well.
    Well,
    /// A check fails.
    CheckFails,
    /// The input cannot be used.
    Unusable,
}

/// Reads the arguments, runs the command and gives the exit code.
pub fn main() -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().collect();
    let (command, language) = match arguments::read(&arguments) {
        Ok(read) => read,
        Err(Answer { text, asked_for }) if asked_for => {
            say::line(text.trim_end_matches('\n'));
            return ExitCode::SUCCESS;
        }
        Err(Answer { text, .. }) => {
            say::aside(&text);
            return ExitCode::from(2);
        }
    };
    let outcome = match command {
        Command::Draw(options) => draw::run(&options, language),
        Command::Check { takeoff, jobs } => check::run(&jobs, check::Also::new(takeoff), language),
        Command::New { file } => new::run(&file, language),
        // Answered where the arguments are read.
        Command::Help { .. } => Outcome::Well,
    };
    match outcome {
        Outcome::Well => ExitCode::SUCCESS,
        Outcome::CheckFails => ExitCode::from(1),
        Outcome::Unusable => ExitCode::from(2),
    }
}
