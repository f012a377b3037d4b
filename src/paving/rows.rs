//! How the windows of a repeating cell lie to a region, row by row, without asking one by one.
//!
//! In: the cell's two steps, windows of it (pavers, joints) and the region, all in the bond's frame,
//! millimetres. Out: stretches of neighbouring cells whose window lies inside, and each cell whose
//! window the outline crosses. Method: a scan line as high as the window; the parts of the outline in
//! it say which columns they come near, those are asked alone, and between them all columns lie as
//! the first does. So the work grows with the outline and the rows and not with the area. A cell that
//! steps aslant is asked place by place.

use super::bond::Cell;
use super::modular::each_step;
use super::region::{Region, Side};
use super::window::Window;
use crate::geom::Vector;

/// Neighbouring cells of one row whose window lies alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// Which of the windows.
    pub(super) which: usize,
    /// Place of the first cell.
    pub(super) x: f64,
    /// Its height.
    pub(super) y: f64,
    /// How many cells, one step along from each to the next.
    pub(super) count: usize,
    /// Inside or across; cells outside are not visited.
    pub(super) side: Side,
}

/// Visits the stretches of cells whose window lies inside or across the region, the bond shifted by
/// `by`. Row by row: first the stretches inside, window by window, then each crossed cell, column by
/// column and in a cell in the order of the windows.
pub(super) fn each_stretch(
    cell: &Cell,
    region: &Region,
    by: [f64; 2],
    windows: &[Window],
    mut visit: impl FnMut(Stretch),
) {
    let (bottom, top) = region.heights();
    let Some(reach) = around(windows).filter(|_| bottom < top) else {
        return;
    };
    let reach = moved(&reach, by[0], by[1]);
    if cell.along.y != 0.0 {
        one_by_one(cell, region, by, windows, &reach, visit);
        return;
    }
    let (pitch, rise) = (cell.along.x, cell.up.y);
    let first = ((bottom - reach.y1) / rise).floor() as i64;
    let last = ((top - reach.y0) / rise).ceil() as i64;
    let mut crossed: Vec<(i64, usize)> = Vec::new();
    for row in first..=last {
        let y = row as f64 * rise;
        let shift = (row as f64 * cell.up.x).rem_euclid(pitch);
        let Some((left, right)) = region.extent(y + reach.y0, y + reach.y1) else {
            continue;
        };
        let first = ((left - reach.x1 - shift) / pitch).floor() as i64;
        let last = ((right - reach.x0 - shift) / pitch).ceil() as i64;
        let x = |column: i64| column as f64 * pitch + shift + by[0];
        let y = y + by[1];
        for (which, window) in windows.iter().enumerate() {
            let at = |column: i64| moved(window, x(column), y);
            region.along_row(at, pitch, [first, last], |column, count, side| match side {
                Side::Outside => {}
                Side::Across => crossed.push((column, which)),
                Side::Inside => visit(Stretch {
                    which,
                    x: x(column),
                    y,
                    count,
                    side,
                }),
            });
        }
        crossed.sort_unstable();
        for (column, which) in crossed.drain(..) {
            visit(Stretch {
                which,
                x: x(column),
                y,
                count: 1,
                side: Side::Across,
            });
        }
    }
}

/// The same for a cell that steps aslant: every place is asked.
fn one_by_one(
    cell: &Cell,
    region: &Region,
    by: [f64; 2],
    windows: &[Window],
    reach: &Window,
    mut visit: impl FnMut(Stretch),
) {
    let (bottom, top) = region.heights();
    let Some((left, right)) = region.extent(bottom, top) else {
        return;
    };
    let places = Window {
        x0: left - reach.x1,
        y0: bottom - reach.y1,
        x1: right - reach.x0,
        y1: top - reach.y0,
    };
    each_step([cell.along, cell.up], &places, |at: Vector| {
        let (x, y) = (at.x + by[0], at.y + by[1]);
        for (which, window) in windows.iter().enumerate() {
            let side = region.side(&moved(window, x, y));
            if side != Side::Outside {
                visit(Stretch {
                    which,
                    x,
                    y,
                    count: 1,
                    side,
                });
            }
        }
    });
}

/// The window moved.
pub(super) fn moved(window: &Window, x: f64, y: f64) -> Window {
    Window {
        x0: window.x0 + x,
        y0: window.y0 + y,
        x1: window.x1 + x,
        y1: window.y1 + y,
    }
}

/// The window around windows.
fn around(windows: &[Window]) -> Option<Window> {
    windows.iter().copied().reduce(|a, b| Window {
        x0: a.x0.min(b.x0),
        y0: a.y0.min(b.y0),
        x1: a.x1.max(b.x1),
        y1: a.y1.max(b.y1),
    })
}

#[cfg(test)]
mod tests {
    use geo::{Coord, LineString, MultiPolygon, Polygon};

    use super::super::bond;
    use super::super::spec::{Bond, PaverSpec};
    use super::*;

    fn ring(points: impl Iterator<Item = (f64, f64)>) -> LineString<f64> {
        points.map(|(x, y)| Coord { x, y }).collect()
    }

    /// A star of `2 n` corners about a centre.
    fn star(n: u32, centre: (f64, f64), radii: (f64, f64)) -> LineString<f64> {
        ring((0..2 * n).map(|k| {
            let (sin, cos) = libm::sincos(f64::from(k) / f64::from(n) * std::f64::consts::PI);
            let radius = if k % 2 == 0 { radii.0 } else { radii.1 };
            (centre.0 + radius * cos, centre.1 + radius * sin)
        }))
    }

    /// What asking every place alone gives: place, window and side of each that is not outside.
    fn alone(cell: &Cell, region: &Region, windows: &[Window]) -> Vec<(i64, i64, usize, Side)> {
        let mut found = Vec::new();
        for row in -80..80 {
            for column in -80..80 {
                let at = cell.along * column as f64 + cell.up * row as f64;
                for (which, window) in windows.iter().enumerate() {
                    let side = region.side(&moved(window, at.x, at.y));
                    if side != Side::Outside {
                        found.push((at.x.round() as i64, at.y.round() as i64, which, side));
                    }
                }
            }
        }
        found.sort_by_key(|(x, y, which, _)| (*y, *x, *which));
        found
    }

    #[test]
    fn rows_give_what_asking_each_place_gives() {
        let paver = PaverSpec {
            name: "field".into(),
            length: 200.0,
            width: 100.0,
            thickness: 60.0,
            joint: 3.0,
            per_pallet: None,
            per_layer: None,
            density: 2300.0,
        };
        // Edges that run along joint lines and paver sides as well as aslant, and a hole that lies
        // between two pavers' centres.
        let outlines = [
            (star(5, (1000.0, 700.0), (2400.0, 900.0)), None),
            (
                ring([(0.0, 0.0), (2032.0, 0.0), (2032.0, 1548.5), (0.0, 1545.0)].into_iter()),
                Some(star(7, (800.0, 600.0), (40.0, 400.0))),
            ),
            (
                ring(
                    [
                        (101.5, -3.0),
                        (1900.0, 2.0),
                        (1503.0, 1236.0),
                        (203.0, 1200.0),
                    ]
                    .into_iter(),
                ),
                Some(star(20, (1000.0, 500.0), (30.0, 30.0))),
            ),
        ];
        for bond in [
            Bond::Running,
            Bond::Stack,
            Bond::Herringbone,
            Bond::Basketweave,
        ] {
            let cell = bond::cell(&bond, 0, std::slice::from_ref(&paver)).expect("it can be laid");
            let windows: Vec<Window> = cell
                .pavers
                .iter()
                .map(|slot| slot.window.shrunk(bond::TOLERANCE))
                .collect();
            for (outline, hole) in &outlines {
                let polygon = Polygon::new(outline.clone(), hole.iter().cloned().collect());
                let region = Region::new(&MultiPolygon::new(vec![polygon]), 200.0);
                let mut found = Vec::new();
                each_stretch(&cell, &region, [0.0, 0.0], &windows, |stretch| {
                    for k in 0..stretch.count {
                        let x = stretch.x + k as f64 * cell.along.x;
                        let (x, y) = (x.round() as i64, stretch.y.round() as i64);
                        found.push((x, y, stretch.which, stretch.side));
                    }
                });
                found.sort_by_key(|(x, y, which, _)| (*y, *x, *which));
                assert!(found.len() > 100, "{bond:?}: {}", found.len());
                assert_eq!(found, alone(&cell, &region, &windows), "{bond:?}");
            }
        }
    }
}
