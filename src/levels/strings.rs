//! How high the strings of the stakes stand above the finish, and where the stakes are marked.
//!
//! In: levels of finish and ground at the stakes, in millimetres. Out: how far all strings are
//! raised, and the one level of all marks where there is one.
//!
//! A string at finish would lie on the ground, or under it, where that is not dug: all strings are
//! raised alike, by whole steps, until they are clear of it. One setting of the laser then serves all
//! stakes if the lowest string is clear of the highest ground too; where that would raise the strings
//! out of reach, each stake is marked at its own string.

/// Strings stand no more steps above the finish than this for the sake of one mark: 2 ft or 600 mm,
/// what a crew still measures down with a folding rule (common practice, no source).
const MOST: f64 = 4.0;
/// Part of a step that is rounding.
const ROUNDING: f64 = 1e-6;

/// How high strings stand, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heights {
    /// How far above the finish every string is.
    pub above_finish: f64,
    /// The level of every mark, that of the lowest string; `None` where each is at its own string.
    pub mark: Option<f64>,
}

/// The heights for stakes by the levels of the finish and of the ground at each, raised by whole
/// steps until `room` above the ground; `None` without stakes.
pub fn heights(levels: &[[f64; 2]], step: f64, room: f64) -> Option<Heights> {
    let lowest = levels.iter().map(|[finish, _]| *finish).reduce(f64::min)?;
    let highest = levels.iter().map(|[_, ground]| *ground).reduce(f64::max)?;
    let steps = |needed: f64| (needed / step - ROUNDING).ceil().max(0.0);
    let for_all = steps(highest + room - lowest);
    if for_all <= MOST {
        let above_finish = for_all * step;
        return Some(Heights {
            above_finish,
            mark: Some(lowest + above_finish),
        });
    }
    let needed = levels.iter().map(|[finish, ground]| ground + room - finish);
    let steepest = needed.reduce(f64::max)?;
    Some(Heights {
        above_finish: steps(steepest) * step,
        mark: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand, with steps of 150 mm and 50 mm of room.
    #[test]
    fn strings_are_clear_of_the_ground() {
        let found = |levels: &[[f64; 2]]| {
            let heights = heights(levels, 150.0, 50.0).expect("stakes");
            (heights.above_finish, heights.mark)
        };
        // Paving raised above the ground: strings at finish.
        assert_eq!(
            found(&[[0.0, -300.0], [-100.0, -400.0]]),
            (0.0, Some(-100.0))
        );
        // Ground at the finish: 0 + 50 is 150 above -100, one step to the millimetre.
        assert_eq!(found(&[[0.0, 0.0], [-100.0, -100.0]]), (150.0, Some(50.0)));
        assert_eq!(found(&[[0.0, 0.0], [-101.0, -101.0]]), (300.0, Some(199.0)));
        // 1 m of fall: no mark serves both ends, and 50 mm over the ground is one step.
        assert_eq!(found(&[[0.0, 0.0], [-1000.0, -1000.0]]), (150.0, None));
        assert_eq!(found(&[[0.0, 180.0], [-1000.0, -1000.0]]), (300.0, None));
        assert_eq!(heights(&[], 150.0, 50.0), None);
    }
}
