//! Joints over joints: where a straight run of paver joint lies on panel joints, so that both
//! layers can open along one line.
//!
//! In: panel joints as straight stretches, and laid areas with their straight joint runs;
//! millimetres. Out: how much panel joint lies within 3 mm of a run, by run. A panel joint that
//! crosses a run does not lie along it: only joints within a degree of its direction count.
//! Border courses and joints that the bond breaks are left out. Runs are sorted by direction and
//! offset, so that each joint is compared only with those beside it.

use super::laid::{Paving, Segment};
use crate::geom::clip;
use crate::geom::{Point, Vector};

/// How near a panel joint has to lie to a paver joint's centre line, in millimetres.
pub const REACH: f64 = 3.0;

/// Sine of the largest angle between a panel joint and a run that it lies along: 1°.
const ALONG: f64 = 0.017_452_406_437_283_51;

/// What lies over what.
#[derive(Clone, Debug, PartialEq)]
pub struct OverJoints {
    /// Length of panel joint that lies under straight runs.
    pub length: f64,
    /// Length of panel joint under the fields.
    pub panel_joint: f64,
    /// Length of panel joint under the worst run.
    pub worst: f64,
    /// The stretches of panel joint under straight runs, none of them twice.
    pub stretches: Vec<Segment>,
    /// The runs that have panel joint under them, worst first.
    pub lines: Vec<OverLine>,
}

/// One run with panel joint under it.
#[derive(Clone, Debug, PartialEq)]
pub struct OverLine {
    /// The run of paver joint.
    pub run: Segment,
    /// Length of panel joint under it.
    pub length: f64,
    /// The stretches of panel joint under it.
    pub under: Vec<Segment>,
}

impl OverLine {
    /// A run that no panel joint is known under yet.
    fn new(run: Segment) -> Self {
        Self {
            run,
            length: 0.0,
            under: Vec::new(),
        }
    }
}

impl OverJoints {
    /// Share of the panel joint under the fields that lies under straight runs; `None` when there
    /// is no panel joint under them.
    pub fn share(&self) -> Option<f64> {
        (self.panel_joint > 0.0).then(|| self.length / self.panel_joint)
    }
}

/// Finds the panel joints that lie under straight runs of paver joint.
pub fn joints_over_joints<'a>(
    panel_joints: &[Segment],
    pavings: impl IntoIterator<Item = &'a Paving>,
) -> OverJoints {
    let pavings: Vec<&Paving> = pavings.into_iter().collect();
    let mut lines: Vec<OverLine> = pavings
        .iter()
        .flat_map(|paving| &paving.runs)
        .map(|run| OverLine::new(*run))
        .collect();
    let sorted = Sorted::new(&lines);
    let mut all = Vec::new();
    for joint in panel_joints {
        let Some(way) = (joint.to - joint.from).unit() else {
            continue;
        };
        let mut spans = Vec::new();
        for index in sorted.beside(joint, way) {
            let line = &mut lines[index];
            let Some((from, to)) = stretch_along(joint, way, &line.run) else {
                continue;
            };
            line.length += to - from;
            line.under.push(Segment {
                from: joint.from + way * from,
                to: joint.from + way * to,
            });
            spans.push((from, to));
        }
        all.extend(covered(spans).into_iter().map(|(from, to)| Segment {
            from: joint.from + way * from,
            to: joint.from + way * to,
        }));
    }
    lines.retain(|line| line.length > 0.0);
    lines.sort_by(|a, b| b.length.total_cmp(&a.length));
    let ends: Vec<(Point, Point)> = panel_joints.iter().map(|s| (s.from, s.to)).collect();
    let under_fields = pavings
        .iter()
        .flat_map(|paving| clip::clip_lines(&ends, &paving.field))
        .map(|(from, to)| from.distance(to))
        .sum();
    OverJoints {
        length: all.iter().map(Segment::length).sum(),
        panel_joint: under_fields,
        worst: lines.first().map_or(0.0, |line| line.length),
        stretches: all,
        lines,
    }
}

/// Runs by direction, and of one direction by offset.
struct Sorted {
    ways: Vec<Way>,
}

/// Runs of one direction.
struct Way {
    /// A point that offsets are measured from.
    origin: Point,
    /// The direction.
    along: Vector,
    /// Offset to the left of the line through the origin, and index of each run; by offset.
    runs: Vec<(f64, usize)>,
}

/// Sine of the largest angle between runs that are taken as one direction.
const ONE_WAY: f64 = 1e-9;

/// How much farther than [`REACH`] runs are looked for, in millimetres: more than [`ONE_WAY`] parts
/// runs of a kilometre.
const SPARE: f64 = 0.1;

impl Sorted {
    fn new(lines: &[OverLine]) -> Self {
        let mut ways: Vec<Way> = Vec::new();
        for (index, line) in lines.iter().enumerate() {
            let run = &line.run;
            let Some(along) = (run.to - run.from).unit() else {
                continue;
            };
            let known = ways
                .iter()
                .position(|way| way.along.cross(along).abs() <= ONE_WAY);
            let at = known.unwrap_or_else(|| {
                ways.push(Way {
                    origin: run.from,
                    along,
                    runs: Vec::new(),
                });
                ways.len() - 1
            });
            let way = &mut ways[at];
            way.runs.push((way.offset(run.from), index));
        }
        for way in &mut ways {
            way.runs.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        Self { ways }
    }

    /// The runs that a joint along `way` may lie along.
    fn beside(&self, joint: &Segment, way: Vector) -> impl Iterator<Item = usize> {
        let like = move |other: &&Way| other.along.cross(way).abs() <= ALONG + ONE_WAY;
        self.ways.iter().filter(like).flat_map(|way| {
            let ends = [way.offset(joint.from), way.offset(joint.to)];
            let low = ends[0].min(ends[1]) - REACH - SPARE;
            let high = ends[0].max(ends[1]) + REACH + SPARE;
            let from = way.runs.partition_point(|(offset, _)| *offset < low);
            let beside = way.runs[from..].iter();
            let beside = beside.take_while(move |(offset, _)| *offset <= high);
            beside.map(|(_, index)| *index)
        })
    }
}

impl Way {
    fn offset(&self, at: Point) -> f64 {
        self.along.cross(at - self.origin)
    }
}

/// The stretch of a panel joint, from and to in millimetres along it, that lies along a run.
fn stretch_along(joint: &Segment, way: Vector, run: &Segment) -> Option<(f64, f64)> {
    let line = (run.to - run.from).unit()?;
    if line.cross(way).abs() > ALONG {
        return None;
    }
    let start = joint.from - run.from;
    let (mut from, mut to) = (0.0_f64, joint.length());
    // Both the place along the run and the distance from it change evenly along the joint.
    for (at, change, low, high) in [
        (start.dot(line), way.dot(line), 0.0, run.length()),
        (line.cross(start), line.cross(way), -REACH, REACH),
    ] {
        if change.abs() < 1e-12 {
            if at < low || at > high {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - at) / change, (high - at) / change);
        (from, to) = (from.max(a.min(b)), to.min(a.max(b)));
    }
    (from < to).then_some((from, to))
}

/// Spans along one joint, those that lie over one another made one.
fn covered(mut spans: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (from, to) in spans {
        match apart.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => apart.push((from, to)),
        }
    }
    apart
}

#[cfg(test)]
mod tests {
    use super::super::{Bond, Ground, PaverSpec, PavingSpec, lay};
    use super::*;
    use crate::geom::Frame;

    fn segment(from: (f64, f64), to: (f64, f64)) -> Segment {
        Segment {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
        }
    }

    fn paving(bond: Bond) -> Paving {
        let paver = PaverSpec {
            name: "field".into(),
            length: 200.0,
            width: 100.0,
            thickness: 60.0,
            joint: 0.0,
            per_pallet: None,
            per_layer: None,
            density: 2300.0,
        };
        let corners = [(0.0, 0.0), (3600.0, 0.0), (3600.0, 2400.0), (0.0, 2400.0)];
        let shape = clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y)));
        let spec = PavingSpec::plain(0, bond);
        let frame = Frame {
            origin: Point::new(0.0, 0.0),
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        };
        let ground = Ground {
            rings: &[],
            shape: &shape,
        };
        lay(&spec, &[paver], ground, &frame).unwrap()
    }

    /// Course joints every 100 mm: a panel joint at 602 lies 2 mm beside one, one at 650 beside
    /// none, one across crosses without lying along, and one past the field counts inside only.
    #[test]
    fn finds_joints_along_runs() {
        let joints = [
            segment((-150.0, 602.0), (3750.0, 602.0)),
            segment((0.0, 650.0), (3600.0, 650.0)),
            segment((900.0, 0.0), (900.0, 1200.0)),
        ];
        let found = joints_over_joints(&joints, &[paving(Bond::Running)]);
        assert!((found.length - 3600.0).abs() < 1e-6);
        assert!((found.worst - 3600.0).abs() < 1e-6);
        assert_eq!(found.lines.len(), 1);
        assert!((found.panel_joint - 8400.0).abs() < 0.01);
        // Stack bond also runs unbroken the other way, every 200 mm: 900 is no multiple, 800 is.
        let across = [joints[2], segment((800.0, 0.0), (800.0, 1200.0))];
        let found = joints_over_joints(&across, &[paving(Bond::Stack)]);
        assert!((found.length - 1200.0).abs() < 1e-6);
        assert!((found.share().unwrap() - 0.5).abs() < 1e-6);
        assert!(
            joints_over_joints(&joints, &[paving(Bond::Herringbone)])
                .lines
                .is_empty()
        );
    }

    /// The sorted runs beside a joint leave out none that it lies along.
    #[test]
    fn sorting_leaves_out_no_run() {
        let mut runs = Vec::new();
        for k in 0..60 {
            let at = f64::from(k) * 41.0;
            runs.push(segment((0.0, at), (2400.0, at)));
            runs.push(segment((at, 2400.0), (at, 0.0)));
            runs.push(segment((at, 0.0), (at + 1700.0, 1700.0)));
        }
        let lines: Vec<OverLine> = runs.iter().map(|run| OverLine::new(*run)).collect();
        let sorted = Sorted::new(&lines);
        let mut met = 0;
        for k in 0..500 {
            let (sin, cos) = libm::sincos(
                f64::from(k / 4) * std::f64::consts::FRAC_PI_4 + f64::from(k % 4) * 5e-3,
            );
            let from = (
                1200.0 + f64::from(k % 23) * 31.0,
                900.0 + f64::from(k % 7) * 40.7,
            );
            let joint = segment(from, (from.0 + 600.0 * cos, from.1 + 600.0 * sin));
            let way = Vector::new(cos, sin);
            let mut beside: Vec<usize> = sorted.beside(&joint, way).collect();
            beside.sort_unstable();
            for (index, run) in runs.iter().enumerate() {
                if stretch_along(&joint, way, run).is_some() {
                    met += 1;
                    assert!(beside.binary_search(&index).is_ok(), "{joint:?} {run:?}");
                }
            }
        }
        assert!(met > 50, "{met}");
    }
}
