//! Job files that are no YAML: each is told at its place, with what would be right, in every language.

mod common;

use common::said::in_every_language;
use groundsheet::diag::{Diagnostic, render_in};
use groundsheet::job;
use groundsheet::language::Language;

/// A job that is read.
const JOB: &str = "\
job:
  title: Yard
paving:
  - outline: [[0, 0], [12', 0], [12', 8'], [0, 8']]
pavers:
  field: {size: [8\", 4\"], thickness: 3 1/8\"}
";

/// The one finding of a job that is no YAML.
fn refused(text: &str) -> Diagnostic {
    let found = job::read(text.as_bytes()).expect_err("no YAML");
    let mut found = in_every_language(found);
    assert_eq!(found.len(), 1, "{found:#?}");
    found.remove(0)
}

/// What is changed in the job, by what; line and column of the finding; what it says in English.
#[rustfmt::skip]
const CASES: [(&str, &str, [usize; 2], &str); 27] = [
    ("Yard", "\"Yard", [2, 10], "quotes are opened here and not closed"),
    ("Yard", "'Yard", [2, 10], "quotes are opened here and not closed"),
    ("Yard", "'12'-6\"'", [2, 14], "something stands behind the closing quote"),
    ("Yard", "\"a\\q\"", [2, 10], "a backslash in double quotes that means nothing"),
    ("Yard", "Yard: north", [2, 14], "a second colon in one line, or a key below a value"),
    ("Yard", "*yard", [2, 10], "an alias to an anchor that is not there"),
    ("Yard", "& Co", [2, 10], "an anchor or alias without a name"),
    ("Yard", "@home", [2, 10], "a text cannot begin with `@`"),
    ("Yard", "%1", [2, 10], "a text cannot begin with `%`"),
    ("Yard", "| Yard", [2, 10], "something stands behind `|` or `>`"),
    ("Yard", "\"Yard\"#1", [2, 16], "no space before a comment"),
    ("Yard", "!x Yard", [2, 10], "a YAML tag (`!…`)"),
    ("Yard", "Ya #1\n    rd", [2, 13], "a comment inside a text of several lines"),
    ("  title", "\ttitle", [2, 1], "a tab at the start of a line, or behind a colon or a dash"),
    ("Yard", "Yard\n\tsite: x", [3, 1], "a tab at the start of a line, or behind a colon or a dash"),
    ("  - outline", "  -\t- outline", [4, 4], "a tab at the start of a line, or behind a colon or a dash"),
    ("  title", "   title: T\n  site", [3, 3], "this does not line up with what stands before it"),
    ("8']]", "8']", [5, 1], "a bracket is still open where the next block begins"),
    ("8']]", "8']]]", [4, 52], "a bracket is closed that was not opened"),
    ("8\"}", "8\"", [7, 1], "a mapping in braces does not go on here, nor end"),
    ("4\"],", "4\"]", [6, 26], "a mapping in braces does not go on here, nor end"),
    ("[12', 0]", "[12', 0}", [4, 30], "a list in brackets does not go on here, nor end"),
    ("8']]", "8'], , ]", [4, 53], "a value is missing here"),
    ("size: ", "size:", [6, 15], "a colon without a space behind it"),
    ("paving:\n  -", "paving: -", [3, 9], "a dash where no entry of a list can begin"),
    ("job:", "%x\njob:", [2, 1], "a line for the reader of YAML (`%…`)"),
    ("Yard", "Yard\n---\n", [3, 1], "a second document starts here"),
];

#[test]
fn what_is_no_yaml_is_told_at_its_place() {
    for (from, to, place, says) in CASES {
        assert!(JOB.contains(from), "{from}");
        let text = JOB.replacen(from, to, 1);
        let found = refused(&text);
        let at = found.place.map(|place| [place.line, place.column]);
        assert_eq!(
            (found.found.to_string().as_str(), at),
            (says, Some(place)),
            "{text}"
        );
        assert!(found.wanted.is_some(), "{text}");
        for language in [Language::Spanish, Language::French] {
            // The job quotes itself; the rest is in the language.
            let shown = render_in(language, "job.yaml", &text, std::slice::from_ref(&found));
            assert!(
                !shown.contains(says) && !shown.contains("right would be"),
                "{shown}"
            );
        }
    }
}

/// A list that is never closed is found where the next block begins, and told where it was opened.
#[test]
fn a_bracket_that_is_not_closed_is_told_where_it_was_opened() {
    let found = refused(&JOB.replacen("8']]", "8']", 1));
    let hint = found.hint.expect("a hint").to_string();
    assert_eq!(
        hint,
        "the bracket opened in line 4, column 14 is not closed before this"
    );
    let found = refused(&JOB.replacen("4\"],", "4\"]", 1));
    let hint = found.hint.expect("a hint").to_string();
    assert_eq!(
        hint,
        "the bracket opened in line 6, column 10 is not closed before this"
    );
}

/// What is wrong inside brackets is no fault of theirs.
#[test]
fn a_bracket_is_not_blamed_for_what_stands_in_it() {
    let found = refused(&JOB.replacen("4\"],", "4\"],\n    thickness: @x,", 1));
    assert_eq!(found.found.to_string(), "a text cannot begin with `@`");
    assert_eq!(found.hint, None);
}

/// Aliases that lead to aliases grow beyond what is read, whichever bound they meet.
#[test]
fn aliases_have_a_bound() {
    let many =
        |name: &str, count: usize| format!("[{}]", vec![format!("*{name}"); count].join(", "));
    for (text, code) in [
        (
            format!(
                "a: &a [1]\nb: &b {}\nc: &c {}\nd: {}\n",
                many("a", 40),
                many("b", 40),
                many("c", 40)
            ),
            "too-many",
        ),
        (
            format!(
                "a: &a [1]\nb: &b {}\nc: {}\n",
                many("a", 400),
                many("b", 400)
            ),
            "too-many",
        ),
    ] {
        let found = refused(&text);
        assert_eq!(found.code, code);
        assert!(found.place.is_some());
    }
}
