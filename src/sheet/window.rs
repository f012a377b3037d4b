//! Cutting what is drawn to an upright window on paper.
//!
//! In: segments and rings on paper. Out: what lies in the window. Methods: Liang–Barsky for
//! segments, Sutherland–Hodgman for rings (a concave ring may keep seams along the window's
//! sides, which no stroke is drawn on).

use crate::draw::Pt;
use crate::draw::paper::Rect;

/// The part of a segment inside the window.
pub fn segment(window: Rect, [a, b]: [Pt; 2]) -> Option<[Pt; 2]> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [
        (-dx, a.x - window.left),
        (dx, window.right - a.x),
        (-dy, a.y - window.top),
        (dy, window.bottom - a.y),
    ] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    let at = |t: f64| Pt::new(a.x + dx * t, a.y + dy * t);
    (from < to).then(|| [at(from), at(to)])
}

/// The sides of a ring inside the window, as segments.
pub fn sides(window: Rect, ring: &[Pt]) -> Vec<[Pt; 2]> {
    (0..ring.len())
        .filter_map(|i| segment(window, [ring[i], ring[(i + 1) % ring.len()]]))
        .collect()
}

/// The region of a ring inside the window.
pub fn ring(window: Rect, ring: &[Pt]) -> Vec<Pt> {
    let mut points = ring.to_vec();
    let sides: [&dyn Fn(Pt) -> f64; 4] = [
        &|p| p.x - window.left,
        &|p| window.right - p.x,
        &|p| p.y - window.top,
        &|p| window.bottom - p.y,
    ];
    for inside in sides {
        let mut kept = Vec::new();
        for (i, b) in points.iter().enumerate() {
            let a = points[(i + points.len() - 1) % points.len()];
            let (da, db) = (inside(a), inside(*b));
            if (da < 0.0) != (db < 0.0) {
                let t = da / (da - db);
                kept.push(Pt::new(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)));
            }
            if db >= 0.0 {
                kept.push(*b);
            }
        }
        points = kept;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_is_cut_to_the_window() {
        let window = Rect::between(Pt::new(0.0, 0.0), Pt::new(10.0, 10.0));
        let square =
            [(-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0)].map(|(x, y)| Pt::new(x, y));
        let cut = ring(window, &square);
        assert_eq!(
            Rect::around(cut),
            Some(Rect::between(Pt::new(0.0, 0.0), Pt::new(5.0, 5.0)))
        );
        assert_eq!(sides(window, &square).len(), 2);
    }
}
