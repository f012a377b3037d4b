//! `groundsheet check JOB…`: the checks on the terminal, nothing written.

use std::path::PathBuf;

use super::{Outcome, run, say};

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
pub fn run(jobs: &[PathBuf], also: Also) -> Outcome {
    jobs.iter()
        .map(|path| {
            let Some(worked) = run::work(path) else {
                return Outcome::Unusable;
            };
            say::line(&format!(
                "{}: {}",
                path.display(),
                worked.design.job.info.title
            ));
            let outcome = run::print_checks(&worked.findings);
            if also == Also::Takeoff {
                for line in worked.takeoff.listing() {
                    say::line(&format!("  {line}"));
                }
            }
            outcome
        })
        .max()
        .unwrap_or(Outcome::Well)
}
