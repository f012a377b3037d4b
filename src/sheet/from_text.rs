//! The words of the sheets from the computed design: title block, legend, notes, checks, assumed
//! values, set-out table.
//!
//! In: design, takeoff, findings, the general plan. Out: for crew or client, blocks of the first
//! sheet, those that must stand on it apart from those that may flow on, and the further sheets.

use rust_decimal::Decimal;

use super::column::{Block, Entry, Parting};
use super::content::FurtherSheet;
use super::legend::{self, Material};
use super::model::PlanModel;
use super::notes;
use super::table::{Align, Row, Table};
use super::title_block::TitleBlock;
use super::words::sentence;
use super::{
    assumed, bid, from_cautions, from_checks, from_earth, from_levels, from_panels, from_setout,
    from_survey, from_water, from_work, holds, hours, paver_plan, setout_plan,
};
use crate::checks::Finding;
use crate::design::Design;
use crate::draw::Face;
use crate::job::{Assumed, Audience};
use crate::language::{Phrase, phrase, say};
use crate::paving::Form;
use crate::takeoff::{Line, Pack, Takeoff, Unit};
use crate::units::print::number;
use crate::units::{Length, Mass, Precision, System, Volume, grouped, print};

/// Breadth of drawn entries: that of the narrowest column.
const DRAWN: f64 = 88.0;

/// The blocks of the first sheet, and the further sheets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shown {
    /// Blocks that must stand on the first sheet when the paper is chosen.
    pub essential: Vec<Block>,
    /// Blocks that stand on the first sheet where there is room.
    pub general: Vec<Block>,
    /// The further sheets, in the order of the set.
    pub further: Vec<FurtherSheet>,
}

/// What the crew's sheets show beside the general plan.
pub fn for_crew(
    design: &Design,
    takeoff: &Takeoff,
    findings: &[Finding],
    plan: &PlanModel,
) -> Shown {
    let system = design.job.sheet.units;
    let languages = design.job.sheet.languages;
    let lines = takeoff.lines.iter();
    let materials: Vec<Material> = lines.map(|line| material(line, system)).collect();
    let mut others = from_checks::by_others(findings, Audience::Crew);
    others.extend(from_cautions::of_the_site(design));
    let slabs = from_work::forms(design).contains(&Form::Slab);
    let mut general = vec![from_checks::block(findings, languages)];
    general.extend(values(design));
    Shown {
        essential: vec![
            legend::materials(&materials, languages),
            legend::signs(dig_edge(design), &plan.troubles, languages),
            notes::cautions(&others, slabs, Audience::Crew, languages),
        ],
        general,
        further: further(design, takeoff, plan),
    }
}

/// The crew's further sheets, in the order of work.
fn further(design: &Design, takeoff: &Takeoff, plan: &PlanModel) -> Vec<FurtherSheet> {
    let languages = design.job.sheet.languages;
    let mut levels = from_setout::blocks(design);
    levels.push(from_levels::levels(design));
    levels.extend(from_water::blocks(design));
    let mut office = vec![hours(design, takeoff)];
    office.extend(prices(takeoff, design));
    let compared = bid::comparison(design, takeoff, DRAWN);
    let sheet = FurtherSheet::of_blocks;
    let survey = Some(from_survey::survey(design)).filter(|blocks| !blocks.is_empty());
    let in_order = [
        Some(setout_plan::sheet(design, plan, levels)),
        from_earth::sheet(design, plan),
        survey.map(|blocks| sheet(say!(languages, "Survey"), blocks)),
        Some(sheet(
            say!(languages, "Panels and cutting list"),
            from_panels::blocks(design, plan),
        )),
        Some(FurtherSheet {
            early: true,
            ..sheet(
                say!(languages, "Order of work"),
                vec![notes::order_of_work(&from_work::work(design), languages)],
            )
        }),
        Some(sheet(
            say!(languages, "Hold points"),
            vec![holds::points(design)],
        )),
        paver_plan::sheet(design, plan),
        Some(sheet(
            match takeoff.price {
                Some(_) => say!(languages, "Hours and prices"),
                None => say!(languages, "Hours"),
            },
            office,
        )),
        compared.map(|block| sheet(say!(languages, "Beside a conventional base"), vec![block])),
    ];
    in_order.into_iter().flatten().collect()
}

/// What a bid sheet shows beside the plan.
pub fn for_client(design: &Design, takeoff: &Takeoff, findings: &[Finding]) -> Shown {
    let languages = design.job.sheet.languages;
    let mut essential = vec![bid::offer(design, takeoff)];
    essential.extend(bid::comparison(design, takeoff, DRAWN));
    let price = takeoff.price.as_ref();
    essential.extend(price.map(|price| bid::price(takeoff, price, design)));
    essential.push(bid::terms(&design.job.info.terms, DRAWN, languages));
    essential.push(notes::cautions(
        &from_checks::by_others(findings, Audience::Bid),
        false,
        Audience::Bid,
        design.job.sheet.languages,
    ));
    let used = |value: &&Assumed| bid::shows(&value.key);
    let shown: Vec<Assumed> = design.job.assumed.iter().filter(used).cloned().collect();
    essential.extend(assumed_block(&say!(languages, "Assumed"), design, &shown));
    Shown {
        essential,
        ..Shown::default()
    }
}

/// The values that the job left open, when there are any.
fn assumed_block(title: &str, design: &Design, values: &[Assumed]) -> Option<Block> {
    let job = &design.job;
    let names = assumed::Names {
        areas: design.areas.iter().map(|a| a.name.as_str()).collect(),
        lists: vec![
            (
                "sills",
                job.levels.sills.iter().map(|s| s.name.as_str()).collect(),
            ),
            (
                "fixed",
                job.levels
                    .fixed
                    .iter()
                    .map(|f| f.surface.as_str())
                    .collect(),
            ),
            (
                "drains",
                job.drains.iter().map(|d| d.name.as_str()).collect(),
            ),
            (
                "services",
                job.services.iter().map(|s| s.name.as_str()).collect(),
            ),
            (
                "structures",
                job.site
                    .structures
                    .iter()
                    .map(|s| s.name.as_str())
                    .collect(),
            ),
        ],
    };
    assumed::block(title, values, &names, job.sheet.units, job.sheet.languages)
}

fn dig_edge(design: &Design) -> legend::DigEdge {
    let apart = design.extents.dig.area_mm2 - design.extents.base.area_mm2;
    if apart > 1e3 {
        legend::DigEdge::Apart
    } else {
        legend::DigEdge::WithBase
    }
}

/// The title block; sheet numbers, scale and what a sheet shows are filled in later.
pub fn title(design: &Design) -> TitleBlock {
    let languages = design.job.sheet.languages;
    let info = &design.job.info;
    let or_blank = |words: &Option<String>| words.clone().unwrap_or_default();
    TitleBlock {
        languages: design.job.sheet.languages,
        title: info.title.clone(),
        number: or_blank(&info.number),
        client: or_blank(&info.client),
        site: or_blank(&info.site),
        prepared: or_blank(&info.prepared_by),
        checked: or_blank(&info.checked_by),
        date: or_blank(&info.date),
        units: match design.job.sheet.units {
            System::FeetInches => say!(languages, "Feet and inches; levels in feet"),
            System::Metric => say!(languages, "Millimetres; levels in metres"),
            System::Dual => say!(languages, "Feet and inches (millimetres)"),
        }
        .to_string(),
        revisions: info
            .revisions
            .iter()
            .map(|r| [r.mark.clone(), or_blank(&r.date), r.note.clone()])
            .collect(),
        ..TitleBlock::default()
    }
}

fn material(line: &Line, system: System) -> Material {
    let (order, unit) = match (line.packs, &line.pack) {
        (Some(packs), Some(pack)) => (packs.to_string(), packed(*pack, packs, line.unit)),
        _ => quantity(line.order, line.unit, system),
    };
    Material {
        key: line.key.clone(),
        item: line.item.clone(),
        size: String::new(),
        order,
        unit,
    }
}

/// So many packs, without the number; what is counted by the piece says how many one holds.
fn packed(pack: Pack, packs: u64, unit: Unit) -> Phrase {
    let name = pack.kind.words(packs);
    match unit {
        Unit::Piece => phrase!("{name} of {holds}", name, holds = number(pack.holds, 0)),
        Unit::Metre | Unit::CubicMetre | Unit::Kilogram => name,
    }
}

/// A quantity in the printed units, apart from its unit.
fn quantity(value: f64, unit: Unit, system: System) -> (String, Phrase) {
    let words = match unit {
        Unit::Piece if value == 1.0 => return (print::number(value, 0), phrase!("piece")),
        Unit::Piece => return (print::number(value, 0), phrase!("pieces")),
        Unit::Metre => {
            let mm = Length::from_mm(value * 1000.0);
            return (
                print::length(mm, system, Precision::Drawing),
                phrase!("long"),
            );
        }
        Unit::CubicMetre => print::ordered(Volume::from_m3(value), system),
        Unit::Kilogram => print::mass(Mass::from_kg(value), system),
    };
    match words.split_once(' ') {
        Some((figure, unit)) if !unit.contains('(') => (figure.to_string(), Phrase::own(unit)),
        _ => (words, Phrase::default()),
    }
}

/// What the job left open, and what the program found by itself.
fn values(design: &Design) -> Vec<Block> {
    let languages = design.job.sheet.languages;
    let title = say!(languages, "Assumed: the job does not state these");
    let assumed = assumed_block(&title, design, &design.job.assumed);
    let mut blocks: Vec<Block> = assumed.into_iter().collect();
    let found: Vec<Entry> = design
        .job
        .found
        .iter()
        .map(|v| {
            let words = match (v.key.as_str(), v.value.as_str()) {
                ("sheet.section", "auto") => {
                    say!(languages, "Section line A–A runs along the fall")
                }
                (key, value) => format!("{key}: {value}"),
            };
            Entry::marked("–", &words)
        })
        .collect();
    if !found.is_empty() {
        blocks.push(Block::paragraphs(
            say!(languages, "Found by the program"),
            found,
        ));
    }
    blocks
}

/// The hours by operation as a picture, with what is assumed of them.
fn hours(design: &Design, takeoff: &Takeoff) -> Block {
    let languages = design.job.sheet.languages;
    let hours = &takeoff.hours;
    let crew = &design.job.crew;
    let mut entries = vec![
        hours::bars(hours, crew, DRAWN, languages),
        Entry::plain(say!(
            languages,
            "Person-hours in all: {total}. Days for a crew of {people}, {day} hours a day: {days}.",
            total = number(hours.total, 1),
            people = crew.people,
            day = number(crew.day, 1),
            days = number(hours.days, 1)
        )),
    ];
    if hours.by_operation.iter().any(|each| each.assumed) {
        entries.push(Entry::plain(say!(
            languages,
            "Where the job states no rate a planning rate stands: assumed, to be replaced by your own."
        )));
    }
    Block {
        title: say!(languages, "Hours by operation"),
        entries,
        parting: Parting::Whole,
    }
}

fn prices(takeoff: &Takeoff, design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let system = design.job.sheet.units;
    let prices = design.job.prices.as_ref()?;
    let sums = takeoff.price.as_ref()?;
    let money = |amount| grouped::money(amount, system);
    let mut table = Table::new(&[
        (say!(languages, "Item"), Align::Stretch),
        (say!(languages, "Order"), Align::Right),
        (say!(languages, "Each"), Align::Right),
        (say!(languages, "Amount"), Align::Right),
    ]);
    for line in &takeoff.lines {
        if let Some(price) = &line.price {
            table.row(vec![
                sentence(&line.item.say(languages)),
                grouped::count(price.quantity, system),
                money(price.each),
                money(price.amount),
            ]);
        }
    }
    if let Some(labour) = &sums.labour {
        table.row(vec![
            say!(languages, "Labour, person-hours"),
            grouped::count(labour.quantity, system),
            money(labour.each),
            money(labour.amount),
        ]);
    }
    let percent = |share: Decimal| format!("{}%", (share * Decimal::ONE_HUNDRED).normalize());
    let totals = [
        (say!(languages, "Sum"), sums.subtotal),
        (
            say!(languages, "Markup, {share}", share = percent(prices.markup)),
            sums.markup,
        ),
        (
            say!(languages, "Tax, {share}", share = percent(prices.tax)),
            sums.tax,
        ),
        (bid::total_words(sums, languages), sums.total),
    ];
    for (index, (words, amount)) in totals.into_iter().enumerate() {
        table.rows.push(Row {
            cells: vec![words, String::new(), String::new(), money(amount)],
            symbol: Vec::new(),
            face: [0, 3].contains(&index).then_some(Face::SemiBold),
        });
    }
    let mut entries = vec![Entry::Table(table)];
    entries.extend(bid::unpriced(takeoff, sums, languages));
    Some(Block::paragraphs(
        say!(languages, "Prices, {currency}", currency = sums.currency),
        entries,
    ))
}
