//! Bonds as repeating cells: where pavers and joints lie in the bond's own frame.
//!
//! In: the bond and the paver. Out: a repeating cell, in millimetres: its two steps, the pavers
//! it holds and the joint centre lines that go with them. The frame's origin is the start corner,
//! x runs along the first course, y from course to course; the first paver's corner sits at the
//! origin. Trade terms (running, stack, herringbone, basketweave) are common practice, no source.

use super::spec::{Bond, PaverSpec};
use super::window::Window;

/// Lengths that differ by no more than this are the same, in millimetres.
pub const TOLERANCE: f64 = 0.5;

/// Whether a paver can be laid in a bond.
///
/// # Errors
///
/// Says what is wrong and what would be right: a side, thickness or joint that is not a usable
/// length, or a herringbone paver longer than two widths and a joint.
pub fn check(bond: Bond, paver: &PaverSpec) -> Result<(), String> {
    let sides = [paver.length, paver.width];
    if sides.iter().any(|side| !side.is_finite() || *side < 1.0) {
        return Err("a paver's sides must be at least 1 mm".into());
    }
    if !paver.joint.is_finite() || paver.joint < 0.0 {
        return Err("a joint cannot be less than nothing wide".into());
    }
    let longest = 2.0 * paver.width + paver.joint;
    if bond == Bond::Herringbone && paver.length > longest + TOLERANCE {
        return Err(format!(
            "herringbone needs a paver no longer than two widths and a joint ({longest:.1} mm); \
             this one is {:.1} mm long",
            paver.length
        ));
    }
    Ok(())
}

/// A bond as a repeating cell: the cell repeats every `pitch` along x, and each row of cells lies
/// `rise` above the one before, shifted by `shift` along x.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Repeat along x.
    pub pitch: f64,
    /// Height of a row.
    pub rise: f64,
    /// Shift of a row against the one below.
    pub shift: f64,
    /// Pavers of one cell.
    pub pavers: Vec<Window>,
    /// Joints of one cell: those above and to the right of its pavers, so that each is met once.
    pub joints: Vec<Joint>,
    /// Joint lines that run straight through the whole field.
    pub lines: Vec<Line>,
}

/// A joint between two pavers, centre line through the crossings at its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Which way it runs.
    pub along: Axis,
    /// Its place across: y of a joint along x, x of a joint along y.
    pub at: f64,
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How wide it is.
    pub gap: f64,
}

/// Straight joint lines at `first`, `first ± every`, …
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Which way they run.
    pub along: Axis,
    /// Place of one of them across.
    pub first: f64,
    /// Distance from one to the next.
    pub every: f64,
}

/// An axis of the bond's frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Along the first course.
    X,
    /// From course to course.
    Y,
}

/// The repeating cell of a bond laid with a paver that [`check`] accepts.
///
/// Hand check: herringbone of 200 × 100 with a 3 mm joint repeats on squares of 103 mm; a cell is
/// 412 long, a row 103 high, and holds two pavers on 4 × 103 × 103 mm², so the end joint of each
/// paver is made up to 6 mm.
pub fn cell(bond: Bond, paver: &PaverSpec) -> Cell {
    let (length, width, joint) = (paver.length, paver.width, paver.joint);
    let (long, short) = (length + joint, width + joint);
    match bond {
        Bond::Running => courses(
            paver,
            long / 2.0,
            &[line(Axis::X, width + joint / 2.0, short)],
        ),
        Bond::Stack => courses(
            paver,
            0.0,
            &[
                line(Axis::X, width + joint / 2.0, short),
                line(Axis::Y, length + joint / 2.0, long),
            ],
        ),
        Bond::Herringbone => {
            let mut cell = empty(4.0 * short, short, short);
            let lying = slot(0.0, 0.0, 2.0 * short, short);
            let standing = slot(0.0, short, short, 3.0 * short);
            place(&mut cell, paver, lying, Axis::X);
            place(&mut cell, paver, standing, Axis::Y);
            cell
        }
        Bond::Basketweave => {
            let across = (long / short).round().max(1.0);
            let square = long.max(across * short);
            let pitch = square / across;
            let mut cell = empty(2.0 * square, square, square);
            for number in 0..across as usize {
                let (low, high) = (number as f64 * pitch, (number as f64 + 1.0) * pitch);
                place(&mut cell, paver, slot(0.0, low, square, high), Axis::X);
                place(
                    &mut cell,
                    paver,
                    slot(square + low, 0.0, square + high, square),
                    Axis::Y,
                );
            }
            let edge = square - joint / 2.0;
            cell.lines = vec![line(Axis::X, edge, square), line(Axis::Y, edge, square)];
            cell
        }
    }
}

fn courses(paver: &PaverSpec, shift: f64, lines: &[Line]) -> Cell {
    let (long, short) = (paver.length + paver.joint, paver.width + paver.joint);
    let mut cell = empty(long, short, shift);
    place(&mut cell, paver, slot(0.0, 0.0, long, short), Axis::X);
    cell.lines = lines.to_vec();
    cell
}

fn empty(pitch: f64, rise: f64, shift: f64) -> Cell {
    Cell {
        pitch,
        rise,
        shift,
        pavers: Vec::new(),
        joints: Vec::new(),
        lines: Vec::new(),
    }
}

fn slot(x0: f64, y0: f64, x1: f64, y1: f64) -> Window {
    Window { x0, y0, x1, y1 }
}

fn line(along: Axis, first: f64, every: f64) -> Line {
    Line {
        along,
        first,
        every,
    }
}

/// Puts a paver in the lower left of its slot, with the joints that fill the slot's top and right.
fn place(cell: &mut Cell, paver: &PaverSpec, slot: Window, long_side: Axis) {
    let (wide, tall) = match long_side {
        Axis::X => (paver.length, paver.width),
        Axis::Y => (paver.width, paver.length),
    };
    let (right, top) = (slot.x0 + wide, slot.y0 + tall);
    let half = paver.joint / 2.0;
    cell.pavers.push(Window {
        x0: slot.x0,
        y0: slot.y0,
        x1: right,
        y1: top,
    });
    cell.joints.push(Joint {
        along: Axis::Y,
        at: (right + slot.x1) / 2.0,
        from: slot.y0 - half,
        to: slot.y1 - half,
        gap: slot.x1 - right,
    });
    cell.joints.push(Joint {
        along: Axis::X,
        at: (top + slot.y1) / 2.0,
        from: slot.x0 - half,
        to: slot.x1 - half,
        gap: slot.y1 - top,
    });
}
