//! From outlines as written to the resolved [`Site`], or every reason why not.
//!
//! In: areas and structures with all points placed, the names that measured points bear. Out: rings
//! turned the right way round, corners lettered, edges named, a kind for each stretch. What makes an
//! outline refused is in `faults`.

use super::corners::{self, Namer, SAME_PLACE};
use super::faults::{overlaps, ring_faults, size_fault};
use super::kinds::{self, Meeting};
use super::model::{
    Against, NoteKind, OutlineItem, ROUND, Site, SiteArea, SiteEdge, SiteError, SiteNote,
    SitePlace, SiteRing, Stretch,
};
use super::spec::{AreaSpec, EdgeKind, OutlineSpec, StructureKind, StructureSpec};
use crate::geom::{Edge, Point, Ring};
use crate::language::phrase;

/// Resolves a site. `point_names` are the names of all measured points, which no corner takes as
/// its letter.
///
/// # Errors
///
/// All that is wrong with the outlines and structures, at once: too few corners, sizes of zero,
/// self-crossing outlines, areas that overlap each other or a structure that does not stand on
/// the paving, holes outside their area, edges that do not exist, a site over 1 km.
pub fn resolve(
    areas: &[AreaSpec],
    structures: &[StructureSpec],
    point_names: &[String],
) -> Result<Site, Vec<SiteError>> {
    let mut errors: Vec<SiteError> = Vec::new();
    for (index, structure) in structures.iter().enumerate() {
        errors.extend(ring_faults(&structure.ring, |_| {
            SitePlace::Structure(index)
        }));
    }
    for (area, spec) in areas.iter().enumerate() {
        for (ring, outline) in outlines(spec).enumerate() {
            let place = |item| SitePlace::Outline { area, ring, item };
            errors.extend(ring_faults(&outline.ring, place));
        }
    }
    errors.extend(size_fault(areas, structures));
    if !errors.is_empty() {
        return Err(errors);
    }

    let mut notes = Vec::new();
    let mut namer = Namer::new(point_names);
    let mut drafts: Vec<Vec<Draft>> = Vec::new();
    for (area, spec) in areas.iter().enumerate() {
        let mut rings = Vec::new();
        for (ring, outline) in outlines(spec).enumerate() {
            let (moved, found) = corners::put_on_faces(outline, structures, area, ring);
            notes.extend(found);
            let place = |item| SitePlace::Outline { area, ring, item };
            // Corners moved onto a face may have met.
            errors.extend(ring_faults(&moved.ring, place));
            rings.push(draft(&moved, &mut namer, ring));
        }
        drafts.push(rings);
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    name_edges(&mut drafts, &namer);

    let rings: Vec<Vec<Ring>> = drafts
        .iter()
        .map(|area| area.iter().map(Draft::ring).collect())
        .collect();
    errors.extend(overlaps(areas, &rings, structures));
    let mut site = Site {
        corners: namer.corners,
        areas: Vec::new(),
        structures: structures.to_vec(),
        notes,
    };
    for (area, spec) in areas.iter().enumerate() {
        let mut done = Vec::new();
        for (ring, outline) in outlines(spec).enumerate() {
            let mut edges = drafts[area][ring].edges.clone();
            let place = |item| SitePlace::Outline { area, ring, item };
            errors.extend(state(&site, &mut edges, outline, place));
            for edge in &mut edges {
                let met = kinds::meetings(&edge.edge, area, &rings, structures);
                errors.extend(unmet_join(edge, outline, &site, &met, place));
                site.notes
                    .extend(open_at_wall(edge, &met, structures, place));
                edge.stretches = stretches(edge, &met);
            }
            done.push(SiteRing { edges });
        }
        site.areas.push(SiteArea {
            name: spec.name.clone(),
            rings: done,
        });
    }
    if errors.is_empty() {
        Ok(site)
    } else {
        Err(errors)
    }
}

/// Corner letters and edge names of areas that [`resolve`] refuses, so that what the job says of
/// them can still be checked by name. Every edge is of the kind stated, or open; nothing is
/// found, and nothing here is fit to be drawn. With it come the edges named that do not exist.
pub fn lettered(areas: &[AreaSpec], point_names: &[String]) -> (Site, Vec<SiteError>) {
    let mut errors = Vec::new();
    let mut namer = Namer::new(point_names);
    let mut drafts: Vec<Vec<Draft>> = areas
        .iter()
        .map(|spec| {
            let rings = outlines(spec).enumerate();
            rings
                .map(|(ring, outline)| draft(outline, &mut namer, ring))
                .collect()
        })
        .collect();
    name_edges(&mut drafts, &namer);
    let mut site = Site {
        corners: namer.corners,
        areas: Vec::new(),
        structures: Vec::new(),
        notes: Vec::new(),
    };
    for (area, (spec, rings)) in areas.iter().zip(drafts).enumerate() {
        let mut done = Vec::new();
        for (ring, (outline, draft)) in outlines(spec).zip(rings).enumerate() {
            let mut edges = draft.edges;
            let place = |item| SitePlace::Outline { area, ring, item };
            errors.extend(state(&site, &mut edges, outline, place));
            for edge in &mut edges {
                edge.stretches = stretches(edge, &[]);
            }
            done.push(SiteRing { edges });
        }
        site.areas.push(SiteArea {
            name: spec.name.clone(),
            rings: done,
        });
    }
    (site, errors)
}

/// A ring on its way: turned, lettered, not yet named or sorted by kind.
struct Draft {
    edges: Vec<SiteEdge>,
}

impl Draft {
    fn ring(&self) -> Ring {
        Ring {
            edges: self.edges.iter().map(|edge| edge.edge).collect(),
        }
    }
}

/// The outer outline of an area, then its holes.
pub(super) fn outlines(area: &AreaSpec) -> impl Iterator<Item = &OutlineSpec> {
    std::iter::once(&area.outline).chain(&area.holes)
}

/// Letters a ring's corners in the order written, and turns it so that paving lies on its left.
fn draft(outline: &OutlineSpec, namer: &mut Namer, ring: usize) -> Draft {
    let corners: Vec<usize> = outline
        .corners
        .iter()
        .map(|corner| namer.name(corner.at, corner.name.as_deref()))
        .collect();
    // A corner that shares an earlier letter stands exactly where the earlier one stands.
    let places: Vec<Point> = corners.iter().map(|c| namer.corners[*c].at).collect();
    let written = if places.len() == outline.ring.edges.len() {
        corners::through(&outline.ring, &places)
    } else {
        outline.ring.clone()
    };
    let count = written.edges.len();
    let turn = written.is_anticlockwise() != (ring == 0);
    let mut edges: Vec<SiteEdge> = written
        .edges
        .iter()
        .enumerate()
        .map(|(index, edge)| SiteEdge {
            name: ROUND.to_owned(),
            corners: (corners.len() == count)
                .then(|| [corners[index], corners[(index + 1) % count]]),
            written: index,
            against_writing: turn,
            edge: if turn { edge.reversed() } else { *edge },
            stated_kind: None,
            stated_extension: None,
            stretches: Vec::new(),
        })
        .collect();
    if turn {
        edges.reverse();
    }
    Draft { edges }
}

/// Names edges by their corners, in the order written. An edge that lies on an earlier one, of the
/// area that it joins, bears the same name; another between the same corners is counted on.
fn name_edges(drafts: &mut [Vec<Draft>], namer: &Namer) {
    // Pair of corners (lower index first), the edges between them so far with their names.
    type Between = std::collections::BTreeMap<(usize, usize), Vec<(Edge, String)>>;
    let mut between = Between::new();
    for draft in drafts.iter_mut().flatten() {
        let mut order: Vec<usize> = (0..draft.edges.len()).collect();
        order.sort_by_key(|index| draft.edges[*index].written);
        for index in order {
            let edge = &mut draft.edges[index];
            let Some([first, last]) = edge.corners else {
                continue;
            };
            let known = between
                .entry((first.min(last), first.max(last)))
                .or_default();
            let middle = edge.edge.point_at(0.5);
            let same = known
                .iter()
                .find(|(other, _)| other.point_at(0.5).distance(middle) <= SAME_PLACE);
            if let Some((_, name)) = same {
                edge.name.clone_from(name);
                continue;
            }
            let name = |c: usize| namer.corners[c].name.as_str();
            edge.name = match known.len() {
                0 => format!("{}-{}", name(first), name(last)),
                n => format!("{}-{}/{}", name(first), name(last), n + 1),
            };
            known.push((edge.edge, edge.name.clone()));
        }
    }
}

/// Puts what the job says of single edges on them.
fn state(
    site: &Site,
    edges: &mut [SiteEdge],
    outline: &OutlineSpec,
    place: impl Fn(OutlineItem) -> SitePlace,
) -> Vec<SiteError> {
    let mut errors = Vec::new();
    for (index, said) in outline.edges.iter().enumerate() {
        let names: Vec<String> = edges.iter().map(|edge| edge.name.clone()).collect();
        let Some(edge) = edges.iter_mut().find(|edge| site.bears(edge, &said.name)) else {
            errors.push(SiteError {
                place: place(OutlineItem::Entry(index)),
                found: phrase!("no edge {edge} on this outline", edge = said.name),
                at: None,
                wanted: phrase!("one of {names}§edges", names = names.join(", ")),
            });
            continue;
        };
        edge.stated_kind = said.kind.or(edge.stated_kind);
        edge.stated_extension = said.extension.or(edge.stated_extension);
    }
    errors
}

fn stretches(edge: &SiteEdge, met: &[Meeting]) -> Vec<Stretch> {
    let mut parts: Vec<(Meeting, bool)> = Vec::new();
    for meeting in met {
        let (kind, found) = match edge.stated_kind {
            Some(kind) if meeting.kind != EdgeKind::Joined && kind != EdgeKind::Joined => {
                (kind, false)
            }
            _ => (meeting.kind, true),
        };
        let part = Meeting { kind, ..*meeting };
        match parts.last_mut() {
            // A stated kind holds through whatever else the edge passes.
            Some((last, false)) if !found && last.kind == kind => {
                last.end = part.end;
                last.against = last.against.or(part.against);
            }
            _ => parts.push((part, found)),
        }
    }
    let cut = |(part, found): (Meeting, bool)| Stretch {
        edge: if part.start == 0.0 && part.end == 1.0 {
            edge.edge
        } else {
            edge.edge.part(part.start, part.end)
        },
        kind: part.kind,
        extension: edge.stated_extension,
        found,
        against: part.against,
    };
    parts.into_iter().map(cut).collect()
}

fn unmet_join(
    edge: &SiteEdge,
    outline: &OutlineSpec,
    site: &Site,
    met: &[Meeting],
    place: impl Fn(OutlineItem) -> SitePlace,
) -> Option<SiteError> {
    let touched = met.iter().any(|m| m.kind == EdgeKind::Joined);
    if edge.stated_kind != Some(EdgeKind::Joined) || touched {
        return None;
    }
    let mut entries = outline.edges.iter();
    let entry = entries.position(|said| site.bears(edge, &said.name));
    Some(SiteError {
        place: place(entry.map_or(OutlineItem::Edge(edge.written), OutlineItem::Entry)),
        found: phrase!(
            "edge {edge} is named joined but touches no other area",
            edge = edge.name
        ),
        at: None,
        wanted: phrase!("one of {names}§words", names = "open, wall, flush"),
    })
}

fn open_at_wall(
    edge: &SiteEdge,
    met: &[Meeting],
    structures: &[StructureSpec],
    place: impl Fn(OutlineItem) -> SitePlace,
) -> Option<SiteNote> {
    if edge.stated_kind != Some(EdgeKind::Open) {
        return None;
    }
    let building = met.iter().find_map(|meeting| match meeting.against? {
        Against::Structure(index) => {
            let structure = &structures[index];
            (structure.kind == StructureKind::Building).then_some(structure)
        }
        Against::Area(_) => None,
    })?;
    Some(SiteNote {
        place: place(OutlineItem::Edge(edge.written)),
        kind: NoteKind::OpenAtWall {
            edge: edge.name.clone(),
            building: building.name.clone(),
        },
    })
}
