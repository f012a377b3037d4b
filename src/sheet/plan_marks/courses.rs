//! Courses of panels: number and first piece at the end that a course starts at.

use super::{holds, keyed, on_paper, run, upright, worth};
use crate::draw::{Face, Pt};
use crate::geom::Vector;
use crate::language::phrase;
use crate::sheet::dimension::{FIRST, NEXT};
use crate::sheet::labels::{Ask, Box2, Candidate, Request};
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::model::Course;
use crate::sheet::plan::Marks;

/// Places that a course's words may take, in steps of [`STEP`].
const PLACES: usize = 24;
/// How much further back each place lies, in millimetres.
const STEP: f64 = 1.5;
/// What lines of dimensions take with their words, on the side of what they measure.
const DIMENSION: f64 = 4.4;

/// Asks for the place of every course's words: behind its start, further and further back, in no
/// other part of the base and before the dimensions on that side.
pub fn ask(marks: &mut Marks) {
    let base = marks.rings(&marks.model.base);
    for course in &marks.model.courses {
        let at = marks.at(course.at);
        let (dx, dy) = on_paper(course.along);
        let half = width(&course.words, NOTE, Face::Regular) / 2.0;
        let angle = upright(-libm::atan2(dy, dx).to_degrees());
        let place = |step: u32| Box2 {
            centre: {
                let back = 1.8 + half + f64::from(step) * STEP;
                at.moved(-dx * back, -dy * back)
            },
            half,
            rise: NOTE * 0.72,
            angle,
        };
        let room = marks.taken.room();
        let beside_base = |bounds: &Box2| {
            let [a, b, c, d] = bounds.corners();
            let ends = [[a, b], [b, c], [c, d], [d, a]]
                .map(|[a, b]| Pt::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0));
            let mut points = [a, b, c, d].into_iter().chain(ends).chain([bounds.centre]);
            !points.any(|p| holds(&base, p))
        };
        let last = before_dimensions(marks, -course.along);
        let before = |bounds: &Box2| {
            let end = bounds.centre.moved(-dx * half, -dy * half);
            last.is_none_or(|last| -(end.x * dx + end.y * dy) <= last + 1e-6)
        };
        let candidates = (0..)
            .map(place)
            .take_while(|bounds| room.has(bounds.centre) && before(bounds))
            .filter(beside_base)
            .take(PLACES)
            .enumerate()
            .map(|(rank, bounds)| Candidate::bare(bounds, rank as f64))
            .collect();
        let words = course.words.clone();
        marks.ask(Ask {
            request: Request::new(worth::COURSE, candidates),
            layer: "labels",
            drawn: Box::new(move |candidate| {
                vec![run(candidate.bounds().centre, angle, &words, Face::Regular)]
            }),
            otherwise: keyed(
                marks,
                course.at,
                phrase!("Course {words}", words = course.words),
            ),
        });
    }
}

/// How far out the words of courses may reach on a side, along `outward` on paper: to the first line
/// of dimensions there; none where there is none.
fn before_dimensions(marks: &Marks, outward: Vector) -> Option<f64> {
    let chains = marks.model.chains.iter();
    let chain = chains.filter(|chain| chain.outward.dot(outward) > 0.99);
    let first = chain.map(|chain| chain.tier).min()?;
    let (x, y) = on_paper(outward);
    let dig = marks.model.dig.iter().flatten().map(|p| marks.at(*p));
    let reach = dig.map(|p| p.x * x + p.y * y).reduce(f64::max)?;
    Some(reach + FIRST + course_room(marks, outward) + NEXT * first as f64 - DIMENSION)
}

/// Breadth that course labels take on a side before its first dimension line.
pub fn course_room(marks: &Marks, outward: Vector) -> f64 {
    courses_on(&marks.model.courses, outward)
}

/// Breadth of the labels of courses that start on a side.
pub fn courses_on(courses: &[Course], outward: Vector) -> f64 {
    courses
        .iter()
        .filter(|c| c.along.dot(outward) < -0.7)
        .map(|c| width(&c.words, NOTE, Face::Regular) + 1.0)
        .fold(0.0, f64::max)
}
