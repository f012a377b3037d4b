//! Display lists to one PDF file, a page to a sheet.
//!
//! In: sheets and what the file says about itself. Out: the bytes of a PDF 1.7 file (ISO 32000-1)
//! at true size: page boxes are the sheet in points (1/72 inch), layers are optional content in
//! the sheets' order, text is searchable in embedded cut-down faces, several sheets get an outline
//! entry each, pages are called after their sheets, and viewers are asked not to scale prints.
//! Coordinates are rounded to 0.001 pt.
//!
//! `printpdf` builds the document; `patch` then sets in its `lopdf` form what it leaves
//! open. No clock and no chance: `/ID` is a hash of the content. Text is tagged in
//! reading order (`tags`), tables as tables, and the file carries its metadata in XMP too (`xmp`).
//! Left out: PDF/A, links.

mod deflate;
mod page;
mod patch;
mod tags;
mod xmp;

use std::collections::{BTreeMap, BTreeSet};

use printpdf::{
    FontId, Layer as PdfLayer, LayerIntent, LayerInternalId, LayerSubtype, PageAnnotId,
    PageAnnotation, ParsedFont, PdfDocument, PdfFont, PdfPage, PdfSaveOptions, Rect,
};

use tags::Tagged;

use super::face;
use crate::draw::{Face, Item, Layer, Mm, Sheet, font};

/// What a file says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Meta {
    /// Title of the document.
    pub title: String,
    /// Who made the drawing; empty when not stated.
    pub author: String,
    /// What it is about; empty when not stated.
    pub subject: String,
    /// The drawing's own date as `2026-05-01`; none when not stated. Never the day of printing.
    pub date: Option<String>,
    /// Language of the text (BCP 47), such as `en`.
    pub language: String,
}

/// The sheets as the bytes of a PDF file.
///
/// Characters that the bundled faces lack are drawn as `?`. A group on a layer inside a group on
/// another layer shows when both are on.
pub fn pdf(sheets: &[Sheet], meta: &Meta) -> Vec<u8> {
    let layers = all_layers(sheets);
    let mut document = PdfDocument::new(&meta.title);
    for (face, chars) in face::used(sheets) {
        document
            .resources
            .fonts
            .map
            .insert(font_id(face), embedded(face, &chars));
    }
    for (index, layer) in layers.iter().enumerate() {
        document.resources.layers.map.insert(
            layer_id(index),
            PdfLayer {
                name: layer.title.clone(),
                creator: patch::CREATOR.to_string(),
                intent: LayerIntent::Design,
                usage: LayerSubtype::Artwork,
            },
        );
    }
    let order: BTreeMap<&str, LayerInternalId> = layers
        .iter()
        .enumerate()
        .map(|(index, layer)| (layer.id.as_str(), layer_id(index)))
        .collect();
    let (pages, tagged): (Vec<PdfPage>, Vec<Tagged>) = sheets
        .iter()
        .map(|sheet| {
            let size = Rect::from_wh(page::points(sheet.width), page::points(sheet.height));
            let (ops, tagged) = page::operations(sheet, &order);
            let page = PdfPage {
                media_box: size.clone(),
                trim_box: size.clone(),
                crop_box: size,
                ops,
            };
            (page, tagged)
        })
        .unzip();
    document.pages = pages;
    if sheets.len() > 1 {
        for (index, sheet) in sheets.iter().enumerate() {
            let entry = PageAnnotation {
                name: sheet.title.clone(),
                page: index + 1,
            };
            let id = PageAnnotId(format!("sheet{index:05}"));
            document.bookmarks.map.insert(id, entry);
        }
    }
    // The path operators go through as they are, hence not `secure`, which drops them.
    let options = PdfSaveOptions {
        optimize: false,
        subset_fonts: false,
        secure: false,
        image_optimization: None,
    };
    let mut built = document.to_lopdf_document(&options, &mut Vec::new());
    let titles: Vec<String> = sheets.iter().map(|sheet| sheet.title.clone()).collect();
    tags::set(&mut built, &tagged, &titles);
    patch::finished(built, &layers, meta)
}

/// The layers of all sheets, each once, in order of first appearance; layers that only groups
/// name come last under their id.
fn all_layers(sheets: &[Sheet]) -> Vec<Layer> {
    let mut layers: Vec<Layer> = Vec::new();
    for layer in sheets.iter().flat_map(|s| &s.layers) {
        if !layers.iter().any(|known| known.id == layer.id) {
            layers.push(layer.clone());
        }
    }
    for sheet in sheets {
        undeclared(&sheet.items, &mut layers);
    }
    layers
}

fn undeclared(items: &[Item], layers: &mut Vec<Layer>) {
    for item in items {
        let Item::Group(group) = item else { continue };
        if let Some(id) = &group.layer
            && !layers.iter().any(|known| known.id == *id)
        {
            layers.push(Layer {
                id: id.clone(),
                title: id.clone(),
            });
        }
        undeclared(&group.items, layers);
    }
}

/// A face cut down to the given characters, with its character map and metrics.
fn embedded(face: Face, chars: &BTreeSet<char>) -> PdfFont {
    let subset = face::subset(face, chars);
    let mut parsed = ParsedFont::from_bytes(&subset.file, 0, &mut Vec::new())
        .expect("a cut-down face can be read");
    for (&c, &glyph) in &subset.glyphs {
        parsed.set_codepoint_mapping(u32::from(c), glyph);
    }
    parsed.font_name = Some(format!("{}+{}", tag(chars), post_script_name(face)));
    parsed.pdf_font_metrics.us_weight_class = match face {
        Face::Regular => 400,
        Face::SemiBold => 600,
    };
    PdfFont::new(parsed)
}

/// Six capital letters that stand for the set of characters (ISO 32000-1, 9.6.4).
fn tag(chars: &BTreeSet<char>) -> String {
    let listed: String = chars.iter().collect();
    let mut rest = patch::hash(listed.as_bytes());
    (0..6)
        .map(|_| {
            let letter = b'A' + (rest % 26) as u8;
            rest /= 26;
            char::from(letter)
        })
        .collect()
}

fn post_script_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "IBMPlexSansCond-Regular",
        Face::SemiBold => "IBMPlexSansCond-SemiBold",
    }
}

/// Resource name of a face; it must not be one of `F1` to `F14`.
fn font_id(face: Face) -> FontId {
    match face {
        Face::Regular => FontId("Regular".to_string()),
        Face::SemiBold => FontId("SemiBold".to_string()),
    }
}

/// Resource name of a layer; names sort in the order of the layers.
fn layer_id(index: usize) -> LayerInternalId {
    LayerInternalId(format!("Layer{index:05}"))
}

/// Size of the em of a text.
fn em(face: Face, height: Mm) -> printpdf::Pt {
    page::points(font::size(face, height))
}
