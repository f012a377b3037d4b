//! The README keeps its word: what it links to is there, and every example job stands in its
//! gallery with a picture that the main command makes.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const README: &str = include_str!("../README.md");

/// Targets of links and pictures: what stands in brackets after `](`.
fn targets() -> BTreeSet<&'static str> {
    let after = README.split("](").skip(1);
    after.filter_map(|rest| rest.split(')').next()).collect()
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn what_is_linked_is_there() {
    let targets = targets();
    assert!(targets.len() > 10, "{targets:?}");
    for target in targets {
        assert!(root().join(target).exists(), "{target}");
    }
}

#[test]
fn every_job_stands_in_the_gallery() {
    let targets = targets();
    let jobs = fs::read_dir(root().join("jobs")).expect("there are jobs");
    let mut count = 0;
    for job in jobs {
        let path = job.expect("a job").path();
        let stem = path
            .file_stem()
            .and_then(|stem| stem.to_str())
            .expect("a name");
        for target in [
            format!("jobs/{stem}.yaml"),
            format!("output-examples/{stem}.pdf"),
            format!("output-examples/{stem}.png"),
        ] {
            assert!(targets.contains(target.as_str()), "{target}");
        }
        count += 1;
    }
    assert!(count >= 6);
}

/// Pictures in the gallery are of sheets: each has its SVG beside it.
#[test]
fn pictures_are_of_sheets() {
    let pictures = targets()
        .into_iter()
        .filter(|target| target.ends_with(".png"));
    for picture in pictures {
        let sheet = root().join(picture).with_extension("svg");
        assert!(sheet.exists(), "{picture}");
    }
}
