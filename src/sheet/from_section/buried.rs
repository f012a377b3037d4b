//! Buried services on a section's model.
//!
//! In: the design, a cut and the stretch of it that is shown. Out: every service whose tolerance
//! zone the cut enters, where its course crosses the cut or comes nearest to it, with the level of
//! its top and finished words. Without spot levels the ground is taken at finish level.

use super::Cut;
use crate::design::{Design, ServiceDesign};
use crate::geom::{Edge, Point, clip, cross};
use crate::language::say;
use crate::levels::buried::{surface, top};
use crate::sheet::section::CutService;
use crate::sheet::words::{level, long, sentence};

/// The services that the cut meets between two stations, in the job's order.
pub fn services(design: &Design, cut: &Cut, span: [f64; 2]) -> Vec<CutService> {
    let shown = [cut.at(span[0]), cut.at(span[1])];
    let mut met = Vec::new();
    for service in &design.services {
        let zone = &service.buried.zone;
        for (from, to) in clip::clip_lines(&[(shown[0], shown[1])], zone) {
            let mut zone = [from, to].map(|at| (at - cut.a).dot(cut.along));
            zone.sort_by(f64::total_cmp);
            if zone[1] - zone[0] > 1.0 {
                met.extend(
                    places(cut, &service.spec.line, zone)
                        .into_iter()
                        .map(|(station, beside)| one(design, service, cut, zone, station, beside)),
                );
            }
        }
    }
    met
}

/// Where a course crosses the cut within a stretch of it, each with 0; if nowhere, the place that
/// is nearest to the stretch, with how far off it is.
fn places(cut: &Cut, course: &[Point], stretch: [f64; 2]) -> Vec<(f64, f64)> {
    let mut crossings: Vec<f64> = Vec::new();
    let mut nearest = (stretch[0], f64::INFINITY);
    let ends = stretch.map(|s| cut.at(s));
    for side in course.windows(2) {
        let along = side[1] - side[0];
        if let Some(at) = cross::line_line(cut.a, cut.along, side[0], along) {
            let s = (at - cut.a).dot(cut.along);
            let t = (at - side[0]).dot(along) / along.dot(along);
            let known = crossings.iter().any(|other| (other - s).abs() < 1.0);
            if (stretch[0]..=stretch[1]).contains(&s) && (0.0..=1.0).contains(&t) && !known {
                crossings.push(s);
            }
        }
        // Two straight stretches that do not cross are nearest at an end of one of them.
        let mut see = |s: f64, at: Point| {
            let off = cut.at(s).distance(at);
            if off < nearest.1 - 1e-6 {
                nearest = (s, off);
            }
        };
        for at in side {
            let s = (*at - cut.a).dot(cut.along);
            see(s.clamp(stretch[0], stretch[1]), *at);
        }
        let near = Edge::straight(side[0], side[1]);
        for (s, end) in stretch.into_iter().zip(ends) {
            see(s, near.point_at(near.fraction_near(end)));
        }
    }
    if crossings.is_empty() {
        return vec![nearest];
    }
    crossings.sort_by(f64::total_cmp);
    crossings.into_iter().map(|s| (s, 0.0)).collect()
}

fn one(
    design: &Design,
    service: &ServiceDesign,
    cut: &Cut,
    zone: [f64; 2],
    station: f64,
    beside: f64,
) -> CutService {
    let languages = design.job.sheet.languages;
    let spec = &service.spec;
    let at = cut.at(station);
    let ground = design.earth.as_ref().map(|earth| &earth.ground);
    let parts = design.dig.parts.iter();
    let nearest =
        parts.min_by(|p, q| clip::distance(&p.shape, at).total_cmp(&clip::distance(&q.shape, at)));
    let known = nearest.and_then(|part| {
        let top = top(spec, at, part, ground)?;
        Some((top, surface(at, part, ground) - top))
    });
    let name = sentence(&spec.called().say(languages.first));
    let mut words = match known {
        Some((top, depth)) if depth >= 0.0 => say!(
            languages,
            "{name}: top {level}, {depth} under ground",
            name,
            level = level(design, top),
            depth = long(design, depth)
        ),
        Some((top, _)) => say!(
            languages,
            "{name}: top {level}",
            name,
            level = level(design, top)
        ),
        None => say!(languages, "{name}: depth not known", name),
    };
    if beside > 0.5 {
        words = say!(
            languages,
            "{words}, {distance} beside the cut",
            words,
            distance = long(design, beside)
        );
    }
    CutService {
        words,
        at: station,
        zone,
        top: known.map(|(top, _)| top),
        clear: spec.zone,
        crosses: beside <= 0.5,
    }
}
