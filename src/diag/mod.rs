//! Diagnostics: whatever a job file can get wrong, as a list of findings with line and column.
//!
//! In: what the reader and the site found. Out: text for a terminal, all of it at once, in the
//! language asked for.

pub mod render;

pub use render::{render, render_in};

use crate::language::Phrase;

/// A place in the job file; lines and columns count from 1, columns count characters.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// How many characters it covers (at least 1).
    pub length: usize,
}

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The job cannot be drawn.
    Error,
    /// The job is drawn; the reader should look.
    Warning,
}

/// One finding about the job file.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// Stable short name, such as `unknown-key`.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// Where, when it has a place.
    pub place: Option<Place>,
    /// What was found.
    pub found: Phrase,
    /// What would be right.
    pub wanted: Option<Phrase>,
    /// A further hint, such as the nearest known key.
    pub hint: Option<Phrase>,
}

impl Diagnostic {
    /// An error: its short name and what was found.
    pub fn error(code: &'static str, found: Phrase) -> Self {
        Self {
            code,
            severity: Severity::Error,
            place: None,
            found,
            wanted: None,
            hint: None,
        }
    }

    /// A warning: its short name and what was found.
    pub fn warning(code: &'static str, found: Phrase) -> Self {
        Self {
            severity: Severity::Warning,
            ..Self::error(code, found)
        }
    }

    /// The same finding, at a place.
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// The same finding, with what would be right.
    pub fn wanted(mut self, wanted: Phrase) -> Self {
        self.wanted = Some(wanted);
        self
    }

    /// The same finding, with a further hint.
    pub fn hint(mut self, hint: Phrase) -> Self {
        self.hint = Some(hint);
        self
    }
}

/// Puts findings in the order of their places in the file; those without a place come first.
/// Findings at one place keep their order, errors before warnings.
pub fn sort(findings: &mut [Diagnostic]) {
    findings.sort_by_key(|finding| {
        let place = finding.place.map(|place| (place.line, place.column));
        (place, finding.severity)
    });
}
