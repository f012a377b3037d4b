//! Section A–A: what the cut line meets, to scale.
//!
//! In: slabs and profiles along the cut (site millimetres, station from its start, levels up) and
//! a place on paper. Out: items. Across, a standard scale; up, the same or stretched by a whole
//! factor that is printed with the title. Levels at both ends of the paving.

mod buried;
mod marks;
mod model;

pub use model::{
    CutDepth, CutEdging, CutService, CutStructure, Fit, SectionModel, Slab, TOLD_APART, level,
};

use super::labels::{Keyed, Taken};
use super::{hatch, pen};
use crate::draw::paper::Rect;
use crate::draw::{Colour, Dash, Item, LineWidth, Pt};
use crate::site::StructureKind;
use model::{FOOT, HEAD};

/// Draws the section in its room (title above not included); gives what found no place in it too.
pub fn draw(model: &SectionModel, fit: &Fit, room: Rect) -> (Vec<Item>, Vec<Keyed>) {
    let [low, high] = model.reach(fit.deep);
    let ratio = fit.scale.ratio;
    let across = (model.span[1] - model.span[0]) / ratio;
    let left = room.left + (room.width() - across) / 2.0;
    let tall = (high - low) * fit.stretch / ratio;
    let spare = (room.height() - HEAD - FOOT - tall).max(0.0);
    let base = room.top + HEAD + spare / 2.0 + tall;
    let at = |s: f64, level: f64| {
        Pt::new(
            left + (s - model.span[0]) / ratio,
            base - (level - low) * fit.stretch / ratio,
        )
    };
    let quad = |slab: &Slab| {
        vec![
            at(slab.at[0], slab.top[0]),
            at(slab.at[1], slab.top[1]),
            at(slab.at[1], slab.bottom[1]),
            at(slab.at[0], slab.bottom[0]),
        ]
    };
    let mut taken = Taken::new(room);
    let mut items = Vec::new();
    let cut = pen::solid(LineWidth::W35, Colour::BLACK);
    let unit = pen::solid(LineWidth::W25, Colour::BLACK);
    // Ground and the earth below it, outside structures.
    let surface = profile(model, &at);
    let services: Vec<buried::Drawn> = model
        .services
        .iter()
        .map(|service| buried::drawn(service, fit, &at, low, model.span))
        .collect();
    items.extend(buried::earth(&services, &surface, &mut taken));
    for run in &surface {
        let mut earth = hatch::earth_band(run, 3.0, 13.0);
        earth.retain(|stroke| !stroke.iter().any(|end| buried::within(&services, end.x)));
        for stroke in &earth {
            taken.add_line(*stroke, 2.0);
        }
        items.extend(pen::lines(&earth, pen::solid(LineWidth::W18, pen::BROWN)));
        items.push(pen::polyline(run, pen::solid(LineWidth::W50, pen::BROWN)));
        taken.add_run(run, 3.0);
    }
    for slab in &model.bedding {
        let ring = quad(slab);
        items.extend(sand(&ring));
        items.push(pen::polygon(&ring, Some(pen::FINE), None));
        taken.add_ring(&ring, 2.0);
    }
    for slab in &model.panels {
        let ring = quad(slab);
        items.push(pen::polygon(&ring, Some(unit), Some(PANEL_FILL)));
        taken.add_ring(&ring, 2.0);
    }
    for slab in &model.pavers {
        let ring = quad(slab);
        let strokes = hatch::parallel(std::slice::from_ref(&ring), 45.0, 1.8, 0.0);
        items.push(pen::polygon(&ring, None, Some(Colour::WHITE)));
        items.extend(pen::lines(&strokes, pen::FINE));
        items.push(pen::polygon(&ring, Some(cut), None));
        taken.add_ring(&ring, 2.0);
    }
    // The ground as it is, over the layers that take its place; where it is assumed it is the finish.
    let measured = !model.assumed_ground;
    for open in open_ground(model).into_iter().filter(|_| measured) {
        let run: Vec<Pt> = open.iter().map(|g| at(g[0], g[1])).collect();
        items.push(pen::polyline(
            &run,
            pen::dashed(LineWidth::W25, Dash::Dashed, pen::BROWN),
        ));
        taken.add_run(&run, 1.0);
    }
    // The geotextile lies on the formation, part by part.
    for slab in &model.dig {
        let run = [0, 1].map(|end| at(slab.at[end], slab.bottom[end]));
        items.push(pen::polyline(&run, GEOTEXTILE));
        taken.add_run(&run, 2.0);
    }
    for edging in &model.edging {
        let out = edging.side * edging.width;
        let thick = (edging.width / 8.0) * edging.side;
        let foot = edging.height / 8.0;
        let shape = [
            at(edging.at, edging.on),
            at(edging.at + out, edging.on),
            at(edging.at + out, edging.on + foot),
            at(edging.at + thick, edging.on + foot),
            at(edging.at + thick, edging.on + edging.height),
            at(edging.at, edging.on + edging.height),
        ];
        items.push(pen::polygon(
            &shape,
            Some(pen::solid(LineWidth::W18, pen::RED)),
            Some(pen::RED),
        ));
        let s = edging.at + out / 2.0;
        let nail = [at(s, edging.on + foot), at(s, edging.on - edging.nail)];
        items.push(pen::line(nail[0], nail[1], cut));
        taken.add_line(nail, 3.0);
    }
    for structure in &model.structures {
        items.extend(structure_cut(
            structure,
            model,
            &at,
            [low, high],
            &mut taken,
        ));
    }
    let (pipes, asks) = buried::pipes(model, &services, fit, &mut taken);
    items.extend(pipes);
    let (lettering, keyed) = marks::words(model, &at, [low, high], room, (&mut taken, asks));
    items.extend(lettering);
    (items, keyed)
}

/// Fill of a panel where it is cut: dark enough to tell from sand and paver in black and white.
pub const PANEL_FILL: Colour = Colour(150, 150, 150);
/// The geotextile: a thick dashed line.
pub const GEOTEXTILE: crate::draw::Stroke =
    pen::dashed(LineWidth::W35, Dash::Dashed, Colour::BLACK);

/// Dots of sand inside a ring.
pub fn sand(ring: &[Pt]) -> Vec<Item> {
    hatch::dots(&[ring.to_vec()], 1.5)
        .into_iter()
        .map(|p| pen::circle(p, 0.16, None, Some(Colour::BLACK)))
        .collect()
}

/// The surface as it will be cut: ground outside the dig, sides of the dig and formation.
fn profile(model: &SectionModel, at: &impl Fn(f64, f64) -> Pt) -> Vec<Vec<Pt>> {
    let mut runs = Vec::new();
    let mut run: Vec<Pt> = Vec::new();
    let mut dig: Vec<&Slab> = model.dig.iter().collect();
    dig.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
    let mut s = model.span[0];
    run.push(at(s, level(&model.ground, s)));
    for (index, slab) in dig.iter().enumerate() {
        if covered(model, s, slab.at[0]) {
            runs.push(std::mem::take(&mut run));
        } else {
            for g in model
                .ground
                .iter()
                .filter(|g| g[0] > s && g[0] < slab.at[0])
            {
                run.push(at(g[0], g[1]));
            }
            if slab.at[0] > s + 1.0 {
                run.push(at(slab.at[0], level(&model.ground, slab.at[0])));
            }
        }
        run.push(at(slab.at[0], slab.bottom[0]));
        run.push(at(slab.at[1], slab.bottom[1]));
        s = slab.at[1];
        let next = dig.get(index + 1);
        if next.is_none_or(|next| !covered(model, s, next.at[0])) {
            run.push(at(s, level(&model.ground, s)));
        }
    }
    for g in model.ground.iter().filter(|g| g[0] > s) {
        run.push(at(g[0], g[1]));
    }
    runs.push(run);
    runs
}

/// Whether one structure fills the cut between two stations, so that there is no ground there.
fn covered(model: &SectionModel, from: f64, to: f64) -> bool {
    let fills = |at: &[f64; 2]| at[0] <= from + 1.0 && at[1] >= to - 1.0;
    to > from + 1.0 && model.structures.iter().any(|s| fills(&s.at))
}

/// The ground where no structure stands, in runs.
fn open_ground(model: &SectionModel) -> Vec<Vec<[f64; 2]>> {
    let mut stations: Vec<f64> = model.ground.iter().map(|g| g[0]).collect();
    stations.extend(model.structures.iter().flat_map(|s| s.at));
    stations.retain(|s| (model.span[0]..=model.span[1]).contains(s));
    stations.sort_by(f64::total_cmp);
    let mut runs: Vec<Vec<[f64; 2]>> = Vec::new();
    for pair in stations.windows(2) {
        if covered(model, pair[0], pair[1]) || pair[1] - pair[0] <= 1.0 {
            continue;
        }
        let ends = [pair[0], pair[1]].map(|s| [s, level(&model.ground, s)]);
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|g| pair[0] - g[0] <= 1.0) => run.push(ends[1]),
            _ => runs.push(ends.to_vec()),
        }
    }
    runs
}

fn structure_cut(
    structure: &CutStructure,
    model: &SectionModel,
    at: &impl Fn(f64, f64) -> Pt,
    [low, high]: [f64; 2],
    taken: &mut Taken,
) -> Vec<Item> {
    let reach = (high - low).max(1.0);
    let ground = level(&model.ground, structure.at[0]).max(high - reach * 0.2);
    let (top, bottom) = match structure.kind {
        StructureKind::Pool => (ground, low),
        _ => (high + reach * 0.25, low),
    };
    let ring = [
        at(structure.at[0], top),
        at(structure.at[1], top),
        at(structure.at[1], bottom),
        at(structure.at[0], bottom),
    ];
    taken.add_ring(&ring, 3.0);
    let (fill, strokes) = super::standing::pattern(structure.kind, &ring);
    for stroke in &strokes {
        taken.add_line(*stroke, 0.4);
    }
    let mut items = vec![pen::polygon(&ring, None, Some(fill))];
    items.extend(pen::lines(&strokes, pen::solid(LineWidth::W18, pen::GREY)));
    // Open at top and bottom: the structure goes on.
    let heavy = pen::solid(LineWidth::W50, Colour::BLACK);
    for (i, side) in [[ring[0], ring[3]], [ring[1], ring[2]]]
        .into_iter()
        .enumerate()
    {
        if structure.at[i] > model.span[0] + 1.0 && structure.at[i] < model.span[1] - 1.0 {
            items.push(pen::line(side[0], side[1], heavy));
        }
    }
    items
}
