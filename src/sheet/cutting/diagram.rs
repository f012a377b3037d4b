//! The drawing of one cut panel: what the crew marks and saws.
//!
//! In: the panel, its readings, a scale and the words of its pieces. Out: a figure. The panel is
//! seen from above with its course to the right. Shown are the lines to cut, dimensions that run
//! from the corner nearest the start, the sides that lock, the pieces by their words and the waste
//! hatched. Paper millimetres, y down, until the figure is cropped to what is drawn.

use super::readings::{Reading, Readings, Side};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Colour, Face, Item, LineWidth, Pt, Stroke};
use crate::geom::{Point, Shape};
use crate::language::Phrase;
use crate::panels::CutPanel;
use crate::sheet::dimension::{Chain, Origin};
use crate::sheet::figure::{self, Figure};
use crate::sheet::from_plan::shape_rings;
use crate::sheet::labels::{
    Ask, Box2, Candidate, Keyed, Label, Otherwise, Request, Taken, led, settle,
};
use crate::sheet::plan_marks::{holds, inside_points};
use crate::sheet::{hatch, pen};

/// Distance of a dimension line from the panel.
const OFF: f64 = 7.0;
/// Room for dimensions on a side that has some, and for words beside the panel elsewhere.
const ROOM: [f64; 2] = [17.0, 10.0];
/// Pitch of the waste's hatch.
const PITCH: f64 = 2.2;
/// Radius of the dot in the corner nearest the start.
pub const DOT: f64 = 1.0;
/// Radius of the points that are marked along a curve.
const POINT: f64 = 0.5;
/// What a place beside a piece costs more than one inside it.
const BESIDE: f64 = 12.0;
/// Places inside a piece that are looked at.
const INSIDE: usize = 40;
/// What a piece without its words costs.
const WORTH: f64 = 3000.0;

/// A line to cut.
pub const CUT: Stroke = pen::solid(LineWidth::W35, Colour::BLACK);
/// A side of the panel.
pub const SIDE: Stroke = pen::solid(LineWidth::W18, Colour::BLACK);
/// A side that locks.
pub const LOCK: Stroke = pen::solid(LineWidth::W70, Colour::BLACK);

/// What a diagram shows.
#[derive(Debug)]
pub struct Model<'a> {
    /// Its number among the diagrams.
    pub number: usize,
    /// The panel.
    pub panel: &'a CutPanel,
    /// Its size along and across.
    pub size: [f64; 2],
    /// What is read to cut it.
    pub readings: &'a Readings,
    /// The words that stand for each of its pieces.
    pub words: Vec<String>,
    /// The printed words of each of the readings of its sides.
    pub dimensions: Vec<String>,
}

/// Draws a diagram; gives what found no place in it too.
pub fn draw(model: &Model, scale: &Scale) -> (Figure, Vec<Keyed>) {
    let view = View {
        scale: 1.0 / scale.ratio,
        size: model.size,
        mirrored: model.panel.mirrored,
    };
    let panel = Rect::between(view.at([0.0, 0.0]), view.at(model.size));
    let mut taken = Taken::new(view.room(panel, &model.readings.sides));
    let mut items = panel_items(model, &view, &mut taken);
    let mut asks = Vec::new();
    for side in Side::ALL {
        let Some(chain) = chain(model, &view, side) else {
            continue;
        };
        items.extend(chain.lines(&mut taken));
        asks.extend(chain.asks());
    }
    for (piece, words) in model.panel.pieces.iter().zip(&model.words) {
        asks.extend(name(&view.rings(&piece.shape), words, &taken));
    }
    let settled = settle(&mut taken, asks);
    items.extend(settled.items.into_iter().map(|(_, item)| item));
    let mut extent = panel;
    for item in &items {
        extent = extent.union(bounds(item));
    }
    let items = items
        .iter()
        .map(|item| crate::sheet::shift::shifted(item, -extent.left, -extent.top))
        .collect();
    let figure = Figure {
        width: extent.width(),
        height: extent.height(),
        items: vec![figure::view(&format!("cutting-{}", model.number), items)],
        ..Figure::default()
    };
    (figure, settled.keyed)
}

/// How the panel lies on paper: its corner nearest the start at the lower left, or at the upper
/// left where courses follow each other to the right.
struct View {
    scale: f64,
    size: [f64; 2],
    mirrored: bool,
}

impl View {
    fn at(&self, [along, across]: [f64; 2]) -> Pt {
        let up = if self.mirrored {
            self.size[1] - across
        } else {
            across
        };
        Pt::new(along * self.scale, (self.size[1] - up) * self.scale)
    }

    fn rings(&self, shape: &Shape) -> Vec<Vec<Pt>> {
        let on_paper = |ring: Vec<Point>| ring.iter().map(|p| self.at([p.x, p.y])).collect();
        shape_rings(shape).into_iter().map(on_paper).collect()
    }

    /// Unit direction on paper from the panel to the outside of a side.
    fn outward(&self, side: Side) -> (f64, f64) {
        let down = if self.mirrored { -1.0 } else { 1.0 };
        match side {
            Side::Near => (0.0, down),
            Side::Far => (0.0, -down),
            Side::Start => (-1.0, 0.0),
            Side::End => (1.0, 0.0),
        }
    }

    /// The room for words round the panel.
    fn room(&self, panel: Rect, readings: &[Reading]) -> Rect {
        let mut room = panel;
        for side in Side::ALL {
            let has = readings.iter().any(|reading| reading.side == side);
            let by = ROOM[usize::from(!has)];
            let (x, y) = self.outward(side);
            let corners = panel.corners().map(|at| at.moved(x * by, y * by));
            room = Rect::around(corners).map_or(room, |moved| room.union(moved));
        }
        room
    }
}

/// The panel with its cuts, what locks and what is waste.
fn panel_items(model: &Model, view: &View, taken: &mut Taken) -> Vec<Item> {
    let panel = model.panel;
    let corners = [[0, 0], [1, 0], [1, 1], [0, 1]]
        .map(|[u, v]| view.at([f64::from(u) * model.size[0], f64::from(v) * model.size[1]]));
    let waste = view.rings(&panel.waste(model.size));
    let hatched = hatch::parallel(&waste, 45.0, PITCH, 0.0);
    for segment in &hatched {
        taken.add_line(*segment, 0.4);
    }
    taken.add_ring(&corners, 3.0);
    let mut items: Vec<Item> = pen::lines(&hatched, pen::FINE).into_iter().collect();
    items.push(pen::polygon(&corners, Some(SIDE), None));
    for piece in &panel.pieces {
        for cut in &piece.cuts {
            let points: Vec<Pt> = cut.points.iter().map(|at| view.at(*at)).collect();
            taken.add_run(&points, 3.0);
            items.push(pen::polyline(&points, CUT));
        }
        for lock in &piece.locks {
            let ends = lock.map(|at| view.at(at));
            taken.add_line(ends, 4.0);
            items.push(pen::line(ends[0], ends[1], LOCK));
        }
    }
    for listed in &model.readings.listed {
        for at in &listed.points {
            let at = view.at(*at);
            taken.add_mark(round(at, POINT));
            items.push(pen::circle(at, POINT, None, Some(Colour::BLACK)));
        }
    }
    let corner = view.at([0.0, 0.0]);
    taken.add_mark(round(corner, DOT));
    items.push(pen::circle(corner, DOT, None, Some(Colour::BLACK)));
    items
}

/// The box of a dot.
fn round(centre: Pt, radius: f64) -> Box2 {
    Box2 {
        centre,
        half: radius + 0.2,
        rise: radius + 0.2,
        angle: 0.0,
    }
}

/// The running dimensions of a side.
fn chain(model: &Model, view: &View, side: Side) -> Option<Chain> {
    let hook = side.hook(model.size);
    let read = model.readings.sides.iter().zip(&model.dimensions);
    let read: Vec<(&Reading, &String)> = read.filter(|(r, _)| r.side == side).collect();
    if read.is_empty() {
        return None;
    }
    let (x, y) = view.outward(side);
    let from = view.at(hook);
    let mut end = hook;
    end[side.axis()] += 1.0;
    let to = view.at(end);
    let long = from.distance(to);
    let features = std::iter::once(hook).chain(read.iter().map(|(r, _)| r.of));
    Some(Chain {
        features: features.map(|at| view.at(at)).collect(),
        words: read.iter().map(|(_, words)| (*words).clone()).collect(),
        on: from.moved(x * OFF, y * OFF),
        along: ((to.x - from.x) / long, (to.y - from.y) / long),
        places: Vec::new(),
        origin: Some(Origin::At(0)),
        clear_of: Vec::new(),
    })
}

/// The words of a piece: in it where there is clear room, else beside it on a leader.
fn name(rings: &[Vec<Pt>], words: &str, taken: &Taken) -> Option<Ask> {
    let label = Label {
        face: Face::SemiBold,
        ..Label::note(words)
    };
    let points = inside_points(rings);
    let at = *points.first()?;
    let sides: Vec<[Pt; 2]> = rings
        .iter()
        .flat_map(|ring| {
            let next = ring.iter().cycle().skip(1);
            ring.iter().zip(next).map(|(a, b)| [*a, *b])
        })
        .collect();
    let fits = |p: &&Pt| {
        let bounds = label.box_at(**p).grown(0.8);
        let struck = sides.iter().any(|side| bounds.struck(*side));
        !struck && bounds.corners().iter().all(|c| holds(rings, *c))
    };
    let inside = points.iter().filter(fits).take(INSIDE);
    let mut candidates: Vec<Candidate> = inside
        .enumerate()
        .map(|(rank, p)| Candidate::bare(label.box_at(*p), rank as f64 * 0.05))
        .collect();
    let (wide, high) = label.size();
    let beside = led(taken, at, (wide / 2.0, high / 2.0), 60.0);
    candidates.extend(beside.into_iter().map(|mut candidate| {
        candidate.cost += BESIDE;
        candidate
    }));
    Some(Ask {
        request: Request::new(WORTH, candidates),
        layer: "text",
        drawn: Box::new(move |place| {
            let mut items = label.placed(place);
            if !place.leader.is_empty() {
                items.push(pen::circle(at, 0.4, None, Some(Colour::BLACK)));
            }
            items
        }),
        otherwise: Otherwise::Key {
            at,
            words: Phrase::own(words),
            place: Phrase::default(),
        },
    })
}

/// The box of what is drawn.
fn bounds(item: &Item) -> Rect {
    let nothing = Rect::between(Pt::new(0.0, 0.0), Pt::new(0.0, 0.0));
    match item {
        Item::Group(group) => group
            .items
            .iter()
            .map(bounds)
            .reduce(Rect::union)
            .unwrap_or(nothing),
        Item::Path(path) => {
            let pen = path.stroke.map_or(0.0, |stroke| stroke.width.mm() / 2.0);
            path.reach().map_or(nothing, |rect| rect.grown(pen))
        }
        Item::Text(text) => Box2::of_text(
            text.at,
            text.anchor,
            text.angle,
            text.height.0,
            text.face,
            &text.text,
        )
        .bounds(),
    }
}

/// The signs of a diagram, each in a table's symbol cell of that width and height.
pub fn signs([wide, high]: [f64; 2]) -> [Vec<Item>; 4] {
    let middle = high / 2.0;
    let across = |stroke| {
        vec![pen::line(
            Pt::new(0.6, middle),
            Pt::new(wide - 1.0, middle),
            stroke,
        )]
    };
    let ring = hatch::rectangle(Pt::new(0.6, 0.3), Pt::new(wide - 1.0, high - 0.3));
    let hatched = hatch::parallel(std::slice::from_ref(&ring), 45.0, PITCH, 0.0);
    let mut waste: Vec<Item> = pen::lines(&hatched, pen::FINE).into_iter().collect();
    waste.push(pen::polygon(&ring, Some(SIDE), None));
    [
        across(CUT),
        vec![figure::view("cutting-key", across(LOCK))],
        waste,
        vec![pen::circle(
            Pt::new(wide / 2.0, middle),
            DOT,
            None,
            Some(Colour::BLACK),
        )],
    ]
}
