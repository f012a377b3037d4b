//! Jobs worked from YAML to a design, its findings and its sheets.

use groundsheet::checks::{self, Finding, Status};
use groundsheet::design::{self, Design};
use groundsheet::diag::render;
use groundsheet::draw::{Item, Sheet};
use groundsheet::job;
use groundsheet::sheet::{self, Composed};
use groundsheet::takeoff::{self, Takeoff};

/// The design of a job; stops with the job's errors when it has any.
pub fn design(yaml: &str) -> Design {
    let shown = |found: Vec<_>| render("job", yaml, &found);
    let job = job::read(yaml.as_bytes()).unwrap_or_else(|found| panic!("{}", shown(found)));
    design::run(job).unwrap_or_else(|found| panic!("{}", shown(found)))
}

/// The findings of one check.
pub fn findings(design: &Design, id: &str) -> Vec<Finding> {
    let found = checks::run(design);
    found.into_iter().filter(|f| f.id == id).collect()
}

/// The findings of one check on a job.
pub fn findings_of(yaml: &str, id: &str) -> Vec<Finding> {
    findings(&design(yaml), id)
}

/// How one check on a job ends.
pub fn status(yaml: &str, id: &str) -> Vec<Status> {
    findings_of(yaml, id).iter().map(|f| f.status).collect()
}

/// The design of a job and its takeoff; stops with the errors when there are any.
pub fn taken_off(yaml: &str) -> (Design, Takeoff) {
    let design = design(yaml);
    let takeoff = takeoff::of(&design);
    let takeoff = takeoff.unwrap_or_else(|found| panic!("{}", render("job", yaml, &found)));
    (design, takeoff)
}

/// The sheets of a design, and what of the job they do not follow.
pub fn composed(design: &Design) -> Composed {
    let takeoff = takeoff::of(design).expect("the prices are sound");
    sheet::composed(design, &takeoff, &checks::run(design))
}

/// The design of a job, its takeoff and its sheets.
pub fn sheets(yaml: &str) -> (Design, Takeoff, Vec<Sheet>) {
    let (design, takeoff) = taken_off(yaml);
    let sheets = sheet::compose(&design, &takeoff, &checks::run(&design));
    (design, takeoff, sheets)
}

/// The text of an example job.
pub fn example(name: &str) -> String {
    let path = format!("{}/jobs/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The names of the example jobs, in order.
pub fn examples() -> Vec<String> {
    let jobs = format!("{}/jobs", env!("CARGO_MANIFEST_DIR"));
    let jobs = std::fs::read_dir(jobs).expect("the examples");
    let paths = jobs.map(|entry| entry.expect("a job").path());
    let mut names: Vec<String> = paths
        .filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()))
        .collect();
    names.sort();
    names
}

/// Every run of text under some items, in painting order.
pub fn words(items: &[Item]) -> Vec<String> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Group(group) => all.extend(words(&group.items)),
            Item::Text(text) => all.push(text.text.clone()),
            Item::Path(_) => {}
        }
    }
    all
}

/// Stops unless a figure is near the wanted one.
#[track_caller]
pub fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}
