//! What the sheet of a part of a plan says of its place: the key plan, and in words the lap, the
//! courses and corners in view, and where dimensions count from.
//!
//! In: the whole plan, the part and the grid of parts. Out: a block.

use super::column::{Block, Entry};
use super::figure::Figure;
use super::model::PlanModel;
use super::split::Grid;
use super::{hatch, pen};
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Colour, LineWidth, Pt};
use crate::geom::Point;
use crate::language::say;
use crate::units::{Length, Precision, System, print};

/// Greatest breadth and height of the key plan.
pub const KEY: (f64, f64) = (80.0, 70.0);

/// What a part's sheet says of its place: key plan, lap, courses and corners.
pub fn block(
    plan: &PlanModel,
    part: &PlanModel,
    grid: &Grid,
    (column, row): (usize, usize),
    system: System,
) -> Block {
    let languages = plan.languages;
    let mut entries = vec![Entry::Figures(vec![key_plan(plan, grid, (column, row))])];
    let lap = print::length(Length::from_mm(2.0 * grid.lap), system, Precision::Drawing);
    entries.push(Entry::marked(
        "–",
        say!(
            languages,
            "Neighbouring parts show a strip of {lap} along the match line twice.",
            lap
        ),
    ));
    // Numbers run on from one part of the base to the next: where some are not in view between
    // others, a range would name courses that lie elsewhere.
    let one = part
        .courses
        .windows(2)
        .all(|pair| pair[0].number + 1 == pair[1].number);
    if let (true, Some(first), Some(last)) = (one, part.courses.first(), part.courses.last()) {
        let begins = first.from_start_mm;
        let from = print::length(Length::from_mm(begins), system, Precision::Drawing);
        let (first, last) = (first.number, last.number);
        let words = if begins < 0.0 {
            say!(languages, "Courses here: {first} to {last}.", first, last)
        } else {
            say!(
                languages,
                "Courses here: {first} to {last}. Course {first} begins {from} from the start line.",
                first,
                last,
                from
            )
        };
        entries.push(Entry::marked("–", words));
    }
    let counted = plan.stations.first().filter(|_| !part.chains.is_empty());
    if let Some(name) = counted.map(|stations| &stations.name) {
        entries.push(Entry::marked(
            "–",
            say!(languages, "Running dimensions count from {name}.", name),
        ));
    }
    let corners: Vec<&str> = part.corners.iter().map(|c| c.name.as_str()).collect();
    if !corners.is_empty() {
        let named = corners.join(", ");
        entries.push(Entry::marked(
            "–",
            say!(languages, "Corners here: {named}.", named),
        ));
    }
    Block::paragraphs(
        say!(languages, "Part {name}", name = grid.name(column, row)),
        entries,
    )
}

/// A ring with no more corners than can be told apart on paper, so that the key plans of many parts
/// take no more than the plan; none where it would be a blot.
fn thinned(ring: Vec<Pt>) -> Option<Vec<Pt>> {
    /// Smallest ring that is drawn.
    const BLOT: f64 = 1.0;
    /// Corners nearer than this are one.
    const APART: f64 = 0.1;
    let around = Rect::around(ring.iter().copied())?;
    if around.width().max(around.height()) < BLOT {
        return None;
    }
    let mut kept: Vec<Pt> = Vec::new();
    for at in ring {
        if kept.last().is_none_or(|last| last.distance(at) >= APART) {
            kept.push(at);
        }
    }
    Some(kept)
}

/// The outline of the whole job with its match lines, one part hatched.
fn key_plan(plan: &PlanModel, grid: &Grid, here: (usize, usize)) -> Figure {
    let [low, high] = grid.bounds;
    let ratio = ((high.x - low.x) / KEY.0)
        .max((high.y - low.y) / KEY.1)
        .max(1e-6);
    let at = |p: Point| Pt::new((p.x - low.x) / ratio, (high.y - p.y) / ratio);
    let corners = |[a, b]: [Point; 2]| Rect::between(at(a), at(b)).corners().to_vec();
    let rings = plan.dig.iter();
    let rings = rings.map(|ring| ring.iter().map(|p| at(*p)).collect());
    let outline: Vec<Vec<Pt>> = rings.filter_map(thinned).collect();
    let cell = corners(grid.cell(here.0, here.1));
    let strokes = hatch::parallel(std::slice::from_ref(&cell), 45.0, 1.8, 0.0);
    let mut items = vec![pen::polygon(&cell, None, Some(pen::TINT))];
    items.extend(pen::lines(&strokes, pen::solid(LineWidth::W18, pen::GREY)));
    items.push(pen::region(
        &outline,
        Some(pen::solid(LineWidth::W35, Colour::BLACK)),
        None,
    ));
    for row in 0..grid.count.1 {
        for column in 0..grid.count.0 {
            let cell = corners(grid.cell(column, row));
            items.push(pen::polygon(&cell, Some(pen::FINE), None));
            // A part too narrow for its name is found by counting from its neighbours.
            let lettered = |bounds: &Rect| bounds.width() > 8.0 && bounds.height() > 5.6;
            if let Some(bounds) = Rect::around(cell).filter(lettered) {
                let middle = bounds.centre();
                let name = grid.name(column, row);
                let ground = Rect::between(middle.moved(-3.2, -2.3), middle.moved(3.2, 2.3));
                items.push(pen::polygon(&ground.corners(), None, Some(Colour::WHITE)));
                items.push(pen::bold(
                    middle.moved(0.0, 1.25),
                    2.5,
                    Anchor::Middle,
                    &name,
                ));
            }
        }
    }
    Figure {
        title: String::new(),
        width: (high.x - low.x) / ratio,
        height: (high.y - low.y) / ratio,
        items,
        ..Figure::default()
    }
}
