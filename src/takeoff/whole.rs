//! The takeoff of a whole design: quantities taken from it, then lines, hours, comparison, price.

use super::beside::{self, AGGREGATE, Beside};
use super::conventional::{self, Compared, Comparison};
use super::drains::{CHANNEL, DrainQuantity, GULLY};
use super::listing::listing;
use super::quantities::{
    BackfillQuantity, BeddingQuantity, EdgingQuantity, JointingQuantity, PanelQuantity,
    PaverQuantity, RailQuantity, SpoilQuantity, TextileQuantity,
};
use super::{Line, Price, Quantities, TooLarge, Weight, csv, lines, price, weight};
use crate::crew::{self, AccessSpec, Hours, Trips, Work};
use crate::design::Design;
use crate::diag::Diagnostic;
use crate::language::Language;
use crate::levels::{BuildUp, DigPart, DrainKind, DrainSpec, earthwork};
use crate::units::{Area, System, Volume};

/// Everything to order, the hours it takes, what it would be otherwise, and what it costs.
#[derive(Clone, Debug)]
pub struct Takeoff {
    /// What to order.
    pub lines: Vec<Line>,
    /// What is delivered and carted away.
    pub weight: Weight,
    /// The way in and the trips over it, when the job gives it.
    pub trips: Option<(AccessSpec, Trips)>,
    /// Person-hours and days.
    pub hours: Hours,
    /// The same paver on a conventional base, when asked for.
    pub comparison: Option<Comparison>,
    /// Hours and money of the two bases, when the comparison is asked for.
    pub beside: Option<Beside>,
    /// The price, when prices are given.
    pub price: Option<Price>,
    system: System,
}

impl Takeoff {
    /// The line with that key under `prices`.
    pub fn line(&self, key: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.key == key)
    }

    /// The lines of channels and gullies.
    pub fn drains(&self) -> impl Iterator<Item = &Line> {
        let kinds = [CHANNEL, GULLY];
        let lines = self.lines.iter();
        lines.filter(move |line| kinds.contains(&line.key.as_str()))
    }

    /// The lines as CSV, in the sheet's units.
    pub fn csv(&self) -> String {
        csv(&self.lines, self.system)
    }

    /// The lines and totals as a table for a terminal, in the sheet's units and any language.
    pub fn listing(&self, language: Language) -> Vec<String> {
        listing(self, self.system, language)
    }
}

/// The takeoff of a design.
///
/// # Errors
/// A price that is too large to be counted exactly, at its place.
pub fn of(design: &Design) -> Result<Takeoff, Vec<Diagnostic>> {
    let job = &design.job;
    let system = job.sheet.units;
    let mut lines = lines(&quantities(design), &job.waste, system);
    let weight = weight(&lines);
    let trips = job
        .access
        .map(|access| (access, super::weight::trips(&weight, &access)));
    let walked_m = trips.map_or(0.0, |(_, trips)| trips.walked_in_m);
    let work = work(design, walked_m);
    let hours = crew::hours(&job.crew, &work);
    let comparison = comparison(design);
    let mut price = match &job.prices {
        None => None,
        Some(prices) => match price(&mut lines, Some(hours.total), prices, system) {
            Ok(price) => Some(price),
            Err(error) => return Err(too_large(design, &error)),
        },
    };
    let beside = match &comparison {
        None => None,
        Some(compared) => {
            let ground = beside::Ground {
                work: &work,
                lines: &lines,
                delivered_kg: weight.delivered_kg,
                bedding_density: job.bedding.density,
                bedding_waste: job.waste.bedding,
                crew: &job.crew,
                access: job.access.as_ref(),
                prices: job.prices.as_ref(),
                system,
            };
            let beside = beside::beside(compared, &ground);
            if let Some(price) = &mut price {
                price.unused.retain(|key| key != AGGREGATE);
            }
            Some(beside.map_err(|error| too_large(design, &error))?)
        }
    };
    Ok(Takeoff {
        lines,
        weight,
        trips,
        hours,
        comparison,
        beside,
        price,
        system,
    })
}

/// The finding that an amount is too large, at its price.
fn too_large(design: &Design, error: &TooLarge) -> Vec<Diagnostic> {
    let key = format!("prices.{}", error.key);
    let found = Diagnostic::error("price-too-large", error.phrase());
    vec![match design.job.places.get(&key) {
        Some(place) => found.at(*place),
        None => found,
    }]
}

fn quantities(design: &Design) -> Quantities {
    let job = &design.job;
    let count = |n: usize| n as u64;
    let laid = design.areas.iter().flat_map(|area| {
        let courses = area.paving.courses.iter();
        courses.map(move |laid| (area, laid))
    });
    Quantities {
        panels: Some(PanelQuantity {
            length: job.panels.panel.length,
            width: job.panels.panel.width,
            thickness: job.panels.panel.thickness,
            whole: count(design.panels.whole),
            trimmed: count(design.panels.trimmed),
            buy: count(design.panels.buy),
            density: job.panel_density,
        }),
        pavers: laid
            .map(|(area, laid)| {
                let paver = &job.pavers[laid.paver];
                PaverQuantity {
                    kind: paver.name.clone(),
                    place: laid.place.in_area(&area.name),
                    length: paver.length,
                    width: paver.width,
                    thickness: paver.thickness,
                    whole: count(laid.whole.len()),
                    cut: count(laid.cut_count()),
                    buy: count(laid.buy),
                    per_pallet: paver.per_pallet,
                    per_layer: paver.per_layer,
                    density: paver.density,
                    form: paver.form(),
                    search: area
                        .paving
                        .search
                        .filter(|_| std::ptr::eq(laid, &area.paving.courses[0])),
                }
            })
            .collect(),
        bedding: Some(BeddingQuantity {
            material: job.bedding.material.clone(),
            area_m2: design.bedding.area_m2,
            loose: job.bedding.loose,
            loose_m3: design.bedding.loose_m3,
            density: job.bedding.density,
        }),
        textile: Some(TextileQuantity {
            area_m2: design.extents.dig.area_mm2 / 1e6,
            strips: count(design.textile.strips.len()),
            roll_m: design.textile.roll_mm / 1e3,
            roll_width: job.textile.roll_width,
            roll_length: job.textile.roll_length,
            roll_mass: job.textile.roll_mass,
            rolls: count(design.textile.rolls),
        }),
        rails: (design.rails.pieces > 0).then(|| RailQuantity {
            count: count(design.rails.all().count()),
            length_m: design.rails.length_mm / 1e3,
            pieces: count(design.rails.pieces),
            piece: job.bedding.rails.piece,
            diameter: job.bedding.rails.diameter,
            wall: job.bedding.rails.wall,
        }),
        edging: (design.edging.length_mm > 0.0).then(|| EdgingQuantity {
            length_m: design.edging.length_mm / 1e3,
            edges: count(design.edging.by_edge.len()),
            pieces: count(design.edging.pieces),
            piece: job.edging.piece,
            nails: count(design.edging.nails),
            nail: job.edging.nail,
            nail_diameter: job.edging.nail_diameter,
            mass: job.edging.mass,
            nails_per_box: job.edging.nails_per_box,
        }),
        jointing: (design.jointing.volume > 0.0).then(|| JointingQuantity {
            volume_m3: design.jointing.volume,
            density: job.jointing.density,
            mass_kg: design.jointing.mass,
            bag: job.jointing.bag,
            bags: u64::from(design.jointing.bags),
        }),
        backfill: (design.backfill.volume_m3 > 0.0).then(|| BackfillQuantity {
            on_base_m2: design.backfill.on_base_mm2 / 1e6,
            beyond_m2: design.backfill.beyond_mm2 / 1e6,
            volume_m3: design.backfill.volume_m3,
            topsoil_m3: design.backfill.topsoil_m3,
            topsoil: job.backfill.topsoil,
            density: job.backfill.density,
        }),
        drains: drains(&job.drains),
        fill_m3: design.dig.fill_m3(),
        spoil: Some(SpoilQuantity {
            cut_m3: design.dig.earthwork.cut_m3,
            swell: job.swell,
            loose_m3: design.dig.spoil_loose_m3,
            load_m3: job.load,
            loads: design.dig.loads,
            density: job.spoil_density,
        }),
    }
}

/// Channels and gullies, those of one size together.
fn drains(specs: &[DrainSpec]) -> Vec<DrainQuantity> {
    let mut found: Vec<DrainQuantity> = Vec::new();
    for spec in specs {
        let drain = match spec.kind {
            DrainKind::Channel {
                line: [from, to],
                width,
                ..
            } => DrainQuantity::Channel {
                width,
                count: 1,
                length_m: from.distance(to) / 1e3,
            },
            DrainKind::Point { size, .. } => DrainQuantity::Gully { size, count: 1 },
            DrainKind::Downspout { .. } => continue,
        };
        if !found.iter_mut().any(|of_kind| of_kind.takes(drain)) {
            found.push(drain);
        }
    }
    found
}

fn work(design: &Design, walked_m: f64) -> Work {
    let laid = || design.areas.iter().flat_map(|area| &area.paving.courses);
    let cuts: usize = laid().map(|laid| laid.cut_count()).sum();
    let whole: usize = laid().map(|laid| laid.whole.len()).sum();
    let pieces = design.edging.by_edge.iter().map(|edge| edge.laid.len());
    Work {
        paved_m2: Some(design.extents.paved.area_mm2 / 1e6),
        base_m2: Some(design.extents.base.area_mm2 / 1e6),
        panels_m2: Some(design.extents.base.area_mm2 / 1e6),
        aggregate_m2: Some(0.0),
        aggregate_m3: Some(0.0),
        dig_m2: Some(design.extents.dig.area_mm2 / 1e6),
        cut_m3: Some(design.dig.earthwork.cut_m3),
        spoil_m3: Some(design.dig.spoil_loose_m3),
        bedding_m3: Some(design.bedding.loose_m3),
        panels: Some(design.panels.pieces as f64),
        pavers: Some((whole + cuts) as f64),
        cut_m: Some(laid().map(|laid| laid.cut_length).sum::<f64>() / 1e3),
        cuts: Some(cuts as f64),
        edging_m: Some(design.edging.length_mm / 1e3),
        edging: Some(pieces.sum::<usize>() as f64),
        walked_m: Some(walked_m),
        joint_m: Some(laid().map(|laid| laid.joint_length).sum::<f64>() / 1e3),
    }
}

/// The same dig with the formation of a conventional build-up.
fn comparison(design: &Design) -> Option<Comparison> {
    let job = &design.job;
    let spec = job.conventional?;
    let deeper: Vec<DigPart> = design
        .dig
        .parts
        .iter()
        .map(|part| DigPart {
            build_up: BuildUp {
                paver: conventional::depth(part.build_up.paver, &spec),
                panel: 0.0,
                bedding_loose: 0.0,
                bedding_compacted: 0.0,
            },
            ..part.clone()
        })
        .collect();
    let ground = design.earth.as_ref().map(|earth| &earth.ground);
    let cut = earthwork(&deeper, ground)?.cut_m3;
    let paver = design.areas.first()?.build_up.paver;
    Some(conventional::compare(
        paver,
        &spec,
        &Compared {
            cut: Volume::from_m3(cut),
            base: Area::from_m2(design.extents.base.area_mm2 / 1e6),
            swell: job.swell,
            load: Volume::from_m3(job.load),
            loads: design.dig.loads,
        },
    ))
}
