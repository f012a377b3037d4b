//! Cut and fill: the volume between the ground and the formation over the dig.
//!
//! In: the dig outline in parts of one finish plane and build-up each, flattened, in millimetres,
//! and the ground if spot levels are known. Out: cut and fill in cubic metres, depths in
//! millimetres with the places of the least and the most, formation levels, and the share of the
//! dig where the ground is extrapolated. The difference of two planes is integrated exactly over
//! each ground facet, split along the line where it is zero (triangulated-surface volume by
//! prisms). Without spots the ground is taken at finish level. Side slopes of the dig are left
//! out: its sides are upright.

use super::facet::{clip, clip_to, integral};
use super::ground::Ground;
use super::outline::{is_in, rings};
use super::plane::Plane;
use super::spec::BuildUp;
use crate::geom::{Point, Shape};

const MM3_PER_M3: f64 = 1e9;

/// A part of the dig under one finish plane: an area's paving and the ground that extends its
/// edges.
#[derive(Clone, Debug)]
pub struct DigPart {
    /// Its outline, flattened, in millimetres. Parts do not overlap.
    pub shape: Shape,
    /// The finish plane, produced beyond the paving.
    pub finish: Plane,
    /// The layers down to the formation.
    pub build_up: BuildUp,
}

/// A value and where it is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// The value, in millimetres.
    pub value: f64,
    /// Where.
    pub at: Point,
}

/// The volumes and depths of the dig.
#[derive(Clone, Debug, PartialEq)]
pub struct Earthwork {
    /// Area of the parts, in square millimetres.
    pub area_mm2: f64,
    /// Least and greatest formation level.
    pub formation: [Extreme; 2],
    /// Least and greatest depth, ground less formation; negative where there is fill.
    pub depth: [Extreme; 2],
    /// Mean depth over the dig, in millimetres.
    pub depth_mean: f64,
    /// Cut, in cubic metres as it lies in the ground.
    pub cut_m3: f64,
    /// Fill, in cubic metres in place; `None` without spot levels.
    pub fill_m3: Option<f64>,
    /// How much of the dig lies where the formation is above the ground, in square millimetres;
    /// `None` without spot levels.
    pub fill_area_mm2: Option<f64>,
    /// Share of the dig, 0 to 1, where the ground is extrapolated; `None` without spot levels.
    pub extrapolated_share: Option<f64>,
}

impl Earthwork {
    /// Spoil to cart away, loose, in cubic metres: cut and its swell (a ratio).
    pub fn spoil_m3(&self, swell: f64) -> f64 {
        self.cut_m3 * (1.0 + swell)
    }

    /// Loads of spoil of `load` cubic metres each, rounded up.
    pub fn loads(&self, swell: f64, load: f64) -> u64 {
        loads(self.spoil_m3(swell), load)
    }
}

/// Whole loads that a volume fills; a millionth of a load over is not a load.
pub fn loads(volume: f64, load: f64) -> u64 {
    let count = volume / load;
    if count.is_finite() {
        (count - 1e-6).ceil().max(0.0) as u64
    } else {
        0
    }
}

/// The volumes and depths of a dig; `None` when its parts have no area.
pub fn earthwork(parts: &[DigPart], ground: Option<&Ground>) -> Option<Earthwork> {
    let mut sum = Sum::default();
    let corners: Vec<Point> = parts
        .iter()
        .flat_map(|part| rings(&part.shape))
        .flatten()
        .collect();
    let facets = ground.map(|ground| ground.facets(reach(ground, &corners)));
    for part in parts {
        let formation = part.finish.formation(part.build_up);
        for ring in rings(&part.shape) {
            for &point in &ring {
                sum.formation
                    .take(formation.level_at(point), point, |_| true);
            }
            let Some(facets) = &facets else {
                sum.add(part, &ring, &part.finish, &formation, false);
                continue;
            };
            for facet in facets
                .iter()
                .filter(|facet| boxes_meet(&ring, &facet.corners))
            {
                let piece = clip_to(&ring, facet);
                sum.add(part, &piece, &facet.plane, &formation, facet.extrapolated);
            }
        }
    }
    if sum.area <= 0.0 {
        return None;
    }
    Some(Earthwork {
        area_mm2: sum.area,
        formation: [sum.formation.least?, sum.formation.most?],
        depth: [sum.depth.least?, sum.depth.most?],
        depth_mean: sum.volume / sum.area,
        cut_m3: sum.cut.max(0.0) / MM3_PER_M3,
        fill_m3: ground.map(|_| (-sum.fill).max(0.0) / MM3_PER_M3),
        fill_area_mm2: ground.map(|_| sum.fill_area.max(0.0)),
        extrapolated_share: ground.map(|_| (sum.extrapolated / sum.area).clamp(0.0, 1.0)),
    })
}

#[derive(Default)]
struct Range {
    least: Option<Extreme>,
    most: Option<Extreme>,
}

impl Range {
    /// Takes a value in, if it goes further than those so far and `counts`.
    fn take(&mut self, value: f64, at: Point, counts: impl Fn(Point) -> bool) {
        let less = self.least.is_none_or(|least| value < least.value);
        let more = self.most.is_none_or(|most| value > most.value);
        if !(less || more) || !counts(at) {
            return;
        }
        let extreme = Some(Extreme { value, at });
        if less {
            self.least = extreme;
        }
        if more {
            self.most = extreme;
        }
    }
}

#[derive(Default)]
struct Sum {
    area: f64,
    extrapolated: f64,
    volume: f64,
    cut: f64,
    fill: f64,
    fill_area: f64,
    formation: Range,
    depth: Range,
}

impl Sum {
    /// Adds one ring of a part under one ground plane.
    fn add(
        &mut self,
        part: &DigPart,
        ring: &[Point],
        ground: &Plane,
        formation: &Plane,
        extrapolated: bool,
    ) {
        let depth = |point: Point| ground.level_at(point) - formation.level_at(point);
        let (area, volume) = integral(ring, depth);
        self.area += area;
        self.volume += volume;
        if extrapolated {
            self.extrapolated += area;
        }
        self.cut += integral(&clip(ring, depth), depth).1;
        let (fill_area, fill) = integral(&clip(ring, |point| -depth(point)), depth);
        self.fill += fill;
        // Where ground and formation are one surface there is no fill, whatever its area.
        if fill != 0.0 {
            self.fill_area += fill_area;
        }
        for &point in ring {
            // Clipping a ring that is not convex leaves corners outside it.
            self.depth
                .take(depth(point), point, |at| is_in(&part.shape, at));
        }
    }
}

/// How far facets must reach to cover the ground, the spots and these corners.
pub(super) fn reach(ground: &Ground, corners: &[Point]) -> f64 {
    let all = || {
        corners
            .iter()
            .copied()
            .chain(ground.spots().iter().map(|spot| spot.at))
    };
    let (low, high) = bounds(all());
    low.distance(high) + 1000.0
}

fn bounds(points: impl Iterator<Item = Point>) -> (Point, Point) {
    let far = f64::INFINITY;
    points.fold(
        (Point::new(far, far), Point::new(-far, -far)),
        |(low, high), p| {
            (
                Point::new(low.x.min(p.x), low.y.min(p.y)),
                Point::new(high.x.max(p.x), high.y.max(p.y)),
            )
        },
    )
}

fn boxes_meet(a: &[Point], b: &[Point]) -> bool {
    let ((a_low, a_high), (b_low, b_high)) = (bounds(a.iter().copied()), bounds(b.iter().copied()));
    a_low.x <= b_high.x && b_low.x <= a_high.x && a_low.y <= b_high.y && b_low.y <= a_high.y
}

#[cfg(test)]
mod tests;
