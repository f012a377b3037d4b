//! Panels to buy.
//!
//! In: the layouts of all parts of the base and the panel. Out: the number of panels with offcuts
//! shared, without, by the installer's rule, what no purchase undercuts, and what is cut from
//! which panel. Millimetres.
//!
//! A piece that another lies against is cut from the panel at the place of its cell, so that it
//! keeps the sides that lock; two such pieces share a panel when their regions do not overlap.
//! Parts of the base whose courses follow each other to the left and to the right share nothing:
//! the same place in the panel would be its under side.
//! One that nothing locks to may be turned by quarters and moved. No saw cut is allowed for
//! between pieces that share a panel.
//!
//! The bound: by area; the most pieces that take one spot of the panel; what a partition into
//! pairs proves (see `sharing`).

use std::collections::BTreeMap;

use super::contact::{Lock, kept, locks};
use super::cutting::{CutPanel, CutPiece};
use super::region::Region;
use super::sharing::{Bits, Raster, installer_panels, partition};
use super::{Layout, PanelSpec, Piece};

/// How many times pieces that nothing locks to may be tried in a panel.
const TRIES: usize = 200_000;

/// Panels to buy.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchase {
    /// Panels with offcuts shared.
    pub buy: usize,
    /// Panels when each trimmed piece takes one.
    pub buy_unshared: usize,
    /// Panels when each course starts with the last course's offcut where it fits, and no other
    /// offcut is used.
    pub buy_installer: usize,
    /// No fewer panels can cover the pieces: their area over the panel's, rounded up.
    pub lower_bound: usize,
    /// No fewer panels can give the pieces under the rules of sharing; at least `lower_bound`.
    pub sharing_bound: usize,
    /// Whether `buy` is proved the least under the rules of sharing.
    pub proved: bool,
    /// The panels that are cut, in order of laying.
    pub cut_panels: Vec<CutPanel>,
}

/// Counts the panels to buy for all parts of the base together, and says what is cut from which.
/// Whole panels are bought as they are.
pub fn purchase(layouts: &[Layout], panel: &PanelSpec) -> Purchase {
    let size = [panel.length, panel.width];
    let (mut fixed, mut free) = (Vec::new(), Vec::new());
    let mut whole = 0;
    for (part, layout) in layouts.iter().enumerate() {
        let mut locks = locks(layout, &kept(layout, size), size);
        for (index, piece) in layout.pieces.iter().enumerate() {
            if piece.whole {
                whole += 1;
                continue;
            }
            let trimmed = Trimmed {
                locks: std::mem::take(&mut locks[index]),
                ..trimmed((part, index), layout, piece, size)
            };
            if !trimmed.locks.is_empty() {
                fixed.push(trimmed);
            } else {
                free.push(trimmed);
            }
        }
    }
    let share = sharing(&fixed);
    let place = |part: usize, index: usize| {
        fixed
            .binary_search_by(|piece| piece.of.cmp(&(part, index)))
            .ok()
    };
    let installer = installer_panels(layouts, place, &share);
    let buy_installer = whole + installer.len() + free.len();

    let cell = size[0] * size[1];
    let areas: Vec<f64> = fixed.iter().map(|piece| piece.region.area / cell).collect();
    let found = partition(&share, &areas, &installer, &largest_first(&fixed));
    let count = fixed.len() + free.len();
    let area: f64 = areas.iter().sum::<f64>()
        + free
            .iter()
            .map(|piece| piece.region.area / cell)
            .sum::<f64>();
    let by_area = libm::ceil(area - 1e-6).max(0.0) as usize;
    let deepest = Raster::deepest(fixed.iter().map(|piece| piece.region.raster()));
    let bound = by_area.max(deepest).max(found.bound);

    let mut panels: Vec<Vec<Trimmed>> = found
        .panels
        .iter()
        .map(|members| members.iter().map(|&at| fixed[at].clone()).collect())
        .collect();
    let mut tries = 0;
    for at in largest_first(&free) {
        place_free(&mut panels, &free[at], size, &mut tries);
    }
    Purchase {
        buy: whole + panels.len(),
        buy_unshared: whole + count,
        buy_installer,
        lower_bound: whole + by_area,
        sharing_bound: whole + bound,
        proved: panels.len() <= bound,
        cut_panels: cut_panels(panels, layouts, size),
    }
}

/// A trimmed piece as a region of its panel.
#[derive(Clone, Debug)]
struct Trimmed {
    of: (usize, usize),
    quarters: u32,
    region: Region,
    /// Whether its courses follow each other to the right, seen from above along them.
    mirrored: bool,
    locks: Vec<Lock>,
}

fn trimmed(of: (usize, usize), layout: &Layout, piece: &Piece, size: [f64; 2]) -> Trimmed {
    let local = super::lay::to_local(&piece.shape, &layout.frame);
    Trimmed {
        of,
        quarters: 0,
        region: Region::new(&local, piece.cell, size),
        mirrored: layout.frame.is_mirrored(),
        locks: Vec::new(),
    }
}

/// Which pieces may share a panel: those whose regions do not overlap, with the panel the same way
/// up. Pieces of one form, as along a straight edge, are compared once.
fn sharing(pieces: &[Trimmed]) -> Bits {
    let mut forms: BTreeMap<_, usize> = BTreeMap::new();
    let mut firsts: Vec<&Trimmed> = Vec::new();
    let form: Vec<usize> = pieces
        .iter()
        .map(|piece| {
            let key = (piece.mirrored, piece.region.form());
            *forms.entry(key).or_insert_with(|| {
                firsts.push(piece);
                firsts.len() - 1
            })
        })
        .collect();
    let mut apart = Bits::none(firsts.len());
    for (a, one) in firsts.iter().enumerate() {
        for (b, other) in firsts.iter().enumerate().skip(a) {
            if one.mirrored == other.mirrored && !one.region.overlaps(&other.region) {
                apart.join(a, b);
            }
        }
    }
    let mut share = Bits::none(pieces.len());
    for a in 0..pieces.len() {
        for b in a + 1..pieces.len() {
            if apart.joined(form[a], form[b]) {
                share.join(a, b);
            }
        }
    }
    share
}

/// Pieces from the largest on; equal areas, which rounding may part, stay in the order laid.
fn largest_first(pieces: &[Trimmed]) -> Vec<usize> {
    let rounded = |at: &usize| libm::round(pieces[*at].region.area / 10.0);
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|a, b| rounded(b).total_cmp(&rounded(a)));
    order
}

/// Puts a piece that may be turned where it first fits.
fn place_free(panels: &mut Vec<Vec<Trimmed>>, piece: &Trimmed, size: [f64; 2], tries: &mut usize) {
    for panel in panels.iter_mut() {
        let used: f64 = panel.iter().map(|other| other.region.area).sum();
        let upside_down = panel.iter().any(|other| other.mirrored != piece.mirrored);
        let full = used + piece.region.area > size[0] * size[1] + 1.0;
        if full || upside_down || *tries >= TRIES {
            continue;
        }
        *tries += 1;
        let others: Vec<&Region> = panel.iter().map(|other| &other.region).collect();
        if let Some((quarters, region)) = piece.region.placed(size, &others) {
            panel.push(Trimmed {
                of: piece.of,
                quarters,
                region,
                mirrored: piece.mirrored,
                locks: Vec::new(),
            });
            return;
        }
    }
    panels.push(vec![piece.clone()]);
}

/// What is cut from each panel, in order of laying.
fn cut_panels(panels: Vec<Vec<Trimmed>>, layouts: &[Layout], size: [f64; 2]) -> Vec<CutPanel> {
    let mut cut: Vec<CutPanel> = panels
        .into_iter()
        .map(|mut pieces| {
            pieces.sort_by_key(|piece| piece.of);
            let mirrored = pieces.first().is_some_and(|piece| piece.mirrored);
            let pieces: Vec<CutPiece> = pieces
                .into_iter()
                .map(|piece| {
                    let laid = &layouts[piece.of.0].pieces[piece.of.1];
                    CutPiece::new(
                        piece.of,
                        laid.mark(),
                        piece.quarters,
                        (piece.region.shape(), piece.locks),
                        size,
                    )
                })
                .collect();
            CutPanel::new(pieces, mirrored, size)
        })
        .collect();
    cut.sort_by_key(|panel| panel.pieces.first().map(|piece| piece.of));
    for (at, panel) in cut.iter_mut().enumerate() {
        panel.number = at + 1;
    }
    cut
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
            course_starts: Default::default(),
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
        let pieces: usize = found
            .cut_panels
            .iter()
            .map(|panel| panel.pieces.len())
            .sum();
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
            for panel in &found.cut_panels {
                seen.extend(panel.pieces.iter().map(|piece| piece.of.1));
                let regions: Vec<Shape> = panel
                    .pieces
                    .iter()
                    .map(|cut| {
                        let piece = &layout.pieces[cut.of.1];
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

    /// The offcut of a panel serves a part whose courses follow each other to the other side only
    /// upside down, which is no use: its locks and its top face are not the same.
    #[test]
    fn parts_laid_to_either_hand_share_nothing() {
        // ends of a foot, and starts of two feet: they share where both are laid alike
        let (near, panel) = laid(
            &feet(&[(0.0, 0.0), (10.0, 0.0), (10.0, 2.0), (0.0, 2.0)]),
            0.0,
        );
        let far = |v: Vector| {
            let frame = Frame {
                origin: Point::new(100.0 * FOOT, 0.0),
                u: Vector::new(1.0, 0.0),
                v,
            };
            let corners = [(1.0, 0.0), (9.0, 0.0), (9.0, 2.0), (1.0, 2.0)];
            let base = corners.map(|(along, across)| frame.to_site(along * FOOT, across * FOOT));
            let spec = PanelsSpec {
                panel,
                stagger: 0.0,
                min_stagger: 0.0,
                min_piece: 0.0,
                layout: LayoutRule::Fixed,
                course_starts: Default::default(),
            };
            lay(&spec, &clip::shape_of_points(&base), &frame)
        };
        let bought = |v: Vector| purchase(&[near.clone(), far(v)], &panel);
        let [same, other] = [Vector::new(0.0, 1.0), Vector::new(0.0, -1.0)].map(bought);
        assert_eq!((same.buy, same.buy_unshared), (6, 7));
        assert_eq!((other.buy, other.buy_unshared), (7, 7));
        assert!(other.proved);
        let mirrored = other.cut_panels.iter().filter(|panel| panel.mirrored);
        assert_eq!((mirrored.count(), other.cut_panels.len()), (1, 2));
    }
}
