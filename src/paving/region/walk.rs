//! The part of a region in a window, found by walking the chains of its outline through the window
//! and the window's border in turn.
//!
//! In: the region's edges by cells of its grid and a convex window, millimetres. Out: the part that
//! lies inside; none where chains meet the window at one place, or a whole ring lies in it. Method:
//! after Weiler and Atherton, "Hidden surface removal using polygon area sorting", 1977.

use super::Region;
use crate::paving::window::Window;
use geo::{Coord, LineString, MultiPolygon, Polygon};

/// One stretch of outline through a window: from where it comes in to where it goes out.
struct Chain {
    points: Vec<Coord<f64>>,
    enters: f64,
    leaves: f64,
}

impl Region {
    /// The clipped part by chains, or `None` where the general overlay has to decide.
    pub(super) fn walk(&self, window: &Window) -> Option<MultiPolygon<f64>> {
        let chains = self.chains(window)?;
        let round = 2.0 * (window.width() + window.height());
        let near = 1e-6;
        for chain in &chains {
            for other in &chains {
                let apart = (chain.leaves - other.enters).rem_euclid(round);
                if apart < near || apart > round - near {
                    return None;
                }
            }
        }
        let stations = [
            0.0,
            window.width(),
            window.width() + window.height(),
            2.0 * window.width() + window.height(),
        ];
        let mut used = vec![false; chains.len()];
        let mut polygons = Vec::new();
        for first in 0..chains.len() {
            if used[first] {
                continue;
            }
            let mut points = Vec::new();
            let mut at = first;
            loop {
                if used[at] {
                    return None;
                }
                used[at] = true;
                points.extend_from_slice(&chains[at].points);
                let leaves = chains[at].leaves;
                let ahead = |station: f64| (station - leaves).rem_euclid(round);
                let next = (0..chains.len())
                    .min_by(|a, b| ahead(chains[*a].enters).total_cmp(&ahead(chains[*b].enters)))?;
                let reach = ahead(chains[next].enters);
                let mut turns: Vec<usize> =
                    (0..4).filter(|i| ahead(stations[*i]) < reach).collect();
                turns.sort_by(|a, b| ahead(stations[*a]).total_cmp(&ahead(stations[*b])));
                points.extend(turns.into_iter().map(|i| window.corners()[i]));
                if next == first {
                    break;
                }
                at = next;
            }
            points.dedup();
            polygons.push(Polygon::new(LineString::new(points), Vec::new()));
        }
        Some(MultiPolygon::new(polygons))
    }

    /// The chains of outline through a window, or `None` when a whole ring lies in it.
    fn chains(&self, window: &Window) -> Option<Vec<Chain>> {
        let mut pieces: Vec<(u32, f64, f64)> = Vec::new();
        for row in self.row(window.y0)..=self.row(window.y1) {
            for column in self.column(window.x0)..=self.column(window.x1) {
                for number in &self.cells[row * self.columns + column] {
                    let edge = &self.edges[*number as usize];
                    if let Some((start, end)) = window.part(edge.from, edge.to) {
                        pieces.push((*number, start, end));
                    }
                }
            }
        }
        pieces.sort_by_key(|piece| piece.0);
        pieces.dedup_by_key(|piece| piece.0);
        let find = |number: u32| pieces.binary_search_by_key(&number, |piece| piece.0).ok();
        let link = |index: usize| {
            let (number, _, end) = pieces[index];
            let next = find(self.edges[number as usize].next).filter(|next| pieces[*next].1 == 0.0);
            next.filter(|_| end == 1.0)
        };
        let mut linked = vec![false; pieces.len()];
        for index in 0..pieces.len() {
            if let Some(next) = link(index) {
                linked[next] = true;
            }
        }
        let mut taken = 0;
        let mut chains = Vec::new();
        for first in (0..pieces.len()).filter(|index| !linked[*index]) {
            let mut points = vec![self.at(pieces[first].0, pieces[first].1)];
            let mut index = Some(first);
            while let Some(now) = index {
                points.push(self.at(pieces[now].0, pieces[now].2));
                taken += 1;
                index = link(now);
            }
            let (enters, leaves) = (
                window.station(points[0]),
                window.station(points[points.len() - 1]),
            );
            chains.push(Chain {
                points,
                enters,
                leaves,
            });
        }
        (taken == pieces.len() && !chains.is_empty()).then_some(chains)
    }

    fn at(&self, number: u32, t: f64) -> Coord<f64> {
        let edge = &self.edges[number as usize];
        if t == 1.0 {
            return edge.to;
        }
        edge.from + (edge.to - edge.from) * t
    }
}
