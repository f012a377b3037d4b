//! The best layout: which way courses run, where they start, how they are staggered.
//!
//! In: the panel and the rules, the base outline, the frame of the start corner. Out: the layout
//! that buys the fewest panels, of these trims the fewest, of these has the widest narrowest
//! piece, and what that gains over the layout as the job states it. Millimetres.
//!
//! Tried are courses along the start edge and square to it; shares of a panel as stagger that keep
//! the least stagger; starts at even steps, and where a side of the base falls on a joint. All of
//! these together while few enough; else first the starts across the courses, then of the best of
//! them the staggers and the starts along. The search ends after a number of layouts that depends
//! on the base alone, so that every machine finds the same. A layout with cross joints too close
//! is never taken for one without. Courses stated as laid keep their direction and start, and
//! only the stagger of the others is searched.

use super::{Layout, LayoutRule, PanelsSpec, cross_joints, lay, purchase};
use crate::geom::{Frame, Shape, clip};

/// Work that the search may take, in pieces trimmed.
const WORK: f64 = 40_000.0;
/// Work of one layout beside its trimmed pieces.
const FIXED_WORK: f64 = 20.0;
/// Fewest and most layouts tried.
const TRIED: [f64; 2] = [48.0, 800.0];
/// Shares of a panel's cell that courses are staggered by.
const STAGGERS: [(f64, f64); 7] = [
    (1.0, 2.0),
    (1.0, 3.0),
    (2.0, 3.0),
    (1.0, 4.0),
    (3.0, 4.0),
    (2.0, 5.0),
    (3.0, 5.0),
];
/// Even steps of the start along and across.
const STEPS: [usize; 2] = [6, 6];
/// Most sides of the base that a joint is laid on, each way.
const SIDES: usize = 8;
/// Lengths within this are one, in millimetres.
const SAME: f64 = 0.5;

/// Which way courses run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Along the start edge.
    Along,
    /// Square to it.
    Square,
}

/// Where and how courses are laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laying {
    /// Which way courses run.
    pub run: Run,
    /// How far the first panel's corner lies from the start corner, along the courses and across.
    pub shift: [f64; 2],
    /// Shift of each course against the one before.
    pub stagger: f64,
}

/// What a layout is judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// Pairs of cross joints too close.
    pub faults: usize,
    /// Panels to buy.
    pub buy: usize,
    /// Pieces trimmed.
    pub trimmed: usize,
    /// Narrowest piece, in millimetres.
    pub narrowest_mm: f64,
}

/// What a search found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Best {
    /// The layout taken.
    pub laying: Laying,
    /// What it comes to.
    pub score: Score,
    /// What the layout as stated comes to.
    pub fixed: Score,
    /// How many layouts were tried.
    pub tried: usize,
}

impl Score {
    fn better(&self, other: &Self) -> bool {
        let key = |score: &Self| (score.faults, score.buy, score.trimmed);
        match key(self).cmp(&key(other)) {
            std::cmp::Ordering::Equal => self.narrowest_mm > other.narrowest_mm + SAME,
            order => order.is_lt(),
        }
    }
}

/// Lays the base as `spec.layout` says: as stated, or the best that a search finds.
pub fn lay_by_rule(spec: &PanelsSpec, base: &Shape, frame: &Frame) -> (Layout, Option<Best>) {
    if spec.layout == LayoutRule::Fixed {
        return (lay(spec, base, frame), None);
    }
    let found = best(spec, base, frame);
    (laid(spec, base, frame, found.laying), Some(found))
}

/// Lays the base in one of the ways that are searched.
pub fn laid(spec: &PanelsSpec, base: &Shape, frame: &Frame, laying: Laying) -> Layout {
    let spec = PanelsSpec {
        stagger: laying.stagger,
        ..spec.clone()
    };
    lay(&spec, base, &moved(frame, laying))
}

/// What a way of laying the base comes to.
pub fn score(spec: &PanelsSpec, base: &Shape, frame: &Frame, laying: Laying) -> Score {
    let layout = laid(spec, base, frame, laying);
    let layouts = std::slice::from_ref(&layout);
    Score {
        faults: cross_joints(layouts, spec).under_limit,
        buy: purchase(layouts, &spec.panel).buy,
        trimmed: layout.pieces.len() - layout.whole(),
        narrowest_mm: layout.narrowest_mm().unwrap_or(0.0),
    }
}

fn moved(frame: &Frame, laying: Laying) -> Frame {
    let (u, v) = match laying.run {
        Run::Along => (frame.u, frame.v),
        Run::Square => (frame.v, frame.u),
    };
    Frame {
        origin: frame.origin + u * laying.shift[0] + v * laying.shift[1],
        u,
        v,
    }
}

/// The best layout of the base.
pub fn best(spec: &PanelsSpec, base: &Shape, frame: &Frame) -> Best {
    let stated = Laying {
        run: Run::Along,
        shift: [0.0, 0.0],
        stagger: spec.stagger,
    };
    let fixed = score(spec, base, frame, stated);
    let mut search = Search {
        spec,
        base,
        frame,
        best: Best {
            laying: stated,
            score: fixed,
            fixed,
            tried: 1,
        },
        limit: limit(spec, base),
    };
    let staggers = staggers(spec);
    if !spec.course_starts.is_empty() {
        for stagger in staggers {
            search.consider(Laying { stagger, ..stated });
        }
        return search.best;
    }
    let starts = [Run::Along, Run::Square].map(|run| (run, starts(spec, base, frame, run)));
    let all: usize = starts
        .iter()
        .map(|(_, [along, across])| along.len() * across.len())
        .sum();
    if all * staggers.len() < search.limit {
        for (run, [along, across]) in &starts {
            for &v in across {
                for &u in along {
                    for &stagger in &staggers {
                        search.consider(Laying {
                            run: *run,
                            shift: [u, v],
                            stagger,
                        });
                    }
                }
            }
        }
        return search.best;
    }
    let mut rows: Vec<(Score, Laying, &Vec<f64>)> = Vec::new();
    for (run, [along, across]) in &starts {
        for &v in across {
            let laying = Laying {
                run: *run,
                shift: [0.0, v],
                stagger: staggers[0],
            };
            if let Some(score) = search.consider(laying) {
                rows.push((score, laying, along));
            }
        }
    }
    rows.sort_by(|a, b| {
        let key = |score: &Score| (score.faults, score.buy, score.trimmed);
        key(&a.0)
            .cmp(&key(&b.0))
            .then(b.0.narrowest_mm.total_cmp(&a.0.narrowest_mm))
    });
    // every start of the best rows in turn, so that the limit cuts off the worst
    for (_, row, along) in rows {
        for &u in along {
            for &stagger in &staggers {
                let shift = [u, row.shift[1]];
                search.consider(Laying {
                    shift,
                    stagger,
                    ..row
                });
            }
        }
    }
    search.best
}

struct Search<'a> {
    spec: &'a PanelsSpec,
    base: &'a Shape,
    frame: &'a Frame,
    best: Best,
    limit: usize,
}

impl Search<'_> {
    fn consider(&mut self, laying: Laying) -> Option<Score> {
        if self.best.tried >= self.limit {
            return None;
        }
        self.best.tried += 1;
        let score = score(self.spec, self.base, self.frame, laying);
        if score.better(&self.best.score) {
            self.best.laying = laying;
            self.best.score = score;
        }
        Some(score)
    }
}

/// How many layouts may be tried: fewer, the more pieces the outline trims.
fn limit(spec: &PanelsSpec, base: &Shape) -> usize {
    let rings = clip::rings(base);
    let around: f64 = rings
        .flat_map(|ring| ring.lines())
        .map(|line| libm::hypot(line.dx(), line.dy()))
        .sum();
    let trimmed = around / spec.panel.length.min(spec.panel.width);
    (WORK / (FIXED_WORK + trimmed)).clamp(TRIED[0], TRIED[1]) as usize
}

/// The stated stagger and the shares of a cell, those that keep the least stagger.
fn staggers(spec: &PanelsSpec) -> Vec<f64> {
    let cell = spec.panel.length + spec.panel.joint;
    let mut staggers: Vec<f64> = Vec::new();
    for stagger in std::iter::once(spec.stagger).chain(STAGGERS.map(|(a, b)| cell * a / b)) {
        let known = staggers.iter().any(|known| (known - stagger).abs() < SAME);
        if !known && stagger.min(cell - stagger) >= spec.min_stagger - SAME {
            staggers.push(stagger);
        }
    }
    if staggers.is_empty() {
        staggers.push(spec.stagger);
    }
    staggers
}

/// Starts along the courses and across them: at even steps, and where a side falls on a joint.
fn starts(spec: &PanelsSpec, base: &Shape, frame: &Frame, run: Run) -> [Vec<f64>; 2] {
    let turned = moved(
        frame,
        Laying {
            run,
            shift: [0.0, 0.0],
            stagger: 0.0,
        },
    );
    let panel = &spec.panel;
    let cells = [panel.length + panel.joint, panel.width + panel.joint];
    let local = super::lay::to_local(base, &turned);
    let sides: Vec<geo::Line<f64>> = clip::rings(&local).flat_map(|ring| ring.lines()).collect();
    let extremes = clip::bounds(&local).map_or([[0.0; 2]; 2], |bounds| {
        [[bounds.min.x, bounds.max.x], [bounds.min.y, bounds.max.y]]
    });
    [0, 1].map(|axis| {
        let cell = cells[axis];
        let mut places: Vec<f64> = (0..STEPS[axis])
            .map(|step| -cell * step as f64 / STEPS[axis] as f64)
            .collect();
        let mut on_sides: Vec<(f64, f64)> = sides
            .iter()
            .filter_map(|side| {
                let (across, along) = match axis {
                    0 => (side.dx(), side.dy()),
                    _ => (side.dy(), side.dx()),
                };
                let at = if axis == 0 {
                    side.start.x
                } else {
                    side.start.y
                };
                (across.abs() < SAME && along.abs() > SAME).then_some((along.abs(), at))
            })
            .chain(extremes[axis].map(|at| (0.0, at)))
            .collect();
        // the longest sides first
        on_sides.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.total_cmp(&b.1)));
        for (_, at) in on_sides {
            let shift = at.rem_euclid(cell) - cell;
            let near = |known: &f64| (known - shift).abs() % cell < SAME;
            if places.len() < STEPS[axis] + SIDES && !places.iter().any(near) {
                places.push(shift);
            }
        }
        places
    })
}
