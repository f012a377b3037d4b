//! Hatches as clipped lines: what each material looks like where it is cut.
//!
//! In: a region of one or more closed rings on paper (even-odd inside) and a material. Out:
//! straight segments inside the region. Method: scanline clipping of parallel line families.
//! By open convention: earth in groups of three 45° strokes, sand in dots, cut units in 45°
//! lines, structures in close 45° lines. No two parallel lines come nearer than 1.5 mm.

use crate::draw::Pt;

/// Pitch of the bars of a grate, in millimetres on paper.
pub const BARS: f64 = 1.5;

/// A segment on paper.
pub type Segment = [Pt; 2];

/// Parallel lines `pitch` apart at `angle` degrees (anticlockwise as seen) inside the region,
/// counted from the paper's origin so that neighbouring regions line up.
pub fn parallel(rings: &[Vec<Pt>], angle: f64, pitch: f64, shift: f64) -> Vec<Segment> {
    let radians = angle.to_radians();
    let (sin, cos) = (libm::sin(radians), libm::cos(radians));
    // Turned frame: s along the lines, t across them.
    let to = |p: Pt| Pt::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos);
    let back = |s: f64, t: f64| Pt::new(s * cos + t * sin, -s * sin + t * cos);
    let turned: Vec<Vec<Pt>> = rings
        .iter()
        .map(|ring| ring.iter().map(|p| to(*p)).collect())
        .collect();
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in turned.iter().flatten() {
        low = low.min(p.y);
        high = high.max(p.y);
    }
    let mut segments = Vec::new();
    if !(low.is_finite() && high.is_finite()) || pitch <= 0.0 {
        return segments;
    }
    let first = ((low - shift) / pitch).ceil() as i64;
    let last = ((high - shift) / pitch).floor() as i64;
    for k in first..=last {
        let t = k as f64 * pitch + shift;
        for [from, to] in crossings(&turned, t) {
            if to - from > 0.2 {
                segments.push([back(from, t), back(to, t)]);
            }
        }
    }
    segments
}

/// Stretches of the line `y = t` inside the rings.
fn crossings(rings: &[Vec<Pt>], t: f64) -> Vec<[f64; 2]> {
    let mut cuts = Vec::new();
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if (a.y <= t) != (b.y <= t) {
                cuts.push(a.x + (t - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2)
        .map(|pair| [pair[0], pair[1]])
        .collect()
}

/// Natural ground: groups of three short 45° strokes in a band below a run of surface points.
pub fn earth_band(surface: &[Pt], depth: f64, apart: f64) -> Vec<Segment> {
    let mut segments = Vec::new();
    let mut along = apart * 0.5;
    for pair in surface.windows(2) {
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let length = libm::hypot(dx, dy);
        while along < length && length > 0.0 {
            let at = Pt::new(
                pair[0].x + dx * along / length,
                pair[0].y + dy * along / length,
            );
            for stroke in 0..3 {
                let from = Pt::new(at.x + f64::from(stroke) * 2.2, at.y + 0.4);
                segments.push([from, Pt::new(from.x - depth, from.y + depth)]);
            }
            along += apart;
        }
        along -= length;
    }
    segments
}

/// Dots at even density inside the region, on a staggered grid: where their centres go.
pub fn dots(rings: &[Vec<Pt>], pitch: f64) -> Vec<Pt> {
    let mut low = Pt::new(f64::INFINITY, f64::INFINITY);
    let mut high = Pt::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
    for p in rings.iter().flatten() {
        low = Pt::new(low.x.min(p.x), low.y.min(p.y));
        high = Pt::new(high.x.max(p.x), high.y.max(p.y));
    }
    let mut centres = Vec::new();
    if !(low.x.is_finite() && high.x.is_finite()) {
        return centres;
    }
    let mut row = 0_i64;
    let mut y = low.y + pitch * 0.3;
    while y < high.y {
        let shift = if row % 2 == 0 { 0.25 } else { 0.75 };
        for [from, to] in crossings(rings, y) {
            let mut x = from + pitch * shift;
            while x < to {
                centres.push(Pt::new(x, y));
                x += pitch;
            }
        }
        row += 1;
        y += pitch * 0.6;
    }
    centres
}

/// The rectangle from one corner to the opposite one, as a ring.
pub fn rectangle(from: Pt, to: Pt) -> Vec<Pt> {
    vec![from, Pt::new(to.x, from.y), to, Pt::new(from.x, to.y)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_lie_inside_and_keep_their_pitch() {
        let ring = rectangle(Pt::new(10.0, 10.0), Pt::new(30.0, 20.0));
        let segments = parallel(&[ring], 45.0, 2.0, 0.0);
        // A 20 × 10 rectangle spans 30 / √2 across 45° lines: 10 or 11 lines 2 mm apart.
        assert!((10..=11).contains(&segments.len()), "{}", segments.len());
        for [a, b] in segments {
            for p in [a, b] {
                assert!(p.x > 9.999 && p.x < 30.001 && p.y > 9.999 && p.y < 20.001);
            }
            assert!((a.x - b.x).abs() - (a.y - b.y).abs() < 1e-9);
            assert!(
                (b.x - a.x) * (b.y - a.y) < 0.0,
                "rises to the right as seen"
            );
        }
    }

    #[test]
    fn holes_stay_clear() {
        let outer = rectangle(Pt::new(0.0, 0.0), Pt::new(20.0, 20.0));
        let hole = rectangle(Pt::new(5.0, 5.0), Pt::new(15.0, 15.0));
        let total: f64 = parallel(&[outer, hole], 0.0, 2.0, 1.0)
            .iter()
            .map(|[a, b]| b.x - a.x)
            .sum();
        // Ten lines of 20 mm, five of them losing 10 mm.
        assert!((total - 150.0).abs() < 1e-9);
    }
}
