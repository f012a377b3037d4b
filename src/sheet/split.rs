//! Plans too large for the paper: windows along match lines.
//!
//! In: the whole plan (site millimetres) and how much of the site one sheet holds. Out: one plan
//! per window, in rows from the top left, each with its match lines; and the whole plan without
//! what is only legible on the parts. Windows lap over one another: what lies near a match line
//! stands on both sheets. Parts in which nothing is dug are left out.

use std::sync::Arc;

use super::content::FurtherSheet;
use super::dimension::Origin;
use super::from_plan::shape_rings;
use super::model::{MatchLine, Piece, PlanModel, Service, SiteChain, Window};
use super::{key_plan, part_chains};
use crate::geom::{Bounds, Point, Shape, clip};
use crate::language::{Languages, say};
use crate::units::System;

/// Most windows along one side of a grid: what is longer is no plan.
const MOST_COUNT: f64 = 10_000.0;

/// The grid of windows over a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Lowest and highest corner of what is split.
    pub(super) bounds: [Point; 2],
    /// Columns and rows.
    pub count: (usize, usize),
    /// How far a window reaches past its match lines.
    pub(super) lap: f64,
}

/// The grid with the fewest windows of at most that breadth and height, laps included.
pub fn grid(bounds: [Point; 2], (width, height): (f64, f64), lap: f64) -> Grid {
    let [low, high] = bounds;
    let count = |whole: f64, held: f64| {
        if whole <= held {
            return 1;
        }
        (whole / (held - 2.0 * lap).max(lap))
            .ceil()
            .clamp(1.0, MOST_COUNT) as usize
    };
    Grid {
        bounds,
        count: (count(high.x - low.x, width), count(high.y - low.y, height)),
        lap,
    }
}

impl Grid {
    /// Number of its parts.
    pub fn parts(&self) -> usize {
        self.count.0 * self.count.1
    }

    /// Name of a part: its row in letters, its column as a number.
    pub(super) fn name(&self, column: usize, row: usize) -> String {
        let letter = |index: usize| char::from(b'A' + (index % 26) as u8);
        // After Z come AA, AB …
        let before = (row >= 26).then(|| letter(row / 26 - 1));
        let before = before.map(String::from).unwrap_or_default();
        format!("{before}{}{}", letter(row), column + 1)
    }

    /// The lowest and highest corner of a part, without its laps; rows count from the top.
    pub(super) fn cell(&self, column: usize, row: usize) -> [Point; 2] {
        let [low, high] = self.bounds;
        let (wide, tall) = (
            (high.x - low.x) / self.count.0 as f64,
            (high.y - low.y) / self.count.1 as f64,
        );
        let (x, y) = (low.x + wide * column as f64, high.y - tall * row as f64);
        [Point::new(x, y - tall), Point::new(x + wide, y)]
    }

    /// A part with its laps and the match lines at its inner sides.
    fn window(&self, column: usize, row: usize, languages: Languages) -> Window {
        let [low, high] = self.cell(column, row);
        let lap = self.lap;
        let inner = [
            column > 0,
            column + 1 < self.count.0,
            row + 1 < self.count.1,
            row > 0,
        ];
        let reach = inner.map(|inside| if inside { lap } else { 0.0 });
        let far = [
            Point::new(low.x - reach[0], low.y - reach[2]),
            Point::new(high.x + reach[1], high.y + reach[3]),
        ];
        let sides = [
            (low.x, low.x, far[0].y, far[1].y),
            (high.x, high.x, far[0].y, far[1].y),
            (far[0].x, far[1].x, low.y, low.y),
            (far[0].x, far[1].x, high.y, high.y),
        ];
        let neighbours = [
            (column.wrapping_sub(1), row),
            (column + 1, row),
            (column, row + 1),
            (column, row.wrapping_sub(1)),
        ];
        let lines = (0..4)
            .filter(|side| inner[*side])
            .map(|side| {
                let (x0, x1, y0, y1) = sides[side];
                let (column, row) = neighbours[side];
                MatchLine {
                    ends: [Point::new(x0, y0), Point::new(x1, y1)],
                    words: say!(
                        languages,
                        "Match line: part {name}",
                        name = self.name(column, row)
                    ),
                }
            })
            .collect();
        Window {
            corners: far,
            open: inner.map(|inside| !inside),
            lines,
        }
    }
}

/// The further sheets of the parts.
pub fn parts(plan: &PlanModel, grid: &Grid, system: System) -> Vec<FurtherSheet> {
    let languages = plan.languages;
    if grid.parts() == 1 {
        return vec![FurtherSheet {
            name: say!(languages, "Plan at the scale of the work"),
            plan: Some(Arc::new(windowed(
                plan,
                &bare(plan),
                grid.window(0, 0, languages),
            ))),
            ..FurtherSheet::default()
        }];
    }
    let bare = bare(plan);
    let mut sheets = Vec::new();
    for row in 0..grid.count.1 {
        for column in 0..grid.count.0 {
            let part = windowed(plan, &bare, grid.window(column, row, languages));
            if part.dig.is_empty() {
                continue;
            }
            let name = grid.name(column, row);
            sheets.push(FurtherSheet {
                name: say!(languages, "Plan, part {name}", name),
                blocks: vec![key_plan::block(plan, &part, grid, (column, row), system)],
                plan: Some(Arc::new(part)),
                ..FurtherSheet::default()
            });
        }
    }
    sheets
}

/// The whole plan at a small scale: outlines, structures, corner letters, falls and overall
/// dimensions, with the match lines and the names of the parts.
pub fn overview(plan: &PlanModel, grid: &Grid) -> PlanModel {
    let mut shown = plan.clone();
    shown.pieces.clear();
    shown.courses.clear();
    shown.rails.clear();
    shown.rail_words = None;
    shown.edging.clear();
    shown.nails.clear();
    shown.radii.clear();
    shown.chains = shown.chains.iter().filter_map(overall).collect();
    shown.corners.iter_mut().for_each(|c| c.levels.clear());
    for area in &mut shown.areas {
        area.pavers.clear();
        area.patch.clear();
    }
    let [low, high] = grid.bounds;
    for column in 1..grid.count.0 {
        let x = grid.cell(column, 0)[0].x;
        shown.match_lines.push(MatchLine {
            ends: [Point::new(x, low.y), Point::new(x, high.y)],
            words: String::new(),
        });
    }
    for row in 1..grid.count.1 {
        let y = grid.cell(0, row)[1].y;
        shown.match_lines.push(MatchLine {
            ends: [Point::new(low.x, y), Point::new(high.x, y)],
            words: String::new(),
        });
    }
    if grid.parts() == 1 {
        return shown;
    }
    for row in 0..grid.count.1 {
        for column in 0..grid.count.0 {
            let [a, b] = grid.cell(column, row);
            shown.parts.push((grid.name(column, row), a.midpoint(b)));
        }
    }
    shown
}

/// What an overview shows of a chain: a short one whole, of running dimensions the farthest where
/// they count from one end to the other.
fn overall(chain: &SiteChain) -> Option<SiteChain> {
    const MOST: usize = 3;
    let end = chain.words.len();
    if end <= MOST {
        return Some(chain.clone());
    }
    let farthest = match chain.origin? {
        Origin::At(0) => end - 1,
        Origin::At(zero) if zero == end => 0,
        _ => return None,
    };
    Some(SiteChain {
        features: vec![chain.features[0], chain.features[end]],
        words: vec![chain.words[farthest].clone()],
        origin: None,
        ..chain.clone()
    })
}

/// The plan without what every part has of its own: copied for each part, so that many parts of a
/// large plan take no more room than the plan.
fn bare(plan: &PlanModel) -> PlanModel {
    let mut bare = plan.clone();
    bare.dig.clear();
    bare.base.clear();
    bare.pieces.clear();
    bare.edging.clear();
    bare.nails.clear();
    bare.chains.clear();
    bare.stations.clear();
    bare.setout = None;
    bare.earth = None;
    for area in &mut bare.areas {
        area.rings.clear();
        area.pavers.clear();
    }
    bare
}

/// The plan cut to a window; `bare` is what no window cuts.
fn windowed(plan: &PlanModel, bare: &PlanModel, window: Window) -> PlanModel {
    let [low, high] = window.corners;
    let frame = clip::shape_of_points(&[
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]);
    let inside = |p: &Point| p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y;
    let rings = |rings: &[Vec<Point>]| -> Vec<Vec<Point>> { cut(rings, &frame, &inside) };
    let mut part = bare.clone();
    part.dig = rings(&plan.dig);
    part.base = rings(&plan.base);
    for (area, whole) in part.areas.iter_mut().zip(&plan.areas) {
        area.rings = rings(&whole.rings);
        let pavers = whole.pavers.iter();
        let near = pavers.filter(|ring| ring.iter().any(inside));
        area.pavers = near.cloned().collect();
        if !area.patch.iter().any(inside) {
            area.patch.clear();
        }
    }
    part.areas.retain(|area| !area.rings.is_empty());
    let pieces = plan.pieces.iter().filter_map(|piece| {
        let rings = rings(&piece.rings);
        let points: Vec<Point> = rings.iter().flatten().copied().collect();
        if points.is_empty() {
            return None;
        }
        let middle = if inside(&piece.middle) {
            piece.middle
        } else {
            let sum = points
                .iter()
                .fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
            let count = points.len() as f64;
            Point::new(sum.0 / count, sum.1 / count)
        };
        Some(Piece {
            rings,
            middle,
            mark: piece.mark.clone(),
            ..*piece
        })
    });
    part.pieces = pieces.collect();
    let lines = |lines: &[(Point, Point)]| clip::clip_lines(lines, &frame);
    part.rails = lines(&plan.rails.iter().map(|[a, b]| (*a, *b)).collect::<Vec<_>>())
        .into_iter()
        .map(|(a, b)| [a, b])
        .collect();
    part.courses.retain_mut(|course| {
        let here = part.pieces.iter().any(|p| p.course == course.number);
        let far = course.at + course.along * 1e6;
        let met = lines(&[(course.at, far)]);
        let Some((entry, _)) = met.first().filter(|_| here) else {
            return false;
        };
        if !inside(&course.at) {
            course.at = *entry;
            course.words = course.number.to_string();
        }
        true
    });
    let edging = plan.edging.iter();
    part.edging = edging.filter(|r| r.iter().any(inside)).cloned().collect();
    part.nails = plan.nails.iter().copied().filter(inside).collect();
    part.corners.retain(|corner| inside(&corner.at));
    part.radii.retain_mut(|radius| {
        let here = radius.places.first().is_some_and(|(at, _)| inside(at));
        radius.places.retain(|(at, _)| inside(at));
        here
    });
    part.sills.retain(|(_, at)| inside(at));
    part.troubles.retain(|trouble| inside(&trouble.at));
    part.walls.retain(|face| face.iter().any(inside));
    part.services = plan
        .services
        .iter()
        .flat_map(|service| {
            let sides: Vec<(Point, Point)> = service
                .line
                .windows(2)
                .map(|pair| (pair[0], pair[1]))
                .collect();
            let bands = rings(&service.bands);
            runs(&lines(&sides)).into_iter().map(move |line| Service {
                words: service.words.clone(),
                line,
                bands: bands.clone(),
            })
        })
        .collect();
    part.shared_edges.retain(|edge| inside(&edge.middle));
    part.surfaces.retain(|edge| inside(&edge.middle));
    part.drains.retain(|drain| inside(&drain.at));
    part.sections.clear();
    part.chains = part_chains::of(plan, &window);
    part.rail_words = None;
    part.window = Some(window);
    part
}

/// Stretches that follow one another joined to runs of points.
fn runs(stretches: &[(Point, Point)]) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    for (from, to) in stretches {
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|p| p.distance(*from) < 1.0) => run.push(*to),
            _ => runs.push(vec![*from, *to]),
        }
    }
    runs
}

/// Rings cut to a window.
fn cut(rings: &[Vec<Point>], frame: &Shape, inside: &impl Fn(&Point) -> bool) -> Vec<Vec<Point>> {
    if rings.iter().flatten().all(inside) {
        return rings.to_vec();
    }
    // What lies clear of the window adds nothing in it.
    let Some(window) = clip::bounds(frame) else {
        return Vec::new();
    };
    let near = rings.iter().filter(|ring| {
        let corners = ring.iter().copied();
        let around = corners
            .map(|p| Bounds { min: p, max: p })
            .reduce(Bounds::union);
        around.is_some_and(|around| around.near(window, 1.0))
    });
    let near: Vec<Vec<Point>> = near.cloned().collect();
    shape_rings(&clip::intersection(&clip::wound(&near), frame))
}

#[cfg(test)]
mod tests;
