//! One job from its file to its result, and what the terminal says of it.

use std::path::Path;

use crate::checks::{self, Finding, Listed, Status};
use crate::design::{self, Design};
use crate::diag::{self, Diagnostic};
use crate::job;
use crate::language::{Language, say};
use crate::takeoff::{self, Takeoff};

use super::{Outcome, say};

/// Everything computed for one job.
pub struct Worked {
    /// The file's name.
    pub name: String,
    /// What stands in it.
    pub text: String,
    /// The design.
    pub design: Design,
    /// The takeoff.
    pub takeoff: Takeoff,
    /// What the checks found.
    pub findings: Vec<Finding>,
}

/// Reads and works one job. Every error is printed, and then there is no result.
pub fn work(path: &Path, language: Language) -> Option<Worked> {
    let name = path.display().to_string();
    let bytes = match std::fs::read(path) {
        Ok(bytes) => bytes,
        Err(error) => {
            say::error(&say::cannot_read(path, &error), language);
            return None;
        }
    };
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let job = match job::read(&bytes) {
        Ok(job) => job,
        Err(errors) => {
            report(&name, &text, &errors, language);
            return None;
        }
    };
    report(&name, &text, &job.warnings, language);
    let design = design::run(job);
    let worked = design.and_then(|design| Ok((takeoff::of(&design)?, design)));
    match worked {
        Ok((takeoff, design)) => Some(Worked {
            name,
            text,
            takeoff,
            findings: checks::run(&design),
            design,
        }),
        Err(errors) => {
            report(&name, &text, &errors, language);
            None
        }
    }
}

/// Prints findings about a job file.
pub fn report(name: &str, text: &str, findings: &[Diagnostic], language: Language) {
    if !findings.is_empty() {
        say::aside(&diag::render_in(language, name, text, findings));
    }
}

/// Prints the checks, the worst first, each with its number on the plan, and says how they stand.
pub fn print_checks(findings: &[Finding], language: Language) -> Outcome {
    let word = |status: Status| match status {
        Status::Pass => say!(language, "pass"),
        Status::Warn => say!(language, "warn"),
        Status::Fail => say!(language, "fail"),
    };
    let words = [Status::Pass, Status::Warn, Status::Fail].map(|each| word(each).chars().count());
    let wide = words.into_iter().max().unwrap_or(0);
    for Listed { finding, number } in checks::listed(findings) {
        let number = number.map(|n| n.to_string()).unwrap_or_default();
        let place = finding
            .at
            .map(|at| format!(" ({}:{})", at.line, at.column))
            .unwrap_or_default();
        say::line(&format!(
            "  {:<wide$} {number:>2}  {:<22} {}{place}",
            word(finding.status),
            finding.id,
            finding.title.say(language)
        ));
    }
    if findings.iter().any(|f| f.status == Status::Fail) {
        Outcome::CheckFails
    } else {
        Outcome::Well
    }
}
