//! From outlines as written to the resolved [`Site`], or every reason why not.
//!
//! In: areas and structures with all points placed, the names that measured points bear. Out: rings
//! turned the right way round, corners lettered, edges named, a kind for each stretch. Overlaps
//! count when their mean width (twice the area over the perimeter) is over 0.5 mm; over 10 mm
//! where the structure is a building or wall, whose face may be measured that loosely.

use super::corners::{self, FACE, Namer, SAME_PLACE};
use super::kinds::{self, Meeting};
use super::model::{
    Against, NoteKind, OutlineItem, Site, SiteArea, SiteEdge, SiteError, SiteNote, SitePlace,
    SiteRing, Stretch,
};
use super::spec::{AreaSpec, EdgeKind, OutlineSpec, StructureKind, StructureSpec};
use crate::geom::{Edge, Point, Ring, Shape, clip};

/// Longest side of a site, in millimetres: 1 km.
const LARGEST: f64 = 1e6;

/// Farthest from the origin a coordinate may lie, in millimetres.
const FARTHEST: f64 = 1e8;

/// Least area of an outline, in square millimetres.
const LEAST_AREA: f64 = 1.0;

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

fn outlines(area: &AreaSpec) -> impl Iterator<Item = &OutlineSpec> {
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
            name: "edge".to_owned(),
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
                found: format!("no edge {} on this outline", said.name),
                wanted: format!("one of {}", names.join(", ")),
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
        found: format!(
            "edge {} is named joined but touches no other area",
            edge.name
        ),
        wanted: "open, wall or flush".to_owned(),
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
        kind: NoteKind::OpenAtWall,
        message: format!(
            "edge {} is named open but runs along {}",
            edge.name, building.name
        ),
    })
}

/// What is wrong with a ring by itself.
fn ring_faults(ring: &Ring, place: impl Fn(OutlineItem) -> SitePlace) -> Vec<SiteError> {
    let fault = |item, found: &str, wanted: &str| SiteError {
        place: place(item),
        found: found.to_owned(),
        wanted: wanted.to_owned(),
    };
    let edges = &ring.edges;
    let finite = |p: Point| p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST;
    let sound = |edge: &Edge| {
        let arc = edge
            .arc
            .is_none_or(|arc| finite(arc.centre) && arc.radius < FARTHEST);
        finite(edge.from) && finite(edge.to) && arc
    };
    if let Some(index) = edges.iter().position(|edge| !sound(edge)) {
        let wanted = "coordinates within 100 km of the origin";
        return vec![fault(
            OutlineItem::Corner(index),
            "a corner out of reach",
            wanted,
        )];
    }
    let arcs = edges.iter().filter(|edge| edge.arc.is_some()).count();
    let circle = edges.len() == 1 && edges[0].is_circle();
    if circle {
        let radius = edges[0].arc.map_or(0.0, |arc| arc.radius);
        if radius < SAME_PLACE {
            return vec![fault(
                OutlineItem::Whole,
                "a circle of no size",
                "a radius above zero",
            )];
        }
        return Vec::new();
    }
    if edges.len() < 2 || edges.len() == 2 && arcs == 0 {
        let found = format!("an outline of {} corners", edges.len());
        let wanted = "at least three corners, or two with an arc";
        return vec![fault(OutlineItem::Whole, &found, wanted)];
    }
    let mut faults = Vec::new();
    for (index, edge) in edges.iter().enumerate() {
        if edge.length() < SAME_PLACE || edge.is_circle() {
            let next = (index + 1) % edges.len();
            let found = "a corner where the one before it stands";
            faults.push(fault(
                OutlineItem::Corner(next),
                found,
                "corners apart from each other",
            ));
        }
    }
    if !faults.is_empty() {
        return faults;
    }
    if let Some(crossing) = ring.self_crossing() {
        let found = format!(
            "an outline that crosses or touches itself at ({:.0}, {:.0}) mm",
            crossing.at.x, crossing.at.y
        );
        let wanted = "corners in order round the outline";
        return vec![fault(OutlineItem::Edge(crossing.second), &found, wanted)];
    }
    if ring.area() < LEAST_AREA {
        return vec![fault(
            OutlineItem::Whole,
            "an outline that encloses nothing",
            "some area",
        )];
    }
    Vec::new()
}

fn size_fault(areas: &[AreaSpec], structures: &[StructureSpec]) -> Option<SiteError> {
    let rings = areas.iter().enumerate().flat_map(|(index, area)| {
        let rings = outlines(area).map(|outline| &outline.ring);
        rings.map(move |ring| (SitePlace::Area(index), ring))
    });
    let others = structures.iter().enumerate();
    let rings = rings.chain(others.map(|(i, s)| (SitePlace::Structure(i), &s.ring)));
    let mut whole: Option<crate::geom::Bounds> = None;
    for (place, ring) in rings {
        let Some(bounds) = ring.bounds() else {
            continue;
        };
        let grown = whole.map_or(bounds, |w| w.union(bounds));
        if grown.width() > LARGEST || grown.height() > LARGEST {
            return Some(SiteError {
                place,
                found: "a site over 1 km across".to_owned(),
                wanted: "all of the site within 1 km".to_owned(),
            });
        }
        whole = Some(grown);
    }
    None
}

/// Areas over areas, areas over structures, holes outside their area or over each other.
fn overlaps(
    areas: &[AreaSpec],
    rings: &[Vec<Ring>],
    structures: &[StructureSpec],
) -> Vec<SiteError> {
    let mut errors = Vec::new();
    let mut shapes: Vec<Shape> = Vec::new();
    for (area, rings) in rings.iter().enumerate() {
        let outer = clip::shape_of(&rings[0]);
        let mut shape = outer.clone();
        for (index, hole) in rings.iter().enumerate().skip(1) {
            let hole = clip::shape_of(hole);
            if thick(&clip::difference(&hole, &shape), SAME_PLACE) {
                errors.push(SiteError {
                    place: SitePlace::Outline {
                        area,
                        ring: index,
                        item: OutlineItem::Whole,
                    },
                    found: "a hole that is not wholly within the paving left by the others".into(),
                    wanted: "holes inside their area, apart from each other".into(),
                });
            }
            shape = clip::difference(&shape, &hole);
        }
        shapes.push(shape);
    }
    for (area, shape) in shapes.iter().enumerate() {
        let place = SitePlace::Outline {
            area,
            ring: 0,
            item: OutlineItem::Whole,
        };
        for (other, before) in shapes.iter().enumerate().take(area) {
            if thick(&clip::intersection(shape, before), SAME_PLACE) {
                errors.push(SiteError {
                    place,
                    found: format!("{} overlaps {}", areas[area].name, areas[other].name),
                    wanted: "areas that at most touch".into(),
                });
            }
        }
        for structure in structures.iter().filter(|s| !s.on_paving) {
            let loose = match structure.kind {
                StructureKind::Building | StructureKind::Wall => FACE,
                _ => SAME_PLACE,
            };
            if thick(
                &clip::intersection(shape, &clip::shape_of(&structure.ring)),
                loose,
            ) {
                errors.push(SiteError {
                    place,
                    found: format!("{} overlaps {}", areas[area].name, structure.name),
                    wanted: "an outline clear of it, a hole round it, or on_paving: true if it \
                             stands on the finished surface"
                        .into(),
                });
            }
        }
    }
    errors
}

/// Whether any piece of a shape is wider in the mean than `width` millimetres.
fn thick(shape: &Shape, width: f64) -> bool {
    use geo::algorithm::{Area, Euclidean, Length};
    shape.iter().any(|polygon| {
        let rings = std::iter::once(polygon.exterior()).chain(polygon.interiors());
        let round: f64 = rings.map(|ring| Euclidean.length(ring)).sum();
        round > 0.0 && 2.0 * polygon.unsigned_area() / round > width
    })
}
