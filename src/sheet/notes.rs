//! The words that every sheet carries: cautions, and the order of work with its hold points.
//!
//! In: what of the words depends on the job, ready to print. Out: blocks of text. The order and
//! the tolerances are common practice, no source; the words are our own.

use super::column::{Block, Entry};
use crate::job::Audience;

/// What the order of work takes from the job, ready to print.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Work {
    /// Depth from finish to formation.
    pub depth: String,
    /// How far the dig runs past open edges.
    pub past: String,
    /// Lap of the geotextile.
    pub lap: String,
    /// Bedding as spread and once compacted.
    pub bedding: [String; 2],
    /// Rail diameter and spacing.
    pub rails: [String; 2],
    /// Start corner and edge of the panels.
    pub start: String,
    /// Least distance between cross joints.
    pub stagger: String,
    /// Start corner and edge of the pavers.
    pub paving: String,
    /// Nail, and how many holes between nails, on straight edges and on curves.
    pub nails: String,
    /// Each curve and the radius that its pieces are bent to; empty without curves.
    pub bends: String,
    /// How pavers or slabs are settled.
    pub settle: String,
    /// Side of the test patch.
    pub patch: String,
    /// Passes of mist, and for how long the joints stay dry after them.
    pub mist: [String; 2],
    /// How far the jointing material stays below the pavers' top.
    pub below: String,
    /// Tolerance of finished surfaces, such as ±1/8″.
    pub tolerance: String,
    /// Tolerance of the formation.
    pub rough: String,
}

/// Order of work with hold points.
pub fn order_of_work(work: &Work) -> Block {
    let steps = [
        format!("Have buried utilities located and marked. Set out the corners by the ties; prove the shape by its diagonals. HOLD: corners within {} and the way the water runs agreed.", work.tolerance),
        format!("Dig to the formation level, {} below finish, {} past open edges. Keep the fall in the bottom of the dig. HOLD: formation levels at every corner within {} of the table; soft spots dug out and filled.", work.depth, work.past, work.rough),
        "Compact the bottom of the dig. Stop where it pumps or rings hollow, and ask.".to_string(),
        format!("Lay the geotextile flat, laps {}, without folds.", work.lap),
        format!("Set rails of {} on the fall, {} apart; spread bedding and strike it off at {}. Lift the rails, fill their tracks.", work.rails[0], work.rails[1], work.bedding[0]),
        format!("Compact the bedding with a plate compactor from {} to {}; prove it first by a test patch {} square. HOLD: the patch settles from {} to {}; bedding within {} of the table. Keep off it until panels lie.", work.bedding[0], work.bedding[1], work.patch, work.bedding[0], work.bedding[1], work.tolerance),
        format!("Lay panels from {}, locking sides together. First pieces as marked at each course. Cross joints of neighbouring courses at least {} apart; never four corners together. Trim only with the saw outside the base.", work.start, work.stagger),
        format!("HOLD: panel tops within {} of the table, flat, tight and not rocking; edges of the base in line.", work.tolerance),
        format!("Lay pavers from {}; keep joint lines straight with a string; cut closers last.", work.paving),
        edge_step(work),
        format!("Sweep dry jointing material in until joints are full to {} below the top; {}; refill; sweep every grain off before wetting.", work.below, work.settle),
        format!("Wet the joints with {} of fine mist, each soaked in before the next, never flooded. HOLD: surface clean before the first pass; no rain, traffic or sprinkler for {} after the last.", work.mist[0], work.mist[1]),
        "Backfill beside the restraint below the pavers' edge, so that water leaves. HOLD: fall checked with a level, client walks the job.".to_string(),
    ];
    let entries = steps
        .iter()
        .enumerate()
        .map(|(i, words)| Entry::marked(&format!("{}.", i + 1), words))
        .collect();
    Block::paragraphs("Order of work", entries)
}

/// The step of the edge restraint; curves are named with their radius.
fn edge_step(work: &Work) -> String {
    if work.bends.is_empty() {
        return format!(
            "Set the edge restraint tight against the pavers and nail it through the base: {}.",
            work.nails
        );
    }
    format!(
        "Bend the edge restraint before it is laid: {}. Set it tight against the pavers and nail it \
         through the base: {}.",
        work.bends, work.nails
    )
}

/// The cautions that every sheet carries; `others` are what this job shows that others must
/// design. A bid sheet leaves out those that only concern whoever does the work.
pub fn cautions(others: &[String], audience: Audience) -> Block {
    let first =
        "Before any digging, have every buried pipe and cable located and marked by its owner.";
    let work = [
        "Cutting dust harms lungs: cut wet or with extraction; wear a fitted respirator, eye and ear protection, gloves.",
        "Saw and compactor: guards on, hands and feet clear, nobody in line with the blade.",
        "Lift pavers, panels and rolls in pairs or by cart; small loads, straight backs.",
        "No plate compactor on slabs: they crack. Use a roller or a mallet.",
    ];
    let always = [
        "Water must run away from every structure, during the work and after it.",
        "Local codes and licensed practice govern over this sheet.",
        "This sheet sizes no wall, footing, guard or stair; others must design them.",
    ];
    let work = work.iter().filter(|_| audience == Audience::Crew);
    let mut entries: Vec<Entry> = std::iter::once(&first)
        .chain(work)
        .chain(&always)
        .map(|w| Entry::marked("!", w))
        .collect();
    entries.extend(others.iter().map(|w| Entry::strong("!", w)));
    Block::paragraphs("Cautions", entries)
}
