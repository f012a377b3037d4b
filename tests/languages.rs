//! Example jobs lettered in each language and in two: every sheet can be read, and says its words
//! in the language asked for.

mod common;

use common::worked::{sheets, words};
use groundsheet::draw::{Sheet, conflicts};

const JOBS: [&str; 2] = [
    include_str!("../jobs/terrace.yaml"),
    include_str!("../jobs/hillside-terrace.yaml"),
];
/// The other examples.
const MORE: [&str; 4] = [
    include_str!("../jobs/bonds.yaml"),
    include_str!("../jobs/landing.yaml"),
    include_str!("../jobs/pool-surround.yaml"),
    include_str!("../jobs/two-walls.yaml"),
];

/// The sheets of a job, lettered in other languages.
fn lettered(job: &str, languages: &str) -> Vec<Sheet> {
    let yaml = match job.contains("sheet: {") {
        true => job.replacen("sheet: {", &format!("sheet: {{language: {languages}, "), 1),
        false => format!("{job}sheet: {{language: {languages}}}\n"),
    };
    sheets(&yaml).2
}

fn can_be_read(jobs: &[&str], languages: &str) {
    for job in jobs {
        let set = lettered(job, languages);
        assert!(!set.is_empty());
        for sheet in set {
            assert_eq!(conflicts(&sheet), [], "{languages}: {}", sheet.title);
        }
    }
}

/// No accent meets a line, no longer word runs over: the program's own check finds nothing.
#[test]
fn sheets_in_spanish_can_be_read() {
    can_be_read(&JOBS, "es");
    can_be_read(&MORE, "es");
}

#[test]
fn sheets_in_french_can_be_read() {
    can_be_read(&JOBS, "fr");
    can_be_read(&MORE, "fr");
}

#[test]
fn sheets_in_two_languages_can_be_read() {
    can_be_read(&JOBS[..1], "[fr, en]");
    can_be_read(&JOBS[1..], "[en, es]");
    can_be_read(&MORE, "[en, es]");
}

/// A sheet says which language it is in, for whoever reads it aloud.
#[test]
fn a_sheet_names_its_language() {
    for (languages, code) in [("en", "en"), ("es", "es"), ("[fr, en]", "fr")] {
        let set = lettered(MORE[1], languages);
        let svg = groundsheet::export::svg(&set[0]);
        assert!(svg.contains(&format!(" lang=\"{code}\"")), "{languages}");
        assert!(
            svg.contains(&format!(" xml:lang=\"{code}\"")),
            "{languages}"
        );
    }
}

/// What the checks find, the assumed values and the names of the parts of a large plan are said in
/// the sheet's language too.
#[test]
fn tables_of_checks_and_assumed_values_follow_the_sheet() {
    for (languages, says) in [
        (
            "es",
            ["Terrace: pendiente 2% (al menos 1.75%)", "traslapes 1′-0″"],
        ),
        (
            "fr",
            [
                "Terrace\u{a0}: pente 2% (au moins 1.75%)",
                "recouvrements 1′-0″",
            ],
        ),
    ] {
        let set = lettered(JOBS[0], languages);
        let said: Vec<String> = set.iter().flat_map(|sheet| words(&sheet.items)).collect();
        // Tables break lines where their columns end.
        let said = said.join(" ");
        for phrase in says {
            assert!(said.contains(phrase), "{phrase}");
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
            let said: Vec<String> = set.iter().flat_map(|sheet| words(&sheet.items)).collect();
            let headings = said.iter().filter(|word| *word == cautions).count();
            assert_eq!(headings, 1, "{languages}: {cautions}");
        }
    }
}
