//! Findings as plain text for a terminal.
//!
//! In: the file's name, its text, the findings. Out: for each finding `file:line:column`, what was
//! found, the line it stands in with carets under it, what would be right, and a hint. No colour.
//! Long lines are cut to a window round the place; control characters are shown as spaces.

use super::{Diagnostic, Place, Severity, sort};
use crate::language::{Language, say};

/// Characters of a line that are shown at most.
const WINDOW: usize = 100;
/// Characters of a text from the job that are shown at most.
const TEXT: usize = 400;

/// All findings as English text, in the order of their places, one blank line between them.
///
/// `file` is the name to print; `text` is the job file's text, from which the excerpts are taken.
pub fn render(file: &str, text: &str, findings: &[Diagnostic]) -> String {
    render_in(Language::English, file, text, findings)
}

/// All findings as text in a language; see [`render`].
pub fn render_in(language: Language, file: &str, text: &str, findings: &[Diagnostic]) -> String {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let lines: Vec<&str> = text.lines().collect();
    let mut sorted = findings.to_vec();
    sort(&mut sorted);
    let parts: Vec<String> = sorted
        .iter()
        .map(|finding| render_one(file, &lines, finding, language))
        .collect();
    parts.join("\n")
}

/// One finding, ending in a line break.
fn render_one(file: &str, lines: &[&str], finding: &Diagnostic, language: Language) -> String {
    let severity = match finding.severity {
        Severity::Error => say!(language, "error"),
        Severity::Warning => say!(language, "warning"),
    };
    let head = match finding.place {
        Some(place) => format!("{file}:{}:{}", place.line, place.column),
        None => file.to_owned(),
    };
    let mut out = format!(
        "{head}: {severity}: {} ({})\n",
        tidy(&finding.found.say(language)),
        finding.code
    );
    if let Some(place) = finding.place {
        out.push_str(&excerpt(lines, place));
    }
    if let Some(wanted) = &finding.wanted {
        let wanted = tidy(&wanted.say(language));
        let words = say!(language, "right would be: {wanted}", wanted);
        out.push_str(&format!("    {words}\n"));
    }
    if let Some(hint) = &finding.hint {
        let hint = tidy(&hint.say(language));
        let words = say!(language, "hint: {hint}", hint);
        out.push_str(&format!("    {words}\n"));
    }
    out
}

/// The line of a place with carets under it; nothing when the file has no such line.
fn excerpt(lines: &[&str], place: Place) -> String {
    let Some(line) = place.line.checked_sub(1).and_then(|at| lines.get(at)) else {
        return String::new();
    };
    let column = place.column.saturating_sub(1);
    let skip = if column < WINDOW * 3 / 4 {
        0
    } else {
        column - WINDOW / 2
    };
    let shown: String = line
        .chars()
        .skip(skip)
        .take(WINDOW)
        .map(printable)
        .collect();
    let width = shown.chars().count();
    let indent = (column - skip).min(width);
    let carets = place.length.max(1).min((width - indent).max(1));
    let number = place.line.to_string();
    format!(
        "    {number} | {}\n    {} | {}{}\n",
        shown.trim_end(),
        " ".repeat(number.len()),
        " ".repeat(indent),
        "^".repeat(carets)
    )
}

/// Text from a job made fit for one line of a terminal.
fn tidy(text: &str) -> String {
    let mut out: String = text.chars().take(TEXT).map(printable).collect();
    if text.chars().nth(TEXT).is_some() {
        out.push_str(" …");
    }
    out
}

/// A character that a terminal prints in one cell.
fn printable(c: char) -> char {
    let turns_text =
        matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    if c.is_control() || turns_text { ' ' } else { c }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::Phrase;

    fn at(line: usize, column: usize, length: usize) -> Place {
        Place {
            line,
            column,
            length,
        }
    }

    #[test]
    fn findings_come_in_the_order_of_the_file_with_carets_under_the_words() {
        let text = "job:\n  titel: Yard\nsheet: {scale: 3}\n";
        let findings = [
            Diagnostic::error("value", Phrase::own("\"3\" is no scale")).at(at(3, 16, 1)),
            Diagnostic::error("unknown-key", Phrase::own("\"titel\" is not a key of job"))
                .at(at(2, 3, 5))
                .wanted(Phrase::own("title"))
                .hint(Phrase::own("keys are lower case")),
        ];
        assert_eq!(
            render("yard.yaml", text, &findings),
            "yard.yaml:2:3: error: \"titel\" is not a key of job (unknown-key)\n    2 |   titel: Yard\n      |   ^^^^^\n    right would be: title\n    hint: keys are lower case\n\nyard.yaml:3:16: error: \"3\" is no scale (value)\n    3 | sheet: {scale: 3}\n      |                ^\n"
        );
    }

    #[test]
    fn a_long_line_is_cut_round_the_place() {
        let text = format!("{}X{}", "a".repeat(5000), "b".repeat(5000));
        let found = Diagnostic::error("value", Phrase::own("x")).at(at(1, 5001, 1));
        let out = render("f", &text, &[found]);
        let lines: Vec<&str> = out.lines().collect();
        assert!(lines.iter().all(|line| line.len() < 130));
        assert_eq!(lines[1].find('X'), lines[2].find('^'));
    }

    #[test]
    fn a_place_past_the_end_and_control_characters_do_no_harm() {
        let found = Diagnostic::warning("value", Phrase::own("bell \u{7} here")).at(at(9, 9, 9));
        assert_eq!(
            render("f", "a\n", &[found]),
            "f:9:9: warning: bell   here (value)\n"
        );
    }
}
