//! What is taped from the base line and is no corner: sills, drains, downspouts, trees, posts, the
//! centres of arcs or points on them.
//!
//! In: the job, the base line, the arcs. Out: [`Feature`]s, in site millimetres. A channel is taped by
//! the ends of its middle line, each by a name of its own that stands on the plan too.

use super::ArcSetout;
use super::field::{SAME, place_names};
use crate::geom::Point;
use crate::job::Job;
use crate::levels::{CornerTies, DrainKind, ties};
use crate::site::StructureKind;

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

/// What is taped. Lengths are in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A door's sill.
    Sill(String),
    /// An end of the middle line of a channel, with the channel's width.
    ChannelEnd {
        /// The channel.
        drain: String,
        /// The end's own name.
        end: String,
        /// Breadth of the grate.
        width: f64,
    },
    /// The middle of a gully, with the length of its sides.
    Gully(String, f64),
    /// The outlet of a downspout.
    Downspout(String),
    /// The middle of a tree or post, with its radius.
    Middle(String, f64),
    /// The centre of an arc edge or of a round hole, with the radius.
    Centre(String, f64),
    /// The nth point on an arc edge whose centre cannot be reached.
    OnArc(String, usize),
}

/// All features of a job.
pub(super) fn features(
    job: &Job,
    base_line: &[(String, Point); 2],
    arcs: &[ArcSetout],
) -> Vec<Feature> {
    let ends = [base_line[0].1, base_line[1].1];
    let mut found: Vec<(What, Point)> = Vec::new();
    for sill in &job.levels.sills {
        found.push((What::Sill(sill.name.clone()), sill.at));
    }
    found.extend(drains(job));
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
            // The base line begins at some: its words give them.
            if ends.iter().all(|end| end.distance(marks.centre) >= SAME) {
                found.push((What::Centre(arc.edge.clone(), marks.radius), marks.centre));
            }
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

/// The drains by what a crew tapes of them.
fn drains(job: &Job) -> Vec<(What, Point)> {
    let channels = job.drains.iter().filter_map(|spec| match &spec.kind {
        DrainKind::Channel { line, .. } => Some(*line),
        _ => None,
    });
    let places: Vec<Point> = channels.flatten().collect();
    let mut names = place_names(job, &["D", "DR", "DN", "DRN"], &places).into_iter();
    let mut found = Vec::new();
    for spec in &job.drains {
        let drain = || spec.name.clone();
        match &spec.kind {
            DrainKind::Channel { line, width, .. } => {
                for (at, end) in line.iter().zip(names.by_ref().take(2)) {
                    let width = *width;
                    let drain = drain();
                    found.push((What::ChannelEnd { drain, end, width }, *at));
                }
            }
            DrainKind::Point { at, size, .. } => found.push((What::Gully(drain(), *size), *at)),
            DrainKind::Downspout { at, .. } => found.push((What::Downspout(drain()), *at)),
        }
    }
    found
}
