//! Text that is no YAML, in words of our own: what stands there and what would be right.
//!
//! In: the error of the reader that takes the text apart, in its own English. Out: a finding in every
//! language. Its messages are known by their words, since it has no other name for them; one that is
//! not known here is quoted in a sentence of ours.

use saphyr_parser::ScanError;

use super::tree::{place_of, tagged, too_deep};
use crate::diag::{Diagnostic, Place};
use crate::language::{Phrase, phrase};

/// What text that is no YAML leads to. `opened` is where the innermost bracket stands that was open
/// there, when one was.
pub fn refused(error: &ScanError, text: &str, opened: Option<Place>) -> Diagnostic {
    let place = place_of(*error.marker());
    let words = error.info();
    // The scanner has a depth bound of its own, which it meets while looking ahead.
    if words.contains("recursion limit") {
        return too_deep(place);
    }
    if words.contains(" tag") || words.contains("TAG") || words.contains("handle") {
        return tagged(place);
    }
    let (place, words) = match words {
        "invalid indentation" if opened.is_some() => {
            (place, "invalid indentation in flow construct")
        }
        "did not find expected <document start>" if text.lines().any(|l| l.starts_with('%')) => {
            (place, "directive")
        }
        words if words.contains("tab") || words.ends_with("YAML whitespace") => {
            (tab(text, place), words)
        }
        words => (place, words),
    };
    let Some((found, wanted)) = known(words) else {
        let found = phrase!("this is not YAML: `{reason}`", reason = words);
        return Diagnostic::error("yaml", found).at(place).wanted(phrase!(
            "keys and values as `key: value`, nested by spaces (not tabs)"
        ));
    };
    let finding = Diagnostic::error("yaml", found).at(place).wanted(wanted);
    match opened.filter(|_| may_be_a_bracket(words)) {
        Some(at) => finding.hint(phrase!(
            "the bracket opened in line {line}, column {column} is not closed before this",
            line = at.line.to_string(),
            column = at.column.to_string()
        )),
        None => finding,
    }
}

/// Whether a bracket that is still open may be what is wrong, and not what stands in it.
fn may_be_a_bracket(words: &str) -> bool {
    [
        "while parsing a flow ",
        "invalid indentation in flow construct",
        "unexpected end of plain scalar",
        "while parsing a node, did not find",
    ]
    .iter()
    .any(|begin| words.starts_with(begin))
}

/// The tab that is meant: the last one before a place in its line, else the first at the start of a
/// later line.
fn tab(text: &str, place: Place) -> Place {
    let lines = text.lines().enumerate().skip(place.line - 1);
    let mut tabs = lines.filter_map(|(index, line)| {
        let before: Vec<char> = match index + 1 == place.line {
            true => line.chars().take(place.column).collect(),
            false => line.chars().take_while(|c| c.is_whitespace()).collect(),
        };
        let at = before.iter().rposition(|c| *c == '\t')?;
        Some(Place {
            line: index + 1,
            column: at + 1,
            length: 1,
        })
    });
    tabs.next().unwrap_or(place)
}

/// What stands there, and what would be right.
fn known(words: &str) -> Option<(Phrase, Phrase)> {
    if let Some(letter) = words.strip_prefix("unexpected character: `") {
        return Some(begins(letter.trim_end_matches('\'')));
    }
    Some(match words {
        "while scanning a quoted scalar, found unexpected end of stream"
        | "while scanning a quoted scalar, found unexpected document indicator"
        | "invalid indentation in quoted scalar" => (
            phrase!("quotes are opened here and not closed"),
            phrase!("the same quote at the end of the text"),
        ),
        "invalid trailing content after double-quoted scalar" => (
            phrase!("something stands behind the closing quote"),
            phrase!(
                "nothing but a comma, a bracket or a comment behind it; a quote within double quotes as {quote}",
                quote = "\\\""
            ),
        ),
        "while parsing a quoted scalar, found unknown escape character"
        | "while parsing a quoted scalar, did not find expected hexadecimal number"
        | "while parsing a quoted scalar, found invalid Unicode character escape code" => (
            phrase!("a backslash in double quotes that means nothing"),
            phrase!(
                "{backslash} for a backslash, {quote} for a quote",
                backslash = "\\\\",
                quote = "\\\""
            ),
        ),
        "tabs disallowed within this context (block indentation)"
        | "tabs disallowed in this context"
        | "tab cannot be used as indentation"
        | "a block scalar content cannot start with a tab"
        | "while scanning a plain scalar, found a tab"
        | "':' must be followed by a valid YAML whitespace"
        | "'-' must be followed by a valid YAML whitespace" => (
            phrase!("a tab at the start of a line, or behind a colon or a dash"),
            phrase!("spaces"),
        ),
        "a byte order mark must not appear inside a document" => (
            phrase!("a byte order mark inside the text"),
            phrase!("a text file saved as UTF-8"),
        ),
        "invalid content after document end marker" => (
            phrase!("something stands behind the end of the document"),
            phrase!("one job in one file"),
        ),
        "invalid indentation"
        | "invalid indentation for anchor"
        | "wrongly indented line in block scalar"
        | "while parsing a block mapping, did not find expected key"
        | "while parsing a block collection, did not find expected '-' indicator"
        | "did not find expected <document start>" => (
            phrase!("this does not line up with what stands before it"),
            phrase!("keys of one block in one column, and the dashes of one list in one column"),
        ),
        "simple key expect ':'" | "simple key expected" => (
            phrase!("a line without a colon among keys"),
            phrase!("a key with its value, as `key: value`"),
        ),
        "illegal placement of ':' indicator" => (
            phrase!("a colon in another line than its key"),
            phrase!("a key with its value, as `key: value`"),
        ),
        "mapping values are not allowed in this context" => (
            phrase!("a second colon in one line, or a key below a value"),
            phrase!("a text with a colon in double quotes; each key in a line of its own"),
        ),
        "':' may not precede any of `[{` in flow mapping" => (
            phrase!("a colon without a space behind it"),
            phrase!("a key with its value, as `key: value`"),
        ),
        "mapping keys are not allowed in this context" => begins("?"),
        "plain scalar cannot start with '-' followed by ,[]{}" => begins("-"),
        "block sequence entries are not allowed in this context"
        | "\"-\" is only valid inside a block" => (
            phrase!("a dash where no entry of a list can begin"),
            phrase!("the entries of a list in lines of their own, or between [ and ]"),
        ),
        "misplaced bracket" => (
            phrase!("a bracket is closed that was not opened"),
            phrase!("a bracket that opens before each that closes"),
        ),
        "while parsing a flow mapping, did not find expected ',' or '}'" => (
            phrase!("a mapping in braces does not go on here, nor end"),
            phrase!("a comma or {brace}", brace = "`}`"),
        ),
        "while parsing a flow sequence, expected ',' or ']'" => (
            phrase!("a list in brackets does not go on here, nor end"),
            phrase!("a comma or {bracket}", bracket = "`]`"),
        ),
        "invalid indentation in flow construct" => (
            phrase!("a bracket is still open where the next block begins"),
            phrase!("a bracket that closes for each that opens"),
        ),
        "unexpected end of plain scalar"
        | "while parsing a node, did not find expected node content" => (
            phrase!("a value is missing here"),
            phrase!("a value, or the bracket that closes"),
        ),
        "while scanning an anchor or alias, did not find expected alphabetic or numeric character" => {
            (
                phrase!("an anchor or alias without a name"),
                phrase!("the text in double quotes"),
            )
        }
        "while parsing node, found unknown anchor" => (
            phrase!("an alias to an anchor that is not there"),
            phrase!("an anchor that stands before it"),
        ),
        "while scanning a block scalar, found an indentation indicator equal to 0"
        | "while scanning a block scalar, did not find expected comment or line break" => (
            phrase!("something stands behind `|` or `>`"),
            phrase!("the text in the lines below, or in double quotes"),
        ),
        "comment intercepting the multiline text" => (
            phrase!("a comment inside a text of several lines"),
            phrase!("the comment in the line above the key"),
        ),
        "comments must be separated from other tokens by whitespace" | "expected whitespace" => (
            phrase!("no space before a comment"),
            phrase!("a space before `#`, or the text in double quotes"),
        ),
        words if words.contains("directive") => (
            phrase!("a line for the reader of YAML (`%…`)"),
            phrase!("the job without it"),
        ),
        _ => return None,
    })
}

/// A text that begins with a sign YAML keeps for itself.
fn begins(sign: &str) -> (Phrase, Phrase) {
    (
        phrase!("a text cannot begin with `{sign}`", sign),
        phrase!("the text in double quotes"),
    )
}
