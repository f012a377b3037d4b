//! Modular bonds: a repeating cell of the job's own, proved to tile before it is laid.
//!
//! In: the cell's two steps and its pavers with what each takes up, in millimetres. Out: the
//! [`Cell`], or the [`Fault`] that keeps it from tiling. The proof: what the pavers take up adds up
//! to the area of the parallelogram of the steps, and no two of them overlap, neighbouring cells
//! included; both together leave no gap either. The steps are shortened first (after Lagrange and
//! Gauss, reduction of a lattice of two dimensions), which changes where a cell ends and no paver's
//! place. Left out: pavers that are no rectangles, and turns other than a quarter.

use std::fmt;

use super::bond::{Axis, Cell, Line, TOLERANCE, check as check_paver, place};
use super::spec::{Bond, Modular, ModularPaver, PaverSpec};
use super::unfit::{Unfit, patch};
use super::window::Window;
use crate::geom::Vector;
use crate::language::{Phrase, phrase};
use crate::units::System;

/// Most pavers of a cell.
pub const MOST_PAVERS: usize = 60;

/// Most neighbouring cells that are looked at.
const MOST_CELLS: i64 = 20_000;

/// Why a cell does not tile. Pavers are told by their number in the cell, counted from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A paver of the cell is not one of the job's, or its size or thickness does not suit.
    Paver(usize, Unfit),
    /// The steps span no area, or are out of proportion to the pavers.
    Steps(Phrase),
    /// What the pavers take up does not add up to the cell; areas in mm².
    Areas {
        /// Of the cell.
        cell: f64,
        /// Of what the pavers take up.
        pavers: f64,
    },
    /// Two pavers overlap, the second perhaps one of a neighbouring cell.
    Overlap(usize, usize),
}

impl Fault {
    /// What is wrong, in words.
    pub fn phrase(&self, system: System) -> Phrase {
        match self {
            Fault::Paver(number, why) => phrase!(
                "paver {number} of the cell: {why}",
                number = number + 1,
                why = why.phrase(system)
            ),
            Fault::Steps(why) => why.clone(),
            Fault::Areas { cell, pavers } => phrase!(
                "the cell's area is {cell}, what its pavers take up with their joints is {pavers}",
                cell = patch(*cell, system),
                pavers = patch(*pavers, system)
            ),
            Fault::Overlap(a, b) if a == b => phrase!(
                "paver {number} of the cell overlaps itself in a neighbouring cell",
                number = a + 1
            ),
            Fault::Overlap(a, b) => phrase!(
                "pavers {one} and {other} of the cell, or of neighbouring cells, overlap",
                one = a + 1,
                other = b + 1
            ),
        }
    }
}

impl fmt::Display for Fault {
    /// The English words.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase(System::Metric).fmt(out)
    }
}

/// Proves that a cell tiles the plane.
///
/// Hand check: squares of 200 and 100 with a joint of 3 take up 203² + 103² = 51 818 mm²; steps of
/// (203, 103) and (−103, 203) span 203 × 203 + 103 × 103, the same.
///
/// # Errors
///
/// The first [`Fault`] found.
pub fn check(modular: &Modular, pavers: &[PaverSpec]) -> Result<(), Fault> {
    if modular.pavers.is_empty() {
        return Err(Fault::Steps(phrase!("the cell has no paver")));
    }
    for (number, part) in modular.pavers.iter().enumerate() {
        suits(modular, part, pavers).map_err(|why| Fault::Paver(number, why))?;
    }
    let slots = slots(modular, pavers);
    let [a, b] = shortened(modular.steps);
    let cell = a.cross(b).abs();
    let taken: f64 = slots.iter().map(|slot| slot.width() * slot.height()).sum();
    if !cell.is_finite() || cell < 1.0 {
        return Err(Fault::Steps(phrase!(
            "the cell's two steps run along one line"
        )));
    }
    let slack = slots
        .iter()
        .map(|slot| TOLERANCE * (slot.width() + slot.height()));
    if (cell - taken).abs() > slack.sum::<f64>() {
        return Err(Fault::Areas {
            cell,
            pavers: taken,
        });
    }
    let round = round(&slots);
    let reach = Window {
        x0: -round.width(),
        y0: -round.height(),
        x1: round.width(),
        y1: round.height(),
    };
    let many = ranges([a, b], &reach).map(|(first, last)| last.saturating_sub(first));
    if many[0].saturating_mul(many[1]) > MOST_CELLS {
        return Err(Fault::Steps(phrase!(
            "the cell's pavers lie too far apart for its steps"
        )));
    }
    let mut steps = Vec::new();
    each_step([a, b], &reach, |by| steps.push(by));
    for (number, one) in slots.iter().enumerate() {
        for (other_number, other) in slots.iter().enumerate().skip(number) {
            for by in &steps {
                let same = number == other_number && by.length() < TOLERANCE;
                if !same && overlap(one, other, *by) {
                    return Err(Fault::Overlap(number, other_number));
                }
            }
        }
    }
    Ok(())
}

/// The cell of a bond that [`check`] accepts.
pub fn cell(modular: &Modular, pavers: &[PaverSpec]) -> Cell {
    let [along, up] = rows(modular.steps);
    let mut cell = Cell {
        along,
        up,
        pavers: Vec::new(),
        joints: Vec::new(),
        lines: Vec::new(),
    };
    let slots = slots(modular, pavers);
    let mut least_joint = f64::MAX;
    for (part, slot) in modular.pavers.iter().zip(&slots) {
        let paver = &pavers[part.paver];
        least_joint = least_joint.min(paver.joint);
        place(&mut cell, part.paver, paver, *slot, part.long_side);
    }
    let sides = |low: fn(&Window) -> f64, high: fn(&Window) -> f64| {
        slots
            .iter()
            .map(|slot| (low(slot), high(slot)))
            .collect::<Vec<_>>()
    };
    let flat = lines(&sides(|s| s.y0, |s| s.y1), [along.y, up.y]);
    let upright = lines(&sides(|s| s.x0, |s| s.x1), [along.x, up.x]);
    let line = |along: Axis, (at, every): (f64, f64)| Line {
        along,
        first: at - least_joint / 2.0,
        every,
    };
    cell.lines
        .extend(flat.into_iter().map(|at| line(Axis::X, at)));
    cell.lines
        .extend(upright.into_iter().map(|at| line(Axis::Y, at)));
    cell
}

/// Whether a paver of the cell is one of the job's and fits what it takes up.
fn suits(modular: &Modular, part: &ModularPaver, pavers: &[PaverSpec]) -> Result<(), Unfit> {
    let paver = pavers.get(part.paver).ok_or(Unfit::NoPaver(part.paver))?;
    check_paver(&Bond::Stack, paver)?;
    let first = modular
        .pavers
        .first()
        .and_then(|first| pavers.get(first.paver));
    if first.is_some_and(|first| (first.thickness - paver.thickness).abs() > TOLERANCE) {
        return Err(Unfit::Thickness {
            paver: paver.name.clone(),
            thickness: paver.thickness,
        });
    }
    let own = footprint(part, paver);
    if let Some(takes) = part.takes
        && (takes[0] < own[0] - TOLERANCE || takes[1] < own[1] - TOLERANCE)
    {
        return Err(Unfit::Takes { takes, own });
    }
    Ok(())
}

/// A paver's sides along x and y.
fn footprint(part: &ModularPaver, paver: &PaverSpec) -> [f64; 2] {
    match part.long_side {
        Axis::X => [paver.length, paver.width],
        Axis::Y => [paver.width, paver.length],
    }
}

/// What each paver of the cell takes up.
fn slots(modular: &Modular, pavers: &[PaverSpec]) -> Vec<Window> {
    modular
        .pavers
        .iter()
        .map(|part| {
            let paver = &pavers[part.paver];
            let own = footprint(part, paver).map(|side| side + paver.joint);
            let takes = part.takes.unwrap_or(own);
            Window {
                x0: part.at[0],
                y0: part.at[1],
                x1: part.at[0] + takes[0],
                y1: part.at[1] + takes[1],
            }
        })
        .collect()
}

fn round(slots: &[Window]) -> Window {
    let mut round = slots[0];
    for slot in slots {
        round.x0 = round.x0.min(slot.x0);
        round.y0 = round.y0.min(slot.y0);
        round.x1 = round.x1.max(slot.x1);
        round.y1 = round.y1.max(slot.y1);
    }
    round
}

/// Whether `other` moved by a step overlaps `one` by more than the tolerance both ways.
fn overlap(one: &Window, other: &Window, by: Vector) -> bool {
    let wide = one.x1.min(other.x1 + by.x) - one.x0.max(other.x0 + by.x);
    let tall = one.y1.min(other.y1 + by.y) - one.y0.max(other.y0 + by.y);
    wide > TOLERANCE && tall > TOLERANCE
}

/// The two shortest steps of the same repeat.
fn shortened(steps: [Vector; 2]) -> [Vector; 2] {
    let [mut a, mut b] = steps;
    for _ in 0..200 {
        if b.dot(b) < a.dot(a) {
            std::mem::swap(&mut a, &mut b);
        }
        let times = (a.dot(b) / a.dot(a)).round();
        if times == 0.0 || !times.is_finite() {
            break;
        }
        b = b - a * times;
    }
    [a, b]
}

/// The steps as along a row and from row to row. A row along x is kept as the job gives it.
fn rows(steps: [Vector; 2]) -> [Vector; 2] {
    let flat = |step: Vector| step.y.abs() < 1e-9;
    let [mut along, mut up] = match steps.map(flat) {
        [true, _] => steps,
        [_, true] => [steps[1], steps[0]],
        _ => shortened(steps),
    };
    if !flat(along) && along.x.abs() < up.x.abs() {
        std::mem::swap(&mut along, &mut up);
    }
    if along.x < 0.0 {
        along = -along;
    }
    if up.y < 0.0 {
        up = -up;
    }
    if flat(along) {
        along.y = 0.0;
    }
    [along, up]
}

/// Visits every whole combination of two steps that lies in a window. Their numbers are bounded by
/// those of the window's corners.
pub(super) fn each_step(steps: [Vector; 2], window: &Window, mut visit: impl FnMut(Vector)) {
    let [(first_a, last_a), (first_b, last_b)] = ranges(steps, window);
    for i in first_a..=last_a {
        for j in first_b..=last_b {
            let at = steps[0] * i as f64 + steps[1] * j as f64;
            let inside =
                (window.x0..=window.x1).contains(&at.x) && (window.y0..=window.y1).contains(&at.y);
            if inside {
                visit(at);
            }
        }
    }
}

/// First and last number of each step that can lead into a window.
fn ranges(steps: [Vector; 2], window: &Window) -> [(i64, i64); 2] {
    let [a, b] = steps;
    let cross = a.cross(b);
    let corners = window.corners().map(|at| Vector::new(at.x, at.y));
    let range = |counts: [f64; 4]| {
        let low = counts.iter().copied().fold(f64::MAX, f64::min).floor();
        let high = counts.iter().copied().fold(f64::MIN, f64::max).ceil();
        (low as i64, high as i64)
    };
    [
        range(corners.map(|at| at.cross(b) / cross)),
        range(corners.map(|at| a.cross(at) / cross)),
    ]
}

/// Where straight lines run between all the pavers: stretches that pavers take up across, and the
/// parts of the two steps across; place and repeat of each line.
///
/// Across, the cell repeats by the greatest common measure of the two parts; a line runs where no
/// stretch lies over it once all are brought into one repeat.
fn lines(stretches: &[(f64, f64)], parts: [f64; 2]) -> Vec<(f64, f64)> {
    let every = common_measure(parts[0].abs(), parts[1].abs());
    let mut covered = Vec::new();
    for (from, to) in stretches {
        let length = to - from;
        if length > every + TOLERANCE {
            return Vec::new();
        }
        let start = from.rem_euclid(every);
        for turn in [-1.0, 0.0, 1.0] {
            let from = start + turn * every;
            covered.push((from + TOLERANCE, from + length - TOLERANCE));
        }
    }
    let free = |at: f64| covered.iter().all(|(from, to)| at <= *from || at >= *to);
    let mut found: Vec<(f64, f64)> = Vec::new();
    for (from, _) in stretches {
        let at = from.rem_euclid(every);
        let known = |other: &(f64, f64)| {
            let apart = (other.0 - at).abs();
            apart.min(every - apart) < 2.0 * TOLERANCE
        };
        if free(at) && !found.iter().any(known) {
            found.push((at, every));
        }
    }
    found
}

/// The longest length that both are whole multiples of, to the tolerance (Euclid).
fn common_measure(a: f64, b: f64) -> f64 {
    let (mut a, mut b) = (a.max(b), a.min(b));
    while b > TOLERANCE {
        let rest = a % b;
        // What is nearly a whole step is one.
        let rest = if b - rest < TOLERANCE { 0.0 } else { rest };
        (a, b) = (b, rest);
    }
    a
}

#[cfg(test)]
mod tests;
