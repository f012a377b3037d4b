//! What a section shows, in plain geometry and finished words, and how it fits its room.
//!
//! Site millimetres: station along the cut from its start, level up. Words are ready to print.

use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::language::Languages;
use crate::site::StructureKind;
use crate::units::System;

/// What the cut line meets. Site millimetres: station along the cut, level up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionModel {
    /// Languages of what is printed.
    pub languages: Languages,
    /// Its title, such as `Section A–A`.
    pub title: String,
    /// First and last station shown.
    pub span: [f64; 2],
    /// Pavers, one slab each.
    pub pavers: Vec<Slab>,
    /// Panels, one slab each.
    pub panels: Vec<Slab>,
    /// Compacted bedding.
    pub bedding: Vec<Slab>,
    /// The dig: from ground down to formation.
    pub dig: Vec<Slab>,
    /// Existing ground: station and level.
    pub ground: Vec<[f64; 2]>,
    /// Whether the ground is assumed at finish level.
    pub assumed_ground: bool,
    /// Structures that the cut meets.
    pub structures: Vec<CutStructure>,
    /// Edge restraint: station of the paving's edge, side it stands on (1 up the stations),
    /// panel top there, height, width and nail.
    pub edging: Vec<CutEdging>,
    /// Level marks: station, level, words.
    pub levels: Vec<(f64, f64, String)>,
    /// Marks of the formation level, lettered below it: station, level, words.
    pub formation: Vec<(f64, f64, String)>,
    /// Depths of dig at its sides: where they are dimensioned.
    pub depths: Vec<CutDepth>,
    /// Ground at a side of the dig that stands above the finish there: station, level, words.
    pub banks: Vec<(f64, f64, String)>,
    /// Sills near the cut: station, level, words.
    pub sills: Vec<(f64, f64, String)>,
    /// Buried services that the cut meets.
    pub services: Vec<CutService>,
    /// Stations of the paving's ends along the cut, and the words between.
    pub across: Option<(Vec<f64>, Vec<String>)>,
    /// The falls along the cut: words, 1 when down is up the stations, else -1, and the station
    /// they are lettered at.
    pub falls: Vec<(String, f64, f64)>,
}

/// A slab between two stations: levels of top and bottom at both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slab {
    /// Stations.
    pub at: [f64; 2],
    /// Levels of its top at the two stations.
    pub top: [f64; 2],
    /// Levels of its bottom.
    pub bottom: [f64; 2],
}

/// A structure that the cut meets.
#[derive(Clone, Debug, PartialEq)]
pub struct CutStructure {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: StructureKind,
    /// Stations.
    pub at: [f64; 2],
}

/// Edge restraint at an open end of the paving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutEdging {
    /// Station of the paving's edge.
    pub at: f64,
    /// 1 when the restraint stands further along the stations, else -1.
    pub side: f64,
    /// Level of the panel's top there.
    pub on: f64,
    /// Height of the upstand.
    pub height: f64,
    /// Width of the foot.
    pub width: f64,
    /// Length of the nail.
    pub nail: f64,
}

/// The depth of the dig at one of its sides.
#[derive(Clone, Debug, PartialEq)]
pub struct CutDepth {
    /// Station of the dig's side.
    pub at: f64,
    /// 1 when the ground beyond is further along the stations, else -1.
    pub side: f64,
    /// Levels of ground and formation.
    pub levels: [f64; 2],
    /// The depth in words.
    pub words: String,
}

/// A buried service whose tolerance zone the cut enters.
#[derive(Clone, Debug, PartialEq)]
pub struct CutService {
    /// Its name, kind and depth in words.
    pub words: String,
    /// Station where its course crosses the cut, or comes nearest to it.
    pub at: f64,
    /// Stations between which the cut runs in its tolerance zone.
    pub zone: [f64; 2],
    /// Level of its top; `None` when it is not known.
    pub top: Option<f64>,
    /// How far round it no machine may dig.
    pub clear: f64,
    /// Whether its course crosses the cut, or runs beside it.
    pub crosses: bool,
}

/// How the section fits its room.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Scale across.
    pub scale: Scale,
    /// How many times levels are stretched.
    pub stretch: f64,
    /// Height of the deepest build-up on paper.
    pub layers: f64,
    /// Whether buried services stand at their levels, or below a break in the drawing, for they
    /// would make all else too small.
    pub deep: bool,
}

/// Room above the drawn levels for words, on paper.
pub(super) const HEAD: f64 = 14.0;
/// Room below them.
pub(super) const FOOT: f64 = 18.0;

impl SectionModel {
    /// Lowest and highest level shown, buried services with what must be dug by hand round them
    /// among them or not.
    pub(super) fn reach(&self, deep: bool) -> [f64; 2] {
        let mut low = f64::INFINITY;
        let mut high = f64::NEG_INFINITY;
        let mut see = |level: f64| {
            low = low.min(level);
            high = high.max(level);
        };
        for slab in self.pavers.iter().chain(&self.dig).chain(&self.bedding) {
            slab.top.iter().chain(&slab.bottom).for_each(|l| see(*l));
        }
        self.ground.iter().for_each(|g| see(g[1]));
        self.sills.iter().for_each(|s| see(s.1));
        self.edging.iter().for_each(|e| see(e.on - e.nail));
        if low > high {
            return [0.0, 1.0];
        }
        if deep {
            let tops = self.services.iter().filter_map(|s| Some(s.top? - s.clear));
            low = tops.fold(low, f64::min);
        }
        [low, high]
    }

    /// The largest standard scale at which the section fits, with the levels stretched when the
    /// layers would be thinner than can be told apart. Buried services stand at their levels where
    /// that takes no scale under `LEAST_SHARE` of what the section has without them.
    pub fn fit(&self, system: System, room: Rect) -> Option<Fit> {
        let shallow = self.fit_levels(system, room, false)?;
        if self.services.iter().all(|service| service.top.is_none()) {
            return Some(shallow);
        }
        let deep = self.fit_levels(system, room, true);
        let enough = |fit: &Fit| shallow.scale.ratio >= fit.scale.ratio * LEAST_SHARE;
        Some(deep.filter(enough).unwrap_or(shallow))
    }

    fn fit_levels(&self, system: System, room: Rect, deep: bool) -> Option<Fit> {
        let [low, high] = self.reach(deep);
        let across = self.span[1] - self.span[0];
        let free = room.height() - HEAD - FOOT;
        let wide = room.width() - 4.0;
        for scale in Scale::standard(system) {
            if across / scale.ratio > wide || (high - low) / scale.ratio > free {
                continue;
            }
            let depth = self
                .dig
                .iter()
                .map(|s| (s.top[0] - s.bottom[0]).max(s.top[1] - s.bottom[1]))
                .fold(1.0, f64::max);
            let stretch = [1.0, 2.0, 5.0]
                .into_iter()
                .filter(|k| (high - low) * k / scale.ratio <= free)
                .find(|k| depth * k / scale.ratio >= TOLD_APART)
                .or_else(|| {
                    [5.0, 2.0, 1.0]
                        .into_iter()
                        .find(|k| (high - low) * k / scale.ratio <= free)
                });
            return stretch.map(|stretch| Fit {
                layers: depth * stretch / scale.ratio,
                scale,
                stretch,
                deep,
            });
        }
        None
    }
}

/// Height on paper at which the layers of a section can be told apart.
pub const TOLD_APART: f64 = 9.0;

/// How much smaller than without buried services a section may be drawn to show them at their
/// levels.
const LEAST_SHARE: f64 = 0.6;

/// Level of a profile at a station, between its points.
pub fn level(profile: &[[f64; 2]], s: f64) -> f64 {
    let Some(first) = profile.first() else {
        return 0.0;
    };
    if s <= first[0] {
        return first[1];
    }
    for pair in profile.windows(2) {
        if s <= pair[1][0] {
            let t = (s - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-9);
            return pair[0][1] + t * (pair[1][1] - pair[0][1]);
        }
    }
    profile[profile.len() - 1][1]
}
