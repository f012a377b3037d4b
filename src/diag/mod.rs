//! Diagnostics: whatever a job file can get wrong, as a list of findings with line and column.
//!
//! In: what the reader and the site found. Out: text for a terminal, all of it at once.

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
    pub found: String,
    /// What would be right.
    pub wanted: Option<String>,
    /// A further hint, such as the nearest known key.
    pub hint: Option<String>,
}
