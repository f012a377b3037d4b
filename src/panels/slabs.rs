//! Regions cut into convex slabs, so that two of them are compared without clipping.
//!
//! In: a region, millimetres. Out: convex parts between upright lines through its corners, from
//! left to right; whether two regions overlap by more than a width. What lies within a slab that is
//! itself narrower is left to its neighbours, so that an overlap up to twice as wide may pass in
//! one such place; a region with two such slabs side by side is not cut up.

use crate::geom::Shape;

/// Narrowest of two slabs side by side, in millimetres.
const NARROW: f64 = 1.0;

/// One convex part: from where to where across, and its corners anticlockwise.
#[derive(Clone, Debug)]
struct Slab {
    ends: [f64; 2],
    corners: Vec<[f64; 2]>,
}

/// A region in slabs.
#[derive(Clone, Debug)]
pub(super) struct Slabs(Vec<Slab>);

impl Slabs {
    /// The slabs of a region; none where some are too narrow.
    pub(super) fn of(shape: &Shape) -> Option<Self> {
        let rings = shape
            .iter()
            .flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()));
        let sides: Vec<[[f64; 2]; 2]> = rings
            .flat_map(|ring| ring.lines())
            .map(|side| [[side.start.x, side.start.y], [side.end.x, side.end.y]])
            .map(|[a, b]| if a[0] <= b[0] { [a, b] } else { [b, a] })
            .filter(|[a, b]| a[0] < b[0])
            .collect();
        let mut cuts: Vec<f64> = sides.iter().flatten().map(|at| at[0]).collect();
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let wide = |pair: &[f64]| pair[1] - pair[0] >= NARROW;
        let widths: Vec<bool> = cuts.windows(2).map(wide).collect();
        if widths.windows(2).any(|pair| pair == [false, false]) {
            return None;
        }
        let mut slabs = Vec::new();
        for pair in cuts.windows(2) {
            let ends = [pair[0], pair[1]];
            let mut here: Vec<[f64; 2]> = sides
                .iter()
                .filter(|[a, b]| a[0] <= ends[0] && b[0] >= ends[1])
                .map(|[a, b]| ends.map(|x| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])))
                .collect();
            here.sort_by(|p, q| (p[0] + p[1]).total_cmp(&(q[0] + q[1])));
            for pair in here.chunks_exact(2) {
                let ([low, low_end], [high, high_end]) = (pair[0], pair[1]);
                let mut corners = vec![
                    [ends[0], low],
                    [ends[1], low_end],
                    [ends[1], high_end],
                    [ends[0], high],
                ];
                corners.dedup();
                slabs.push(Slab { ends, corners });
            }
        }
        Some(Self(slabs))
    }

    /// Whether two regions overlap by more than a width.
    pub(super) fn overlap(&self, other: &Self, width: f64) -> bool {
        let mut first = 0;
        for one in &self.0 {
            // Slabs come from left to right, and those above each other together.
            while first < other.0.len() && other.0[first].ends[1] <= one.ends[0] + width {
                first += 1;
            }
            let near = other.0[first..].iter();
            let mut near = near.take_while(|slab| slab.ends[0] + width < one.ends[1]);
            if near.any(|slab| {
                !parted(&one.corners, &slab.corners, width)
                    && !parted(&slab.corners, &one.corners, width)
            }) {
                return true;
            }
        }
        false
    }
}

/// Whether a side of the first convex region parts it from the second but for a width.
pub(super) fn parted(one: &[[f64; 2]], other: &[[f64; 2]], width: f64) -> bool {
    (0..one.len()).any(|index| {
        let (a, b) = (one[index], one[(index + 1) % one.len()]);
        let side = [b[0] - a[0], b[1] - a[1]];
        let length = libm::hypot(side[0], side[1]);
        // anticlockwise: what is inside lies to the left
        length > 0.0
            && other.iter().all(|at| {
                let left = side[0] * (at[1] - a[1]) - side[1] * (at[0] - a[0]);
                left <= width * length
            })
    })
}

#[cfg(test)]
mod tests {
    use super::super::lay::{mapped, narrowest, rectangle};
    use super::*;
    use crate::geom::{Point, clip};

    /// What is left of a panel beside a disc, in many places.
    fn beside_disc(at: [f64; 2], radius: f64) -> Shape {
        let points: Vec<Point> = (0..60)
            .map(|i| libm::sincos(f64::from(i) * std::f64::consts::TAU / 60.0))
            .map(|(sin, cos)| Point::new(at[0] + radius * cos, at[1] + radius * sin))
            .collect();
        let panel = rectangle([0.0, 0.0], [900.0, 600.0]);
        clip::difference(&panel, &clip::shape_of_points(&points))
    }

    /// Pieces beside discs against pieces of other discs, each in several places of the panel: what
    /// clipping says, but for overlaps about as narrow as the tolerance.
    #[test]
    fn slabs_tell_what_clipping_tells() {
        let (mut told, mut overlapping) = (0, 0);
        let mut shapes = Vec::new();
        for k in 0..36_u32 {
            let (sin, cos) = libm::sincos(f64::from(k) * 0.7);
            let reach = 500.0 + f64::from(k % 7) * 60.0;
            let at = [450.0 + reach * cos, 300.0 + reach * sin];
            let whole = beside_disc(at, 450.0 + f64::from(k % 4) * 150.0);
            shapes.extend(whole.into_iter().map(|part| Shape::new(vec![part])));
        }
        for one in &shapes {
            for other in &shapes {
                // the other turned half round, so that many are as if cut from one panel
                let other = mapped(other, |at| (900.0 - at.x, 600.0 - at.y).into());
                let both = clip::intersection(one, &other);
                let widest = both
                    .into_iter()
                    .map(|part| narrowest(&Shape::new(vec![part])))
                    .fold(0.0, f64::max);
                let (Some(a), Some(b)) = (Slabs::of(one), Slabs::of(&other)) else {
                    continue;
                };
                if (0.4..1.1).contains(&widest) {
                    continue;
                }
                assert_eq!(a.overlap(&b, 0.5), widest > 0.5, "{widest}");
                assert_eq!(b.overlap(&a, 0.5), widest > 0.5, "{widest}");
                told += 1;
                overlapping += usize::from(widest > 0.5);
            }
        }
        assert!(
            told > 300 && overlapping > 50 && told - overlapping > 30,
            "{told} {overlapping}"
        );
    }
}
