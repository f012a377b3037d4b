//! `services.dig`, `services.nails`: buried services against the dig and the nail tips.

use super::levels::length;
use super::{Finding, LENGTH, Status, place_of};
use crate::design::{Design, ServiceDesign};
use crate::language::{Phrase, phrase};

/// Who may dig there, and how, is law that differs from place to place.
const SOURCE: &str = "local law on digging near buried services; common practice, no source";

/// Each service against the dig.
pub fn dig(design: &Design) -> Vec<Finding> {
    let services = design.services.iter().enumerate();
    services
        .map(|(index, service)| {
            let spec = &service.spec;
            let buried = &service.buried;
            let cover = buried.cover;
            let near = !buried.band.0.is_empty();
            let met = cover.is_some_and(|cover| cover.value < LENGTH);
            let zone = length(design, spec.zone);
            let place = edges(design, service);
            let service = service.spec.called();
            let title = match cover {
                _ if !near => phrase!(
                    "{service}: its zone of {zone} stays clear of the dig",
                    service,
                    zone
                ),
                Some(cover) if met => phrase!(
                    "{service}: the dig goes {below} below its top; move one of them",
                    service,
                    below = length(design, -cover.value)
                ),
                Some(cover) => phrase!(
                    "{service}: dig by hand within {zone} of it; {cover} of earth stays over it",
                    service,
                    zone,
                    cover = length(design, cover.value)
                ),
                None if buried.in_dig > 0.0 => phrase!(
                    "{service}: depth not stated; dig by hand within {zone} of it",
                    service,
                    zone
                ),
                None => phrase!(
                    "{service}: runs beside the dig; dig by hand within {zone} of it",
                    service,
                    zone
                ),
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
                where_: place,
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
            let clear = moved + left_out == 0;
            let stretches = service.nails.iter().map(|s| (s.edge.as_str(), s.stretch));
            let place = (!clear).then(|| along(design, stretches));
            let service = service.spec.called();
            Finding {
                id: "services.nails",
                status: if clear { Status::Pass } else { Status::Warn },
                title: if clear {
                    phrase!("{service}: no nail comes near it", service)
                } else {
                    phrase!(
                        "{service}: nails moved out of its zone: {moved}; left out: {left_out}",
                        service,
                        moved,
                        left_out
                    )
                },
                value: Some((moved + left_out) as f64),
                limit: Some(0.0),
                unit: "",
                at: place_of(design, &format!("site.services[{index}]")),
                where_: place,
                point: None,
                source: SOURCE,
            }
        })
        .collect()
}

/// The edges in a service's zone, in words.
fn edges(design: &Design, service: &ServiceDesign) -> Option<Phrase> {
    if service.buried.band.0.is_empty() || service.edges.is_empty() {
        return None;
    }
    let edges = service.edges.iter();
    Some(along(
        design,
        edges.map(|(edge, stretch)| (edge.as_str(), *stretch)),
    ))
}

/// Stretches of edges, each by its edge and the distances along it in millimetres.
fn along<'a>(design: &Design, stretches: impl Iterator<Item = (&'a str, [f64; 2])>) -> Phrase {
    let stretches = stretches.map(|(edge, stretch)| {
        let [from, to] = stretch.map(|mm| length(design, mm));
        phrase!("{edge} from {from} to {to}", edge, from, to)
    });
    phrase!("edge {edge}", edge = Phrase::row(stretches, ", "))
}
