//! Lines of the takeoff for channels and gullies.
//!
//! In: the drains of a job, lengths in millimetres. Out: a line for the channels of each width and
//! one for the gullies of each size, in the order in which the job has the first of them. Left out:
//! pipes and what else lies below the rim, which others plan.

use super::line::{drawn, plain};
use super::{Line, Unit};
use crate::language::phrase;
use crate::units::System;

/// Key of the price of a channel, by its length.
pub const CHANNEL: &str = "channel";

/// Key of the price of a gully.
pub const GULLY: &str = "gully";

/// Channels or gullies of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DrainQuantity {
    /// Channels with a grate.
    Channel {
        /// Breadth of the grate, in millimetres.
        width: f64,
        /// How many.
        count: u64,
        /// Their length together, in metres.
        length_m: f64,
    },
    /// Gullies with a square grate.
    Gully {
        /// Length of a side of the grate, in millimetres.
        size: f64,
        /// How many.
        count: u64,
    },
}

/// Grates that differ by no more than this are of one size, in millimetres: no drawing tells them
/// apart.
const SAME_SIZE: f64 = 0.05;

fn is_size(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME_SIZE
}

impl DrainQuantity {
    /// Adds another of the same kind and size; whether it is one.
    pub(super) fn takes(&mut self, other: Self) -> bool {
        match (self, other) {
            (
                Self::Channel {
                    width,
                    count,
                    length_m,
                },
                Self::Channel {
                    width: of,
                    count: more,
                    length_m: longer,
                },
            ) if is_size(*width, of) => {
                *count += more;
                *length_m += longer;
                true
            }
            (
                Self::Gully { size, count },
                Self::Gully {
                    size: of,
                    count: more,
                },
            ) if is_size(*size, of) => {
                *count += more;
                true
            }
            _ => false,
        }
    }

    /// Its line.
    pub(super) fn line(self, system: System) -> Line {
        match self {
            Self::Channel {
                width,
                count,
                length_m,
            } => plain(
                phrase!(
                    "Channel drain, grate {width} wide",
                    width = drawn(width, system)
                ),
                CHANNEL,
                phrase!("taking water off the paving"),
                (length_m, Unit::Metre),
                phrase!(
                    "{count} channel, {length} | {count} channels, {length} together",
                    count,
                    length = drawn(length_m * 1000.0, system)
                ),
            ),
            Self::Gully { size, count } => plain(
                phrase!("Gully, grate {size} square", size = drawn(size, system)),
                GULLY,
                phrase!("taking water off the paving"),
                (count as f64, Unit::Piece),
                phrase!("{count} gully | {count} gullies", count),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Quantities;
    use super::super::lines::{lines, tests as given};
    use super::*;

    /// Two channels of one width are one line, one of another width and a gully have theirs.
    #[test]
    fn drains_of_one_size_are_ordered_together() {
        let channel = |width, length_m| DrainQuantity::Channel {
            width,
            count: 1,
            length_m,
        };
        let gully = DrainQuantity::Gully {
            size: 304.8,
            count: 1,
        };
        let mut drains = vec![channel(127.0, 3.048)];
        // 12.7 cm read as a length is 5 in to the last bit but one
        assert!(drains[0].takes(channel(127.000_000_000_000_01, 6.096)));
        assert!(!drains[0].takes(channel(101.6, 6.096)) && !drains[0].takes(gully));
        drains.extend([channel(101.6, 3.048), gully]);
        let quantities = Quantities {
            drains,
            ..Quantities::default()
        };
        let lines = lines(&quantities, &given::waste(), System::FeetInches);
        let told: Vec<String> = lines
            .iter()
            .map(|line| format!("{}: {}", line.item, line.how))
            .collect();
        assert_eq!(
            told,
            [
                "Channel drain, grate 5″ wide: 2 channels, 30′-0″ together",
                "Channel drain, grate 4″ wide: 1 channel, 10′-0″",
                "Gully, grate 1′-0″ square: 1 gully",
            ]
        );
    }
}
