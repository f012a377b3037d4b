//! `panels.under_joints`, `pavers.sliver`: how the pavers sit on the panels and at the edges.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::units::{Length, print};

/// No straight run of paver joint lies along panel joints.
pub fn under_joints(design: &Design) -> Vec<Finding> {
    if design.areas.iter().all(|area| area.paving.runs.is_empty()) {
        return Vec::new();
    }
    let under = &design.joints_over_joints;
    let printed = |mm: f64| {
        print::length(
            Length::from_mm(mm),
            design.job.sheet.units,
            print::Precision::Drawing,
        )
    };
    let lies = under.length > LENGTH;
    vec![Finding {
        id: "panels.under_joints",
        status: if lies { Status::Warn } else { Status::Pass },
        title: if lies {
            format!(
                "{} of panel joint lies under straight paver joints, {} of it in one line",
                printed(under.length),
                printed(under.worst)
            )
        } else {
            "No panel joint lies under a straight paver joint".to_string()
        },
        value: Some(under.length),
        limit: Some(0.0),
        unit: "mm",
        at: place_of(design, "base.start"),
        where_: None,
        point: under
            .lines
            .first()
            .map(|line| line.run.from.midpoint(line.run.to)),
        source: "common practice, no source",
    }]
}

/// No cut paver is under a third of a whole one.
pub fn sliver(design: &Design) -> Vec<Finding> {
    design
        .areas
        .iter()
        .enumerate()
        .map(|(index, area)| {
            let slivers: usize = area
                .paving
                .courses
                .iter()
                .map(|laid| laid.sliver_count())
                .sum();
            Finding {
                id: "pavers.sliver",
                status: if slivers > 0 {
                    Status::Warn
                } else {
                    Status::Pass
                },
                title: match slivers {
                    0 => format!("{}: no cut paver is under a third of one", area.name),
                    1 => format!("{}: 1 cut paver is under a third of one", area.name),
                    many => format!("{}: {many} cut pavers are under a third of one", area.name),
                },
                value: Some(slivers as f64),
                limit: Some(0.0),
                unit: "pavers",
                at: place_of(design, &format!("paving[{index}].start")),
                where_: None,
                point: None,
                source: "Construction Tolerances and Recommendations for Interlocking Concrete \
                         Pavements: smallest cut a third of a unit",
            }
        })
        .collect()
}
