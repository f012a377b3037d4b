//! Lines on the terminal, in the language asked for. A reader that has gone away (a closed pipe) is
//! no fault of the job.

use std::io::{Error, ErrorKind, Write};
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

/// A file that cannot be read, and why.
pub fn cannot_read(path: &Path, error: &Error) -> Phrase {
    phrase!(
        "cannot read {file}: {why}",
        file = path.display().to_string(),
        why = why(error)
    )
}

/// A file that cannot be written, and why.
pub fn cannot_write(path: &Path, error: &Error) -> Phrase {
    phrase!(
        "cannot write {file}: {why}",
        file = path.display().to_string(),
        why = why(error)
    )
}

/// Why a file cannot be used; what is rare, in the system's words.
fn why(error: &Error) -> Phrase {
    match error.kind() {
        ErrorKind::NotFound => phrase!("there is no such file or folder"),
        ErrorKind::PermissionDenied => phrase!("there is no permission"),
        ErrorKind::AlreadyExists => phrase!("a file of this name is there already"),
        ErrorKind::IsADirectory => phrase!("it is a folder"),
        ErrorKind::NotADirectory => phrase!("a part of its path is no folder"),
        ErrorKind::ReadOnlyFilesystem => phrase!("the disk is read-only"),
        ErrorKind::StorageFull => phrase!("the disk is full"),
        _ => Phrase::own(error.to_string()),
    }
}
