//! The arguments of the program: which there are, and reading them.
//!
//! In: what stands behind the program's name. Out: a command with its options, or what is said
//! instead: the help, the version, what is wrong. Words are those of `help` and `misuse`, in the
//! language that the arguments ask for, even where the rest of them cannot be read.

use std::ffi::OsString;
use std::path::PathBuf;

use clap::{ArgAction, CommandFactory, FromArgMatches, Parser, Subcommand};

use super::{draw, help, misuse};
use crate::language::Language;

/// What the program takes.
#[derive(Parser)]
#[command(version)]
pub struct Arguments {
    #[arg(long, global = true, value_name = "LANGUAGE", value_parser = Language::ALL.map(|(code, _)| code), default_value = "en")]
    language: String,
    #[arg(short, long, global = true, action = ArgAction::Help)]
    help: Option<bool>,
    #[arg(short = 'V', long, action = ArgAction::Version)]
    version: Option<bool>,
    /// What is to be done.
    #[command(subcommand)]
    pub command: Command,
}

/// What the program does.
#[derive(Subcommand)]
pub enum Command {
    /// Draws the sheets.
    Draw(draw::Options),
    /// Prints the checks.
    Check {
        /// Whether the takeoff is printed too.
        #[arg(long)]
        takeoff: bool,
        /// The job files.
        #[arg(required = true, value_name = "JOB")]
        jobs: Vec<PathBuf>,
    },
    /// Writes a starter job.
    New {
        /// The job file to write.
        #[arg(value_name = "NAME.yaml")]
        file: PathBuf,
    },
    /// Says how a command is used.
    Help {
        /// The command; the program itself when there is none.
        #[arg(value_name = "COMMAND")]
        of: Option<String>,
    },
}

/// What is said when there is no command to run.
pub struct Answer {
    /// The words, whole lines.
    pub text: String,
    /// Whether they were asked for, and nothing is wrong.
    pub asked_for: bool,
}

/// The command that the arguments ask for, and the language it speaks.
///
/// # Errors
/// What to say instead of running a command.
pub fn read(arguments: &[OsString]) -> Result<(Command, Language), Answer> {
    let language = language(arguments);
    let answer = |error: clap::Error| Answer {
        text: misuse::said(&error, language),
        asked_for: !error.use_stderr(),
    };
    let mut command = help::worded(Arguments::command(), language);
    let matches = command.try_get_matches_from_mut(arguments);
    let read = matches.and_then(|matches| Arguments::from_arg_matches(&matches));
    match read.map_err(answer)?.command {
        Command::Help { of } => {
            // The help of a command is what it says when asked itself.
            let program = arguments.first().cloned().unwrap_or_default();
            let asked = std::iter::once(program)
                .chain(of.map(OsString::from))
                .chain([OsString::from("--help")]);
            Err(match command.try_get_matches_from_mut(asked) {
                Ok(_) => Answer {
                    text: String::new(),
                    asked_for: true,
                },
                Err(error) => answer(error),
            })
        }
        command => Ok((command, language)),
    }
}

/// The language that the arguments ask for; English where they ask for none that there is.
fn language(arguments: &[OsString]) -> Language {
    let words = arguments.iter().map(|word| word.to_str().unwrap_or(""));
    let mut words = words.take_while(|word| *word != "--");
    while let Some(word) = words.next() {
        let asked = match word.strip_prefix("--language") {
            Some("") => words.next(),
            Some(rest) => rest.strip_prefix('='),
            None => None,
        };
        if let Some(code) = asked {
            return Language::coded(code);
        }
    }
    Language::default()
}
