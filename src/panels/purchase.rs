//! Panels to buy.
//!
//! In: the layouts of all parts of the base and the panel. Out: the number of panels with offcuts
//! shared, without, and the bound by area. Millimetres.
//!
//! Sharing is a partition of the trimmed pieces into sets whose regions in the panel do not
//! overlap: the colouring of the graph that joins overlapping regions. Pieces are taken by
//! saturation (DSATUR, Brélaz 1979), first greedily, then by branch and bound while few enough;
//! a set of pieces that all overlap each other, or the area, proves the number least. No saw cut
//! is allowed for between pieces that share a panel.

use super::contact::{kept, locked};
use super::region::Region;
use super::{Layout, PanelSpec, Piece};

/// Up to this many trimmed pieces a least number is searched for.
const SEARCHED: usize = 300;
/// How much work the search may take: steps times the square of the pieces.
const WORK: usize = 50_000_000;

/// Panels to buy.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchase {
    /// Panels with offcuts shared.
    pub buy: usize,
    /// Panels when each trimmed piece takes one.
    pub buy_unshared: usize,
    /// No fewer panels can cover the pieces: their area over the panel's, rounded up.
    pub lower_bound: usize,
    /// Whether `buy` is proved the least under the rules of sharing.
    pub proved: bool,
    /// The panels that are cut, each with the pieces it gives: layout and piece by index.
    pub cut_panels: Vec<Vec<(usize, usize)>>,
}

/// Counts the panels to buy for all parts of the base together.
///
/// A piece is cut from the panel at the place of its cell, so that it keeps the sides that lock;
/// one that no other piece lies against may be turned by quarters and moved to any corner of the
/// panel. Whole panels are bought as they are.
pub fn purchase(layouts: &[Layout], panel: &PanelSpec) -> Purchase {
    let size = [panel.length, panel.width];
    let (mut fixed, mut free) = (Vec::new(), Vec::new());
    let (mut whole, mut area) = (0, 0.0);
    for (part, layout) in layouts.iter().enumerate() {
        let locked = locked(layout, &kept(layout, size), size);
        for (index, piece) in layout.pieces.iter().enumerate() {
            if piece.whole {
                whole += 1;
                continue;
            }
            area += piece.area_mm2;
            let trimmed = trimmed((part, index), layout, piece);
            if locked[index] {
                fixed.push(trimmed);
            } else {
                free.push(trimmed);
            }
        }
    }
    // largest first; equal areas, which rounding may part, stay in the order laid
    let by_area = |a: &Trimmed, b: &Trimmed| {
        let rounded = |t: &Trimmed| libm::round(t.region.area / 10.0);
        rounded(b).total_cmp(&rounded(a))
    };
    fixed.sort_by(by_area);
    free.sort_by(by_area);

    let count = fixed.len() + free.len();
    let by_area = libm::ceil(area / (size[0] * size[1]) - 1e-6).max(0.0) as usize;
    let shared = share(&fixed, by_area);
    let mut panels: Vec<Vec<Trimmed>> = shared
        .panels
        .iter()
        .map(|members| members.iter().map(|&i| fixed[i].clone()).collect())
        .collect();
    let anything_free = !free.is_empty();
    for piece in free {
        place_free(&mut panels, piece, size);
    }
    Purchase {
        buy: whole + panels.len(),
        buy_unshared: whole + count,
        lower_bound: whole + by_area,
        proved: panels.len() == by_area
            || (shared.proved && (!anything_free || panels.len() == shared.panels.len())),
        cut_panels: panels
            .iter()
            .map(|panel| panel.iter().map(|piece| piece.of).collect())
            .collect(),
    }
}

/// A trimmed piece as a region of its panel.
#[derive(Clone, Debug)]
struct Trimmed {
    of: (usize, usize),
    region: Region,
}

fn trimmed(of: (usize, usize), layout: &Layout, piece: &Piece) -> Trimmed {
    let local = super::lay::to_local(&piece.shape, &layout.frame);
    Trimmed {
        of,
        region: Region::new(&local, piece.cell),
    }
}

/// Puts a piece that may be turned where it first fits.
fn place_free(panels: &mut Vec<Vec<Trimmed>>, piece: Trimmed, size: [f64; 2]) {
    for panel in panels.iter_mut() {
        let fits = piece.region.placements(size).into_iter().find(|region| {
            let mut others = panel.iter();
            others.all(|other| !region.overlaps(&other.region))
        });
        if let Some(region) = fits {
            panel.push(Trimmed {
                of: piece.of,
                region,
            });
            return;
        }
    }
    panels.push(vec![piece]);
}

/// A partition of the fixed pieces.
struct Shared {
    panels: Vec<Vec<usize>>,
    proved: bool,
}

fn share(pieces: &[Trimmed], by_area: usize) -> Shared {
    if pieces.len() > SEARCHED {
        let panels = first_fit(pieces);
        let bound = clique_from(0, pieces.len(), &|a, b| {
            pieces[a].region.overlaps(&pieces[b].region)
        })
        .max(by_area);
        let proved = panels.len() <= bound;
        return Shared { panels, proved };
    }
    let mut conflicts = vec![vec![false; pieces.len()]; pieces.len()];
    for a in 0..pieces.len() {
        for b in a + 1..pieces.len() {
            let overlap = pieces[a].region.overlaps(&pieces[b].region);
            conflicts[a][b] = overlap;
            conflicts[b][a] = overlap;
        }
    }
    let cliques =
        (0..pieces.len()).map(|from| clique_from(from, pieces.len(), &|a, b| conflicts[a][b]));
    let bound = cliques.max().unwrap_or(0).max(by_area);
    let mut search = Search::new(&conflicts, bound);
    search.run(0);
    let panels = grouped(&search.best, search.best_count);
    Shared {
        proved: search.steps < search.limit || panels.len() <= bound,
        panels,
    }
}

/// Each piece in the first panel it fits, largest first.
fn first_fit(pieces: &[Trimmed]) -> Vec<Vec<usize>> {
    let mut panels: Vec<Vec<usize>> = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let fits = panels.iter_mut().find(|members| {
            let mut others = members.iter();
            others.all(|&other| !piece.region.overlaps(&pieces[other].region))
        });
        match fits {
            Some(members) => members.push(index),
            None => panels.push(vec![index]),
        }
    }
    panels
}

/// How many pieces, from one on and round, are found that all overlap each other.
fn clique_from(from: usize, count: usize, overlap: &dyn Fn(usize, usize) -> bool) -> usize {
    let mut clique: Vec<usize> = Vec::new();
    for step in 0..count {
        let next = (from + step) % count;
        if clique.iter().all(|&member| overlap(member, next)) {
            clique.push(next);
        }
    }
    clique.len()
}

fn grouped(panel_of: &[usize], count: usize) -> Vec<Vec<usize>> {
    let mut panels = vec![Vec::new(); count];
    for (piece, &panel) in panel_of.iter().enumerate() {
        panels[panel].push(piece);
    }
    panels
}

const NONE: usize = usize::MAX;

/// Branch and bound over the partition. The first descent is the greedy one.
struct Search<'a> {
    conflicts: &'a [Vec<bool>],
    bound: usize,
    panel_of: Vec<usize>,
    best: Vec<usize>,
    best_count: usize,
    steps: usize,
    limit: usize,
}

impl<'a> Search<'a> {
    fn new(conflicts: &'a [Vec<bool>], bound: usize) -> Self {
        let count = conflicts.len();
        Self {
            conflicts,
            bound,
            panel_of: vec![NONE; count],
            best: (0..count).collect(),
            best_count: count,
            steps: 0,
            limit: WORK / (count * count).max(1),
        }
    }

    /// Places the pieces that are left, with `used` panels opened; keeps the best found.
    fn run(&mut self, used: usize) {
        if used >= self.best_count {
            return;
        }
        let Some((piece, mut taken)) = self.hardest(used) else {
            self.best_count = used;
            self.best.clone_from(&self.panel_of);
            return;
        };
        taken.push(false); // a panel opened for it
        for (panel, taken) in taken.into_iter().enumerate() {
            let done = self.best_count <= self.bound || self.steps >= self.limit;
            if done && self.best_count < self.conflicts.len() {
                return;
            }
            if taken {
                continue;
            }
            self.steps += 1;
            self.panel_of[piece] = panel;
            self.run(used.max(panel + 1));
            self.panel_of[piece] = NONE;
        }
    }

    /// The piece left that fits the fewest of the opened panels, the one with more overlaps and
    /// then the earlier of several, with the panels that it cannot share.
    fn hardest(&self, used: usize) -> Option<(usize, Vec<bool>)> {
        let mut hardest: Option<(usize, usize, usize, Vec<bool>)> = None;
        for piece in (0..self.panel_of.len()).filter(|&piece| self.panel_of[piece] == NONE) {
            let mut taken = vec![false; used];
            let mut degree = 0;
            for (other, _) in self.conflicts[piece]
                .iter()
                .enumerate()
                .filter(|(_, c)| **c)
            {
                match self.panel_of[other] {
                    NONE => degree += 1,
                    panel => taken[panel] = true,
                }
            }
            let full = taken.iter().filter(|taken| **taken).count();
            let harder = match &hardest {
                None => true,
                Some((most, least_degree, ..)) => (full, degree) > (*most, *least_degree),
            };
            if harder {
                hardest = Some((full, degree, piece, taken));
            }
        }
        hardest.map(|(_, _, piece, taken)| (piece, taken))
    }
}

#[cfg(test)]
mod tests {
    use super::super::lay::mapped;
    use super::super::{LayoutRule, PanelsSpec, lay};
    use super::*;
    use crate::geom::{Frame, Point, Shape, Vector, clip};

    const FOOT: f64 = 304.8;

    fn bought(base: &Shape, stagger: f64) -> Purchase {
        let (layout, panel) = laid(base, stagger);
        purchase(&[layout], &panel)
    }

    fn laid(base: &Shape, stagger: f64) -> (Layout, PanelSpec) {
        let panel = PanelSpec {
            length: 3.0 * FOOT,
            width: 2.0 * FOOT,
            thickness: 19.05,
            joint: 0.0,
        };
        let spec = PanelsSpec {
            panel,
            stagger,
            min_stagger: 152.4,
            min_piece: 101.6,
            layout: LayoutRule::Fixed,
            course_starts: Vec::new(),
        };
        let frame = Frame {
            origin: Point::new(0.0, 0.0),
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        };
        (lay(&spec, base, &frame), panel)
    }

    fn feet(points: &[(f64, f64)]) -> Shape {
        let points: Vec<Point> = points
            .iter()
            .map(|(x, y)| Point::new(x * FOOT, y * FOOT))
            .collect();
        clip::shape_of_points(&points)
    }

    #[test]
    fn halves_of_a_staggered_rectangle_share() {
        // 21 whole; 6 halves, one of each end a course, share 3; 4 strips of the last course all
        // keep the same side and share nothing: 28. By area 150 / 6 = 25.
        let base = feet(&[(0.0, 0.0), (12.0, 0.0), (12.0, 12.5), (0.0, 12.5)]);
        let found = bought(&base, 1.5 * FOOT);
        assert_eq!(
            (found.buy, found.buy_unshared, found.lower_bound),
            (28, 31, 25)
        );
        assert!(found.proved);
        let pieces: usize = found.cut_panels.iter().map(Vec::len).sum();
        assert_eq!((found.cut_panels.len(), pieces), (7, 10));
    }

    #[test]
    fn pieces_that_keep_the_same_side_do_not_share() {
        // 10' wide without stagger: each course ends with the first foot of a panel
        let base = feet(&[(0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)]);
        let found = bought(&base, 0.0);
        assert_eq!(
            (found.buy, found.buy_unshared, found.lower_bound),
            (16, 16, 14)
        );
        assert!(found.proved);
    }

    #[test]
    fn a_stagger_of_a_third_shares_better_than_none() {
        // course by course the panel ends give 1', 2' and 3' pieces: first 1' (end) with last 2'
        // (start) of one panel, and so on
        let base = feet(&[(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0)]);
        let found = bought(&base, FOOT);
        // 3 whole + (1' + 2 whole + 2') + (2' + 2 whole + 1'): 7 whole, two pairs
        assert_eq!(
            (found.buy, found.buy_unshared, found.lower_bound),
            (9, 11, 9)
        );
        assert!(found.proved);
    }

    #[test]
    fn pieces_that_nothing_locks_to_are_turned() {
        // two islands of 1' × 2', each the first foot of a panel's place
        let mut base = feet(&[(0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0)]);
        base.0
            .extend(feet(&[(9.0, 0.0), (10.0, 0.0), (10.0, 2.0), (9.0, 2.0)]).0);
        let found = bought(&base, 0.0);
        assert_eq!(
            (found.buy, found.buy_unshared, found.lower_bound),
            (1, 2, 1)
        );
        assert!(found.proved);
    }

    #[test]
    fn pieces_cut_from_one_panel_never_overlap() {
        let base = feet(&[
            (0.0, 0.0),
            (14.0, 0.0),
            (11.0, 9.0),
            (4.0, 12.0),
            (0.0, 8.0),
        ]);
        let hole = feet(&[(4.0, 3.0), (6.0, 3.5), (5.2, 5.5)]);
        let base = clip::difference(&base, &hole);
        let mut gained = 0;
        for stagger in [0.0, 0.5, 1.0, 1.5] {
            let (layout, panel) = laid(&base, stagger * FOOT);
            let found = purchase(std::slice::from_ref(&layout), &panel);
            assert!(found.lower_bound <= found.buy && found.buy <= found.buy_unshared);
            gained += found.buy_unshared - found.buy;
            let mut seen = Vec::new();
            for pieces in &found.cut_panels {
                seen.extend(pieces.iter().map(|(_, index)| *index));
                let regions: Vec<Shape> = pieces
                    .iter()
                    .map(|(_, index)| {
                        let piece = &layout.pieces[*index];
                        let [u0, v0] = piece.cell;
                        mapped(&piece.shape, |at| (at.x - u0, at.y - v0).into())
                    })
                    .collect();
                for (at, one) in regions.iter().enumerate() {
                    for other in &regions[at + 1..] {
                        let both = clip::intersection(one, other);
                        assert!(clip::area(&both) < 0.5 * (3.0 + 2.0) * FOOT);
                    }
                }
            }
            seen.sort_unstable();
            let trimmed: Vec<usize> = (0..layout.pieces.len())
                .filter(|index| !layout.pieces[*index].whole)
                .collect();
            assert_eq!(seen, trimmed);
        }
        assert!(gained > 0);
    }
}
