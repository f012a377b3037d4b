//! Follows the water: from each strip down to where it ends.
//!
//! In: sides, strips, joints. Out: [`Water`]. A strip's lower side is cut where what lies beyond
//! it changes; each part is followed on until an outlet takes it. Water that follows an edge is
//! followed as a point from the edge's lower end: into an area whose fall leads away from there,
//! else along the steepest edge that leads on, else out over an edge that ends there, else it
//! stands. Levels only ever go down, but for steps of up to [`STEP`]; a way that comes back to
//! where it was stands there.

use geo::InteriorPoint;

use super::ends::{Reach, closed, leads_in, shared, stretches, within};
use super::joint::{Joints, Piece, STEP, TOUCH, Way, joints};
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
/// Levels are compared within this, in millimetres: a piece of edge ends where a step is [`STEP`].
const ROUNDING: f64 = 1e-3;
/// Slack in levels down the fall when a strip is looked for, in millimetres.
const REACH: f64 = 2.0;

/// An area with its fall.
struct Slope {
    plane: Plane,
    shape: Shape,
    sides: Vec<Side>,
    /// None for a level area, which has no strips.
    axes: Option<Axes>,
    strips: Vec<Strip>,
    /// Strips by their upper side.
    under: Vec<Vec<usize>>,
}

/// How a gutter's outlet stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Known {
    Not,
    Underway,
    Is(usize),
}

/// Follows the water of a site.
pub struct Tracer {
    slopes: Vec<Slope>,
    joints: Joints,
    drains: Vec<Shape>,
    known: Vec<Known>,
    outlets: Vec<Outlet>,
    /// A place on each outlet, from the first time that it was reached.
    places: Vec<Point>,
    reached: Vec<Reach>,
    /// Most times that water is followed into a next area.
    deepest: usize,
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

    /// Where a thread of water ends that comes to one place of a side.
    fn leave(&mut self, area: usize, side: usize, at: Point, depth: usize) -> usize {
        if depth > self.deepest {
            return self.outlet(Outlet::Held { area, at }, at);
        }
        let own = &self.slopes[area].sides[side];
        let next = match &own.beyond {
            Beyond::Outlet(outlet) => {
                let outlet = outlet.clone();
                return self.outlet(outlet, at);
            }
            Beyond::Area(next) => *next,
        };
        let t = own.edge().fraction_near(at);
        let gap = |piece: &Piece| (piece.t[0] - t).max(t - piece.t[1]).max(0.0);
        let nearest = self.joints.pieces[area][side]
            .iter()
            .min_by(|a, b| gap(a).total_cmp(&gap(b)));
        match nearest.map(|piece| piece.way) {
            Some(Way::Along(gutter)) => self.along(gutter),
            Some(Way::Stands(next)) => self.stands(next),
            Some(Way::On { area, .. }) => self.run_from(area, at, depth + 1),
            None => self.run_from(next, at, depth + 1),
        }
    }

    /// Where a thread of water ends that runs down an area from a place in it or on its rim.
    fn run_from(&mut self, area: usize, at: Point, depth: usize) -> usize {
        let slope = &self.slopes[area];
        let Some(axes) = slope.axes else {
            return self.stands(area);
        };
        let (s, w) = (axes.s(at), axes.w(at));
        // The strip that holds the place with most of its way still before it.
        let best = slope
            .strips
            .iter()
            .filter_map(|strip| {
                let out = (strip.s[0] - s).max(s - strip.s[1]).max(0.0);
                let inside = s.clamp(strip.s[0], strip.s[1]);
                let upper = axes.w(axes.on(&slope.sides[strip.upper], inside));
                let lower = axes.on(&slope.sides[strip.lower], inside);
                let way = axes.w(lower) - w;
                let holds = out <= TOUCH && w >= upper - REACH && way >= -REACH;
                holds.then_some((out > 1e-3, way, strip.lower, lower))
            })
            .max_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)));
        match best {
            Some((_, _, side, place)) => self.leave(area, side, place, depth),
            None => self.outlet(Outlet::Held { area, at }, at),
        }
    }

    /// Where the water of a gutter ends.
    fn along(&mut self, gutter: usize) -> usize {
        match self.known[gutter] {
            Known::Is(outlet) => return outlet,
            Known::Underway => {
                let g = self.joints.gutters[gutter];
                return self.outlet(
                    Outlet::Held {
                        area: g.area,
                        at: g.to,
                    },
                    g.to,
                );
            }
            Known::Not => self.known[gutter] = Known::Underway,
        }
        let g = self.joints.gutters[gutter];
        let outlet = if g.fall > 0.0 {
            self.at_end(g.area, g.to)
        } else {
            let at = g.from.midpoint(g.to);
            self.outlet(Outlet::Held { area: g.area, at }, at)
        };
        self.known[gutter] = Known::Is(outlet);
        outlet
    }

    /// Where water ends that came along an edge to its lower end, on the surface of `area`.
    fn at_end(&mut self, area: usize, at: Point) -> usize {
        let level = self.slopes[area].plane.level_at(at);
        let below = |slope: &Slope| slope.plane.level_at(at) <= level + STEP + ROUNDING;
        let touching: Vec<(usize, usize)> = self
            .slopes
            .iter()
            .enumerate()
            .filter(|(_, slope)| below(slope))
            .flat_map(|(index, slope)| {
                let sides = slope.sides.iter().enumerate();
                let near = sides.filter(|(_, side)| side.edge().distance(at) <= TOUCH);
                near.map(move |(side, _)| (index, side)).collect::<Vec<_>>()
            })
            .collect();
        let outlet_of = |tracer: &Self, word: &str| {
            touching.iter().find_map(|&(area, side)| {
                match &tracer.slopes[area].sides[side].beyond {
                    Beyond::Outlet(outlet) if outlet.word() == word => Some(outlet.clone()),
                    _ => None,
                }
            })
        };
        if let Some(drain) = outlet_of(self, "drain") {
            return self.outlet(drain, at);
        }
        let mut areas: Vec<usize> = touching.iter().map(|(area, _)| *area).collect();
        areas.dedup();
        let away = areas.iter().find(|&&index| {
            let slope = &self.slopes[index];
            slope
                .axes
                .is_some_and(|axes| leads_in(&slope.sides, at, axes.downhill))
        });
        if let Some(&index) = away {
            return self.run_from(index, at, 0);
        }
        if let Some(&index) = areas
            .iter()
            .find(|&&index| self.slopes[index].axes.is_none())
        {
            return self.stands(index);
        }
        let gutters = self.joints.gutters.iter().enumerate();
        let next = gutters
            .filter(|(_, g)| g.fall > 0.0 && g.from.distance(at) <= TOUCH)
            // A piece of edge shorter than that may end here rather than start.
            .filter(|(_, g)| g.from.distance(at) < g.to.distance(at))
            .filter(|(_, g)| below(&self.slopes[g.area]))
            .max_by(|a, b| a.1.fall.total_cmp(&b.1.fall))
            .map(|(index, _)| index);
        if let Some(gutter) = next {
            return self.along(gutter);
        }
        let out = ["open", "flush", "hole", "wall"]
            .iter()
            .find_map(|word| outlet_of(self, word));
        self.outlet(out.unwrap_or(Outlet::Held { area, at }), at)
    }

    /// Where water ends that is poured out on the paving; none when the place is not on it.
    fn poured(&mut self, at: Point) -> Option<usize> {
        let on = |slope: &Slope| clip::contains(&slope.shape, at);
        if let Some(drain) = self
            .drains
            .iter()
            .position(|drain| clip::contains(drain, at))
        {
            return Some(self.outlet(Outlet::Drain(drain), at));
        }
        let area = self.slopes.iter().position(on)?;
        let rim = |slope: &Slope| {
            let mut sides = slope.sides.iter();
            sides.any(|side| side.edge().distance(at) <= TOUCH)
        };
        Some(if rim(&self.slopes[area]) {
            self.at_end(area, at)
        } else {
            self.run_from(area, at, 0)
        })
    }

    /// The outlet of a level area: its water stands on it.
    fn stands(&mut self, area: usize) -> usize {
        let inside = self.slopes[area].shape.interior_point();
        let at = inside.map_or(Point::default(), |p| Point::new(p.x(), p.y()));
        self.outlet(Outlet::Held { area, at }, at)
    }

    /// The index of an outlet, new or known.
    fn outlet(&mut self, outlet: Outlet, at: Point) -> usize {
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
