//! Findings in Spanish and French: no English is left in them.

use groundsheet::diag::Diagnostic;
use groundsheet::language::{Language, Phrase};

/// English words that are neither Spanish nor French, nor a key of the job file.
const ENGLISH: [&str; 37] = [
    "the", "of", "is", "are", "was", "and", "not", "such", "that", "this", "which", "without",
    "more", "than", "most", "least", "must", "may", "any", "there", "here", "its", "their", "has",
    "have", "lies", "stands", "used", "found", "named", "list", "missing", "apart", "beside",
    "where", "should", "by",
];

/// The findings themselves, when each of their sentences is said in every language.
pub fn in_every_language(findings: Vec<Diagnostic>) -> Vec<Diagnostic> {
    for finding in &findings {
        for phrase in sentences(finding) {
            for language in [Language::Spanish, Language::French] {
                let said = phrase.say(language);
                let left = english(&said);
                assert!(left.is_empty(), "{left:?} in {said:?} of {phrase}");
            }
        }
    }
    findings
}

/// The English words of what is said in Spanish or French.
pub fn english(said: &str) -> Vec<String> {
    let spoken = spoken(said);
    let words = spoken.split(|c: char| !c.is_alphanumeric() && c != '_');
    let own = words.filter(|word| ENGLISH.contains(&word.to_lowercase().as_str()));
    own.map(str::to_owned).collect()
}

/// What a finding says, as sentences.
fn sentences(finding: &Diagnostic) -> impl Iterator<Item = &Phrase> {
    let more = [&finding.wanted, &finding.hint].into_iter().flatten();
    std::iter::once(&finding.found).chain(more)
}

/// A sentence without what it quotes of the job file: texts between backticks, lists and mappings.
fn spoken(said: &str) -> String {
    let mut depth = 0;
    let mut quoted = false;
    let mut out = String::new();
    for c in said.chars() {
        match c {
            '`' => quoted = !quoted,
            '{' | '[' => depth += 1,
            '}' | ']' => depth -= 1,
            c if depth == 0 && !quoted => out.push(c),
            _ => {}
        }
    }
    out
}
