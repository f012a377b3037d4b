//! Laying one area: its border courses, then the bond clipped to what they leave.
//!
//! In: the paving, the job's pavers, the outline as exact rings and as flattened polygons, and the
//! frame of the start corner; millimetres. Out: [`Paving`]. The bond starts at the outline's start
//! corner even where a border covers it. A paver of which less than 0.5 mm is missing is whole,
//! and what would be under 0.5 mm wide is not laid. A joint is counted where there is paver on both
//! sides of it. The kerf of the saw is left out.

use geo::{Area, ConvexHull, Coord, MapCoords, MultiPolygon, Orient, Polygon, orient::Direction};

use super::bond::{self, Axis, Cell, Joint, TOLERANCE};
use super::border::lay_borders;
use super::laid::{
    CutPaver, CutState, Laid, MOST_PAVERS, Paving, PavingError, Place, SLIVER_SHARE, Segment,
};
use super::region::{Region, Side, common};
use super::rows::{each_stretch, moved};
use super::search;
use super::share::pavers_for;
use super::spec::{PaverSpec, PavingSpec, Shift};
use super::whole::Row;
use super::window::Window;
use crate::geom::{Frame, Point, Ring, Shape, Vector, clip};

/// A joint is taken to end aslant, and not to run on along an edge, where its two pavers end within
/// this many reaches of its centre line's end: an edge at 14° or more to the joint.
const SLANT: f64 = 4.0;

/// What is to be paved: one outline, exact and flattened.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// The rings with their arcs: exteriors anticlockwise, holes clockwise.
    pub rings: &'a [Ring],
    /// The same, flattened.
    pub shape: &'a Shape,
}

/// Lays one area.
///
/// # Errors
///
/// [`PavingError`] when the bond does not suit the paver, a paver does not exist, the border courses
/// cannot be laid, or the pavers would be too many.
pub fn lay(
    spec: &PavingSpec,
    pavers: &[PaverSpec],
    ground: Ground<'_>,
    frame: &Frame,
) -> Result<Paving, PavingError> {
    lay_round(spec, pavers, ground, &Shape::new(Vec::new()), frame)
}

/// Lays one area round what stands in it, such as the grates of drains: field and border courses
/// are cut to it, and no border runs along it.
///
/// # Errors
///
/// As [`lay`].
pub fn lay_round(
    spec: &PavingSpec,
    pavers: &[PaverSpec],
    ground: Ground<'_>,
    standing: &Shape,
    frame: &Frame,
) -> Result<Paving, PavingError> {
    let cell = bond::cell(&spec.bond, spec.paver, pavers)?;
    let first = &pavers[cell.pavers[0].paver];
    let area = ground.shape.unsigned_area();
    let each = cell.along.cross(cell.up).abs() / cell.pavers.len() as f64;
    if area / each > MOST_PAVERS as f64 {
        return Err(PavingError::TooMany);
    }
    let (field, borders) = lay_borders(&spec.border, pavers, ground, standing)?;
    let mut bond_frame = turned(frame, spec.turn);
    let (shift, search) = match spec.shift {
        Shift::Stated(shift) => (shift, None),
        Shift::Best => {
            let region = region_of(&cell, pavers, &field, &bond_frame);
            let search = search::best(&cell, pavers, &region);
            (search.shift, Some(search))
        }
    };
    bond_frame.origin = bond_frame.to_site(shift[0], shift[1]);
    let start = match shift {
        [0.0, 0.0] => bond_frame.origin,
        _ => start_near(&cell, &field, frame, &bond_frame),
    };
    let (mut courses, runs) = lay_field(&cell, pavers, &field, &bond_frame);
    courses.extend(borders);
    Ok(Paving {
        courses,
        field,
        start: Segment {
            from: start,
            to: start + bond_frame.u * first.length,
        },
        runs,
        search,
    })
}

/// Most repeats of the cell, along each of its steps, that the start is looked for away from the
/// shifted corner of the bond.
const REPEATS: i32 = 6;

/// Where to start a bond that is shifted: of the places that repeat its corner the one nearest the
/// start corner that lies in the field, along the start edge and into the paving from there; the
/// shifted corner itself where none does.
fn start_near(cell: &Cell, field: &Shape, start: &Frame, bond: &Frame) -> Point {
    let steps = -REPEATS..=REPEATS;
    let places = steps
        .clone()
        .flat_map(|i| steps.clone().map(move |j| (i, j)));
    let places = places.map(|(i, j)| {
        let step = cell.along * f64::from(i) + cell.up * f64::from(j);
        bond.to_site(step.x, step.y)
    });
    let ahead = |at: &Point| {
        let from = *at - start.origin;
        [start.u, start.v]
            .iter()
            .all(|axis| from.dot(*axis) >= -TOLERANCE)
    };
    let mut near: Vec<Point> = places.filter(ahead).collect();
    near.sort_by(|a, b| {
        let far = |at: &Point| at.distance(start.origin);
        far(a).total_cmp(&far(b))
    });
    let inside = |at: &Point| clip::distance(field, *at) <= TOLERANCE;
    near.into_iter().find(inside).unwrap_or(bond.origin)
}

/// The bond's frame: the start frame turned from its first axis towards its second.
fn turned(frame: &Frame, degrees: f64) -> Frame {
    let turn = Vector::new(1.0, 0.0).turned(degrees);
    Frame {
        origin: frame.origin,
        u: frame.u * turn.x + frame.v * turn.y,
        v: frame.v * turn.x - frame.u * turn.y,
    }
}

/// The field in the bond's frame, indexed for pavers of the cell's size.
fn region_of(cell: &Cell, pavers: &[PaverSpec], field: &Shape, frame: &Frame) -> Region {
    let sides = cell.pavers.iter().map(|slot| pavers[slot.paver].length);
    Region::new(&to_local(field, frame), sides.fold(100.0, f64::max))
}

/// One entry per kind of paver, in the order of the cell, and the straight runs of joint.
fn lay_field(
    cell: &Cell,
    pavers: &[PaverSpec],
    field: &Shape,
    frame: &Frame,
) -> (Vec<Laid>, Vec<Segment>) {
    let region = region_of(cell, pavers, field, frame);
    let mut laid: Vec<Laid> = Vec::new();
    for slot in &cell.pavers {
        if laid.iter().all(|laid| laid.paver != slot.paver) {
            laid.push(Laid::nothing(Place::Field, slot.paver));
        }
    }
    let entries: Vec<usize> = cell
        .pavers
        .iter()
        .filter_map(|slot| laid.iter().position(|laid| laid.paver == slot.paver))
        .collect();
    let slots: Vec<Window> = cell
        .pavers
        .iter()
        .map(|slot| slot.window.shrunk(TOLERANCE))
        .collect();
    let step = frame.to_site(cell.along.x, cell.along.y) - frame.origin;
    each_stretch(cell, &region, [0.0, 0.0], &slots, |stretch| {
        let slot = &cell.pavers[stretch.which];
        let laid = &mut laid[entries[stretch.which]];
        let window = moved(&slot.window, stretch.x, stretch.y);
        match stretch.side {
            Side::Outside => {}
            Side::Inside => laid.whole.push_row(Row {
                first: corners(&window, frame),
                step,
                count: stretch.count,
            }),
            Side::Across => lay_cut(laid, &region, frame, &window, &pavers[slot.paver]),
        }
    });
    for laid in &mut laid {
        let own = cell.joints.iter().filter(|joint| joint.paver == laid.paver);
        let own: Vec<Joint> = own.copied().collect();
        laid.widest_joint = own.iter().map(|joint| joint.gap).fold(0.0, f64::max);
        let windows: Vec<Window> = own.iter().map(joint_window).collect();
        each_stretch(cell, &region, [0.0, 0.0], &windows, |stretch| {
            let joint = &own[stretch.which];
            let length = match stretch.side {
                Side::Outside => 0.0,
                Side::Inside => (joint.to - joint.from) * stretch.count as f64,
                Side::Across => joint_length(&region, joint, stretch.x, stretch.y),
            };
            laid.joint_length += length;
            laid.joint_area += length * joint.gap;
        });
    }
    for laid in &mut laid {
        laid.buy = laid.whole.len() + pavers_for(&laid.cut, &pavers[laid.paver]);
    }
    (laid, straight_runs(cell, &region, frame))
}

/// Lays the paver of one slot that the outline crosses, cut or not at all.
fn lay_cut(laid: &mut Laid, region: &Region, frame: &Frame, window: &Window, paver: &PaverSpec) {
    let kept = kept(region, window);
    if kept.0.is_empty() {
        return;
    }
    let cell = corners(window, frame);
    let piece = cut_paver(cell, to_site(&kept, frame), paver);
    laid.cut_length += saw_cut(&kept, window);
    laid.cut.push(piece);
}

/// What is laid of a paver that the outline cuts.
pub(super) fn kept(region: &Region, window: &Window) -> MultiPolygon<f64> {
    let parts = region.clip(window).into_iter();
    MultiPolygon::new(parts.filter(|part| narrowest(part) >= TOLERANCE).collect())
}

pub(super) fn cut_paver(cell: [Point; 4], shape: Shape, paver: &PaverSpec) -> CutPaver {
    let area = shape.unsigned_area();
    let least = SLIVER_SHARE * paver.length * paver.width;
    CutPaver {
        cell,
        shape,
        area,
        state: if area < least {
            CutState::Sliver
        } else {
            CutState::Cut
        },
    }
}

/// What lies beside a joint: where the outline crosses this, paver is missing on a side of it.
fn joint_window(joint: &Joint) -> Window {
    let reach = joint_reach(joint);
    match joint.along {
        Axis::X => Window {
            x0: joint.from,
            y0: joint.at - reach,
            x1: joint.to,
            y1: joint.at + reach,
        },
        Axis::Y => Window {
            x0: joint.at - reach,
            y0: joint.from,
            x1: joint.at + reach,
            y1: joint.to,
        },
    }
}

fn joint_reach(joint: &Joint) -> f64 {
    joint.gap / 2.0 + TOLERANCE
}

/// Length with paver on both sides of the joint of a cell at a place, where the outline crosses it.
fn joint_length(region: &Region, joint: &Joint, x: f64, y: f64) -> f64 {
    let (at, from, to) = match joint.along {
        Axis::X => (joint.at + y, joint.from + x, joint.to + x),
        Axis::Y => (joint.at + x, joint.from + y, joint.to + y),
    };
    let within = centred(region, joint.along, at, joint_reach(joint));
    let within = common(&within, &[(from, to)]);
    within.iter().map(|(a, b)| b - a).sum()
}

/// Stretches of a joint line that have paver on both sides, each as long as the line itself: where
/// an edge cuts the joint aslant one paver ends before the line and the other after it.
fn centred(region: &Region, along: Axis, at: f64, reach: f64) -> Vec<(f64, f64)> {
    let line = match along {
        Axis::X => region.across(at),
        Axis::Y => region.up(at),
    };
    let slant = SLANT * reach;
    let both = between(region, along, at, reach).into_iter();
    both.map(|(from, to)| {
        let own = line.iter().find(|(a, b)| *a <= to && *b >= from);
        let Some(&(first, last)) = own else {
            return (from, to);
        };
        let end = |short: f64, full: f64| match (short - full).abs() <= slant {
            true => full,
            false => short,
        };
        (end(from, first), end(to, last))
    })
    .collect()
}

/// Stretches of a joint line that have paver on both sides.
fn between(region: &Region, along: Axis, at: f64, reach: f64) -> Vec<(f64, f64)> {
    match along {
        Axis::X => common(&region.across(at - reach), &region.across(at + reach)),
        Axis::Y => common(&region.up(at - reach), &region.up(at + reach)),
    }
}

fn straight_runs(cell: &Cell, region: &Region, frame: &Frame) -> Vec<Segment> {
    let mut runs = Vec::new();
    let shape = region.shape();
    let Some(bounds) = geo::BoundingRect::bounding_rect(shape) else {
        return runs;
    };
    for line in &cell.lines {
        let (low, high) = match line.along {
            Axis::X => (bounds.min().y, bounds.max().y),
            Axis::Y => (bounds.min().x, bounds.max().x),
        };
        let first = ((low - line.first) / line.every).ceil() as i64;
        let last = ((high - line.first) / line.every).floor() as i64;
        for number in first..=last {
            let at = line.first + number as f64 * line.every;
            for (from, to) in between(region, line.along, at, TOLERANCE) {
                let (a, b) = match line.along {
                    Axis::X => ((from, at), (to, at)),
                    Axis::Y => ((at, from), (at, to)),
                };
                runs.push(Segment {
                    from: frame.to_site(a.0, a.1),
                    to: frame.to_site(b.0, b.1),
                });
            }
        }
    }
    runs
}

/// Length of a piece's outline that is not on a side of the paver it is cut from.
pub(super) fn saw_cut(piece: &MultiPolygon<f64>, window: &Window) -> f64 {
    let on_side = |a: Coord<f64>, b: Coord<f64>| {
        let both = |gap: fn(Coord<f64>, &Window) -> f64| {
            gap(a, window).abs() < TOLERANCE && gap(b, window).abs() < TOLERANCE
        };
        both(|at, window| at.x - window.x0)
            || both(|at, window| at.x - window.x1)
            || both(|at, window| at.y - window.y0)
            || both(|at, window| at.y - window.y1)
    };
    clip::rings(piece)
        .flat_map(geo::LineString::lines)
        .filter(|line| !on_side(line.start, line.end))
        .map(|line| libm::hypot(line.end.x - line.start.x, line.end.y - line.start.y))
        .sum()
}

/// The least width of a polygon's convex hull.
pub(super) fn narrowest(polygon: &Polygon<f64>) -> f64 {
    let hull = polygon.convex_hull();
    hull.exterior()
        .lines()
        .filter_map(|side| {
            let (dx, dy) = (side.end.x - side.start.x, side.end.y - side.start.y);
            let length = libm::hypot(dx, dy);
            let far = |at: &Coord<f64>| {
                (((at.x - side.start.x) * dy - (at.y - side.start.y) * dx) / length).abs()
            };
            (length > 0.0).then(|| hull.exterior().coords().map(far).fold(0.0, f64::max))
        })
        .min_by(f64::total_cmp)
        .unwrap_or(0.0)
}

/// Corners on site, the long side first.
pub(super) fn corners(window: &Window, frame: &Frame) -> [Point; 4] {
    let at = |x, y| frame.to_site(x, y);
    let (a, b) = (at(window.x0, window.y0), at(window.x1, window.y0));
    let (c, d) = (at(window.x1, window.y1), at(window.x0, window.y1));
    if window.x1 - window.x0 >= window.y1 - window.y0 {
        [a, b, c, d]
    } else {
        [b, c, d, a]
    }
}

pub(super) fn to_local(shape: &Shape, frame: &Frame) -> MultiPolygon<f64> {
    shape.map_coords(|at| {
        let (x, y) = frame.to_local(Point::new(at.x, at.y));
        Coord { x, y }
    })
}

pub(super) fn to_site(shape: &MultiPolygon<f64>, frame: &Frame) -> Shape {
    let moved = shape.map_coords(|at| {
        let at = frame.to_site(at.x, at.y);
        Coord { x: at.x, y: at.y }
    });
    moved.orient(Direction::Default)
}
