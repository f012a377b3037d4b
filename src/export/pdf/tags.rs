//! Tags: which text of a page belongs together, and the structure that says so to a reader.
//!
//! In: the runs of text of each page in painting order. Out: a structure tree (ISO 32000-1, 14.7
//! and 14.8): the document, a section for each sheet, in it a section for each of its groups, and
//! paragraphs and tables. Runs that follow one another on one line, or line under line, as a
//! wrapped sentence, are one paragraph. Tables have rows of heading and data cells, as many in each
//! row; headings head their columns (14.8.4.3.4). What is no text is an artifact: the drawing
//! itself says nothing that could be read aloud.

use lopdf::{Dictionary, Document, Object, ObjectId, dictionary, text_string};

use super::patch::name;
use crate::draw::{Anchor, Cell, Text};

/// Farthest that the next line of a paragraph stands below, in capital heights.
const LINE: f64 = 1.75;
/// Farthest that the next run on a line begins to the right, in capital heights: the breadth of a
/// text column.
const ON_LINE: f64 = 45.0;
/// Baselines nearer than this are one, in millimetres.
const SAME: f64 = 0.05;

/// The tagged text of a page.
#[derive(Clone, Debug, Default)]
pub(super) struct Tagged {
    /// Its sections in order.
    sections: Vec<Section>,
    /// How many runs it has; each is marked with its number.
    count: usize,
    /// The run before.
    last: Option<Text>,
}

/// The text of one group of a page.
#[derive(Clone, Debug)]
struct Section {
    title: String,
    parts: Vec<Part>,
}

/// What belongs together in a section.
#[derive(Clone, Debug)]
enum Part {
    /// Numbers of the runs of a paragraph.
    Paragraph(Vec<usize>),
    /// Cells of a table, row by row, with the numbers of their runs.
    Table(Vec<(Cell, Vec<usize>)>),
}

/// What the runs of a cell, or outside tables, are called.
pub(super) fn kind(cell: Option<Cell>) -> &'static str {
    match cell {
        None => "P",
        Some(cell) if cell.head => "TH",
        Some(_) => "TD",
    }
}

impl Tagged {
    /// Begins a section; one that gets no text leaves no trace.
    pub(super) fn section(&mut self, title: &str) {
        self.sections.push(Section {
            title: title.to_string(),
            parts: Vec::new(),
        });
        self.last = None;
    }

    /// Adds a run; gives its number.
    pub(super) fn add(&mut self, text: &Text) -> usize {
        if self.sections.is_empty() {
            self.section("");
        }
        let number = self.count;
        self.count += 1;
        let joins = self.last.as_ref().is_some_and(|last| follows(last, text));
        self.last = Some(text.clone()).filter(|text| text.cell.is_none());
        if let Some(section) = self.sections.last_mut() {
            match (text.cell, section.parts.last_mut()) {
                (Some(cell), last) => match last {
                    Some(Part::Table(cells)) if goes_on(cells, cell) => join(cells, cell, number),
                    _ => section.parts.push(Part::Table(vec![(cell, vec![number])])),
                },
                (None, Some(Part::Paragraph(runs))) if joins => runs.push(number),
                (None, _) => section.parts.push(Part::Paragraph(vec![number])),
            }
        }
        number
    }
}

/// Whether a cell belongs to a table: one that comes before its last cell begins another table.
fn goes_on(cells: &[(Cell, Vec<usize>)], next: Cell) -> bool {
    cells.last().is_some_and(|(last, _)| {
        let place = |cell: &Cell| (cell.row, cell.column);
        last.columns == next.columns && place(last) <= place(&next)
    })
}

/// Adds a run to its cell.
fn join(cells: &mut Vec<(Cell, Vec<usize>)>, cell: Cell, number: usize) {
    match cells.last_mut() {
        Some((last, runs)) if *last == cell => runs.push(number),
        _ => cells.push((cell, vec![number])),
    }
}

/// Whether a run goes on where another ends: on its line, or on the next one of its column.
fn follows(last: &Text, next: &Text) -> bool {
    if last.angle != 0.0 || next.angle != 0.0 || last.height != next.height {
        return false;
    }
    let down = next.at.y - last.at.y;
    let right = next.at.x - last.at.x;
    let on_line = down.abs() < SAME && right > 0.0 && right <= ON_LINE * last.height.0;
    let below = down > SAME && down <= LINE * last.height.0;
    let flush = (next.at.x - last.at.x).abs() < SAME
        && last.anchor == Anchor::Start
        && next.anchor == Anchor::Start;
    on_line || (below && flush && last.face == next.face)
}

/// Sets the structure of the pages, which are in the document's order, with their titles.
pub(super) fn set(document: &mut Document, pages: &[Tagged], titles: &[String]) {
    let root = document.new_object_id();
    let whole = document.new_object_id();
    let ids: Vec<ObjectId> = document.get_pages().into_values().collect();
    let mut kids = Vec::new();
    let mut parents = Vec::new();
    for (index, ((page, tagged), title)) in ids.iter().zip(pages).zip(titles).enumerate() {
        let sheet = document.new_object_id();
        let mut owners = vec![Object::Null; tagged.count];
        let sections = tagged.sections.iter().filter(|s| !s.parts.is_empty());
        let sections: Vec<Object> = sections
            .map(|section| add_section(document, section, sheet, *page, &mut owners))
            .collect();
        let element = element("Sect", whole, Some(title), sections);
        document.objects.insert(sheet, element.into());
        kids.push(Object::Reference(sheet));
        let list = document.add_object(owners);
        parents.extend([Object::Integer(index as i64), Object::Reference(list)]);
        if let Ok(entries) = document.get_object_mut(*page).and_then(Object::as_dict_mut) {
            entries.set("StructParents", index as i64);
            entries.set("Tabs", name("S"));
        }
    }
    let element = element("Document", root, None, kids);
    document.objects.insert(whole, element.into());
    let tree = document.add_object(dictionary! { "Nums" => parents });
    let structure = dictionary! {
        "Type" => name("StructTreeRoot"),
        "K" => Object::Reference(whole),
        "ParentTree" => Object::Reference(tree),
        "ParentTreeNextKey" => ids.len() as i64,
    };
    document.objects.insert(root, structure.into());
    if let Ok(catalog) = document.catalog_mut() {
        catalog.set("StructTreeRoot", Object::Reference(root));
        catalog.set("MarkInfo", dictionary! { "Marked" => true });
    }
}

/// Adds a section with its parts, and notes which of their elements each run belongs to.
fn add_section(
    document: &mut Document,
    section: &Section,
    sheet: ObjectId,
    page: ObjectId,
    owners: &mut [Object],
) -> Object {
    let own = document.new_object_id();
    let mut kids = Vec::new();
    for part in &section.parts {
        kids.push(match part {
            Part::Paragraph(runs) => add_runs(document, "P", runs, own, page, owners),
            Part::Table(cells) => add_table(document, cells, own, page, owners),
        });
    }
    let element = element("Sect", sheet, Some(&section.title), kids);
    document.objects.insert(own, element.into());
    Object::Reference(own)
}

/// Adds an element that holds runs, and notes that they belong to it.
fn add_runs(
    document: &mut Document,
    kind: &str,
    runs: &[usize],
    parent: ObjectId,
    page: ObjectId,
    owners: &mut [Object],
) -> Object {
    let marks = runs.iter().map(|run| Object::Integer(*run as i64));
    let mut holder = element(kind, parent, None, marks.collect());
    holder.set("Pg", Object::Reference(page));
    if kind == "TH" {
        holder.set(
            "A",
            dictionary! { "O" => name("Table"), "Scope" => name("Column") },
        );
    }
    let id = document.add_object(holder);
    for run in runs {
        owners[*run] = Object::Reference(id);
    }
    Object::Reference(id)
}

/// Adds a table; cells without words are there too, so that every row has as many.
fn add_table(
    document: &mut Document,
    cells: &[(Cell, Vec<usize>)],
    parent: ObjectId,
    page: ObjectId,
    owners: &mut [Object],
) -> Object {
    let own = document.new_object_id();
    let mut rows = Vec::new();
    for row in cells.chunk_by(|(one, _), (next, _)| one.row == next.row) {
        let id = document.new_object_id();
        let (first, _) = row[0];
        let mut kids = Vec::new();
        for column in 0..first.columns {
            let found = row.iter().find(|(cell, _)| cell.column == column);
            let runs = found.map(|(_, runs)| &runs[..]).unwrap_or_default();
            let kind = kind(Some(first));
            kids.push(add_runs(document, kind, runs, id, page, owners));
        }
        let element = element("TR", own, None, kids);
        document.objects.insert(id, element.into());
        rows.push(Object::Reference(id));
    }
    let element = element("Table", parent, None, rows);
    document.objects.insert(own, element.into());
    Object::Reference(own)
}

fn element(kind: &str, parent: ObjectId, title: Option<&str>, kids: Vec<Object>) -> Dictionary {
    let mut entries = dictionary! {
        "Type" => name("StructElem"),
        "S" => name(kind),
        "P" => Object::Reference(parent),
        "K" => kids,
    };
    if let Some(title) = title.filter(|title| !title.is_empty()) {
        entries.set("T", text_string(title));
    }
    entries
}
