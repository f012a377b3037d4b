//! A landing with measurements, and what its printed tables and plans say.

use groundsheet::design::Design;
use groundsheet::draw::paper::Rect;
use groundsheet::draw::scale::{Placing, Scale};
use groundsheet::draw::{Item, Pt, Text};
use groundsheet::geom::Point;
use groundsheet::job;
use groundsheet::sheet::column::{Block, Entry};
use groundsheet::sheet::table::Table;
use groundsheet::sheet::{from_plan, plan, setout_plan};
use groundsheet::units::Length;

use super::said::in_every_language;

/// Millimetres in a foot.
pub const FOOT: f64 = 304.8;
/// Millimetres in an inch.
pub const INCH: f64 = 25.4;

/// The words of a job's errors, with their codes and lines.
pub fn refused(yaml: &str) -> String {
    let errors = job::read(yaml.as_bytes()).map_err(in_every_language);
    let errors = errors.expect_err("the job is refused");
    errors
        .iter()
        .map(|e| {
            format!(
                "{}: {} (line {})\n",
                e.code,
                e.found,
                e.place.map_or(0, |p| p.line)
            )
        })
        .collect()
}

/// A job with a landing and more of `site` and `levels`.
pub fn landing(site: &str, levels: &str) -> String {
    format!(
        "job: {{title: Landing}}\n\
         site:\n{site}\n\
         paving:\n  - name: Landing\n    outline: [[0, 0], [14', 0], [14', 12'], [0, 12']]\n\
        \x20   edges: {{A-B: wall}}\n\
         pavers:\n  field: {{size: [8\", 4\"], thickness: 3 1/8\"}}\n\
         levels: {{finish: {{at: A, level: 99.5', fall: 2%, away_from: A-B}}{levels}}}\n"
    )
}

/// The last table of the block whose title begins so.
pub fn table_of<'a>(blocks: &'a [Block], title: &str) -> &'a Table {
    let block = blocks
        .iter()
        .find(|block| block.title.starts_with(title))
        .unwrap_or_else(|| panic!("no block {title}"));
    let mut tables = block.entries.iter().filter_map(|entry| match entry {
        Entry::Table(table) => Some(table),
        _ => None,
    });
    tables.next_back().expect("the block holds a table")
}

/// A printed length in millimetres.
pub fn read_length(text: &str) -> f64 {
    Length::parse(text)
        .unwrap_or_else(|e| panic!("{text}: {e:?}"))
        .mm()
}

/// A dimension of a plan in millimetres: a length, or so many millimetres.
pub fn read_dimension(text: &str) -> f64 {
    let plain = text.replace('−', "-");
    plain.parse().unwrap_or_else(|_| read_length(text))
}

/// The sights of a field book, each line as a job writes it.
pub fn sights(lines: &[&str]) -> String {
    lines
        .iter()
        .map(|line| format!("      - {{{line}}}\n"))
        .collect()
}

/// Every text under some items, in painting order.
pub fn texts(items: &[Item]) -> Vec<Text> {
    let inner = items.iter().flat_map(|item| match item {
        Item::Group(group) => texts(&group.items),
        Item::Text(text) => vec![text.clone()],
        Item::Path(_) => Vec::new(),
    });
    inner.collect()
}

/// The plan of the set-out with room all round, at 1:24: its letters, and where places of the site
/// stand on it. `blocks` are the tables beside it.
pub fn drawn(design: &Design, blocks: Vec<Block>) -> (Placing, Vec<Text>) {
    let sheet = setout_plan::sheet(design, &from_plan::plan(design), blocks);
    let model = sheet.plan.expect("the sheet has a plan");
    let corners = design.setout.iter().map(|row| row.at);
    let sum = corners.fold(Point::default(), |sum, at| {
        Point::new(sum.x + at.x, sum.y + at.y)
    });
    let count = design.setout.len() as f64;
    let zone = Rect::between(Pt::new(0.0, 0.0), Pt::new(1600.0, 1600.0));
    let middle = Point::new(sum.x / count, sum.y / count);
    let placing = Scale::one_to(24.0).placed(middle, zone.centre());
    let texts = texts(&plan::draw(&model, &placing, zone, &[]).items);
    (placing, texts)
}
