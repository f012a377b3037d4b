//! How many pavers the cut pieces need when two that fit one paver share it.
//!
//! In: cut pieces and their paver. Out: a number of pavers. Two pieces fit one paver when the
//! rectangles round them, sides along the paver's, fit side by side or end to end; a piece keeps
//! its direction in the paver, and the kerf is nothing. Along one side the pairing is the largest
//! there is (longest with shortest); pieces turned into each other's corners are left out.

use geo::CoordsIter;

use super::bond::TOLERANCE;
use super::laid::CutPaver;
use super::spec::PaverSpec;
use crate::geom::Point;

/// Pavers for these cut pieces, two to a paver where two fit one.
pub fn pavers_for(pieces: &[CutPaver], paver: &PaverSpec) -> usize {
    let extents: Vec<[f64; 2]> = pieces.iter().map(extent).collect();
    let sides = [paver.length, paver.width];
    let paired = |order: [usize; 2]| {
        let (first, alone) = pair(&extents, order[0], sides[order[0]]);
        let (second, _) = pair(&alone, order[1], sides[order[1]]);
        first + second
    };
    pieces.len() - paired([0, 1]).max(paired([1, 0]))
}

/// Extent of a piece along its paver's long and short side.
fn extent(piece: &CutPaver) -> [f64; 2] {
    let [a, b, _, d] = piece.cell;
    let axes = [(b - a).unit(), (d - a).unit()];
    axes.map(|axis| {
        let axis = axis.unwrap_or_default();
        let along = |at: geo::Coord<f64>| (Point::new(at.x, at.y) - a).dot(axis);
        let stations = || piece.shape.coords_iter().map(along);
        let reach = stations().fold(f64::MIN, f64::max) - stations().fold(f64::MAX, f64::min);
        // To the micrometre, so that rounding errors do not decide which of two equals comes first.
        (reach * 1000.0).round() / 1000.0
    })
}

/// Pairs of pieces whose extents along one side add up to no more than that side, and the pieces
/// left alone.
fn pair(pieces: &[[f64; 2]], side: usize, room: f64) -> (usize, Vec<[f64; 2]>) {
    let mut sorted = pieces.to_vec();
    sorted.sort_by(|a, b| {
        let across = 1 - side;
        b[side]
            .total_cmp(&a[side])
            .then(b[across].total_cmp(&a[across]))
    });
    let mut alone = Vec::new();
    let mut pairs = 0;
    let (mut long, mut short) = (0, sorted.len());
    while long < short {
        let fits =
            long + 1 < short && sorted[long][side] + sorted[short - 1][side] <= room + TOLERANCE;
        if fits {
            pairs += 1;
            short -= 1;
        } else {
            alone.push(sorted[long]);
        }
        long += 1;
    }
    (pairs, alone)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn longest_goes_with_shortest() {
        let pieces = [[150.0, 100.0], [60.0, 100.0], [40.0, 100.0], [100.0, 100.0]];
        let (pairs, alone) = pair(&pieces, 0, 200.0);
        assert_eq!(pairs, 2);
        assert!(alone.is_empty());
        let (pairs, alone) = pair(&pieces, 1, 100.0);
        assert_eq!((pairs, alone.len()), (0, 4));
    }
}
