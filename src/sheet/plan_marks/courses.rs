//! Courses of panels: number and first piece at the end that a course starts at.

use super::{keyed, on_paper, run, upright, worth};
use crate::draw::Face;
use crate::geom::Vector;
use crate::language::phrase;
use crate::sheet::labels::{Ask, Box2, Candidate, Request};
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::model::Course;
use crate::sheet::plan::Marks;

/// Asks for the place of every course's words: behind its start, further and further back.
pub fn ask(marks: &mut Marks) {
    for course in &marks.model.courses {
        let at = marks.at(course.at);
        let (dx, dy) = on_paper(course.along);
        let half = width(&course.words, NOTE, Face::Regular) / 2.0;
        let angle = upright(-libm::atan2(dy, dx).to_degrees());
        let candidates = (0..24)
            .map(|step| {
                let back = 1.8 + half + f64::from(step) * 1.5;
                let bounds = Box2 {
                    centre: at.moved(-dx * back, -dy * back),
                    half,
                    rise: NOTE * 0.72,
                    angle,
                };
                Candidate::bare(bounds, f64::from(step))
            })
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
