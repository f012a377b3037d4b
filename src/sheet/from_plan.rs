//! The plan's model from the computed design.
//!
//! In: design. Out: plain geometry and finished words: for the crew all that is set out, dug and
//! laid, for the client the finished surface alone.

use std::sync::Arc;

use super::chains::{self, SAME, bare};
use super::model::{
    Area, Cloud, Corner, CornerLevels, Course, Piece, PlanModel, Radius, Structure, Surface,
};
use super::{from_water, words};
use crate::design::{AreaDesign, Design, SetoutRow};
use crate::geom::{Point, Ring, SAGITTA, Shape, Vector};
use crate::job::Audience;
use crate::language::say;
use crate::paving::{CutState, Laid, Place};
use crate::site::EdgeKind;
use crate::units::{Length, System};

/// Places along an arc that its radius may point at: even steps, an odd count.
const RADIUS_PLACES: u32 = 15;

/// Farthest that the corner of the field on the plan reaches, in lengths of a paver.
const PATCH_PAVERS: f64 = 30.0;

/// The plan of a design, for whom the job's sheet is drawn.
pub fn plan(design: &Design) -> PlanModel {
    match design.job.sheet.audience {
        Audience::Crew => for_crew(design),
        Audience::Bid => for_client(design),
    }
}

/// What both audiences see: the site, the outlines of the areas, falls, sills, drains, revisions.
fn for_both(design: &Design) -> PlanModel {
    let system = design.job.sheet.units;
    let newest = design.job.info.revisions.last();
    let clouded = newest.filter(|revision| !revision.at.is_empty());
    PlanModel {
        units: system,
        languages: design.job.sheet.languages,
        structures: structures(design),
        walls: walls(design),
        areas: design.areas.iter().map(|a| outlined(design, a)).collect(),
        chains: chains::chains(design, system, design.job.sheet.audience),
        sections: sections(design),
        radii: radii(design, system),
        sills: sills(design),
        drains: from_water::drains(design),
        surfaces: from_water::surfaces(design),
        clouds: clouded
            .map(|revision| Cloud {
                mark: revision.mark.clone(),
                points: revision.at.clone(),
            })
            .into_iter()
            .collect(),
        ..PlanModel::default()
    }
}

/// The finished surface, and nothing of what lies under it.
fn for_client(design: &Design) -> PlanModel {
    let mut model = for_both(design);
    model.dig = shape_rings(&design.extents.paved.shape);
    for (shown, area) in model.areas.iter_mut().zip(&design.areas) {
        shown.surface = Arc::new(area.paving.courses.iter().map(surface).collect());
    }
    model
}

/// Everything that is set out, dug and laid.
fn for_crew(design: &Design) -> PlanModel {
    let system = design.job.sheet.units;
    let mut model = PlanModel {
        corners: corners(design),
        base: shape_rings(&design.extents.base.shape),
        dig: shape_rings(&design.extents.dig.shape),
        pieces: pieces(design),
        courses: courses(design, system),
        stations: chains::stations(design, system),
        rails: design.rails.runs().collect(),
        rail_words: rail_words(design),
        shared_edges: from_water::shared_edges(design),
        services: super::from_earth::services(design),
        ..for_both(design)
    };
    for laid in design.edging.by_edge.iter().flat_map(|edge| &edge.laid) {
        model.edging.extend(shape_rings(&laid.outline));
        model.nails.extend(laid.nails.iter().copied());
    }
    for (shown, area) in model.areas.iter_mut().zip(&design.areas) {
        (shown.patch, shown.pavers) = part_field(area);
        // Checks and the order of work speak of several areas by name.
        shown.named = design.areas.len() > 1;
    }
    model
}

/// The spacing of rails that no chain of dimensions gives, and where their ties stand.
fn rail_words(design: &Design) -> Option<String> {
    let languages = design.job.sheet.languages;
    if design.field.rails.is_empty() {
        return None;
    }
    Some(match design.rails.spacing_mm() {
        Some(apart) => say!(
            languages,
            "rails {apart} apart, see the set-out",
            apart = words::long(design, apart)
        ),
        None => say!(languages, "rails: see the set-out"),
    })
}

/// The section lines with their letters.
fn sections(design: &Design) -> Vec<(String, [Point; 2])> {
    let lines = design.sections.iter();
    lines.map(|s| (s.name.clone(), s.line)).collect()
}

/// Points of a ring, arcs flattened.
pub fn ring_points(ring: &Ring) -> Vec<Point> {
    let mut points = Vec::new();
    for edge in &ring.edges {
        let mut run = edge.flatten(SAGITTA);
        run.pop();
        points.extend(run);
    }
    points
}

/// Rings of a shape: exteriors and interiors.
pub fn shape_rings(shape: &Shape) -> Vec<Vec<Point>> {
    let points = |line: &geo::LineString<f64>| {
        let mut ring: Vec<Point> = line.coords().map(|c| Point::new(c.x, c.y)).collect();
        ring.pop();
        ring
    };
    shape
        .iter()
        .flat_map(|p| {
            std::iter::once(p.exterior())
                .chain(p.interiors())
                .map(points)
        })
        .collect()
}

fn structures(design: &Design) -> Vec<Structure> {
    design
        .job
        .site
        .structures
        .iter()
        .map(|s| Structure {
            name: s.name.clone(),
            kind: s.kind,
            on_paving: s.on_paving,
            ring: ring_points(&s.ring),
        })
        .collect()
}

/// Wall edges that lie on no structure of the job.
fn walls(design: &Design) -> Vec<Vec<Point>> {
    design
        .job
        .site
        .stretches()
        .filter(|s| s.kind == EdgeKind::Wall && s.against.is_none())
        .map(|s| s.edge.flatten(SAGITTA))
        .collect()
}

/// An area's outlines with its name and fall.
fn outlined(design: &Design, area: &AreaDesign) -> Area {
    let fall = area.plane.downhill();
    let fall = fall.map(|downhill| (downhill, words::fall(design, area.plane.fall())));
    Area {
        name: area.name.clone(),
        rings: shape_rings(&area.shape),
        fall,
        ..Area::default()
    }
}

/// The corner of the field that shows its pavers: what it is cut to, and the pavers in it.
fn part_field(area: &AreaDesign) -> (Vec<Point>, Vec<Vec<Point>>) {
    let (patch, reach) = patch(area);
    let near = |ring: &Vec<Point>| {
        ring.iter().any(|p| {
            let (u, v) = area.frame.to_local(*p);
            u < reach[0] && v < reach[1]
        })
    };
    let pavers = area.paving.courses.iter().flat_map(laid_rings);
    (patch, pavers.filter(near).collect())
}

/// Every paver of a course, whole and cut, as rings.
fn laid_rings(laid: &Laid) -> impl Iterator<Item = Vec<Point>> {
    let whole = laid.whole.iter().map(|corners| corners.to_vec());
    whole.chain(laid.cut.iter().flat_map(|cut| shape_rings(&cut.shape)))
}

/// The pavers of a course by what is sawn of them.
pub fn surface(laid: &Laid) -> Surface {
    let cut = |state| {
        let cut = laid.cut.iter().filter(move |cut| cut.state == state);
        cut.flat_map(|cut| shape_rings(&cut.shape)).collect()
    };
    Surface {
        border: match laid.place {
            Place::Field => 0,
            Place::Border(number) => number,
        },
        whole: laid.whole.clone(),
        cut: cut(CutState::Cut),
        slivers: cut(CutState::Sliver),
    }
}

/// The corner of the field that shows its pavers: a ring round the start corner with a broken
/// edge, and how far it reaches along and across the first course.
fn patch(area: &AreaDesign) -> (Vec<Point>, [f64; 2]) {
    let locals: Vec<(f64, f64)> = shape_rings(&area.shape)
        .iter()
        .flatten()
        .map(|p| area.frame.to_local(*p))
        .collect();
    let most = |pick: fn(&(f64, f64)) -> f64| locals.iter().map(pick).fold(0.0, f64::max);
    let least = |pick: fn(&(f64, f64)) -> f64| locals.iter().map(pick).fold(0.0, f64::min);
    // Enough to show the bond; more of a large field would only drown the plan.
    let first = area
        .paving
        .courses
        .iter()
        .find_map(|laid| laid.whole.rows().first());
    let farthest = first.map_or(f64::INFINITY, |row| {
        row.first[0].distance(row.first[1]) * PATCH_PAVERS
    });
    let reach = |most: f64| (most * 0.4).min(farthest);
    let (u, v) = (reach(most(|l| l.0)), reach(most(|l| l.1)));
    let (u0, v0) = (
        least(|l| l.0).max(-u) - 100.0,
        least(|l| l.1).max(-v) - 100.0,
    );
    // The edge runs from (u, v0) to (u0, v), with a break in its middle.
    let on = |t: f64, off: f64| {
        (
            u + (u0 - u) * t + off * (v - v0),
            v0 + (v - v0) * t + off * (u - u0),
        )
    };
    let ring = [
        on(0.0, 0.0),
        on(0.47, 0.0),
        on(0.51, 0.02),
        on(0.49, -0.02),
        on(0.53, 0.0),
        on(1.0, 0.0),
        (u0, v0),
    ];
    (
        ring.iter()
            .map(|(u, v)| area.frame.to_site(*u, *v))
            .collect(),
        [u, v],
    )
}

fn corners(design: &Design) -> Vec<Corner> {
    design
        .setout
        .iter()
        .map(|row| Corner {
            name: row.corner.clone(),
            at: row.at,
            outward: outward(design, row.at),
            levels: corner_levels(design, row),
        })
        .collect()
}

/// The levels at a corner, those of each area where they meet at a step.
fn corner_levels(design: &Design, row: &SetoutRow) -> Vec<CornerLevels> {
    let here = row.levels_of_areas().into_iter();
    here.map(|here| CornerLevels {
        area: design.area_names(here.areas),
        finish: words::level(design, here.levels.finish),
        formation: words::level(design, here.levels.formation),
    })
    .collect()
}

/// Away from the paving at a corner: against the bisector of the edges that meet there.
fn outward(design: &Design, at: Point) -> Vector {
    for circle in &design.quarters {
        let mut points = circle.points.iter();
        if points.any(|(_, point)| point.distance(at) <= SAME)
            && let Some(unit) = (at - circle.centre).unit()
        {
            return unit;
        }
    }
    for area in &design.job.site.areas {
        for ring in &area.rings {
            for (i, edge) in ring.edges.iter().enumerate() {
                if edge.edge.from.distance(at) > SAME {
                    continue;
                }
                let before = &ring.edges[(i + ring.edges.len() - 1) % ring.edges.len()];
                let (Some(a), Some(b)) = (before.edge.tangent(1.0), edge.edge.tangent(0.0)) else {
                    continue;
                };
                // Paving is on the left, so both right-hand normals point out of it.
                let out = -(a.left() + b.left());
                if let Some(unit) = out.unit() {
                    return unit;
                }
            }
        }
    }
    Vector::new(0.0, 1.0)
}

fn pieces(design: &Design) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for part in &design.base {
        for piece in &part.layout.pieces {
            pieces.push(Piece {
                course: piece.course,
                mark: piece.mark(),
                rings: shape_rings(&piece.shape),
                middle: piece.middle(&part.layout.frame),
                trimmed: !piece.whole,
            });
        }
    }
    pieces
}

fn courses(design: &Design, system: System) -> Vec<Course> {
    let mut courses = Vec::new();
    for part in &design.base {
        let frame = &part.layout.frame;
        for course in &part.layout.courses {
            let Some(first) = part.layout.pieces.get(course.pieces.start) else {
                continue;
            };
            let length = Length::from_mm(course.first_length_mm);
            courses.push(Course {
                number: course.number,
                from_start_mm: course.v0,
                words: format!("{}: {}", course.number, bare(length, system)),
                at: frame.to_site(first.x_mm, first.y_mm + first.width_mm / 2.0),
                along: frame.u,
            });
        }
    }
    courses
}

fn radii(design: &Design, system: System) -> Vec<Radius> {
    let mut radii = Vec::new();
    let edges = design.job.site.areas.iter().flat_map(|area| area.edges());
    for edge in edges {
        let Some(arc) = &edge.edge.arc else {
            continue;
        };
        let sign = if edge.edge.is_circle() { "Ø" } else { "R" };
        let size = if edge.edge.is_circle() {
            arc.radius * 2.0
        } else {
            arc.radius
        };
        let steps = (0..RADIUS_PLACES).map(|k| match k % 2 {
            0 => -f64::from(k / 2),
            _ => f64::from(k.div_ceil(2)),
        });
        let shares = steps.map(|step| 0.5 + step / f64::from(RADIUS_PLACES + 1));
        let place = |share: f64| {
            // Right of the edge is out of the paving.
            let out = -edge.edge.tangent(share)?.left();
            Some((edge.edge.point_at(share), out))
        };
        let words = bare(Length::from_mm(size), system);
        radii.push(Radius {
            centre: arc.centre,
            places: shares.filter_map(place).collect(),
            words: format!("{sign} {words}"),
        });
    }
    radii
}

fn sills(design: &Design) -> Vec<(String, Point)> {
    let sills = design.job.levels.sills.iter();
    sills
        .map(|sill| {
            let level = words::level(design, sill.level);
            (format!("{} {level}", sill.name), sill.at)
        })
        .collect()
}
