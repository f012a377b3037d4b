//! `groundsheet check JOB…`: the checks on the terminal, nothing written.

use std::path::PathBuf;

use super::{Outcome, run, say};

/// Prints the checks of each job.
pub fn run(jobs: &[PathBuf]) -> Outcome {
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
            run::print_checks(&worked.findings)
        })
        .max()
        .unwrap_or(Outcome::Well)
}
