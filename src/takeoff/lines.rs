//! Lines of the takeoff from the quantities: waste, whole packs and the words that say how.
//!
//! In: [`Quantities`] and the job's waste, in SI. Out: [`Line`]s in SI, their `how` in the
//! units of the sheet. Those of the pavers are in `pavers`.

use super::line::{cubic, drawn, ordered, pack, plain, size, thickness, tube, up};
use super::pavers::pavers;
use super::quantities::{
    BackfillQuantity, BeddingQuantity, EdgingQuantity, JointingQuantity, PanelQuantity, Quantities,
    RailQuantity, SpoilQuantity, TextileQuantity,
};
use super::weight::{KEPT, SPOIL};
use super::{Line, PackKind, Unit};
use crate::job::model::Waste;
use crate::language::{Phrase, phrase};
use crate::units::{Area, Density, Mass, System, Volume, print};

/// Key of the line of fill.
pub const FILL: &str = "fill";

/// Density of steel, kg/m³.
///
/// # Source
/// EN 1991-1-1, table A.4: 77.0 to 78.5 kN/m³; 77.0 kN/m³ over 9.81 m/s².
const STEEL: f64 = 7850.0;

/// The lines of a job, in the order in which the material goes down, the fill and the spoil last.
pub fn lines(quantities: &Quantities, waste: &Waste, system: System) -> Vec<Line> {
    let mut lines = Vec::new();
    lines.extend(quantities.textile.map(|q| textile(q, waste, system)));
    lines.extend(
        quantities
            .bedding
            .as_ref()
            .map(|q| bedding(q, waste, system)),
    );
    lines.extend(quantities.rails.map(|q| rails(q, system)));
    lines.extend(quantities.panels.map(|q| panels(q, waste, system)));
    lines.extend(pavers(&quantities.pavers, waste, system));
    if let Some(q) = quantities.edging {
        lines.push(edging(q, system));
        lines.push(nails(q, system));
    }
    lines.extend(quantities.jointing.map(|q| jointing(q, waste, system)));
    if let Some(q) = quantities.backfill {
        lines.extend(backfill(q, system));
    }
    let drains = quantities.drains.iter();
    lines.extend(drains.map(|drain| drain.line(system)));
    lines.extend(quantities.fill_m3.map(|fill| self::fill(fill, system)));
    lines.extend(quantities.spoil.map(|q| spoil(q, system)));
    lines
}

fn panels(q: PanelQuantity, waste: &Waste, system: System) -> Line {
    let net = q.buy as f64;
    let order = up(net * (1.0 + waste.panels));
    let size = size(&[q.length, q.width, q.thickness], system);
    let how = phrase!(
        "{whole} whole + {more} for {trimmed} trimmed pieces",
        whole = q.whole,
        more = q.buy.saturating_sub(q.whole),
        trimmed = q.trimmed
    );
    Line {
        waste: Some(waste.panels),
        order,
        mass_kg: Some(order * cubic(q.length, q.width, q.thickness) * q.density),
        ..plain(
            phrase!("Base panel {size}", size),
            "panel",
            phrase!("base"),
            (net, Unit::Piece),
            how,
        )
    }
}

fn bedding(q: &BeddingQuantity, waste: &Waste, system: System) -> Line {
    let order = ordered(q.loose_m3 * (1.0 + waste.bedding), system);
    let how = phrase!(
        "base {area} × {loose} loose",
        area = print::area(Area::from_m2(q.area_m2), system),
        loose = thickness(q.loose, system)
    );
    Line {
        waste: Some(waste.bedding),
        order,
        mass_kg: Some(order * q.density),
        ..plain(
            Phrase::known(&q.material),
            "bedding",
            phrase!("bedding under the panels"),
            (q.loose_m3, Unit::CubicMetre),
            how,
        )
    }
}

fn textile(q: TextileQuantity, waste: &Waste, system: System) -> Line {
    let roll = q.roll_length / 1000.0;
    // Short ends of a roll may serve no piece, so that length alone does not give the rolls.
    let rolls = up(q.roll_m * (1.0 + waste.geotextile) / roll).max(q.rolls as f64);
    let how = phrase!(
        "{count} strip over {area} with laps: {length} off the roll | {count} strips over {area} with laps: {length} off the roll",
        count = q.strips,
        area = print::area(Area::from_m2(q.area_m2), system),
        length = drawn(q.roll_m * 1000.0, system)
    );
    let size = size(&[q.roll_width, q.roll_length], system);
    Line {
        waste: Some(waste.geotextile),
        order: rolls * roll,
        pack: pack(PackKind::Roll, roll),
        packs: Some(rolls as u64),
        mass_kg: Some(rolls * q.roll_mass),
        ..plain(
            phrase!("Geotextile, roll {size}", size),
            "geotextile",
            phrase!("formation of the dig"),
            (q.roll_m, Unit::Metre),
            how,
        )
    }
}

fn rails(q: RailQuantity, system: System) -> Line {
    let wall = q.wall.min(q.diameter / 2.0);
    let each = tube(q.diameter, wall, q.piece) * STEEL;
    let line = plain(
        phrase!(
            "Screed rail {diameter} outside, {piece}",
            diameter = thickness(q.diameter, system),
            piece = drawn(q.piece, system)
        ),
        "rails",
        phrase!("striking off the bedding"),
        (q.pieces as f64, Unit::Piece),
        phrase!(
            "{count} rail, {length} together, remainders cut from shared pieces of {piece} | {count} rails, {length} together, remainders cut from shared pieces of {piece}",
            count = q.count,
            length = drawn(q.length_m * 1000.0, system),
            piece = drawn(q.piece, system)
        ),
    );
    Line {
        mass_kg: Some(line.order * each),
        ..line
    }
}

fn edging(q: EdgingQuantity, system: System) -> Line {
    let line = plain(
        phrase!("Edge restraint {piece}", piece = drawn(q.piece, system)),
        "edging",
        phrase!("open edges"),
        (q.pieces as f64, Unit::Piece),
        phrase!(
            "{length} along {count} edge, remainders cut from shared pieces of {piece} | {length} along {count} edges, remainders cut from shared pieces of {piece}",
            length = drawn(q.length_m * 1000.0, system),
            count = q.edges,
            piece = drawn(q.piece, system)
        ),
    );
    Line {
        mass_kg: Some(line.order * q.mass),
        ..line
    }
}

fn nails(q: EdgingQuantity, system: System) -> Line {
    let mut line = plain(
        phrase!("Nail {nail}", nail = thickness(q.nail, system)),
        "nails",
        phrase!("edge restraint"),
        (q.nails as f64, Unit::Piece),
        phrase!(
            "{count} nail counted hole by hole | {count} nails counted hole by hole",
            count = q.nails
        ),
    );
    if let Some(pack) = q
        .nails_per_box
        .and_then(|holds| pack(PackKind::Box, f64::from(holds)))
    {
        let boxes = up(line.net / pack.holds);
        line.order = boxes * pack.holds;
        line.pack = Some(pack);
        line.packs = Some(boxes as u64);
    }
    let each = tube(q.nail_diameter, q.nail_diameter / 2.0, q.nail) * STEEL;
    line.mass_kg = Some(line.order * each);
    line
}

fn jointing(q: JointingQuantity, waste: &Waste, system: System) -> Line {
    let order = q.bags as f64 * q.bag;
    let how = phrase!(
        "joints {volume} × {density}",
        volume = print::volume(Volume::from_m3(q.volume_m3), system),
        density = print::density(Density::from_kg_per_m3(q.density), system)
    );
    let bag = print::mass(Mass::from_kg(q.bag), system);
    Line {
        waste: Some(waste.jointing),
        order,
        pack: pack(PackKind::Bag, q.bag),
        packs: Some(q.bags),
        mass_kg: Some(order),
        ..plain(
            phrase!("Jointing material, bag {bag}", bag),
            "jointing",
            phrase!("joints between pavers"),
            (q.mass_kg, Unit::Kilogram),
            how,
        )
    }
}

/// Backfill and the topsoil on it, in place. The soil is kept from the dig; only where it will not
/// do is it brought in.
fn backfill(q: BackfillQuantity, system: System) -> Vec<Line> {
    let area = |m2: f64| print::area(Area::from_m2(m2), system);
    let all = print::volume(Volume::from_m3(q.volume_m3), system);
    let lines = [
        plain(
            phrase!("Soil kept from the dig for backfill"),
            KEPT,
            phrase!("beside the edges"),
            (q.volume_m3 - q.topsoil_m3, Unit::CubicMetre),
            phrase!("backfill {all} in place, less topsoil", all),
        ),
        plain(
            phrase!("Topsoil"),
            "topsoil",
            phrase!("beside the edges"),
            (q.topsoil_m3, Unit::CubicMetre),
            phrase!(
                "{on_base} on the base and {beyond} beyond it, {thickness} thick where there is room",
                on_base = area(q.on_base_m2),
                beyond = area(q.beyond_m2),
                thickness = thickness(q.topsoil, system)
            ),
        ),
    ];
    let [kept, mut topsoil] = lines;
    topsoil.order = ordered(topsoil.net, system);
    topsoil.mass_kg = Some(topsoil.order * q.density);
    let worth = |line: &Line| line.net > 1e-9;
    [kept, topsoil].into_iter().filter(worth).collect()
}

/// Fill in place. How far it settles under the compactor is its supplier's to say.
fn fill(m3: f64, system: System) -> Line {
    Line {
        order: ordered(m3, system),
        ..plain(
            phrase!("Fill to bring in, as compacted"),
            FILL,
            phrase!("where the formation stands above the ground"),
            (m3, Unit::CubicMetre),
            phrase!("from the ground up to the formation, in place"),
        )
    }
}

fn spoil(q: SpoilQuantity, system: System) -> Line {
    let how = phrase!(
        "cut {cut} × (1 + {swell}% swell)",
        cut = print::volume(Volume::from_m3(q.cut_m3), system),
        swell = print::number(q.swell * 100.0, 1)
    );
    Line {
        pack: pack(PackKind::Load, q.load_m3),
        packs: Some(q.loads),
        mass_kg: Some(q.loose_m3 * q.density),
        ..plain(
            phrase!("Spoil to cart away"),
            SPOIL,
            phrase!("dig"),
            (q.loose_m3, Unit::CubicMetre),
            how,
        )
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::PaverQuantity;
    use super::*;
    use crate::paving::Form;

    pub(crate) fn waste() -> Waste {
        Waste {
            panels: 0.0,
            pavers: 0.05,
            bedding: 0.1,
            jointing: 0.1,
            geotextile: 0.0,
        }
    }

    pub(crate) fn quantities() -> Quantities {
        let field = PaverQuantity {
            kind: "field".to_owned(),
            place: "Landing".into(),
            length: 203.2,
            width: 101.6,
            thickness: 80.0,
            whole: 400,
            cut: 60,
            buy: 440,
            per_pallet: Some(480),
            per_layer: None,
            density: 2300.0,
            form: Form::Paver,
            search: None,
        };
        let walk = PaverQuantity {
            place: "Walk".into(),
            whole: 50,
            cut: 20,
            buy: 60,
            ..field.clone()
        };
        Quantities {
            pavers: vec![field, walk],
            bedding: Some(BeddingQuantity {
                material: "concrete sand".to_owned(),
                area_m2: 20.0,
                loose: 20.0,
                loose_m3: 0.4,
                density: 1600.0,
            }),
            edging: Some(EdgingQuantity {
                length_m: 10.0,
                edges: 3,
                pieces: 5,
                piece: 2438.4,
                nails: 101,
                nail: 254.0,
                nail_diameter: 9.525,
                mass: 1.2,
                nails_per_box: Some(50),
            }),
            ..Quantities::default()
        }
    }

    fn line<'a>(lines: &'a [Line], key: &str) -> &'a Line {
        lines.iter().find(|line| line.key == key).unwrap()
    }

    /// (440 + 60) × 1.05 = 525 pavers, two pallets of 480.
    #[test]
    fn pavers_of_one_kind_are_ordered_together_in_whole_pallets() {
        let lines = lines(&quantities(), &waste(), System::Metric);
        let field = line(&lines, "paver.field");
        assert_eq!(
            (field.net, field.order, field.packs),
            (500.0, 960.0, Some(2))
        );
        assert_eq!(
            field.how.to_string(),
            "Landing: 400 whole + 40 for 60 cut; Walk: 50 whole + 10 for 20 cut"
        );
    }

    #[test]
    fn exact_multiples_do_not_take_another_pack() {
        let mut given = quantities();
        given.pavers.truncate(1);
        // 20 × 1.05 is 21, just above it in binary.
        given.pavers[0].buy = 20;
        given.pavers[0].per_pallet = Some(21);
        let lines = lines(&given, &waste(), System::Metric);
        assert_eq!(line(&lines, "paver.field").packs, Some(1));
    }

    #[test]
    fn bedding_is_ordered_with_waste_and_weighed_loose() {
        let lines = lines(&quantities(), &waste(), System::Metric);
        let sand = line(&lines, "bedding");
        assert!((sand.order - 0.44).abs() < 1e-12);
        assert!((sand.mass_kg.unwrap() - 704.0).abs() < 1e-9);
        assert_eq!(sand.how.to_string(), "base 20.00 m² × 20 mm loose");
    }

    /// 0.44 m³ is 0.5755 yd³.
    #[test]
    fn volumes_are_ordered_in_hundredths_of_what_they_are_sold_by() {
        let lines = lines(&quantities(), &waste(), System::FeetInches);
        let yards = line(&lines, "bedding").order / crate::units::CUBIC_YARD;
        assert!((yards - 0.58).abs() < 1e-12);
    }

    /// Three pieces of 30 m need three rolls of 50 m, though 90 m is less than two rolls.
    #[test]
    fn rolls_are_those_that_the_pieces_can_be_cut_from() {
        let given = Quantities {
            textile: Some(TextileQuantity {
                area_m2: 300.0,
                strips: 3,
                roll_m: 90.0,
                roll_width: 4000.0,
                roll_length: 50_000.0,
                roll_mass: 40.0,
                rolls: 3,
            }),
            ..Quantities::default()
        };
        let mut more = waste();
        for (share, rolls) in [(0.0, 3), (1.0, 4)] {
            more.geotextile = share;
            let lines = lines(&given, &more, System::Metric);
            assert_eq!(line(&lines, "geotextile").packs, Some(rolls));
        }
    }

    #[test]
    fn nails_come_in_boxes_and_what_is_absent_makes_no_line() {
        let lines = lines(&quantities(), &waste(), System::FeetInches);
        assert_eq!(line(&lines, "nails").packs, Some(3));
        assert_eq!(line(&lines, "nails").item.to_string(), "Nail 10″");
        assert_eq!(lines.len(), 4);
    }

    #[test]
    fn a_kind_named_like_its_form_is_not_named_twice() {
        let mut slab = quantities().pavers[0].clone();
        slab.form = Form::Slab;
        let item = |slab: &PaverQuantity| {
            let given = Quantities {
                pavers: vec![slab.clone()],
                ..Quantities::default()
            };
            lines(&given, &waste(), System::Metric)[0].item.to_string()
        };
        assert_eq!(item(&slab), "Slab field 203 mm × 102 mm × 80 mm");
        slab.kind = "slab".to_owned();
        assert_eq!(item(&slab), "Slab 203 mm × 102 mm × 80 mm");
    }
}
