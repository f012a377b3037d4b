//! Tags: which text of a page belongs together, and the structure that says so to a reader.
//!
//! In: the runs of text of each page in painting order. Out: a structure tree (ISO 32000-1, 14.7
//! and 14.8): the document, a section for each sheet, in it a section for each of its groups, and
//! paragraphs. Runs that follow one another on one line, as the cells of a row, or line under
//! line, as a wrapped sentence, are one paragraph. What is no text is an artifact: the drawing
//! itself says nothing that could be read aloud.

use lopdf::{Dictionary, Document, Object, ObjectId, dictionary, text_string};

use super::patch::name;
use crate::draw::{Anchor, Text};

/// Farthest that the next line of a paragraph stands below, in capital heights.
const LINE: f64 = 1.75;
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
    /// Numbers of the runs of each paragraph.
    paragraphs: Vec<Vec<usize>>,
}

impl Tagged {
    /// Begins a section; one that gets no text leaves no trace.
    pub(super) fn section(&mut self, title: &str) {
        self.sections.push(Section {
            title: title.to_string(),
            paragraphs: Vec::new(),
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
        self.last = Some(text.clone());
        if let Some(section) = self.sections.last_mut() {
            match section.paragraphs.last_mut().filter(|_| joins) {
                Some(paragraph) => paragraph.push(number),
                None => section.paragraphs.push(vec![number]),
            }
        }
        number
    }
}

/// Whether a run goes on where another ends: on its line, or on the next one of its column.
fn follows(last: &Text, next: &Text) -> bool {
    if last.angle != next.angle || last.height != next.height {
        return false;
    }
    if last.angle != 0.0 {
        return false;
    }
    let down = next.at.y - last.at.y;
    let on_line = down.abs() < SAME && next.at.x > last.at.x;
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
        let sections = tagged.sections.iter().filter(|s| !s.paragraphs.is_empty());
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

/// Adds a section with its paragraphs, and notes which of them each run belongs to.
fn add_section(
    document: &mut Document,
    section: &Section,
    sheet: ObjectId,
    page: ObjectId,
    owners: &mut [Object],
) -> Object {
    let own = document.new_object_id();
    let mut kids = Vec::new();
    for runs in &section.paragraphs {
        let marks = runs.iter().map(|run| Object::Integer(*run as i64));
        let mut paragraph = element("P", own, None, marks.collect());
        paragraph.set("Pg", Object::Reference(page));
        let id = document.add_object(paragraph);
        for run in runs {
            owners[*run] = Object::Reference(id);
        }
        kids.push(Object::Reference(id));
    }
    let element = element("Sect", sheet, Some(&section.title), kids);
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
