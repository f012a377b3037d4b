//! `levels.wall_clear`, `levels.sill`, `levels.riser`, `levels.lip`: how the finish fits what stands there already.

use super::levels::length as as_drawn;
use super::{Finding, LENGTH, Status, place_of};
use crate::design::{AreaDesign, Design};
use crate::geom::{Edge, Point, clip};
use crate::language::{Phrase, phrase};
use crate::levels::{Plane, WallLevel};
use crate::site::{Against, edge_named, edge_told};
use crate::units::{Length, Precision, print};

/// Highest riser: 7 3/4 in.
const RISER: f64 = 7.75 * 25.4;
/// Most by which the risers of a flight may differ: 3/8 in.
const UNEQUAL: f64 = 0.375 * 25.4;

/// Paving stays clear of cladding and weep holes all along each wall.
pub fn wall_clear(design: &Design) -> Vec<Finding> {
    let mut found = Vec::new();
    for (site, area) in design.job.site.areas.iter().zip(&design.areas) {
        for edge in site.edges() {
            for stretch in &edge.stretches {
                let Some(Against::Structure(structure)) = stretch.against else {
                    continue;
                };
                let Some(wall) = wall_level(&design.job.levels.walls, structure, &edge.name) else {
                    continue;
                };
                let (finish, at) = highest(&area.plane, &stretch.edge);
                let gap = wall.level - finish;
                let near = gap < wall.clear - LENGTH;
                let name = &design.job.structures[structure].name;
                found.push(Finding {
                    id: "levels.wall_clear",
                    status: if near { Status::Fail } else { Status::Pass },
                    title: phrase!(
                        "Finish along {name} at {edge} is {gap} below its wall level at the least (at least {limit})",
                        name,
                        edge = edge_named(&edge.name),
                        gap = length(design, gap),
                        limit = length(design, wall.clear)
                    ),
                    value: Some(gap),
                    limit: Some(wall.clear),
                    unit: "mm",
                    at: place_of(design, &format!("site.structures[{structure}].wall_level")),
                    where_: Some(edge_told(&edge.name)),
                    point: Some(at),
                    source: "IRC R703.7.2.1: weep screed 2 in above paving; R317.1: wood siding \
                             2 in above a slab; check the local code",
                });
            }
        }
    }
    found
}

/// The level stated for one edge along a structure, else for all of them.
fn wall_level<'a>(walls: &'a [WallLevel], structure: usize, edge: &str) -> Option<&'a WallLevel> {
    let own = |wall: &&WallLevel| wall.structure == structure;
    let named = walls
        .iter()
        .filter(own)
        .find(|w| w.edge.as_deref() == Some(edge));
    named.or_else(|| walls.iter().filter(own).find(|w| w.edge.is_none()))
}

/// The highest finish along an edge and where: at an end, or somewhere along an arc.
fn highest(plane: &Plane, edge: &Edge) -> (f64, Point) {
    let parts = if edge.arc.is_some() { 32 } else { 1 };
    (0..=parts)
        .map(|i| edge.point_at(f64::from(i) / f64::from(parts)))
        .map(|at| (plane.level_at(at), at))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap_or((plane.level_at(edge.from), edge.from))
}

/// How far from the paving, in millimetres, a sill may stand for the finish below it to be meant:
/// steps or a stoop lie between.
const SILL_REACH: f64 = 3000.0;

/// How far off the paving a sill stands, where that is too far for the finish to be that below it.
fn far_off(area: &AreaDesign, sill: Point) -> Option<f64> {
    Some(clip::distance(&area.shape, sill)).filter(|far| *far > SILL_REACH)
}

/// Paving stays below every sill.
pub fn sill(design: &Design) -> Vec<Finding> {
    let sills = design.job.levels.sills.iter().enumerate();
    sills
        .filter_map(|(index, sill)| {
            let area = design.area_nearest(sill.at)?;
            if let Some(far) = far_off(area, sill.at) {
                return Some(Finding {
                    id: "levels.sill",
                    status: Status::Warn,
                    title: phrase!(
                        "{sill} stands {far} from the paving (at most {limit}), too far off to be judged by it: look at its place",
                        sill = &sill.name,
                        far = as_drawn(design, far),
                        limit = as_drawn(design, SILL_REACH)
                    ),
                    value: Some(far),
                    limit: Some(SILL_REACH),
                    unit: "mm",
                    at: place_of(design, &format!("levels.sills[{index}]")),
                    where_: Some(Phrase::own(&sill.name)),
                    point: Some(sill.at),
                    source: "common practice, no source",
                });
            }
            let gap = sill.level - area.plane.level_at(sill.at);
            let near = gap < sill.clear - LENGTH;
            Some(Finding {
                id: "levels.sill",
                status: if near { Status::Fail } else { Status::Pass },
                title: phrase!(
                    "Finish at {sill} is {gap} below the sill (at least {limit})",
                    sill = sill.name,
                    gap = length(design, gap),
                    limit = length(design, sill.clear)
                ),
                value: Some(gap),
                limit: Some(sill.clear),
                unit: "mm",
                at: place_of(design, &format!("levels.sills[{index}]")),
                where_: Some(Phrase::own(&sill.name)),
                point: Some(sill.at),
                source: "common practice, no source",
            })
        })
        .collect()
}

/// Risers from each sill down to the paving: none too high, all alike.
pub fn riser(design: &Design) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, sill) in design.job.levels.sills.iter().enumerate() {
        let Some(area) = design.area_nearest(sill.at) else {
            continue;
        };
        if far_off(area, sill.at).is_some() {
            continue;
        }
        let mut levels = vec![sill.level];
        levels.extend(&sill.steps);
        levels.push(area.plane.level_at(sill.at));
        let risers: Vec<f64> = levels.windows(2).map(|pair| pair[0] - pair[1]).collect();
        let most = risers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = risers.iter().copied().fold(f64::INFINITY, f64::min);
        // Paving at a sill or over it is the sill's own finding.
        if most <= LENGTH {
            continue;
        }
        let finding = |status, title, value, limit| Finding {
            id: "levels.riser",
            status,
            title,
            value: Some(value),
            limit: Some(limit),
            unit: "mm",
            at: place_of(design, &format!("levels.sills[{index}]")),
            where_: Some(Phrase::own(&sill.name)),
            point: Some(sill.at),
            source: "IRC R311.7.5: risers at most 7 3/4 in and within 3/8 in of each other; \
                     check the local code",
        };
        let high = most > RISER + LENGTH;
        found.push(finding(
            if high { Status::Warn } else { Status::Pass },
            phrase!(
                "Highest riser at {sill} is {most} (at most {limit}); steps are designed by others",
                sill = sill.name,
                most = length(design, most),
                limit = length(design, RISER)
            ),
            most,
            RISER,
        ));
        if risers.len() > 1 {
            let apart = most - least;
            let unequal = apart > UNEQUAL + LENGTH;
            found.push(finding(
                if unequal { Status::Warn } else { Status::Pass },
                phrase!(
                    "The {number} risers at {sill} differ by {apart} (at most {limit})",
                    number = risers.len(),
                    sill = sill.name,
                    apart = length(design, apart),
                    limit = length(design, UNEQUAL)
                ),
                apart,
                UNEQUAL,
            ));
        }
    }
    found
}

/// The finish meets each existing surface without a lip.
pub fn lip(design: &Design) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, fixed) in design.job.levels.fixed.iter().enumerate() {
        let Some((area, _)) = design.job.site.edge(&fixed.edge) else {
            continue;
        };
        let plane = &design.areas[area].plane;
        let lips = fixed.levels.iter().map(|spot| {
            let lip = plane.level_at(spot.at) - spot.level;
            (lip, spot.at)
        });
        let Some((lip, at)) = lips.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs())) else {
            continue;
        };
        let over = lip.abs() > fixed.lip + LENGTH;
        found.push(Finding {
            id: "levels.lip",
            status: if over { Status::Fail } else { Status::Pass },
            title: if lip >= 0.0 {
                phrase!(
                    "At {edge} the finish is {lip} above {surface} at the most (at most {limit})",
                    edge = edge_named(&fixed.edge),
                    lip = length(design, lip),
                    surface = fixed.surface,
                    limit = length(design, fixed.lip)
                )
            } else {
                phrase!(
                    "At {edge} the finish is {lip} below {surface} at the most (at most {limit})",
                    edge = edge_named(&fixed.edge),
                    lip = length(design, -lip),
                    surface = fixed.surface,
                    limit = length(design, fixed.lip)
                )
            },
            value: Some(lip.abs()),
            limit: Some(fixed.lip),
            unit: "mm",
            at: place_of(design, &format!("levels.fixed[{index}]")),
            where_: Some(edge_told(&fixed.edge)),
            point: Some(at),
            source: "ADA 2010 §303: at most 1/4 in upright on an accessible route; \
                     check the local code",
        });
    }
    found
}

pub(super) fn length(design: &Design, mm: f64) -> String {
    print::some(
        Length::from_mm(mm),
        design.job.sheet.units,
        Precision::Thickness,
    )
}
