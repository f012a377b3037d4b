//! All measured points of a job, worked in the order written.
//!
//! In: [`PointSpec`]s and the traverse. Out: every point with its coordinates in site
//! millimetres, how it was got, the crossing angle of ties and the residuals of further tapes;
//! the traverse; and all that is wrong, at the point or leg concerned. A point may use points
//! written before it and the points of a traverse whose known ends stand before it; a point that
//! uses one written later, or itself, is refused, so that no circle of points is possible.

use std::collections::{BTreeMap, BTreeSet};

use super::result::{ErrorPlace, How, Residual, Survey, SurveyError, SurveyPoint};
use super::spec::{Measured, PointSpec, Traverse, Turning};
use super::tie::{TieFault, offset, tie};
use super::traverse::walk;
use crate::geom::Point;
use crate::language::{Phrase, phrase};
use crate::units::{Length, Precision, System, print};

/// Works all points in the order written, then the traverse, or the traverse as soon as a point
/// asks for one of its points. Errors speak of lengths in the units of `system`.
pub fn solve(points: &[PointSpec], traverse: Option<&Traverse>, system: System) -> Survey {
    let mut work = Work {
        system,
        specs: points,
        traverse,
        walked: false,
        known: BTreeMap::new(),
        failed: BTreeSet::new(),
        survey: Survey::default(),
    };
    for (index, spec) in points.iter().enumerate() {
        work.place(index, spec);
    }
    work.walk();
    work.survey.errors.sort_by_key(|error| error.place);
    work.survey
}

struct Work<'a> {
    system: System,
    specs: &'a [PointSpec],
    traverse: Option<&'a Traverse>,
    walked: bool,
    known: BTreeMap<String, Point>,
    /// Points that have an error already, so that what hangs on them is not blamed as well.
    failed: BTreeSet<String>,
    survey: Survey,
}

/// Why a point's place cannot be given.
enum Missing {
    /// The point it hangs on has an error of its own.
    Follows,
    /// A new error.
    Because { found: Phrase, wanted: Phrase },
}

fn because<T>(found: Phrase, wanted: Phrase) -> Result<T, Missing> {
    Err(Missing::Because { found, wanted })
}

impl Work<'_> {
    fn error(&mut self, place: ErrorPlace, missing: Missing) {
        if let Missing::Because { found, wanted } = missing {
            self.survey.errors.push(SurveyError {
                place,
                found,
                wanted,
            });
        }
    }

    fn keep(&mut self, point: SurveyPoint) {
        self.known.insert(point.name.clone(), point.at);
        self.survey.points.push(point);
    }

    /// The place of a point that another one, `user`, or the traverse is measured from.
    fn at(&mut self, name: &str, user: Option<&str>) -> Result<Point, Missing> {
        if user == Some(name) {
            return because(
                phrase!("{name} is measured from itself", name),
                phrase!("another point, written before it"),
            );
        }
        let by_leg = self
            .traverse
            .is_some_and(|traverse| traverse.legs.iter().any(|leg| leg.to == name));
        if by_leg && !self.known.contains_key(name) && !self.is_written(name) {
            self.walk();
        }
        if let Some(at) = self.known.get(name) {
            return Ok(*at);
        }
        if self.failed.contains(name) {
            return Err(Missing::Follows);
        }
        if self.is_written(name) {
            return because(
                phrase!("{name} is used before it exists", name),
                match user {
                    Some(user) => phrase!("{name} written before {user}", name, user),
                    None => phrase!("{name} written before the traverse", name),
                },
            );
        }
        because(
            phrase!("there is no point {name}", name),
            phrase!("the name of a point written before it"),
        )
    }

    fn is_written(&self, name: &str) -> bool {
        self.specs.iter().any(|spec| spec.name == name)
    }

    fn place(&mut self, index: usize, spec: &PointSpec) {
        match self.placed(spec) {
            Ok(point) => self.keep(point),
            Err(missing) => {
                self.failed.insert(spec.name.clone());
                self.error(ErrorPlace::Point(index), missing);
            }
        }
    }

    fn placed(&mut self, spec: &PointSpec) -> Result<SurveyPoint, Missing> {
        let name = &spec.name;
        if self.known.contains_key(name) {
            return because(
                phrase!("{name} is given twice", name),
                phrase!("one measurement a point"),
            );
        }
        let mut point = SurveyPoint {
            name: name.clone(),
            at: Point::default(),
            how: How::Given,
            crossing_deg: None,
            other: None,
            residuals: Vec::new(),
        };
        match &spec.measured {
            Measured::At(at) => point.at = *at,
            Measured::Tie {
                from,
                distance,
                left,
            } => {
                let ends = [
                    self.at(&from[0], Some(name))?,
                    self.at(&from[1], Some(name))?,
                ];
                let found = match tie(ends, *distance) {
                    Ok(found) => found,
                    Err(fault) => return tie_fault(self.system, from, distance, ends, fault),
                };
                let (at, other) = if *left {
                    (found.left, found.right)
                } else {
                    (found.right, found.left)
                };
                point.at = at;
                point.how = How::Tie;
                point.other = Some(other);
                point.crossing_deg = Some(found.crossing_deg);
            }
            Measured::Offset { along, at, out } => {
                let ends = [
                    self.at(&along[0], Some(name))?,
                    self.at(&along[1], Some(name))?,
                ];
                point.how = How::Offset;
                point.at = match offset(ends, *at, *out) {
                    Some(at) => at,
                    None => {
                        return because(
                            phrase!("{a} and {b} are one place", a = along[0], b = along[1]),
                            phrase!("two points that are apart"),
                        );
                    }
                };
            }
        }
        if !(point.at.x.is_finite() && point.at.y.is_finite()) {
            return because(
                phrase!("{name} has no finite place", name),
                phrase!("finite lengths"),
            );
        }
        for further in &spec.redundant {
            let from = self.at(&further.from, Some(name))?;
            point.residuals.push(Residual {
                from: further.from.clone(),
                measured_mm: further.distance,
                computed_mm: from.distance(point.at),
            });
        }
        Ok(point)
    }

    fn walk(&mut self) {
        let Some(traverse) = self.traverse else {
            return;
        };
        if self.walked {
            return;
        }
        self.walked = true;
        let before = self.survey.errors.len();
        let start = match self.at(&traverse.start, None) {
            Ok(start) => Some(start),
            Err(missing) => {
                self.error(ErrorPlace::Start, missing);
                None
            }
        };
        let close = self.check_legs(traverse);
        let sound = self.survey.errors.len() == before;
        let (Some(start), Some(close), true) = (start, close, sound) else {
            for leg in &traverse.legs {
                if !self.is_written(&leg.to) {
                    self.failed.insert(leg.to.clone());
                }
            }
            return;
        };
        let done = walk(traverse, start, close);
        let ends = done.legs.iter().take(if close.is_some() {
            done.legs.len() - 1
        } else {
            done.legs.len()
        });
        for leg in ends {
            self.keep(SurveyPoint {
                name: leg.to.clone(),
                at: leg.at,
                how: How::Traverse,
                crossing_deg: None,
                other: None,
                residuals: Vec::new(),
            });
        }
        self.survey.traverse = Some(done);
    }

    /// Reports what is wrong with the legs; gives the known place of the last leg's end, if that
    /// is a known point, or `None` when that place could not be worked.
    fn check_legs(&mut self, traverse: &Traverse) -> Option<Option<Point>> {
        let mut close = Some(None);
        let mut seen = BTreeSet::new();
        for (index, leg) in traverse.legs.iter().enumerate() {
            let place = ErrorPlace::Leg(index);
            let turning = match leg.turning {
                Turning::Turn(angle) | Turning::Bearing(angle) => angle,
            };
            let sound = leg.distance > 0.0 && leg.distance.is_finite() && turning.is_finite();
            if !sound {
                let missing = Missing::Because {
                    found: phrase!(
                        "the leg to {point} has no length or no direction",
                        point = leg.to
                    ),
                    wanted: phrase!("a distance over zero and an angle"),
                };
                self.error(place, missing);
            }
            let last = index + 1 == traverse.legs.len();
            let written = self.is_written(&leg.to);
            if written && last {
                close = match self.at(&leg.to, None) {
                    Ok(at) => Some(Some(at)),
                    Err(missing) => {
                        self.error(place, missing);
                        None
                    }
                };
            } else if written || !seen.insert(leg.to.as_str()) {
                let missing = Missing::Because {
                    found: phrase!("{point} is known already", point = leg.to),
                    wanted: phrase!("a new name; only the last leg may end at a known point"),
                };
                self.error(place, missing);
            }
        }
        if traverse.legs.is_empty() {
            let missing = Missing::Because {
                found: phrase!("a traverse without legs"),
                wanted: phrase!("one leg or more"),
            };
            self.error(ErrorPlace::Start, missing);
        }
        close
    }
}

/// The least length that a tape can read which is no less.
fn taped_up(mm: f64, system: System) -> String {
    let step = Precision::Drawing.step(system);
    let least = Length::from_mm((mm / step - 1e-6).ceil() * step);
    print::taped(least, system)
}

fn tie_fault(
    system: System,
    from: &[String; 2],
    distance: &[f64; 2],
    ends: [Point; 2],
    fault: TieFault,
) -> Result<SurveyPoint, Missing> {
    let [a, b] = from;
    let apart = ends[0].distance(ends[1]);
    match fault {
        TieFault::SamePlace => because(
            phrase!("{a} and {b} are one place", a, b),
            phrase!("two points that are apart"),
        ),
        TieFault::NotADistance => because(
            phrase!("a tape that is not longer than zero"),
            phrase!("two distances over zero"),
        ),
        TieFault::TooShort(by) => because(
            phrase!(
                "the tapes cannot meet: together they are {by} short",
                by = print::taped(Length::from_mm(by), system)
            ),
            phrase!(
                "distances from {a} and {b} that add up to {least} or more",
                a,
                b,
                least = taped_up(apart, system)
            ),
        ),
        TieFault::OtherTooShort { short, by } => because(
            phrase!(
                "the tapes cannot meet: the one from {point} is {by} short",
                point = from[short],
                by = print::taped(Length::from_mm(by), system)
            ),
            phrase!(
                "{least} or more from {point}",
                least = taped_up(distance[short] + by, system),
                point = from[short]
            ),
        ),
    }
}

#[cfg(test)]
mod tests;
