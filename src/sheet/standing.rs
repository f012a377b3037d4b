//! What stands on site, as a plan shows it: structures, and walls that no structure stands for.
//!
//! In: the model's structures and wall faces. Out: marks of the plan's layer of structures, and
//! lines that lettering keeps clear of.

use super::labels::Taken;
use super::model::Structure;
use super::plan::Marks;
use super::{hatch, pen, window};
use crate::draw::paper::Rect;
use crate::draw::{Colour, Item, LineWidth, Pt};
use crate::site::StructureKind;

/// Draws the structures that stand by the dig, cut to the view.
pub fn structures(marks: &mut Marks, room: Rect) {
    let Some(view) = marks.shown().common(room) else {
        return;
    };
    for structure in &marks.model.structures {
        let ring: Vec<Pt> = structure.ring.iter().map(|p| marks.at(*p)).collect();
        // What is laid under a structure shows through it, and it lies over that.
        let layer = match structure.on_paving {
            true => "on-paving",
            false => "structures",
        };
        let items = structure_marks(structure, &ring, view, &mut marks.taken);
        marks.add(layer, items);
    }
}

/// Breadth of the band that stands for a wall of unknown thickness.
const WALL: f64 = 4.0;

/// Draws a hatched band behind each wall face that no structure stands for.
pub fn walls(marks: &mut Marks) {
    for face in &marks.model.walls {
        let run: Vec<Pt> = face.iter().map(|p| marks.at(*p)).collect();
        let mut band = run.clone();
        for (i, p) in run.iter().enumerate().rev() {
            let (a, b) = (run[i.saturating_sub(1)], run[(i + 1).min(run.len() - 1)]);
            let long = a.distance(b).max(1e-9);
            // Right of the way along as seen on paper is out of the paving.
            band.push(p.moved(-(b.y - a.y) / long * WALL, (b.x - a.x) / long * WALL));
        }
        let strokes = hatch::parallel(std::slice::from_ref(&band), 45.0, 1.5, 0.0);
        for stroke in &strokes {
            marks.taken.add_line(*stroke, 0.8);
        }
        marks.add("structures", [pen::polygon(&band, None, Some(pen::TINT))]);
        marks.add(
            "structures",
            pen::lines(&strokes, pen::solid(LineWidth::W18, pen::GREY)),
        );
    }
}

/// A structure: tint and hatch by kind, and its outline inside the view.
fn structure_marks(structure: &Structure, ring: &[Pt], view: Rect, taken: &mut Taken) -> Vec<Item> {
    let cut = window::ring(view, ring);
    if cut.len() < 3 {
        return Vec::new();
    }
    let mut items = Vec::new();
    if !structure.on_paving {
        let (fill, hatched) = pattern(structure.kind, &cut);
        items.push(pen::polygon(&cut, None, Some(fill)));
        for segment in &hatched {
            taken.add_line(*segment, 0.4);
        }
        items.extend(pen::lines(&hatched, pen::solid(LineWidth::W18, pen::GREY)));
    }
    let outline = window::sides(view, ring);
    for side in &outline {
        taken.add_line(*side, 3.0);
    }
    items.extend(pen::lines(
        &outline,
        pen::solid(LineWidth::W50, Colour::BLACK),
    ));
    items
}

/// Tint and hatch lines of a kind of structure.
pub fn pattern(kind: StructureKind, ring: &[Pt]) -> (Colour, Vec<[Pt; 2]>) {
    let ring = [ring.to_vec()];
    match kind {
        StructureKind::Building => (pen::TINT, hatch::parallel(&ring, 45.0, 2.5, 0.0)),
        StructureKind::Wall => (pen::TINT, hatch::parallel(&ring, 45.0, 1.5, 0.0)),
        StructureKind::Pool => (Colour(236, 242, 247), hatch::parallel(&ring, 0.0, 3.5, 1.0)),
        StructureKind::Tree => (Colour::WHITE, hatch::parallel(&ring, 60.0, 2.0, 0.0)),
        StructureKind::Post => (Colour(120, 120, 120), Vec::new()),
        StructureKind::Step => (
            Colour(244, 244, 244),
            hatch::parallel(&ring, 90.0, 4.0, 0.0),
        ),
        StructureKind::Other => (pen::TINT, hatch::parallel(&ring, 135.0, 3.0, 0.0)),
    }
}
