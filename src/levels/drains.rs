//! Drains on the paving: gullies, channels and the outlets of downspouts, and the flow to them.
//!
//! In: what the job says of drains and of rain. Out: their outlines on plan and their flow by the
//! rational method. Millimetres; areas on plan in square metres, rain in millimetres an hour, flow
//! in litres a second. Left out: the capacity of grates and pipes, which are for others to size.

use crate::geom::{Point, Shape, Vector, clip};
use crate::language::{Phrase, phrase};

/// A drain, or an outlet that pours onto the paving.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainSpec {
    /// Its name.
    pub name: String,
    /// What it is and where.
    pub kind: DrainKind,
}

/// What a drain is.
#[derive(Clone, Debug, PartialEq)]
pub enum DrainKind {
    /// A gully: a square grate.
    Point {
        /// Its middle.
        at: Point,
        /// Length of a side.
        size: f64,
        /// How far its rim lies below the finish.
        set_down: f64,
    },
    /// A channel with a grate along it.
    Channel {
        /// The ends of its middle line.
        line: [Point; 2],
        /// Breadth of the grate.
        width: f64,
        /// How far its rim lies below the finish.
        set_down: f64,
    },
    /// A downspout that pours roof water onto the paving.
    Downspout {
        /// Where.
        at: Point,
        /// The roof that drains to it, on plan in square metres; nought when not stated.
        roof_m2: f64,
    },
}

/// The rain that drains are to take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rainfall {
    /// Intensity, in millimetres an hour.
    pub mm_per_h: f64,
    /// Runoff coefficient: the share of the rain that runs off.
    pub runoff: f64,
}

impl Rainfall {
    /// Peak flow off an area of square metres, in litres a second.
    ///
    /// ```
    /// use groundsheet::levels::Rainfall;
    /// // 36 mm/h is 36 litres an hour on each square metre: 0.01 l/s, half of it runs off 100 m².
    /// let rain = Rainfall { mm_per_h: 36.0, runoff: 0.5 };
    /// assert!((rain.flow(100.0) - 0.5).abs() < 1e-12);
    /// ```
    ///
    /// # Source
    /// The rational method, Q = C · i · A (Kuichling 1889), as the Oregon Department of
    /// Transportation's Hydraulics Manual (2014), chapter 7, appendix F, has it.
    pub fn flow(self, area_m2: f64) -> f64 {
        self.runoff * self.mm_per_h * area_m2 / 3600.0
    }
}

impl DrainKind {
    /// The word that jobs and reports use.
    pub fn word(&self) -> &'static str {
        self.phrase().word()
    }

    /// What it is called on a sheet.
    pub fn phrase(&self) -> Phrase {
        match self {
            DrainKind::Point { .. } => phrase!("point"),
            DrainKind::Channel { .. } => phrase!("channel"),
            DrainKind::Downspout { .. } => phrase!("downspout"),
        }
    }

    /// Where it is: its middle, or the ends of its line.
    pub fn places(&self) -> Vec<Point> {
        match self {
            DrainKind::Point { at, .. } | DrainKind::Downspout { at, .. } => vec![*at],
            DrainKind::Channel { line, .. } => line.to_vec(),
        }
    }

    /// How far its rim lies below the finish; none for what has no rim.
    pub const fn set_down(&self) -> Option<f64> {
        match self {
            DrainKind::Point { set_down, .. } | DrainKind::Channel { set_down, .. } => {
                Some(*set_down)
            }
            DrainKind::Downspout { .. } => None,
        }
    }

    /// The grate's corners on plan, anticlockwise, a gully's sides square to the unit vector
    /// `along`; none for a downspout.
    pub fn grate(&self, along: Vector) -> Option<[Point; 4]> {
        let (middle, half_long, half_wide) = match self {
            DrainKind::Point { at, size, .. } => (*at, along * (size / 2.0), size / 2.0),
            DrainKind::Channel { line, width, .. } => {
                let half = (line[1] - line[0]) * 0.5;
                (line[0].midpoint(line[1]), half, width / 2.0)
            }
            DrainKind::Downspout { .. } => return None,
        };
        let out = half_long.unit()?.left() * half_wide;
        Some([
            middle + -half_long + -out,
            middle + half_long + -out,
            middle + half_long + out,
            middle + -half_long + out,
        ])
    }

    /// The grate as a shape; see [`DrainKind::grate`].
    pub fn shape(&self, along: Vector) -> Option<Shape> {
        self.grate(along).map(|ring| clip::shape_of_points(&ring))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Oregon Department of Transportation, Hydraulics Manual (2014), chapter 7, appendix F:
    /// Q = 1.008 C i A with Q in cubic feet a second, i in inches an hour and A in acres.
    #[test]
    fn an_inch_an_hour_on_an_acre_is_1_008_cubic_feet_a_second() {
        let rain = Rainfall {
            mm_per_h: 25.4,
            runoff: 1.0,
        };
        let acre = 43_560.0 * 0.304_8 * 0.304_8;
        let cubic_feet = rain.flow(acre) / 28.316_846_592;
        assert!((cubic_feet - 1.008).abs() < 5e-4, "{cubic_feet}");
    }

    #[test]
    fn grates_have_their_size_whichever_way_they_lie() {
        let gully = DrainKind::Point {
            at: Point::new(500.0, 700.0),
            size: 300.0,
            set_down: 3.0,
        };
        let channel = DrainKind::Channel {
            line: [Point::new(0.0, 0.0), Point::new(3000.0, 4000.0)],
            width: 100.0,
            set_down: 3.0,
        };
        for turn in [0.0, 30.0, 90.0] {
            let along = Vector::new(1.0, 0.0).turned(turn);
            assert!((clip::area(&gully.shape(along).unwrap()) - 9e4).abs() < 1.0);
            assert!((clip::area(&channel.shape(along).unwrap()) - 5e5).abs() < 20.0);
        }
    }
}
