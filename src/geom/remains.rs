//! A region from which shapes are taken off one after another.
//!
//! In: the region and the shapes, millimetres. Out: what of a shape lies outside of what is left
//! when its turn comes, and what is left in the end. Each is looked at in its surroundings alone
//! and all are taken off together, so that many shapes cost little more than the region does.

use super::halves::Rings;
use super::ring::Bounds;
use super::{Shape, clip};

/// How far round a shape the region is looked at, in millimetres.
const AROUND: f64 = 10.0;

/// What is left of a region.
pub struct Remains<'a> {
    whole: &'a Shape,
    rings: Rings,
    taken: Vec<(Bounds, Shape)>,
}

impl<'a> Remains<'a> {
    /// All of a region.
    pub fn of(whole: &'a Shape) -> Self {
        Self {
            whole,
            rings: Rings::new(whole),
            taken: Vec::new(),
        }
    }

    /// What of a shape lies outside of what is left.
    pub fn outside(&self, shape: &Shape) -> Shape {
        let Some(bounds) = clip::bounds(shape) else {
            return shape.clone();
        };
        let across = [bounds.min.x - AROUND, bounds.max.x + AROUND];
        let up = [bounds.min.y - AROUND, bounds.max.y + AROUND];
        let near = self.rings.between(0, across).between(1, up);
        let taken = self.taken.iter();
        let left = taken
            .filter(|(other, _)| other.near(bounds, AROUND))
            .fold(near.shape(), |left, (_, other)| {
                clip::difference(&left, other)
            });
        clip::difference(shape, &left)
    }

    /// Takes a shape off.
    pub fn take(&mut self, shape: Shape) {
        if let Some(bounds) = clip::bounds(&shape) {
            self.taken.push((bounds, shape));
        }
    }

    /// What is left.
    pub fn left(self) -> Shape {
        if self.taken.is_empty() {
            return self.whole.clone();
        }
        let taken = clip::union(self.taken.iter().map(|(_, shape)| shape));
        clip::difference(self.whole, &taken)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;

    /// Discs here and there on a field, many over each other and over its edge: at each turn what
    /// lies outside, and what is left, are what taking them off one by one gives.
    #[test]
    fn it_is_what_taking_off_one_by_one_leaves() {
        let disc = |k: u32| -> Shape {
            let (sin, cos) = libm::sincos(f64::from(k) * 2.4);
            let (x, y) = (f64::from(k) * 37.0 * cos, f64::from(k) * 29.0 * sin);
            let radius = 60.0 + f64::from(k % 5) * 30.0;
            let points: Vec<Point> = (0..24)
                .map(|i| libm::sincos(f64::from(i) * std::f64::consts::TAU / 24.0))
                .map(|(sin, cos)| Point::new(x + radius * cos, y + radius * sin))
                .collect();
            clip::shape_of_points(&points)
        };
        let corners = [
            (-900.0, -700.0),
            (800.0, -650.0),
            (950.0, 600.0),
            (-700.0, 900.0),
        ];
        let field = clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y)));
        let mut remains = Remains::of(&field);
        let mut plain = field.clone();
        let mut outside = 0;
        for shape in (0..40).map(disc) {
            let (found, wanted) = (remains.outside(&shape), clip::difference(&shape, &plain));
            assert!((clip::area(&found) - clip::area(&wanted)).abs() < 1.0);
            outside += usize::from(clip::area(&wanted) > 1.0);
            plain = clip::difference(&plain, &shape);
            remains.take(shape);
        }
        assert!((10..40).contains(&outside), "{outside}");
        let left = remains.left();
        assert!((clip::area(&left) - clip::area(&plain)).abs() < 10.0);
        assert!(clip::area(&clip::difference(&left, &plain)) < 10.0);
    }
}
