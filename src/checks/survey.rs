//! `survey.tie`, `survey.misclosure`: how well the measured points are fixed.

use super::{Finding, Status, place_of};
use crate::design::Design;

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

/// The traverse closes within its limit.
pub fn misclosure(design: &Design) -> Vec<Finding> {
    let (Some(spec), Some(result)) = (&design.job.traverse, &design.job.survey.traverse) else {
        return Vec::new();
    };
    let Some(misclosure) = result.misclosure_mm else {
        return Vec::new();
    };
    let open = result.ratio.is_some_and(|ratio| ratio < spec.limit);
    let title = match result.ratio {
        Some(ratio) => format!("Traverse misses by {misclosure:.0} mm, 1:{ratio:.0}"),
        None => "Traverse closes".to_string(),
    };
    vec![Finding {
        id: "survey.misclosure",
        status: if open { Status::Fail } else { Status::Pass },
        title: format!("{title} (limit 1:{:.0})", spec.limit),
        value: result.ratio,
        limit: Some(spec.limit),
        unit: "1:n",
        at: place_of(design, "site.traverse"),
        where_: None,
        point: design.job.survey.at(&spec.start),
        source: "common practice, no source",
    }]
}
