//! Border courses: pavers that follow the outline, mitred at its corners.
//!
//! In: the outline's exact rings and its flattened shape, the courses from the outside in;
//! millimetres. Out: each course laid, and the field that is left. Each edge is laid from its
//! first corner: along a straight edge pavers follow one another a joint apart and the last is cut,
//! or, where less than half of one would be left, the last two alike; along an arc they are fanned,
//! whole and evenly spread, with the joint at the tight side no narrower than the stated one; where
//! the wide side would open too far they are cut to wedges. At a corner both edges are cut to its
//! bisector (at an arc, that of its tangents), or, where the course is to be butted, the edge that
//! starts there runs through and the other stops a joint short of it. One joint parts a course from
//! what lies inside it. Courses of opposite edges that run into each other are left out of account.

mod corner;
mod outline;
mod run;

use geo::{MultiPolygon, Polygon};

use self::corner::{Corner, Cut, End, corner, cut_at, end_cut, reach};
use self::outline::{inset, less, merged, perimeter};
use self::run::Run;
use super::bond::TOLERANCE;
use super::laid::{Laid, PavingError, Place, RoundArc, RoundForm};
use super::lay::{Ground, cut_paver, narrowest, saw_cut, to_local, to_site};
use super::region::{Region, Side};
use super::share::pavers_for;
use super::spec::{BorderSpec, Corners, Lay, PaverSpec};
use super::window::Window;
use crate::geom::{Arc, Edge, Frame, Point, Shape, clip};

/// Widest joint that a fan may open to, in millimetres; wider, pavers are cut to wedges.
///
/// # Source
///
/// Federal guide specification UFGS 02780, joints 1/16 to 1/4 in (2 to 6 mm) without the chamfer.
const WIDEST_JOINT: f64 = 6.35;

/// One course: where it lies, and its pavers.
struct Course<'a> {
    paver: &'a PaverSpec,
    /// Depth of its outer side under the outline.
    outer: f64,
    /// Depth of its inner side.
    inner: f64,
    /// Side of a paver along the edge.
    face: f64,
    /// Length of a joint across the course, through the crossings at its ends.
    across: f64,
    /// The band it covers.
    band: Shape,
    /// How its edges meet at corners.
    corners: Corners,
}

/// Lays the border courses: the field they leave, and the courses, both cut to what stands in them.
///
/// # Errors
///
/// [`PavingError::NoPaver`] for a paver that does not exist, [`PavingError::NoField`] when no field
/// is left.
pub(super) fn lay_borders(
    border: &[BorderSpec],
    pavers: &[PaverSpec],
    ground: Ground<'_>,
    standing: &Shape,
) -> Result<(Shape, Vec<Laid>), PavingError> {
    let outlines: Vec<Vec<Edge>> = ground.rings.iter().map(merged).collect();
    let mut courses = Vec::new();
    let (mut depth, mut joint_outside) = (0.0, 0.0);
    let mut rest = ground.shape.clone();
    for (number, spec) in border.iter().enumerate() {
        let paver = pavers
            .get(spec.paver)
            .ok_or(PavingError::NoPaver(spec.paver))?;
        super::bond::check(&super::spec::Bond::Stack, paver).map_err(PavingError::Bond)?;
        let (tall, face) = match spec.lay {
            Lay::Soldier => (paver.length, paver.width),
            Lay::Sailor => (paver.width, paver.length),
        };
        let inner = depth + tall;
        let course = Course {
            paver,
            outer: depth,
            inner,
            face,
            across: tall + (joint_outside + paver.joint) / 2.0,
            band: less(
                clip::difference(&rest, &inset(ground.shape, inner)),
                standing,
            ),
            corners: spec.corners,
        };
        let mut laid = Laid {
            joint_length: perimeter(&inset(ground.shape, inner + paver.joint / 2.0)),
            ..Laid::nothing(Place::Border(number + 1), spec.paver)
        };
        for edges in &outlines {
            lay_ring(&mut laid, &course, edges);
        }
        laid.widest_joint = laid.widest_joint.max(paver.joint);
        laid.joint_area = laid.joint_length * paver.joint;
        laid.buy = laid.whole.len() + pavers_for(&laid.cut, paver);
        courses.push(laid);
        depth = inner + paver.joint;
        joint_outside = paver.joint;
        rest = inset(ground.shape, depth);
        if rest.0.is_empty() {
            return Err(PavingError::NoField {
                courses: number + 1,
                depth,
            });
        }
    }
    Ok((less(rest, standing), courses))
}

fn lay_ring(laid: &mut Laid, course: &Course<'_>, edges: &[Edge]) {
    if let [
        Edge {
            arc: Some(arc),
            from,
            ..
        },
    ] = edges
    {
        let pieces = lay_arc(
            laid,
            course,
            arc,
            *from,
            std::f64::consts::TAU,
            [None, None],
        );
        laid.joint_length += pieces as f64 * course.across;
        return;
    }
    let corners: Vec<Option<Corner>> = (0..edges.len())
        .map(|at| corner(&edges[(at + edges.len() - 1) % edges.len()], &edges[at]))
        .collect();
    for (number, edge) in edges.iter().enumerate() {
        let ends = [corners[number], corners[(number + 1) % edges.len()]];
        let pieces = match (edge.arc, ends) {
            (Some(arc), _) => {
                let turn = edge.length() / arc.radius;
                lay_arc(laid, course, &arc, edge.from, turn, ends)
            }
            (None, [Some(first), Some(last)]) => lay_straight(laid, course, edge, first, last),
            (None, _) => 0,
        };
        laid.joint_length += pieces.saturating_sub(1) as f64 * course.across;
        if let Some(first) = ends[0] {
            laid.joint_length += course.across / first.slope(course.corners);
        }
    }
}

fn lay_straight(
    laid: &mut Laid,
    course: &Course<'_>,
    edge: &Edge,
    first: Corner,
    last: Corner,
) -> usize {
    let Some(along) = edge.tangent(0.0) else {
        return 0;
    };
    let frame = Frame {
        origin: edge.from,
        u: along,
        v: along.left(),
    };
    let joint = course.paver.joint;
    let cuts = [
        end_cut(course, &first, End::First),
        end_cut(course, &last, End::Last),
    ];
    // Where along the edge a cut crosses both sides of the course.
    let crossings = |cut: &Cut| {
        let across = frame.u.dot(cut.keep);
        [course.outer, course.inner].map(|depth| {
            let from = frame.to_site(0.0, depth);
            (cut.through - from).dot(cut.keep) / across
        })
    };
    let [a, b] = crossings(&cuts[0]);
    let start = a.min(b);
    let [a, b] = crossings(&cuts[1]);
    let end = a.max(b);
    let region = Region::new(&to_local(&course.band, &frame), course.face.max(100.0));
    let mut pieces = 0;
    let run = Run::new(course.face, joint, end - start);
    for number in 0..run.count {
        let x0 = start + run.from(number);
        let mut cuts = cuts.to_vec();
        if let Some(width) = run.shared.filter(|_| number + 2 == run.count) {
            cuts.push(Cut {
                through: frame.to_site(x0 + width, 0.0),
                keep: -frame.u,
            });
        }
        let window = Window {
            x0,
            y0: course.outer,
            x1: x0 + course.face,
            y1: course.inner,
        };
        let free = region.side(&window.shrunk(TOLERANCE));
        let bound = match free {
            Side::Outside => continue,
            Side::Inside => None,
            Side::Across => Some(region.shape()),
        };
        pieces += usize::from(lay_piece(laid, course, &frame, &window, &cuts, bound));
    }
    pieces
}

/// Lays an arc of `turn` radians; `None` at an end means that the arc closes on itself there.
fn lay_arc(
    laid: &mut Laid,
    course: &Course<'_>,
    arc: &Arc,
    from: Point,
    turn: f64,
    ends: [Option<Corner>; 2],
) -> usize {
    let sense = if arc.anticlockwise { 1.0 } else { -1.0 };
    let joint = course.paver.joint;
    let Some(outward) = (from - arc.centre).unit() else {
        return 0;
    };
    // Directions of travel at both ends; angles are measured on from the first.
    let radial = |angle: f64| outward.turned((sense * angle).to_degrees());
    let travel = |angle: f64| radial(angle).left() * sense;
    let away = [travel(0.0), -travel(turn)];
    let angle_at = |end: usize| {
        let Some(corner) = ends[end].filter(|corner| !corner.smooth) else {
            return 0.0;
        };
        let at = |depth: f64| {
            let radius = arc.radius - sense * depth;
            if radius > 0.0 {
                reach(&corner, away[end], joint, depth) / radius
            } else {
                0.0
            }
        };
        at(course.outer).min(at(course.inner))
    };
    let (start, span) = (angle_at(0), turn - angle_at(0) - angle_at(1));
    let half = course.face / 2.0;
    let tall = course.inner - course.outer;
    let outer_radius = arc.radius - sense * course.outer;
    // Where the centre lies inside, the outer corners sit on the outer circle.
    let (outer_edge, tight) = if arc.anticlockwise {
        let edge = (outer_radius * outer_radius - half * half).max(0.0).sqrt();
        (edge, edge - tall)
    } else {
        (outer_radius, outer_radius)
    };
    if span <= 0.0 || outer_radius <= half {
        return 0;
    }
    let wide = if arc.anticlockwise {
        outer_radius
    } else {
        outer_radius + tall
    };
    let corner = libm::hypot(tight, half);
    let least = 2.0 * libm::atan2(half, tight) + 2.0 * libm::asin((joint / 2.0 / corner).min(1.0));
    let fans = (span / least + 1e-9).floor();
    // The chord between neighbours at the wide side, where each takes `span / fans`.
    let opening = span / fans * wide - course.face;
    let fanned = tight > 0.0 && fans >= 1.0 && opening <= joint.max(WIDEST_JOINT) + TOLERANCE;
    if fanned {
        laid.widest_joint = laid.widest_joint.max(opening);
    }
    let count = if fanned {
        fans
    } else {
        (span * wide / (course.face + joint) - 1e-9).ceil().max(1.0)
    };
    let pitch = span / count;
    let edge = if fanned { outer_edge } else { outer_radius };
    let before = laid.whole.len();
    let mut pieces = 0;
    for number in 0..count as usize {
        let middle = start + (number as f64 + 0.5) * pitch;
        let out = radial(middle);
        let frame = Frame {
            origin: arc.centre + out * edge,
            u: travel(middle),
            v: out * -sense,
        };
        let window = Window {
            x0: -half,
            y0: 0.0,
            x1: half,
            y1: tall,
        };
        let mut cuts = Vec::new();
        // A cut at a corner says nothing of pavers on the far side of the circle.
        let near = [middle < 1.5, turn - middle < 1.5];
        for end in 0..2 {
            if let Some(corner) = ends[end].filter(|corner| near[end] && !corner.smooth) {
                cuts.push(cut_at(&corner, joint, away[end]));
            }
        }
        if !fanned {
            for side in [-1.0, 1.0] {
                let keep = travel(middle + side * pitch / 2.0) * -side;
                cuts.push(Cut {
                    through: arc.centre + keep * (joint / 2.0),
                    keep,
                });
            }
        }
        let band = (!fanned).then(|| to_local(&course.band, &frame));
        pieces += usize::from(lay_piece(
            laid,
            course,
            &frame,
            &window,
            &cuts,
            band.as_ref(),
        ));
    }
    let form = if fanned {
        let free = pitch - 2.0 * libm::atan2(half, tight);
        RoundForm::Fanned([2.0 * corner * libm::sin(free / 2.0), opening])
    } else {
        // From corner to corner on a circle, each half a joint beside its spoke.
        let width = |radius: f64| {
            let beside = libm::asin((joint / 2.0 / radius).min(1.0));
            2.0 * radius * libm::sin((pitch / 2.0 - beside).max(0.0))
        };
        let narrow = (wide - tall).max(joint / 2.0);
        RoundForm::Wedges([width(narrow), width(wide).min(course.face)])
    };
    if pieces > 0 {
        laid.arcs.push(RoundArc {
            radius: arc.radius,
            pieces,
            whole: laid.whole.len() - before,
            form,
        });
    }
    pieces
}

/// Lays one paver of a course, whole or cut; says whether anything of it is laid.
fn lay_piece(
    laid: &mut Laid,
    course: &Course<'_>,
    frame: &Frame,
    window: &Window,
    cuts: &[Cut],
    bound: Option<&MultiPolygon<f64>>,
) -> bool {
    let side = |cut: &Cut, x: f64, y: f64| (frame.to_site(x, y) - cut.through).dot(cut.keep);
    let small = window.shrunk(TOLERANCE);
    let clear = small
        .corners()
        .iter()
        .all(|at| cuts.iter().all(|cut| side(cut, at.x, at.y) >= 0.0));
    let site_corners = super::lay::corners(window, frame);
    if clear && bound.is_none() {
        laid.whole.push(site_corners);
        return true;
    }
    let mut points: Vec<geo::Coord<f64>> = window.corners().to_vec();
    for cut in cuts {
        points = kept(&points, |at| side(cut, at.x, at.y));
    }
    if points.len() < 3 {
        return false;
    }
    let mut piece = MultiPolygon::new(vec![Polygon::new(points.into(), Vec::new())]);
    if let Some(bound) = bound {
        piece = clip::intersection(&piece, bound);
    }
    piece.0.retain(|part| narrowest(part) >= TOLERANCE);
    if piece.0.is_empty() {
        return false;
    }
    laid.cut_length += saw_cut(&piece, window);
    laid.cut.push(cut_paver(
        site_corners,
        to_site(&piece, frame),
        course.paver,
    ));
    true
}

/// The part of a convex polygon where `side` is not negative (Sutherland and Hodgman, 1974).
fn kept(points: &[geo::Coord<f64>], side: impl Fn(geo::Coord<f64>) -> f64) -> Vec<geo::Coord<f64>> {
    let mut found = Vec::new();
    for (number, to) in points.iter().enumerate() {
        let from = points[(number + points.len() - 1) % points.len()];
        let (a, b) = (side(from), side(*to));
        if (a < 0.0) != (b < 0.0) {
            found.push(from + (*to - from) * (a / (a - b)));
        }
        if b >= 0.0 {
            found.push(*to);
        }
    }
    found
}
