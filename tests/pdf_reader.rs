//! PDF files read back by other readers: `hayro` paints them and `lopdf` gives their text and
//! entries. The picture must agree with the one `resvg` paints of the SVG of the same sheet.

mod made_up;

use groundsheet::draw::{Pt, Sheet};
use groundsheet::export::{Meta, pdf, png, svg};
use groundsheet::sheet::table::{Align, Table};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use lopdf::{Document, Object};
use resvg::tiny_skia::Pixmap;

/// Ten dots to the millimetre.
const DPI: f64 = 254.0;

fn meta() -> Meta {
    Meta {
        title: "Made up – ½".to_string(),
        author: "Nobody".to_string(),
        subject: String::new(),
        date: Some("2026-05-01".to_string()),
        language: "en".to_string(),
    }
}

fn sheets() -> Vec<Sheet> {
    vec![made_up::sheet("Sheet one"), made_up::sheet("Sheet two")]
}

struct Picture {
    width: usize,
    height: usize,
    rgb: Vec<[u8; 3]>,
}

fn painted_by_second_reader(bytes: Vec<u8>) -> Picture {
    let file = Pdf::new(bytes).expect("the second reader takes the file");
    let zoom = (DPI / 72.0) as f32;
    let settings = PixmapSettings {
        x_scale: zoom,
        y_scale: zoom,
        bg_color: WHITE,
    };
    let painting = RenderSettings {
        hinting: false,
        ..RenderSettings::default()
    };
    let page = &file.pages()[0];
    let (width, height) = page.render_dimensions();
    assert!((width - 297.0 * 72.0 / 25.4).abs() < 1e-3, "{width}");
    assert!((height - 210.0 * 72.0 / 25.4).abs() < 1e-3, "{height}");
    let picture = hayro::render(
        page,
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &painting,
        &settings,
    );
    Picture {
        width: usize::from(picture.width()),
        height: usize::from(picture.height()),
        rgb: picture.data().iter().map(|p| [p.r, p.g, p.b]).collect(),
    }
}

fn painted_from_svg(sheet: &Sheet) -> Picture {
    let bytes = png(&svg(sheet), DPI).expect("the SVG renders");
    let picture = Pixmap::decode_png(&bytes).expect("the picture can be read");
    Picture {
        width: picture.width() as usize,
        height: picture.height() as usize,
        rgb: picture
            .pixels()
            .iter()
            .map(|p| [p.red(), p.green(), p.blue()])
            .collect(),
    }
}

/// Dots of `one` that are darker or lighter than all dots of `other` within a dot of the same
/// place, so features that lie more than 0.1 mm apart.
fn astray(one: &Picture, other: &Picture) -> Vec<(usize, usize)> {
    const SLACK: u8 = 48;
    let (width, height) = (one.width.min(other.width), one.height.min(other.height));
    let mut found = Vec::new();
    for y in 1..height - 1 {
        for x in 1..width - 1 {
            let dot = one.rgb[y * one.width + x];
            let same_place = other.rgb[y * other.width + x];
            if (0..3).all(|channel| dot[channel].abs_diff(same_place[channel]) <= SLACK) {
                continue;
            }
            let fits = (0..3).all(|channel| {
                let near = (y - 1..=y + 1).flat_map(|row| {
                    (x - 1..=x + 1).map(move |column| other.rgb[row * other.width + column])
                });
                let (low, high) = near.fold((u8::MAX, 0), |(low, high), dot| {
                    (low.min(dot[channel]), high.max(dot[channel]))
                });
                let range = low.saturating_sub(SLACK)..=high.saturating_add(SLACK);
                range.contains(&dot[channel])
            });
            if !fits {
                found.push((x, y));
            }
        }
    }
    found
}

#[test]
fn the_page_looks_like_the_svg_to_a_tenth_of_a_millimetre() {
    let sheet = made_up::sheet("Sheet one");
    let from_pdf = painted_by_second_reader(pdf(std::slice::from_ref(&sheet), &meta()));
    let from_svg = painted_from_svg(&sheet);
    assert!(from_pdf.width.abs_diff(from_svg.width) <= 1);
    assert!(from_pdf.height.abs_diff(from_svg.height) <= 1);
    let inked = from_svg.rgb.iter().filter(|dot| dot[2] < 128).count();
    assert!(inked > 50_000, "only {inked} dots are inked");
    for (one, other) in [(&from_pdf, &from_svg), (&from_svg, &from_pdf)] {
        let astray = astray(one, other);
        assert!(
            astray.is_empty(),
            "{} dots, {:?}",
            astray.len(),
            astray.first()
        );
    }
}

#[test]
fn every_run_of_text_can_be_read_back() {
    let file = Document::load_mem(&pdf(&sheets(), &meta())).expect("the file can be read");
    for (page, title) in [(1, "Sheet one"), (2, "Sheet two")] {
        let read: Vec<String> = file
            .extract_text_chunks(&[page])
            .into_iter()
            .map(|chunk| {
                chunk
                    .expect("the text has a character map")
                    .trim()
                    .to_string()
            })
            .filter(|chunk| !chunk.is_empty())
            .collect();
        assert_eq!(read, made_up::words(title));
    }
}

#[test]
fn boxes_catalog_and_layers_are_as_meant() {
    let bytes = pdf(&sheets(), &meta());
    assert!(bytes.starts_with(b"%PDF-1.7"));
    let file = Document::load_mem(&bytes).expect("the file can be read");
    for (_, page) in file.get_pages() {
        let page = file.get_dictionary(page).expect("a page is a dictionary");
        for name in ["MediaBox", "CropBox", "TrimBox"] {
            let edges = page.get(name.as_bytes()).and_then(Object::as_array);
            let edges: Vec<f32> = edges
                .expect("each box is there")
                .iter()
                .map(|edge| edge.as_float().expect("an edge is a number"))
                .collect();
            assert_eq!(edges, [0.0, 0.0, 841.8898, 595.2756]);
        }
    }
    let catalog = file.catalog().expect("there is a catalog");
    let preferences = catalog.get(b"ViewerPreferences").and_then(Object::as_dict);
    let preferences = preferences.expect("there are preferences");
    assert_eq!(
        preferences
            .get(b"PrintScaling")
            .and_then(Object::as_name)
            .ok(),
        Some(&b"None"[..])
    );
    assert_eq!(
        preferences
            .get(b"DisplayDocTitle")
            .and_then(Object::as_bool)
            .ok(),
        Some(true)
    );
    assert_eq!(
        catalog.get(b"PageMode").and_then(Object::as_name).ok(),
        Some(&b"UseOutlines"[..])
    );

    let layers = catalog.get(b"OCProperties").and_then(Object::as_dict);
    let layers = layers
        .and_then(|l| l.get(b"OCGs"))
        .and_then(Object::as_array);
    let names: Vec<String> = layers
        .expect("there are layers")
        .iter()
        .map(|layer| {
            let id = layer.as_reference().expect("a layer is an object");
            let layer = file.get_dictionary(id).expect("a layer is a dictionary");
            lopdf::decode_text_string(layer.get(b"Name").expect("it has a name"))
                .expect("the name is a text string")
        })
        .collect();
    assert_eq!(names, ["Frame", "Shapes – ½ scale", "Notes"]);

    let outline = file.get_toc().expect("there is an outline");
    let entries: Vec<_> = outline
        .toc
        .iter()
        .map(|e| (e.title.as_str(), e.page))
        .collect();
    assert_eq!(entries, [("Sheet one", 1), ("Sheet two", 2)]);
}

#[test]
fn same_sheets_same_bytes_other_sheets_other_id() {
    let id = |bytes: &[u8]| {
        let file = Document::load_mem(bytes).expect("the file can be read");
        file.trailer.get(b"ID").cloned().expect("there is an id")
    };
    let once = pdf(&sheets(), &meta());
    assert_eq!(once, pdf(&sheets(), &meta()));
    let other = pdf(&[made_up::sheet("Sheet three")], &meta());
    assert_ne!(id(&once), id(&other));
    for foreign in ["printpdf", "Adobe Illustrator", "CreationDate(D:1970"] {
        let found = once.windows(foreign.len()).any(|w| w == foreign.as_bytes());
        assert!(!found, "{foreign} is in the file");
    }
}

#[test]
fn an_odd_sheet_still_gives_a_file() {
    let mut sheet = made_up::sheet("(odd) \\ <title> ⌀");
    sheet.items.clear();
    sheet.layers.clear();
    sheet.width.0 = f64::NAN;
    for sheets in [Vec::new(), vec![sheet]] {
        let bytes = pdf(&sheets, &Meta::default());
        let file = Document::load_mem(&bytes).expect("the file can be read");
        assert_eq!(file.get_pages().len(), sheets.len());
    }
}

/// The numbers of marked text under an element of the structure, in reading order, with the
/// elements' kinds that have them.
fn marked(
    file: &Document,
    element: &Object,
    kinds: &mut Vec<String>,
    found: &mut Vec<(lopdf::ObjectId, i64)>,
) {
    let element = match element {
        Object::Reference(id) => file.get_dictionary(*id).expect("an element"),
        other => other.as_dict().expect("an element"),
    };
    let kind = element.get(b"S").and_then(Object::as_name).expect("a kind");
    kinds.push(String::from_utf8_lossy(kind).into_owned());
    let kids = match element.get(b"K").expect("what is in it") {
        Object::Array(kids) => kids.clone(),
        one => vec![one.clone()],
    };
    for kid in &kids {
        match kid {
            Object::Integer(number) => {
                let page = element.get(b"Pg").and_then(Object::as_reference);
                found.push((page.expect("the page of a text"), *number));
            }
            kid => marked(file, kid, kinds, found),
        }
    }
}

/// ISO 32000-1, 14.7: every run of text is marked with a number of its own, what is no text is an
/// artifact, the marks nest, and the structure has each number once, in reading order.
#[test]
fn all_text_is_tagged_in_reading_order() {
    let file = Document::load_mem(&pdf(&sheets(), &meta())).expect("the file can be read");
    let catalog = file.catalog().expect("there is a catalog");
    let root = catalog
        .get(b"StructTreeRoot")
        .and_then(Object::as_reference);
    let root = file.get_dictionary(root.expect("a structure")).expect("it");
    let (mut kinds, mut read) = (Vec::new(), Vec::new());
    marked(
        &file,
        root.get(b"K").expect("a document"),
        &mut kinds,
        &mut read,
    );
    assert_eq!(kinds[..3], ["Document", "Sect", "Sect"]);
    let mut painted = Vec::new();
    for (_, page) in file.get_pages() {
        let content = file.get_page_content(page);
        let content = lopdf::content::Content::decode(&content).expect("it can be read");
        let mut open: Vec<Option<i64>> = Vec::new();
        for operation in &content.operations {
            match operation.operator.as_str() {
                "BDC" | "BMC" => {
                    let marks = operation.operands.get(1).and_then(|o| o.as_dict().ok());
                    let number = marks.and_then(|m| m.get(b"MCID").ok()?.as_i64().ok());
                    let name = operation.operands[0].as_name().expect("a name");
                    let layer = name == b"OC";
                    assert!(number.is_some() || layer || name == b"Artifact", "{name:?}");
                    open.push(number);
                }
                "EMC" => assert!(open.pop().is_some(), "an end without a beginning"),
                "Tj" | "TJ" => {
                    let number = open.last().copied().flatten();
                    painted.push((page, number.expect("a text with a number")));
                }
                "S" | "f" | "f*" | "B" | "B*" => {
                    assert!(open.iter().all(Option::is_none), "a line inside a text");
                    assert!(!open.is_empty(), "a line that is no artifact");
                }
                _ => {}
            }
        }
        assert!(open.is_empty());
    }
    let apart: std::collections::BTreeSet<_> = painted.iter().collect();
    assert_eq!(
        apart.len(),
        painted.len(),
        "each number stands once on its page"
    );
    let runs = 2 * made_up::words("Sheet one").len();
    assert_eq!(painted.len(), runs);
    assert_eq!(read, painted);
}

/// ISO 32000-1, 14.8.4.3.4: a table is tagged as rows of headings and of data, each row with as many
/// cells, also where one is left blank to write in.
#[test]
fn tables_are_tagged_as_tables() {
    let mut table = Table::new(&[
        ("Corner", Align::Left),
        ("Read", Align::Blank),
        ("Rod on\nfinish", Align::Right),
    ]);
    for corner in ["A", "B"] {
        table.row(vec![corner.to_string(), String::new(), "4.65′".to_string()]);
    }
    let mut sheet = made_up::sheet("Sheet one");
    let items = table.draw(Pt::new(100.0, 20.0), 90.0);
    let again = table.draw(Pt::new(100.0, 60.0), 90.0);
    sheet.items = vec![made_up::group(
        "rods",
        "notes",
        None,
        [items, again].concat(),
    )];
    let file = Document::load_mem(&pdf(&[sheet], &meta())).expect("the file can be read");
    let root = file
        .catalog()
        .expect("there is a catalog")
        .get(b"StructTreeRoot");
    let root = root.and_then(Object::as_reference).expect("a structure");
    let top = file.get_dictionary(root).and_then(|root| root.get(b"K"));
    let (mut kinds, mut read) = (Vec::new(), Vec::new());
    marked(&file, top.expect("a document"), &mut kinds, &mut read);
    let row = |cell: &'static str| ["TR", cell, cell, cell];
    let one = [&["Table"][..], &row("TH"), &row("TD"), &row("TD")].concat();
    let wanted = [&["Document", "Sect", "Sect"][..], &one, &one].concat();
    assert_eq!(kinds, wanted);
    let numbers: Vec<i64> = read.iter().map(|(_, number)| *number).collect();
    // Four runs of headings, one of them in two lines, and two of each row.
    assert_eq!(numbers, (0..16).collect::<Vec<i64>>());
}

/// The XMP packet is XML, and says what the document information says.
#[test]
fn metadata_can_be_read_as_xml() {
    let bytes = pdf(
        &sheets(),
        &Meta {
            subject: "Plan & <section>".to_string(),
            ..meta()
        },
    );
    let text = String::from_utf8_lossy(&bytes);
    let from = text
        .find("<x:xmpmeta")
        .expect("the packet is not compressed");
    let to = text[from..].find("</x:xmpmeta>").expect("it ends") + from;
    let packet = &text[from..to + "</x:xmpmeta>".len()];
    let parsed = resvg::usvg::roxmltree::Document::parse(packet).expect("it is XML");
    let dc = "http://purl.org/dc/elements/1.1/";
    for (name, wanted) in [
        ("title", "Made up – ½"),
        ("creator", "Nobody"),
        ("description", "Plan & <section>"),
        ("language", "en"),
    ] {
        let mut nodes = parsed.descendants();
        let node = nodes
            .find(|node| node.has_tag_name((dc, name)))
            .expect(name);
        let mut inside = node.descendants().filter_map(|d| d.text());
        assert!(inside.any(|text| text == wanted), "{name}");
    }
}
