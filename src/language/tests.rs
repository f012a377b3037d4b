//! What holds of the table of words and of every phrase that the source says.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use super::*;

/// The source files.
fn sources() -> Vec<PathBuf> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut found = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the folder can be read") {
            let path = entry.expect("the entry can be read").path();
            match path.extension() {
                _ if path.is_dir() => folders.push(path),
                Some(e) if e == "rs" && !path.ends_with("language/tests.rs") => found.push(path),
                _ => {}
            }
        }
    }
    found.sort();
    found
}

/// The text of the first string literal of some code, as the program sees it.
fn literal(code: &str) -> String {
    let start = code.find('"').expect("a phrase begins with its template") + 1;
    let mut text = String::new();
    let mut letters = code[start..].chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => break,
            '\\' => match letters.next().expect("a letter after the stroke") {
                '\n' => while letters.next_if(|c| c.is_whitespace()).is_some() {},
                'n' => text.push('\n'),
                other => text.push(other),
            },
            other => text.push(other),
        }
    }
    text
}

/// Every template that the source says, with the file it was found in first.
fn templates() -> BTreeMap<String, PathBuf> {
    let mut found = BTreeMap::new();
    for path in sources() {
        let text = fs::read_to_string(&path).expect("the file can be read");
        let lines = text
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"));
        let code = lines.collect::<Vec<_>>().join("\n");
        for call in ["say!(", "phrase!("] {
            // The macros themselves call each other without a template.
            let calls = code.split(call).skip(1);
            for rest in calls.filter(|rest| !rest.starts_with("$(")) {
                found.entry(literal(rest)).or_insert(path.clone());
            }
        }
    }
    found
}

/// The names of a template's places.
fn places(template: &str) -> BTreeSet<String> {
    let parts = template.split('{').skip(1);
    parts
        .map(|part| part.split('}').next().unwrap_or_default().to_string())
        .collect()
}

#[test]
fn every_phrase_of_the_source_has_a_row() {
    let templates = templates();
    assert!(templates.len() > 40, "{} phrases found", templates.len());
    let missing: Vec<_> = templates
        .iter()
        .filter(|(template, _)| !rows().contains_key(*template))
        .collect();
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn every_row_is_said_somewhere() {
    let templates = templates();
    let unused: Vec<_> = rows()
        .keys()
        .filter(|template| !templates.contains_key(*template))
        .collect();
    assert!(unused.is_empty(), "{unused:#?}");
}

#[test]
fn translations_keep_the_places_and_the_plurals() {
    for (template, row) in rows() {
        for words in [&row.es, &row.fr] {
            assert!(!words.trim().is_empty(), "{template}");
            assert_eq!(places(words), places(template), "{template}: {words}");
            let forms = |text: &str| text.split(" | ").count();
            assert_eq!(forms(words), forms(template), "{template}: {words}");
            for form in words.split(" | ").filter(|_| forms(words) > 1) {
                assert_eq!(places(form), places(words), "{template}: {form}");
            }
            assert!(!words.contains('§'), "{template}: {words}");
            let ends = |text: &str| text.ends_with(['.', ':', ';']);
            assert_eq!(ends(words), ends(template), "{template}: {words}");
        }
    }
}

/// What is written before a colon, a semicolon, a question or an exclamation: in French a space at
/// which no line breaks, in Spanish none; and French words are joined by one apostrophe, not by the
/// mark for feet. What a job file is quoted with stands between backticks.
///
/// # Source
/// Lexique des règles typographiques en usage à l'Imprimerie nationale (2002), ponctuation; the narrow
/// space it asks for before some of them is not in the faces.
#[test]
fn french_and_spanish_are_punctuated_one_way() {
    let is_sign = |c: char| matches!(c, ':' | ';' | '?' | '!');
    let mut signs = 0;
    for (template, row) in rows() {
        for (words, wanted) in [(&row.fr, Some('\u{a0}')), (&row.es, None)] {
            let mut quoted = false;
            let letters: Vec<char> = words.chars().collect();
            for (at, c) in letters.iter().enumerate() {
                quoted ^= *c == '`';
                let before = at.checked_sub(1).map(|at| letters[at]);
                let after = letters.get(at + 1);
                let ends = after.is_none_or(|c| c.is_whitespace() || matches!(c, '"' | ')'));
                if !quoted && is_sign(*c) && ends {
                    signs += 1;
                    let spaced = before.filter(|c| c.is_whitespace());
                    assert_eq!(spaced, wanted, "{template}: {words}");
                }
                let within = before.is_some_and(char::is_alphabetic)
                    && after.is_some_and(|c| c.is_alphabetic() || *c == '{');
                assert!(*c != '\'' || !within, "{template}: {words}");
            }
        }
    }
    assert!(signs > 400, "{signs}");
}

#[test]
fn no_template_stands_in_two_files_of_the_table() {
    let each: usize = table::FILES
        .iter()
        .map(|file| {
            let rows: BTreeMap<String, Row> = serde_yaml::from_str(file).expect("well written");
            rows.len()
        })
        .sum();
    assert_eq!(each, rows().len());
}

/// The code of a source file without its tests; nothing of the invented sheet that they share, and of
/// files of tests.
fn told(path: &Path) -> String {
    if path.ends_with("sheet/sample.rs") || path.ends_with("tests.rs") {
        return String::new();
    }
    let text = fs::read_to_string(path).expect("the file can be read");
    let mark = "\n#[cfg(test)]\n";
    let mut tests = text.match_indices(mark).filter(|(at, _)| {
        let line = text[at + mark.len()..].lines().next().unwrap_or_default();
        line.contains("mod ") && line.ends_with('{')
    });
    let end = tests.next().map_or(text.len(), |(at, _)| at);
    text[..end].to_string()
}

/// Whether words read like a sentence: two words or more of small letters alone.
fn is_sentence(words: &str) -> bool {
    let plain = |word: &&str| word.len() > 1 && word.chars().all(|c| c.is_ascii_lowercase());
    words.split(' ').filter(plain).count() > 1
}

/// What the source says to be the same in every language is no sentence, but a name, a number or a
/// piece of a job file.
#[test]
fn no_sentence_is_kept_from_translation() {
    let mut seen = 0;
    for path in sources() {
        let code = told(&path);
        for call in ["Phrase::own(\"", "Phrase::from(\""] {
            for (at, _) in code.match_indices(call) {
                let words = literal(&code[at..]);
                assert!(!is_sentence(&words), "{}: {words}", path.display());
                seen += 1;
            }
        }
        // A literal that is made into a text or a phrase, wherever it goes.
        for call in ["\".into()", "\".to_owned()", "\".to_string()"] {
            for (end, _) in code.match_indices(call) {
                let start = code[..end].rfind('"').map_or(end, |at| at + 1);
                let words = &code[start..end];
                assert!(!is_sentence(words), "{}: {words}", path.display());
                seen += 1;
            }
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn places_are_filled_and_plurals_chosen() {
    let passes = |count: u32| phrase!("{count} pass | {count} passes", count);
    let said = |count: u32, language: Language| passes(count).say(language);
    assert_eq!(said(1, Language::English), "1 pass");
    assert_eq!(said(0, Language::English), "0 passes");
    assert_eq!(said(2, Language::Spanish), "2 pasadas");
    assert_eq!(said(0, Language::Spanish), "0 pasadas");
    assert_eq!(said(0, Language::French), "0 passe");
    assert_eq!(said(2, Language::Crossed), "2 xxxxxx");
    let lap = phrase!(
        "Lay the geotextile flat, laps {lap}, without folds.",
        lap = "{a}"
    );
    assert_eq!(
        lap.say(Language::French),
        "Poser le géotextile à plat, recouvrements de {a}, sans plis."
    );
}

#[test]
fn ordinals_follow_the_language() {
    let said = |n: u32, language: Language| Ordinal(n).argument().say(language);
    let english = [1, 2, 3, 4, 11, 12, 13, 21].map(|n| said(n, Language::English));
    assert_eq!(
        english,
        ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st"]
    );
    let french = [1, 2].map(|n| said(n, Language::French));
    assert_eq!(french, ["1er", "2e"]);
    assert_eq!(said(2, Language::Spanish), "2.º");
}

#[test]
fn two_languages_stand_together_and_what_is_alike_once() {
    let both = Languages {
        first: Language::English,
        second: Some(Language::Spanish),
    };
    assert_eq!(both.label(&phrase!("Cautions")), "Cautions / Precauciones");
    assert_eq!(both.label(&Phrase::own("6″")), "6″");
    assert_eq!(both.lines(&phrase!("as drawn")), "as drawn\nsegún el plano");
}

#[test]
fn words_of_the_table_are_known_by_their_english() {
    assert_eq!(
        Phrase::known("as drawn").say(Language::French),
        "selon le plan"
    );
    assert_eq!(Phrase::known("our own").say(Language::French), "our own");
}
