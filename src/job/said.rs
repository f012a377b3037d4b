//! What a job file gets wrong is said in phrases alone: the example jobs are broken in every way at
//! every key, and each finding is said in the language that has an x for each letter of a phrase.
//! What is left must stand in the job file, or be a key or a value that one may hold.

use std::collections::{BTreeMap, BTreeSet};

use super::meaning::Meaning;
use super::tree::{self, Node, Value};
use crate::diag::{Diagnostic, Place};
use crate::language::{Language, Phrase};
use crate::parallel;

/// Jobs to break; together they write every key.
const JOBS: [&str; 2] = [
    include_str!("../../tests/made_up/every-key.yaml"),
    include_str!("../../jobs/hillside-terrace.yaml"),
];
/// A job for the one key that the others cannot write: they say their language beside the sheet.
const OTHER: &str = "job: {title: Pad}
sheet: {language: [en, es]}
paving: [{rectangle: {corner: [0, 0], width: 6', depth: 6'}}]
pavers: {field: {size: [8\", 4\"], thickness: 60 mm}}
";
/// What is put in the place of a value.
const VALUES: [&str; 6] = ["zz", "-7", "9999 km", "900%", "[]", "{zz: zz}"];
/// English words that no part of a job file may lend.
const ENGLISH: [&str; 16] = [
    "the", "of", "is", "are", "and", "not", "such", "that", "which", "than", "or", "with", "more",
    "most", "this", "least",
];

/// What a value is replaced by, or a key.
struct Break {
    place: Place,
    by: String,
}

/// The breaks of a job: every value and key once, told by its path without numbers.
fn breaks(node: &Node, path: &str, known: &mut BTreeSet<String>, out: &mut Vec<Break>) {
    if known.insert(path.to_owned()) && !path.is_empty() {
        let plain = matches!(node.value, Value::Scalar(_, meaning) if meaning != Meaning::Nothing);
        if plain {
            out.extend(VALUES.iter().map(|value| Break {
                place: node.place,
                by: (*value).to_owned(),
            }));
        }
    }
    match &node.value {
        Value::Scalar(..) => {}
        Value::List(items) => {
            for item in items {
                breaks(item, &format!("{path}[]"), known, out);
            }
        }
        Value::Map(entries) => {
            for entry in entries {
                let path = format!("{path}.{}", entry.key);
                if !known.contains(&path) {
                    out.push(Break {
                        place: entry.place,
                        by: format!("{}z", entry.key),
                    });
                }
                breaks(&entry.node, &path, known, out);
            }
        }
    }
}

/// Every key with its place.
fn keys(node: &Node, out: &mut Vec<(String, Place)>) {
    match &node.value {
        Value::Scalar(..) => {}
        Value::List(items) => items.iter().for_each(|item| keys(item, out)),
        Value::Map(entries) => {
            for entry in entries {
                out.push((entry.key.clone(), entry.place));
                keys(&entry.node, out);
            }
        }
    }
}

/// The text with one place replaced.
fn broken(text: &str, at: &Break) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let line = &mut lines[at.place.line - 1];
    let chars: Vec<char> = line.chars().collect();
    let start = at.place.column - 1;
    let end = (start + at.place.length).min(chars.len());
    *line = chars[..start]
        .iter()
        .copied()
        .chain(at.by.chars())
        .chain(chars[end..].iter().copied())
        .collect();
    lines.join("\n") + "\n"
}

/// The words of a text: runs of letters.
fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    let runs = text.split(|c: char| !c.is_alphabetic());
    runs.filter(|run| run.chars().count() > 1)
        .map(str::to_lowercase)
}

/// Keys, and the values that are one word.
fn vocabulary(node: &Node, out: &mut BTreeSet<String>) {
    match &node.value {
        Value::Scalar(text, _) => out.extend(words(text)),
        Value::List(items) => items.iter().for_each(|item| vocabulary(item, out)),
        Value::Map(entries) => {
            for entry in entries {
                out.extend(words(&entry.key));
                vocabulary(&entry.node, out);
            }
        }
    }
}

/// What is left of a phrase when its letters are crossed out.
fn left(phrase: &Phrase, known: &BTreeSet<String>) -> Vec<String> {
    let said = phrase.say(Language::Crossed);
    let crossed = |word: &String| word.chars().all(|c| c == 'x');
    // Keys are broken by a z behind them.
    let stands = |word: &String| {
        let word = word.trim_end_matches('z');
        word.chars().count() < 2 || known.contains(word)
    };
    words(&said)
        .filter(|word| !crossed(word) && !known.contains(word) && !stands(word))
        .collect()
}

/// What of a finding is left when the letters of its phrases are crossed out.
fn unsaid(finding: &Diagnostic, known: &BTreeSet<String>) -> Vec<String> {
    let more = [finding.wanted.as_ref(), finding.hint.as_ref()];
    let phrases = std::iter::once(&finding.found).chain(more.into_iter().flatten());
    phrases
        .map(|phrase| (left(phrase, known), phrase))
        .filter(|(left, _)| !left.is_empty())
        .map(|(left, phrase)| format!("{left:?} in {phrase}"))
        .collect()
}

/// Keys and values that messages list and no job here holds, and units.
const MORE: &str = "ft yd cm mm km in zz aggregate auto letter legal tabloid ansi portrait best bid \
    electric telecom sewer drain irrigation es fr joined large small layer metric dual mitred none \
    pool post step right runoff sailor set down stack basketweave terms through textile cuts \
    compact watering clean";

#[test]
fn what_is_wrong_in_a_job_is_said_in_phrases() {
    let mut stands: BTreeSet<String> = words(MORE).collect();
    let mut all = Vec::new();
    let mut paths = BTreeSet::new();
    for text in JOBS {
        let (root, _) = tree::parse(text.as_bytes()).expect("the job is well written");
        vocabulary(&root, &mut stands);
        let mut of_job = Vec::new();
        breaks(&root, "", &mut paths, &mut of_job);
        all.extend(of_job.into_iter().map(|at| broken(text, &at)));
    }
    for word in ENGLISH {
        stands.remove(word);
    }
    let bad: Vec<(usize, Vec<String>)> = parallel::map(&all, |text| {
        let found: Vec<Diagnostic> = match super::read(text.as_bytes()) {
            Ok(job) => job.warnings,
            Err(found) => found,
        };
        let bad = found.iter().flat_map(|finding| unsaid(finding, &stands));
        (found.len(), bad.collect())
    });
    let findings: usize = bad.iter().map(|(count, _)| count).sum();
    let bad: BTreeSet<String> = bad.into_iter().flat_map(|(_, bad)| bad).collect();
    assert!(bad.is_empty(), "{bad:#?}");
    assert!(findings > 1000, "{findings} findings of {} jobs", all.len());
}

/// A key that is not known is told with those that are: together the jobs write each of them, so that
/// what is tested on every key of theirs is tested on every key there is.
#[test]
fn the_jobs_write_every_key() {
    let mut written: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for text in [JOBS[0], JOBS[1], OTHER] {
        let (root, _) = tree::parse(text.as_bytes()).expect("the job is well written");
        let mut all = Vec::new();
        keys(&root, &mut all);
        let told = parallel::map(&all, |(key, place)| {
            let by = format!("{key}z");
            let text = broken(text, &Break { place: *place, by });
            let found = super::read(text.as_bytes()).err().unwrap_or_default();
            let mut found = found.into_iter().filter(|finding| {
                let at = finding.place.map(|at| (at.line, at.column));
                finding.code == "unknown-key" && at == Some((place.line, place.column))
            });
            Some((found.next()?.wanted?.to_string(), key.clone()))
        });
        for (known, key) in told.into_iter().flatten() {
            written.entry(known).or_default().insert(key);
        }
    }
    let missing: Vec<_> = written
        .iter()
        .flat_map(|(known, written)| {
            let all = known.trim_start_matches("one of ").split(", ");
            let missing = all.filter(|key| !written.contains(*key));
            missing.map(move |key| format!("{key} of {known}"))
        })
        .collect();
    assert!(missing.is_empty(), "{missing:#?}");
    assert!(written.len() > 30, "{}", written.len());
}

/// Signs that mean something to YAML, and some that it does not take.
const SIGNS: [&str; 22] = [
    "\"", "'", "[", "]", "{", "}", ":", ": ", ",", "- ", "#", " #", "\t", "|", "> ", "& ", "*",
    "!", "%", "@", "\\", "\n",
];
/// Breaks are made at every so many characters.
const EVERY: usize = 61;

/// What a reader of YAML says in English of a text that is none is said in phrases too: the jobs
/// are cut off, and have signs put in, all over.
#[test]
fn text_that_is_no_yaml_is_said_in_phrases() {
    let stands: BTreeSet<String> = words("key value job title paving pavers").collect();
    let mut all = Vec::new();
    for text in JOBS {
        let places: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
        for at in places.into_iter().step_by(EVERY) {
            let (before, after) = text.split_at(at);
            all.push(before.to_owned());
            all.extend(SIGNS.map(|sign| format!("{before}{sign}{after}")));
        }
    }
    let found = parallel::map(&all, |text| tree::parse(text.as_bytes()).err());
    let found: Vec<Diagnostic> = found.into_iter().flatten().collect();
    let bad: BTreeSet<String> = found.iter().flat_map(|f| unsaid(f, &stands)).collect();
    assert!(bad.is_empty(), "{bad:#?}");
    let kinds: BTreeSet<String> = found.iter().map(|f| f.found.to_string()).collect();
    assert!(kinds.len() > 15, "{kinds:#?}");
    assert!(found.iter().all(|finding| finding.place.is_some()));
}
