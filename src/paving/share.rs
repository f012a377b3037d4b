//! How many pavers the cut pieces need when two that fit one paver share it.
//!
//! In: cut pieces and their paver. Out: a number of pavers. A piece may be moved in its paver and
//! turned end for end, face up; the kerf is nothing. Pieces are paired in two rounds: first by the
//! rectangles round them, side by side or end to end, where along one side longest with shortest
//! makes the most pairs there can be; then, of those left, largest first, each with the largest
//! other whose outline leaves room for it from end to end of the paver (so that two slanted cuts
//! share one). The second round tries a bounded number of others; what it misses costs a paver, so
//! that the number is never too low.

use geo::{Area, Coord, LineString, MapCoords, MultiPolygon};

use super::bond::TOLERANCE;
use super::laid::CutPaver;
use super::spec::PaverSpec;
use crate::geom::{Point, clip};

/// Others that a piece is tried with in the second round.
const TRIES: usize = 64;

/// A piece in its paver: x along the long side, y along the short one, from a corner.
struct Piece {
    shape: MultiPolygon<f64>,
    /// Extent along x and y, to the micrometre.
    extent: [f64; 2],
    /// To the square millimetre.
    area: f64,
}

/// Pavers for these cut pieces, two to a paver where two fit one.
pub fn pavers_for(pieces: &[CutPaver], paver: &PaverSpec) -> usize {
    let pieces: Vec<Piece> = pieces.iter().map(in_paver).collect();
    let sides = [paver.length, paver.width];
    let paired = |order: [usize; 2]| {
        let all = (0..pieces.len()).collect();
        let (first, alone) = pair(&pieces, all, order[0], sides[order[0]]);
        let (second, alone) = pair(&pieces, alone, order[1], sides[order[1]]);
        first + second + nested(&pieces, alone, paver)
    };
    pieces.len() - paired([0, 1]).max(paired([1, 0]))
}

fn in_paver(piece: &CutPaver) -> Piece {
    let [a, b, _, d] = piece.cell;
    let along = (b - a).unit().unwrap_or_default();
    let across = (d - a).unit().unwrap_or_default();
    // To the micrometre, so that rounding errors do not decide which of two equals comes first.
    let fine = |at: f64| (at * 1000.0).round() / 1000.0;
    let shape = piece.shape.map_coords(|at| {
        let from = Point::new(at.x, at.y) - a;
        Coord {
            x: fine(from.dot(along)),
            y: fine(from.dot(across)),
        }
    });
    let bounds = geo::BoundingRect::bounding_rect(&shape);
    let extent = bounds.map_or([0.0; 2], |rect| [fine(rect.width()), fine(rect.height())]);
    let area = shape.unsigned_area().round();
    Piece {
        shape,
        extent,
        area,
    }
}

/// Pairs of pieces whose extents along one side add up to no more than that side, and the pieces
/// left alone.
fn pair(pieces: &[Piece], mut rest: Vec<usize>, side: usize, room: f64) -> (usize, Vec<usize>) {
    let across = 1 - side;
    rest.sort_by(|a, b| {
        let (a, b) = (pieces[*a].extent, pieces[*b].extent);
        b[side]
            .total_cmp(&a[side])
            .then(b[across].total_cmp(&a[across]))
    });
    let extent = |at: usize| pieces[rest[at]].extent[side];
    let mut alone = Vec::new();
    let mut pairs = 0;
    let (mut long, mut short) = (0, rest.len());
    while long < short {
        if long + 1 < short && extent(long) + extent(short - 1) <= room + TOLERANCE {
            pairs += 1;
            short -= 1;
        } else {
            alone.push(rest[long]);
        }
        long += 1;
    }
    (pairs, alone)
}

/// Pairs of pieces that fit one paver one behind the other, outline against outline.
fn nested(pieces: &[Piece], mut rest: Vec<usize>, paver: &PaverSpec) -> usize {
    let full = paver.length * paver.width;
    rest.sort_by(|a, b| pieces[*b].area.total_cmp(&pieces[*a].area).then(a.cmp(b)));
    let mut taken = vec![false; rest.len()];
    let mut pairs = 0;
    for first in 0..rest.len() {
        if taken[first] {
            continue;
        }
        let one = &pieces[rest[first]];
        let most = full - one.area + TOLERANCE * (paver.length + paver.width);
        let start = rest.partition_point(|at| pieces[*at].area > most);
        let partner = (start.max(first + 1)..rest.len())
            .filter(|other| !taken[*other])
            .take(TRIES)
            .find(|other| fit(one, &pieces[rest[*other]], paver));
        if let Some(partner) = partner {
            taken[partner] = true;
            pairs += 1;
        }
    }
    pairs
}

/// Whether two pieces fit a paver, one pushed to its left end and one to its right, either turned
/// end for end or not.
fn fit(one: &Piece, other: &Piece, paver: &PaverSpec) -> bool {
    let turned = |piece: &Piece| {
        piece.shape.map_coords(|at| Coord {
            x: paver.length - at.x,
            y: paver.width - at.y,
        })
    };
    let (one_turned, other_turned) = (turned(one), turned(other));
    [&one.shape, &one_turned].iter().any(|left| {
        [&other.shape, &other_turned]
            .iter()
            .any(|right| clear(left, right, paver.length))
    })
}

/// Whether `left` pushed to the left end and `right` to the right end leave each other clear: at
/// every height their reaches add up to no more than the length. Reaches change evenly between
/// corners, so that the heights of corners are enough.
fn clear(left: &MultiPolygon<f64>, right: &MultiPolygon<f64>, length: f64) -> bool {
    let least = |shape: &MultiPolygon<f64>| points(shape).map(|at| at.x).fold(f64::MAX, f64::min);
    let most = |shape: &MultiPolygon<f64>| points(shape).map(|at| at.x).fold(f64::MIN, f64::max);
    let (start, end) = (least(left), most(right));
    points(left).chain(points(right)).all(|corner| {
        let reach = farthest(left, corner.y, 1.0).map(|x| x - start);
        let back = farthest(right, corner.y, -1.0).map(|x| end + x);
        match (reach, back) {
            (Some(reach), Some(back)) => reach + back <= length + TOLERANCE,
            _ => true,
        }
    })
}

fn points(shape: &MultiPolygon<f64>) -> impl Iterator<Item = Coord<f64>> {
    clip::rings(shape).flat_map(|ring| ring.coords().copied())
}

/// The largest `sign` × x of a shape's outline at a height.
fn farthest(shape: &MultiPolygon<f64>, y: f64, sign: f64) -> Option<f64> {
    clip::rings(shape)
        .flat_map(LineString::lines)
        .filter(|line| line.start.y.min(line.end.y) <= y && y <= line.start.y.max(line.end.y))
        .map(|line| {
            let rise = line.end.y - line.start.y;
            if rise == 0.0 {
                return (sign * line.start.x).max(sign * line.end.x);
            }
            let share = (y - line.start.y) / rise;
            sign * (line.start.x + (line.end.x - line.start.x) * share)
        })
        .max_by(f64::total_cmp)
}

#[cfg(test)]
mod tests {
    use super::super::laid::CutState;
    use super::*;

    const PAVER: [f64; 2] = [200.0, 100.0];

    fn pavers(pieces: &[&[(f64, f64)]]) -> usize {
        let corner = |(x, y): (f64, f64)| Point::new(x, y);
        let cell = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)].map(corner);
        let pieces: Vec<CutPaver> = pieces
            .iter()
            .map(|points| {
                let points: Vec<Point> = points.iter().copied().map(corner).collect();
                let shape = clip::shape_of_points(&points);
                CutPaver {
                    cell,
                    area: clip::area(&shape),
                    shape,
                    state: CutState::Cut,
                }
            })
            .collect();
        let paver = PaverSpec {
            name: "field".into(),
            length: PAVER[0],
            width: PAVER[1],
            thickness: 60.0,
            joint: 3.0,
            per_pallet: None,
            per_layer: None,
            density: 2300.0,
        };
        pavers_for(&pieces, &paver)
    }

    #[test]
    fn longest_goes_with_shortest() {
        let strip = |to: f64| [(0.0, 0.0), (to, 0.0), (to, 100.0), (0.0, 100.0)];
        let strips = [strip(150.0), strip(60.0), strip(40.0), strip(100.0)];
        let all: Vec<&[(f64, f64)]> = strips.iter().map(|strip| strip.as_slice()).collect();
        assert_eq!(pavers(&all), 2);
        assert_eq!(pavers(&[&strips[0], &strips[1]]), 2);
    }

    /// Two pieces of 150 on one side and 50 on the other, cut at 45°, make up one paver when one is
    /// turned; two that lean on past the middle do not.
    #[test]
    fn slanted_pieces_share_when_turned() {
        let slanted = [(0.0, 0.0), (150.0, 0.0), (50.0, 100.0), (0.0, 100.0)];
        assert_eq!(pavers(&[&slanted, &slanted]), 1);
        // Its mirror image cannot be turned into the same gap: face up it leans the other way.
        let mirrored = [(0.0, 0.0), (50.0, 0.0), (150.0, 100.0), (0.0, 100.0)];
        assert_eq!(pavers(&[&slanted, &mirrored]), 2);
        let more = [(0.0, 0.0), (160.0, 0.0), (60.0, 100.0), (0.0, 100.0)];
        assert_eq!(pavers(&[&slanted, &more]), 2);
    }
}
