//! The blocks of a bid sheet: what the client gets, what it saves against a conventional base,
//! the price, and room for the terms and the signatures.
//!
//! In: design and takeoff. Out: blocks. Quantities are those of the takeoff in the client's
//! words; no course marks, nails, rails or rod readings.

use super::build_up::{self, Layer, Matter, Stack};
use super::column::{Block, Entry, Parting};
use super::lettering::{NOTE, PITCH};
use super::pen;
use super::symbol::scale_words;
use super::table::{Align, Row, Table};
use super::words::{self, depths, sentence};
use crate::design::{AreaDesign, Design};
use crate::draw::{Anchor, Face, Item, Pt};
use crate::job::model::Conventional;
use crate::language::{Languages, Phrase, phrase, say};
use crate::paving::{Lay, PavingSpec, Place};
use crate::takeoff::weight::SPOIL;
use crate::takeoff::{Comparison, Price, Takeoff, Unit};
use crate::units::print::{self, number};
use crate::units::{Area, Mass, Volume, grouped};

/// What the client gets, in the client's words.
pub fn offer(design: &Design, takeoff: &Takeoff) -> Block {
    let languages = design.job.sheet.languages;
    let system = design.job.sheet.units;
    let mut table = Table::new(&[
        (say!(languages, "What you get"), Align::Stretch),
        (say!(languages, "Quantity"), Align::Right),
    ]);
    for (area, spec) in design.areas.iter().zip(&design.job.paving) {
        table.row(vec![
            surface(design, area, spec),
            print::area(Area::from_m2(area.area_m2), system),
        ]);
        if let Some(words) = border(area, spec, languages) {
            table.row(vec![words, String::new()]);
        }
        table.row(vec![fall(design, area), String::new()]);
    }
    let base = Area::from_m2(design.extents.base.area_mm2 / 1e6);
    let thin = |mm: f64| words::thin(design, mm);
    table.row(vec![
        say!(languages, "Base of interlocking panels {thickness} thick on {compacted} {material}, geotextile under it", thickness = thin(design.job.panels.panel.thickness), compacted = thin(design.job.bedding.compacted), material = Phrase::known(&design.job.bedding.material)),
        print::area(base, system),
    ]);
    if design.edging.length_mm > 0.0 {
        table.row(vec![
            say!(languages, "Edge restraint nailed along open edges"),
            words::long(design, design.edging.length_mm),
        ]);
    }
    table.row(vec![
        say!(
            design.job.sheet.languages,
            "Dig {depth} deep below the finished surface",
            depth = depths(design)
        ),
        print::volume(Volume::from_m3(design.dig.earthwork.cut_m3), system),
    ]);
    if let Some(line) = takeoff.line(SPOIL) {
        let loads = line.packs.unwrap_or(0);
        table.row(vec![
            say!(languages, "Soil carted away, loosened by the digging"),
            say!(languages, "{count} load | {count} loads", count = loads),
        ]);
    }
    if let Some(fill) = design.dig.fill_m3() {
        table.row(vec![
            say!(languages, "Fill brought in and compacted under the base"),
            print::volume(Volume::from_m3(fill), system),
        ]);
    }
    for drain in takeoff.drains() {
        table.row(vec![
            sentence(&drain.item.say(languages)),
            match drain.unit {
                Unit::Metre => words::long(design, drain.net * 1e3),
                _ => number(drain.net, 0),
            },
        ]);
    }
    table.row(vec![
        say!(languages, "Joints filled, surface swept, site left clean"),
        String::new(),
    ]);
    Block::table(say!(languages, "The offer"), table)
}

/// Keys of the job, or their beginnings, whose values a bid sheet uses.
const SHOWN: [&str; 13] = [
    "base.panel.thickness",
    "base.extension",
    "excavation",
    "bedding.material",
    "bedding.compacted",
    "conventional",
    "paving",
    "pavers",
    "levels.finish",
    "edging.width",
    "edging.nail",
    "prices",
    "crew",
];

/// Whether a bid sheet uses the value of that dotted key.
pub fn shows(key: &str) -> bool {
    // Masses are the crew's and the carrier's; where a bond starts, no corner on the bid's plan says.
    let crews = [".density", ".start"].iter().any(|end| key.ends_with(end));
    !crews
        && SHOWN.iter().any(|shown| {
            key.strip_prefix(shown)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        })
}

/// The finished surface of an area in words.
fn surface(design: &Design, area: &AreaDesign, spec: &PavingSpec) -> String {
    let languages = design.job.sheet.languages;
    let field = area.paving.courses.iter().find(|c| c.place == Place::Field);
    let kind = field.and_then(|laid| design.job.pavers.get(laid.paver));
    match kind {
        Some(paver) => {
            let [length, width, thickness] =
                [paver.length, paver.width, paver.thickness].map(|mm| words::thin(design, mm));
            say!(
                languages,
                "{name}: pavers {length} × {width}, {thickness} thick, in {spec}",
                name = area.name,
                length,
                width,
                thickness,
                spec = bond(spec, languages)
            )
        }
        None => area.name.clone(),
    }
}

/// The bond in words, with its turn.
fn bond(spec: &PavingSpec, languages: Languages) -> String {
    let name = words::bond(&spec.bond).say(languages);
    if spec.turn.abs() < 1e-9 {
        name
    } else {
        say!(
            languages,
            "{name} turned {turn}°",
            name,
            turn = number(spec.turn, 1)
        )
    }
}

/// Border courses of an area in words; none where it has none.
fn border(area: &AreaDesign, spec: &PavingSpec, languages: Languages) -> Option<String> {
    if spec.border.is_empty() {
        return None;
    }
    let courses: Vec<String> = spec
        .border
        .iter()
        .map(|course| match course.lay {
            Lay::Soldier => say!(languages, "soldier course"),
            Lay::Sailor => say!(languages, "sailor course"),
        })
        .collect();
    Some(say!(
        languages,
        "{name}: border of {courses}",
        name = area.name,
        courses = courses.join(&say!(languages, " and "))
    ))
}

fn fall(design: &Design, area: &AreaDesign) -> String {
    let languages = design.job.sheet.languages;
    match area.plane.downhill() {
        Some(_) => say!(
            languages,
            "{name}: falls {fall} so that water runs off",
            name = area.name,
            fall = words::fall(design, area.plane.fall())
        ),
        None => say!(languages, "{name}: level", name = area.name),
    }
}

/// The same paver on a conventional base beside this one: a drawing to scale and a table; none
/// unless the job asks for it. `width` is that of the column.
pub fn comparison(design: &Design, takeoff: &Takeoff, width: f64) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let compared = takeoff.comparison.as_ref()?;
    let conventional = design.job.conventional?;
    let area = design.areas.first()?;
    let system = design.job.sheet.units;
    let (drawing, scale) = build_up::side_by_side(
        &stacks(area, &conventional, compared, design),
        system,
        width,
    );
    Some(Block {
        title: say!(
            languages,
            "Beside a conventional base, {scale}",
            scale = scale_words(&scale)
        ),
        entries: vec![
            drawing,
            Entry::Table(comparison_table(design, takeoff, compared)),
        ],
        parting: Parting::Whole,
    })
}

/// Build-up of the first area on panels, and its conventional one.
fn stacks(
    area: &AreaDesign,
    conventional: &Conventional,
    compared: &Comparison,
    design: &Design,
) -> [Stack; 2] {
    let languages = design.job.sheet.languages;
    let thin = |mm: f64| words::thin(design, mm);
    let layer = |matter, thick: f64, name: String| Layer {
        matter,
        thick,
        words: format!("{name} {}", thin(thick)),
    };
    let built = area.build_up;
    [
        Stack {
            title: say!(languages, "On base panels"),
            layers: vec![
                layer(Matter::Paver, built.paver, say!(languages, "Paver")),
                layer(Matter::Panel, built.panel, say!(languages, "Panel")),
                layer(
                    Matter::Sand,
                    built.bedding_compacted,
                    say!(languages, "Bedding"),
                ),
            ],
            depth: thin(built.total()),
        },
        Stack {
            title: say!(languages, "Conventional"),
            layers: vec![
                layer(Matter::Paver, built.paver, say!(languages, "Paver")),
                layer(
                    Matter::Sand,
                    conventional.bedding,
                    say!(languages, "Bedding"),
                ),
                layer(
                    Matter::Aggregate,
                    conventional.base,
                    say!(languages, "Aggregate"),
                ),
            ],
            depth: thin(compared.depth_mm),
        },
    ]
}

fn comparison_table(design: &Design, takeoff: &Takeoff, compared: &Comparison) -> Table {
    let languages = design.job.sheet.languages;
    let system = design.job.sheet.units;
    let thin = |mm: f64| words::thin(design, mm);
    let volume = |m3: f64| print::volume(Volume::from_m3(m3), system);
    let mut table = Table::new(&[
        (String::new(), Align::Stretch),
        (say!(languages, "On panels"), Align::Right),
        (say!(languages, "Conventional"), Align::Right),
    ]);
    let loads = takeoff.line(SPOIL);
    let mut row = |what: String, here: String, there: String| {
        table.row(vec![what, here, there]);
    };
    row(
        say!(languages, "Dig below finish"),
        depths(design).say(design.job.sheet.languages),
        thin(compared.depth_mm),
    );
    row(
        say!(languages, "Cut"),
        volume(design.dig.earthwork.cut_m3),
        volume(compared.cut_m3),
    );
    row(
        say!(languages, "Spoil, loose"),
        volume(design.dig.spoil_loose_m3),
        volume(compared.spoil_loose_m3),
    );
    if let Some(loads) = loads.and_then(|line| line.packs) {
        row(
            say!(languages, "Loads to cart away"),
            loads.to_string(),
            compared.loads.to_string(),
        );
    }
    row(
        say!(languages, "Aggregate brought in"),
        say!(languages, "none"),
        print::mass(Mass::from_kg(compared.aggregate_kg), system),
    );
    let beside = takeoff.beside.as_ref();
    if let Some([here, there]) = beside.and_then(|beside| beside.hours.total()) {
        let hours = |hours: f64| number(hours, 1);
        row(
            say!(
                languages,
                "Person-hours of what differs: dig, cartage, panels or aggregate"
            ),
            hours(here),
            hours(there),
        );
    }
    if let Some(money) = beside.and_then(|beside| beside.money.as_ref()) {
        let [here, there] = money.total.map(|total| grouped::money(total, system));
        row(
            say!(
                languages,
                "Price of what differs, with bedding, {currency}",
                currency = money.currency
            ),
            here,
            there,
        );
    }
    table
}

/// What the last sum is called: a total only where everything has a price.
pub fn total_words(price: &Price, languages: Languages) -> String {
    match price.missing.is_empty() {
        true => say!(languages, "Total"),
        false => say!(languages, "Priced so far"),
    }
}

/// What has no price, by name; none where everything has one.
pub fn unpriced(takeoff: &Takeoff, price: &Price, languages: Languages) -> Vec<Entry> {
    let named = |key: &String| {
        let line = takeoff.line(key);
        line.map_or_else(
            || key.replace('_', " "),
            |line| sentence(&line.item.say(languages)),
        )
    };
    let names: Vec<String> = price.missing.iter().map(named).collect();
    let words = say!(
        languages,
        "Not priced yet, and not in the sum: {join}.",
        join = names.join(&say!(languages, "; "))
    );
    match names.is_empty() {
        true => Vec::new(),
        false => vec![Entry::strong("!", words)],
    }
}

/// The price in the client's words: none when the job states no prices. What has no price is
/// named, and then there is no total.
pub fn price(takeoff: &Takeoff, price: &Price, design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let money = |amount| grouped::money(amount, design.job.sheet.units);
    let mut table = Table::new(&[
        ("", Align::Stretch),
        (price.currency.as_str(), Align::Right),
    ]);
    table.row(vec![
        match price.labour {
            Some(_) => say!(languages, "Material, labour and overheads"),
            None => say!(languages, "Material and overheads"),
        },
        money(price.subtotal + price.markup),
    ]);
    table.row(vec![say!(languages, "Tax"), money(price.tax)]);
    table.rows.push(Row {
        cells: vec![total_words(price, languages), money(price.total)],
        symbol: Vec::new(),
        face: Some(Face::SemiBold),
    });
    let mut entries = vec![Entry::Table(table)];
    entries.extend(unpriced(takeoff, price, languages));
    Block {
        title: say!(languages, "Price"),
        entries,
        parting: Parting::Whole,
    }
}

/// What is to be written in the terms.
fn lines() -> [Phrase; 4] {
    [
        phrase!("Valid until"),
        phrase!("Start and duration"),
        phrase!("Payment"),
        phrase!("Not included"),
    ]
}

/// Height of a line to write on.
const WRITE: f64 = 7.5;

/// The terms that the job states, then room for the rest and for the signatures, to be written
/// by hand.
pub fn terms(stated: &[String], width: f64, languages: Languages) -> Block {
    let mut items: Vec<Item> = Vec::new();
    let mut y = WRITE;
    let label = |items: &mut Vec<Item>, from: f64, to: f64, y: f64, words: String| {
        items.push(pen::line(Pt::new(from, y), Pt::new(to, y), pen::FINE));
        items.push(pen::text(
            Pt::new(from, y + NOTE + 1.1),
            NOTE,
            Anchor::Start,
            &words,
        ));
    };
    let step = WRITE + NOTE * PITCH;
    if stated.is_empty() {
        for words in lines().map(|line| line.say(languages)) {
            label(&mut items, 0.0, width, y, words);
            y += step;
        }
    }
    let third = width / 3.0;
    for who in [
        say!(languages, "For the contractor"),
        say!(languages, "For the client"),
    ] {
        label(&mut items, 0.0, third * 2.0 - 4.0, y, who);
        label(&mut items, third * 2.0, width, y, say!(languages, "Date"));
        y += step;
    }
    Block {
        title: say!(languages, "Terms and agreement"),
        entries: stated
            .iter()
            .map(|words| Entry::marked("–", words))
            .chain([Entry::Drawing {
                height: y - WRITE + 1.0,
                items,
            }])
            .collect(),
        parting: Parting::Whole,
    }
}
