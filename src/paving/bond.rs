//! Bonds as repeating cells: where pavers and joints lie in the bond's own frame.
//!
//! In: the bond and the paver. Out: a repeating cell, in millimetres: its two steps, the pavers
//! it holds and the joint centre lines that go with them. The frame's origin is the start corner,
//! x runs along the first course, y from course to course; the first paver's corner sits at the
//! origin. Trade terms (running, stack, herringbone, basketweave) are common practice, no source.

pub use super::spec::Axis;
use super::spec::{Bond, PaverSpec};
use super::unfit::{LEAST_SIDE, Unfit};
use super::window::Window;
use super::{laid::PavingError, modular};
use crate::geom::Vector;

/// Lengths that differ by no more than this are the same, in millimetres.
pub const TOLERANCE: f64 = 0.5;

/// Whether a paver can be laid in a bond.
///
/// # Errors
///
/// [`Unfit`]: a side or joint that is not a usable length, or a herringbone paver that is longer than
/// two widths and no whole number of them.
pub fn check(bond: &Bond, paver: &PaverSpec) -> Result<(), Unfit> {
    let sides = [paver.length, paver.width];
    if sides
        .iter()
        .any(|side| !side.is_finite() || *side < LEAST_SIDE)
    {
        return Err(Unfit::Side);
    }
    if !paver.joint.is_finite() || paver.joint < 0.0 {
        return Err(Unfit::Joint);
    }
    if *bond == Bond::Herringbone {
        let widths = widths(paver);
        let longest = |widths: f64| widths * paver.width + (widths - 1.0) * paver.joint;
        let made_up = longest(widths) - paver.length + paver.joint;
        if widths > 2.0 && made_up > WIDEST_MADE_UP {
            return Err(Unfit::Herringbone {
                shorter: longest(widths - 1.0),
                longer: longest(widths),
                length: paver.length,
            });
        }
    }
    Ok(())
}

/// Widest end joint to which a herringbone of three widths or more is made up, in millimetres.
/// Common practice, no source.
const WIDEST_MADE_UP: f64 = 10.0;

/// How many widths with their joints a paver's length takes up in herringbone, two or more.
fn widths(paver: &PaverSpec) -> f64 {
    let modules = (paver.length + paver.joint - TOLERANCE) / (paver.width + paver.joint);
    modules.ceil().max(2.0)
}

/// A bond as a repeating cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Step from a cell to the next in its row, towards +x; along x in every bond but those of a
    /// job whose cell repeats aslant.
    pub along: Vector,
    /// Step from a row to the next, towards +y.
    pub up: Vector,
    /// Pavers of one cell.
    pub pavers: Vec<Slot>,
    /// Joints of one cell: those above and to the right of its pavers, so that each is met once.
    pub joints: Vec<Joint>,
    /// Joint lines that run straight through the whole field.
    pub lines: Vec<Line>,
}

/// A paver's place in a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// Index into the job's pavers.
    pub paver: usize,
    /// Where it lies.
    pub window: Window,
}

/// A joint between two pavers, centre line through the crossings at its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Index into the job's pavers of the paver it bounds.
    pub paver: usize,
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

/// The repeating cell of a bond laid with a paver that [`check`] accepts.
///
/// Hand check: herringbone of 200 × 100 with a 3 mm joint repeats on squares of 103 mm; a cell is
/// 412 long, a row 103 high, and holds two pavers on 4 × 103 × 103 mm², so the end joint of each
/// paver is made up to 6 mm.
///
/// # Errors
///
/// [`PavingError`] when a paver does not exist or does not suit the bond.
pub fn cell(bond: &Bond, index: usize, pavers: &[PaverSpec]) -> Result<Cell, PavingError> {
    if let Bond::Modular(modular) = bond {
        modular::check(modular, pavers).map_err(PavingError::Cell)?;
        return Ok(modular::cell(modular, pavers));
    }
    let paver = pavers.get(index).ok_or(PavingError::NoPaver(index))?;
    check(bond, paver).map_err(PavingError::Bond)?;
    Ok(of_one(bond, index, paver))
}

/// The cell of a bond of one kind of paver.
fn of_one(bond: &Bond, index: usize, paver: &PaverSpec) -> Cell {
    let (length, width, joint) = (paver.length, paver.width, paver.joint);
    let (long, short) = (length + joint, width + joint);
    let place = |cell: &mut Cell, slot: Window, side: Axis| place(cell, index, paver, slot, side);
    let courses = |shift: f64, lines: &[Line]| {
        let mut cell = empty(long, short, shift);
        place(&mut cell, slot(0.0, 0.0, long, short), Axis::X);
        cell.lines = lines.to_vec();
        cell
    };
    match bond {
        Bond::Modular(_) => empty(long, short, 0.0),
        Bond::Running => courses(long / 2.0, &[line(Axis::X, width + joint / 2.0, short)]),
        Bond::Stack => courses(
            0.0,
            &[
                line(Axis::X, width + joint / 2.0, short),
                line(Axis::Y, length + joint / 2.0, long),
            ],
        ),
        Bond::Herringbone => {
            let widths = widths(paver);
            let mut cell = empty(2.0 * widths * short, short, short);
            let lying = slot(0.0, 0.0, widths * short, short);
            let standing = slot(0.0, short, short, (1.0 + widths) * short);
            place(&mut cell, lying, Axis::X);
            place(&mut cell, standing, Axis::Y);
            cell
        }
        Bond::Basketweave => {
            let across = (long / short).round().max(1.0);
            let square = long.max(across * short);
            let pitch = square / across;
            let mut cell = empty(2.0 * square, square, square);
            for number in 0..across as usize {
                let (low, high) = (number as f64 * pitch, (number as f64 + 1.0) * pitch);
                place(&mut cell, slot(0.0, low, square, high), Axis::X);
                place(
                    &mut cell,
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

/// A cell of no pavers yet, repeating every `pitch` along a row; rows lie `rise` apart, each
/// shifted by `shift` against the one below.
fn empty(pitch: f64, rise: f64, shift: f64) -> Cell {
    Cell {
        along: Vector::new(pitch, 0.0),
        up: Vector::new(shift, rise),
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
pub(super) fn place(
    cell: &mut Cell,
    index: usize,
    paver: &PaverSpec,
    slot: Window,
    long_side: Axis,
) {
    let (wide, tall) = match long_side {
        Axis::X => (paver.length, paver.width),
        Axis::Y => (paver.width, paver.length),
    };
    let (right, top) = (slot.x0 + wide, slot.y0 + tall);
    let half = paver.joint / 2.0;
    cell.pavers.push(Slot {
        paver: index,
        window: Window {
            x0: slot.x0,
            y0: slot.y0,
            x1: right,
            y1: top,
        },
    });
    cell.joints.push(Joint {
        paver: index,
        along: Axis::Y,
        at: (right + slot.x1) / 2.0,
        from: slot.y0 - half,
        to: slot.y1 - half,
        gap: slot.x1 - right,
    });
    cell.joints.push(Joint {
        paver: index,
        along: Axis::X,
        at: (top + slot.y1) / 2.0,
        from: slot.x0 - half,
        to: slot.x1 - half,
        gap: slot.y1 - top,
    });
}
