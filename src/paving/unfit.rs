//! Why a paver does not suit its bond, in the job's units.
//!
//! In: sizes in millimetres. Out: words with the sizes as the job's units have them.

use crate::language::{Phrase, phrase};
use crate::units::{Length, System, print};

/// Least side of a paver, in millimetres.
pub const LEAST_SIDE: f64 = 1.0;

/// Why a paver cannot be laid in a bond. Sizes are in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum Unfit {
    /// A side is under a millimetre.
    Side,
    /// The joint is no width.
    Joint,
    /// A herringbone paver whose length is no whole number of widths.
    Herringbone {
        /// The next shorter length that is.
        shorter: f64,
        /// The next longer one.
        longer: f64,
        /// Its length.
        length: f64,
    },
    /// There is no such paver, by index.
    NoPaver(usize),
    /// A paver of a cell is not as thick as the cell's first.
    Thickness {
        /// Its name.
        paver: String,
        /// Its thickness.
        thickness: f64,
    },
    /// A paver of a cell takes up less than its own size.
    Takes {
        /// What it is said to take up.
        takes: [f64; 2],
        /// Its size.
        own: [f64; 2],
    },
}

impl Unfit {
    /// What is wrong, in words.
    pub fn phrase(&self, system: System) -> Phrase {
        let long = |mm: f64| print::taped(Length::from_mm(mm), system);
        match self {
            Unfit::Side => phrase!(
                "a paver's sides must be at least {least}",
                least = long(LEAST_SIDE)
            ),
            Unfit::Joint => phrase!("a joint cannot be less than nothing wide"),
            Unfit::Herringbone {
                shorter,
                longer,
                length,
            } => phrase!(
                "herringbone needs a paver as long as a whole number of widths and the joints \
                 between them ({shorter} or {longer}); this one is {length} long",
                shorter = long(*shorter),
                longer = long(*longer),
                length = long(*length)
            ),
            Unfit::NoPaver(index) => {
                phrase!("there is no paver number {number}", number = *index)
            }
            Unfit::Thickness { paver, thickness } => phrase!(
                "{paver} is {thickness} thick, the first paver of the cell is not",
                paver,
                thickness = long(*thickness)
            ),
            Unfit::Takes { takes, own } => {
                let sides = |[x, y]: [f64; 2]| format!("{} × {}", long(x), long(y));
                phrase!(
                    "it takes up {takes}, less than the paver itself: {own}",
                    takes = sides(*takes),
                    own = sides(*own)
                )
            }
        }
    }
}

/// A small area: in tenths of a square inch, or in square millimetres.
pub(super) fn patch(mm2: f64, system: System) -> String {
    match system {
        System::Metric => format!("{mm2:.0} mm²"),
        System::FeetInches | System::Dual => format!("{:.1} in²", mm2 / (25.4 * 25.4)),
    }
}
