//! Label placement: where words may stand so that no text crosses text and no line strikes one
//! through.
//!
//! In: what is taken of a view already (boxes of text, lines that were drawn) and marks that ask
//! for a place, each with ranked candidates. Out: the places that cost least together, with a white
//! ground where lines must pass behind, and a keyed table for what finds none. Boxes may be
//! turned. Paper millimetres, y down.

mod ask;
mod graph;
mod label;
mod random;
mod request;
mod solve;
mod taken;
mod turned;

pub use ask::{Ask, Keyed, Otherwise, Settled, knock_out, settle};
pub use label::Label;
#[cfg(test)]
pub use random::Random;
pub use request::{CLEAR, Candidate, RADII, Request, around, led, rings, touching};
pub use solve::{Chosen, solve};
pub use taken::Taken;
pub use turned::Box2;
