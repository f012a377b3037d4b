//! The commands, and the only place that touches files and the terminal.
//!
//! Exit codes, decided here alone: 0 when all is well, 1 when a check fails, 2 when the input
//! cannot be used (a bad job, bad arguments, a file that cannot be read or written).

mod check;
mod draw;
mod new;
mod run;
mod say;
mod write;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::language::Language;

/// Draws the construction sheet of a paver surface on base panels from one YAML job file.
#[derive(Parser)]
#[command(version, about, max_term_width = 100)]
struct Arguments {
    /// Language of what is said on the terminal; sheets are in that of their job.
    #[arg(long, global = true, value_name = "LANGUAGE", value_parser = Language::ALL.map(|(code, _)| code), default_value = "en")]
    language: String,
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Draw the sheets of one or more jobs, with the report and the takeoff.
    Draw(draw::Options),
    /// Print the checks of one or more jobs; write nothing.
    Check {
        /// Print the takeoff too: what to order, how it was got, what it weighs and costs.
        #[arg(long)]
        takeoff: bool,
        /// The job files.
        #[arg(required = true, value_name = "JOB")]
        jobs: Vec<PathBuf>,
    },
    /// Write a commented starter job that draws as it is; never over a file that is there.
    New {
        /// The job file to write.
        #[arg(value_name = "NAME.yaml")]
        file: PathBuf,
    },
}

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
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            // Nothing can be done about a terminal that does not take the message.
            let _ = error.print();
            return if error.use_stderr() {
                ExitCode::from(2)
            } else {
                ExitCode::SUCCESS
            };
        }
    };
    let language = Language::coded(&arguments.language);
    let outcome = match arguments.command {
        Command::Draw(options) => draw::run(&options, language),
        Command::Check { takeoff, jobs } => check::run(&jobs, check::Also::new(takeoff), language),
        Command::New { file } => new::run(&file, language),
    };
    match outcome {
        Outcome::Well => ExitCode::SUCCESS,
        Outcome::CheckFails => ExitCode::from(1),
        Outcome::Unusable => ExitCode::from(2),
    }
}
