//! The plan: the ground layers, from structures up to the edge restraint, and the order in which
//! marks are laid over them.
//!
//! In: what the plan shows (site millimetres), a placed scale and the room on paper. Out: one
//! group per layer, in painting order. Every line that is drawn is also taken from the room for
//! labels, so that no words are struck through.

use std::collections::BTreeMap;

use super::labels::{Ask, Box2, Keyed, Taken};
use super::model::{Area, PlanModel};
use super::{hatch, pen, plan_marks, standing, surface};
use crate::draw::paper::Rect;
use crate::draw::scale::Placing;
use crate::draw::{Colour, Dash, Group, Item, LineWidth, Pt, Stroke};
use crate::geom::Point;
use crate::language::{Languages, Phrase, phrase, say};

/// The dig's outline: dashed.
pub const DIG: Stroke = pen::dashed(LineWidth::W25, Dash::Dashed, pen::BROWN);
/// The base's outline: lighter than the paving edge, heavier than its joints.
pub const BASE: Stroke = pen::solid(LineWidth::W25, Colour::BLACK);
/// Joints between panels.
pub const PANEL: Stroke = pen::solid(LineWidth::W18, pen::GREY);
/// The hatch of trimmed panels.
pub const TRIMMED: Stroke = pen::solid(LineWidth::W18, Colour(140, 140, 140));
/// Joints between pavers.
pub const PAVER: Stroke = pen::solid(LineWidth::W18, Colour::BLACK);
/// The paving's outline.
pub const PAVING: Stroke = pen::solid(LineWidth::W50, Colour::BLACK);
/// A straight paver joint over panel joints: as heavy as the outline, and broken, so that it stands
/// out among joints on a print without colour.
pub const OVER_JOINTS: Stroke = pen::dashed(LineWidth::W50, Dash::Dashed, Colour::BLACK);
/// Edge restraint.
pub const EDGING: Stroke = pen::solid(LineWidth::W18, pen::RED);
/// Screed rails.
pub const RAIL: Stroke = pen::dashed(LineWidth::W25, Dash::LongDashDot, pen::BLUE);
/// Pitch of the hatch of trimmed panels.
pub const TRIMMED_PITCH: f64 = 3.0;

/// Clear paper around the dig that structures are still drawn on.
pub const CONTEXT: f64 = 16.0;

/// The plan being drawn: marks by layer.
#[derive(Debug)]
pub struct Marks<'a> {
    /// What is shown.
    pub model: &'a PlanModel,
    /// Where site points lie on paper.
    pub placing: &'a Placing,
    /// The dig's box on paper.
    pub dig: Rect,
    /// What is taken.
    pub taken: Taken,
    /// Marks by layer id.
    pub layers: BTreeMap<&'static str, Vec<Item>>,
    /// Lettering by layer id, painted over all of the marks.
    pub letters: BTreeMap<&'static str, Vec<Item>>,
    /// Lettering that asks for its place.
    pub asks: Vec<Ask>,
}

impl Marks<'_> {
    /// Adds marks to a layer.
    pub fn add(&mut self, layer: &'static str, items: impl IntoIterator<Item = Item>) {
        self.layers.entry(layer).or_default().extend(items);
    }

    /// Adds lettering on a layer.
    pub fn letter(&mut self, layer: &'static str, items: impl IntoIterator<Item = Item>) {
        self.letters.entry(layer).or_default().extend(items);
    }

    /// A site point on paper.
    pub fn at(&self, point: Point) -> Pt {
        self.placing.at(point)
    }

    /// What is shown of all that stands round the dig: in a part of a plan, only beyond the sides
    /// that are open, and just inside those where it meets others, so that no outline seems to end
    /// there.
    pub fn shown(&self) -> Rect {
        let open = self.model.window.as_ref().map_or([true; 4], |w| w.open);
        let [left, right, bottom, top] = open.map(|open| if open { CONTEXT } else { -0.6 });
        Rect {
            left: self.dig.left - left,
            right: self.dig.right + right,
            bottom: self.dig.bottom + bottom,
            top: self.dig.top - top,
        }
    }

    /// Rings on paper.
    pub fn rings(&self, rings: &[Vec<Point>]) -> Vec<Vec<Pt>> {
        rings
            .iter()
            .map(|r| r.iter().map(|p| self.at(*p)).collect())
            .collect()
    }
}

/// A plan as drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// Groups in painting order: marks layer by layer, then lettering layer by layer.
    pub items: Vec<Item>,
    /// What found no place on the plan.
    pub keyed: Vec<Keyed>,
}

/// The box on paper of the window, or of the dig; `None` where nothing is dug.
fn dig(model: &PlanModel, placing: &Placing) -> Option<Rect> {
    let around =
        |points: &mut dyn Iterator<Item = &Point>| Rect::around(points.map(|p| placing.at(*p)));
    match &model.window {
        Some(window) => around(&mut window.corners.iter()),
        None => around(&mut model.dig.iter().flatten()),
    }
}

/// The boxes that stand in fixed places: of the dig, and of the section lines' ends beside it.
pub fn fixed(model: &PlanModel, placing: &Placing) -> Vec<Rect> {
    let Some(dig) = dig(model, placing) else {
        return Vec::new();
    };
    let ends = plan_marks::section_ends(model, placing, dig);
    ends.iter().map(|end| end.bounds()).chain([dig]).collect()
}

/// Draws the plan in its room, clear of what is reserved.
pub fn draw(model: &PlanModel, placing: &Placing, room: Rect, reserved: &[Rect]) -> Drawn {
    let mut marks = Marks {
        model,
        placing,
        dig: dig(model, placing).unwrap_or(Rect::between(room.centre(), room.centre())),
        taken: Taken::new(room),
        layers: BTreeMap::new(),
        letters: BTreeMap::new(),
        asks: Vec::new(),
    };
    for rect in reserved {
        marks.taken.add_box(Box2::upright(*rect));
    }
    standing::structures(&mut marks, room);
    standing::walls(&mut marks);
    grounds(&mut marks);
    rails(&mut marks);
    for area in &model.areas {
        part_field(&mut marks, area);
        surface::draw(&mut marks, area);
    }
    over_joints(&mut marks);
    for area in &model.areas {
        let rings = marks.rings(&area.rings);
        for ring in &rings {
            marks.taken.add_ring(ring, 3.0);
        }
        marks.add("paving", [pen::region(&rings, Some(PAVING), None)]);
    }
    edging(&mut marks);
    let keyed = plan_marks::draw(&mut marks);
    if model.window.is_some() {
        let shown = marks.shown();
        clipped(&mut marks.layers, shown, model.languages);
    }
    let languages = model.languages;
    let view = say!(languages, "Plan");
    let mut items = groups("plan", &view, languages, &mut marks.layers);
    let view = say!(languages, "Plan, lettering");
    items.extend(groups("plan-letters", &view, languages, &mut marks.letters));
    Drawn { items, keyed }
}

/// Layers that end at the window of a plan that shows only a part.
const GROUND: [&str; 13] = [
    "structures",
    "ground",
    "services",
    "dig",
    "base",
    "panels",
    "rails",
    "pavers",
    "joints-over-joints",
    "paving",
    "edging",
    "nails",
    "on-paving",
];

/// Clips the ground layers to what is shown.
fn clipped(layers: &mut BTreeMap<&'static str, Vec<Item>>, shown: Rect, languages: Languages) {
    for layer in GROUND {
        if let Some(items) = layers.get_mut(layer) {
            let inner = std::mem::take(items);
            items.push(Item::Group(Group {
                id: format!("plan-window-{layer}"),
                title: say!(languages, "Shown part"),
                layer: None,
                clip: Some(shown.outline()),
                items: inner,
            }));
        }
    }
}

/// Layers of the sheet in painting order: id and title.
pub fn layers() -> Vec<(&'static str, Phrase)> {
    vec![
        ("structures", phrase!("Structures")),
        ("ground", phrase!("Existing ground and depth of dig")),
        ("dig", phrase!("Dig")),
        ("base", phrase!("Base outline")),
        ("panels", phrase!("Base panels")),
        ("rails", phrase!("Screed rails")),
        ("pavers", phrase!("Pavers")),
        (
            "joints-over-joints",
            phrase!("Straight paver joints over panel joints"),
        ),
        ("paving", phrase!("Paving outline")),
        ("edging", phrase!("Edge restraint")),
        ("nails", phrase!("Nails")),
        ("on-paving", phrase!("Structures on the paving")),
        ("drains", phrase!("Drains")),
        ("services", phrase!("Buried services")),
        ("dimensions", phrase!("Dimensions")),
        ("set-out", phrase!("Base line and stakes")),
        ("section-marks", phrase!("Section marks")),
        ("levels", phrase!("Levels and falls")),
        ("labels", phrase!("Labels")),
        ("checks", phrase!("What the checks found")),
        ("revisions", phrase!("Revision clouds")),
        ("section", phrase!("Sections")),
        ("detail", phrase!("Edge detail")),
        ("sheet", phrase!("Frame, title block and text")),
    ]
}

/// One group per layer, in painting order.
fn groups(
    id: &str,
    view: &str,
    languages: Languages,
    marks: &mut BTreeMap<&'static str, Vec<Item>>,
) -> Vec<Item> {
    layers()
        .into_iter()
        .filter_map(|(layer, title)| {
            let items = marks.remove(layer)?;
            let (id, title) = (
                format!("{id}-{layer}"),
                format!("{view}: {}", title.say(languages)),
            );
            Some(pen::group(&id, &title, layer, items))
        })
        .collect()
}

/// Dig, base outline and panels.
fn grounds(marks: &mut Marks) {
    let dig = marks.rings(&marks.model.dig);
    let base = marks.rings(&marks.model.base);
    for ring in &dig {
        marks.taken.add_ring(ring, 2.0);
    }
    for ring in &base {
        marks.taken.add_ring(ring, 2.0);
    }
    let mut hatched = Vec::new();
    let mut joints = Vec::new();
    for piece in &marks.model.pieces {
        let rings = marks.rings(&piece.rings);
        for ring in &rings {
            marks.taken.add_ring(ring, 1.0);
        }
        if piece.trimmed {
            hatched.extend(hatch::parallel(&rings, 135.0, TRIMMED_PITCH, 0.0));
        }
        joints.push(pen::region(&rings, Some(PANEL), None));
    }
    for segment in &hatched {
        marks.taken.add_line(*segment, 0.3);
    }
    marks.add(
        "base",
        [pen::region(&base, None, Some(Colour(250, 250, 248)))],
    );
    marks.add("panels", pen::lines(&hatched, TRIMMED));
    marks.add("panels", joints);
    marks.add("panels", [pen::region(&base, Some(BASE), None)]);
    marks.add("dig", [pen::region(&dig, Some(DIG), None)]);
}

fn rails(marks: &mut Marks) {
    let rails: Vec<[Pt; 2]> = marks
        .model
        .rails
        .iter()
        .map(|[a, b]| [marks.at(*a), marks.at(*b)])
        .collect();
    for rail in rails {
        marks.taken.add_line(rail, 1.5);
        marks.add("rails", [pen::line(rail[0], rail[1], RAIL)]);
    }
}

/// Straight paver joints over panel joints.
fn over_joints(marks: &mut Marks) {
    let stretches = marks.model.joints_over_joints.iter();
    let stretches: Vec<[Pt; 2]> = stretches.map(|ends| ends.map(|p| marks.at(p))).collect();
    for stretch in &stretches {
        marks.taken.add_line(*stretch, 2.0);
    }
    if let Some(lines) = pen::lines(&stretches, OVER_JOINTS) {
        marks.add("joints-over-joints", [lines]);
    }
}

/// A corner of the field with its pavers, over the panels, with a broken edge.
fn part_field(marks: &mut Marks, area: &Area) {
    if area.patch.len() < 3 || area.pavers.is_empty() {
        return;
    }
    let languages = marks.model.languages;
    let rings = marks.rings(&area.rings);
    let patch: Vec<Pt> = area.patch.iter().map(|p| marks.at(*p)).collect();
    let pavers = marks.rings(&area.pavers);
    for ring in &pavers {
        marks.taken.add_ring(ring, 0.6);
    }
    let mut items = vec![pen::region(&rings, None, Some(Colour::WHITE))];
    items.extend(
        pavers
            .iter()
            .map(|ring| pen::polygon(ring, Some(PAVER), None)),
    );
    marks.add(
        "pavers",
        [Item::Group(Group {
            id: format!("plan-part-field-{}", area.name),
            title: say!(languages, "Part of the field: {area}", area = area.name),
            layer: Some("pavers".to_string()),
            clip: Some(pen::closed(&patch)),
            items,
        })],
    );
    let broken = &patch[..patch.len() - 1];
    marks.taken.add_run(broken, 2.0);
    marks.add(
        "pavers",
        [Item::Group(Group {
            id: format!("plan-break-{}", area.name),
            title: say!(languages, "Broken edge: {area}", area = area.name),
            layer: Some("pavers".to_string()),
            clip: Some(rings.iter().flat_map(|ring| pen::closed(ring)).collect()),
            items: vec![pen::polyline(
                broken,
                pen::solid(LineWidth::W25, Colour::BLACK),
            )],
        })],
    );
}

fn edging(marks: &mut Marks) {
    let strips = marks.rings(&marks.model.edging);
    for ring in &strips {
        marks.taken.add_ring(ring, 1.5);
        marks.add(
            "edging",
            [pen::polygon(
                ring,
                Some(EDGING),
                Some(Colour(246, 232, 228)),
            )],
        );
    }
    let nails: Vec<Pt> = marks.model.nails.iter().map(|p| marks.at(*p)).collect();
    for nail in nails {
        marks
            .taken
            .add_line([nail.moved(-0.4, 0.0), nail.moved(0.4, 0.0)], 0.5);
        marks.add("nails", [nail_mark(nail)]);
    }
}

/// A nail on plan.
pub fn nail_mark(at: Pt) -> Item {
    pen::circle(at, 0.4, None, Some(Colour::BLACK))
}
