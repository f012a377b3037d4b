//! Laying the restraint along its edges.
//!
//! In: open edges with the paving to their left. Out: pieces, nails, totals. Millimetres. Arcs
//! are followed exactly for lengths and nails; the outline of a foot along an arc is drawn with
//! a sagitta of 0.25 mm.

use geo::{LineString, MultiPolygon, Polygon};

use super::{EdgeRestraint, EdgeRun, Edging, EdgingSpec, LaidPiece};
use crate::geom::{Edge, Point, SAGITTA, Vector};
use crate::textile::cutting::first_fit_decreasing;

/// Lengths within this count as equal.
const TOLERANCE: f64 = 0.5;

/// Lays each edge with whole pieces from its start and one cut piece for what is left; the cut
/// pieces of all the edges are cut from further pieces, first fit in decreasing order.
///
/// Each laid piece has holes from half a pitch in; a nail goes in the first, in every n-th from
/// the first, and in the last. A piece shorter than half a pitch has no hole and takes no nail.
pub fn lay(spec: &EdgingSpec, runs: &[EdgeRun]) -> Edging {
    let mut by_edge: Vec<EdgeRestraint> = runs.iter().map(|run| lay_run(spec, run)).collect();
    let cut: Vec<f64> = by_edge
        .iter()
        .filter(|edge| edge.remainder_mm > 0.0)
        .map(|edge| edge.remainder_mm)
        .collect();
    let from = first_fit_decreasing(&cut, spec.piece);
    let stock = from.iter().max().map_or(0, |last| last + 1);
    let mut from = from.into_iter();
    for edge in &mut by_edge {
        if edge.remainder_mm > 0.0
            && let Some(piece) = edge.laid.last_mut()
        {
            piece.cut_from = from.next();
        }
    }
    let nails = by_edge.iter().map(|edge| edge.nails).sum();
    Edging {
        length_mm: by_edge.iter().map(|edge| edge.length_mm).sum(),
        pieces: by_edge.iter().map(|edge| edge.whole).sum::<usize>() + stock,
        nails,
        boxes: spec
            .nails_per_box
            .filter(|&per| per > 0)
            .map(|per| nails.div_ceil(per as usize)),
        by_edge,
    }
}

fn lay_run(spec: &EdgingSpec, run: &EdgeRun) -> EdgeRestraint {
    let path = Path::new(&run.edges);
    let length = path.length;
    let mut whole = libm::floor((length + TOLERANCE) / spec.piece).max(0.0) as usize;
    let mut remainder = length - whole as f64 * spec.piece;
    if remainder <= TOLERANCE {
        remainder = 0.0;
    }
    if length <= TOLERANCE {
        whole = 0;
    }
    let mut laid = Vec::with_capacity(whole + 1);
    for index in 0..whole {
        laid.push(laid_piece(
            spec,
            &path,
            index as f64 * spec.piece,
            spec.piece,
        ));
    }
    if remainder > 0.0 {
        laid.push(laid_piece(
            spec,
            &path,
            whole as f64 * spec.piece,
            remainder,
        ));
    }
    EdgeRestraint {
        edge: run.name.clone(),
        length_mm: length,
        whole,
        remainder_mm: remainder,
        nails: laid.iter().map(|piece| piece.nails.len()).sum(),
        laid,
    }
}

fn laid_piece(spec: &EdgingSpec, path: &Path, station: f64, length: f64) -> LaidPiece {
    let nails = nailed_holes(length, spec.holes, spec.nail_every)
        .map(|hole| {
            let along = (hole as f64 + 0.5) * spec.holes;
            path.offset(station + along, spec.width / 2.0)
        })
        .collect();
    LaidPiece {
        station_mm: station,
        length_mm: length,
        cut_from: None,
        outline: path.strip(station, station + length, spec.width),
        nails,
    }
}

/// The holes, counted from 0, of a piece that take a nail.
fn nailed_holes(length: f64, pitch: f64, every: u32) -> impl Iterator<Item = usize> {
    let holes = libm::floor(length / pitch + 0.5 + 1e-9).max(0.0) as usize;
    let every = every.max(1) as usize;
    (0..holes).filter(move |hole| hole % every == 0 || hole + 1 == holes)
}

/// A run of edges measured along.
struct Path<'a> {
    edges: &'a [Edge],
    /// Station at which each edge starts.
    starts: Vec<f64>,
    length: f64,
}

impl<'a> Path<'a> {
    fn new(edges: &'a [Edge]) -> Self {
        let mut length = 0.0;
        let mut starts = Vec::with_capacity(edges.len());
        for edge in edges {
            starts.push(length);
            length += edge.length();
        }
        Self {
            edges,
            starts,
            length,
        }
    }

    /// The place at a station, moved out to the right by `out`.
    fn offset(&self, station: f64, out: f64) -> Point {
        let index = self.starts.partition_point(|&start| start <= station);
        let index = index.saturating_sub(1);
        let (at, along) = place(&self.edges[index], station - self.starts[index]);
        at + -along.left() * out
    }

    /// The strip from one station to another, `width` wide to the right.
    fn strip(&self, from: f64, to: f64, width: f64) -> MultiPolygon<f64> {
        let mut inner = Vec::new();
        let mut outer = Vec::new();
        for (edge, &start) in self.edges.iter().zip(&self.starts) {
            let length = edge.length();
            let (first, last) = (from.max(start) - start, to.min(start + length) - start);
            if last - first <= 1e-9 {
                continue;
            }
            let steps = steps(edge, last - first, width);
            for step in 0..=steps {
                let station = first + (last - first) * step as f64 / steps as f64;
                let (at, along) = place(edge, station);
                let out = at + -along.left() * width;
                inner.push((at.x, at.y));
                outer.push((out.x, out.y));
            }
        }
        // the paving is to the left, so out along the inner line runs clockwise
        let ring = outer.into_iter().chain(inner.into_iter().rev());
        MultiPolygon(vec![Polygon::new(LineString::from_iter(ring), vec![])])
    }
}

fn steps(edge: &Edge, length: f64, width: f64) -> usize {
    let Some(arc) = edge.arc else { return 1 };
    let radius = arc.radius + width;
    let half = libm::acos((1.0 - SAGITTA / radius).max(-1.0));
    let sweep = length / arc.radius;
    (libm::ceil(sweep / (2.0 * half)) as usize).max(1)
}

/// The place at a distance along an edge, and the direction there.
fn place(edge: &Edge, along: f64) -> (Point, Vector) {
    let length = edge.length();
    let share = if length > 0.0 { along / length } else { 0.0 };
    let direction = edge.tangent(share).unwrap_or(Vector::new(1.0, 0.0));
    (edge.point_at(share), direction)
}
