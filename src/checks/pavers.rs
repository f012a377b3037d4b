//! `panels.under_joints`, `pavers.sliver`, `pavers.smallest_cut`, `pavers.joint`, `pavers.slope`: how
//! the pavers sit on the panels and at the edges, and how wide their joints are.

use geo::Centroid;

use super::{FALL, Finding, LENGTH, Status, place_of};
use crate::design::{AreaDesign, Design};
use crate::geom::Point;
use crate::language::{Phrase, phrase};
use crate::units::{Length, print};

/// Shares and joint widths within this count as equal.
const SHARE: f64 = 0.001;

/// No straight run of paver joint lies along panel joints.
pub fn under_joints(design: &Design) -> Vec<Finding> {
    if design.areas.iter().all(|area| area.paving.runs.is_empty()) {
        return Vec::new();
    }
    let under = &design.joints_over_joints;
    let printed = |mm: f64| {
        print::length(
            Length::from_mm(mm),
            design.job.sheet.units,
            print::Precision::Drawing,
        )
    };
    let lies = under.length > LENGTH;
    let worst = under.lines.first().and_then(|line| line.under.first());
    let worst = worst.map(|stretch| stretch.from.midpoint(stretch.to));
    vec![Finding {
        id: "panels.under_joints",
        status: if lies { Status::Warn } else { Status::Pass },
        title: if lies {
            phrase!(
                "{length} of panel joint lies under straight paver joints, {worst} of it in one line",
                length = printed(under.length),
                worst = printed(under.worst)
            )
        } else {
            phrase!("No panel joint lies under a straight paver joint")
        },
        value: Some(under.length),
        limit: Some(0.0),
        unit: "mm",
        at: place_of(design, "base.start"),
        where_: worst
            .and_then(|at| design.area_nearest(at))
            .map(|area| Phrase::own(&area.name)),
        point: worst,
        source: "common practice, no source",
    }]
}

/// Smallest part of a paver that may be laid where no wheels run, a little more than [`sliver`]
/// counts.
const SMALLEST_CUT: f64 = 3.0 / 8.0;

/// Joint widths that a paver surface may have, in millimetres: 1/16 in to 5 mm. The source prints
/// 3/16 in and 5 mm side by side; the wider is taken.
const JOINT: [f64; 2] = [1.5875, 5.0];

/// Least slope of a paved surface, as rise over run.
///
/// # Source
/// Construction Tolerances and Recommendations for Interlocking Concrete Pavements.
pub const SLOPE: f64 = 0.02;

const TOLERANCES: &str = "Construction Tolerances and Recommendations for Interlocking Concrete \
                          Pavements";

/// The smallest piece of an area: its share of its paver, and its middle.
fn smallest(design: &Design, area: &AreaDesign) -> Option<(f64, Point)> {
    let pieces = area.paving.courses.iter().flat_map(|laid| {
        let paver = &design.job.pavers[laid.paver];
        let whole = paver.length * paver.width;
        laid.cut
            .iter()
            .map(move |piece| (piece.area / whole, piece))
    });
    let (share, piece) = pieces.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let [a, _, c, _] = piece.cell;
    let middle = piece.shape.centroid();
    let middle = middle.map_or(a.midpoint(c), |at| Point::new(at.x(), at.y()));
    Some((share, middle))
}

/// No cut paver is under a third of a whole one.
pub fn sliver(design: &Design) -> Vec<Finding> {
    let areas = design.areas.iter().enumerate();
    areas
        .map(|(index, area)| {
            let courses = area.paving.courses.iter();
            let slivers: usize = courses.map(|laid| laid.sliver_count()).sum();
            let point = smallest(design, area).filter(|_| slivers > 0);
            Finding {
                id: "pavers.sliver",
                status: warn_if(slivers > 0),
                title: match slivers {
                    0 => phrase!(
                        "{area}: no cut paver is under a third of one",
                        area = area.name
                    ),
                    count => phrase!(
                        "{area}: {count} cut paver is under a third of one | {area}: {count} cut pavers are under a third of one",
                        area = area.name,
                        count
                    ),
                },
                value: Some(slivers as f64),
                limit: Some(0.0),
                unit: "pavers",
                at: place_of(design, &format!("paving[{index}].start")),
                where_: Some(Phrase::own(&area.name)),
                point: point.map(|(_, at)| at),
                source: "Construction Tolerances and Recommendations for Interlocking Concrete \
                         Pavements: smallest cut a third of a unit where wheels run",
            }
        })
        .collect()
}

/// A share of a paver: `18%`; what would round to nothing is `under 0.1%`.
fn printed_share(share: f64) -> Phrase {
    match print::number(share * 100.0, 1).as_str() {
        "0" => phrase!("under 0.1%"),
        percent => Phrase::own(format!("{percent}%")),
    }
}

/// The smallest cut paver of each area.
pub fn smallest_cut(design: &Design) -> Vec<Finding> {
    let areas = design.areas.iter().enumerate();
    areas
        .filter_map(|(index, area)| {
            let (share, at) = smallest(design, area)?;
            Some(Finding {
                id: "pavers.smallest_cut",
                status: warn_if(share < SMALLEST_CUT - SHARE),
                title: phrase!(
                    "{area}: the smallest cut paver is {share} of one (at least {limit}%)",
                    area = area.name,
                    share = printed_share(share),
                    limit = print::number(SMALLEST_CUT * 100.0, 1)
                ),
                value: Some(share),
                limit: Some(SMALLEST_CUT),
                unit: "share",
                at: place_of(design, &format!("paving[{index}].start")),
                where_: Some(Phrase::own(&area.name)),
                point: Some(at),
                source: "Construction Tolerances and Recommendations for Interlocking Concrete \
                         Pavements: smallest cut 3/8 of a unit where no wheels run",
            })
        })
        .collect()
}

/// Joints of each area are neither too narrow to fill nor too wide to lock: those stated, those
/// that the bond makes up, and those that a fan opens to.
pub fn joint(design: &Design) -> Vec<Finding> {
    let areas = design.areas.iter().enumerate();
    areas
        .map(|(index, area)| {
            let courses = || area.paving.courses.iter();
            let stated = courses().map(|laid| design.job.pavers[laid.paver].joint);
            let least = stated.fold(f64::MAX, f64::min);
            let most = courses().map(|laid| laid.widest_joint).fold(0.0, f64::max);
            let (narrow, wide) = (least < JOINT[0] - SHARE, most > JOINT[1] + SHARE);
            let printed = |mm: f64| {
                let system = design.job.sheet.units;
                print::length(Length::from_mm(mm), system, print::Precision::Thickness)
            };
            let [low, high] = JOINT.map(printed);
            Finding {
                id: "pavers.joint",
                status: warn_if(narrow || wide),
                title: match (most - least).abs() < LENGTH {
                    true => phrase!(
                        "{area}: joints are {width} wide ({low} to {high})",
                        area = area.name,
                        width = printed(least),
                        low,
                        high
                    ),
                    false => phrase!(
                        "{area}: joints are {least} to {most} wide ({low} to {high})",
                        area = area.name,
                        least = printed(least),
                        most = printed(most),
                        low,
                        high
                    ),
                },
                value: Some(if narrow { least } else { most }),
                limit: Some(JOINT[usize::from(!narrow)]),
                unit: "mm",
                at: place_of(design, &format!("paving[{index}].bond")),
                where_: Some(Phrase::own(&area.name)),
                point: None,
                source: "Construction Tolerances and Recommendations for Interlocking Concrete \
                         Pavements; BIA Technical Note 14A: joints 1/16 to 3/16 in (2 to 5 mm)",
            }
        })
        .collect()
}

/// Each area's surface sheds water.
pub fn slope(design: &Design) -> Vec<Finding> {
    let areas = design.areas.iter().enumerate();
    areas
        .map(|(index, area)| {
            let slope = area.plane.fall();
            let printed = |ratio: f64| format!("{}%", print::number(ratio * 100.0, 2));
            Finding {
                id: "pavers.slope",
                status: warn_if(slope < SLOPE - FALL),
                title: phrase!(
                    "{area}: the surface slopes {slope} (at least {limit})",
                    area = area.name,
                    slope = printed(slope),
                    limit = printed(SLOPE)
                ),
                value: Some(slope * 100.0),
                limit: Some(SLOPE * 100.0),
                unit: "%",
                at: place_of(design, &format!("paving[{index}].fall.fall"))
                    .filter(|_| {
                        design
                            .job
                            .places
                            .contains_key(&format!("paving[{index}].fall"))
                    })
                    .or_else(|| place_of(design, "levels.finish.fall")),
                where_: Some(Phrase::own(&area.name)),
                point: None,
                source: TOLERANCES,
            }
        })
        .collect()
}

fn warn_if(off: bool) -> Status {
    if off { Status::Warn } else { Status::Pass }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cut that is there is never said to be 0 % of a paver.
    #[test]
    fn a_share_is_never_printed_as_nothing() {
        assert_eq!(printed_share(0.18).to_string(), "18%");
        assert_eq!(printed_share(0.0005).to_string(), "0.1%");
        assert_eq!(printed_share(0.000_4).to_string(), "under 0.1%");
    }
}
