//! `survey.*`: how well the measured points and levels are fixed, and which measurement is likely
//! wrong where they disagree.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::levels::odd_spots;
use crate::survey::{Measured, Suspect, suspect_legs, suspects};
use crate::units::{Length, Precision, print};

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
                title: format!("Tapes to {} cross at {angle:.0}°", point.name),
                value: Some(angle),
                limit: Some(if angle > 90.0 { STRONG[1] } else { STRONG[0] }),
                unit: "deg",
                at: place_of(design, &format!("site.points.{}", point.name)),
                where_: Some(format!("point {}", point.name)),
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
        let mut title = format!(
            "The tape from {} to {} misses by {} (at most {})",
            worst.from,
            point.name,
            length(design, miss),
            length(design, RESIDUAL)
        );
        if off {
            for words in explained(design, &point.name) {
                title = format!("{title}; {words}");
            }
        }
        found.push(Finding {
            id: "survey.residual",
            status: if off { Status::Fail } else { Status::Pass },
            title,
            value: Some(miss),
            limit: Some(RESIDUAL),
            unit: "mm",
            at: place_of(design, &format!("site.points.{}", point.name)),
            where_: Some(format!("point {}", point.name)),
            point: Some(point.at),
            source: "common practice, no source",
        });
    }
    found
}

/// The single mistakes that would explain a point's tapes, in words.
fn explained(design: &Design, name: &str) -> Vec<String> {
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
            Suspect::Swapped(a, b) => format!(
                "they agree with the tapes from {} and {} swapped",
                tapes[a].0, tapes[b].0
            ),
            Suspect::OtherSide => "they agree with the point on the other side".to_string(),
            Suspect::Tape(index, fits) => format!(
                "the others agree without the tape from {}, which would be {}",
                tapes[index].0,
                length(design, fits)
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
    let mut title = match result.ratio {
        Some(ratio) => format!(
            "Traverse misses by {}, 1:{ratio:.0} (limit 1:{:.0})",
            length(design, misclosure),
            spec.limit
        ),
        None => format!("Traverse closes (limit 1:{:.0})", spec.limit),
    };
    let legs = if open {
        suspect_legs(result)
    } else {
        Vec::new()
    };
    let names: Vec<&str> = legs.iter().map(|&i| result.legs[i].to.as_str()).collect();
    if !names.is_empty() {
        title = format!(
            "{title}; measure again what runs the way of the miss: the leg to {}",
            names.join(", to ")
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
        where_: leg.map(|leg| format!("leg to {}", result.legs[leg].to)),
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
            where_: name,
            source: "common practice, no source",
        }
    };
    let mut found: Vec<Finding> = result
        .closures
        .iter()
        .map(|closure| {
            let miss = closure.misses();
            let over = miss.abs() > run.limit + LEVEL;
            let title = format!(
                "Levelling comes back to {} {} off (at most {})",
                result.lines[closure.line].sight.at,
                rod(design, miss),
                rod(design, run.limit)
            );
            let status = if over { Status::Fail } else { Status::Pass };
            finding(status, title, Some(miss.abs()), Some(closure.line))
        })
        .collect();
    if result.closures.is_empty() {
        let title = "Levelling ends at no point of known level: nothing proves it".to_string();
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
        where_: spot.map(|spot| format!("spot {}", spot + 1)),
        point: spot.map(|spot| spots[spot].at),
        source: "common practice, no source",
    };
    let odd = odd_spots(spots, ODD, likely);
    if odd.is_empty() {
        let title = format!(
            "Every spot level is within {} of those around it",
            length(design, ODD)
        );
        return vec![finding(Status::Pass, title, None, None)];
    }
    odd.iter()
        .map(|odd| {
            let way = if odd.off > 0.0 { "above" } else { "below" };
            let title = format!(
                "Spot level {} is {} {way} those around it (at most {}): read it again",
                print::level(
                    Length::from_mm(spots[odd.spot].level),
                    design.job.sheet.units
                ),
                length(design, odd.off.abs()),
                length(design, ODD)
            );
            finding(Status::Warn, title, Some(odd.off.abs()), Some(odd.spot))
        })
        .collect()
}

fn length(design: &Design, mm: f64) -> String {
    print::length(
        Length::from_mm(mm),
        design.job.sheet.units,
        Precision::Drawing,
    )
}

fn rod(design: &Design, mm: f64) -> String {
    print::rod(Length::from_mm(mm.abs()), design.job.levels.rod)
}
