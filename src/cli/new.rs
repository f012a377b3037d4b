//! `groundsheet new NAME.yaml`: a commented starter job.

use std::io::Write;
use std::path::Path;

use super::{Outcome, say};
use crate::job::STARTER;

/// Writes the starter job; refuses when the file is there.
pub fn run(file: &Path) -> Outcome {
    let written = std::fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(file)
        .and_then(|mut out| out.write_all(STARTER.as_bytes()));
    match written {
        Ok(()) => {
            say::line(&format!("wrote {}", file.display()));
            Outcome::Well
        }
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
            say::aside(&format!(
                "error: {} is there already; give a name that is free",
                file.display()
            ));
            Outcome::Unusable
        }
        Err(error) => {
            say::aside(&format!("error: cannot write {}: {error}", file.display()));
            Outcome::Unusable
        }
    }
}
