//! The geotextile before it is cut: its strips over the dig on a small plan, where they lap, and how
//! long each comes off the roll.
//!
//! In: design. Out: a block with a drawing to scale, the same way up as the plan; none where nothing
//! is dug. Left out: the turn-up at the sides, which the lengths include.

use super::column::{Block, Entry, Parting};
use super::figure::{self, Figure};
use super::from_plan::shape_rings;
use super::lettering::NOTE;
use super::symbol::scale_words;
use super::words::long;
use super::{hatch, pen, plan};
use crate::design::Design;
use crate::draw::paper::Rect;
use crate::draw::scale::{Placing, Scale};
use crate::draw::{Anchor, Colour, Item, LineWidth, Mm, Pt, Stroke};
use crate::geom::{Bounds, Point, Shape, clip};
use crate::language::say;
use crate::textile::Strip;

/// Largest that the dig is drawn, along and up the paper.
const LARGEST: [f64; 2] = [64.0, 40.0];
/// Room round the dig for the numbers of the strips.
const ROOM: f64 = 5.0;
/// Distance of a number from the end of its strip.
const OFF: f64 = 2.6;
/// Closest that two numbers stand.
const CLOSEST: f64 = 4.0;
/// Pitch of the hatch of a lap.
const PITCH: f64 = 1.5;
/// The edge of a strip.
const STRIP: Stroke = pen::solid(LineWidth::W25, Colour::BLACK);

/// The block of the geotextile.
pub fn block(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let (figure, scale) = figure(design)?;
    let title = say!(
        languages,
        "Geotextile strips, {scale}",
        scale = scale_words(&scale)
    );
    Some(Block {
        title,
        entries: vec![Entry::Figures(vec![figure])],
        parting: Parting::Whole,
    })
}

/// What each strip takes off the roll, those that follow one another and are cut alike in one line,
/// and how they lap.
fn notes(design: &Design) -> Vec<String> {
    let languages = design.job.sheet.languages;
    let strips = &design.textile.strips;
    let cut = |strip: &Strip| {
        let pieces = strip.pieces.iter().map(|mm| long(design, *mm));
        pieces.collect::<Vec<_>>().join(" + ")
    };
    let cuts: Vec<String> = strips.iter().map(cut).collect();
    let mut lines = Vec::new();
    let mut before = 0;
    for alike in cuts.chunk_by(|a, b| a == b) {
        let (first, last) = (before + 1, before + alike.len());
        let cut = &alike[0];
        lines.push(if first == last {
            say!(languages, "{first}: {cut} off the roll", first, cut)
        } else {
            say!(
                languages,
                "{first} to {last}: {cut} off the roll each",
                first,
                last,
                cut
            )
        });
        before = last;
    }
    if strips.len() > 1 {
        let lap = long(design, design.job.textile.overlap);
        lines.push(say!(languages, "Hatched: laps of {lap}", lap));
    }
    lines
}

/// The drawing and its scale.
fn figure(design: &Design) -> Option<(Figure, Scale)> {
    let strips = &design.textile.strips;
    let dig = &design.extents.dig.shape;
    let drawn = strips.iter().map(|strip| &strip.outline).chain([dig]);
    let bounds = drawn.filter_map(clip::bounds).reduce(Bounds::union)?;
    let size = [bounds.max.x - bounds.min.x, bounds.max.y - bounds.min.y];
    if strips.is_empty() {
        return None;
    }
    let fits = |scale: &Scale| (0..2).all(|axis| size[axis] / scale.ratio <= LARGEST[axis]);
    let mut standard = Scale::standard(design.job.sheet.units);
    let smallest = standard.pop()?;
    let scale = standard.into_iter().find(fits).unwrap_or(smallest);
    let [wide, high] = size.map(|mm| scale.to_paper(mm).0 + 2.0 * ROOM);
    let placing = scale.placed(Point::new(bounds.min.x, bounds.max.y), Pt::new(ROOM, ROOM));
    let rings = |shape: &Shape| -> Vec<Vec<Pt>> {
        let rings = shape_rings(shape).into_iter();
        rings
            .map(|ring| ring.into_iter().map(|p| placing.at(p)).collect())
            .collect()
    };
    let mut items: Vec<Item> = Vec::new();
    for pair in strips.windows(2) {
        let lap = rings(&clip::intersection(&pair[0].outline, &pair[1].outline));
        items.extend(pen::lines(
            &hatch::parallel(&lap, 45.0, PITCH, 0.0),
            pen::FINE,
        ));
    }
    for ring in strips.iter().flat_map(|strip| rings(&strip.outline)) {
        items.push(pen::polygon(&ring, Some(STRIP), None));
    }
    for ring in rings(dig) {
        items.push(pen::polygon(&ring, Some(plan::DIG), None));
    }
    items.extend(numbers(design, &placing));
    let extent = Rect::between(Pt::new(0.0, 0.0), Pt::new(wide, high));
    let figure = Figure {
        width: extent.width(),
        height: extent.height(),
        items: vec![figure::view("geotextile", items)],
        notes: notes(design),
        ..Figure::default()
    };
    Some((figure, scale))
}

/// The number of each strip before its beginning, or of every so many where they would crowd; clear of
/// the strips beside it that begin earlier.
fn numbers(design: &Design, placing: &Placing) -> Vec<Item> {
    let along = design.textile.along;
    let spec = &design.job.textile;
    let paper = |mm: f64| placing.scale().to_paper(mm).0;
    let step = paper(spec.roll_width - spec.overlap).max(0.1);
    let every = (CLOSEST / step).ceil().max(1.0) as usize;
    let across = along.left();
    let strips: Vec<Begin> = design.textile.strips.iter().filter_map(begin).collect();
    let clear = placing.scale().to_site(Mm(CLOSEST / 2.0));
    (0..strips.len())
        .step_by(every)
        .map(|index| {
            let middle = strips[index].right.midpoint(strips[index].left);
            let from = |at: Point| (at - middle).dot(across);
            let beside = strips
                .iter()
                .filter(|other| from(other.right) < clear && from(other.left) > -clear);
            let ahead = beside.map(|other| (other.right - middle).dot(along));
            let at = placing.at(middle + along * ahead.fold(0.0, f64::min));
            let at = at.moved(-along.x * OFF, along.y * OFF + NOTE / 2.0);
            pen::text(at, NOTE, Anchor::Middle, &(index + 1).to_string())
        })
        .collect()
}

/// The ends of the side at which a strip begins, seen along the strip.
struct Begin {
    right: Point,
    left: Point,
}

/// Where a strip begins: its ring goes from the right end of that side and ends at the left one.
fn begin(strip: &Strip) -> Option<Begin> {
    let ring = shape_rings(&strip.outline).into_iter().next()?;
    Some(Begin {
        right: *ring.first()?,
        left: *ring.last()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A dig of 7.3 m by 5.3 m under rolls 4 m wide that lap 0.3 m: two strips of 5.3 m across.
    #[test]
    fn strips_are_drawn_to_scale_and_said_by_length() {
        let job = crate::job::read(
            b"job: {title: Strips}
sheet: {units: metric}
paving: [{name: Patio, rectangle: {corner: [0, 0], width: 7 m, depth: 5 m}}]
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
geotextile: {roll_width: 4 m, overlap: 300 mm}
base: {extension: 150 mm}
levels: {finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}}
",
        )
        .expect("a job");
        let design = crate::design::run(job).expect("a design");
        let wanted = [
            "1 to 2: 5300 mm off the roll each",
            "Hatched: laps of 300 mm",
        ];
        assert_eq!(notes(&design), wanted);
        let (figure, scale) = figure(&design).expect("a drawing");
        let drawn = [figure.width, figure.height].map(|mm| (mm - 2.0 * ROOM) * scale.ratio);
        assert!((drawn[0] - 7300.0).abs() < 1.0 && (drawn[1] - 5300.0).abs() < 1.0);
        let Item::Group(view) = &figure.items[0] else {
            panic!("a view")
        };
        let numbers = view.items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text.text.clone()),
            _ => None,
        });
        assert_eq!(numbers.collect::<Vec<_>>(), ["1", "2"]);
    }
}
