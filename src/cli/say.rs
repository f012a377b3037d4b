//! Lines on the terminal. A reader that has gone away (a closed pipe) is no fault of the job.

use std::io::Write;

/// One line of what was done or found.
pub fn line(text: &str) {
    let _ = writeln!(std::io::stdout().lock(), "{text}");
}

/// One line of what is wrong or worth a note.
pub fn aside(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", text.trim_end_matches('\n'));
}
