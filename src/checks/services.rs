//! `services.dig`, `services.nails`: buried services against the dig and the nail tips.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::{Design, ServiceDesign};
use crate::units::{Length, Precision, print};

/// Who may dig there, and how, is law that differs from place to place.
const SOURCE: &str = "local law on digging near buried services; common practice, no source";

/// Each service against the dig.
pub fn dig(design: &Design) -> Vec<Finding> {
    let services = design.services.iter().enumerate();
    services
        .map(|(index, service)| {
            let spec = &service.spec;
            let cover = service.buried.cover;
            let near = !service.buried.band.0.is_empty();
            let met = cover.is_some_and(|cover| cover.value < LENGTH);
            let zone = length(design, spec.zone);
            let name = named(service);
            let title = match cover {
                _ if !near => format!("{name}: its zone of {zone} stays clear of the dig"),
                Some(cover) if met => format!(
                    "{name}: the dig goes {} below its top; move one of them",
                    length(design, -cover.value)
                ),
                Some(cover) => format!(
                    "{name}: dig by hand within {zone} of it; {} of earth stays over it",
                    length(design, cover.value)
                ),
                None if service.buried.in_dig > 0.0 => {
                    format!("{name}: depth not stated; dig by hand within {zone} of it")
                }
                None => format!("{name}: runs beside the dig; dig by hand within {zone} of it"),
            };
            Finding {
                id: "services.dig",
                status: match (near, met) {
                    (false, _) => Status::Pass,
                    (true, false) => Status::Warn,
                    (true, true) => Status::Fail,
                },
                title,
                value: cover.map(|cover| cover.value),
                limit: cover.map(|_| 0.0),
                unit: "mm",
                at: place_of(design, &format!("site.services[{index}]")),
                where_: edges(design, service),
                point: cover.map(|cover| cover.at),
                source: SOURCE,
            }
        })
        .collect()
}

/// Each service against the nails: none may be driven near it.
pub fn nails(design: &Design) -> Vec<Finding> {
    let services = design.services.iter().enumerate();
    services
        .map(|(index, service)| {
            let sum = |count: fn(&crate::edging::Spared) -> usize| -> usize {
                service.nails.iter().map(count).sum()
            };
            let (moved, left_out) = (sum(|s| s.moved), sum(|s| s.left_out));
            let name = named(service);
            let clear = moved + left_out == 0;
            let stretches: Vec<String> = service
                .nails
                .iter()
                .map(|s| {
                    let [from, to] = s.stretch.map(|mm| length(design, mm));
                    format!("{} from {from} to {to}", s.edge)
                })
                .collect();
            Finding {
                id: "services.nails",
                status: if clear { Status::Pass } else { Status::Warn },
                title: if clear {
                    format!("{name}: no nail comes near it")
                } else {
                    format!("{name}: {moved} nails moved out of its zone, {left_out} left out")
                },
                value: Some((moved + left_out) as f64),
                limit: Some(0.0),
                unit: "",
                at: place_of(design, &format!("site.services[{index}]")),
                where_: (!clear).then(|| format!("edge {}", stretches.join(", "))),
                point: None,
                source: SOURCE,
            }
        })
        .collect()
}

/// The service's name, with what it carries where the name does not say so.
fn named(service: &ServiceDesign) -> String {
    let (name, word) = (&service.spec.name, service.spec.kind.word());
    if name.to_lowercase().contains(word) {
        name.clone()
    } else {
        format!("{name} ({word})")
    }
}

/// The edges in a service's zone, in words.
fn edges(design: &Design, service: &ServiceDesign) -> Option<String> {
    if service.buried.band.0.is_empty() || service.edges.is_empty() {
        return None;
    }
    let edges = service.edges.iter().map(|(edge, stretch)| {
        let [from, to] = stretch.map(|mm| length(design, mm));
        format!("{edge} from {from} to {to}")
    });
    Some(format!("edge {}", edges.collect::<Vec<_>>().join(", ")))
}

fn length(design: &Design, mm: f64) -> String {
    print::length(
        Length::from_mm(mm),
        design.job.sheet.units,
        Precision::Drawing,
    )
}
