//! Regions cut into slabs, so that two of them are compared without clipping.
//!
//! In: a region, millimetres. Out: parts between upright lines through its corners, from left to
//! right; whether two regions overlap by more than a width.
//!
//! Where an upright line meets both, what they share of it is a chord. Two regions overlap when
//! chords longer than the width follow one another over more than the width. So what passes holds
//! no disc wider than √2 widths: the chords of a wider one through its middle are longer than the
//! width over more than the width. With a width of 0.5 mm that is 0.71 mm, less than any saw cut.

use crate::geom::{Shape, clip};

/// One part between two upright lines, and between two sides.
#[derive(Clone, Debug)]
struct Slab {
    ends: [f64; 2],
    /// Heights of the lower side at both ends.
    low: [f64; 2],
    /// Heights of the upper side.
    high: [f64; 2],
}

impl Slab {
    /// Heights of its lower and upper side over a place between its ends.
    fn at(&self, x: f64) -> [f64; 2] {
        let [from, to] = self.ends;
        let share = ((x - from) / (to - from)).clamp(0.0, 1.0);
        [self.low, self.high].map(|side| side[0] + (side[1] - side[0]) * share)
    }

    /// From where to where the chords that two slabs share are longer than a width.
    fn shared(&self, other: &Self, width: f64) -> Option<[f64; 2]> {
        let mut ends = [
            self.ends[0].max(other.ends[0]),
            self.ends[1].min(other.ends[1]),
        ];
        if ends[1] <= ends[0] {
            return None;
        }
        let [first, last] = ends.map(|x| [self.at(x), other.at(x)]);
        let [from, to] = ends;
        // A chord is the least of the ways from either lower side to either upper one.
        for (low, high) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            let over = [first, last].map(|at| at[high][1] - at[low][0] - width);
            match (over[0] > 0.0, over[1] > 0.0) {
                (true, true) => {}
                (false, false) => return None,
                (closing, _) => {
                    let at = from + (to - from) * over[0] / (over[0] - over[1]);
                    let end = usize::from(closing);
                    ends[end] = match closing {
                        true => ends[1].min(at),
                        false => ends[0].max(at),
                    };
                }
            }
        }
        (ends[1] > ends[0]).then_some(ends)
    }
}

/// A region in slabs.
#[derive(Clone, Debug)]
pub(super) struct Slabs(Vec<Slab>);

impl Slabs {
    /// The slabs of a region.
    pub(super) fn of(shape: &Shape) -> Self {
        let sides: Vec<[[f64; 2]; 2]> = clip::rings(shape)
            .flat_map(|ring| ring.lines())
            .map(|side| [[side.start.x, side.start.y], [side.end.x, side.end.y]])
            .map(|[a, b]| if a[0] <= b[0] { [a, b] } else { [b, a] })
            .filter(|[a, b]| a[0] < b[0])
            .collect();
        let mut cuts: Vec<f64> = sides.iter().flatten().map(|at| at[0]).collect();
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let mut slabs = Vec::new();
        for pair in cuts.windows(2) {
            let ends = [pair[0], pair[1]];
            let mut here: Vec<[f64; 2]> = sides
                .iter()
                .filter(|[a, b]| a[0] <= ends[0] && b[0] >= ends[1])
                .map(|[a, b]| ends.map(|x| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])))
                .collect();
            here.sort_by(|p, q| (p[0] + p[1]).total_cmp(&(q[0] + q[1])));
            slabs.extend(here.chunks_exact(2).map(|pair| Slab {
                ends,
                low: pair[0],
                high: pair[1],
            }));
        }
        Self(slabs)
    }

    /// Whether two regions overlap by more than a width.
    pub(super) fn overlap(&self, other: &Self, width: f64) -> bool {
        let mut first = 0;
        let mut runs: Vec<[f64; 2]> = Vec::new();
        for one in &self.0 {
            // Slabs come from left to right, and those above each other together.
            while first < other.0.len() && other.0[first].ends[1] <= one.ends[0] {
                first += 1;
            }
            let near = other.0[first..].iter();
            let near = near.take_while(|slab| slab.ends[0] < one.ends[1]);
            runs.extend(near.filter_map(|slab| one.shared(slab, width)));
        }
        runs.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut reached = [f64::NEG_INFINITY; 2];
        runs.into_iter().any(|[from, to]| {
            reached = match from <= reached[1] {
                true => [reached[0], reached[1].max(to)],
                false => [from, to],
            };
            reached[1] - reached[0] > width
        })
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
        let panel = rectangle([0.0, 0.0], [900.0, 600.0]);
        clip::difference(&panel, &disc(at, radius))
    }

    fn disc(at: [f64; 2], radius: f64) -> Shape {
        let points: Vec<Point> = (0..60)
            .map(|i| libm::sincos(f64::from(i) * std::f64::consts::TAU / 60.0))
            .map(|(sin, cos)| Point::new(at[0] + radius * cos, at[1] + radius * sin))
            .collect();
        clip::shape_of_points(&points)
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
                if (0.05..1.1).contains(&widest) {
                    continue;
                }
                let (a, b) = (Slabs::of(one), Slabs::of(&other));
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

    /// What is left beside a disc against the disc a little larger or smaller: what passes holds no
    /// disc wider than 0.71 mm, for shrunk by half of that nothing is left of it, says a second
    /// library.
    #[test]
    fn what_passes_is_narrower_than_a_saw_cut() {
        use geos::Geom as _;
        let mut passed = 0;
        for k in 0..48_u32 {
            let (sin, cos) = libm::sincos(f64::from(k) * 0.7);
            let reach = 420.0 + f64::from(k % 7) * 60.0;
            let at = [450.0 + reach * cos, 300.0 + reach * sin];
            let radius = 350.0 + f64::from(k % 4) * 110.0;
            let beside = beside_disc(at, radius);
            for more in [-0.3, 0.0, 0.004, 0.05, 0.2, 0.4, 0.6, 0.8, 1.5] {
                let panel = rectangle([0.0, 0.0], [900.0, 600.0]);
                let within = clip::intersection(&panel, &disc(at, radius + more));
                if within.0.is_empty() || beside.0.is_empty() {
                    continue;
                }
                let (a, b) = (Slabs::of(&beside), Slabs::of(&within));
                let found = a.overlap(&b, 0.5);
                assert_eq!(found, b.overlap(&a, 0.5), "{k} {more}");
                if more <= 0.004 {
                    assert!(!found, "{k} {more}");
                }
                if !found {
                    let both = clip::intersection(&beside, &within);
                    let both = geos::Geometry::try_from(&both).expect("a geometry");
                    let left = both.buffer(-0.36, 16).expect("a buffer");
                    assert!(left.is_empty().expect("it can be told"), "{k} {more}");
                    passed += usize::from(more > 0.0);
                }
            }
        }
        assert!(passed > 40, "{passed}");
    }

    /// Two wedges of one panel that overlap from nothing to 0.6 mm, over a length: their chords are
    /// over 0.5 mm along the last sixth of it.
    #[test]
    fn a_wedge_counts_where_its_chords_are_long() {
        for (length, wanted) in [(2.9, false), (3.1, true)] {
            let corners = |points: &[(f64, f64)]| {
                let points: Vec<Point> = points.iter().map(|at| Point::new(at.0, at.1)).collect();
                Slabs::of(&clip::shape_of_points(&points))
            };
            let below = corners(&[(0.0, 0.0), (length, 0.0), (length, 20.6), (0.0, 20.0)]);
            let above = corners(&[(0.0, 20.0), (length, 20.0), (length, 40.0), (0.0, 40.0)]);
            assert_eq!(below.overlap(&above, 0.5), wanted, "{length}");
            assert_eq!(above.overlap(&below, 0.5), wanted, "{length}");
        }
    }

    /// A stack of steps 0.4 mm wide, each below what the tolerance takes, is 4 mm wide in all.
    #[test]
    fn narrow_steps_side_by_side_overlap() {
        let steps = |turned: bool| {
            let mut points = vec![Point::new(0.0, 0.0)];
            for k in 0..10 {
                let (x, y) = (f64::from(k) * 0.4, 20.0 + f64::from(k % 2) * 5.0);
                points.push(Point::new(x, y));
                points.push(Point::new(x + 0.4, y));
            }
            points.push(Point::new(4.0, 0.0));
            let shape = clip::shape_of_points(&points);
            mapped(&shape, |at| match turned {
                true => (4.2 - at.x, 30.0 - at.y).into(),
                false => at,
            })
        };
        assert!(Slabs::of(&steps(false)).overlap(&Slabs::of(&steps(true)), 0.5));
    }
}
