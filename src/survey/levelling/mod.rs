//! A run of differential levelling: back, intermediate and fore sights reduced to levels.
//!
//! In: levels known beforehand and the staff readings in the order taken, in millimetres. Out: the
//! level of every point sighted, by the height of instrument (level + back sight, less each
//! further reading), the rise from each sight to the next (rise and fall), and by how much the run
//! misses the levels it comes back to. The misclosure of the whole run is spread in equal shares
//! over the set-ups when asked for. Described in every text on plane surveying; curvature and
//! refraction are left out, as nothing on a garden reaches a tenth of a millimetre.

use std::collections::BTreeMap;

use crate::language::{Phrase, phrase};

/// Misclosures smaller than this are none, in millimetres.
const CLOSED: f64 = 1e-6;

/// A run as booked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Levelling {
    /// Points whose level is known beforehand, and that level.
    pub known: Vec<(String, f64)>,
    /// The sights in the order taken.
    pub sights: Vec<Sight>,
    /// Whether the misclosure is spread over the set-ups.
    pub adjust: bool,
    /// Largest misclosure that is accepted.
    pub limit: f64,
}

/// The readings on a staff held on one point, one line of the field book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sight {
    /// The point that the staff stands on.
    pub at: String,
    /// First reading after the instrument is set up.
    pub back: Option<f64>,
    /// A reading between the first and the last of a set-up.
    pub intermediate: Option<f64>,
    /// Last reading before the instrument is moved.
    pub fore: Option<f64>,
}

/// A run worked through.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LevellingResult {
    /// One line per sight.
    pub lines: Vec<ReducedSight>,
    /// Every return to a point whose level is known beforehand or from an earlier sight.
    pub closures: Vec<Closure>,
    /// Sum of the back sights.
    pub sum_back: f64,
    /// Sum of the fore sights.
    pub sum_fore: f64,
    /// How often the instrument was set up.
    pub setups: u32,
    /// By how much the last fore sight misses a level known beforehand; `None` when the run ends
    /// at no such point.
    pub misclosure: Option<f64>,
    /// Whether the misclosure was spread.
    pub adjusted: bool,
}

/// One line of the field book reduced.
#[derive(Clone, Debug, PartialEq)]
pub struct ReducedSight {
    /// The sight as booked.
    pub sight: Sight,
    /// Height of the instrument over the datum, set up with this line's back sight.
    pub instrument: Option<f64>,
    /// Rise from the line before (a fall is negative); `None` on the first line.
    pub rise: Option<f64>,
    /// Level before the misclosure is spread.
    pub reduced: f64,
    /// Level used: the known one, else the reduced one less its share of the misclosure.
    pub level: f64,
}

/// A return to a point whose level is known already.
#[derive(Clone, Debug, PartialEq)]
pub struct Closure {
    /// Index of the line.
    pub line: usize,
    /// The level known.
    pub known: f64,
    /// The level reduced here.
    pub reduced: f64,
}

impl Closure {
    /// Reduced less known.
    pub fn misses(&self) -> f64 {
        self.reduced - self.known
    }
}

/// A line that cannot be reduced: its index, what was found, what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevellingError {
    /// Index of the sight.
    pub sight: usize,
    /// What was found.
    pub found: Phrase,
    /// What would be right.
    pub wanted: Phrase,
}

impl LevellingResult {
    /// The level of a point: as first sighted, or as known beforehand.
    pub fn level(&self, point: &str) -> Option<f64> {
        self.lines
            .iter()
            .find(|line| line.sight.at == point)
            .map(|line| line.level)
    }
}

/// Reduces a run.
///
/// # Errors
/// Every line whose sights make no sense where it stands.
///
/// # Example
/// A back sight of 3.10 on 100.00 and a fore sight of 9.82: 100.00 + 3.10 − 9.82 = 93.28.
/// ```
/// use groundsheet::survey::{Levelling, Sight, level_run};
/// let sight = |at: &str, back, fore| Sight { at: at.into(), back, fore, intermediate: None };
/// let run = Levelling {
///     known: vec![("BM".into(), 100.0)],
///     sights: vec![sight("BM", Some(3.10), None), sight("P", None, Some(9.82))],
///     adjust: false,
///     limit: 1.0,
/// };
/// assert!((level_run(&run).unwrap().level("P").unwrap() - 93.28).abs() < 1e-9);
/// ```
pub fn level_run(run: &Levelling) -> Result<LevellingResult, Vec<LevellingError>> {
    let mut book = Book {
        known: run.known.iter().cloned().collect(),
        given: run.known.iter().map(|(name, _)| name.clone()).collect(),
        instrument: None,
        before: None,
        setup_of: Vec::new(),
        result: LevellingResult::default(),
        errors: Vec::new(),
    };
    for (index, sight) in run.sights.iter().enumerate() {
        book.enter(index, sight);
    }
    if book.errors.is_empty() && book.instrument.is_some() && !run.sights.is_empty() {
        book.fault(
            run.sights.len() - 1,
            phrase!("the last set-up has no fore sight"),
            phrase!("a fore sight on a point of known level closes the run"),
        );
    }
    if !book.errors.is_empty() {
        return Err(book.errors);
    }
    book.close(run);
    Ok(book.result)
}

/// The field book being reduced.
struct Book {
    /// Levels known so far.
    known: BTreeMap<String, f64>,
    /// Names known beforehand.
    given: Vec<String>,
    /// Height of the instrument while it stands.
    instrument: Option<f64>,
    /// The reading before, in this set-up.
    before: Option<f64>,
    /// The set-up each line's level is read from, from 1; 0 for the first line.
    setup_of: Vec<u32>,
    result: LevellingResult,
    errors: Vec<LevellingError>,
}

impl Book {
    fn fault(&mut self, sight: usize, found: Phrase, wanted: Phrase) {
        self.errors.push(LevellingError {
            sight,
            found,
            wanted,
        });
    }

    fn enter(&mut self, index: usize, sight: &Sight) {
        let at = &sight.at;
        let reading = match (sight.intermediate, sight.fore) {
            (Some(_), Some(_)) => {
                let found = phrase!("{at} has an intermediate and a fore sight in one line", at);
                return self.fault(index, found, phrase!("one of the two"));
            }
            (Some(_), None) if sight.back.is_some() => {
                let found = phrase!("{at} has an intermediate and a back sight in one line", at);
                return self.fault(
                    index,
                    found,
                    phrase!("a fore and a back sight where the instrument moves"),
                );
            }
            (intermediate, fore) => intermediate.or(fore),
        };
        let mut rise = None;
        let reduced = match (reading, self.instrument) {
            (Some(reading), Some(instrument)) => {
                rise = self.before.map(|before| before - reading);
                self.before = Some(reading);
                instrument - reading
            }
            (Some(_), None) => {
                let found = phrase!("{at} is read before the instrument's height is known", at);
                return self.fault(
                    index,
                    found,
                    phrase!("a back sight on a point of known level first"),
                );
            }
            (None, Some(_)) => {
                let found = phrase!(
                    "a back sight on {at} while the set-up before has no fore sight",
                    at
                );
                return self.fault(index, found, phrase!("a fore sight closes each set-up"));
            }
            (None, None) if sight.back.is_some() && index > 0 => {
                let found = phrase!("a back sight on {at} after the run has ended", at);
                let wanted =
                    phrase!("a fore and a back sight in one line where the instrument moves");
                return self.fault(index, found, wanted);
            }
            (None, None) => match (sight.back, self.known.get(at)) {
                (None, _) => {
                    let found = phrase!("{at} has no sight", at);
                    return self.fault(
                        index,
                        found,
                        phrase!("one of {names}§keys", names = "back, intermediate, fore"),
                    );
                }
                (Some(_), None) => {
                    let found = phrase!("the level of {at} is not known", at);
                    let wanted = phrase!("a back sight on a point under `known` or sighted before");
                    return self.fault(index, found, wanted);
                }
                (Some(_), Some(level)) => *level,
            },
        };
        self.setup_of.push(match reading {
            Some(_) => self.result.setups,
            None => 0,
        });
        if let Some(fore) = sight.fore {
            self.result.sum_fore += fore;
            self.instrument = None;
            self.before = None;
        }
        let line = self.result.lines.len();
        if reading.is_some()
            && let Some(&known) = self.known.get(at)
        {
            self.result.closures.push(Closure {
                line,
                known,
                reduced,
            });
        }
        self.known.entry(at.clone()).or_insert(reduced);
        let mut instrument = None;
        if let Some(back) = sight.back {
            instrument = Some(reduced + back);
            self.instrument = instrument;
            self.before = Some(back);
            self.result.sum_back += back;
            self.result.setups += 1;
        }
        self.result.lines.push(ReducedSight {
            sight: sight.clone(),
            instrument,
            rise,
            reduced,
            level: reduced,
        });
    }

    /// The misclosure, and its shares.
    fn close(&mut self, run: &Levelling) {
        let last = self.result.lines.len().saturating_sub(1);
        let closure = self.result.closures.last().filter(|c| c.line == last);
        let Some(misses) = closure
            .filter(|_| {
                let at = &self.result.lines[last].sight;
                at.fore.is_some() && self.given.contains(&at.at)
            })
            .map(Closure::misses)
        else {
            return;
        };
        self.result.misclosure = Some(misses);
        if !run.adjust || misses.abs() <= CLOSED {
            return;
        }
        self.result.adjusted = true;
        let share = misses / f64::from(self.result.setups.max(1));
        for (line, setup) in self.result.lines.iter_mut().zip(&self.setup_of) {
            line.level = line.reduced - share * f64::from(*setup);
        }
    }
}

#[cfg(test)]
mod tests;
