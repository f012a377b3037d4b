//! The sides of a shape, sorted into level bands so that only those near a place are looked at.
//!
//! In: [`Shape`], millimetres. Out: the sides near a box, and those that may cross a level line.
//! Method: bucketing by height. Each side is in every band that its height reaches into; bands are
//! as many as sides, so that a shape of many short sides has few in each.

use super::point::Point;
use super::ring::Bounds;
use super::{Shape, clip};

/// A side: where it starts and ends.
pub(super) type Side = (Point, Point);

/// Most bands.
const MOST_BANDS: usize = 4096;

/// The sides of a shape by height.
pub(super) struct Sides {
    sides: Vec<Side>,
    /// Indices of sides, band by band from the bottom, each list in order.
    bands: Vec<Vec<u32>>,
    bottom: f64,
    height: f64,
}

impl Sides {
    /// Sorts the sides of a shape into bands: for many questions about one shape.
    pub(super) fn new(shape: &Shape) -> Self {
        let sides = sides(shape);
        let count = sides.len().clamp(1, MOST_BANDS);
        Self::in_bands(sides, count)
    }

    /// The sides of one run of points.
    pub(super) fn along(points: &[Point]) -> Self {
        // A short ring is gone through as fast as a band is found.
        const SHORT: usize = 128;
        let sides: Vec<Side> = points.windows(2).map(|pair| (pair[0], pair[1])).collect();
        let count = match sides.len() {
            ..SHORT => 1,
            many => many.min(MOST_BANDS),
        };
        Self::in_bands(sides, count)
    }

    /// All sides in one band: for a single question.
    pub(super) fn one_band(shape: &Shape) -> Self {
        Self::in_bands(sides(shape), 1)
    }

    fn in_bands(sides: Vec<Side>, count: usize) -> Self {
        let ends = || sides.iter().flat_map(|(a, b)| [a.y, b.y]);
        let bottom = ends().fold(f64::INFINITY, f64::min);
        let top = ends().fold(f64::NEG_INFINITY, f64::max);
        let mut found = Self {
            bands: vec![Vec::new(); count],
            height: ((top - bottom) / count as f64).max(f64::MIN_POSITIVE),
            bottom,
            sides,
        };
        for (index, (a, b)) in found.sides.iter().enumerate() {
            for band in found.band(a.y.min(b.y))..=found.band(a.y.max(b.y)) {
                found.bands[band].push(index as u32);
            }
        }
        found
    }

    /// The sides whose boxes come within `gap` of a box, each once, in order.
    pub(super) fn near(&self, bounds: Bounds, gap: f64) -> impl Iterator<Item = &Side> {
        let (low, high) = (bounds.min.y - gap, bounds.max.y + gap);
        let (first, last) = (self.band(low), self.band(high));
        let mut found: Vec<u32> = self.bands[first..=last]
            .iter()
            .flatten()
            .copied()
            .filter(|index| {
                let (a, b) = self.sides[*index as usize];
                Bounds { min: a, max: a }.with(b).near(bounds, gap)
            })
            .collect();
        if first < last {
            found.sort_unstable();
            found.dedup();
        }
        found.into_iter().map(|index| &self.sides[index as usize])
    }

    /// The sides that may cross the level line at a height, in order.
    pub(super) fn at_height(&self, y: f64) -> impl Iterator<Item = &Side> {
        let band = self.bands[self.band(y)].iter();
        band.map(|index| &self.sides[*index as usize])
    }

    /// The band of a height. It never falls as the height rises, so that a side is in the bands of
    /// all heights between its ends.
    fn band(&self, y: f64) -> usize {
        // A height that is no number (no sides) goes to the first band.
        (((y - self.bottom) / self.height).max(0.0) as usize).min(self.bands.len() - 1)
    }
}

fn sides(shape: &Shape) -> Vec<Side> {
    let rings = clip::rings(shape);
    let lines = rings.flat_map(|ring| ring.lines());
    lines
        .map(|l| {
            (
                Point::new(l.start.x, l.start.y),
                Point::new(l.end.x, l.end.y),
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A star of many corners: what the bands give is what going through all sides gives.
    #[test]
    fn bands_leave_out_no_side() {
        let points: Vec<Point> = (0..240)
            .map(|k| {
                let (sin, cos) = libm::sincos(f64::from(k) / 240.0 * std::f64::consts::TAU);
                let radius = if k % 2 == 0 { 900.0 } else { 400.0 };
                Point::new(radius * cos, radius * sin)
            })
            .collect();
        let shape = clip::shape_of_points(&points);
        let (banded, plain) = (Sides::new(&shape), Sides::one_band(&shape));
        for k in 0..400 {
            let (sin, cos) = libm::sincos(f64::from(k));
            let at = Point::new(f64::from(k) * 2.5 * cos, f64::from(k) * 2.5 * sin);
            let bounds = Bounds { min: at, max: at }.with(Point::new(at.x + 120.0, at.y - 60.0));
            let near = |sides: &Sides| -> Vec<Side> { sides.near(bounds, 0.01).copied().collect() };
            assert_eq!(near(&banded), near(&plain), "{at:?}");
            let crossing = |sides: &Sides| -> Vec<Side> {
                let all = sides.at_height(at.y).copied();
                all.filter(|(a, b)| (a.y > at.y) != (b.y > at.y)).collect()
            };
            assert_eq!(crossing(&banded), crossing(&plain), "{at:?}");
        }
        assert_eq!(
            Sides::new(&geo::MultiPolygon(Vec::new()))
                .near(
                    Bounds {
                        min: points[0],
                        max: points[0]
                    },
                    1.0
                )
                .count(),
            0
        );
    }
}
