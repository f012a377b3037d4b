//! The sections' models from the computed design.
//!
//! In: design. Out: slabs and profiles along the cut line, words ready to print. Everything is
//! clipped from the geometry on the cut: pavers, panels, base, dig, structures; ground from the
//! spot levels, or at finish level where there are none.

mod buried;

use super::section::{CutDepth, CutEdging, CutStructure, SectionModel, Slab};
use crate::design::{AreaDesign, Design};
use crate::geom::{Point, Shape, Vector, clip};
use crate::job::SectionLine;
use crate::language::say;
use crate::levels::water::bank::holds;
use crate::site::{EdgeKind, StructureKind};
use crate::units::{Fall, Length, Precision, print};

/// Past the dig, how much of the ground is shown, in millimetres.
const MARGIN: f64 = 450.0;

/// The sections along the design's cut lines, in order; one that meets no dig is left out.
pub fn sections(design: &Design) -> Vec<SectionModel> {
    let lines = design.sections.iter();
    lines.filter_map(|line| section(design, line)).collect()
}

/// The section along one cut line; `None` where it meets no dig.
fn section(design: &Design, line: &SectionLine) -> Option<SectionModel> {
    let [a, b] = line.line;
    let along = (b - a).unit()?;
    let (system, languages) = (design.job.sheet.units, design.job.sheet.languages);
    let far = a.distance(b);
    let cut = Cut { a, b, along };
    let digs = cut.spans(&design.extents.dig.shape);
    let (first, last) = (digs.first()?, digs.last()?);
    let span = [first[0] - MARGIN, last[1] + MARGIN];
    let ground = design.earth.as_ref().map(|earth| &earth.ground);
    let finish = |s: f64| {
        let at = cut.at(s);
        design
            .area_nearest(at)
            .map_or(0.0, |area| area.plane.level_at(at))
    };
    let surface = |s: f64| match ground {
        Some(ground) => ground.level_at(cut.at(s)),
        None => finish(s),
    };
    let mut model = SectionModel {
        languages,
        title: say!(languages, "Section {name}–{name}", name = line.name),
        span,
        assumed_ground: ground.is_none(),
        ..SectionModel::default()
    };
    model.ground = match ground {
        Some(ground) => {
            let profile = ground.profile(cut.at(span[0]), cut.at(span[1])).into_iter();
            profile.map(|[s, level]| [s + span[0], level]).collect()
        }
        None => {
            let steps = 24;
            let station = |i| span[0] + (span[1] - span[0]) * f64::from(i) / f64::from(steps);
            (0..=steps)
                .map(|i| [station(i), surface(station(i))])
                .collect()
        }
    };
    layers(design, &cut, &mut model, &surface);
    for structure in &design.job.site.structures {
        for [from, to] in cut.spans(&clip::shape_of(&structure.ring)) {
            let at = [from.max(span[0]), to.min(span[1])];
            if at[1] - at[0] > 1.0 {
                model.structures.push(CutStructure {
                    name: structure.name.clone(),
                    kind: structure.kind,
                    at,
                });
            }
        }
    }
    model.structures.extend(bare_walls(design, &cut, span));
    ends(design, &cut, &mut model);
    model.services = buried::services(design, &cut, span);
    for sill in &design.job.levels.sills {
        let (s, off) = ((sill.at - a).dot(along), (sill.at - a).cross(along).abs());
        if s >= span[0] && s <= span[1] && off < far.max(3000.0) {
            let words = format!(
                "{} {}",
                sill.name,
                print::level(Length::from_mm(sill.level), system)
            );
            model.sills.push((s, sill.level, words));
        }
    }
    Some(model)
}

/// The cut line.
struct Cut {
    a: Point,
    b: Point,
    along: Vector,
}

impl Cut {
    fn at(&self, s: f64) -> Point {
        self.a + self.along * s
    }

    /// Stretches of the cut inside a shape, in order: first and last station.
    fn spans(&self, shape: &Shape) -> Vec<[f64; 2]> {
        let mut spans: Vec<[f64; 2]> = clip::clip_lines(&[(self.a, self.b)], shape)
            .into_iter()
            .map(|(p, q)| {
                let (s, t) = ((p - self.a).dot(self.along), (q - self.a).dot(self.along));
                [s.min(t), s.max(t)]
            })
            .filter(|[s, t]| t - s > 0.5)
            .collect();
        spans.sort_by(|p, q| p[0].total_cmp(&q[0]));
        spans
    }

    /// A slab under an area's finish: depths of its top and bottom.
    fn slab(&self, area: &AreaDesign, at: [f64; 2], up: f64, down: f64) -> Slab {
        let level = |s: f64| area.plane.level_at(self.at(s));
        Slab {
            at,
            top: at.map(|s| level(s) - up),
            bottom: at.map(|s| level(s) - down),
        }
    }
}

fn layers(design: &Design, cut: &Cut, model: &mut SectionModel, surface: &impl Fn(f64) -> f64) {
    for area in &design.areas {
        for laid in &area.paving.courses {
            let thick = design
                .job
                .pavers
                .get(laid.paver)
                .map_or(area.build_up.paver, |p| p.thickness);
            for corners in laid.whole.iter() {
                if let Some(at) = convex_span(cut, &corners) {
                    model.pavers.push(cut.slab(area, at, 0.0, thick));
                }
            }
            for piece in &laid.cut {
                for at in cut.spans(&piece.shape) {
                    model.pavers.push(cut.slab(area, at, 0.0, thick));
                }
            }
        }
    }
    for part in &design.base {
        for piece in &part.layout.pieces {
            for at in cut.spans(&piece.shape) {
                let Some(area) = design.area_nearest(cut.at((at[0] + at[1]) / 2.0)) else {
                    continue;
                };
                let b = area.build_up;
                model
                    .panels
                    .push(cut.slab(area, at, b.paver, b.paver + b.panel));
                model
                    .bedding
                    .push(cut.slab(area, at, b.paver + b.panel, b.total()));
            }
        }
    }
    for part in &design.dig.parts {
        for at in cut.spans(&part.shape) {
            model.dig.push(Slab {
                at,
                top: at.map(surface),
                bottom: at.map(|s| part.finish.formation(part.build_up).level_at(cut.at(s))),
            });
        }
    }
}

/// The stretch of the cut inside a convex quadrilateral.
fn convex_span(cut: &Cut, corners: &[Point; 4]) -> Option<[f64; 2]> {
    let side = |p: Point| cut.along.cross(p - cut.a);
    let mut hits = Vec::new();
    for i in 0..4 {
        let (p, q) = (corners[i], corners[(i + 1) % 4]);
        let (dp, dq) = (side(p), side(q));
        if (dp < 0.0) != (dq < 0.0) {
            let on = p + (q - p) * (dp / (dp - dq));
            hits.push((on - cut.a).dot(cut.along));
        }
    }
    let low = hits.iter().copied().fold(f64::INFINITY, f64::min);
    let high = hits.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (high - low > 0.5).then_some([low, high])
}

/// The falls along the cut, stretch by stretch: neighbours that fall alike are one.
fn falls(design: &Design, cut: &Cut) -> Vec<(String, f64, f64)> {
    let mut stretches: Vec<([f64; 2], f64)> = Vec::new();
    for area in &design.areas {
        let fall = area.plane.fall_along(cut.along);
        stretches.extend(cut.spans(&area.shape).into_iter().map(|span| (span, fall)));
    }
    stretches.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut alike: Vec<([f64; 2], f64)> = Vec::new();
    for (span, fall) in stretches {
        match alike.last_mut() {
            Some((last, same)) if (*same - fall).abs() < 1e-6 => last[1] = span[1],
            _ => alike.push((span, fall)),
        }
    }
    let languages = design.job.sheet.languages;
    let one = alike.len() == 1;
    alike
        .into_iter()
        .filter(|(_, fall)| fall.abs() > 1e-6)
        .map(|(span, fall)| {
            let words = print::percent(Fall::from_ratio(fall.abs()));
            let words = if one {
                say!(languages, "{fall} along the section", fall = words)
            } else {
                words
            };
            (words, fall.signum(), (span[0] + span[1]) / 2.0)
        })
        .collect()
}

/// Levels, length, fall and edge restraint at the ends of the paving.
fn ends(design: &Design, cut: &Cut, model: &mut SectionModel) {
    let system = design.job.sheet.units;
    let paved = cut.spans(&design.extents.paved.shape);
    let (Some(first), Some(last)) = (paved.first(), paved.last()) else {
        return;
    };
    let (from, to) = (first[0], last[1]);
    levels(design, cut, model, [from, to]);
    let mut stations = Vec::new();
    for span in &paved {
        for s in span {
            if stations.last().is_none_or(|l: &f64| s - l > 1.0) {
                stations.push(*s);
            }
        }
    }
    if stations.len() > 7 {
        stations = vec![from, to];
    }
    let parts: Vec<Length> = stations
        .windows(2)
        .map(|w| Length::from_mm(w[1] - w[0]))
        .collect();
    if !parts.is_empty() {
        let words = print::chain(&parts, system, Precision::Drawing)
            .parts
            .iter()
            .map(|part| print::without_unit(part, system))
            .collect();
        model.across = Some((stations, words));
    }
    model.falls = falls(design, cut);
    for run in &design.extents.open_runs {
        let Some(s) = crossing(cut, &run.edge) else {
            continue;
        };
        let Some(area) = design.area_nearest(cut.at(s)) else {
            continue;
        };
        let inside = paved.iter().any(|p| (s - 5.0) > p[0] && (s - 5.0) < p[1]);
        let spec = &design.job.edging;
        model.edging.push(CutEdging {
            at: s,
            side: if inside { 1.0 } else { -1.0 },
            on: area.plane.level_at(cut.at(s)) - area.build_up.paver,
            height: area.build_up.paver * 0.6,
            width: spec.width,
            nail: spec.nail,
        });
    }
}

/// Finish and formation level at the ends of the paving and where one area meets the next, and the
/// depth of the dig at its sides.
fn levels(design: &Design, cut: &Cut, model: &mut SectionModel, ends: [f64; 2]) {
    let system = design.job.sheet.units;
    let languages = design.job.sheet.languages;
    let level = |mm: f64| print::level(Length::from_mm(mm), system);
    // A little way into each area, so that both sides of a step are seen.
    const INTO: f64 = 5.0;
    let mut stretches: Vec<([f64; 2], &AreaDesign)> = Vec::new();
    for area in &design.areas {
        stretches.extend(cut.spans(&area.shape).into_iter().map(|span| (span, area)));
    }
    stretches.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut seen: Vec<(f64, f64)> = Vec::new();
    for (span, area) in &stretches {
        for (s, way) in [(span[0], 1.0), (span[1], -1.0)] {
            let end = ends.iter().any(|end| (end - s).abs() < 1.0);
            let met = stretches
                .iter()
                .any(|(other, _)| (other[0] - s).abs() < 1.0 && (other[1] - s).abs() > 1.0)
                && stretches
                    .iter()
                    .any(|(other, _)| (other[1] - s).abs() < 1.0);
            let finish = area.plane.level_at(cut.at(s));
            let formation = area.plane.formation(area.build_up).level_at(cut.at(s));
            let known = seen
                .iter()
                .any(|(t, l)| (t - s).abs() < 1.0 && (l - finish).abs() < 0.5);
            if !(end || met) || known {
                continue;
            }
            seen.push((s, finish));
            model.levels.push((s, finish, level(finish)));
            let words = say!(languages, "formation {level}", level = level(formation));
            model.formation.push((s + way * INTO, formation, words));
        }
    }
    let surface = |s: f64| super::section::level(&model.ground, s);
    let digs = cut.spans(&design.extents.dig.shape);
    let (Some(first), Some(last)) = (digs.first(), digs.last()) else {
        return;
    };
    for (s, side) in [(first[0], -1.0), (last[1], 1.0)] {
        let beyond = s + side * MARGIN / 2.0;
        let stands = |at: &[f64; 2]| (at[0]..=at[1]).contains(&beyond);
        if model.structures.iter().any(|wall| stands(&wall.at)) {
            continue;
        }
        let Some(slab) = model
            .dig
            .iter()
            .find(|slab| (slab.at[0] - s).abs() < 1.0 || (slab.at[1] - s).abs() < 1.0)
        else {
            continue;
        };
        let end = usize::from((slab.at[1] - s).abs() < 1.0);
        // Ground is measured; where it is assumed it lies at the finish.
        let above = surface(s) - finish_by(design, cut, s, -side);
        if holds(above) && !model.assumed_ground {
            let above = print::length(Length::from_mm(above), system, Precision::Drawing);
            let words = say!(languages, "ground {above} above finish: grade away", above);
            model.banks.push((s, surface(s), words));
        }
        let levels = [surface(s), slab.bottom[end]];
        let depth = levels[0] - levels[1];
        if depth > 1.0 {
            let words = print::length(Length::from_mm(depth), system, Precision::Drawing);
            model.depths.push(CutDepth {
                at: s,
                side,
                levels,
                words: print::without_unit(&words, system),
            });
        }
    }
}

/// The finish at the end of the paving that is nearest to a side of the dig, going `way` from it.
fn finish_by(design: &Design, cut: &Cut, s: f64, way: f64) -> f64 {
    let paved = cut.spans(&design.extents.paved.shape);
    let edges = paved.iter().flatten().map(|edge| (edge - s) * way);
    let off = edges
        .filter(|off| *off >= 0.0)
        .fold(f64::INFINITY, f64::min);
    let at = cut.at(if off.is_finite() { s + way * off } else { s });
    let area = design.area_nearest(at);
    area.map_or(f64::INFINITY, |area| area.plane.level_at(at))
}

/// Walls that the job states by an edge alone: solid from the edge outward to the end of what is
/// shown, for their thickness is not known.
fn bare_walls(design: &Design, cut: &Cut, span: [f64; 2]) -> Vec<CutStructure> {
    let languages = design.job.sheet.languages;
    let paved = cut.spans(&design.extents.paved.shape);
    let stretches = design.job.site.stretches();
    let faces = stretches.filter(|s| s.kind == EdgeKind::Wall && s.against.is_none());
    faces
        .filter_map(|face| {
            let s = crossing(cut, &face.edge)?;
            let after = paved.iter().any(|p| (p[0]..=p[1]).contains(&(s + 5.0)));
            let before = paved.iter().any(|p| (p[0]..=p[1]).contains(&(s - 5.0)));
            let next = paved.iter().map(|p| p[0]).filter(|t| *t > s + 5.0);
            let last = paved.iter().map(|p| p[1]).filter(|t| *t < s - 5.0);
            let at = match (before, after) {
                (false, true) => [last.fold(span[0], f64::max), s],
                (true, false) => [s, next.fold(span[1], f64::min)],
                _ => return None,
            };
            Some(CutStructure {
                name: say!(languages, "Wall"),
                kind: StructureKind::Wall,
                at,
            })
        })
        .collect()
}

/// Where the cut crosses an edge.
fn crossing(cut: &Cut, edge: &crate::geom::Edge) -> Option<f64> {
    let points = edge.flatten(crate::geom::SAGITTA);
    let side = |p: Point| cut.along.cross(p - cut.a);
    for pair in points.windows(2) {
        let (dp, dq) = (side(pair[0]), side(pair[1]));
        if (dp < 0.0) != (dq < 0.0) {
            let on = pair[0] + (pair[1] - pair[0]) * (dp / (dp - dq));
            let s = (on - cut.a).dot(cut.along);
            if s > 0.0 && s < cut.a.distance(cut.b) {
                return Some(s);
            }
        }
    }
    None
}
