//! The bytes of a job file as text, within the bounds that are known before YAML is read.
//!
//! In: bytes. Out: the text, without its byte order mark, or the one reason why there is none.

#![expect(
    clippy::result_large_err,
    reason = "an error here is made once and ends the reading"
)]

use super::tree::MOST_NODES;
use crate::diag::{Diagnostic, Place};
use crate::language::phrase;

/// Bytes in a MiB.
const MIB: usize = 1024 * 1024;
/// Largest job file, in bytes: whole MiB.
pub const LARGEST: usize = 4 * MIB;
/// Longest line, in bytes: a list that opens on a line is looked ahead to the line's end.
const LONGEST_LINE: usize = 100_000;
/// Most characters that mean something to YAML. The scanner keeps all of a bracketed list before
/// it hands out its first event, so that this bounds its memory.
const MOST_MARKS: usize = 300_000;

/// The bytes as text, within the bounds.
pub fn text(bytes: &[u8]) -> Result<&str, Diagnostic> {
    if bytes.len() > LARGEST {
        return Err(Diagnostic::error(
            "too-large",
            phrase!(
                "the job file has {count} byte | the job file has {count} bytes",
                count = bytes.len()
            ),
        )
        .wanted(phrase!("at most {most} MiB", most = LARGEST / MIB)));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|error| {
        Diagnostic::error("encoding", phrase!("a byte that is not UTF-8 text"))
            .at(place_of(bytes, error.valid_up_to()))
            .wanted(phrase!("a text file saved as UTF-8"))
    })?;
    if let Some(at) = bytes.iter().position(|&byte| byte == 0) {
        return Err(Diagnostic::error("encoding", phrase!("a NUL character"))
            .at(place_of(bytes, at))
            .wanted(phrase!("a text file saved as UTF-8")));
    }
    let long = bytes
        .split(|&byte| byte == b'\n')
        .position(|line| line.len() > LONGEST_LINE);
    if let Some(index) = long {
        let place = Place {
            line: index + 1,
            column: 1,
            length: 1,
        };
        return Err(Diagnostic::error(
            "too-long",
            phrase!("a line of more than {most} bytes", most = LONGEST_LINE),
        )
        .at(place)
        .wanted(phrase!("shorter lines: a list may go on over several")));
    }
    let marks = bytes.iter().filter(|byte| b",:?*&!'\"[]{}".contains(byte));
    if marks.count() > MOST_MARKS {
        return Err(
            Diagnostic::error("too-many", phrase!("more values than a job can have"))
                .at(Place {
                    line: 1,
                    column: 1,
                    length: 1,
                })
                .wanted(phrase!("at most {most} values", most = MOST_NODES)),
        );
    }
    Ok(text)
}

/// Line and column of a byte, all bytes before it being UTF-8.
fn place_of(bytes: &[u8], at: usize) -> Place {
    let before = String::from_utf8_lossy(&bytes[..at]);
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    Place {
        line: before.matches('\n').count() + 1,
        column: before[start..].chars().count() + 1,
        length: 1,
    }
}
