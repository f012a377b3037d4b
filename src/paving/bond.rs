//! Bonds as repeating cells: where pavers and joints lie in the bond's own frame.
//!
//! In: the bond and the paver. Out: a repeating cell, in millimetres: its two steps, the pavers
//! it holds and the joint centre lines that go with them. The frame's origin is the start corner,
//! x runs along the first course, y from course to course; the first paver's corner sits at the
//! origin. Trade terms (running, stack, herringbone, basketweave) are common practice, no source.

use super::spec::{Bond, PaverSpec};

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
