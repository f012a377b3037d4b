//! Follows the water: from each strip down to where it ends.
//!
//! In: sides, strips, joints. Out: [`Water`]. A strip's lower side is cut where what lies beyond
//! it changes; each part is followed on until an outlet takes it, or as a thread where it follows
//! an edge. Levels only ever go down, but for steps of up to a joint's least; a way that comes back
//! to where it was stands there.

use super::ends::{Reach, closed, shared, stretches, within};
use super::joint::{Joints, Piece, Way, joints};
use super::side::{Beyond, Side, sides};
use super::strip::{Axes, Strip, strips};
use super::{Drained, Outlet, Part, Water};
use crate::geom::{Point, Shape, clip};
use crate::levels::plane::Plane;
use crate::site::Site;

/// Most times that water is followed into a next area: this often for each side there is, as water
/// that does not go round comes over a side again only where it winds down, and never more often
/// than the second figure, which the stack holds.
const DEEPEST: [usize; 2] = [4, 2000];
/// Low points within this of each other are one, in millimetres.
const ONE_PLACE: f64 = 1.0;

/// An area with its fall.
pub(super) struct Slope {
    pub(super) plane: Plane,
    pub(super) shape: Shape,
    pub(super) sides: Vec<Side>,
    /// None for a level area, which has no strips.
    pub(super) axes: Option<Axes>,
    pub(super) strips: Vec<Strip>,
    /// Strips by their upper side.
    under: Vec<Vec<usize>>,
}

/// How a gutter's outlet stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Known {
    Not,
    Underway,
    Is(usize),
}

/// Follows the water of a site.
pub struct Tracer {
    pub(super) slopes: Vec<Slope>,
    pub(super) joints: Joints,
    pub(super) drains: Vec<Shape>,
    pub(super) known: Vec<Known>,
    outlets: Vec<Outlet>,
    /// A place on each outlet, from the first time that it was reached.
    places: Vec<Point>,
    reached: Vec<Reach>,
    /// Most times that water is followed into a next area.
    pub(super) deepest: usize,
}

impl Tracer {
    /// Cuts the areas into strips and the shared edges into pieces.
    pub fn new(site: &Site, planes: &[Plane], drains: &[Shape]) -> Self {
        let all: Vec<Vec<Side>> = (0..site.areas.len())
            .map(|area| sides(site, area, drains))
            .collect();
        let joints = joints(&all, planes);
        let count: usize = all.iter().map(Vec::len).sum();
        let slopes = all.into_iter().zip(planes).zip(&site.areas);
        let slopes = slopes
            .map(|((sides, plane), area)| {
                let axes = plane.downhill().map(Axes::of);
                let strips = axes.map_or_else(Vec::new, |axes| strips(&sides, &axes));
                let mut under = vec![Vec::new(); sides.len()];
                for (index, strip) in strips.iter().enumerate() {
                    under[strip.upper].push(index);
                }
                Slope {
                    plane: *plane,
                    shape: area.shape(),
                    sides,
                    axes,
                    strips,
                    under,
                }
            })
            .collect();
        Self {
            known: vec![Known::Not; joints.gutters.len()],
            slopes,
            joints,
            drains: drains.to_vec(),
            outlets: Vec::new(),
            places: Vec::new(),
            reached: Vec::new(),
            deepest: DEEPEST[1].min(DEEPEST[0] * count),
        }
    }

    /// Follows all of it, and what is poured out at some places.
    pub fn run(mut self, poured: &[Point]) -> Water {
        let mut parts = Vec::new();
        let mut areas: Vec<f64> = Vec::new();
        for area in 0..self.slopes.len() {
            let Some(axes) = self.slopes[area].axes else {
                let outlet = self.stands(area);
                let mut shape = self.slopes[area].shape.clone();
                for drain in &self.drains {
                    shape = clip::difference(&shape, drain);
                }
                add(&mut areas, outlet, clip::area(&shape));
                continue;
            };
            for index in 0..self.slopes[area].strips.len() {
                let strip = self.slopes[area].strips[index];
                let slope = &self.slopes[area];
                let on = |side: usize, s: f64| axes.on(&slope.sides[side], s);
                let lower = strip.s.map(|s| on(strip.lower, s));
                let cut: Vec<_> = self
                    .follow(area, strip.lower, lower, 0)
                    .into_iter()
                    .map(|(share, outlet)| (within(strip.s, share), outlet))
                    .collect();
                let slope = &self.slopes[area];
                for (s, outlet) in cut {
                    let upper = s.map(|s| axes.on(&slope.sides[strip.upper], s));
                    let lower = s.map(|s| axes.on(&slope.sides[strip.lower], s));
                    let run = |i: usize| axes.w(lower[i]) - axes.w(upper[i]);
                    add(&mut areas, outlet, (s[1] - s[0]) * (run(0) + run(1)) / 2.0);
                    parts.push(Part {
                        area,
                        ring: [upper[0], upper[1], lower[1], lower[0]],
                        outlet,
                    });
                }
            }
        }
        for drain in 0..self.drains.len() {
            let shape = &self.drains[drain];
            let own = self.slopes.iter();
            let own: f64 = own
                .map(|slope| clip::area(&clip::intersection(&slope.shape, shape)))
                .sum();
            if own > 0.0 {
                let at = clip::bounds(shape).map_or(Point::default(), |b| b.min.midpoint(b.max));
                let outlet = self.outlet(Outlet::Drain(drain), at);
                add(&mut areas, outlet, own);
            }
        }
        let from = poured.iter().map(|&at| self.poured(at)).collect();
        self.water(parts, areas, from)
    }

    /// Puts the result together.
    fn water(self, parts: Vec<Part>, mut areas: Vec<f64>, from: Vec<Option<usize>>) -> Water {
        areas.resize(self.outlets.len(), 0.0);
        let total: f64 = areas.iter().sum();
        let sides: Vec<&[Side]> = self.slopes.iter().map(|slope| &slope.sides[..]).collect();
        let outlets = self.outlets.iter().enumerate().map(|(index, outlet)| {
            let reached = stretches(&self.reached, index, &sides);
            let longest = reached
                .iter()
                .max_by(|a, b| a[0].distance(a[1]).total_cmp(&b[0].distance(b[1])));
            let at = match (outlet, longest) {
                (Outlet::Held { at, .. }, _) => *at,
                (Outlet::Drain(_), _) | (_, None) => self.places[index],
                (_, Some([from, to])) => from.midpoint(*to),
            };
            Drained {
                outlet: outlet.clone(),
                area_mm2: areas[index],
                share: if total > 0.0 {
                    areas[index] / total
                } else {
                    0.0
                },
                at,
                reached,
            }
        });
        Water {
            outlets: outlets.collect(),
            parts,
            area_mm2: total,
            from,
        }
    }

    /// Where water ends that comes over a stretch of a side: parts of the stretch, as fractions
    /// from its first point to its second, in order and without gaps.
    fn follow(
        &mut self,
        area: usize,
        side: usize,
        stretch: [Point; 2],
        depth: usize,
    ) -> Vec<([f64; 2], usize)> {
        let whole = [0.0, 1.0];
        let own = &self.slopes[area].sides[side];
        let t = stretch.map(|at| own.edge().fraction_near(at));
        if depth > self.deepest {
            let at = stretch[0].midpoint(stretch[1]);
            return vec![(whole, self.outlet(Outlet::Held { area, at }, at))];
        }
        if let Beyond::Outlet(outlet) = &own.beyond {
            let outlet = self.outlet(outlet.clone(), stretch[0].midpoint(stretch[1]));
            let t = [t[0].min(t[1]), t[0].max(t[1])];
            self.reached.push((outlet, area, side, t));
            return vec![(whole, outlet)];
        }
        if t[0] == t[1] {
            return vec![(whole, self.leave(area, side, stretch[0], depth))];
        }
        let mut found = Vec::new();
        for Piece { t: piece, way } in self.joints.pieces[area][side].clone() {
            let Some((ends, part)) = shared(piece, t) else {
                continue;
            };
            let own = &self.slopes[area].sides[side];
            let points = ends.map(|at| own.from + (own.to - own.from) * at);
            match way {
                Way::Along(gutter) => found.push((part, self.along(gutter))),
                Way::Stands(next) => found.push((part, self.stands(next))),
                Way::On { area, side } => {
                    for (inner, outlet) in self.enter(area, side, points, depth + 1) {
                        found.push((within(part, inner), outlet));
                    }
                }
            }
        }
        closed(found).unwrap_or_else(|| {
            vec![(
                whole,
                self.leave(area, side, stretch[0].midpoint(stretch[1]), depth),
            )]
        })
    }

    /// Where water ends that comes into an area over a stretch of one of its sides.
    fn enter(
        &mut self,
        area: usize,
        side: usize,
        stretch: [Point; 2],
        depth: usize,
    ) -> Vec<([f64; 2], usize)> {
        let slope = &self.slopes[area];
        let Some(axes) = slope.axes else {
            return vec![([0.0, 1.0], self.stands(area))];
        };
        let s = stretch.map(|at| axes.s(at));
        let under = slope.under[side].clone();
        let mut found = Vec::new();
        for strip in under {
            let slope = &self.slopes[area];
            let Strip { s: span, lower, .. } = slope.strips[strip];
            let Some((ends, part)) = shared(span, s) else {
                continue;
            };
            let points = ends.map(|at| axes.on(&slope.sides[lower], at));
            for (inner, outlet) in self.follow(area, lower, points, depth) {
                found.push((within(part, inner), outlet));
            }
        }
        closed(found).unwrap_or_else(|| {
            let at = stretch[0].midpoint(stretch[1]);
            vec![([0.0, 1.0], self.run_from(area, at, depth))]
        })
    }

    /// The index of an outlet, new or known.
    pub(super) fn outlet(&mut self, outlet: Outlet, at: Point) -> usize {
        let same = |known: &Outlet| match (known, &outlet) {
            (Outlet::Held { at: a, .. }, Outlet::Held { at: b, .. }) => a.distance(*b) <= ONE_PLACE,
            (known, outlet) => known == outlet,
        };
        match self.outlets.iter().position(same) {
            Some(index) => index,
            None => {
                self.outlets.push(outlet);
                self.places.push(at);
                self.outlets.len() - 1
            }
        }
    }
}

/// Adds to the area of an outlet.
fn add(areas: &mut Vec<f64>, outlet: usize, area: f64) {
    if areas.len() <= outlet {
        areas.resize(outlet + 1, 0.0);
    }
    areas[outlet] += area;
}
