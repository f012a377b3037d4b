//! Every sheet of several hundred made-up jobs can be read: no text touched, crossed, off its sheet
//! or view, or hidden. By default every fifth job; all of them with `SHEETS=all`.

#[path = "made_up/jobs.rs"]
mod jobs;

use groundsheet::draw::{Sheet, conflicts};
use groundsheet::{checks, design, job, sheet, takeoff};

/// How many jobs there are.
const COUNT: u64 = 300;

fn sheets(made: &jobs::Made) -> Vec<Sheet> {
    let read = match job::read(made.yaml.as_bytes()) {
        Ok(job) => job,
        Err(errors) => panic!("{}: {errors:#?}\n{}", made.name, made.yaml),
    };
    let design = match design::run(read) {
        Ok(design) => design,
        Err(errors) => panic!("{}: {errors:#?}\n{}", made.name, made.yaml),
    };
    let takeoff = takeoff::of(&design).expect("what can be designed can be taken off");
    sheet::compose(&design, &takeoff, &checks::run(&design))
}

#[test]
fn no_text_of_any_job_is_touched_crossed_off_or_hidden() {
    let step = match std::env::var("SHEETS").as_deref() {
        Ok("all") => 1,
        _ => 5,
    };
    let mut found = Vec::new();
    for seed in (0..COUNT).step_by(step) {
        // Every fifth by default, yet of every kind.
        let seed = seed + if step > 1 { seed / 5 % 5 } else { 0 };
        let made = jobs::job(seed);
        for (index, sheet) in sheets(&made).iter().enumerate() {
            for conflict in conflicts(sheet) {
                found.push(format!("{}, sheet {}: {conflict}", made.name, index + 1));
            }
        }
    }
    assert!(
        found.is_empty(),
        "{} conflicts:\n{}",
        found.len(),
        found.join("\n")
    );
}

/// Writes the job files to the folder named by `JOBS`, for other programs to look at.
#[test]
#[ignore = "writes files for people and other programs to look at"]
fn job_files() {
    let Ok(folder) = std::env::var("JOBS") else {
        return;
    };
    for seed in 0..COUNT {
        let path = format!("{folder}/made-{seed:03}.yaml");
        std::fs::write(path, jobs::job(seed).yaml).expect("written");
    }
}
