//! Rectangles, lines and regions on paper, as far as finding conflicts needs them.

use super::super::paper::Pt;

/// Corners of a rectangle, turned or not.
pub type Quad = [Pt; 4];

/// How far two rectangles (turned or not) interpenetrate: least overlap over the directions of
/// their sides (separating axis theorem); not above zero when they are apart.
pub fn depth(a: &Quad, b: &Quad) -> f64 {
    let mut least = f64::MAX;
    for quad in [a, b] {
        for (from, to) in [(quad[0], quad[1]), (quad[1], quad[2])] {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let (x, y) = ((to.x - from.x) / length, (to.y - from.y) / length);
            let span = |quad: &Quad| {
                let along = quad.map(|p| p.x * x + p.y * y);
                let low = along.into_iter().fold(f64::MAX, f64::min);
                (low, along.into_iter().fold(f64::MIN, f64::max))
            };
            let ((low_a, high_a), (low_b, high_b)) = (span(a), span(b));
            least = least.min(high_a.min(high_b) - low_a.max(low_b));
        }
    }
    least
}

/// The part of a line, as parameters, that lies in a rectangle (turned or not) grown by `by`.
pub fn clipped(a: Pt, b: Pt, quad: &Quad, by: f64) -> Option<(f64, f64)> {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (from, to) in [(quad[0], quad[1]), (quad[1], quad[2])] {
        let length = from.distance(to);
        if length <= 0.0 {
            return None;
        }
        let (x, y) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let along = |p: Pt| (p.x - from.x) * x + (p.y - from.y) * y;
        let (low, high) = (-by, length + by);
        let (first, last) = (along(a), along(b));
        if first == last {
            if first < low || first > high {
                return None;
            }
            continue;
        }
        let (t, u) = (
            (low - first) / (last - first),
            (high - first) / (last - first),
        );
        start = start.max(t.min(u));
        end = end.min(t.max(u));
    }
    (start < end).then_some((start, end))
}

/// Whether a point lies in closed parts, by the even-odd rule.
pub fn inside(at: Pt, parts: &[Vec<Pt>]) -> bool {
    let mut within = false;
    for part in parts {
        for (i, &p) in part.iter().enumerate() {
            let q = part[(i + 1) % part.len()];
            if (p.y > at.y) != (q.y > at.y) && at.x < p.x + (at.y - p.y) / (q.y - p.y) * (q.x - p.x)
            {
                within = !within;
            }
        }
    }
    within
}

/// The middle of a box and the middles between it and the corners.
pub fn inner_points(quad: &Quad) -> [Pt; 5] {
    let middle = |p: Pt, q: Pt| Pt::new((p.x + q.x) / 2.0, (p.y + q.y) / 2.0);
    let centre = middle(quad[0], quad[2]);
    let [a, b, c, d] = quad.map(|corner| middle(corner, centre));
    [centre, a, b, c, d]
}
