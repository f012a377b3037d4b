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
/// the first, and in the last; on curves another n holds. A piece shorter than half a pitch has no
/// hole and takes no nail.
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
    let at = |hole: usize| station + (hole as f64 + 0.5) * spec.holes;
    let every = |hole: usize| match path.edge_at(at(hole)).arc {
        Some(_) => spec.curve_nail_every,
        None => spec.nail_every,
    };
    let nails = nailed_holes(length, spec.holes, every)
        .into_iter()
        .map(|hole| path.offset(at(hole), spec.width / 2.0))
        .collect();
    LaidPiece {
        station_mm: station,
        length_mm: length,
        cut_from: None,
        outline: path.strip(station, station + length, spec.width),
        bend_mm: path.tightest(station, station + length),
        nails,
    }
}

/// The holes, counted from 0, of a piece that take a nail: the first, the last, and those at least
/// `every` past the last nailed one, as it holds there.
fn nailed_holes(length: f64, pitch: f64, every: impl Fn(usize) -> u32) -> Vec<usize> {
    let holes = hole_count(length, pitch);
    let mut nailed: Vec<usize> = Vec::new();
    for hole in 0..holes {
        let due = nailed
            .last()
            .is_none_or(|last| hole - last >= every(hole).max(1) as usize);
        if due || hole + 1 == holes {
            nailed.push(hole);
        }
    }
    nailed
}

/// How many holes a piece has: from half a pitch in, a pitch apart.
pub(super) fn hole_count(length: f64, pitch: f64) -> usize {
    libm::floor(length / pitch + 0.5 + 1e-9).max(0.0) as usize
}

/// A run of edges measured along.
pub(super) struct Path<'a> {
    edges: &'a [Edge],
    /// Station at which each edge starts.
    starts: Vec<f64>,
    length: f64,
}

impl<'a> Path<'a> {
    pub(super) fn new(edges: &'a [Edge]) -> Self {
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

    /// The edge at a station.
    fn edge_at(&self, station: f64) -> &Edge {
        let index = self.starts.partition_point(|&start| start <= station);
        &self.edges[index.saturating_sub(1)]
    }

    /// The least radius between two stations; `None` where the run is straight there.
    fn tightest(&self, from: f64, to: f64) -> Option<f64> {
        let along = self.edges.iter().zip(&self.starts);
        along
            .filter(|(edge, start)| from.max(**start) < to.min(**start + edge.length()) - TOLERANCE)
            .filter_map(|(edge, _)| edge.arc.map(|arc| arc.radius))
            .min_by(f64::total_cmp)
    }

    /// The place at a station, moved out to the right by `out`.
    pub(super) fn offset(&self, station: f64, out: f64) -> Point {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Arc, clip};

    const INCH: f64 = 25.4;
    const FOOT: f64 = 304.8;

    fn spec() -> EdgingSpec {
        EdgingSpec {
            piece: 8.0 * FOOT,
            width: 2.0 * INCH,
            holes: 4.0 * INCH,
            nail_every: 2,
            curve_nail_every: 1,
            nail: 10.0 * INCH,
            nail_diameter: 10.0,
            mass: 1.2,
            nails_per_box: Some(50),
        }
    }

    fn straight(name: &str, from: (f64, f64), to: (f64, f64)) -> EdgeRun {
        let at = |(x, y): (f64, f64)| Point::new(x * FOOT, y * FOOT);
        EdgeRun {
            name: name.to_owned(),
            edges: vec![Edge {
                from: at(from),
                to: at(to),
                arc: None,
            }],
        }
    }

    #[test]
    fn three_edges_of_a_landing() {
        // 12', 14', 12': 1 + 1 + 1 whole, remainders 4', 6', 4': 6' alone, 4' + 4' from one piece
        let runs = [
            straight("B-C", (14.0, 0.0), (14.0, 12.0)),
            straight("C-D", (14.0, 12.0), (0.0, 12.0)),
            straight("D-A", (0.0, 12.0), (0.0, 0.0)),
        ];
        let laid = lay(&spec(), &runs);
        assert_eq!(laid.pieces, 3 + 2);
        assert!((laid.length_mm - 38.0 * FOOT).abs() < 1e-6);
        let cut: Vec<_> = laid
            .by_edge
            .iter()
            .map(|edge| edge.laid[1].cut_from)
            .collect();
        assert_eq!(cut, [Some(1), Some(0), Some(1)]);
        // 8' has 24 holes: the first, every second from it, the last: 13; 4' has 12: 7; 6' 18: 10
        assert_eq!(laid.nails, 3 * 13 + 7 + 10 + 7);
        assert_eq!(laid.boxes, Some(2));
        // the paving is to the left, at smaller x: the foot lies past x = 14'
        let first = laid.by_edge[0].laid[0].nails[0];
        assert!(first.distance(Point::new(14.0 * FOOT + INCH, 2.0 * INCH)) < 1e-9);
        let foot = &laid.by_edge[0].laid[0].outline;
        assert!((clip::area(foot) - 8.0 * FOOT * 2.0 * INCH).abs() < 1e-6);
    }

    #[test]
    fn nails_of_short_pieces() {
        let nails = |length: f64| nailed_holes(length, 4.0, |_| 2);
        assert_eq!(nails(1.9), [] as [usize; 0]);
        assert_eq!(nails(2.0), [0]);
        assert_eq!(nails(6.0), [0, 1]);
        assert_eq!(nails(10.0), [0, 2]);
        assert_eq!(nails(14.0), [0, 2, 3]);
    }

    #[test]
    fn along_an_arc_lengths_are_exact_and_the_foot_is_outside() {
        let radius = 4.0 * FOOT;
        let quarter = Edge {
            from: Point::new(radius, 0.0),
            to: Point::new(0.0, radius),
            arc: Some(Arc {
                centre: Point::new(0.0, 0.0),
                radius,
                anticlockwise: true,
            }),
        };
        let run = EdgeRun {
            name: "A-B".to_owned(),
            edges: vec![quarter],
        };
        let laid = lay(&spec(), &[run]);
        let length = radius * std::f64::consts::FRAC_PI_2;
        assert!((laid.length_mm - length).abs() < 1e-6);
        assert_eq!((laid.pieces, laid.by_edge[0].laid.len()), (1, 1));
        // 6.28 ft from half a pitch in: 19 holes, each nailed
        assert_eq!((laid.nails, laid.by_edge[0].bend_mm()), (19, Some(radius)));
        for nail in &laid.by_edge[0].laid[0].nails {
            let out = nail.distance(Point::new(0.0, 0.0)) - radius;
            assert!((out - INCH).abs() < 1e-6);
        }
        let area = (radius + 2.0 * INCH).powi(2) - radius * radius;
        let area = area * std::f64::consts::FRAC_PI_4;
        let foot = clip::area(&laid.by_edge[0].laid[0].outline);
        assert!((foot / area - 1.0).abs() < 1e-3);
    }

    #[test]
    fn an_edge_that_whole_pieces_fill_has_no_remainder() {
        let laid = lay(&spec(), &[straight("A-B", (0.0, 0.0), (16.0, 0.0))]);
        assert_eq!((laid.pieces, laid.by_edge[0].remainder_mm), (2, 0.0));
        assert_eq!(laid.by_edge[0].laid.len(), 2);
    }
}
