//! What the crew takes to the site beside the corners' table: the base line, tapes to what is not a
//! corner, tapes that prove the shape, right angles, arcs, offset stakes.
//!
//! In: the job, its areas and extents. Out: [`Field`], in site millimetres. Nothing is dimensioned
//! twice: a proof that only repeats a tape of the corners' table is left out.

use std::collections::BTreeSet;

use super::angles::{CornerAngle, angles, straight_corners};
use super::features::{Feature, features};
use super::rail_ties::{RailRun, rail_runs};
use super::runs::straight_runs;
use super::{AreaDesign, SetoutRow};
use crate::geom::{Point, SAGITTA, Shape, clip};
use crate::job::Job;
use crate::levels::strings::{self, Heights};
use crate::levels::{
    self, ArcMarks, CornerTies, Ground, Plane, RightAngle, Stake, StakeLine, arc_marks,
    centre_is_free, diagonals, right_angle,
};
use crate::screed::Rails;
use crate::site::{EdgeKind, Extents};
use crate::units::System;

/// Tapes cross well between these angles, in degrees.
pub const STRONG: [f64; 2] = [30.0, 150.0];
/// Places nearer than this are one, in millimetres.
pub(super) const SAME: f64 = 1.0;
/// Outlines of more corners than this have no list of proofs.
const MOST_CORNERS: usize = 12;

/// Set-out beside the corners' table.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// What is taped from the base line beside corners: sills, drains, trees, posts, centres.
    pub features: Vec<Feature>,
    /// Lengths between corners that prove the shape once it is set out.
    pub proofs: Vec<Proof>,
    /// Right angles that 3-4-5 proves.
    pub right_angles: Vec<SquareCorner>,
    /// Corners that are neither square nor straight.
    pub angles: Vec<CornerAngle>,
    /// Arcs.
    pub arcs: Vec<ArcSetout>,
    /// Stakes that hold strings along the open edges.
    pub stakes: Option<StakeSet>,
    /// Where each run of the screed rails begins and ends, where no chain of dimensions gives it.
    pub rails: Vec<RailRun>,
}

/// Stakes and the heights of their strings.
#[derive(Clone, Debug, PartialEq)]
pub struct StakeSet {
    /// How high the strings stand and where the stakes are marked.
    pub heights: Heights,
    /// Their names on plan and in tables, in order; ends of strings held at one place share one.
    pub names: Vec<String>,
    /// The stakes, each with the name of the corner it stands beyond.
    pub stakes: Vec<(String, Stake)>,
}

impl StakeSet {
    /// The level of the string at a stake, in millimetres.
    pub fn string(&self, stake: &Stake) -> f64 {
        stake.finish + self.heights.above_finish
    }

    /// How far the string stands above the stake's mark, in millimetres.
    pub fn above_mark(&self, stake: &Stake) -> f64 {
        let mark = self.heights.mark;
        mark.map_or(0.0, |mark| self.string(stake) - mark)
    }
}

/// A length between two corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// The corners' names.
    pub corners: [String; 2],
    /// The length.
    pub length: f64,
}

/// A corner that is square.
#[derive(Clone, Debug, PartialEq)]
pub struct SquareCorner {
    /// The corner before, the corner itself, the corner after.
    pub corners: [String; 3],
    /// The marks.
    pub proof: RightAngle,
}

/// An arc edge.
#[derive(Clone, Debug, PartialEq)]
pub struct ArcSetout {
    /// The edge's name.
    pub edge: String,
    /// The corners at its ends; `None` for a circle.
    pub ends: Option<[String; 2]>,
    /// Its centre, radius and the points on it.
    pub marks: ArcMarks,
    /// Whether a tape from the centre reaches all of it.
    pub centre_free: bool,
}

/// How far apart the marks of an arc are: 2 ft or 500 mm (common practice, no source).
pub const fn arc_pitch(system: System) -> f64 {
    match system {
        System::Metric => 500.0,
        System::FeetInches | System::Dual => 609.6,
    }
}

/// How far outside the dig stakes stand: 2 ft or 600 mm, clear of a spade (common practice, no
/// source).
const fn stake_clear(system: System) -> f64 {
    match system {
        System::Metric => 600.0,
        System::FeetInches | System::Dual => 609.6,
    }
}

/// By how much strings are raised at a time, and how far they are clear of the ground: 6 in and 2 in,
/// or 150 mm and 50 mm (common practice, no source).
const fn string_step(system: System) -> [f64; 2] {
    match system {
        System::Metric => [150.0, 50.0],
        System::FeetInches | System::Dual => [152.4, 50.8],
    }
}

/// The unit of 3-4-5: a foot or 100 mm.
const fn square_unit(system: System) -> f64 {
    match system {
        System::Metric => 100.0,
        System::FeetInches | System::Dual => 304.8,
    }
}

/// Whether two tapes fix a corner well: they cross between 30° and 150°.
pub fn is_strong(ties: &CornerTies) -> bool {
    (STRONG[0]..=STRONG[1]).contains(&ties.crossing_deg)
}

/// All set-out beside the corners' table.
pub fn field(
    job: &Job,
    areas: &[AreaDesign],
    extents: &Extents,
    base_line: &[(String, Point); 2],
    setout: &[SetoutRow],
    rails: &Rails,
    ground: Option<&Ground>,
) -> Field {
    let names = Names(setout);
    let arcs = arcs(job, &names);
    Field {
        rails: rail_runs(job, areas, base_line, rails),
        features: features(job, base_line, &arcs),
        proofs: proofs(job, &names, base_line),
        right_angles: right_angles(job, &names),
        angles: angles(job, &names),
        stakes: stakes(job, areas, extents, &names, ground),
        arcs,
    }
}

/// The corners' names by place.
pub(super) struct Names<'a>(&'a [SetoutRow]);

impl Names<'_> {
    pub(super) fn at(&self, at: Point) -> Option<String> {
        let mut rows = self.0.iter();
        let row = rows.find(|row| row.at.distance(at) < SAME)?;
        Some(row.corner.clone())
    }
}

/// Structures that stand in a tape's way.
pub(super) fn obstacles(job: &Job) -> Shape {
    let standing = job.site.structures.iter().filter(|s| !s.on_paving);
    let shapes: Vec<Shape> = standing.map(|s| clip::shape_of(&s.ring)).collect();
    clip::union(shapes.iter())
}

fn arcs(job: &Job, names: &Names<'_>) -> Vec<ArcSetout> {
    let obstacles = obstacles(job);
    let pitch = arc_pitch(job.sheet.units);
    let edges = job.site.areas.iter().flat_map(|area| area.edges());
    edges
        .filter_map(|edge| {
            Some(ArcSetout {
                edge: edge.name.clone(),
                ends: (!edge.edge.is_circle())
                    .then(|| names.at(edge.edge.from).zip(names.at(edge.edge.to)))
                    .flatten()
                    .map(|(from, to)| [from, to]),
                marks: arc_marks(&edge.edge, pitch)?,
                centre_free: centre_is_free(&edge.edge, &obstacles),
            })
        })
        .collect()
}

/// Diagonals and sides of each outline that no tape of the corners' table repeats.
fn proofs(job: &Job, names: &Names<'_>, base_line: &[(String, Point); 2]) -> Vec<Proof> {
    let mut seen = BTreeSet::new();
    let mut proofs = Vec::new();
    for area in &job.site.areas {
        let Some(ring) = area.rings.first() else {
            continue;
        };
        let corners: Vec<Point> = ring.edges.iter().map(|edge| edge.edge.from).collect();
        if corners.len() < 3 || corners.len() > MOST_CORNERS {
            continue;
        }
        let mut pairs: Vec<[Point; 2]> = diagonals(&corners)
            .iter()
            .map(|diagonal| diagonal.corners.map(|i| corners[i]))
            .collect();
        // The chord of an arc stands in the table of arcs.
        let straight = ring.edges.iter().filter(|edge| edge.edge.arc.is_none());
        pairs.extend(straight.map(|edge| [edge.edge.from, edge.edge.to]));
        for pair in pairs {
            let taped = base_line
                .iter()
                .any(|(_, end)| pair.iter().any(|at| at.distance(*end) < SAME));
            let (Some(a), Some(b)) = (names.at(pair[0]), names.at(pair[1])) else {
                continue;
            };
            let key = if a < b {
                [a.clone(), b.clone()]
            } else {
                [b.clone(), a.clone()]
            };
            if taped || a == b || !seen.insert(key) {
                continue;
            }
            proofs.push(Proof {
                corners: [a, b],
                length: pair[0].distance(pair[1]),
            });
        }
    }
    proofs
}

fn right_angles(job: &Job, names: &Names<'_>) -> Vec<SquareCorner> {
    let unit = square_unit(job.sheet.units);
    let mut found = Vec::new();
    for [before, at, after] in straight_corners(job) {
        let proof = right_angle(before, at, after, unit);
        let named = [before, at, after].map(|at| names.at(at));
        if let (Some(proof), [Some(a), Some(b), Some(c)]) = (proof, named) {
            found.push(SquareCorner {
                corners: [a, b, c],
                proof,
            });
        }
    }
    found
}

/// Stakes for every straight edge of an outer outline that is open along some of it.
fn stakes(
    job: &Job,
    areas: &[AreaDesign],
    extents: &Extents,
    names: &Names<'_>,
    ground: Option<&Ground>,
) -> Option<StakeSet> {
    let mut edges = Vec::new();
    for (site, area) in job.site.areas.iter().zip(areas) {
        let outer = site.rings.first().into_iter().flat_map(|ring| &ring.edges);
        for edge in outer.filter(|e| e.edge.arc.is_none() && e.has(EdgeKind::Open)) {
            edges.push(([edge.edge.from, edge.edge.to], (&edge.name, area.plane)));
        }
    }
    // One string serves edges of one line whose finish planes agree along it.
    let agree = |a: &Plane, b: &Plane, ends: [Point; 2]| {
        ends.iter()
            .all(|at| (a.level_at(*at) - b.level_at(*at)).abs() < 0.5)
    };
    let runs = straight_runs(edges, |(_, a), (_, b), ends| agree(a, b, ends));
    let lines: Vec<StakeLine> = runs
        .into_iter()
        .map(|run| StakeLine {
            edge: match run.ends.map(|at| names.at(at)) {
                [Some(from), Some(to)] if run.edges > 1 => format!("{from}-{to}"),
                _ => run.of.0.clone(),
            },
            ends: run.ends,
            finish: run.of.1,
        })
        .collect();
    let clear = stake_clear(job.sheet.units);
    let standing = clip::union([&obstacles(job), &walls(job, &extents.paved.shape)]);
    let found = levels::stakes(&lines, &extents.dig.shape, &standing, clear);
    // Without spot levels the ground is looked for at the finish.
    let ground_at = |stake: &Stake| ground.map_or(stake.finish, |g| g.level_at(stake.at));
    let levels: Vec<[f64; 2]> = found.iter().map(|s| [s.finish, ground_at(s)]).collect();
    let [step, room] = string_step(job.sheet.units);
    let heights = strings::heights(&levels, step, room)?;
    let named = found.into_iter().map(|stake| {
        let line = lines.iter().find(|line| line.edge == stake.edge);
        let past = line.and_then(|line| names.at(line.ends[stake.end]));
        (past.unwrap_or_default(), stake)
    });
    let stakes: Vec<(String, Stake)> = named.collect();
    let places: Vec<Point> = stakes.iter().map(|(_, stake)| stake.at).collect();
    Some(StakeSet {
        heights,
        names: place_names(job, &["S", "T", "ST", "STK"], &places),
        stakes,
    })
}

/// Walls that no structure stands for, as bands outside their edges, each a little longer than its
/// edge: the wall goes on.
fn walls(job: &Job, paved: &Shape) -> Shape {
    const THICK: f64 = 300.0;
    const ON: f64 = 100.0;
    let bare = job
        .site
        .stretches()
        .filter(|s| s.kind == EdgeKind::Wall && s.against.is_none());
    let mut bands: Vec<Shape> = Vec::new();
    for stretch in bare {
        for pair in stretch.edge.flatten(SAGITTA).windows(2) {
            let Some(along) = (pair[1] - pair[0]).unit() else {
                continue;
            };
            // Paving is on the left.
            let out = -along.left() * THICK;
            let (a, b) = (pair[0] + -along * ON, pair[1] + along * ON);
            bands.push(clip::shape_of_points(&[a, a + out, b + out, b]));
        }
    }
    clip::difference(&clip::union(bands.iter()), paved)
}

/// Names for places: a letter and a number, by the first prefix that no corner and no point of the
/// survey begins with and no drain, structure or sill bears with a number, else by the last; places
/// that are one share a name.
pub(super) fn place_names(job: &Job, prefixes: &[&str], places: &[Point]) -> Vec<String> {
    let corners = job.site.corners.iter().map(|corner| &corner.name);
    let points = job.survey.points.iter().map(|point| &point.name);
    let drains = job.drains.iter().map(|drain| &drain.name);
    let structures = job.structures.iter().map(|structure| &structure.name);
    let sills = job.levels.sills.iter().map(|sill| &sill.name);
    let known: Vec<&String> = corners.chain(points).collect();
    let named: Vec<&String> = drains.chain(structures).chain(sills).collect();
    let numbered = |name: &str, prefix: &str| {
        let number = name.strip_prefix(prefix);
        number.is_some_and(|rest| rest.parse::<usize>().is_ok())
    };
    let free = |prefix: &&&str| {
        !known.iter().any(|name| name.starts_with(**prefix))
            && !named.iter().any(|name| numbered(name, prefix))
    };
    let prefix = prefixes.iter().find(free).or(prefixes.last());
    let mut numbers: Vec<usize> = Vec::with_capacity(places.len());
    let mut next = 1;
    for (index, at) in places.iter().enumerate() {
        let before = places[..index].iter();
        let known = before.zip(&numbers).find(|(p, _)| p.distance(*at) < SAME);
        let number = known.map_or(next, |(_, number)| *number);
        next = next.max(number + 1);
        numbers.push(number);
    }
    let prefix = prefix.copied().unwrap_or_default();
    numbers.iter().map(|n| format!("{prefix}{n}")).collect()
}
