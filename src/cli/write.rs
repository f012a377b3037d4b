//! Output files that appear whole or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::say;
use crate::language::Phrase;

/// Writes every file under its name in `folder`: first all of them beside their places, then each
/// moved into place, so that a failure leaves nothing half-written.
///
/// # Errors
/// What could not be made, written or moved, in words.
pub fn all(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<Vec<PathBuf>, Phrase> {
    let fault = say::cannot_write;
    std::fs::create_dir_all(folder).map_err(|error| fault(folder, &error))?;
    let mut staged = Vec::new();
    for (name, bytes) in files {
        let path = folder.join(name);
        let mut file = NamedTempFile::new_in(folder).map_err(|error| fault(&path, &error))?;
        file.write_all(bytes)
            .map_err(|error| fault(&path, &error))?;
        staged.push((file, path));
    }
    let mut written = Vec::new();
    for (file, path) in staged {
        readable(&file, &path)?;
        file.persist(&path)
            .map_err(|error| fault(&path, &error.error))?;
        written.push(path);
    }
    Ok(written)
}

/// A temporary file is for its owner only; an output is for everyone who reads the folder.
#[cfg(unix)]
fn readable(file: &NamedTempFile, path: &Path) -> Result<(), Phrase> {
    use std::os::unix::fs::PermissionsExt;
    file.as_file()
        .set_permissions(std::fs::Permissions::from_mode(0o644))
        .map_err(|error| say::cannot_write(path, &error))
}

#[cfg(not(unix))]
fn readable(_: &NamedTempFile, _: &Path) -> Result<(), Phrase> {
    Ok(())
}
