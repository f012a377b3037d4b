//! The blocks of layers and materials: `excavation`, `bedding`, `geotextile`, `pavers`,
//! `edging`, `jointing`, `conventional`, `waste`.
//!
//! In: the nodes. Out: what each computation takes, defaults filled in and noted as assumed.
//! The defaults are the table of the job file's description; common practice, no source.

use super::model::{Conventional, Waste};
use super::reader::{Bound, Map, Pair, Reader};
use super::tree::{Node, Value};
use super::values::{density, length, mass, volume};
use crate::edging::EdgingSpec;
use crate::jointing::JointingSpec;
use crate::language::{Phrase, phrase};
use crate::paving::PaverSpec;
use crate::screed::{BeddingSpec, RailsSpec};
use crate::textile::TextileSpec;
use crate::units::POUND;
use crate::units::read::{hours, ratio};

/// Density of loose earth.
///
/// # Source
/// Dry loose earth, US Army TM 9-2320-366-10-1, table 2-15: 75 lb/ft³.
pub const LOOSE_EARTH: Pair = ("75 lb/ft³", "1200 kg/m³");

/// Mass of a geotextile that keeps soil and bedding apart, kg/m²: 6 oz/yd². From memory.
const TEXTILE_MASS: f64 = 0.2;

/// Mass of an edge restraint of plastic, kg/m: a third of a pound per foot. From memory.
const EDGING_MASS: f64 = 0.5;

/// Most kinds of paver.
const MOST_KINDS: usize = 100;

/// What `excavation` says: extension in millimetres, swell as a ratio, load in cubic metres.
#[derive(Debug)]
pub struct Excavation {
    /// Extension past open edges, in millimetres.
    pub extension: f64,
    /// Swell as a ratio.
    pub swell: f64,
    /// One load, in cubic metres.
    pub load: f64,
    /// Density of the loose spoil, kg/m³.
    pub density: f64,
}

/// Reads `excavation`.
pub fn excavation(r: &mut Reader, root: &Map<'_>) -> Excavation {
    let keys = ["extension", "swell", "load", "density"];
    let map = r.block(root, "excavation", &keys);
    Excavation {
        extension: r.length_or(&map, "extension", Bound::NotNegative, ("6\"", "150 mm")),
        swell: share(r, &map, "swell", "25%"),
        load: r.value_or(&map, "load", Bound::Positive, ("3 yd³", "2 m³"), volume),
        density: r.value_or(&map, "density", Bound::Positive, LOOSE_EARTH, density),
    }
}

/// A share from 0 to 100 %, else its default.
fn share(r: &mut Reader, map: &Map<'_>, key: &str, default: &'static str) -> f64 {
    let value = r.value_or(map, key, Bound::NotNegative, (default, default), ratio);
    if value > 1.0
        && let Some(node) = map.get(key)
    {
        r.wrong(node, &map.key(key), phrase!("a share from 0% to 100%"));
    }
    value
}

/// Reads `bedding`.
pub fn bedding(r: &mut Reader, root: &Map<'_>) -> BeddingSpec {
    let keys = [
        "material",
        "loose",
        "compacted",
        "density",
        "test_patch",
        "rails",
    ];
    let map = r.block(root, "bedding", &keys);
    let material = match map.get("material") {
        Some(_) => r.text_at(&map, "material").unwrap_or_default(),
        None => {
            r.assume(map.key("material"), "concrete sand");
            phrase!("concrete sand").to_string()
        }
    };
    let loose_pair = ("3/4\"", "20 mm");
    let loose = r.length_or(&map, "loose", Bound::Positive, loose_pair);
    let compacted = r.length_or(&map, "compacted", Bound::Positive, ("1/2\"", "13 mm"));
    if compacted > loose {
        let place = map
            .get("compacted")
            .or(map.get("loose"))
            .map_or(map.place, |n| n.place);
        r.error(
            "bedding",
            place,
            phrase!("compacted bedding thicker than loose"),
            phrase!("bedding.compacted no more than bedding.loose"),
        );
    }
    let density = r.value_or(
        &map,
        "density",
        Bound::Positive,
        ("100 lb/ft³", "1600 kg/m³"),
        density,
    );
    let patch = ("4'", "1.2 m");
    let test_patch = r.length_or(&map, "test_patch", Bound::Positive, patch);
    let keys = ["diameter", "wall", "spacing", "edge", "piece", "board"];
    let rails = r.block(&map, "rails", &keys);
    let diameter = match rails.get("diameter") {
        Some(_) => r
            .length_at(&rails, "diameter", Bound::Positive)
            .unwrap_or(loose),
        None => {
            let text = match map.get("loose").map(|node| &node.value) {
                Some(Value::Scalar(text, _)) => text.clone(),
                _ => r.pick(loose_pair).to_owned(),
            };
            r.assume(rails.key("diameter"), text);
            loose
        }
    };
    BeddingSpec {
        material,
        loose,
        compacted,
        density,
        test_patch,
        rails: RailsSpec {
            diameter,
            // Thin steel tube; common practice, no source.
            wall: r.length_or(&rails, "wall", Bound::Positive, ("1/16\"", "1.5 mm")),
            spacing: spacing(r, &rails),
            edge: r.length_or(&rails, "edge", Bound::NotNegative, ("12\"", "300 mm")),
            piece: r.length_or(&rails, "piece", Bound::Positive, ("10'", "3 m")),
            board: r.length_or(&rails, "board", Bound::Positive, ("8'", "2.4 m")),
        },
    }
}

/// Least and most distance between rails.
fn spacing(r: &mut Reader, map: &Map<'_>) -> [f64; 2] {
    let default: [Pair; 2] = [("4'", "1.2 m"), ("6'", "1.8 m")];
    let texts = default.map(|pair| r.pick(pair));
    let fallback = texts.map(|text| length(text).unwrap_or_default());
    let Some(node) = map.get("spacing") else {
        r.assume(map.key("spacing"), format!("[{}, {}]", texts[0], texts[1]));
        return fallback;
    };
    let path = map.key("spacing");
    let wanted = &phrase!("least and most distance, such as [4', 6']");
    let Some([least, most]) = r.list(node, &path, wanted) else {
        if matches!(node.value, Value::List(_)) {
            r.wrong(node, &path, wanted);
        }
        return fallback;
    };
    let least = r.length(least, &format!("{path}[0]"), Bound::Positive);
    let most = r.length(most, &format!("{path}[1]"), Bound::Positive);
    let (Some(least), Some(most)) = (least, most) else {
        return fallback;
    };
    if least > most {
        r.error(
            "size",
            node.place,
            phrase!("the least distance between rails is more than the most"),
            wanted,
        );
    }
    [least, most]
}

/// Reads `geotextile`.
pub fn geotextile(r: &mut Reader, root: &Map<'_>) -> TextileSpec {
    let keys = ["roll_width", "roll_length", "overlap", "turn_up", "mass"];
    let map = r.block(root, "geotextile", &keys);
    let mut spec = TextileSpec {
        roll_mass: 0.0,
        roll_width: r.length_or(&map, "roll_width", Bound::Positive, ("12'-6\"", "4 m")),
        roll_length: r.length_or(&map, "roll_length", Bound::Positive, ("100'", "50 m")),
        overlap: r.length_or(&map, "overlap", Bound::NotNegative, ("12\"", "300 mm")),
        turn_up: r.length_or(&map, "turn_up", Bound::NotNegative, ("0", "0")),
    };
    let roll = spec.roll_width * spec.roll_length / 1e6;
    spec.roll_mass = mass_or(r, &map, "mass", roll * TEXTILE_MASS);
    for (name, extent) in [
        ("roll_width", spec.roll_width),
        ("roll_length", spec.roll_length),
    ] {
        if spec.overlap < extent {
            continue;
        }
        let node = map.get("overlap").or(map.get(name));
        r.error(
            "size",
            node.map_or(map.place, |n| n.place),
            phrase!(
                "the overlap is not less than {key}",
                key = format!("geotextile.{name}")
            ),
            phrase!("an overlap narrower than the roll"),
        );
    }
    spec
}

/// Reads `pavers`: at least one kind.
pub fn pavers(r: &mut Reader, root: &Map<'_>) -> Vec<PaverSpec> {
    let wanted = &Phrase::own("pavers: {field: {size: [8\", 4\"], thickness: 80 mm}}");
    let Some(node) = r.required(root, "pavers", wanted) else {
        return Vec::new();
    };
    let Some(map) = r.open_map(node, "pavers") else {
        return Vec::new();
    };
    if map.entries().is_empty() {
        r.wrong(node, "pavers", wanted);
    }
    if map.entries().len() > MOST_KINDS {
        r.error(
            "too-many",
            map.place,
            phrase!("more kinds of paver than a sheet can show"),
            phrase!("at most {most}", most = MOST_KINDS),
        );
    }
    map.entries()
        .iter()
        .take(MOST_KINDS)
        .map(|entry| paver(r, &entry.node, &entry.key))
        .collect()
}

/// One kind of paver. What cannot be read is an error and leaves a stand-in, so that the names of
/// the kinds stay known.
fn paver(r: &mut Reader, node: &Node, name: &str) -> PaverSpec {
    let mut spec = PaverSpec {
        name: name.to_owned(),
        length: 200.0,
        width: 100.0,
        thickness: 80.0,
        joint: 3.0,
        per_pallet: None,
        per_layer: None,
        density: 2300.0,
    };
    let keys = [
        "size",
        "thickness",
        "joint",
        "per_pallet",
        "per_layer",
        "density",
    ];
    let Some(map) = r.map(node, &format!("pavers.{name}"), &keys) else {
        return spec;
    };
    let wanted = &phrase!("length and width such as [8\", 4\"]");
    if let Some(size) = r.required(&map, "size", wanted) {
        let path = map.key("size");
        match r.list(size, &path, wanted) {
            Some([a, b]) => {
                let a = r.length(a, &format!("{path}[0]"), Bound::Positive);
                let b = r.length(b, &format!("{path}[1]"), Bound::Positive);
                if let (Some(a), Some(b)) = (a, b) {
                    (spec.length, spec.width) = (a.max(b), a.min(b));
                }
            }
            Some(_) => r.wrong(size, &path, wanted),
            None => {}
        }
    }
    if let Some(node) = r.required(
        &map,
        "thickness",
        phrase!("a length such as 80 mm or 3 1/8\""),
    ) && let Some(value) = r.length(node, &map.key("thickness"), Bound::Positive)
    {
        spec.thickness = value;
    }
    spec.joint = r.length_or(&map, "joint", Bound::NotNegative, ("1/8\"", "3 mm"));
    spec.per_pallet = r.count_at(&map, "per_pallet");
    spec.per_layer = r.count_at(&map, "per_layer");
    // Of pressed concrete; from memory.
    let concrete = ("145 lb/ft³", "2300 kg/m³");
    spec.density = r.value_or(&map, "density", Bound::Positive, concrete, density);
    spec
}

/// Reads `edging`.
pub fn edging(r: &mut Reader, root: &Map<'_>) -> EdgingSpec {
    let keys = [
        "piece",
        "width",
        "holes",
        "nail_every",
        "curve_nail_every",
        "nail",
        "nail_diameter",
        "nails_per_box",
        "mass",
    ];
    let map = r.block(root, "edging", &keys);
    let piece = r.length_or(&map, "piece", Bound::Positive, ("8'", "2.4 m"));
    EdgingSpec {
        piece,
        mass: mass_or(r, &map, "mass", piece / 1000.0 * EDGING_MASS),
        width: r.length_or(&map, "width", Bound::Positive, ("2\"", "50 mm")),
        holes: r.length_or(&map, "holes", Bound::Positive, ("4\"", "100 mm")),
        nail_every: r.count_or(&map, "nail_every", 2),
        curve_nail_every: r.count_or(&map, "curve_nail_every", 1),
        nail: r.length_or(&map, "nail", Bound::Positive, ("10\"", "250 mm")),
        nail_diameter: r.length_or(&map, "nail_diameter", Bound::Positive, ("3/8\"", "10 mm")),
        nails_per_box: r.count_at(&map, "nails_per_box"),
    }
}

/// The mass of one as bought; else `kg`, assumed to a tenth of the unit that the job is in.
fn mass_or(r: &mut Reader, map: &Map<'_>, key: &str, kg: f64) -> f64 {
    if let Some(node) = map.get(key) {
        let read = r.value(node, &map.key(key), Bound::Positive, mass);
        return read.unwrap_or(kg);
    }
    let unit = r.pick(("lb", "kg"));
    let size = if unit == "lb" { POUND } else { 1.0 };
    let tenths = (kg / size * 10.0).round().max(1.0) / 10.0;
    r.assume(map.key(key), format!("{tenths} {unit}"));
    tenths * size
}

/// Reads `jointing`.
pub fn jointing(r: &mut Reader, root: &Map<'_>, pavers: &[PaverSpec]) -> JointingSpec {
    let keys = ["bag", "density", "below", "mist", "dry"];
    let map = r.block(root, "jointing", &keys);
    let spec = JointingSpec {
        bag: r.value_or(&map, "bag", Bound::Positive, ("50 lb", "25 kg"), mass),
        density: r.value_or(
            &map,
            "density",
            Bound::Positive,
            ("100 lb/ft³", "1600 kg/m³"),
            density,
        ),
        below: r.length_or(&map, "below", Bound::NotNegative, ("1/8\"", "3 mm")),
        mist: r.count_or(&map, "mist", 3),
        dry: r.value_or(&map, "dry", Bound::NotNegative, ("24 h", "24 h"), hours),
    };
    if let Some(node) = map.get("below")
        && pavers.iter().any(|paver| spec.below >= paver.thickness)
    {
        r.error(
            "size",
            node.place,
            phrase!("jointing.below is not less than a paver's thickness"),
            phrase!("how far the jointing stays under the paver's top edge"),
        );
    }
    spec
}

/// Bulk density of aggregate where the job states none.
///
/// # Source
/// Crushed limestone, 100 lb/ft³: US Army TM 9-2320-366-10-1, table 2-15. Compacted it is heavier,
/// so that the mass compared is on the low side.
const AGGREGATE: (&str, &str) = ("100 lb/ft³", "1600 kg/m³");

/// Reads `conventional`; without it the comparison is off.
pub fn conventional(r: &mut Reader, root: &Map<'_>) -> Option<Conventional> {
    root.get("conventional")?;
    let map = r.block(root, "conventional", &["base", "bedding", "density"]);
    Some(Conventional {
        base: r.length_or(&map, "base", Bound::NotNegative, ("5\"", "125 mm")),
        bedding: r.length_or(&map, "bedding", Bound::NotNegative, ("1\"", "25 mm")),
        density: r.value_or(&map, "density", Bound::Positive, AGGREGATE, density),
    })
}

/// Reads `waste`.
pub fn waste(r: &mut Reader, root: &Map<'_>) -> Waste {
    let keys = ["panels", "pavers", "bedding", "jointing", "geotextile"];
    let map = r.block(root, "waste", &keys);
    Waste {
        panels: share(r, &map, "panels", "0%"),
        pavers: share(r, &map, "pavers", "5%"),
        bedding: share(r, &map, "bedding", "10%"),
        jointing: share(r, &map, "jointing", "10%"),
        geotextile: share(r, &map, "geotextile", "0%"),
    }
}
