//! Lines that cross text or come too near to it.

use std::collections::{BTreeMap, BTreeSet};

use super::super::paper::{Pt, Rect};
use super::geometry::{Quad, clipped, inside};
use super::marks::{Marks, Shape};
use super::{Conflict, SLACK};

/// Clear paper wanted between a line and the ink of a text, in millimetres.
const HALO: f64 = 0.3;
/// Distance of the places at which a line in a box is looked at, in millimetres.
const SAMPLE: f64 = 0.1;
/// Cell of the grid that finds boxes, in millimetres.
const CELL: f64 = 10.0;

/// How a line bears on a text.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Bearing {
    Crosses,
    Near,
}

/// Every label that a visible line or the edge of a tint crosses, and every other label that a
/// visible line is near.
pub fn met(marks: &Marks, paper: Rect) -> Vec<Conflict> {
    let grid = grid(marks, paper);
    // By label: the fills that may hide a line there.
    let covers: Vec<Vec<&Shape>> = marks
        .labels
        .iter()
        .map(|label| {
            let bounds = label.bounds.grown(HALO);
            let fills = marks.fills.iter();
            let mut fills: Vec<&Shape> =
                fills.filter(|fill| fill.bounds.overlaps(bounds)).collect();
            // Grounds of words first: they hide most, and have few corners to look at.
            fills.sort_by_key(|fill| fill.parts.iter().map(Vec::len).sum::<usize>());
            fills
        })
        .collect();
    // By label, bearing and group: where.
    let mut seen: BTreeMap<(usize, Bearing, &str), Pt> = BTreeMap::new();
    let lines = marks.strokes.iter().map(|stroke| (stroke, true));
    let edges = marks.edges.iter().map(|edge| (edge, false));
    for (line, stroked) in lines.chain(edges) {
        for piece in line.parts.iter().flat_map(|part| part.windows(2)) {
            let bounds = Rect::between(piece[0], piece[1]).grown(line.half + HALO);
            let mut near = BTreeSet::new();
            for cell in cells_of(bounds, paper) {
                near.extend(grid.get(&cell).into_iter().flatten().copied());
            }
            for index in near {
                let label = &marks.labels[index];
                if !label.bounds.overlaps(bounds) {
                    continue;
                }
                let ways = [
                    (Bearing::Crosses, &label.cells, line.half - SLACK / 2.0),
                    (Bearing::Near, &label.glyphs, line.half + HALO),
                ];
                for (bearing, boxes, grown) in ways {
                    let key = (index, bearing, line.group);
                    if seen.contains_key(&key) || (bearing == Bearing::Near && !stroked) {
                        continue;
                    }
                    let piece = [piece[0], piece[1]];
                    if let Some(at) = visible(marks, line, piece, &covers[index], (boxes, grown)) {
                        seen.insert(key, at);
                    }
                }
            }
        }
    }
    let crossed: BTreeSet<usize> = seen
        .keys()
        .filter(|(_, bearing, _)| *bearing == Bearing::Crosses)
        .map(|(index, ..)| *index)
        .collect();
    seen.into_iter()
        .filter(|((index, bearing, _), _)| *bearing == Bearing::Crosses || !crossed.contains(index))
        .map(|((index, bearing, by), at)| {
            let text = marks.labels[index].text.text.clone();
            let by = by.to_string();
            match bearing {
                Bearing::Crosses => Conflict::Struck { text, by, at },
                Bearing::Near => Conflict::Close { text, by, at },
            }
        })
        .collect()
}

/// A visible place of a straight piece of a line in the boxes of a label grown by a distance; what
/// `covers` the label hides lines that were drawn before.
fn visible(
    marks: &Marks,
    line: &Shape,
    [a, b]: [Pt; 2],
    covers: &[&Shape],
    (boxes, grown): (&[Quad], f64),
) -> Option<Pt> {
    boxes.iter().find_map(|quad| {
        let (start, end) = clipped(a, b, quad, grown)?;
        let length = a.distance(b) * (end - start);
        let count = (length / SAMPLE).ceil().clamp(1.0, 10_000.0) as u32;
        (0..=count).find_map(|i| {
            let t = start + (end - start) * f64::from(i) / f64::from(count);
            let at = Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
            let hidden = || {
                let mut over = covers.iter().filter(|fill| fill.order > line.order);
                over.any(|fill| {
                    fill.bounds.has(at) && inside(at, &fill.parts) && marks.shown(at, &fill.clips)
                })
            };
            (marks.shown(at, &line.clips) && !hidden()).then_some(at)
        })
    })
}

fn grid(marks: &Marks, paper: Rect) -> BTreeMap<(i32, i32), Vec<usize>> {
    let mut grid: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (index, label) in marks.labels.iter().enumerate() {
        for cell in cells_of(label.bounds, paper) {
            grid.entry(cell).or_default().push(index);
        }
    }
    grid
}

/// The cells of the grid that a rectangle touches, on the paper only.
fn cells_of(bounds: Rect, paper: Rect) -> impl Iterator<Item = (i32, i32)> {
    let cell = |value: f64| (value / CELL).floor() as i32;
    let across = cell(bounds.left.max(paper.left))..=cell(bounds.right.min(paper.right));
    let down = cell(bounds.top.max(paper.top))..=cell(bounds.bottom.min(paper.bottom));
    across.flat_map(move |x| down.clone().map(move |y| (x, y)))
}
