//! Lines on the terminal, in the language asked for. A reader that has gone away (a closed pipe) is no fault of the job.

use std::fmt::Display;
use std::io::Write;
use std::path::Path;

use crate::language::{Language, Phrase, phrase, say};

/// One line of what was done or found.
pub fn line(text: &str) {
    let _ = writeln!(std::io::stdout().lock(), "{text}");
}

/// One line of what is wrong or worth a note.
pub fn aside(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", text.trim_end_matches('\n'));
}

/// What went wrong, so that nothing came of it.
pub fn error(found: &Phrase, language: Language) {
    aside(&format!(
        "{}: {}",
        say!(language, "error"),
        found.say(language)
    ));
}

/// A file that cannot be written, and why, in the system's words.
pub fn cannot_write(path: &Path, why: &dyn Display) -> Phrase {
    phrase!(
        "cannot write {file}: {why}",
        file = path.display().to_string(),
        why = why.to_string()
    )
}
