//! Quantities with their units: what a job file may write and what the sheet prints.
//!
//! In: text such as `12'-6"`, `80 mm`, `2%`, `50 lb`. Out: typed values in SI (millimetres,
//! degrees, rise over run, kilograms, cubic metres), and text again. Printing here is the only
//! rounding in the program. Conversions are exact by definition (1 in = 25.4 mm,
//! 1 lb = 0.45359237 kg; NIST SP 811).

mod cursor;
pub mod grouped;
pub mod misread;
pub mod print;
pub mod quantity;
pub mod read;
pub mod system;

pub use misread::Misread;
pub use print::Precision;
pub use quantity::{Angle, Area, Density, Fall, Flow, Length, Mass, Rain, Volume};
pub use quantity::{CUBIC_FOOT, CUBIC_YARD, POUND, SQUARE_FOOT};
pub use system::{Rod, System};
