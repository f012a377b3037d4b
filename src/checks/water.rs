//! `levels.away`, `levels.low_point` and `levels.bank`: where the water goes.
//!
//! Built on the traced water: shares are of all that is paved.

use super::levels::{BUILDING_REACH, fall_place, length, percent, walls};
use super::{FALL, Finding, Status};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::levels::water::bank::{Bank, UNTOLD};
use crate::levels::{Drained, Outlet};
use crate::site::{StructureKind, edge_named, edge_told};

/// Shares of the paving smaller than this are rounding.
const NOTHING: f64 = 1e-7;
/// A hole's edge nearer than this to what stands in the hole meets its face, in millimetres.
const FACE: f64 = 10.0;
/// Whose rule it is that water runs away from a building.
const FROM_BUILDING: &str = "IRC R401.3: drain away from the building; check the local code";

/// No water runs to a wall, nor into a pool or another hole; one finding an edge or a hole. A wall
/// is judged by the traced water: it runs round one that is no building and stands in the paving.
pub fn away(design: &Design) -> Vec<Finding> {
    let reached: Vec<&Drained> = reached(design).collect();
    let to_wall = |area: usize, name: &str| {
        reached.iter().find(|drained| {
            matches!(&drained.outlet, Outlet::Wall { area: a, edge } if *a == area && edge == name)
        })
    };
    let mut findings: Vec<Finding> = Vec::new();
    for wall in walls(design) {
        let Some((value, at)) = wall.least_away() else {
            continue;
        };
        let edge = edge_named(wall.name);
        let round = wall.free_standing().filter(|_| wall.hole);
        let reaching = to_wall(wall.index, wall.name);
        let (status, title, point) = match (reaching, round) {
            (Some(drained), Some(structure)) => {
                let share = percent(drained.share);
                let structure = &design.job.structures[structure].name;
                let title = phrase!(
                    "Water of {share} of the paving comes to {structure} at {edge} and runs round it",
                    share,
                    structure,
                    edge
                );
                (Status::Warn, title, drained.at)
            }
            (Some(drained), None) => {
                let share = percent(drained.share);
                let title = phrase!(
                    "Water of {share} of the paving runs to the wall at {edge}",
                    share,
                    edge
                );
                (Status::Fail, title, drained.at)
            }
            (None, _) if value > FALL => {
                let title = phrase!("Water runs away from the wall at {edge}", edge);
                (Status::Pass, title, at)
            }
            (None, _) if value >= -FALL => {
                let title = phrase!("Water runs along the wall at {edge}", edge);
                (Status::Warn, title, at)
            }
            (None, _) => {
                let title = phrase!("No water of the paving reaches the wall at {edge}", edge);
                (Status::Pass, title, at)
            }
        };
        findings.push(Finding {
            id: "levels.away",
            status,
            title,
            value: Some(value * 100.0),
            limit: Some(0.0),
            unit: "%",
            at: fall_place(design, wall.index),
            where_: Some(edge_told(wall.name)),
            point: Some(point),
            source: FROM_BUILDING,
        });
    }
    findings.extend(holes(design));
    findings
}

/// What a finding of a hole says, from the share of water and the name of what stands in the hole.
type Title = fn(String, &str) -> Phrase;

/// Water that runs into a hole, one finding a hole: none where a post stands in it, which water
/// runs round. Into a pool, or into a strip round a building that is narrower than the reach of
/// water that must run away from one, it must not run.
fn holes(design: &Design) -> Vec<Finding> {
    let mut findings: Vec<(usize, Option<usize>, Title, Finding)> = Vec::new();
    for drained in reached(design) {
        let Outlet::Hole {
            area,
            edge,
            structure,
        } = &drained.outlet
        else {
            continue;
        };
        let into = structure.map(|index| &design.job.structures[index]);
        let (mut status, mut title): (Status, Title) = match into {
            Some(s) if s.kind == StructureKind::Post => continue,
            Some(s) if s.kind == StructureKind::Pool => (Status::Fail, |share, name| {
                phrase!(
                    "Water of {share} of the paving runs into {name}",
                    share,
                    name
                )
            }),
            Some(s) => {
                let off = s.ring.distance(drained.at);
                let near = s.kind == StructureKind::Building && off <= BUILDING_REACH;
                let status = if near { Status::Fail } else { Status::Warn };
                match off <= FACE {
                    true => (status, |share, name| {
                        phrase!("Water of {share} of the paving runs to {name}", share, name)
                    }),
                    false => (status, |share, name| {
                        phrase!(
                            "Water of {share} of the paving runs into the hole round {name}",
                            share,
                            name
                        )
                    }),
                }
            }
            None => (Status::Warn, |share, _| {
                phrase!("Water of {share} of the paving runs into a hole", share)
            }),
        };
        let mut share = drained.share * 100.0;
        let mut edges = edge_told(edge);
        let mut point = Some(drained.at);
        let known = findings
            .iter()
            .position(|(a, s, ..)| (*a, *s) == (*area, *structure));
        if let Some(known) = known {
            let (.., said, before) = findings.remove(known);
            share += before.value.unwrap_or(0.0);
            // The worse edge decides, and is where to look.
            if before.status >= status {
                (status, title, point) = (before.status, said, before.point);
            }
            let before = before.where_.unwrap_or_default();
            edges = Phrase::row([before, Phrase::own(edge_named(edge))], ", ");
        }
        let finding = Finding {
            id: "levels.away",
            status,
            title: title(
                percent(share / 100.0),
                into.map_or("", |structure| structure.name.as_str()),
            ),
            value: Some(share),
            limit: Some(0.0),
            unit: "%",
            at: fall_place(design, *area),
            where_: Some(edges),
            point,
            source: match (status, into.map(|structure| structure.kind)) {
                (Status::Fail, Some(StructureKind::Building)) => FROM_BUILDING,
                _ => "common practice, no source",
            },
        };
        findings.push((*area, *structure, title, finding));
    }
    findings.into_iter().map(|(.., finding)| finding).collect()
}

/// All water leaves the paving or reaches a drain: none is held at a low point.
pub fn low_point(design: &Design) -> Vec<Finding> {
    let finding = |status, title, value, at, place: Option<Phrase>, point| Finding {
        id: "levels.low_point",
        status,
        title,
        value: Some(value),
        limit: Some(0.0),
        unit: "%",
        at,
        where_: place,
        point,
        source: "IRC R401.3: surface water drains off; check the local code",
    };
    let held: Vec<Finding> = reached(design)
        .filter_map(|drained| {
            let Outlet::Held { area, at } = &drained.outlet else {
                return None;
            };
            let share = percent(drained.share);
            let name = &design.areas[*area].name;
            Some(finding(
                Status::Fail,
                phrase!(
                    "Water of {share} of the paving is held at a low point of {name}",
                    share,
                    name
                ),
                drained.share * 100.0,
                fall_place(design, *area),
                Some(Phrase::own(name)),
                Some(*at),
            ))
        })
        .collect();
    if !held.is_empty() {
        return held;
    }
    let most = design.water.outlets.iter();
    let most = most.max_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2));
    vec![finding(
        Status::Pass,
        phrase!("All water leaves the paving: none is held"),
        0.0,
        fall_place(design, 0),
        None,
        most.map(|drained| drained.at),
    )]
}

/// Edges that water leaves over, holes with soil in them included, lie no lower than the ground beyond.
pub fn bank(design: &Design) -> Vec<Finding> {
    let highest = |a: &&Bank, b: &&Bank| a.above.total_cmp(&b.above);
    let Some(worst) = design.banks.iter().max_by(highest) else {
        return Vec::new();
    };
    let holding = design.banks.iter().filter(|bank| bank.holds());
    let edges: Vec<&str> = holding.map(|bank| edge_named(&bank.edge)).collect();
    let above = !edges.is_empty();
    let edges = edges.join(", ");
    vec![Finding {
        id: "levels.bank",
        status: if above { Status::Warn } else { Status::Pass },
        title: if above {
            phrase!(
                "Ground outside {edges} stands up to {above} above the finish: grade it off, or it holds the water",
                edges,
                above = length(design, worst.above)
            )
        } else {
            phrase!("Ground outside the open edges lets the water off")
        },
        value: Some(worst.above),
        limit: Some(UNTOLD),
        unit: "mm",
        at: fall_place(design, worst.area),
        where_: Some(edge_told(&worst.edge)),
        point: Some(worst.at),
        source: "common practice, no source",
    }]
}

/// The outlets that more than rounding drains to.
fn reached(design: &Design) -> impl Iterator<Item = &Drained> {
    let outlets = design.water.outlets.iter();
    outlets.filter(|drained| drained.share > NOTHING)
}
