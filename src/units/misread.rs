//! What a value that cannot be read leaves behind: the text as found and the spellings that
//! would have been right. No units; the reader of the job adds line and column.

use std::fmt;

use crate::language::{Phrase, phrase};

/// Longest piece of the job's text that a [`Misread`] repeats, in characters.
const LONGEST: usize = 40;

/// A value that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// The text as found, shortened when it is very long.
    pub found: String,
    /// What would be right, with the possible spellings.
    pub wanted: Phrase,
}

impl Misread {
    /// A misread of `found` where `wanted` would be right.
    pub fn new(found: &str, wanted: Phrase) -> Self {
        let mut shown: String = found.chars().take(LONGEST).collect();
        if found.chars().nth(LONGEST).is_some() {
            shown.push('…');
        }
        Self {
            found: shown,
            wanted,
        }
    }

    /// Both in one sentence.
    pub fn phrase(&self) -> Phrase {
        phrase!(
            "`{found}` is not {wanted}",
            found = self.found,
            wanted = self.wanted
        )
    }
}

impl fmt::Display for Misread {
    /// The English words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase().fmt(f)
    }
}

impl std::error::Error for Misread {}
