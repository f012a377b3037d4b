//! Every word on the sheets of the examples is a phrase, or the job's own: drawn in the language
//! that has an x for each letter of a phrase, the sheets show no other word.

use std::collections::BTreeSet;

use super::compose;
use crate::design::Design;
use crate::draw::{Item, Sheet};
use crate::job::Audience;
use crate::language::{Language, Languages};
use crate::paving::Bond;

const JOBS: [&str; 6] = [
    include_str!("../../jobs/bonds.yaml"),
    include_str!("../../jobs/hillside-terrace.yaml"),
    include_str!("../../jobs/landing.yaml"),
    include_str!("../../jobs/pool-surround.yaml"),
    include_str!("../../jobs/terrace.yaml"),
    include_str!("../../jobs/two-walls.yaml"),
];

/// Signs of units, standards and currencies, which are the same in every language.
const SIGNS: [&str; 15] = [
    "mm", "ft", "in", "yd", "lb", "kg", "gpm", "psi", "UFGS", "Arch", "USD", "gal", "min", "cm",
    "dpi",
];

/// The words of two letters or more.
fn tokens(text: &str) -> impl Iterator<Item = &str> {
    let words = text.split(|c: char| !c.is_alphabetic());
    words.filter(|word| word.chars().count() > 1)
}

/// What is lettered, and what layers and groups are called.
fn texts(items: &[Item], found: &mut Vec<String>) {
    for item in items {
        match item {
            Item::Group(group) => {
                found.push(group.title.clone());
                texts(&group.items, found);
            }
            Item::Text(text) => found.push(text.text.clone()),
            Item::Path(_) => {}
        }
    }
}

/// The words that the job itself gives.
fn own(design: &Design) -> BTreeSet<String> {
    let job = &design.job;
    let info = &job.info;
    let mut all = vec![info.title.clone()];
    let lines = [
        &info.number,
        &info.client,
        &info.site,
        &info.prepared_by,
        &info.checked_by,
    ];
    all.extend(lines.into_iter().flatten().cloned());
    all.extend(info.revisions.iter().map(|revision| revision.note.clone()));
    all.extend(info.terms.iter().cloned());
    all.extend(design.areas.iter().map(|area| area.name.clone()));
    all.extend(job.structures.iter().map(|each| each.name.clone()));
    all.extend(job.drains.iter().map(|each| each.name.clone()));
    all.extend(job.levels.sills.iter().map(|each| each.name.clone()));
    all.extend(job.levels.datum.iter().map(|each| each.name.clone()));
    all.extend(job.levels.fixed.iter().map(|each| each.surface.clone()));
    all.extend(design.services.iter().map(|each| each.spec.name.clone()));
    all.extend(job.survey.points.iter().map(|each| each.name.clone()));
    all.extend(job.paving.iter().filter_map(|each| match &each.bond {
        Bond::Modular(own) => Some(own.name.clone()),
        _ => None,
    }));
    all.extend(job.pavers.iter().map(|each| each.name.clone()));
    let words = all.iter().flat_map(|text| tokens(text));
    words.map(str::to_lowercase).collect()
}

fn strange(sheets: &[Sheet], own: &BTreeSet<String>) -> BTreeSet<String> {
    let mut found = Vec::new();
    for sheet in sheets {
        found.push(sheet.title.clone());
        found.extend(sheet.layers.iter().map(|layer| layer.title.clone()));
        texts(&sheet.items, &mut found);
    }
    let known = |word: &str| {
        let crossed = word.chars().all(|c| c == 'x' || c == 'X');
        crossed || SIGNS.contains(&word) || own.contains(&word.to_lowercase())
    };
    let strange = found
        .into_iter()
        .filter(|text| tokens(text).any(|word| !known(word)));
    strange.collect()
}

#[test]
fn every_word_on_the_sheets_is_a_phrase_or_the_jobs_own() {
    for yaml in JOBS {
        let job = crate::job::read(yaml.as_bytes()).expect("the example can be read");
        let mut design = crate::design::run(job).expect("the example can be designed");
        let takeoff = crate::takeoff::of(&design).expect("the example can be taken off");
        let findings = crate::checks::run(&design);
        let own = own(&design);
        design.job.sheet.languages = Languages::only(Language::Crossed);
        for audience in [Audience::Crew, Audience::Bid] {
            design.job.sheet.audience = audience;
            let sheets = compose(&design, &takeoff, &findings);
            let strange = strange(&sheets, &own);
            assert!(
                strange.is_empty(),
                "{}: {strange:#?}",
                design.job.info.title
            );
        }
    }
}
