//! `levels.step` and `levels.fold`: where areas with their own falls meet.

use super::levels::{fall_place, length, percent};
use super::{FALL, Finding, LENGTH, Status};
use crate::design::Design;
use crate::design::parts::half_panel;
use crate::language::phrase;
use crate::levels::Meet;
use crate::levels::meet::{BREAK, breaks};
use crate::site::{edge_named, edge_told};

/// Areas that meet agree in level.
pub fn step(design: &Design) -> Vec<Finding> {
    design
        .meets
        .iter()
        .map(|meet| one_step(design, meet))
        .collect()
}

fn one_step(design: &Design, meet: &Meet) -> Finding {
    let [a, b] = meet.areas.map(|area| design.areas[area].name.as_str());
    let edge = edge_named(&meet.edge);
    let (most, at) = meet.greatest();
    let differs = most.abs() > LENGTH;
    let least = if meet.level_at().is_empty() {
        meet.steps
            .iter()
            .map(|step| step.abs())
            .fold(f64::INFINITY, f64::min)
    } else {
        0.0
    };
    let title = if !differs {
        phrase!("{a} and {b} agree in level at {edge}", a, b, edge)
    } else if (most.abs() - least).abs() <= LENGTH {
        phrase!(
            "{a} and {b} differ by {most} at {edge}",
            a,
            b,
            most = length(design, most.abs()),
            edge
        )
    } else {
        phrase!(
            "{a} and {b} differ by {least} to {most} at {edge}",
            a,
            b,
            least = length(design, least),
            most = length(design, most.abs()),
            edge
        )
    };
    Finding {
        id: "levels.step",
        status: if differs { Status::Warn } else { Status::Pass },
        title,
        value: Some(most.abs()),
        limit: Some(0.0),
        unit: "mm",
        at: fall_place(design, meet.areas[1]),
        where_: Some(edge_told(&meet.edge)),
        point: Some(at),
        source: "ADA 2010 §303 on changes of level; check the local code",
    }
}

/// No rigid panel rocks on a fold of the base: the base breaks there, or it rocks little.
pub fn fold(design: &Design) -> Vec<Finding> {
    let folds = design
        .meets
        .iter()
        .filter(|meet| meet.slope_change.abs() > FALL);
    folds
        .map(|meet| {
            let [a, b] = meet.areas;
            let edge = edge_named(&meet.edge);
            let value = meet.rocking(half_panel(&design.job));
            let rocks = breaks(value);
            let whole = design
                .base
                .iter()
                .any(|part| part.areas.contains(&a) && part.areas.contains(&b));
            let change = percent(meet.slope_change.abs());
            let by = length(design, value);
            let title = match (rocks, whole) {
                (true, true) => phrase!(
                    "A panel across {edge} rocks by {by}: the fall changes by {change} and the base runs on",
                    edge,
                    by,
                    change
                ),
                (true, false) => phrase!(
                    "The base breaks at {edge}, where the fall changes by {change}",
                    edge,
                    change
                ),
                (false, _) => phrase!(
                    "A panel across {edge} rocks by no more than {by} (at most {limit})",
                    edge,
                    by,
                    limit = length(design, BREAK)
                ),
            };
            Finding {
                id: "levels.fold",
                status: if rocks && whole { Status::Warn } else { Status::Pass },
                title,
                value: Some(value),
                limit: Some(BREAK),
                unit: "mm",
                at: fall_place(design, b),
                where_: Some(edge_told(&meet.edge)),
                point: Some(meet.slope_change_at),
                source: "common practice, no source",
            }
        })
        .collect()
}
