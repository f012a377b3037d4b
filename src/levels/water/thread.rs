//! Follows water that runs as a thread: along an edge, or poured out at one place.
//!
//! In: where it is. Out: the outlet that takes it. Water that follows an edge is followed as a point
//! from the edge's lower end: into an area whose fall leads away from there, else along the
//! steepest edge that leads on, else out over an edge that ends there, else it stands.

use super::Outlet;
use super::ends::leads_in;
use super::joint::{Piece, STEP, TOUCH, Way};
use super::path::{Known, Slope, Tracer};
use super::side::Beyond;
use crate::geom::{Point, clip, inside};

/// Levels are compared within this, in millimetres: a piece of edge ends where a step is [`STEP`].
const ROUNDING: f64 = 1e-3;
/// Slack in levels down the fall when a strip is looked for, in millimetres.
const REACH: f64 = 2.0;

impl Tracer {
    /// Where a thread of water ends that comes to one place of a side.
    pub(super) fn leave(&mut self, area: usize, side: usize, at: Point, depth: usize) -> usize {
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
    pub(super) fn run_from(&mut self, area: usize, at: Point, depth: usize) -> usize {
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
    pub(super) fn along(&mut self, gutter: usize) -> usize {
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
    pub(super) fn at_end(&mut self, area: usize, at: Point) -> usize {
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
    pub(super) fn poured(&mut self, at: Point) -> Option<usize> {
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
    pub(super) fn stands(&mut self, area: usize) -> usize {
        let at = inside(&self.slopes[area].shape).unwrap_or_default();
        self.outlet(Outlet::Held { area, at }, at)
    }
}
