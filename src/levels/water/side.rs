//! The sides of each area's outline with what lies beyond them.
//!
//! In: the site and the drains. Out: straight sides, the paving on their left, drains cut out as
//! holes. Millimetres.

use super::Outlet;
use crate::geom::{Bounds, Edge, Point, SAGITTA, Shape, Vector, clip};
use crate::site::{Against, EdgeKind, Site, StructureKind};

/// A side of a shape cut by clipping lies within this of the side it was cut from, in millimetres.
const SAME_SIDE: f64 = 0.05;

/// What lies beyond a side.
#[derive(Clone, Debug, PartialEq)]
pub enum Beyond {
    /// Another area.
    Area(usize),
    /// Where water ends.
    Outlet(Outlet),
}

/// A straight side of an area, the paving on its left.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// What lies beyond it.
    pub beyond: Beyond,
}

impl Side {
    /// Unit vector along the side.
    pub fn along(&self) -> Vector {
        (self.to - self.from).unit().unwrap_or_default()
    }

    /// The side as an edge.
    pub fn edge(&self) -> Edge {
        Edge::straight(self.from, self.to)
    }
}

/// The sides of one area.
pub fn sides(site: &Site, area: usize, drains: &[Shape]) -> Vec<Side> {
    let whole = outline(site, area);
    let shape = site.areas[area].shape();
    let near: Vec<(usize, &Shape)> = drains
        .iter()
        .enumerate()
        .filter(|(_, drain)| clip::area(&clip::intersection(&shape, drain)) > 1.0)
        .collect();
    if near.is_empty() {
        return whole;
    }
    let left = near
        .iter()
        .fold(shape, |shape, (_, drain)| clip::difference(&shape, drain));
    let mut cut = Vec::new();
    for polygon in &left {
        for ring in std::iter::once(polygon.exterior()).chain(polygon.interiors()) {
            for line in ring.lines() {
                let from = Point::new(line.start.x, line.start.y);
                let to = Point::new(line.end.x, line.end.y);
                let beyond = beyond(from.midpoint(to), &whole, &near);
                cut.push(Side { from, to, beyond });
            }
        }
    }
    cut
}

/// What lies beyond a side that clipping left, by its middle.
fn beyond(middle: Point, whole: &[Side], drains: &[(usize, &Shape)]) -> Beyond {
    let nearest = whole
        .iter()
        .map(|side| (side.edge().distance(middle), side))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match nearest {
        Some((distance, side)) if distance <= SAME_SIDE => side.beyond.clone(),
        _ => {
            let drain = drains
                .iter()
                .map(|(index, shape)| (to_rim(shape, middle), *index))
                .min_by(|a, b| a.0.total_cmp(&b.0));
            Beyond::Outlet(Outlet::Drain(drain.map_or(0, |(_, index)| index)))
        }
    }
}

/// Distance from a place to the rim of a shape.
fn to_rim(shape: &Shape, at: Point) -> f64 {
    let lines = shape.iter().flat_map(|polygon| polygon.exterior().lines());
    lines
        .map(|line| {
            let from = Point::new(line.start.x, line.start.y);
            let to = Point::new(line.end.x, line.end.y);
            Edge::straight(from, to).distance(at)
        })
        .fold(f64::INFINITY, f64::min)
}

/// The sides of an area without drains.
fn outline(site: &Site, area: usize) -> Vec<Side> {
    let mut sides = Vec::new();
    for (number, ring) in site.areas[area].rings.iter().enumerate() {
        let hole = number > 0;
        let inside = if hole {
            standing_in(site, &ring.ring())
        } else {
            None
        };
        for edge in &ring.edges {
            for stretch in &edge.stretches {
                let name = edge.name.clone();
                let pool = match stretch.against {
                    Some(Against::Structure(index)) => {
                        let pool = site.structures[index].kind == StructureKind::Pool;
                        pool.then_some(index)
                    }
                    _ => None,
                };
                let beyond = match (stretch.against, stretch.kind) {
                    (Some(Against::Area(other)), _) => Beyond::Area(other),
                    (_, EdgeKind::Wall) => Beyond::Outlet(Outlet::Wall { area, edge: name }),
                    _ if pool.is_some() || hole => Beyond::Outlet(Outlet::Hole {
                        area,
                        edge: name,
                        structure: pool.or(inside),
                    }),
                    (_, EdgeKind::Flush) => Beyond::Outlet(Outlet::Flush { area, edge: name }),
                    _ => Beyond::Outlet(Outlet::Open { area, edge: name }),
                };
                for pair in stretch.edge.flatten(SAGITTA).windows(2) {
                    if pair[0] != pair[1] {
                        sides.push(Side {
                            from: pair[0],
                            to: pair[1],
                            beyond: beyond.clone(),
                        });
                    }
                }
            }
        }
    }
    sides
}

/// The structure whose middle lies in a hole.
fn standing_in(site: &Site, hole: &crate::geom::Ring) -> Option<usize> {
    let hole = clip::shape_of(hole);
    let middle = |bounds: Bounds| bounds.min.midpoint(bounds.max);
    site.structures.iter().position(|structure| {
        let bounds = structure.ring.bounds().map(middle);
        bounds.is_some_and(|at| clip::contains(&hole, at))
    })
}
