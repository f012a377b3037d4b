//! Pavers: bonds as repeating cells, borders, laying and cutting.
//!
//! In: the area's outline, the start frame, the bond and the paver. Out: every paver whole, cut or
//! sliver, the joints and the saw cuts.

pub mod spec;

pub use spec::{Bond, BorderSpec, Lay, PaverSpec, PavingSpec};
