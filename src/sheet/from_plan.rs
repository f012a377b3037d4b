//! The plan's model from the computed design.
//!
//! In: design. Out: plain geometry and finished words. Chains of dimensions run along the first
//! area's frame and are printed so that they add up; edges that lie askew to it are dimensioned
//! by the set-out table's ties. For the bid audience rails, nails and course labels are left out.

use super::model::{Area, Corner, Course, Piece, PlanModel, Radius, SiteChain, Structure, Surface};
use crate::design::{AreaDesign, Design};
use crate::geom::{Point, Ring, SAGITTA, Shape, Vector};
use crate::job::Audience;
use crate::paving::{CutState, Laid, Place};
use crate::site::EdgeKind;
use crate::units::{Fall, Length, Precision, System, print};

/// Stations nearer than this count as one, in millimetres: what tapes do not tell apart.
const SAME: f64 = 8.0;
/// A base line whose direction is off by no more than this, in radians, is along or square.
const ASKEW: f64 = 1e-3;
/// More running dimensions than this are left to the table.
const MOST_RUNNING: usize = 12;

/// Farthest that the corner of the field on the plan reaches, in lengths of a paver.
const PATCH_PAVERS: f64 = 30.0;

/// The plan of a design.
pub fn plan(design: &Design) -> PlanModel {
    let system = design.job.sheet.units;
    let crew = design.job.sheet.audience == Audience::Crew;
    let mut model = PlanModel {
        units: system,
        structures: structures(design),
        walls: walls(design),
        areas: design.areas.iter().map(|a| area(a, system, crew)).collect(),
        corners: if crew {
            corners(design, system)
        } else {
            Vec::new()
        },
        base: if crew {
            shape_rings(&design.extents.base.shape)
        } else {
            Vec::new()
        },
        dig: shape_rings(if crew {
            &design.extents.dig.shape
        } else {
            &design.extents.paved.shape
        }),
        pieces: if crew { pieces(design) } else { Vec::new() },
        sections: sections(design),
        radii: radii(design, system),
        sills: sills(design, system),
        services: if crew {
            super::from_earth::services(design)
        } else {
            Vec::new()
        },
        ..PlanModel::default()
    };
    if crew {
        for laid in design.edging.by_edge.iter().flat_map(|edge| &edge.laid) {
            model.edging.extend(shape_rings(&laid.outline));
            model.nails.extend(laid.nails.iter().copied());
        }
        model.courses = courses(design, system);
        model.rails = design
            .rails
            .rails
            .iter()
            .flat_map(|r| r.runs.clone())
            .collect();
    }
    let square = design.areas.first().is_none_or(|area| {
        let (u, v) = (area.frame.u, area.frame.v);
        design
            .downhill
            .dot(u)
            .abs()
            .min(design.downhill.dot(v).abs())
            < 0.01
    });
    if let Some(spacing) = design.rails.spacing_mm
        && crew
        && !square
    {
        let apart = print::length(Length::from_mm(spacing), system, Precision::Drawing);
        model.rail_words = Some(format!("rails {apart} apart"));
    }
    model.chains = chains(design, system, crew);
    model
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
            ring: ring_points(&s.ring),
        })
        .collect()
}

/// Wall edges that lie on no structure of the job.
fn walls(design: &Design) -> Vec<Vec<Point>> {
    design
        .job
        .site
        .areas
        .iter()
        .flat_map(|area| area.edges())
        .flat_map(|edge| &edge.stretches)
        .filter(|s| s.kind == EdgeKind::Wall && s.against.is_none())
        .map(|s| s.edge.flatten(SAGITTA))
        .collect()
}

fn area(area: &AreaDesign, system: System, crew: bool) -> Area {
    let fall = area.plane.downhill().map(|downhill| {
        let fall = Fall::from_ratio(area.plane.fall());
        (downhill, print::fall(fall, system))
    });
    let mut shown = Area {
        name: area.name.clone(),
        rings: shape_rings(&area.shape),
        fall,
        ..Area::default()
    };
    if crew {
        let (patch, reach) = patch(area);
        let near = |ring: &Vec<Point>| {
            ring.iter().any(|p| {
                let (u, v) = area.frame.to_local(*p);
                u < reach[0] && v < reach[1]
            })
        };
        let pavers = area.paving.courses.iter().flat_map(laid_rings);
        shown.pavers = pavers.filter(near).collect();
        shown.patch = patch;
    } else {
        shown.surface = area.paving.courses.iter().map(surface).collect();
    }
    shown
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
        whole: laid.whole.iter().map(|c| c.to_vec()).collect(),
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

fn corners(design: &Design, system: System) -> Vec<Corner> {
    design
        .setout
        .iter()
        .map(|row| Corner {
            name: row.corner.clone(),
            at: row.at,
            outward: outward(design, row.at),
            levels: vec![
                print::level(Length::from_mm(row.levels.finish), system),
                print::level(Length::from_mm(row.levels.formation), system),
            ],
        })
        .collect()
}

/// Away from the paving at a corner: against the bisector of the edges that meet there.
fn outward(design: &Design, at: Point) -> Vector {
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
        let at = edge.edge.point_at(0.5);
        let sign = if edge.edge.is_circle() { "Ø" } else { "R" };
        let size = if edge.edge.is_circle() {
            arc.radius * 2.0
        } else {
            arc.radius
        };
        // Right of the edge is out of the paving.
        let outward = edge
            .edge
            .tangent(0.5)
            .map_or(Vector::new(1.0, 0.0), |t| -t.left());
        let words = bare(Length::from_mm(size), system);
        radii.push(Radius {
            at,
            outward,
            words: format!("{sign} {words}"),
        });
    }
    radii
}

fn sills(design: &Design, system: System) -> Vec<(String, Point)> {
    design
        .job
        .levels
        .sills
        .iter()
        .map(|s| {
            (
                format!(
                    "{} {}",
                    s.name,
                    print::level(Length::from_mm(s.level), system)
                ),
                s.at,
            )
        })
        .collect()
}

/// Which sides of the dig carry dimension lines, and the chains on them.
fn chains(design: &Design, system: System, crew: bool) -> Vec<SiteChain> {
    let Some(frame) = design.areas.first().map(|a| a.frame) else {
        return Vec::new();
    };
    let mut chains = Vec::new();
    for (along, across) in [(frame.u, frame.v), (frame.v, frame.u)] {
        let outward = free_side(design, across);
        let mut tier = 0;
        let push = |features: Vec<Point>, tier: &mut usize, chains: &mut Vec<SiteChain>| {
            if let Some(chain) = chain(features, along, outward, *tier, system) {
                chains.push(chain);
                *tier += 1;
            }
        };
        let paving = features(design, along, outward, Of::Paving);
        // A bid sheet shows the paving alone.
        let base = match crew {
            true => features(design, along, outward, Of::Base),
            false => paving.clone(),
        };
        if crew && design.downhill.dot(along).abs() < 0.01 {
            push(rails(design, along, outward, &base), &mut tier, &mut chains);
        }
        if paving.len() > 2 && paving.len() <= 9 {
            push(paving.clone(), &mut tier, &mut chains);
        }
        if crew && let Some(counted) = running(design, along, outward, tier, system) {
            chains.push(counted);
            tier += 1;
        }
        if let ([first, .., last], [low, .., high]) = (&paving[..], &base[..]) {
            let mut parts = Vec::new();
            if (*first - *low).dot(along) > SAME {
                parts.push(*low);
            }
            parts.extend([*first, *last]);
            if (*high - *last).dot(along) > SAME {
                parts.push(*high);
            }
            let whole = parts.len() > 2;
            push(parts, &mut tier, &mut chains);
            if whole {
                push(vec![*low, *high], &mut tier, &mut chains);
            }
        }
    }
    chains
}

/// What features are taken of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    /// Outer outlines of the paving.
    Paving,
    /// Outlines of the paving and its holes.
    Corners,
    /// The base.
    Base,
}

/// Corners of paving or base in order along a direction, one per station: the one nearest the
/// side that the dimension line runs on.
fn features(design: &Design, along: Vector, outward: Vector, of: Of) -> Vec<Point> {
    let mut points: Vec<Point> = match of {
        Of::Paving | Of::Corners => design
            .job
            .site
            .areas
            .iter()
            .flat_map(|area| match of {
                Of::Corners => &area.rings[..],
                _ => &area.rings[..area.rings.len().min(1)],
            })
            .flat_map(|ring| &ring.edges)
            .flat_map(|edge| {
                let mut ends = vec![edge.edge.from];
                if edge.edge.is_circle()
                    && let Some(arc) = &edge.edge.arc
                {
                    ends = vec![
                        arc.centre + along * arc.radius,
                        arc.centre + along * -arc.radius,
                    ];
                }
                ends
            })
            .collect(),
        Of::Base => shape_rings(&design.extents.base.shape)
            .into_iter()
            .flatten()
            .collect(),
    };
    let station = |p: &Point| (*p - Point::default()).dot(along);
    let rise = |p: &Point| (*p - Point::default()).dot(outward);
    points.sort_by(|a, b| {
        station(a)
            .total_cmp(&station(b))
            .then(rise(b).total_cmp(&rise(a)))
    });
    let extremes = points.first().map(station).zip(points.last().map(station));
    let mut kept: Vec<Point> = Vec::new();
    for p in points {
        match kept.last_mut() {
            Some(last) if station(&p) - station(last) <= SAME => {
                if rise(&p) > rise(last) {
                    *last = p;
                }
            }
            _ => kept.push(p),
        }
    }
    // Overall dimensions run from extreme to extreme, also where an arc comes up to one slowly.
    if let Some((low, high)) = extremes {
        if let Some(first) = kept.first_mut() {
            *first = *first + along * (low - station(first));
        }
        if let Some(last) = kept.last_mut() {
            *last = *last + along * (high - station(last));
        }
    }
    kept
}

/// Rails in order along a direction between the base's extreme lines.
fn rails(design: &Design, along: Vector, outward: Vector, base: &[Point]) -> Vec<Point> {
    let (Some(low), Some(high)) = (base.first(), base.last()) else {
        return Vec::new();
    };
    let rise = |p: &Point| (*p - Point::default()).dot(outward);
    let mut ends: Vec<Point> = design
        .rails
        .rails
        .iter()
        .filter_map(|rail| {
            rail.runs
                .iter()
                .flatten()
                .copied()
                .max_by(|a, b| rise(a).total_cmp(&rise(b)))
        })
        .collect();
    if ends.is_empty() {
        return Vec::new();
    }
    ends.sort_by(|a, b| (*a - *b).dot(along).total_cmp(&0.0));
    let mut all = vec![*low];
    all.extend(ends);
    all.push(*high);
    all
}

/// A chain through features, with words that add up; none when two features coincide.
fn chain(
    features: Vec<Point>,
    along: Vector,
    outward: Vector,
    tier: usize,
    system: System,
) -> Option<SiteChain> {
    let parts: Vec<Length> = features
        .windows(2)
        .map(|pair| Length::from_mm((pair[1] - pair[0]).dot(along)))
        .collect();
    if parts.is_empty() || parts.iter().any(|p| p.mm() <= SAME) {
        return None;
    }
    Some(SiteChain {
        words: print::chain(&parts, system, Precision::Drawing)
            .parts
            .iter()
            .map(|part| print::without_unit(part, system))
            .collect(),
        features,
        outward,
        tier,
        origin: None,
    })
}

/// Running dimensions along a direction from the base line's first end, to every corner of outlines
/// and holes; none where the base line lies askew to it, or where they would only repeat the
/// overall dimension.
fn running(
    design: &Design,
    along: Vector,
    outward: Vector,
    tier: usize,
    system: System,
) -> Option<SiteChain> {
    let [(_, from), (_, to)] = &design.base_line;
    let line = (*to - *from).unit()?;
    let parallel = line.cross(along).abs() < ASKEW || line.dot(along).abs() < ASKEW;
    let mut features = features(design, along, outward, Of::Corners);
    let station = |at: Point| (at - *from).dot(along);
    let origin = match features.iter().position(|f| station(*f).abs() <= SAME) {
        Some(origin) => origin,
        None => {
            let place = features.iter().position(|f| station(*f) > 0.0);
            let place = place.unwrap_or(features.len());
            features.insert(place, *from);
            place
        }
    };
    if !parallel || features.len() < 3 || features.len() > MOST_RUNNING {
        return None;
    }
    let parts: Vec<Length> = features
        .windows(2)
        .map(|pair| Length::from_mm((pair[1] - pair[0]).dot(along)))
        .collect();
    let texts = print::running(&parts, origin, system, Precision::Drawing);
    let words = (0..parts.len())
        .map(|span| texts[span + usize::from(span >= origin)].clone())
        .collect();
    Some(SiteChain {
        words,
        features,
        outward,
        tier,
        origin: Some(origin),
    })
}

/// The side of the dig, along a direction or against it, that fewer structures and less wall
/// stand on.
fn free_side(design: &Design, across: Vector) -> Vector {
    let weight = |side: Vector| -> f64 {
        let reach = shape_rings(&design.extents.dig.shape)
            .into_iter()
            .flatten()
            .map(|p| (p - Point::default()).dot(side))
            .fold(f64::NEG_INFINITY, f64::max);
        let walls: f64 = design
            .job
            .site
            .areas
            .iter()
            .flat_map(|area| area.edges())
            .flat_map(|edge| &edge.stretches)
            .filter(|s| s.kind == EdgeKind::Wall)
            .filter(|s| {
                s.edge
                    .tangent(0.5)
                    .is_some_and(|t| (-t.left()).dot(side) > 0.7)
            })
            .map(|s| s.edge.length())
            .sum();
        let standing = design
            .job
            .site
            .structures
            .iter()
            .filter(|s| {
                ring_points(&s.ring)
                    .iter()
                    .any(|p| (*p - Point::default()).dot(side) > reach + 1.0)
            })
            .count();
        walls + standing as f64 * 500.0
    };
    let back = -across;
    // Of two equal sides the far one from the start edge keeps clear of the start corner's marks.
    if weight(back) < weight(across) {
        back
    } else {
        across
    }
}

/// A dimension as it stands on the plan: without the unit that the sheet states once.
fn bare(length: Length, system: System) -> String {
    print::without_unit(&print::length(length, system, Precision::Drawing), system)
}
