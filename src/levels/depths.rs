//! Depth of dig over the plan: figures on a grid, and the line where cut turns to fill.
//!
//! In: the parts of the dig and the ground, millimetres. Out: depths (ground less formation,
//! negative where the formation lies above the ground) at the points of a square grid inside the
//! dig, and the straight stretches on which the depth is nothing. Both surfaces are planes inside
//! a ground facet, so the stretches are exact.

use super::earthwork::{DigPart, reach};
use super::ground::Ground;
use super::outline::{is_inside, outline_distance, rings};
use crate::geom::{Frame, Point, clip};

/// Figures keep this share of the spacing clear of the dig's outline.
const CLEAR: f64 = 0.2;

/// A depth of dig and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthFigure {
    /// Where.
    pub at: Point,
    /// Ground less formation, in millimetres.
    pub depth: f64,
}

/// Depths at the points of a square grid in a frame, `spacing` apart from its origin, that lie in
/// the dig and clear of its outline; row by row.
pub fn depth_grid(
    parts: &[DigPart],
    ground: &Ground,
    frame: &Frame,
    spacing: f64,
) -> Vec<DepthFigure> {
    let mut figures: Vec<(i64, i64, DepthFigure)> = Vec::new();
    for part in parts {
        let formation = part.finish.formation(part.build_up);
        let corners = rings(&part.shape).into_iter().flatten();
        let local: Vec<(f64, f64)> = corners.map(|at| frame.to_local(at)).collect();
        let span = |pick: fn(&(f64, f64)) -> f64| {
            let values = local.iter().map(pick);
            let low = values.clone().fold(f64::INFINITY, f64::min);
            let high = values.fold(f64::NEG_INFINITY, f64::max);
            (low / spacing).ceil() as i64..=(high / spacing).floor() as i64
        };
        if local.is_empty() {
            continue;
        }
        for row in span(|p| p.1) {
            for column in span(|p| p.0) {
                let at = frame.to_site(column as f64 * spacing, row as f64 * spacing);
                let clear = outline_distance(&part.shape, at) >= CLEAR * spacing;
                if clear && is_inside(&part.shape, at) {
                    let depth = ground.level_at(at) - formation.level_at(at);
                    figures.push((row, column, DepthFigure { at, depth }));
                }
            }
        }
    }
    figures.sort_by_key(|(row, column, _)| (*row, *column));
    figures.into_iter().map(|(.., figure)| figure).collect()
}

/// The straight stretches in the dig along which the formation meets the ground, with the cut on
/// their left.
pub fn no_depth(parts: &[DigPart], ground: &Ground) -> Vec<[Point; 2]> {
    let corners = parts.iter().flat_map(|part| rings(&part.shape)).flatten();
    let facets = ground.facets(reach(ground, &corners.collect::<Vec<_>>()));
    let mut lines = Vec::new();
    for part in parts {
        let formation = part.finish.formation(part.build_up);
        for facet in &facets {
            let depth = |at: Point| facet.plane.level_at(at) - formation.level_at(at);
            let mut ends = Vec::new();
            let count = facet.corners.len();
            for (i, &a) in facet.corners.iter().enumerate() {
                let b = facet.corners[(i + 1) % count];
                let (da, db) = (depth(a), depth(b));
                if (da >= 0.0) != (db >= 0.0) {
                    ends.push((a + (b - a) * (da / (da - db)), da >= 0.0));
                }
            }
            // As for contours: in over the side that steps down, out over the one that steps up.
            let into = ends.iter().find(|(_, down)| *down);
            let out = ends.iter().find(|(_, down)| !down);
            if let (Some((from, _)), Some((to, _))) = (into, out) {
                let inside = clip::clip_lines(&[(*from, *to)], &part.shape);
                lines.extend(inside.into_iter().map(|(a, b)| [a, b]));
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Vector;
    use crate::levels::samples::{part, spot};

    /// Ground that rises from −300 at x = −1 m to 300 at x = 5 m: 100 mm a metre, 0 at x = 2 m.
    fn slope() -> Ground {
        let spots = [
            spot(-1000.0, -500.0, -300.0),
            spot(5000.0, -500.0, 300.0),
            spot(5000.0, 4000.0, 300.0),
            spot(-1000.0, 4000.0, -300.0),
        ];
        Ground::through(&spots).expect("spots")
    }

    /// Formation at −100: the ground meets it at x = 1 m, over the whole breadth.
    #[test]
    fn the_line_of_no_depth_is_where_the_ground_meets_the_formation() {
        let lines = no_depth(&[part()], &slope());
        let total: f64 = lines.iter().map(|[a, b]| a.distance(*b)).sum();
        assert!((total - 3000.0).abs() < 0.01, "{lines:?}");
        for [a, b] in lines {
            assert!((a.x - 1000.0).abs() < 1e-6 && (b.x - 1000.0).abs() < 1e-6);
            // The cut, at larger x, is on the left.
            assert!(b.y < a.y);
        }
    }

    #[test]
    fn figures_stand_on_the_grid_inside_the_dig() {
        let frame = Frame {
            origin: Point::new(0.0, 0.0),
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        };
        let figures = depth_grid(&[part()], &slope(), &frame, 1000.0);
        // x of 1, 2 and 3 m by y of 1 and 2 m; those on the outline are left out.
        assert_eq!(figures.len(), 6);
        for figure in figures {
            assert!((figure.depth - (figure.at.x - 1000.0) / 10.0).abs() < 1e-6);
        }
    }
}
