//! Least width of a set of points: how narrow a slot the points could pass through.
//!
//! In: points, millimetres. Out: the least distance between two parallel lines that hold them all,
//! by rotating calipers on the convex hull (Shamos 1978; one line always lies along a hull side).

use geo::ConvexHull;

use super::point::Point;

/// Least width of the convex hull of points, in millimetres; 0 for points on one line.
///
/// A triangle of sides 3, 4, 5 has its least width square to the longest side: 2.4.
pub fn least_width(points: &[Point]) -> f64 {
    let cloud: geo::MultiPoint<f64> = points.iter().map(|p| (p.x, p.y)).collect();
    let hull = cloud.convex_hull();
    let ring: Vec<Point> = hull
        .exterior()
        .0
        .iter()
        .map(|c| Point::new(c.x, c.y))
        .collect();
    let corners = &ring[..ring.len().saturating_sub(1)];
    if corners.len() < 3 {
        return 0.0;
    }
    let count = corners.len();
    let mut least = f64::INFINITY;
    let mut far = 1;
    for side in 0..count {
        let from = corners[side];
        let Some(along) = (corners[(side + 1) % count] - from).unit() else {
            continue;
        };
        let height = |corner: usize| along.cross(corners[corner % count] - from);
        // The farthest corner only ever moves on as the side turns.
        far = far.max(side + 1);
        while height(far + 1) > height(far) {
            far += 1;
        }
        least = least.min(height(far));
    }
    if least.is_finite() { least } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn width(list: &[(f64, f64)]) -> f64 {
        let points: Vec<Point> = list.iter().map(|(x, y)| Point::new(*x, *y)).collect();
        least_width(&points)
    }

    #[test]
    fn widths_by_hand() {
        assert!((width(&[(0.0, 0.0), (4.0, 0.0), (0.0, 3.0)]) - 2.4).abs() < 1e-12);
        assert!(
            (width(&[(0.0, 0.0), (9.0, 0.0), (9.0, 2.0), (0.0, 2.0), (4.0, 1.0)]) - 2.0).abs()
                < 1e-12
        );
        assert_eq!(width(&[(0.0, 0.0), (5.0, 5.0), (9.0, 9.0)]), 0.0);
        assert_eq!(width(&[]), 0.0);
    }

    #[test]
    fn calipers_agree_with_every_side_tried() {
        let mut seed = 7_u64;
        let mut next = || {
            seed = seed
                .wrapping_mul(6364136223846793005)
                .wrapping_add(1442695040888963407);
            (seed >> 40) as f64 / 1000.0
        };
        for _ in 0..50 {
            let points: Vec<Point> = (0..12).map(|_| Point::new(next(), next())).collect();
            let mut least = f64::INFINITY;
            for a in &points {
                for b in &points {
                    let Some(along) = (*b - *a).unit() else {
                        continue;
                    };
                    let offs: Vec<f64> = points.iter().map(|p| along.cross(*p - *a)).collect();
                    if offs.iter().all(|off| *off >= -1e-9) {
                        least = least.min(offs.iter().copied().fold(0.0, f64::max));
                    }
                }
            }
            assert!((least_width(&points) - least).abs() < 1e-6);
        }
    }
}
