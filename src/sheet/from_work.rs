//! What the order of work takes from the computed design, in words ready to print.
//!
//! In: design. Out: depths, laps, starts, nails and bends of the restraint, tolerances. Tolerances
//! are common practice, no source.

use super::notes::Work;
use super::words::{self, depths};
use crate::design::Design;
use crate::paving::Form;
use crate::units::print;

/// The words of the order of work.
pub fn work(design: &Design) -> Work {
    let job = &design.job;
    let thin = |mm: f64| words::thin(design, mm);
    let long = |mm: f64| words::long(design, mm);
    let tolerance =
        |inch: f64, metric: f64| format!("±{}", thin(words::stated(design, inch, metric)));
    let start = |spec: Option<&crate::site::StartSpec>| {
        spec.map_or("the start corner".to_string(), |s| {
            format!("corner {} along {}", s.corner, s.along)
        })
    };
    let spacing = design.rails.spacing_mm.map_or("as drawn".to_string(), long);
    Work {
        depth: depths(design),
        past: long(job.dig_extension.max(job.base_extension)),
        lap: long(job.textile.overlap),
        bedding: [thin(job.bedding.loose), thin(job.bedding.compacted)],
        rails: [
            format!("{} outside diameter", thin(job.bedding.rails.diameter)),
            spacing,
        ],
        start: start(job.panels_start.as_ref()),
        stagger: long(job.panels.min_stagger),
        paving: paving_start(
            design,
            &start(job.paving_starts.first().and_then(Option::as_ref)),
        ),
        nails: nails(design),
        bends: bends(design),
        settle: settle(design),
        patch: long(job.bedding.test_patch),
        mist: [
            match job.jointing.mist {
                1 => "1 pass".to_string(),
                many => format!("{many} passes"),
            },
            format!("{} h", print::number(job.jointing.dry, 1)),
        ],
        below: thin(job.jointing.below),
        tolerance: tolerance(0.125, 3.0),
        rough: tolerance(0.5, 10.0),
    }
}

/// Where the pavers start, and what a search moved the bond by.
fn paving_start(design: &Design, start: &str) -> String {
    let Some(search) = design.areas.first().and_then(|area| area.paving.search) else {
        return start.to_string();
    };
    let [along, across] = search.shift.map(|mm| words::long(design, mm));
    format!(
        "{start}, the bond shifted {along} along its courses and {across} across them ({} slivers \
         instead of {})",
        search.best.slivers, search.fixed.slivers
    )
}

/// Which holes of the edge restraint take a nail.
fn nails(design: &Design) -> String {
    let edging = &design.job.edging;
    let nail = words::long(design, edging.nail);
    let straight = ordinal(edging.nail_every);
    let curved = design
        .edging
        .by_edge
        .iter()
        .any(|edge| edge.bend_mm().is_some());
    match (curved, edging.curve_nail_every) {
        (false, _) => {
            format!("{nail} nails in the first, every {straight} and the last hole of each piece")
        }
        (true, 1) => format!(
            "{nail} nails in the first, every {straight} and the last hole of each piece, on curves in every hole"
        ),
        (true, n) => format!(
            "{nail} nails in the first, every {straight} and the last hole of each piece, on curves in every {}",
            ordinal(n)
        ),
    }
}

/// Each curve of the edge restraint with the radius that its pieces are bent to.
fn bends(design: &Design) -> String {
    let edges = design.edging.by_edge.iter();
    let bends = edges.filter_map(|edge| {
        let radius = words::long(design, edge.bend_mm()?);
        Some(match edge.laid.len() {
            1 => format!("1 piece along {} to a radius of {radius}", edge.edge),
            many => format!("{many} pieces along {} to a radius of {radius}", edge.edge),
        })
    });
    bends.collect::<Vec<_>>().join("; ")
}

/// How what is laid is settled: a plate compactor cracks slabs.
fn settle(design: &Design) -> String {
    let laid = design.areas.iter().flat_map(|area| &area.paving.courses);
    let forms: Vec<Form> = laid
        .map(|laid| design.job.pavers[laid.paver].form())
        .collect();
    match (forms.contains(&Form::Paver), forms.contains(&Form::Slab)) {
        (_, false) => "settle the pavers with a plate compactor on a soft pad, three passes",
        (false, true) => "settle the slabs with a mallet or a light roller, never with a plate compactor",
        (true, true) => "settle the pavers with a plate compactor on a soft pad, three passes, and the slabs with a mallet or a light roller only",
    }
    .to_string()
}

fn ordinal(n: u32) -> String {
    let ending = match (n % 10, n % 100) {
        (1, k) if k != 11 => "st",
        (2, k) if k != 12 => "nd",
        (3, k) if k != 13 => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}
