//! The extents: what is paved, what the base covers, what is dug out.
//!
//! In: the resolved site, the extensions of base and dig past open edges in millimetres. Out:
//! regions with exact areas and perimeters, edge lengths by kind, and the open stretches that take
//! edge restraint. Structures that do not stand on the paving are taken off base and dig.

use std::collections::{BTreeMap, BTreeSet};

use super::model::Site;
use super::offset::{self, Join, Moved};
use super::outline::{self, Course, ring_of};
use super::rings;
use super::spec::EdgeKind;
use crate::geom::{Edge, Remains, Ring, SAGITTA, Shape, clip};

/// Paved area, base and dig.
#[derive(Clone, Debug, PartialEq)]
pub struct Extents {
    /// Union of the areas less holes. Its perimeter counts holes, and a joined edge once.
    pub paved: Region,
    /// The base.
    pub base: Region,
    /// The dig.
    pub dig: Region,
    /// Length of paved edge by kind, in millimetres, a joined edge once; kinds that do not occur
    /// are absent.
    pub edges_mm: BTreeMap<EdgeKind, f64>,
    /// Open stretches, in order.
    pub open_runs: Vec<OpenRun>,
    /// Where each corner of the outline of all paving lies on the base outline.
    pub base_joins: Vec<Join>,
}

/// A region of the site.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// What it covers, arcs flattened.
    pub shape: Shape,
    /// Its area in square millimetres, exact for arcs.
    pub area_mm2: f64,
    /// Its perimeter in millimetres, holes counted.
    pub perimeter_mm: f64,
    /// Its outline: outer rings anticlockwise, holes clockwise; arcs where they are exact.
    pub rings: Vec<Ring>,
}

/// An open stretch, along which edge restraint is laid.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenRun {
    /// Index of its area.
    pub area: usize,
    /// Name of its edge.
    pub name: String,
    /// Its course, paving on the left.
    pub edge: Edge,
    /// How far the base extends past it, in millimetres.
    pub extension: f64,
}

/// The extents of a site for a base and a dig extension, in millimetres.
pub fn extents(site: &Site, base_extension: f64, dig_extension: f64) -> Extents {
    let rings = outline::outline(site);
    let own = |course: &Course| course.extension.unwrap_or(base_extension).max(0.0);
    let base = offset::moved(&rings, &distances(&rings, own));
    let dig = offset::moved(
        &rings,
        &distances(&rings, |course| own(course).max(dig_extension)),
    );
    let dig = holding(dig, &base);
    let edges_mm = edges_by_kind(site);
    let mut paved = region(rings.iter().map(|ring| ring_of(ring)).collect(), None);
    paved.perimeter_mm = edges_mm.values().sum();
    Extents {
        paved,
        base: less_structures(&base, site),
        dig: less_structures(&dig, site),
        edges_mm,
        open_runs: open_runs(site, base_extension),
        base_joins: base.joins,
    }
}

/// The dig with the base in it. Both are moved from the paving by themselves; where corners are cut
/// or stepped otherwise for the smaller move than for the larger, the base can come out of the dig.
fn holding(dig: Moved, base: &Moved) -> Moved {
    // Holes of both, as at structures, part nothing of the one from the other.
    let [base_holes, dig_holes] = [holes(&base.shape), holes(&dig.shape)];
    let out = clip::difference(
        &without(&base.shape, &dig_holes),
        &without(&dig.shape, &base_holes),
    );
    // Chords of arcs beside each other stray by no more than the sagitta of each.
    let thick = |polygon: &geo::Polygon<f64>| {
        let alone = Shape::new(vec![polygon.clone()]);
        let around: f64 = polygon
            .exterior()
            .lines()
            .map(|side| libm::hypot(side.end.x - side.start.x, side.end.y - side.start.y))
            .sum();
        2.0 * clip::area(&alone) / around.max(1e-9) > 2.0 * SAGITTA
    };
    if !out.iter().any(thick) {
        return dig;
    }
    let shape = clip::union([&dig.shape, &base.shape]);
    Moved {
        rings: rings::rings_of_shape(&shape),
        shape,
        joins: dig.joins,
    }
}

/// The corners of holes, bit by bit.
type Holes = BTreeSet<Vec<[u64; 2]>>;

fn corners(line: &geo::LineString<f64>) -> Vec<[u64; 2]> {
    let corners = line.0.iter();
    corners.map(|at| [at.x.to_bits(), at.y.to_bits()]).collect()
}

fn holes(shape: &Shape) -> Holes {
    let holes = shape.iter().flat_map(|polygon| polygon.interiors());
    holes.map(corners).collect()
}

/// The shape with those of its holes filled that another has too.
fn without(shape: &Shape, others: &Holes) -> Shape {
    let filled = shape.iter().map(|polygon| {
        let holes = polygon.interiors().iter();
        let own = holes.filter(|line| !others.contains(&corners(line)));
        geo::Polygon::new(polygon.exterior().clone(), own.cloned().collect())
    });
    Shape::new(filled.collect())
}

fn distances(rings: &[Vec<Course>], open: impl Fn(&Course) -> f64) -> Vec<Vec<f64>> {
    let of = |course: &Course| match course.kind {
        EdgeKind::Open => open(course),
        _ => 0.0,
    };
    let rings = rings.iter();
    rings.map(|ring| ring.iter().map(of).collect()).collect()
}

fn region(rings: Vec<Ring>, shape: Option<Shape>) -> Region {
    Region {
        shape: shape.unwrap_or_else(|| rings::shape_of_rings(&rings)),
        area_mm2: rings.iter().map(Ring::signed_area).sum(),
        perimeter_mm: rings.iter().map(Ring::perimeter).sum(),
        rings,
    }
}

/// Takes the structures off that do not stand on the paving. One that lies wholly inside stays an
/// exact hole; the outline round any other is the clipped one.
fn less_structures(moved: &Moved, site: &Site) -> Region {
    let mut rings = moved.rings.clone();
    let mut remains = Remains::of(&moved.shape);
    let mut touching = false;
    for structure in site.structures.iter().filter(|s| !s.on_paving) {
        let solid = clip::shape_of(&structure.ring);
        let outside = remains.outside(&solid);
        if clip::area(&solid) - clip::area(&outside) <= 1.0 {
            continue;
        }
        let clear = rings.iter().all(|ring| {
            let mut edges = ring.edges.iter();
            edges.all(|edge| {
                let mut faces = structure.ring.edges.iter();
                faces.all(|face| edge.meetings(face, 1e-3).is_empty())
            })
        });
        if outside.0.is_empty() && clear {
            rings.push(structure.ring.anticlockwise().reversed());
        } else {
            touching = true;
        }
        remains.take(solid);
    }
    let shape = remains.left();
    if touching {
        rings = rings::rings_of_shape(&shape);
    }
    region(rings, Some(shape))
}

fn edges_by_kind(site: &Site) -> BTreeMap<EdgeKind, f64> {
    let mut lengths = BTreeMap::new();
    for stretch in site.stretches() {
        // A joined stretch is written once by each of the two areas.
        let share = match stretch.kind {
            EdgeKind::Joined => 0.5,
            _ => 1.0,
        };
        *lengths.entry(stretch.kind).or_insert(0.0) += share * stretch.edge.length();
    }
    lengths
}

fn open_runs(site: &Site, base_extension: f64) -> Vec<OpenRun> {
    let mut runs = Vec::new();
    for (area, site_area) in site.areas.iter().enumerate() {
        for edge in site_area.edges() {
            let open = edge.stretches.iter().filter(|s| s.kind == EdgeKind::Open);
            runs.extend(open.map(|stretch| OpenRun {
                area,
                name: edge.name.clone(),
                edge: stretch.edge,
                extension: stretch.extension.unwrap_or(base_extension),
            }));
        }
    }
    runs
}
