//! What asks for a place on paper: a label with the places it may take, best first.
//!
//! In: a feature on paper and the size of what is lettered there. Out: candidates, each with the
//! room it takes, the leader it brings and what it costs. Methods: Imhof's ranked positions in
//! rings round a point, then slots of boundary columns and rows along the room's sides (boundary
//! labelling), which a leader always reaches without passing through the drawing twice.
//!
//! Paper millimetres, y down.

use super::label::Label;
use super::taken::Taken;
use super::turned::{Box2, direction};
use crate::draw::Pt;

/// A place that a label may take.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Room that it takes; the first box is that of the words.
    pub boxes: Vec<Box2>,
    /// The leader from the feature to the words; empty for none.
    pub leader: Vec<Pt>,
    /// What the place costs by itself, in millimetres of distance that it is worth.
    pub cost: f64,
}

/// A label that asks for a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// Where it may go.
    pub candidates: Vec<Candidate>,
    /// What it costs to leave it without a place.
    pub worth: f64,
    /// Clear paper wanted round its boxes.
    pub clear: f64,
    /// Clear paper wanted between its words and drawn lines.
    pub beside: f64,
    /// How bad it is to lay it on drawn lines: 1 for most labels.
    pub shy: f64,
}

/// Clear paper kept round a label that has its place.
pub const KEPT: f64 = 0.5;

/// White ground beyond words that lie on lines: the widest line in view stays clear of them.
const GROUND: f64 = 0.58;

/// Clear paper round most labels.
pub const CLEAR: f64 = 0.7;

impl Request {
    /// A request at usual clearances.
    pub fn new(worth: f64, candidates: Vec<Candidate>) -> Self {
        Self {
            candidates,
            worth,
            clear: CLEAR,
            beside: CLEAR,
            shy: 1.0,
        }
    }

    /// Clear paper kept round it once it has its place.
    pub fn kept(&self) -> f64 {
        KEPT.min(self.clear)
    }

    /// Clear paper on its white ground, where it lies on lines.
    pub fn ground(&self) -> f64 {
        GROUND.min(self.beside)
    }
}

impl Candidate {
    /// A place without a leader.
    pub fn bare(bounds: Box2, cost: f64) -> Self {
        Self {
            boxes: vec![bounds],
            leader: Vec::new(),
            cost,
        }
    }

    /// A place with a straight leader from a feature; it costs its length.
    pub fn led(bounds: Box2, from: Pt, cost: f64) -> Self {
        let to = touching(bounds.grown(CLEAR), from);
        Self {
            boxes: vec![bounds],
            leader: vec![from, to],
            cost: cost + from.distance(bounds.centre),
        }
    }

    /// The box of the words.
    pub fn bounds(&self) -> Box2 {
        self.boxes[0]
    }
}

/// Where a leader from a point meets a level box: the middle of the nearer short side, or straight
/// below or above.
pub fn touching(bounds: Box2, from: Pt) -> Pt {
    let x = bounds.centre.x + bounds.half.copysign(from.x - bounds.centre.x);
    if (from.x - bounds.centre.x).abs() < bounds.half {
        let y = bounds.centre.y + bounds.rise.copysign(from.y - bounds.centre.y);
        return Pt::new(from.x, y);
    }
    Pt::new(x, bounds.centre.y)
}

/// Radii of the rings of candidate places round a point.
pub const RADII: [f64; 8] = [3.0, 5.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0];

/// Candidate centres round a point: rings of sixteen directions, nearest ring first, starting at
/// the preferred direction (degrees, anticlockwise as seen) and going both ways from it.
pub fn rings(at: Pt, label: &Label, prefer: f64, radii: &[f64]) -> Vec<Pt> {
    let (wide, high) = label.size();
    around(at, (wide / 2.0, high / 2.0), prefer, radii, 16)
}

/// Candidate centres of a box of given half sizes round a point; see [`rings`].
pub fn around(at: Pt, half: (f64, f64), prefer: f64, radii: &[f64], count: u32) -> Vec<Pt> {
    let part = 360.0 / f64::from(count);
    let mut centres = Vec::new();
    for radius in radii {
        for step in 0..count {
            let turn = f64::from(step.div_ceil(2)) * part * if step % 2 == 0 { 1.0 } else { -1.0 };
            let (sin, cos) = direction(prefer + turn);
            centres.push(Pt::new(
                at.x + cos * (radius + half.0),
                at.y - sin * (radius + half.1),
            ));
        }
    }
    centres
}

/// Slots in columns along the left and the right side of the room and in rows along its top and
/// foot, for a level box of given half sizes: where a label goes when there is no room near its
/// feature.
pub fn boundary(taken: &Taken, half: (f64, f64)) -> Vec<Pt> {
    let room = taken.room().grown(-1.5);
    let pitch = half.1 * 2.0 + 2.4;
    let rows = (room.height() / pitch).floor().max(0.0) as usize;
    let mut slots = Vec::new();
    for k in 0..rows {
        let y = room.top + pitch * (k as f64 + 0.5);
        slots.push(Pt::new(room.left + half.0, y));
        slots.push(Pt::new(room.right - half.0, y));
    }
    let step = half.0 * 2.0 + 3.0;
    let columns = (room.width() / step).floor().max(0.0) as usize;
    for k in 0..columns {
        let x = room.left + step * (k as f64 + 0.5);
        slots.push(Pt::new(x, room.top + half.1));
        slots.push(Pt::new(x, room.bottom - half.1));
    }
    slots
}

/// Candidates with leaders for a level box of given half sizes: rings round the feature, then the
/// boundary slots.
pub fn led(taken: &Taken, from: Pt, half: (f64, f64), prefer: f64) -> Vec<Candidate> {
    let level = |centre: Pt| Box2 {
        centre,
        half: half.0,
        rise: half.1,
        angle: 0.0,
    };
    let near = around(from, half, prefer, &RADII, 16);
    let mut candidates: Vec<Candidate> = near
        .into_iter()
        .enumerate()
        .map(|(rank, centre)| Candidate::led(level(centre), from, rank as f64 * 0.05))
        .collect();
    let far = boundary(taken, half);
    candidates.extend(
        far.into_iter()
            .map(|centre| Candidate::led(level(centre), from, 20.0)),
    );
    candidates
}
