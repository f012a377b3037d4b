//! Pavers: bonds as repeating cells, borders, laying and cutting.
//!
//! In: the area's outline, the start frame, the bond and the paver. Out: every paver whole, cut or
//! sliver, the joints and the saw cuts.

pub mod bond;
mod border;
pub mod laid;
pub mod lay;
pub mod modular;
pub mod region;
mod rows;
mod search;
pub mod share;
pub mod spec;
pub mod under;
mod unfit;
pub mod whole;
pub mod window;

pub use bond::check;
pub use laid::{
    CutPaver, CutState, Laid, Paving, PavingError, Place, RoundArc, RoundForm, Search, Segment,
    Tally,
};
pub use lay::{Ground, lay, lay_round};
pub use spec::{
    Axis, Bond, BorderSpec, Corners, Form, Lay, Modular, ModularPaver, PaverSpec, PavingSpec, Shift,
};
pub use under::{OverJoints, OverLine, joints_over_joints};
pub use unfit::Unfit;
pub use whole::{Row, Whole};
