//! Example jobs lettered in each language and in two: every sheet can be read, and says its words
//! in the language asked for.

mod common;

use common::worked::{sheets, words};
use groundsheet::draw::{Sheet, conflicts};

const JOBS: [&str; 2] = [
    include_str!("../jobs/terrace.yaml"),
    include_str!("../jobs/hillside-terrace.yaml"),
];

/// The sheets of a job, lettered in other languages.
fn lettered(job: &str, languages: &str) -> Vec<Sheet> {
    let said = format!("sheet: {{language: {languages}, ");
    let yaml = job.replacen("sheet: {", &said, 1);
    assert_ne!(yaml, job, "the job states its sheet on one line");
    sheets(&yaml).2
}

/// No accent meets a line, no longer word runs over: the program's own check finds nothing.
#[test]
fn sheets_of_every_language_can_be_read() {
    for job in JOBS {
        for languages in ["es", "fr", "[en, es]", "[fr, en]"] {
            for sheet in lettered(job, languages) {
                assert_eq!(conflicts(&sheet), [], "{languages}: {}", sheet.title);
            }
        }
    }
}

/// Cautions and order of work stand in the first language, or under one another in both.
#[test]
fn headings_stand_in_the_languages_asked_for() {
    for (languages, cautions) in [
        ("en", "Cautions"),
        ("es", "Precauciones"),
        ("fr", "Mises en garde"),
        ("[en, es]", "Cautions / Precauciones"),
    ] {
        for job in JOBS {
            let set = lettered(job, languages);
            let said = words(&set[0].items);
            let headings = said.iter().filter(|word| *word == cautions).count();
            assert_eq!(headings, 1, "{languages}: {cautions}");
        }
    }
}
