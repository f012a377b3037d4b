//! `survey.*`: how well the measured points and levels are fixed, and which measurement is likely
//! wrong where they disagree.

use super::levels::length;
use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::levels::odd_spots;
use crate::survey::{Measured, Suspect, suspect_legs, suspects};
use crate::units::{Length, print};

/// Tapes that cross between these angles, in degrees, fix a point well.
const STRONG: [f64; 2] = [30.0, 150.0];

/// Every tie's tapes cross at a strong angle.
pub fn tie(design: &Design) -> Vec<Finding> {
    let points = &design.job.survey.points;
    points
        .iter()
        .filter_map(|point| Some((point, point.crossing_deg?)))
        .map(|(point, angle)| {
            let weak = !(STRONG[0]..=STRONG[1]).contains(&angle);
            Finding {
                id: "survey.tie",
                status: if weak { Status::Warn } else { Status::Pass },
                title: phrase!(
                    "Tapes to {point} cross at {angle}°",
                    point = point.name,
                    angle = format!("{angle:.0}")
                ),
                value: Some(angle),
                limit: Some(if angle > 90.0 { STRONG[1] } else { STRONG[0] }),
                unit: "deg",
                at: place_of(design, &format!("site.points.{}", point.name)),
                where_: Some(phrase!("point {point}", point = point.name)),
                point: Some(point.at),
                source: "common practice, no source",
            }
        })
        .collect()
}

/// Further tapes that miss by more than this disagree: 1/2 in, what a careful tape of a garden keeps.
const RESIDUAL: f64 = 12.7;
/// Spots that stand further than this off their neighbours are looked at: 2 ft.
const ODD: f64 = 609.6;

/// Further tapes to a point agree with the two that place it.
pub fn residual(design: &Design) -> Vec<Finding> {
    let survey = &design.job.survey;
    let mut found = Vec::new();
    for point in &survey.points {
        let worst = point
            .residuals
            .iter()
            .max_by(|a, b| a.residual_mm().abs().total_cmp(&b.residual_mm().abs()));
        let Some(worst) = worst else { continue };
        let miss = worst.residual_mm().abs();
        let off = miss > RESIDUAL + LENGTH;
        let title = phrase!(
            "The tape from {from} to {point} misses by {miss} (at most {limit})",
            from = worst.from,
            point = point.name,
            miss = length(design, miss),
            limit = length(design, RESIDUAL)
        );
        let mut said = vec![title];
        if off {
            said.extend(explained(design, &point.name));
        }
        found.push(Finding {
            id: "survey.residual",
            status: if off { Status::Fail } else { Status::Pass },
            title: Phrase::listed(said),
            value: Some(miss),
            limit: Some(RESIDUAL),
            unit: "mm",
            at: place_of(design, &format!("site.points.{}", point.name)),
            where_: Some(phrase!("point {point}", point = point.name)),
            point: Some(point.at),
            source: "common practice, no source",
        });
    }
    found
}

/// The single mistakes that would explain a point's tapes, in words.
fn explained(design: &Design, name: &str) -> Vec<Phrase> {
    let Some(spec) = design.job.points.iter().find(|spec| spec.name == name) else {
        return Vec::new();
    };
    let Measured::Tie {
        from,
        distance,
        left,
    } = &spec.measured
    else {
        return Vec::new();
    };
    let mut tapes: Vec<(&str, f64)> = vec![(&from[0], distance[0]), (&from[1], distance[1])];
    tapes.extend(spec.redundant.iter().map(|r| (r.from.as_str(), r.distance)));
    let places: Option<Vec<_>> = tapes
        .iter()
        .map(|(from, distance)| Some((design.job.survey.at(from)?, *distance)))
        .collect();
    let Some(places) = places else {
        return Vec::new();
    };
    suspects(&places, *left, RESIDUAL)
        .iter()
        .map(|suspect| match *suspect {
            Suspect::Swapped(a, b) => phrase!(
                "they agree with the tapes from {a} and {b} swapped",
                a = tapes[a].0,
                b = tapes[b].0
            ),
            Suspect::OtherSide => phrase!("they agree with the point on the other side"),
            Suspect::Tape(index, fits) => phrase!(
                "the others agree without the tape from {from}, which would be {fits}",
                from = tapes[index].0,
                fits = length(design, fits)
            ),
        })
        .collect()
}

/// The traverse closes within its limit.
pub fn misclosure(design: &Design) -> Vec<Finding> {
    let (Some(spec), Some(result)) = (&design.job.traverse, &design.job.survey.traverse) else {
        return Vec::new();
    };
    let Some(misclosure) = result.misclosure_mm else {
        return Vec::new();
    };
    let open = result.ratio.is_some_and(|ratio| ratio < spec.limit);
    let limit = format!("{:.0}", spec.limit);
    let mut title = match result.ratio {
        Some(ratio) => phrase!(
            "Traverse misses by {miss}, 1:{ratio} (limit 1:{limit})",
            miss = length(design, misclosure),
            ratio = format!("{ratio:.0}"),
            limit
        ),
        None => phrase!("Traverse closes (limit 1:{limit})", limit),
    };
    let legs = if open {
        suspect_legs(result)
    } else {
        Vec::new()
    };
    let names = legs.iter().map(|&leg| Phrase::own(&result.legs[leg].to));
    let names = names.reduce(|one, other| phrase!("{one}, to {other}", one, other));
    if let Some(names) = names {
        title = phrase!(
            "{title}; measure again what runs the way of the miss: the leg to {names}",
            title,
            names
        );
    }
    let leg = legs.first().copied();
    vec![Finding {
        id: "survey.misclosure",
        status: if open { Status::Fail } else { Status::Pass },
        title,
        value: result.ratio,
        limit: Some(spec.limit),
        unit: "1:n",
        at: match leg {
            Some(leg) => place_of(design, &format!("site.traverse.legs[{leg}]")),
            None => place_of(design, "site.traverse"),
        },
        where_: leg.map(|leg| phrase!("leg to {point}", point = result.legs[leg].to)),
        point: match leg {
            Some(leg) => Some(result.legs[leg].at),
            None => design.job.survey.at(&spec.start),
        },
        source: "common practice, no source",
    }]
}

/// The run of levelling comes back to what it knows, within its limit.
pub fn levelling(design: &Design) -> Vec<Finding> {
    let Some((run, result)) = &design.job.levelling else {
        return Vec::new();
    };
    let finding = |status, title, value, line: Option<usize>| {
        let name = line.map(|line| result.lines[line].sight.at.clone());
        let key = line.map(|line| format!("site.levelling.sights[{line}]"));
        Finding {
            id: "survey.levelling",
            status,
            title,
            value,
            limit: Some(run.limit),
            unit: "mm",
            at: place_of(design, key.as_deref().unwrap_or("site.levelling")),
            point: name.as_ref().and_then(|name| design.job.survey.at(name)),
            where_: name.map(Phrase::own),
            source: "common practice, no source",
        }
    };
    let mut found: Vec<Finding> = result
        .closures
        .iter()
        .map(|closure| {
            let miss = closure.misses();
            let over = miss.abs() > run.limit + LEVEL;
            let title = phrase!(
                "Levelling comes back to {point} {miss} off (at most {limit})",
                point = result.lines[closure.line].sight.at,
                miss = rod(design, miss),
                limit = rod(design, run.limit)
            );
            let status = if over { Status::Fail } else { Status::Pass };
            finding(status, title, Some(miss.abs()), Some(closure.line))
        })
        .collect();
    if result.closures.is_empty() {
        let title = phrase!("Levelling ends at no point of known level: nothing proves it");
        found.push(finding(Status::Warn, title, None, None));
    }
    found
}

/// Levels within this many millimetres count as equal.
const LEVEL: f64 = 0.05;

/// Every spot level goes with those around it.
pub fn spot(design: &Design) -> Vec<Finding> {
    let spots = &design.job.levels.ground;
    if spots.len() < 4 {
        return Vec::new();
    }
    let likely = |at| {
        let area = design.area_nearest(at);
        area.map_or(0.0, |area| area.plane.level_at(at))
    };
    let finding = |status, title, value: Option<f64>, spot: Option<usize>| Finding {
        id: "survey.spot",
        status,
        title,
        value,
        limit: Some(ODD),
        unit: "mm",
        at: match spot {
            Some(spot) => place_of(design, &format!("site.ground[{spot}]")),
            None => place_of(design, "site.ground"),
        },
        where_: spot.map(|spot| phrase!("spot {number}", number = spot + 1)),
        point: spot.map(|spot| spots[spot].at),
        source: "common practice, no source",
    };
    let odd = odd_spots(spots, ODD, likely);
    if odd.is_empty() {
        let title = phrase!(
            "Every spot level is within {limit} of those around it",
            limit = length(design, ODD)
        );
        return vec![finding(Status::Pass, title, None, None)];
    }
    odd.iter()
        .map(|odd| {
            let level = Length::from_mm(spots[odd.spot].level);
            let level = print::level(level, design.job.sheet.units);
            let off = length(design, odd.off.abs());
            let limit = length(design, ODD);
            let title = match odd.off > 0.0 {
                true => phrase!(
                    "Spot level {level} is {off} above those around it (at most {limit}): read it again",
                    level,
                    off,
                    limit
                ),
                false => phrase!(
                    "Spot level {level} is {off} below those around it (at most {limit}): read it again",
                    level,
                    off,
                    limit
                ),
            };
            finding(Status::Warn, title, Some(odd.off.abs()), Some(odd.spot))
        })
        .collect()
}

fn rod(design: &Design, mm: f64) -> String {
    print::rod(Length::from_mm(mm.abs()), design.job.levels.rod)
}
