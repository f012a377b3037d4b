//! The search for the place of a bond that leaves the fewest slivers, then the fewest cuts.
//!
//! In: the cell, the pavers and the field in the bond's frame, millimetres. Out: the shift along
//! the bond's axes, how many places were tried and what was gained. Tried, in this order: the start
//! corner itself; along each axis the places where the field's extreme edges meet a joint or stand
//! half a paver from one; an even grid over one repeat of the cell, as fine as a bounded number of
//! pavers to look at allows; then, round the best so far, steps of half, a quarter and an eighth of
//! the grid's. Of equals the first tried wins, so that the same field gives the same answer. Left
//! out: the turn of the bond, which the job states.

use geo::Area;

use super::bond::{Cell, TOLERANCE};
use super::laid::{SLIVER_SHARE, Search, Tally};
use super::lay::kept;
use super::region::{Region, Side};
use super::rows::{each_stretch, moved};
use super::spec::PaverSpec;
use super::window::Window;

/// Most pavers that all the places tried look at together.
const MOST_LOOKED_AT: f64 = 3e6;

/// Finest and coarsest grid over one repeat, in places along each axis.
const GRID: [f64; 2] = [3.0, 12.0];

/// The best place of a cell in a field.
pub(super) fn best(cell: &Cell, pavers: &[PaverSpec], region: &Region) -> Search {
    let (bottom, top) = region.heights();
    let (left, right) = region.extent(bottom, top).unwrap_or((0.0, 0.0));
    let repeat = [cell.along.x.abs().max(1.0), cell.up.y.abs().max(1.0)];
    let pavers_in_field =
        region.shape().unsigned_area() / cell.along.cross(cell.up).abs() * cell.pavers.len() as f64;
    let grid = (MOST_LOOKED_AT / pavers_in_field.max(1.0)).sqrt() - 4.0;
    let grid = grid.clamp(GRID[0], GRID[1]).floor();
    let first = &pavers[cell.pavers[0].paver];
    let places = |axis: usize, low: f64, high: f64| {
        let half = [first.length, first.width][axis] / 2.0;
        let mut places = vec![0.0];
        for edge in [low, high + first.joint] {
            places.extend([edge, edge + half]);
        }
        places.extend((1..grid as usize).map(|step| step as f64 * repeat[axis] / grid));
        let mut known: Vec<f64> = Vec::new();
        for place in places {
            let place = place.rem_euclid(repeat[axis]);
            if known.iter().all(|other| (place - other).abs() > TOLERANCE) {
                known.push(place);
            }
        }
        known
    };
    let mut search = Search {
        shift: [0.0, 0.0],
        tried: 1,
        fixed: tally(cell, pavers, region, [0.0, 0.0]),
        best: Tally {
            slivers: 0,
            cuts: 0,
        },
    };
    search.best = search.fixed;
    let try_at = |search: &mut Search, shift: [f64; 2]| {
        if search.best.cuts == 0 {
            return;
        }
        search.tried += 1;
        let found = tally(cell, pavers, region, shift);
        if found < search.best {
            search.best = found;
            search.shift = shift;
        }
    };
    let across = places(0, left, right);
    for y in places(1, bottom, top) {
        for x in &across {
            if (*x, y) != (0.0, 0.0) {
                try_at(&mut search, [*x, y]);
            }
        }
    }
    for finer in [2.0, 4.0, 8.0] {
        let [x, y] = search.shift;
        let step = repeat.map(|repeat| repeat / grid / finer);
        for (i, j) in [(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)] {
            let shift = [
                (x + i * step[0]).rem_euclid(repeat[0]),
                (y + j * step[1]).rem_euclid(repeat[1]),
            ];
            try_at(&mut search, shift);
        }
    }
    search
}

/// How a field is cut with the bond shifted.
fn tally(cell: &Cell, pavers: &[PaverSpec], region: &Region, shift: [f64; 2]) -> Tally {
    let mut tally = Tally {
        slivers: 0,
        cuts: 0,
    };
    let slots: Vec<Window> = cell
        .pavers
        .iter()
        .map(|slot| slot.window.shrunk(TOLERANCE))
        .collect();
    each_stretch(cell, region, shift, &slots, |stretch| {
        if stretch.side != Side::Across {
            return;
        }
        let slot = &cell.pavers[stretch.which];
        let window = moved(&slot.window, stretch.x, stretch.y);
        let area = kept(region, &window).unsigned_area();
        let paver = &pavers[slot.paver];
        tally.cuts += usize::from(area > 0.0);
        let sliver = area > 0.0 && area < SLIVER_SHARE * paver.length * paver.width;
        tally.slivers += usize::from(sliver);
    });
    tally
}
