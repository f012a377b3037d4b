//! Laying panels over one part of the base.
//!
//! In: the panel and the rules, the base outline, the frame of the start corner. Out: the
//! courses and pieces, course by course (see `strip`). Millimetres. The base is halved between
//! courses until each has its own part.
//! Between parts of a base that is broken by a step nothing is shared: each is laid by itself.
//!
//! How the rules are read where they leave room:
//! - courses are numbered from the one that lies first across the courses, positions from the
//!   piece that lies first along them. Both are the start corner's unless the base reaches behind
//!   the start line or back past the start corner;
//! - `course_starts` counts from the start corner's course forward; a course that it does not list
//!   goes on by the stagger from the one before it, and courses behind the start corner's go back
//!   from that. The base's edge is the least `u` of the base within the course;
//! - a panel is whole when the base holds all of it but a rim of 0.5 mm.

use geo::{LineString, MultiPolygon, Polygon};

use super::shifts::Shifts;
use super::sides::{Sides, TOUCH};
use super::strip::Strip;
use super::{Course, Layout, PanelsSpec};
use crate::geom::{Frame, Point, Rings, Shape, clip, least_width};

/// Lays panels over `base`. An empty base has no courses.
///
/// The panel's length and width must be over zero and its joint not under; the reader of the job
/// refuses others.
pub fn lay(spec: &PanelsSpec, base: &Shape, frame: &Frame) -> Layout {
    let mut layout = Layout {
        frame: *frame,
        courses: Vec::new(),
        pieces: Vec::new(),
    };
    let local = to_local(base, frame);
    let Some(bounds) = clip::bounds(&local) else {
        return layout;
    };
    let pitch = spec.panel.width + spec.panel.joint;
    let first = libm::floor((bounds.min.y + TOUCH) / pitch) as i64;
    let last = libm::floor((bounds.max.y - TOUCH) / pitch) as i64;
    let shifts = Shifts::new(spec, &Sides::of(&local));
    let bands: Vec<[f64; 2]> = (first..=last)
        .map(|index| index as f64 * pitch)
        .map(|v0| [v0, v0 + spec.panel.width])
        .collect();
    let mut number_one = None;
    Rings::new(&local).each_cell(1, &bands, &mut |band, course| {
        let index = first + band as i64;
        let v0 = bands[band][0];
        let shift = shifts.of(index);
        let mut pieces = Strip::new(spec, frame, [shift, v0], &course).pieces(course);
        if pieces.is_empty() {
            return;
        }
        let number = (index - *number_one.get_or_insert(index)) as usize + 1;
        for (position, piece) in pieces.iter_mut().enumerate() {
            piece.course = number;
            piece.position = position + 1;
        }
        let start = layout.pieces.len();
        layout.courses.push(Course {
            number,
            index,
            v0,
            shift_mm: shift,
            first_length_mm: pieces[0].length_mm,
            as_laid: usize::try_from(index).is_ok_and(|at| spec.course_starts.contains_key(&at)),
            pieces: start..start + pieces.len(),
        });
        layout.pieces.append(&mut pieces);
    });
    layout
}

/// Least width of the convex hull of a shape.
pub(super) fn narrowest(shape: &Shape) -> f64 {
    let corners = shape.iter().flat_map(|part| part.exterior().coords());
    let corners: Vec<Point> = corners.map(|at| Point::new(at.x, at.y)).collect();
    least_width(&corners)
}

/// An upright rectangle.
pub(super) fn rectangle(corner: [f64; 2], size: [f64; 2]) -> Shape {
    let (left, low) = (corner[0], corner[1]);
    let (right, high) = (left + size[0], low + size[1]);
    let ring = vec![(left, low), (right, low), (right, high), (left, high)];
    MultiPolygon(vec![Polygon::new(LineString::from(ring), vec![])])
}

pub(super) fn to_local(shape: &Shape, frame: &Frame) -> Shape {
    mapped(shape, |at| frame.to_local(Point::new(at.x, at.y)).into())
}

pub(super) fn to_site(shape: &Shape, frame: &Frame) -> Shape {
    mapped(shape, |at| {
        let site = frame.to_site(at.x, at.y);
        (site.x, site.y).into()
    })
}

/// The shape with its corners moved, wound as shapes are.
pub(super) fn mapped(shape: &Shape, map: impl Fn(geo::Coord<f64>) -> geo::Coord<f64>) -> Shape {
    use geo::algorithm::orient::{Direction, Orient};
    let ring = |ring: &LineString<f64>| LineString::new(ring.coords().map(|&at| map(at)).collect());
    let parts = shape.iter().map(|part| {
        let interiors = part.interiors().iter().map(ring).collect();
        Polygon::new(ring(part.exterior()), interiors).orient(Direction::Default)
    });
    MultiPolygon(parts.collect())
}

#[cfg(test)]
mod tests {
    use super::super::{LayoutRule, PanelSpec, Piece, cross_joints};
    use super::*;
    use crate::geom::Vector;

    const FOOT: f64 = 304.8;

    fn spec(stagger: f64) -> PanelsSpec {
        PanelsSpec {
            panel: PanelSpec {
                length: 3.0 * FOOT,
                width: 2.0 * FOOT,
                thickness: 19.05,
                joint: 0.0,
            },
            stagger,
            min_stagger: FOOT / 2.0,
            min_piece: FOOT / 3.0,
            layout: LayoutRule::Fixed,
            course_starts: Default::default(),
        }
    }

    fn frame() -> Frame {
        Frame {
            origin: Point::new(0.0, 0.0),
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        }
    }

    fn feet(points: &[(f64, f64)]) -> Shape {
        let points: Vec<Point> = points
            .iter()
            .map(|(x, y)| Point::new(x * FOOT, y * FOOT))
            .collect();
        clip::shape_of_points(&points)
    }

    fn turned(shape: &Shape, frame: &Frame, degrees: f64) -> (Shape, Frame) {
        let turn = |x: f64, y: f64| Vector::new(x, y).turned(degrees) + Vector::new(5000.0, -900.0);
        let shape = mapped(shape, |at| {
            let to = turn(at.x, at.y);
            (to.x, to.y).into()
        });
        let origin = turn(frame.origin.x, frame.origin.y);
        let frame = Frame {
            origin: Point::new(origin.x, origin.y),
            u: frame.u.turned(degrees),
            v: frame.v.turned(degrees),
        };
        (shape, frame)
    }

    #[test]
    fn rectangle_of_whole_and_half_panels() {
        // 12' × 12'-6": six courses of 2' and one of 6"; every other course starts and ends with
        // half a panel
        let base = feet(&[(0.0, 0.0), (12.0, 0.0), (12.0, 12.5), (0.0, 12.5)]);
        let laid = lay(&spec(1.5 * FOOT), &base, &frame());
        let counts: Vec<usize> = laid.courses.iter().map(|c| c.pieces.len()).collect();
        assert_eq!(counts, [4, 5, 4, 5, 4, 5, 4]);
        assert_eq!(laid.whole(), 3 * 4 + 3 * 3);
        assert_eq!(laid.pieces[4].mark(), "2-1");
        assert!((laid.courses[1].first_length_mm - 1.5 * FOOT).abs() < 1e-6);
        assert_eq!(laid.narrowest_mm().map(f64::round), Some(152.0));
        let half = &laid.pieces[4];
        assert_eq!(half.cuts.len(), 1);
        assert!((half.cuts[0].length_mm - 2.0 * FOOT).abs() < 0.01);
        assert!((half.cuts[0].points[0][0] - 1.5 * FOOT).abs() < 0.01);
        let joints = cross_joints(std::slice::from_ref(&laid), &spec(1.5 * FOOT));
        assert!((joints.min_offset_mm.unwrap() - 1.5 * FOOT).abs() < 1e-6);
        assert_eq!((joints.under_limit, joints.four_corner), (0, 0));
    }

    #[test]
    fn a_panel_covers_six_square_feet() {
        // common practice, no source: 2 ft × 3 ft is 6 ft², 0.56 m²
        let base = feet(&[(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)]);
        let laid = lay(&spec(0.0), &base, &frame());
        assert_eq!((laid.pieces.len(), laid.whole()), (1, 1));
        assert!((laid.pieces[0].area_mm2 / 1e6 - 0.56).abs() < 0.005);
    }

    #[test]
    fn aligned_courses_meet_four_at_a_place() {
        let base = feet(&[(0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (0.0, 4.0)]);
        let laid = lay(&spec(0.0), &base, &frame());
        let joints = cross_joints(std::slice::from_ref(&laid), &spec(0.0));
        assert_eq!((joints.under_limit, joints.four_corner), (3, 3));
        assert!(
            joints.crosses[0]
                .at
                .distance(Point::new(3.0 * FOOT, 2.0 * FOOT))
                < 1e-6
        );
    }

    #[test]
    fn stated_starts_shift_courses_and_the_rest_goes_on_by_the_stagger() {
        let base = feet(&[(0.0, 0.0), (12.0, 0.0), (12.0, 8.0), (0.0, 8.0)]);
        let mut rules = spec(FOOT);
        rules.course_starts = [(0, 3.0 * FOOT), (1, 1.25 * FOOT)].into();
        let laid = lay(&rules, &base, &frame());
        let starts: Vec<f64> = laid
            .courses
            .iter()
            .map(|c| c.first_length_mm / FOOT)
            .collect();
        // 1.25' + 1' = 2.25'; + 1' = 3.25', a cell round: 0.25'
        for (found, wanted) in starts.iter().zip([3.0, 1.25, 2.25, 0.25]) {
            assert!((found - wanted).abs() < 1e-6, "{starts:?}");
        }
        let joints = cross_joints(std::slice::from_ref(&laid), &rules);
        assert!((joints.min_offset_mm.unwrap() - FOOT).abs() < 1e-6);
    }

    #[test]
    fn a_notch_across_a_panel_gives_two_pieces() {
        // the notch takes the middle of the one panel through its whole width
        let base = feet(&[
            (0.0, 0.0),
            (1.0, 0.0),
            (1.0, 2.5),
            (2.0, 2.5),
            (2.0, 0.0),
            (3.0, 0.0),
            (3.0, 4.0),
            (0.0, 4.0),
        ]);
        let laid = lay(&spec(0.0), &base, &frame());
        let marks: Vec<String> = laid.pieces.iter().map(Piece::mark).collect();
        assert_eq!(marks, ["1-1", "1-2", "2-1"]);
        assert_eq!(laid.whole(), 0);
    }

    #[test]
    fn half_a_millimetre_makes_no_piece_and_no_cut() {
        let base = |over: f64| {
            let (x, y) = (6.0 * FOOT + over, 2.0 * FOOT);
            clip::shape_of_points(&[
                Point::new(0.0, 0.0),
                Point::new(x, 0.0),
                Point::new(x, y),
                Point::new(0.0, y),
            ])
        };
        let counts = [-0.6, -0.4, 0.0, 0.4, 0.6].map(|over| {
            let laid = lay(&spec(0.0), &base(over), &frame());
            (laid.pieces.len(), laid.whole())
        });
        assert_eq!(counts, [(2, 1), (2, 2), (2, 2), (2, 2), (3, 2)]);
    }

    #[test]
    fn joints_are_left_out_of_the_pieces() {
        // 3 × 2 panels with 10 mm joints: the base holds the panels and the joints between
        let mut rules = spec(0.0);
        (rules.panel.length, rules.panel.width, rules.panel.joint) = (900.0, 600.0, 10.0);
        let (x, y) = (3.0 * 910.0 - 10.0, 2.0 * 610.0 - 10.0);
        let base = clip::shape_of_points(&[
            Point::new(0.0, 0.0),
            Point::new(x, 0.0),
            Point::new(x, y),
            Point::new(0.0, y),
        ]);
        let laid = lay(&rules, &base, &frame());
        assert_eq!((laid.pieces.len(), laid.whole()), (6, 6));
        let area: f64 = laid.pieces.iter().map(|piece| piece.area_mm2).sum();
        let joints = x * y - 6.0 * 900.0 * 600.0;
        assert!((area + joints - clip::area(&base)).abs() < 1.0);
        let crosses = cross_joints(std::slice::from_ref(&laid), &rules).crosses;
        assert!(crosses[0].at.distance(Point::new(905.0, 605.0)) < 1e-6);
    }

    /// A joint of 1/16" puts courses and panels between micrometres; what lies inside is not clipped
    /// for that, and has the area of a panel to the last bit.
    #[test]
    fn panels_inside_are_whole_where_their_places_are_no_whole_micrometres() {
        let mut rules = spec(FOOT);
        rules.panel.joint = FOOT / 12.0 / 16.0;
        let base = feet(&[(-0.3, -0.3), (40.3, -0.3), (40.3, 40.3), (-0.3, 40.3)]);
        let laid = lay(&rules, &base, &frame());
        let inside = laid.pieces.iter().filter(|piece| {
            let [u, v] = piece.cell;
            let on = |at: f64, size: f64| at > 0.0 && at + size < 40.0 * FOOT;
            on(u, rules.panel.length) && on(v, rules.panel.width)
        });
        let areas: Vec<f64> = inside.map(|piece| piece.area_mm2).collect();
        assert!(areas.len() > 200, "{}", areas.len());
        let panel = rules.panel.length * rules.panel.width;
        assert!(areas.iter().all(|&area| area == panel), "{areas:?}");
    }

    #[test]
    fn base_behind_the_start_line_is_laid_too() {
        let base = feet(&[(-3.0, -2.0), (6.0, -2.0), (6.0, 4.0), (-3.0, 4.0)]);
        let laid = lay(&spec(0.0), &base, &frame());
        assert_eq!((laid.courses.len(), laid.whole()), (3, 9));
        assert_eq!(laid.courses[0].index, -1);
        assert_eq!(
            (laid.courses[0].number, laid.pieces[0].x_mm),
            (1, -3.0 * FOOT)
        );
    }

    #[test]
    fn areas_add_up_and_turning_the_site_changes_no_count() {
        let base = feet(&[
            (0.0, 0.0),
            (14.0, 0.0),
            (13.0, 7.3),
            (8.0, 7.0),
            (6.5, 11.0),
            (0.0, 12.0),
        ]);
        let hole = feet(&[(4.0, 3.0), (6.0, 3.2), (5.0, 5.5)]);
        let base = clip::difference(&base, &hole);
        let rules = spec(FOOT);
        let laid = lay(&rules, &base, &frame());
        let area: f64 = laid.pieces.iter().map(|p| p.area_mm2).sum();
        assert!((area - clip::area(&base)).abs() < 20.0, "{area}");
        for degrees in [17.0, 90.0, 133.7, 180.0] {
            let (base, frame) = turned(&base, &frame(), degrees);
            let again = lay(&rules, &base, &frame);
            assert_eq!(again.pieces.len(), laid.pieces.len());
            for (a, b) in again.pieces.iter().zip(&laid.pieces) {
                assert_eq!((a.mark(), a.whole), (b.mark(), b.whole));
                assert!((a.area_mm2 - b.area_mm2).abs() < 5.0);
                assert!((a.narrowest_mm - b.narrowest_mm).abs() < 0.01);
            }
            let (a, b) = (
                cross_joints(std::slice::from_ref(&again), &rules),
                cross_joints(std::slice::from_ref(&laid), &rules),
            );
            assert_eq!(a.under_limit, b.under_limit);
        }
    }
}
