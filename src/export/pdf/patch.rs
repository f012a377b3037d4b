//! The finishing of a built document: version, catalog, layers, metadata, `/ID`, compression.
//!
//! In: the document as `printpdf` builds it. Out: the bytes of the file. Entries are those of
//! ISO 32000-1: catalog (7.7.2), viewer preferences (12.2), optional content (8.11), document
//! information (14.3.3), file identifier (14.4).

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat, dictionary, text_string};

use super::{Meta, deflate, xmp};
use crate::draw::{Face, Layer, font};

/// The program's name in the file.
pub(super) const CREATOR: &str = "groundsheet";

/// The bytes of the finished file.
pub(super) fn finished(mut document: Document, layers: &[Layer], meta: &Meta) -> Vec<u8> {
    document.version = "1.7".to_string();
    set_layers(&mut document, layers);
    set_catalog(&mut document, meta);
    set_information(&mut document, meta);
    xmp::set(&mut document, meta);
    set_pages(&mut document);
    document.trailer.remove(b"ID");
    document.prune_objects();
    document.renumber_objects();
    compress(&mut document);

    let digest = hash(&saved(&mut document));
    let id = Object::String(digest.to_be_bytes().to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    saved(&mut document)
}

/// A 128-bit hash (FNV-1a): the same bytes give the same file identifier.
pub(super) fn hash(bytes: &[u8]) -> u128 {
    const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    bytes.iter().fold(BASIS, |sum, &byte| {
        (sum ^ u128::from(byte)).wrapping_mul(PRIME)
    })
}

fn saved(document: &mut Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document
        .save_to(&mut bytes)
        .expect("writing to memory does not fail");
    bytes
}

fn set_catalog(document: &mut Document, meta: &Meta) {
    let several = document.get_pages().len() > 1;
    let catalog = document
        .catalog_mut()
        .expect("a built document has a catalog");
    let mode = if several { "UseOutlines" } else { "UseNone" };
    catalog.set("PageMode", name(mode));
    catalog.set("PageLayout", name("SinglePage"));
    catalog.set(
        "ViewerPreferences",
        dictionary! { "DisplayDocTitle" => true, "PrintScaling" => name("None") },
    );
    // Page labels (12.4.2): the page is called what the title block calls the sheet.
    let label = dictionary! { "S" => name("D"), "P" => text_string("Sheet "), "St" => 1 };
    let labels = dictionary! { "Nums" => vec![Object::Integer(0), Object::Dictionary(label)] };
    catalog.set("PageLabels", labels);
    if !meta.language.is_empty() {
        catalog.set("Lang", text_string(&meta.language));
    }
}

/// Rewrites the optional-content entries: names as text strings, one default configuration in
/// which every layer is on, shown and printed.
fn set_layers(document: &mut Document, layers: &[Layer]) {
    let Some(groups) = layer_ids(document) else {
        return;
    };
    for (&id, layer) in groups.iter().zip(layers) {
        let group = dictionary! {
            "Type" => name("OCG"),
            "Name" => text_string(&layer.title),
            "Intent" => vec![name("View"), name("Design")],
            "Usage" => dictionary! {
                "CreatorInfo" => dictionary! {
                    "Creator" => text_string(CREATOR),
                    "Subtype" => name("Artwork"),
                },
                "Print" => dictionary! { "PrintState" => name("ON") },
            },
        };
        document.objects.insert(id, group.into());
    }
    let list: Vec<Object> = groups.into_iter().map(Object::Reference).collect();
    let print = dictionary! {
        "Event" => name("Print"),
        "OCGs" => list.clone(),
        "Category" => vec![name("Print")],
    };
    let properties = dictionary! {
        "OCGs" => list.clone(),
        "D" => dictionary! {
            "Name" => text_string("Layers"),
            "BaseState" => name("ON"),
            "Order" => list.clone(),
            "ON" => list,
            "AS" => vec![Object::Dictionary(print)],
        },
    };
    if let Ok(catalog) = document.catalog_mut() {
        catalog.set("OCProperties", properties);
    }
}

/// The layers' objects in order; none when the document has no layers.
fn layer_ids(document: &Document) -> Option<Vec<ObjectId>> {
    let properties = document.catalog().ok()?.get(b"OCProperties").ok()?;
    let groups = properties.as_dict().ok()?.get(b"OCGs").ok()?;
    groups
        .as_array()
        .ok()?
        .iter()
        .map(|group| group.as_reference().ok())
        .collect()
}

fn set_information(document: &mut Document, meta: &Meta) {
    let mut information = dictionary! {
        "Title" => text_string(&meta.title),
        "Creator" => text_string(CREATOR),
        "Producer" => text_string(CREATOR),
    };
    for (key, value) in [("Author", &meta.author), ("Subject", &meta.subject)] {
        if !value.is_empty() {
            information.set(key, text_string(value));
        }
    }
    if let Some(date) = meta.date.as_deref().and_then(pdf_date) {
        information.set("CreationDate", Object::string_literal(date));
    }
    let id = document.add_object(information);
    document.trailer.set("Info", id);
}

/// `2026-05-01` as `D:20260501`; none for what is not of that form.
fn pdf_date(date: &str) -> Option<String> {
    let parts: Vec<&str> = date.split('-').collect();
    let lengths: Vec<usize> = parts.iter().map(|p| p.len()).collect();
    let digits = parts.concat();
    let plain = lengths == [4, 2, 2] && digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| format!("D:{digits}"))
}

/// Drops empty annotation lists and states the faces' true capital height.
fn set_pages(document: &mut Document) {
    for object in document.objects.values_mut() {
        let Object::Dictionary(entries) = object else {
            continue;
        };
        if entries.has_type(b"Page") {
            entries.remove(b"Annots");
        }
        if entries.has_type(b"FontDescriptor") {
            set_capital_height(entries);
        }
    }
}

fn set_capital_height(descriptor: &mut Dictionary) {
    let ratio = font::cap_ratio(Face::Regular);
    descriptor.set("CapHeight", (ratio * 1000.0).round() as i64);
}

/// Deflates every stream that is not yet.
fn compress(document: &mut Document) {
    let objects = document.objects.values_mut();
    let mut plain: Vec<_> = objects
        .filter_map(|object| object.as_stream_mut().ok())
        .filter(|stream| !stream.dict.has(b"Filter"))
        .collect();
    let contents: Vec<&[u8]> = plain.iter().map(|stream| &stream.content[..]).collect();
    let packed = deflate::packed(&contents);
    for (stream, packed) in plain.iter_mut().zip(packed) {
        stream.dict.set("Filter", name("FlateDecode"));
        stream.set_content(packed);
    }
}

pub(super) fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}
