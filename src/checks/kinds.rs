//! `pavers.form`, `pavers.thickness`, `pavers.one_thickness`: what the kinds of paver are fit for.
//!
//! Only kinds that are laid are looked at.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::paving::spec::LARGEST_ASPECT;
use crate::paving::{Form, PaverSpec};
use crate::units::{Length, print};

/// Least thickness for foot traffic and driveways, in millimetres.
const LEAST_THICKNESS: f64 = 60.0;

/// Largest difference in thickness between units laid side by side, in millimetres: ⅛ in.
const ONE_THICKNESS: f64 = 3.175;

/// The kinds that are laid, in the order of the job.
fn laid(design: &Design) -> Vec<&PaverSpec> {
    let courses = design.areas.iter().flat_map(|area| &area.paving.courses);
    let mut kinds: Vec<usize> = courses.map(|laid| laid.paver).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds
        .into_iter()
        .map(|kind| &design.job.pavers[kind])
        .collect()
}

fn thickness(design: &Design, mm: f64) -> String {
    let system = design.job.sheet.units;
    print::length(Length::from_mm(mm), system, print::Precision::Thickness)
}

/// Each kind is a paver, which may be settled with a plate compactor, or a slab, which may not.
pub fn form(design: &Design) -> Vec<Finding> {
    let finding = |paver: &PaverSpec| {
        let slab = paver.form() == Form::Slab;
        let times = print::number(paver.aspect(), 1);
        Finding {
            id: "pavers.form",
            status: if slab { Status::Warn } else { Status::Pass },
            title: match slab {
                true => phrase!(
                    "Slab “{kind}” is {times} times as long as thick: no plate compactor",
                    kind = paver.name,
                    times
                ),
                false => phrase!(
                    "Paver “{kind}” is {times} times as long as thick (at most {limit})",
                    kind = paver.name,
                    times,
                    limit = print::number(LARGEST_ASPECT, 1)
                ),
            },
            value: Some(paver.aspect()),
            limit: Some(LARGEST_ASPECT),
            unit: "ratio",
            at: place_of(design, &format!("pavers.{}.size", paver.name)),
            where_: Some(Phrase::own(&paver.name)),
            point: None,
            source: "ASTM C936, section 5: face at most 101 in², length at most 4 thicknesses",
        }
    };
    laid(design).into_iter().map(finding).collect()
}

/// Each kind is thick enough to walk and park on.
pub fn thick_enough(design: &Design) -> Vec<Finding> {
    let limit = LEAST_THICKNESS;
    let finding = |paver: &PaverSpec| {
        let thin = paver.thickness < limit - LENGTH;
        Finding {
            id: "pavers.thickness",
            status: if thin { Status::Warn } else { Status::Pass },
            title: {
                let [kind, found, limit] = [
                    paver.name.clone(),
                    thickness(design, paver.thickness),
                    thickness(design, limit),
                ];
                match paver.form() {
                    Form::Paver => {
                        phrase!(
                            "Paver “{kind}” is {found} thick (at least {limit})",
                            kind,
                            found,
                            limit
                        )
                    }
                    Form::Slab => {
                        phrase!(
                            "Slab “{kind}” is {found} thick (at least {limit})",
                            kind,
                            found,
                            limit
                        )
                    }
                }
            },
            value: Some(paver.thickness),
            limit: Some(limit),
            unit: "mm",
            at: place_of(design, &format!("pavers.{}.thickness", paver.name)),
            where_: Some(Phrase::own(&paver.name)),
            point: None,
            source: "CMHA PAV-TEC-002: 60 mm for foot traffic and driveways",
        }
    };
    laid(design).into_iter().map(finding).collect()
}

/// What lies side by side in an area is of one thickness, or the tops do not meet.
pub fn one_thickness(design: &Design) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, area) in design.areas.iter().enumerate() {
        let kinds = area.paving.courses.iter().map(|laid| laid.paver);
        let kinds = kinds.map(|kind| &design.job.pavers[kind]);
        let field = area.build_up.paver;
        let off = |paver: &PaverSpec| (paver.thickness - field).abs();
        let Some(worst) = kinds.max_by(|a, b| off(a).total_cmp(&off(b))) else {
            continue;
        };
        if area.paving.courses.len() < 2 {
            continue;
        }
        let differs = off(worst) > ONE_THICKNESS + LENGTH;
        found.push(Finding {
            id: "pavers.one_thickness",
            status: if differs { Status::Fail } else { Status::Pass },
            title: match differs {
                true => phrase!(
                    "{area}: {kind} is {thickness} thick beside {field} of the field, so that their tops do not meet",
                    area = area.name,
                    kind = worst.name,
                    thickness = thickness(design, worst.thickness),
                    field = thickness(design, field)
                ),
                false => phrase!(
                    "{area}: all that is laid is of one thickness",
                    area = area.name
                ),
            },
            value: Some(off(worst)),
            limit: Some(ONE_THICKNESS),
            unit: "mm",
            at: place_of(design, &format!("paving[{index}].border")),
            where_: Some(Phrase::own(&area.name)),
            point: None,
            source: "ASTM C936: height within 1/8 in (from memory)",
        });
    }
    found
}
