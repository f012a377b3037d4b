//! `groundsheet new NAME.yaml`: a commented starter job.

use std::io::Write;
use std::path::Path;

use super::{Outcome, say};
use crate::job::STARTER;
use crate::language::{Language, phrase, say};

/// Writes the starter job; refuses when the file is there.
pub fn run(file: &Path, language: Language) -> Outcome {
    let name = file.display().to_string();
    let written = std::fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(file)
        .and_then(|mut out| out.write_all(STARTER.as_bytes()));
    match written {
        Ok(()) => {
            say::line(&say!(language, "wrote {file}", file = name));
            Outcome::Well
        }
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
            let found = phrase!(
                "{file} is there already; give a name that is free",
                file = name
            );
            say::error(&found, language);
            Outcome::Unusable
        }
        Err(error) => {
            say::error(&say::cannot_write(file, &error), language);
            Outcome::Unusable
        }
    }
}
