//! Which pieces are cut from one panel.
//!
//! In: regions of the panel. Out: a partition of them into panels. Three ways of saying whether
//! two go together (raster, geometry, bits) and three of finding the fewest panels (matching,
//! iterated greedy, branch and bound), each in a file of its own.

mod bits;
mod installer;
mod matching;
mod partition;
mod raster;
mod search;

pub(in crate::panels) use bits::Bits;
pub(in crate::panels) use installer::panels as installer_panels;
pub(in crate::panels) use partition::partition;
pub(in crate::panels) use raster::Raster;
