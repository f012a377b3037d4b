//! `groundsheet check JOB…`: the checks on the terminal, nothing written.

use std::path::PathBuf;

use super::{Outcome, run, say};
use crate::language::Language;

/// What is printed beside the checks.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Also {
    /// Nothing.
    Nothing,
    /// The takeoff.
    Takeoff,
}

impl Also {
    /// From the flag.
    pub fn new(takeoff: bool) -> Also {
        if takeoff {
            Also::Takeoff
        } else {
            Also::Nothing
        }
    }
}

/// Prints the checks of each job.
pub fn run(jobs: &[PathBuf], also: Also, language: Language) -> Outcome {
    jobs.iter()
        .map(|path| {
            let Some(worked) = run::work(path, language) else {
                return Outcome::Unusable;
            };
            say::line(&format!(
                "{}: {}",
                path.display(),
                worked.design.job.info.title
            ));
            let outcome = run::print_checks(&worked.findings, language);
            if also == Also::Takeoff {
                for line in worked.takeoff.listing(language) {
                    say::line(&format!("  {line}"));
                }
            }
            outcome
        })
        .max()
        .unwrap_or(Outcome::Well)
}
