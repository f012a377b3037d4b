//! Jobs to read: a minimal one, one with every key, and reading them.

use groundsheet::diag::{Diagnostic, render};
use groundsheet::job::{Job, read};

use super::said::in_every_language;

/// The shortest useful job.
pub const MINIMAL: &str = "\
job:
  title: Shed pad
site:
  structures:
    - {name: House, kind: building, outline: [[0, 0], [0, -5'], [12', -5'], [12', 0]]}
paving:
  - outline:
      - [0, 0]
      - [12', 0]
      - [12', 8']
      - [0, 8']
pavers:
  field:
    size: [8\", 4\"]
    thickness: 3 1/8\"
";

/// Every key of the job file.
pub const FULL: &str = include_str!("../made_up/every-key.yaml");

/// What a job says, on failure as a person would read it.
pub fn good(text: &str) -> Job {
    read(text.as_bytes()).unwrap_or_else(|found| panic!("{}", render("job", text, &found)))
}

/// The findings of a job that must be refused.
pub fn bad(text: &str) -> Vec<Diagnostic> {
    match read(text.as_bytes()) {
        Ok(_) => panic!("the job was read"),
        Err(found) => in_every_language(found),
    }
}
