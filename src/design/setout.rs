//! Set-out and levels, corner by corner: ties from the base line, levels of every layer, ground
//! and rod readings. Millimetres.
//!
//! In: the job, its areas, the base line, the ground. Out: [`SetoutRow`]s. Where areas meet at a
//! step the corner has the levels of each of them beside those of the deeper formation.

use std::collections::BTreeSet;

use super::{AreaDesign, Quarters};
use crate::geom::Point;
use crate::job::Job;
use crate::levels::meet::breaks;
use crate::levels::{CornerTies, Ground, LayerLevels, Readings, ties};

/// One row of the set-out table.
#[derive(Clone, Debug, PartialEq)]
pub struct SetoutRow {
    /// The name of the corner, or of the quarter point of a circle.
    pub corner: String,
    /// Where it is.
    pub at: Point,
    /// Tape ties from the two ends of the base line.
    pub ties: CornerTies,
    /// Levels of the layers; the deeper formation where build-ups meet.
    pub levels: LayerLevels,
    /// Existing ground, when spot levels are given.
    pub ground: Option<f64>,
    /// Rod readings, when the instrument's height is given.
    pub readings: Option<Readings>,
    /// Datum less level of each layer, when a datum is given but no instrument's height: what to add
    /// to the day's reading on the datum to get the reading on the layer.
    pub from_datum: Option<Readings>,
    /// The levels of each area that meets here, highest first, where finishes differ by more than
    /// [`BREAK`](crate::levels::meet::BREAK); empty where they agree.
    pub steps: Vec<StepLevels>,
}

/// Levels at a corner of the areas that share them there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelsHere<'a> {
    /// The areas, by index; none where all that meet there share them.
    pub areas: &'a [usize],
    /// Levels of their layers.
    pub levels: &'a LayerLevels,
    /// As [`SetoutRow::readings`].
    pub readings: Option<&'a Readings>,
    /// As [`SetoutRow::from_datum`].
    pub from_datum: Option<&'a Readings>,
}

impl SetoutRow {
    /// The levels at the corner: those of each area where they meet at a step, else one for all.
    pub fn levels_of_areas(&self) -> Vec<LevelsHere<'_>> {
        if self.steps.is_empty() {
            return vec![LevelsHere {
                areas: &[],
                levels: &self.levels,
                readings: self.readings.as_ref(),
                from_datum: self.from_datum.as_ref(),
            }];
        }
        let steps = self.steps.iter().map(|step| LevelsHere {
            areas: &step.areas,
            levels: &step.levels,
            readings: step.readings.as_ref(),
            from_datum: step.from_datum.as_ref(),
        });
        steps.collect()
    }
}

/// Levels at a corner of areas whose finishes agree there, where another's does not.
#[derive(Clone, Debug, PartialEq)]
pub struct StepLevels {
    /// The areas, by index.
    pub areas: Vec<usize>,
    /// Levels of their layers; the deeper formation where build-ups meet.
    pub levels: LayerLevels,
    /// As [`SetoutRow::readings`].
    pub readings: Option<Readings>,
    /// As [`SetoutRow::from_datum`].
    pub from_datum: Option<Readings>,
}

/// The set-out table: one row per corner, then one per quarter point of a circle.
pub(super) fn setout(
    job: &Job,
    areas: &[AreaDesign],
    base_line: &[(String, Point); 2],
    quarters: &[Quarters],
    ground: Option<&Ground>,
) -> Vec<SetoutRow> {
    let ends = [base_line[0].1, base_line[1].1];
    let corners = job.site.corners.iter();
    let corners = corners.map(|corner| (&corner.name, corner.at));
    let quarters = quarters.iter().flat_map(|circle| &circle.points);
    // one that circles share has one name, and one row
    let mut named = BTreeSet::new();
    let quarters = quarters.filter(|(name, _)| named.insert(name));
    corners
        .chain(quarters.map(|(name, at)| (name, *at)))
        .filter_map(|(name, at)| {
            let here = areas.iter().enumerate();
            let here = here.filter(|(_, area)| area.shape_touches(at));
            let mut here: Vec<(usize, LayerLevels)> = here
                .map(|(index, area)| (index, levels_at(area, at)))
                .collect();
            let levels = deepest(&here)?;
            here.sort_by(|(_, a), (_, b)| b.finish.total_cmp(&a.finish));
            let steps = at_one_level(&here).into_iter().filter_map(|level| {
                let levels = deepest(level)?;
                let (readings, from_datum) = readings(job, &levels);
                Some(StepLevels {
                    areas: level.iter().map(|(index, _)| *index).collect(),
                    levels,
                    readings,
                    from_datum,
                })
            });
            let mut steps: Vec<StepLevels> = steps.collect();
            if steps.len() == 1 {
                steps.clear();
            }
            let (readings, from_datum) = readings(job, &levels);
            Some(SetoutRow {
                corner: name.clone(),
                at,
                ties: ties(ends, at),
                ground: ground.map(|ground| ground.level_at(at)),
                readings,
                from_datum,
                levels,
                steps,
            })
        })
        .collect()
}

/// The areas at a corner, highest first, by levels: each with the highest that it does not break
/// from.
fn at_one_level(here: &[(usize, LayerLevels)]) -> Vec<&[(usize, LayerLevels)]> {
    let mut levels = Vec::new();
    let mut left = here;
    while let [(_, highest), ..] = left {
        let below = left
            .iter()
            .position(|(_, area)| breaks(highest.finish - area.finish));
        let (level, lower) = left.split_at(below.unwrap_or(left.len()));
        levels.push(level);
        left = lower;
    }
    levels
}

/// The layers of an area at a place.
fn levels_at(area: &AreaDesign, at: Point) -> LayerLevels {
    LayerLevels::under(area.plane.level_at(at), area.build_up)
}

/// The levels with the deepest formation.
fn deepest(levels: &[(usize, LayerLevels)]) -> Option<LayerLevels> {
    let levels = levels.iter().map(|(_, levels)| *levels);
    levels.min_by(|a, b| a.formation.total_cmp(&b.formation))
}

/// Rod readings where the laser's height is given, else differences from the datum where one is.
fn readings(job: &Job, levels: &LayerLevels) -> (Option<Readings>, Option<Readings>) {
    match (&job.levels.datum, job.levels.instrument) {
        (_, Some(height)) => (Some(levels.readings(height)), None),
        (Some(datum), None) => (None, Some(levels.readings(datum.level))),
        (None, None) => (None, None),
    }
}
