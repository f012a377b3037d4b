//! The outline that border courses follow: edges in one line made one, shapes moved inwards.

use geo::Buffer;
use geo::buffer::{BufferStyle, LineJoin};

use crate::geom::{Edge, Ring, Shape, clip};

/// Smallest angle at a corner of the outline that the inner outline still runs into, in radians.
const SHARPEST: f64 = 0.1;

/// A shape less what stands in it.
pub(super) fn less(shape: Shape, standing: &Shape) -> Shape {
    if standing.0.is_empty() {
        return shape;
    }
    clip::difference(&shape, standing)
}

/// A shape with its outline moved inwards, corners mitred.
pub(super) fn inset(shape: &Shape, by: f64) -> Shape {
    if by <= 0.0 {
        return shape.clone();
    }
    shape.buffer_with_style(BufferStyle::new(-by).line_join(LineJoin::Miter(SHARPEST)))
}

/// The length of a shape's rings, in millimetres.
pub(super) fn perimeter(shape: &Shape) -> f64 {
    clip::rings(shape)
        .flat_map(geo::LineString::lines)
        .map(|line| libm::hypot(line.end.x - line.start.x, line.end.y - line.start.y))
        .sum()
}

/// The ring's edges, straight ones that go on in one line made one.
pub(super) fn merged(ring: &Ring) -> Vec<Edge> {
    let mut edges: Vec<Edge> = Vec::new();
    for edge in &ring.edges {
        match edges.last_mut() {
            Some(last) if in_line(last, edge) => last.to = edge.to,
            _ => edges.push(*edge),
        }
    }
    if edges.len() > 2 && in_line(&edges[edges.len() - 1], &edges[0]) {
        let last = edges.remove(edges.len() - 1);
        edges[0].from = last.from;
    }
    edges
}

/// Whether two straight edges go on in one line.
fn in_line(a: &Edge, b: &Edge) -> bool {
    if a.arc.is_some() || b.arc.is_some() {
        return false;
    }
    match (a.tangent(1.0), b.tangent(0.0)) {
        (Some(a), Some(b)) => a.cross(b).abs() < 1e-6 && a.dot(b) > 0.0,
        _ => false,
    }
}
