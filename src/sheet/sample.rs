//! A made-up rectangle patio for the tests of the sheet, with panels, nails and rails placed by
//! hand, so that the sheet is tested without the computations below it.

use super::column::{Block, Entry};
use super::content::{Content, FurtherSheet};
use super::detail::DetailModel;
use super::legend::{self, Material};
use super::model::{
    Area, Corner, CornerLevels, Course, Piece, PlanModel, Radius, SiteChain, Structure,
};
use super::notes::{self, Work};
use super::section::{CutEdging, CutService, CutStructure, SectionModel, Slab};
use super::table::{Align, Table};
use super::title_block::TitleBlock;
use crate::geom::{Point, Vector};
use crate::language::{Languages, Phrase};
use crate::site::StructureKind;

const FT: f64 = 304.8;

fn p(x: f64, y: f64) -> Point {
    Point::new(x * FT, y * FT)
}

fn ring(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    vec![p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)]
}

/// A patio of 14 ft by 12 ft against a house along its lower edge.
pub fn content() -> Content {
    let mut plan = PlanModel {
        structures: vec![Structure {
            name: "House".to_string(),
            kind: StructureKind::Building,
            on_paving: false,
            ring: ring(-6.0, -20.0, 20.0, 0.0),
        }],
        base: vec![ring(-0.5, 0.0, 14.5, 12.5)],
        dig: vec![ring(-0.75, 0.0, 14.75, 12.75)],
        sections: vec![("A".to_string(), [p(6.0, 0.0), p(6.0, 12.0)])],
        ..PlanModel::default()
    };
    for course in 0..7 {
        let (y0, y1) = (course as f64 * 2.0, (course as f64 * 2.0 + 2.0).min(12.5));
        let mut x = -0.5_f64;
        let mut position = 1;
        while x < 14.5 - 1e-9 {
            let long = if course % 2 == 1 && position == 1 {
                1.5
            } else {
                3.0
            };
            let end = (x + long).min(14.5);
            plan.pieces.push(Piece {
                course: course + 1,
                mark: format!("{}-{position}", course + 1),
                rings: vec![ring(x, y0, end, y1)],
                middle: p((x + end) / 2.0, (y0 + y1) / 2.0),
                trimmed: end - x < 2.9 || y1 - y0 < 1.9,
            });
            x = end;
            position += 1;
        }
        plan.courses.push(Course {
            number: course + 1,
            from_start_mm: 0.0,
            words: format!(
                "{}: {}",
                course + 1,
                if course % 2 == 1 {
                    "1′-6″"
                } else {
                    "3′-0″"
                }
            ),
            at: p(-0.5, (y0 + y1) / 2.0),
            along: Vector::new(1.0, 0.0),
        });
    }
    let mut pavers = Vec::new();
    for row in 0..36 {
        for column in 0..22 {
            let x =
                f64::from(column) * 8.125 / 12.0 - if row % 2 == 1 { 4.0625 / 12.0 } else { 0.0 };
            let y = f64::from(row) * 4.125 / 12.0;
            if y < 12.0 {
                pavers.push(ring(
                    x.max(0.0),
                    y,
                    (x + 8.0 / 12.0).min(14.0),
                    y + 4.0 / 12.0,
                ));
            }
        }
    }
    plan.areas.push(Area {
        name: "Landing".to_string(),
        rings: vec![ring(0.0, 0.0, 14.0, 12.0)],
        fall: Some((Vector::new(0.0, 1.0), "2% (0.24″ per ft)".to_string())),
        pavers,
        patch: vec![
            p(6.0, -1.0),
            p(3.6, 1.6),
            p(4.0, 2.4),
            p(2.4, 2.6),
            p(-1.0, 6.0),
            p(-1.0, -1.0),
        ],
        ..Area::default()
    });
    for (name, at, out, finish) in [
        ("A", p(0.0, 0.0), (-1.0, -1.0), "99.50′"),
        ("B", p(14.0, 0.0), (1.0, -1.0), "99.50′"),
        ("C", p(14.0, 12.0), (1.0, 1.0), "99.26′"),
        ("D", p(0.0, 12.0), (-1.0, 1.0), "99.26′"),
    ] {
        plan.corners.push(Corner {
            name: name.to_string(),
            at,
            outward: Vector::new(out.0, out.1),
            levels: vec![CornerLevels {
                area: String::new(),
                finish: finish.to_string(),
                formation: "99.14′".to_string(),
            }],
        });
    }
    for (x0, y0, x1, y1) in [
        (14.0, 0.0, 14.17, 12.0),
        (0.0, 12.0, 14.0, 12.17),
        (-0.17, 0.0, 0.0, 12.0),
    ] {
        plan.edging.push(ring(x0, y0, x1, y1));
    }
    for k in 0..18 {
        let along = f64::from(k) * 8.0 / 12.0 + 0.17;
        plan.nails.push(p(14.085, along));
        plan.nails.push(p(-0.085, along));
        plan.nails.push(p(along, 12.085));
    }
    for x in [0.5, 4.8, 9.2, 13.5] {
        plan.rails.push([p(x, 0.0), p(x, 12.5)]);
    }
    let chain = |features: Vec<Point>, words: &[&str], outward: (f64, f64), tier| SiteChain {
        features,
        words: words.iter().map(|w| (*w).to_string()).collect(),
        outward: Vector::new(outward.0, outward.1),
        tier,
        origin: None,
    };
    plan.chains = vec![
        chain(
            vec![
                p(-0.5, 12.5),
                p(0.5, 12.5),
                p(4.8, 12.5),
                p(9.2, 12.5),
                p(13.5, 12.5),
                p(14.5, 12.5),
            ],
            &["1′-0″", "4′-4″", "4′-4″", "4′-4″", "1′-0″"],
            (0.0, 1.0),
            0,
        ),
        chain(
            vec![p(-0.5, 12.5), p(0.0, 12.0), p(14.0, 12.0), p(14.5, 12.5)],
            &["6″", "14′-0″", "6″"],
            (0.0, 1.0),
            1,
        ),
        chain(
            vec![p(-0.5, 12.5), p(14.5, 12.5)],
            &["15′-0″"],
            (0.0, 1.0),
            2,
        ),
        chain(
            vec![p(14.0, 0.0), p(14.0, 12.0), p(14.5, 12.5)],
            &["12′-0″", "6″"],
            (1.0, 0.0),
            0,
        ),
        chain(
            vec![p(14.5, 0.0), p(14.5, 12.5)],
            &["12′-6″"],
            (1.0, 0.0),
            1,
        ),
    ];
    plan.radii.push(Radius {
        centre: p(10.0, 11.0),
        places: vec![(p(14.0, 11.0), Vector::new(1.0, 0.0))],
        words: "R 4′-0″".to_string(),
    });
    plan.sills
        .push(("Back door 100.00′".to_string(), p(7.0, 0.0)));
    Content {
        north: Some(20.0),
        name: "General: plan, section, edge detail".to_string(),
        name_alone: "General: plan".to_string(),
        plan: plan.into(),
        sections: vec![section()],
        detail: Some(detail()),
        essential: essential(),
        general: general(),
        further: further(),
        title: TitleBlock {
            title: "Rear garden landing".to_string(),
            number: "26-031".to_string(),
            client: "A. Example".to_string(),
            site: "12 Invented Lane".to_string(),
            prepared: "The office".to_string(),
            date: "2026-05-04".to_string(),
            units: "Feet and inches".to_string(),
            revisions: vec![[
                "A".to_string(),
                "2026-05-04".to_string(),
                "First issue".to_string(),
            ]],
            ..TitleBlock::default()
        },
        ..Content::default()
    }
}

fn section() -> SectionModel {
    let finish = |s: f64| 30328.0 - 0.02 * s;
    let slab = |a: f64, b: f64, up: f64, down: f64| Slab {
        at: [a, b],
        top: [finish(a) - up, finish(b) - up],
        bottom: [finish(a) - down, finish(b) - down],
    };
    let end = 12.0 * FT;
    let mut pavers = Vec::new();
    let mut s = 0.0;
    while s < end {
        pavers.push(slab(s, (s + 101.6).min(end), 0.0, 79.4));
        s += 104.8;
    }
    let panels = (0..7)
        .map(|k| {
            slab(
                f64::from(k) * 609.6,
                (f64::from(k + 1) * 609.6).min(end + 152.4),
                79.4,
                98.4,
            )
        })
        .collect();
    SectionModel {
        languages: Languages::default(),
        title: "Section A–A".to_string(),
        span: [-500.0, end + 600.0],
        pavers,
        panels,
        bedding: vec![slab(0.0, end + 152.4, 98.4, 111.1)],
        dig: vec![slab(0.0, end + 228.6, 0.0, 111.1)],
        ground: vec![
            [-500.0, 30340.0],
            [0.0, 30340.0],
            [2000.0, 30270.0],
            [end + 600.0, 30230.0],
        ],
        assumed_ground: false,
        structures: vec![CutStructure {
            name: "House".to_string(),
            kind: StructureKind::Building,
            at: [-500.0, 0.0],
        }],
        edging: vec![CutEdging {
            at: end,
            side: 1.0,
            on: finish(end) - 79.4,
            height: 48.0,
            width: 50.8,
            nail: 254.0,
        }],
        services: vec![CutService {
            words: "Water: top 98.60′, 8″ under ground".to_string(),
            at: 2400.0,
            zone: [2200.0, 2600.0],
            top: Some(30060.0),
            clear: 200.0,
            crosses: true,
        }],
        formation: Vec::new(),
        depths: Vec::new(),
        levels: vec![
            (150.0, finish(150.0), "99.50′".to_string()),
            (end - 150.0, finish(end - 150.0), "99.26′".to_string()),
        ],
        banks: Vec::new(),
        sills: vec![(0.0, 30480.0, "Back door 100.00′".to_string())],
        across: Some((vec![0.0, end], vec!["12′-0″".to_string()])),
        falls: vec![("2%".to_string(), 1.0, 1800.0)],
    }
}

fn detail() -> DetailModel {
    DetailModel {
        languages: Languages::default(),
        paver: [203.2, 3.2],
        layers: [79.4, 19.05, 12.7],
        extension: [152.4, 228.6],
        edging: [50.8, 254.0],
        drop: 12.7,
        words: [
            "Paver 8″ × 4″ × 3⅛″, joints ⅛″",
            "Edge restraint, foot 2″",
            "Nail 10″",
            "Backfill, below the pavers",
            "Base panel ¾″",
            "Concrete sand ½″ compacted (¾″ loose)",
            "Geotextile",
            "Formation, compacted ground",
        ]
        .map(String::from),
        total: "4⅜″".to_string(),
        past: "6″".to_string(),
    }
}

fn essential() -> Vec<Block> {
    let material = |key: &str, item: &str, size: &str, order: &str, unit: &str| Material {
        key: key.to_string(),
        item: Phrase::own(item),
        size: size.to_string(),
        order: order.to_string(),
        unit: Phrase::own(unit),
    };
    vec![
        legend::materials(
            &[
                material("panel", "Base panel", "3′ × 2′ × ¾″", "35", "pieces"),
                material(
                    "paver.field",
                    "Paver, field",
                    "8″ × 4″ × 3⅛″",
                    "790",
                    "pieces",
                ),
                material("bedding", "Concrete sand", "¾″ loose", "0.48", "yd³"),
                material(
                    "geotextile",
                    "Geotextile",
                    "12′-6″ wide",
                    "31′-0″",
                    "of roll",
                ),
                material("edging", "Edge restraint", "8′", "5", "pieces"),
                material("nails", "Nail", "10″", "60", "pieces"),
                material("rails", "Screed rail", "Ø ¾″ × 10′", "8", "pieces"),
                material("jointing", "Jointing material", "50 lb", "9", "bags"),
                material("load", "Spoil to cart away", "loose", "1", "load"),
            ],
            Languages::default(),
        ),
        legend::signs(legend::DigEdge::Apart, &[], Languages::default()),
        notes::cautions(&[], false, crate::job::Audience::Crew, Languages::default()),
    ]
}

fn general() -> Vec<Block> {
    let work = Work {
        bends: None,
        proof: Phrase::own("prove the shape"),
        stakes: true,
        services: None,
        graded: None,
        fill: None,
        settle: Phrase::own("settle the pavers"),
        patch: "4′-0″".into(),
        mist: ["3 passes", "24 h"].map(Phrase::own),
        depth: Phrase::own("4⅜″"),
        past: "6″".to_string(),
        lap: "12″".to_string(),
        bedding: ["¾″".to_string(), "½″".to_string()],
        rails: Some(["Ø ¾″", "4′-4″"].map(Phrase::own)),
        in_parts: false,
        panels: Phrase::own("from corner A along A-B"),
        stagger: "6″".to_string(),
        paving: Phrase::own("from corner A along A-B"),
        border: None,
        nails: Phrase::own("10″ nails in every 2nd hole"),
        drains: None,
        below: "⅛″".to_string(),
        tolerance: "±⅛″".to_string(),
        rough: "±½″".to_string(),
    };
    let mut checks = Table::new(&[("Result", Align::Left), ("Check", Align::Stretch)]);
    for (result, words) in [
        ("pass", "Fall 2% is at least 1.75%"),
        (
            "WARN",
            "Panels meet at four corners nowhere; smallest offset 1′-6″",
        ),
        ("FAIL", "Back door sill 6″ above finish, at least 2″ wanted"),
    ] {
        checks.row(vec![result.to_string(), words.to_string()]);
    }
    vec![
        notes::order_of_work(&work, Languages::default()),
        Block::table("Checks", checks),
        Block::paragraphs(
            "Assumed, not stated by the job",
            (0..12)
                .map(|i| Entry::marked("–", format!("base.value_{i}: 6\"")))
                .collect(),
        ),
    ]
}

fn further() -> Vec<FurtherSheet> {
    let heads = [
        "Corner",
        "x",
        "y",
        "From A",
        "From B",
        "Finish",
        "Formation",
        "Rod on\nfinish",
        "Rod on\npanel",
        "Rod on\nformation",
    ];
    let columns: Vec<(&str, Align)> = heads
        .iter()
        .enumerate()
        .map(|(i, h)| (*h, if i == 0 { Align::Left } else { Align::Right }))
        .collect();
    let mut table = Table::new(&columns);
    for corner in ["A", "B", "C", "D"] {
        let mut cells = vec![corner.to_string()];
        cells.extend((1..heads.len()).map(|k| format!("{k}′-6½″")));
        table.row(cells);
    }
    let table = Block::table("Set-out and levels", table);
    vec![FurtherSheet::of_blocks("Set-out and levels", vec![table])]
}
