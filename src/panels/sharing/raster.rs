//! A region of the panel on a raster, to compare most regions without geometry.
//!
//! In: the sides of a region in the panel's coordinates, millimetres. Out: the cells of a raster
//! over the panel that lie within the region, and those that it reaches into. Regions with a
//! cell within both overlap; regions that reach into no cell together do not; the rest are left
//! to geometry.

/// Cells along the panel: the bits of a row.
const COLUMNS: usize = 64;
/// Cells across the panel.
const ROWS: usize = 32;
/// Cells narrower than this prove nothing about an overlap, in millimetres.
const FINEST: f64 = 1.0;
/// How far a side reaches beyond itself, so that rounding hides no cell, in millimetres.
const REACH: f64 = 1e-3;

/// A region on the raster.
#[derive(Clone, Debug)]
pub(in crate::panels) struct Raster {
    within: [u64; ROWS],
    reached: [u64; ROWS],
}

impl Raster {
    /// The region between `sides`, which close round it, of a panel of `size`.
    pub(in crate::panels) fn new(sides: &[[[f64; 2]; 2]], size: [f64; 2]) -> Self {
        let (wide, high) = (size[0] / COLUMNS as f64, size[1] / ROWS as f64);
        let cell = |at: f64, step: f64, count: usize| {
            (libm::floor(at / step).max(0.0) as usize).min(count - 1)
        };
        let mut border = [0_u64; ROWS];
        let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); ROWS];
        for [a, b] in sides {
            let (low, high_end) = if a[1] <= b[1] { (a, b) } else { (b, a) };
            let along = |v: f64| {
                let rise = high_end[1] - low[1];
                let share = if rise > 0.0 { (v - low[1]) / rise } else { 0.0 };
                low[0] + (high_end[0] - low[0]) * share.clamp(0.0, 1.0)
            };
            let rows = cell(low[1] - REACH, high, ROWS)..=cell(high_end[1] + REACH, high, ROWS);
            for row in rows {
                let (bottom, top) = (row as f64 * high, (row + 1) as f64 * high);
                let level = high_end[1] - low[1] <= 2.0 * REACH;
                let ends = if level {
                    [a[0], b[0]]
                } else {
                    [along(bottom - REACH), along(top + REACH)]
                };
                let first = cell(ends[0].min(ends[1]) - REACH, wide, COLUMNS);
                let last = cell(ends[0].max(ends[1]) + REACH, wide, COLUMNS);
                border[row] |= (u64::MAX >> (63 - (last - first))) << first;
                let middle = (bottom + top) / 2.0;
                if low[1] <= middle && middle < high_end[1] {
                    crossings[row].push(along(middle));
                }
            }
        }
        let mut within = [0_u64; ROWS];
        for (row, mut at) in crossings.into_iter().enumerate() {
            at.sort_by(f64::total_cmp);
            for pair in at.chunks_exact(2) {
                for column in cell(pair[0], wide, COLUMNS)..=cell(pair[1], wide, COLUMNS) {
                    let middle = (column as f64 + 0.5) * wide;
                    within[row] |= u64::from(pair[0] <= middle && middle <= pair[1]) << column;
                }
            }
        }
        let mut raster = Self {
            within,
            reached: border,
        };
        for row in 0..ROWS {
            raster.reached[row] |= within[row];
            raster.within[row] &= !border[row];
        }
        if wide.min(high) < FINEST {
            raster.within = [0; ROWS];
        }
        raster
    }

    /// Whether two regions overlap, where the raster tells.
    pub(in crate::panels) fn overlaps(&self, other: &Self) -> Option<bool> {
        let meet = |a: &[u64; ROWS], b: &[u64; ROWS]| a.iter().zip(b).any(|(a, b)| a & b != 0);
        if meet(&self.within, &other.within) {
            Some(true)
        } else if !meet(&self.reached, &other.reached) {
            Some(false)
        } else {
            None
        }
    }

    /// The most regions that have one cell of the raster within them all.
    pub(in crate::panels) fn deepest<'a>(rasters: impl Iterator<Item = &'a Raster>) -> usize {
        let mut depth = vec![0_usize; ROWS * COLUMNS];
        for raster in rasters {
            for (row, cells) in raster.within.iter().enumerate() {
                let mut left = *cells;
                while left != 0 {
                    depth[row * COLUMNS + left.trailing_zeros() as usize] += 1;
                    left &= left - 1;
                }
            }
        }
        depth.into_iter().max().unwrap_or(0)
    }
}
