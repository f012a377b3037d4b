//! `levels.*` of planes and ground: the fall, ground and fill.

use super::{FALL, Finding, Status, place_of};
use crate::design::{AreaDesign, Design};
use crate::geom::{Edge, Point, SAGITTA, Vector, inside};
use crate::language::{Phrase, phrase};
use crate::levels::Plane;
use crate::site::{Against, EdgeKind, StructureKind, edge_named, edge_told};
use crate::units::{Length, Volume, print};

/// The least fall where the job states none, as a ratio: 1°, common practice, no source.
pub fn default_minimum() -> f64 {
    libm::tan(1f64.to_radians())
}

/// How near a building paving falls away from it: 10 ft (IRC R401.3), in millimetres.
pub(super) const BUILDING_REACH: f64 = 3048.0;
/// Away from a building, within [`BUILDING_REACH`] of it.
const AWAY_FROM_BUILDING: f64 = 0.02;

/// Each area falls enough.
pub fn fall(design: &Design) -> Vec<Finding> {
    let limit = design
        .job
        .levels
        .minimum_fall
        .unwrap_or_else(default_minimum);
    design
        .areas
        .iter()
        .enumerate()
        .map(|(index, area)| {
            let value = area.plane.fall();
            let under = value < limit - FALL;
            Finding {
                id: "levels.fall",
                status: if under { Status::Fail } else { Status::Pass },
                title: phrase!(
                    "{area} falls {fall} (at least {limit})",
                    area = area.name,
                    fall = percent(value),
                    limit = percent(limit)
                ),
                value: Some(value * 100.0),
                limit: Some(limit * 100.0),
                unit: "%",
                at: fall_place(design, index),
                where_: Some(Phrase::own(&area.name)),
                point: inside(&area.shape),
                source: if design.job.levels.minimum_fall.is_some() {
                    "stated in the job"
                } else {
                    "common practice, no source"
                },
            }
        })
        .collect()
}

/// The stretches of one edge that are wall.
pub(super) struct WallEdge<'a> {
    /// Index of the area.
    pub index: usize,
    area: &'a AreaDesign,
    pub name: &'a str,
    /// Whether it bounds a hole: what has the wall stands in the paving.
    pub hole: bool,
    stretches: Vec<WallStretch>,
}

struct WallStretch {
    edge: Edge,
    /// The structure it runs along, where that is known.
    structure: Option<usize>,
    building: bool,
}

impl WallEdge<'_> {
    /// Least fall square away from the wall along the edge, and where.
    pub fn least_away(&self) -> Option<(f64, Point)> {
        least_away(&self.area.plane, &self.stretches, |_| true)
    }

    /// The structure that all of the wall is a face of and that is no building.
    pub fn free_standing(&self) -> Option<usize> {
        let mut structures = self.stretches.iter().map(|s| s.structure);
        let first = structures.next()??;
        let one = structures.all(|other| other == Some(first));
        (one && !self.stretches[0].building).then_some(first)
    }
}

/// Least fall square away from some stretches of wall, and where; none without stretches.
fn least_away(
    plane: &Plane,
    stretches: &[WallStretch],
    of: impl Fn(&WallStretch) -> bool,
) -> Option<(f64, Point)> {
    let stretches = stretches.iter().filter(|stretch| of(stretch));
    let samples = stretches.flat_map(|WallStretch { edge, .. }| {
        let fractions: &[f64] = match edge.arc {
            Some(_) => &[0.0, 0.25, 0.5, 0.75, 1.0],
            None => &[0.5],
        };
        fractions.iter().filter_map(|&fraction| {
            let inward = edge.tangent(fraction).map(Vector::left)?;
            Some((plane.fall_along(inward), edge.point_at(fraction)))
        })
    });
    samples.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The edges with wall on them, in order.
pub(super) fn walls(design: &Design) -> Vec<WallEdge<'_>> {
    let building = |structure: Option<usize>| {
        let kind = structure.map(|index| design.job.structures[index].kind);
        kind.is_none_or(|kind| kind == StructureKind::Building)
    };
    let mut walls = Vec::new();
    for (index, (site, area)) in design.job.site.areas.iter().zip(&design.areas).enumerate() {
        for (number, ring) in site.rings.iter().enumerate() {
            for edge in &ring.edges {
                let stretches = edge.stretches.iter();
                let stretches = stretches.filter(|s| s.kind == EdgeKind::Wall).map(|s| {
                    let structure = match s.against {
                        Some(Against::Structure(index)) => Some(index),
                        _ => None,
                    };
                    WallStretch {
                        edge: s.edge,
                        structure,
                        building: building(structure),
                    }
                });
                walls.push(WallEdge {
                    index,
                    area,
                    name: &edge.name,
                    hole: number > 0,
                    stretches: stretches.collect(),
                });
            }
        }
    }
    walls.retain(|wall| !wall.stretches.is_empty());
    walls
}

/// Where the job states no minimum: 2 % square away from each building's wall.
pub fn fall_building(design: &Design) -> Vec<Finding> {
    if design.job.levels.minimum_fall.is_some() {
        return Vec::new();
    }
    walls(design)
        .iter()
        .filter_map(|wall| {
            let (value, at) = least_away(&wall.area.plane, &wall.stretches, |s| s.building)?;
            let under = value < AWAY_FROM_BUILDING - FALL;
            Some(Finding {
                id: "levels.fall_building",
                status: if under { Status::Warn } else { Status::Pass },
                title: phrase!(
                    "{area} falls {fall} square away from the wall at {edge} (at least {limit} within {reach})",
                    area = wall.area.name,
                    fall = percent(value),
                    edge = edge_named(wall.name),
                    limit = percent(AWAY_FROM_BUILDING),
                    reach = length(design, BUILDING_REACH)
                ),
                value: Some(value * 100.0),
                limit: Some(AWAY_FROM_BUILDING * 100.0),
                unit: "%",
                at: fall_place(design, wall.index),
                where_: Some(edge_told(wall.name)),
                point: Some(at),
                source: "IRC R401.3: paving within 10 ft of a building falls 2 % away; \
                         check the local code",
            })
        })
        .collect()
}

/// The spots cover the dig.
pub fn ground(design: &Design) -> Vec<Finding> {
    let Some(share) = design.dig.earthwork.extrapolated_share else {
        return Vec::new();
    };
    vec![Finding {
        id: "levels.ground",
        status: if share > 1e-6 {
            Status::Warn
        } else {
            Status::Pass
        },
        title: phrase!(
            "{share}% of the dig lies outside the spot levels",
            share = format!("{:.1}", share * 100.0)
        ),
        value: Some(share * 100.0),
        limit: Some(0.0),
        unit: "%",
        at: place_of(design, "site.ground"),
        where_: None,
        point: outside_spots(design),
        source: "common practice, no source",
    }]
}

/// Formation nowhere lies above the ground.
pub fn fill(design: &Design) -> Vec<Finding> {
    let Some(fill) = design.dig.earthwork.fill_m3 else {
        return Vec::new();
    };
    let needed = design.dig.fill_m3().is_some();
    vec![Finding {
        id: "levels.fill",
        status: if needed { Status::Warn } else { Status::Pass },
        title: if needed {
            phrase!(
                "Formation lies above the ground: {fill} of fill",
                fill = print::volume(Volume::from_m3(fill), design.job.sheet.units)
            )
        } else {
            phrase!("Formation lies in the ground everywhere")
        },
        value: Some(fill),
        limit: Some(0.0),
        unit: "m3",
        at: place_of(design, "site.ground"),
        where_: None,
        point: Some(design.dig.earthwork.depth[0].at),
        source: "common practice, no source",
    }]
}

/// The place on the rim of the dig that is farthest from any spot level, where the ground is told
/// least; inside the dig when its rim lies within the spots.
fn outside_spots(design: &Design) -> Option<Point> {
    let ground = &design.earth.as_ref()?.ground;
    let spots = ground.spots();
    let to_spot = |at: Point| {
        let distances = spots.iter().map(|spot| spot.at.distance(at));
        distances.fold(f64::INFINITY, f64::min)
    };
    let rings = design.extents.dig.rings.iter();
    rings
        .flat_map(|ring| ring.flat_points(SAGITTA))
        .filter(|at| ground.is_extrapolated(*at))
        .max_by(|a, b| to_spot(*a).total_cmp(&to_spot(*b)))
        .or_else(|| inside(&design.extents.dig.shape))
}

pub(super) fn fall_place(design: &Design, area: usize) -> Option<crate::diag::Place> {
    let own = format!("paving[{area}].fall");
    if design.job.places.contains_key(&own) {
        return place_of(design, &own);
    }
    place_of(design, "levels.finish.fall")
}

pub(super) fn percent(ratio: f64) -> String {
    print::percent(crate::units::Fall::from_ratio(ratio))
}

pub(super) fn length(design: &Design, mm: f64) -> String {
    print::some(
        Length::from_mm(mm),
        design.job.sheet.units,
        print::Precision::Drawing,
    )
}
