//! Where two areas with their own falls meet: the step along the shared edge, and whether the edge
//! is a valley, a ridge or a plain change of fall.
//!
//! In: the site's joined edges and one finish plane an area. Out: one [`Meet`] for each joined
//! stretch, split where an arc changes its character. The step between two planes is linear in
//! place, so that its ends and where it vanishes are exact on a straight edge and on the chords of
//! an arc. Levels and lengths in millimetres, falls as rise over run.

use super::plane::Plane;
use crate::geom::{Point, SAGITTA, Vector};
use crate::language::{Phrase, phrase};
use crate::site::{Against, Site};

/// Falls within this ratio (0.005 %) count as equal.
const FALL: f64 = 0.000_05;

/// Panel tops that differ by more than this at a joined edge break the base there, and so does a
/// fold on which a panel rocks by more, in millimetres (common practice, no source).
pub const BREAK: f64 = 3.0;

/// What rounding of the planes' arithmetic comes to at the most, in millimetres.
const ROUNDING: f64 = 1e-3;

/// Whether panel tops, or finishes, that differ by so many millimetres, or a panel that rocks by so
/// many, break the base: by more than [`BREAK`].
///
/// # Example
/// ```
/// use groundsheet::levels::meet::breaks;
/// assert!(!breaks(3.000_000_001) && !breaks(-3.0) && breaks(3.1) && breaks(-3.1));
/// ```
pub fn breaks(by: f64) -> bool {
    by.abs() > BREAK + ROUNDING
}

/// A change of level of more than this, in millimetres, is a step that others design: over ½ in
/// (ADA 2010 §303.4) it is no longer bevelled but built.
pub const BUILT_STEP: f64 = 12.7;

/// What a shared edge is to the water on both sides of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeetKind {
    /// Both planes fall towards it.
    Valley,
    /// Both planes fall away from it.
    Ridge,
    /// The fall changes there, but water runs on across or along it.
    Change,
    /// One plane runs on across it.
    Even,
}

impl MeetKind {
    /// The word that reports use.
    pub fn word(self) -> &'static str {
        self.phrase().word()
    }

    /// What it is called on a sheet.
    pub fn phrase(self) -> Phrase {
        match self {
            MeetKind::Valley => phrase!("valley"),
            MeetKind::Ridge => phrase!("ridge"),
            MeetKind::Change => phrase!("change of fall"),
            MeetKind::Even => phrase!("even"),
        }
    }
}

/// A shared edge, or the part of one that is all of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Meet {
    /// The edge's name in the first area.
    pub edge: String,
    /// The two areas by index, the lower index first.
    pub areas: [usize; 2],
    /// The edge as points, the first area on its left; two unless it is an arc.
    pub run: Vec<Point>,
    /// How much the first area stands above the second, at each of the points.
    pub steps: Vec<f64>,
    /// What it is.
    pub kind: MeetKind,
    /// Change of slope square to the edge where it is greatest, positive over a ridge and negative
    /// in a valley.
    pub slope_change: f64,
    /// Where that is.
    pub slope_change_at: Point,
}

impl Meet {
    /// How much the first area stands above the second at both ends.
    pub fn ends(&self) -> [f64; 2] {
        let first = self.steps.first().copied().unwrap_or(0.0);
        [first, self.steps.last().copied().unwrap_or(first)]
    }

    /// The greatest step, signed as [`Meet::steps`], and where it is.
    pub fn greatest(&self) -> (f64, Point) {
        let steps = self.steps.iter().copied().zip(self.run.iter().copied());
        steps
            .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
            .unwrap_or((0.0, Point::default()))
    }

    /// Whether the step is one that others design, with what holds the upper area's edge on it.
    pub fn is_built_step(&self) -> bool {
        self.greatest().0.abs() > BUILT_STEP + 0.5
    }

    /// Where the step changes sign: the places at which both areas stand at one level with the
    /// first above the second on one side and below it on the other.
    pub fn level_at(&self) -> Vec<Point> {
        let mut places = Vec::new();
        let points = self.run.windows(2).zip(self.steps.windows(2));
        for (points, steps) in points {
            if steps[0] * steps[1] < 0.0 {
                let share = steps[0] / (steps[0] - steps[1]);
                places.push(points[0] + (points[1] - points[0]) * share);
            }
        }
        places
    }

    /// Length, in millimetres.
    pub fn length(&self) -> f64 {
        let pairs = self.run.windows(2);
        pairs.map(|pair| pair[0].distance(pair[1])).sum()
    }

    /// The place half way along.
    pub fn middle(&self) -> Point {
        let mut left = self.length() / 2.0;
        for pair in self.run.windows(2) {
            let length = pair[0].distance(pair[1]);
            if length > 0.0 && left <= length {
                return pair[0] + (pair[1] - pair[0]) * (left / length);
            }
            left -= length;
        }
        self.run.last().copied().unwrap_or_default()
    }

    /// By how much a rigid panel laid across the fold rocks, in millimetres, when it reaches
    /// `half_panel` to each side: the change of slope times that reach.
    pub fn rocking(&self, half_panel: f64) -> f64 {
        self.slope_change.abs() * half_panel
    }
}

/// Every shared edge of a site, in the order of the areas and their edges; `planes` has one finish
/// plane an area.
pub fn meets(site: &Site, planes: &[Plane]) -> Vec<Meet> {
    let mut found: Vec<Meet> = Vec::new();
    for (first, area) in site.areas.iter().enumerate() {
        for edge in area.edges() {
            for stretch in &edge.stretches {
                let Some(Against::Area(second)) = stretch.against else {
                    continue;
                };
                if second <= first {
                    continue;
                }
                let before = found.len();
                for pair in stretch.edge.flatten(SAGITTA).windows(2) {
                    let Some(out) = (pair[1] - pair[0]).unit() else {
                        continue;
                    };
                    let into = out.left();
                    let planes = [&planes[first], &planes[second]];
                    let (kind, change) = kind(planes, into);
                    let step = |at: Point| planes[0].level_at(at) - planes[1].level_at(at);
                    let middle = pair[0].midpoint(pair[1]);
                    match found[before..].last_mut() {
                        Some(last) if last.kind == kind => {
                            last.run.push(pair[1]);
                            last.steps.push(step(pair[1]));
                            if change.abs() > last.slope_change.abs() {
                                (last.slope_change, last.slope_change_at) = (change, middle);
                            }
                        }
                        _ => found.push(Meet {
                            edge: edge.name.clone(),
                            areas: [first, second],
                            run: pair.to_vec(),
                            steps: vec![step(pair[0]), step(pair[1])],
                            kind,
                            slope_change: change,
                            slope_change_at: middle,
                        }),
                    }
                }
            }
        }
    }
    found
}

/// What an edge is between two planes, and the change of slope over it; `into` is the unit vector
/// square to the edge into the first plane's area.
fn kind(planes: [&Plane; 2], into: Vector) -> (MeetKind, f64) {
    let away = [planes[0].fall_along(into), planes[1].fall_along(-into)];
    let change = away[0] + away[1];
    let differs = (planes[0].gradient - planes[1].gradient).length();
    let kind = if differs <= FALL {
        MeetKind::Even
    } else if away.iter().all(|fall| *fall > FALL) {
        MeetKind::Ridge
    } else if away.iter().all(|fall| *fall < -FALL) {
        MeetKind::Valley
    } else {
        MeetKind::Change
    };
    (kind, change)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Ring;
    use crate::site::{AreaSpec, CornerSpec, OutlineSpec, resolve};

    fn rectangle(name: &str, left: f64, right: f64) -> AreaSpec {
        let points = [(left, 0.0), (right, 0.0), (right, 3000.0), (left, 3000.0)]
            .map(|(x, y)| Point::new(x, y));
        AreaSpec {
            name: name.into(),
            outline: OutlineSpec {
                ring: Ring::polygon(&points),
                corners: points.map(|at| CornerSpec { at, name: None }).to_vec(),
                edges: Vec::new(),
            },
            holes: Vec::new(),
        }
    }

    /// Two areas, 4 m and 2 m wide, that meet along x = 4 m from (4, 0) to (4, 3).
    fn site() -> Site {
        let areas = [
            rectangle("West", 0.0, 4000.0),
            rectangle("East", 4000.0, 6000.0),
        ];
        resolve(&areas, &[], &[]).expect("two rectangles side by side")
    }

    fn falling(at: (f64, f64), level: f64, fall: f64, way: (f64, f64)) -> Plane {
        Plane::falling(
            Point::new(at.0, at.1),
            level,
            fall,
            Vector::new(way.0, way.1),
        )
    }

    /// By hand: 2 % down to the edge from both sides, level 0 at x = 4 m.
    #[test]
    fn two_falls_towards_each_other_make_a_valley() {
        let planes = [
            falling((4000.0, 0.0), 0.0, 0.02, (1.0, 0.0)),
            falling((4000.0, 0.0), 0.0, 0.02, (-1.0, 0.0)),
        ];
        let found = meets(&site(), &planes);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].kind, MeetKind::Valley);
        assert!((found[0].slope_change + 0.04).abs() < 1e-12);
        assert!(found[0].greatest().0.abs() < 1e-9 && found[0].level_at().is_empty());
        assert!((found[0].length() - 3000.0).abs() < 1e-9);
        // A panel of 3 ft reaches 457.2 mm to each side: 0.04 × 457.2 = 18.288 mm.
        assert!((found[0].rocking(457.2) - 18.288).abs() < 1e-9);
        let ridge = planes.map(|plane| Plane {
            gradient: -plane.gradient,
            ..plane
        });
        assert_eq!(meets(&site(), &ridge)[0].kind, MeetKind::Ridge);
    }

    /// By hand: West level with East at y = 1 m, 1 % along the edge on one side only, so that the
    /// step is −10 mm at y = 0 and +20 mm at y = 3 m, or the other way about.
    #[test]
    fn a_step_that_changes_sign_is_level_where_it_does() {
        let planes = [
            falling((4000.0, 1000.0), 50.0, 0.01, (0.0, -1.0)),
            Plane::flat(50.0),
        ];
        let found = meets(&site(), &planes);
        assert_eq!(found[0].kind, MeetKind::Change);
        let ends = found[0].ends();
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        assert!((low + 10.0).abs() < 1e-9 && (high - 20.0).abs() < 1e-9);
        let level = found[0].level_at();
        assert_eq!(level.len(), 1);
        assert!(level[0].distance(Point::new(4000.0, 1000.0)) < 1e-9);
        let (most, at) = found[0].greatest();
        assert!((most - 20.0).abs() < 1e-9 && at.distance(Point::new(4000.0, 3000.0)) < 1e-9);
        assert!(found[0].middle().distance(Point::new(4000.0, 1500.0)) < 1e-9);
    }

    #[test]
    fn one_plane_runs_on() {
        let plane = falling((0.0, 0.0), 0.0, 0.02, (0.6, 0.8));
        let found = meets(&site(), &[plane, plane]);
        assert_eq!(found[0].kind, MeetKind::Even);
        assert!(found[0].rocking(500.0) < 1e-9);
    }
}
