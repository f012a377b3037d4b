//! What the crew takes to the site beside the corners' table: the base line, tapes to what is not a
//! corner, tapes that prove the shape, right angles, arcs, offset stakes.
//!
//! In: the job, its areas and extents. Out: [`Field`], in site millimetres. Nothing is dimensioned
//! twice: a proof that only repeats a tape of the corners' table is left out.

use std::collections::BTreeSet;

use super::angles::{CornerAngle, angles, straight_corners};
use super::runs::straight_runs;
use super::{AreaDesign, SetoutRow};
use crate::geom::{Point, SAGITTA, Shape, clip};
use crate::job::Job;
use crate::levels::{
    self, ArcMarks, CornerTies, Plane, RightAngle, Stake, StakeLine, arc_marks, centre_is_free,
    diagonals, right_angle, ties,
};
use crate::site::{EdgeKind, Extents, SiteEdge, StructureKind};
use crate::units::System;

/// Tapes cross well between these angles, in degrees.
pub const STRONG: [f64; 2] = [30.0, 150.0];
/// Places nearer than this are one, in millimetres.
const SAME: f64 = 1.0;
/// A corner nearer than this to the base line is on it, in millimetres.
const ON_LINE: f64 = 0.5;
/// Outlines of more corners than this have no list of proofs.
const MOST_CORNERS: usize = 12;

/// Set-out beside the corners' table.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// What is taped from the base line beside corners: sills, trees, posts, centres.
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
}

/// Stakes whose marks are all at one level.
#[derive(Clone, Debug, PartialEq)]
pub struct StakeSet {
    /// The level of every mark, in millimetres.
    pub mark: f64,
    /// Their names on plan and in tables, in order.
    pub names: Vec<String>,
    /// The stakes, each with the name of the corner it stands beyond.
    pub stakes: Vec<(String, Stake)>,
}

/// Something taped from the base line.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// What it is.
    pub what: What,
    /// Where it is.
    pub at: Point,
    /// Tapes from the base line's ends.
    pub ties: CornerTies,
}

/// What is taped.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A door's sill.
    Sill(String),
    /// The middle of a tree or post, with its radius.
    Middle(String, f64),
    /// The centre of an arc edge or of a round hole, with the radius.
    Centre(String, f64),
    /// The nth point on an arc edge whose centre cannot be reached.
    OnArc(String, usize),
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

/// The unit of 3-4-5: a foot or 100 mm.
const fn square_unit(system: System) -> f64 {
    match system {
        System::Metric => 100.0,
        System::FeetInches | System::Dual => 304.8,
    }
}

/// The base line that ties are taken from: the job's, else, of the straight wall edges (of all
/// edges where there is none), those of one line taken together, the one from which the fewest
/// corners have tapes that cross badly, the first of several. A corner on the line itself is set
/// along it.
pub fn base_line(job: &Job) -> [(String, Point); 2] {
    if let Some(stated) = &job.base_line {
        return stated.clone();
    }
    let edges = || job.site.areas.iter().flat_map(|area| area.edges());
    let name = |at: Point| {
        let mut corners = job.site.corners.iter();
        corners.find(|corner| corner.at.distance(at) < SAME)
    };
    let weak = |ends: &[Point; 2]| {
        let ties = job.site.corners.iter().map(|corner| ties(*ends, corner.at));
        ties.filter(|ties| !is_strong(ties) && ties.offset.abs() > ON_LINE)
            .count()
    };
    let best = |wanted: &dyn Fn(&SiteEdge) -> bool| {
        let straight = edges().filter(|edge| edge.edge.arc.is_none() && wanted(edge));
        let lines = straight.map(|edge| ([edge.edge.from, edge.edge.to], ()));
        let runs = straight_runs(lines.collect(), |(), (), _| true);
        let named = runs.into_iter().filter_map(|run| {
            let [from, to] = run.ends.map(name);
            Some([from?, to?].map(|corner| (corner.name.clone(), corner.at)))
        });
        named.min_by_key(|line| weak(&[line[0].1, line[1].1]))
    };
    let line = best(&|edge| edge.has(EdgeKind::Wall)).or_else(|| best(&|_| true));
    match (line, edges().next()) {
        (Some(line), _) => line,
        (None, Some(edge)) => [("A".into(), edge.edge.from), ("B".into(), edge.edge.to)],
        (None, None) => [
            ("A".into(), Point::default()),
            ("B".into(), Point::default()),
        ],
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
) -> Field {
    let names = Names(setout);
    let arcs = arcs(job, &names);
    Field {
        features: features(job, base_line, &arcs),
        proofs: proofs(job, &names, base_line),
        right_angles: right_angles(job, &names),
        angles: angles(job, &names),
        stakes: stakes(job, areas, extents, &names),
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
fn obstacles(job: &Job) -> Shape {
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
                ends: names
                    .at(edge.edge.from)
                    .zip(names.at(edge.edge.to))
                    .map(|(from, to)| [from, to]),
                marks: arc_marks(&edge.edge, pitch)?,
                centre_free: centre_is_free(&edge.edge, &obstacles),
            })
        })
        .collect()
}

fn features(job: &Job, base_line: &[(String, Point); 2], arcs: &[ArcSetout]) -> Vec<Feature> {
    let ends = [base_line[0].1, base_line[1].1];
    let mut found: Vec<(What, Point)> = Vec::new();
    for sill in &job.levels.sills {
        found.push((What::Sill(sill.name.clone()), sill.at));
    }
    for structure in &job.site.structures {
        let stands = matches!(structure.kind, StructureKind::Tree | StructureKind::Post);
        if let ([edge], true) = (structure.ring.edges.as_slice(), stands)
            && let Some(arc) = edge.arc
        {
            found.push((What::Middle(structure.name.clone(), arc.radius), arc.centre));
        }
    }
    for arc in arcs {
        let marks = &arc.marks;
        if arc.centre_free {
            found.push((What::Centre(arc.edge.clone(), marks.radius), marks.centre));
            continue;
        }
        for (index, point) in marks.points.iter().enumerate() {
            if point.chord.is_none() {
                found.push((What::OnArc(arc.edge.clone(), index + 1), point.at));
            }
        }
    }
    found
        .into_iter()
        .map(|(what, at)| Feature {
            what,
            at,
            ties: ties(ends, at),
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
    let found = levels::stakes(&lines, &extents.dig.shape, &standing, clear)?;
    let named = found.stakes.into_iter().map(|stake| {
        let line = lines.iter().find(|line| line.edge == stake.edge);
        let past = line.and_then(|line| names.at(line.ends[stake.end]));
        (past.unwrap_or_default(), stake)
    });
    let stakes: Vec<(String, Stake)> = named.collect();
    Some(StakeSet {
        mark: found.mark,
        names: stake_names(job, stakes.len()),
        stakes,
    })
}

/// Walls that no structure stands for, as bands outside their edges, each a little longer than its
/// edge: the wall goes on.
fn walls(job: &Job, paved: &Shape) -> Shape {
    const THICK: f64 = 300.0;
    const ON: f64 = 100.0;
    let edges = job.site.areas.iter().flat_map(|area| area.edges());
    let bare = edges
        .flat_map(|edge| &edge.stretches)
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

/// Names for so many stakes: a letter and a number, by the first prefix that no corner and no
/// point of the survey begins with.
fn stake_names(job: &Job, count: usize) -> Vec<String> {
    let corners = job.site.corners.iter().map(|corner| &corner.name);
    let points = job.survey.points.iter().map(|point| &point.name);
    let known: Vec<&String> = corners.chain(points).collect();
    let free = |prefix: &&str| !known.iter().any(|name| name.starts_with(*prefix));
    let prefix = ["S", "T", "ST"].into_iter().find(free).unwrap_or("STK");
    (1..=count).map(|n| format!("{prefix}{n}")).collect()
}
