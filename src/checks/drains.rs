//! `drains.*`: every drain takes water, and no downspout pours where its water does harm.

use super::{Finding, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::levels::{DrainKind, Outlet};
use crate::site::edge_named;
use crate::units::{Area, print};

/// Catchments of less than this are nothing, in square metres: less than a grate.
const NOTHING: f64 = 1e-3;

/// Each drain has paving above it: more than its own grate drains to it.
pub fn catchment(design: &Design) -> Vec<Finding> {
    let drains = design.job.drains.iter().zip(&design.drains).enumerate();
    drains
        .filter_map(|(index, (spec, drain))| {
            let grate = drain.grate?;
            let [a, b, c, _] = grate;
            let own = (b - a).cross(c - b).abs() / 1e6;
            let beyond = drain.catchment_m2 - own;
            let dry = beyond + drain.roof_m2 < NOTHING;
            let area = Area::from_m2(drain.catchment_m2);
            let area = print::area(area, design.job.sheet.units);
            Some(Finding {
                id: "drains.catchment",
                status: if dry { Status::Warn } else { Status::Pass },
                title: if dry {
                    phrase!("No water runs to {drain}", drain = spec.name)
                } else {
                    phrase!(
                        "{drain} takes the water of {area} of paving",
                        drain = spec.name,
                        area
                    )
                },
                value: Some(drain.catchment_m2),
                limit: Some(own),
                unit: "m2",
                at: place_of(design, &format!("site.drains[{index}]")),
                where_: Some(Phrase::own(&spec.name)),
                point: Some(a.midpoint(c)),
                source: "common practice, no source",
            })
        })
        .collect()
}

/// The water of each downspout is followed: it is not held, and runs neither to a wall nor into a
/// hole.
pub fn downspout(design: &Design) -> Vec<Finding> {
    let drains = design.job.drains.iter().zip(&design.drains).enumerate();
    drains
        .filter_map(|(index, (spec, drain))| {
            let DrainKind::Downspout { at, roof_m2 } = spec.kind else {
                return None;
            };
            let outlet = drain
                .leaves
                .map(|outlet| &design.water.outlets[outlet].outlet);
            let name = &spec.name;
            let (status, title) = match outlet {
                Some(Outlet::Open { edge, .. } | Outlet::Flush { edge, .. }) => (
                    Status::Pass,
                    phrase!(
                        "Water from {name} leaves over {edge}",
                        name,
                        edge = edge_named(edge)
                    ),
                ),
                Some(Outlet::Drain(drain)) => {
                    let drain = &design.job.drains[*drain].name;
                    (
                        Status::Pass,
                        phrase!("Water from {name} runs to {drain}", name, drain),
                    )
                }
                Some(Outlet::Hole { edge, .. }) => (
                    Status::Warn,
                    phrase!(
                        "Water from {name} runs into the hole at {edge}",
                        name,
                        edge = edge_named(edge)
                    ),
                ),
                Some(Outlet::Wall { edge, .. }) => (
                    Status::Fail,
                    phrase!(
                        "Water from {name} runs to the wall at {edge}",
                        name,
                        edge = edge_named(edge)
                    ),
                ),
                Some(Outlet::Held { .. }) => (
                    Status::Fail,
                    phrase!("Water from {name} is held on the paving", name),
                ),
                None => (
                    Status::Warn,
                    phrase!("{name} pours beside the paving", name),
                ),
            };
            Some(Finding {
                id: "drains.downspout",
                status,
                title,
                value: Some(roof_m2),
                limit: None,
                unit: "m2",
                at: place_of(design, &format!("site.drains[{index}]")),
                where_: Some(Phrase::own(name)),
                point: Some(at),
                source: "IRC R401.3: surface water drains off; check the local code",
            })
        })
        .collect()
}
