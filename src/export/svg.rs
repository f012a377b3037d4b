//! Display list to SVG 1.1.
//!
//! In: a sheet. Out: the text of an SVG file at true size: one unit of the view box is one
//! millimetre. Groups keep their ids, titles and layers (`data-layer`); text stays text, each run
//! one node in the bundled family, which is embedded cut down as a web font. Coordinates are
//! rounded to 0.001 mm. Left out: hatch patterns and masks, which the display list has not.

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use svg::Document;
use svg::node::element::Element;
use svg::node::{Node, Text as Words};

use super::face;
use super::number::{number, push};
use super::plain;
use crate::draw::{
    Anchor, Colour, Face, FillRule, Group, Item, Outline, Path, Pt, Sheet, Step, Text, font,
};

/// Decimals of a millimetre.
const PLACES: usize = 3;

/// The sheet as the text of an SVG file.
///
/// Characters that the bundled faces lack are drawn as `?`.
pub fn svg(sheet: &Sheet) -> String {
    let (width, height) = (mm(sheet.width.0), mm(sheet.height.0));
    let mut clips = Vec::new();
    let mut body = Vec::new();
    for item in &sheet.items {
        body.extend(drawn(item, &mut clips));
    }

    let mut defs = Element::new("defs");
    defs.append(style(sheet));
    for (i, clip) in clips.iter().enumerate() {
        let mut path = Element::new("path");
        if super::is_path(clip) {
            path.assign("d", steps(clip));
        }
        let mut element = Element::new("clipPath");
        element.assign("id", clip_id(i));
        element.append(path);
        defs.append(element);
    }
    let mut paper = Element::new("rect");
    paper.assign("id", "sheet-paper");
    paper.assign("width", width.clone());
    paper.assign("height", height.clone());
    paper.assign("fill", "#ffffff");

    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("role", "img")
        .set("aria-labelledby", "sheet-title sheet-desc")
        .set("fill", "none")
        .set("stroke-linejoin", "round")
        .set("font-family", format!("'{}', sans-serif", font::FAMILY))
        .add(labelled("title", "sheet-title", &sheet.title))
        .add(labelled("desc", "sheet-desc", &description(sheet)))
        .add(defs)
        .add(paper);
    if !sheet.language.is_empty() {
        let language = plain(&sheet.language);
        document = document.set("lang", language.clone());
        document = document.set("xml:lang", language);
    }
    for element in body {
        document = document.add(element);
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

fn drawn(item: &Item, clips: &mut Vec<Outline>) -> Option<Element> {
    match item {
        Item::Group(group) => Some(grouped(group, clips)),
        Item::Path(path) => stroked_or_filled(path),
        Item::Text(text) => written(text),
    }
}

fn grouped(group: &Group, clips: &mut Vec<Outline>) -> Element {
    let mut element = Element::new("g");
    if !group.id.is_empty() {
        element.assign("id", name(&group.id));
    }
    if let Some(layer) = &group.layer {
        element.assign("data-layer", plain(layer));
    }
    if !group.title.is_empty() {
        element.append(titled("title", &group.title));
    }
    if let Some(clip) = &group.clip {
        element.assign("clip-path", format!("url(#{})", clip_id(clips.len())));
        clips.push(clip.clone());
    }
    for item in &group.items {
        if let Some(child) = drawn(item, clips) {
            element.append(child);
        }
    }
    element
}

fn stroked_or_filled(path: &Path) -> Option<Element> {
    if !super::is_path(&path.outline) || (path.stroke.is_none() && path.fill.is_none()) {
        return None;
    }
    let mut element = Element::new("path");
    element.assign("d", steps(&path.outline));
    if let Some(fill) = path.fill {
        element.assign("fill", colour(fill));
        if path.rule == FillRule::EvenOdd {
            element.assign("fill-rule", "evenodd");
        }
    }
    if let Some(stroke) = path.stroke {
        element.assign("stroke", colour(stroke.colour));
        element.assign("stroke-width", mm(stroke.width.mm()));
        let dashes = stroke.dash.pattern();
        if !dashes.is_empty() {
            let lengths: Vec<_> = dashes.iter().map(|d| mm(d * stroke.width.mm())).collect();
            element.assign("stroke-dasharray", lengths.join(" "));
        }
    }
    Some(element)
}

fn written(text: &Text) -> Option<Element> {
    if text.text.is_empty() {
        return None;
    }
    let mut element = Element::new("text");
    element.assign("x", mm(text.at.x));
    element.assign("y", mm(text.at.y));
    element.assign("font-size", mm(font::size(text.face, text.height).0));
    element.assign("fill", colour(text.colour));
    element.assign("xml:space", "preserve");
    match text.face {
        Face::Regular => {}
        Face::SemiBold => element.assign("font-weight", weight(text.face)),
    }
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => element.assign("text-anchor", "middle"),
        Anchor::End => element.assign("text-anchor", "end"),
    }
    if text.angle != 0.0 {
        let (x, y) = (mm(text.at.x), mm(text.at.y));
        element.assign("transform", format!("rotate({} {x} {y})", mm(-text.angle)));
    }
    element.append(Words::new(font::drawable(&text.text)));
    Some(element)
}

fn steps(outline: &Outline) -> String {
    let mut text = String::with_capacity(outline.len() * 16);
    let pair = |text: &mut String, before: char, p: &Pt| {
        text.push(before);
        push(text, p.x, PLACES);
        text.push(' ');
        push(text, p.y, PLACES);
    };
    for step in outline {
        match step {
            Step::Move(p) => pair(&mut text, 'M', p),
            Step::Line(p) => pair(&mut text, 'L', p),
            Step::Cubic(a, b, p) => {
                pair(&mut text, 'C', a);
                pair(&mut text, ' ', b);
                pair(&mut text, ' ', p);
            }
            Step::Close => text.push('Z'),
        }
    }
    text
}

/// The style element: the cut-down faces as web fonts.
fn style(sheet: &Sheet) -> Element {
    let rules: Vec<String> = face::used(std::slice::from_ref(sheet))
        .into_iter()
        .map(|(face, chars)| {
            let file = face::for_browser(face, &face::subset(face, &chars));
            format!(
                "@font-face{{font-family:'{}';font-weight:{};\
                 src:url(data:font/ttf;base64,{}) format('truetype')}}",
                font::FAMILY,
                weight(face),
                BASE64.encode(file)
            )
        })
        .collect();
    titled("style", &rules.join("\n"))
}

fn weight(face: Face) -> &'static str {
    match face {
        Face::Regular => "400",
        Face::SemiBold => "600",
    }
}

fn titled(tag: &str, words: &str) -> Element {
    let mut element = Element::new(tag);
    element.append(Words::new(plain(words)));
    element
}

fn labelled(tag: &str, id: &str, words: &str) -> Element {
    let mut element = titled(tag, words);
    element.assign("id", id);
    element
}

/// The size of the sheet and the names of its layers, without a word of any language beside them.
fn description(sheet: &Sheet) -> String {
    let size = format!("{} × {} mm", mm(sheet.width.0), mm(sheet.height.0));
    let layers: Vec<_> = sheet.layers.iter().map(|l| l.title.as_str()).collect();
    if layers.is_empty() {
        return size;
    }
    format!("{size}: {}", layers.join(", "))
}

/// An id as XML allows it: letters, digits, hyphens and dots, a letter first.
fn name(id: &str) -> String {
    let mut name: String = id
        .chars()
        .map(|c| match c {
            'a'..='z' | 'A'..='Z' | '0'..='9' | '-' | '_' | '.' => c,
            _ => '-',
        })
        .collect();
    if !name.starts_with(|c: char| c.is_ascii_alphabetic()) {
        name.insert_str(0, "g-");
    }
    name
}

fn clip_id(index: usize) -> String {
    format!("sheet-clip-{}", index + 1)
}

fn colour(Colour(red, green, blue): Colour) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn mm(value: f64) -> String {
    number(value, PLACES)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Layer, Mm, Rect};

    fn sheet(items: Vec<Item>) -> Sheet {
        Sheet {
            width: Mm(297.0),
            height: Mm(210.0),
            title: "Patio <1> & \"steps\"".to_string(),
            language: String::new(),
            layers: vec![Layer {
                id: "panels".to_string(),
                title: "Panels".to_string(),
            }],
            items,
        }
    }

    fn words(text: &str) -> Item {
        Item::Text(Text {
            at: Pt::new(10.0, 20.0),
            anchor: Anchor::Start,
            angle: 90.0,
            height: Mm(2.5),
            face: Face::Regular,
            colour: Colour::BLACK,
            text: text.to_string(),
            cell: None,
        })
    }

    #[test]
    fn one_unit_is_a_millimetre_and_titles_are_escaped() {
        let text = svg(&sheet(Vec::new()));
        assert!(text.contains("width=\"297mm\""), "{text}");
        assert!(text.contains("viewBox=\"0 0 297 210\""));
        assert!(text.contains("Patio &lt;1&gt; &amp; "));
    }

    #[test]
    fn a_run_is_one_text_node_without_breaks() {
        let text = svg(&sheet(vec![words("12'-6  ½\u{1}⌀")]));
        let start = text.find("<text").expect("there is text");
        let end = text.find("</text>").expect("it ends");
        let run = &text[start..end];
        assert!(run.ends_with("-6  ½??"), "{run}");
        assert!(!run.contains('\n'));
        assert!(run.contains("rotate(-90 10 20)"));
    }

    #[test]
    fn groups_keep_id_title_layer_and_clip() {
        let clip = Rect::between(Pt::default(), Pt::new(5.0, 5.0)).outline();
        let sheet = sheet(vec![Item::Group(Group {
            id: "plan panels".to_string(),
            title: "Panels of the plan".to_string(),
            layer: Some("panels".to_string()),
            clip: Some(clip),
            items: vec![words("P1")],
        })]);
        let text = svg(&sheet);
        let start = "clip-path=\"url(#sheet-clip-1)\" data-layer=\"panels\" id=\"plan-panels\"";
        assert!(text.contains(start), "{text}");
        assert!(text.contains("<title>Panels of the plan</title>"));
        assert!(text.contains("d=\"M0 0L5 0L5 5L0 5Z\""));
        assert_eq!(text, svg(&sheet), "the same bytes every time");
    }
}
