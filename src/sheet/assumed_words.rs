//! What each value says that a job may leave open, in plain words.
//!
//! In: a dotted key and its value, ready to print. Out: the part of the work that it belongs to, and
//! a phrase. A key without words of its own is said as it is written.

use crate::language::{Phrase, phrase};

/// The part of the work that a key belongs to by its first part; none for one without words.
pub fn part(head: &str) -> Option<Phrase> {
    Some(match head {
        "access" => phrase!("Access"),
        "backfill" => phrase!("Backfill"),
        "base" => phrase!("Base panels"),
        "bedding" => phrase!("Bedding, rails"),
        "conventional" => phrase!("Conventional"),
        "crew" => phrase!("Crew"),
        "edging" => phrase!("Edge restraint"),
        "excavation" => phrase!("Dig"),
        "geotextile" => phrase!("Geotextile"),
        "jointing" => phrase!("Jointing"),
        "levels" => phrase!("Levels"),
        "prices" => phrase!("Prices"),
        "site" => phrase!("Site"),
        "waste" => phrase!("Waste"),
        _ => return None,
    })
}

/// What a key says with its value. `key` has no numbers in its brackets: they are given in
/// `numbers`, counted from 1 or as the names of what they count; of a paved area or a kind of paver
/// it goes without the name.
pub fn said(key: &str, numbers: &[String], value: &Phrase) -> Option<Phrase> {
    let number = numbers.first().map_or("1", String::as_str);
    of_the_base(key, value)
        .or_else(|| of_the_layers(key, value))
        .or_else(|| of_the_rest(key, number, value))
}

/// Base panels and dig.
fn of_the_base(key: &str, value: &Phrase) -> Option<Phrase> {
    Some(match key {
        "base.panel.length" => phrase!("length {value}", value),
        "base.panel.width" => phrase!("width {value}", value),
        "base.panel.thickness" => phrase!("thickness {value}", value),
        "base.panel.joint" => phrase!("joint {value}", value),
        "base.panel.density" => phrase!("density {value}", value),
        "base.extension" | "excavation.extension" => phrase!("{value} past open edges", value),
        "base.start" => phrase!("start at {value}", value),
        "base.stagger" => phrase!("stagger {value}", value),
        "base.min_stagger" => phrase!("cross joints at least {value} apart", value),
        "base.min_piece" => phrase!("narrowest piece {value}", value),
        "excavation.density" => phrase!("density of the soil {value}", value),
        "excavation.swell" => phrase!("swell {value}", value),
        "excavation.load" => phrase!("one load {value}", value),
        _ => return None,
    })
}

/// Bedding, rails, geotextile, edge restraint, joints, backfill.
fn of_the_layers(key: &str, value: &Phrase) -> Option<Phrase> {
    Some(match key {
        "bedding.material" => phrase!("material {value}", value),
        "bedding.density" => phrase!("loose density {value}", value),
        "bedding.loose" => phrase!("loose {value}", value),
        "bedding.compacted" => phrase!("compacted (prove by a test patch) {value}", value),
        "bedding.rails.diameter" => phrase!("rail, outside diameter {value}", value),
        "bedding.rails.spacing" => phrase!("rails apart, least and most {value}", value),
        "bedding.rails.edge" => phrase!("outer rails {value} inside the base", value),
        "bedding.rails.piece" => phrase!("rail piece {value}", value),
        "bedding.rails.wall" => phrase!("rail’s wall {value}", value),
        "bedding.rails.board" => phrase!("screed board {value}", value),
        "bedding.test_patch" => phrase!("side of the test patch {value}", value),
        "geotextile.roll_width" => phrase!("roll width {value}", value),
        "geotextile.roll_length" => phrase!("roll length {value}", value),
        "geotextile.overlap" => phrase!("laps {value}", value),
        "geotextile.turn_up" => phrase!("turned up {value}", value),
        "geotextile.mass" => phrase!("a roll {value}", value),
        "edging.piece" => phrase!("piece {value}", value),
        "edging.width" => phrase!("foot {value}", value),
        "edging.holes" => phrase!("holes {value} apart", value),
        "edging.nail_every" => phrase!("holes per nail {value}", value),
        "edging.curve_nail_every" => phrase!("holes per nail on curves {value}", value),
        "edging.nail" => phrase!("nail {value}", value),
        "edging.nail_diameter" => phrase!("nail {value} thick", value),
        "edging.mass" => phrase!("a piece {value}", value),
        "jointing.bag" => phrase!("bag {value}", value),
        "jointing.density" => phrase!("density {value}", value),
        "jointing.below" => phrase!("{value} below the pavers’ top", value),
        "jointing.mist" => phrase!("passes of mist {value}", value),
        "jointing.dry" => phrase!("kept dry for {value}", value),
        "backfill.density" => phrase!("density of the topsoil {value}", value),
        "backfill.drop" => phrase!("top {value} below the pavers", value),
        "backfill.topsoil" => phrase!("topsoil up to {value}", value),
        _ => return None,
    })
}

/// Everything else.
fn of_the_rest(key: &str, number: &str, value: &Phrase) -> Option<Phrase> {
    Some(match key {
        "conventional.base" => phrase!("aggregate {value}", value),
        "conventional.density" => phrase!("density of the aggregate {value}", value),
        "conventional.bedding" | "waste.bedding" => phrase!("bedding {value}", value),
        "waste.panels" => phrase!("panels {value}", value),
        "waste.pavers" => phrase!("pavers {value}", value),
        "waste.jointing" => phrase!("jointing {value}", value),
        "waste.geotextile" => phrase!("geotextile {value}", value),
        "access.steps" => phrase!("steps on the way {value}", value),
        "access.trip" => phrase!("load of a trip {value}", value),
        "crew.people" => phrase!("{value} people", value),
        "crew.day" => phrase!("day of {value}", value),
        "levels.finish.at" => phrase!("finish stated at {value}", value),
        "levels.finish.level" => phrase!("finish level {value}", value),
        "levels.finish.fall" => phrase!("fall {value}", value),
        "levels.finish.towards" => phrase!("falling towards {value}", value),
        "levels.finish.away_from" => phrase!("falling away from {value}", value),
        "levels.rod" => value.clone(),
        "levels.sills[].clear" => {
            phrase!("finish at least {value} below sill {number}", value, number)
        }
        "levels.fixed[].lip" => {
            phrase!("lip at fixed edge {number} at most {value}", number, value)
        }
        "prices.currency" => phrase!("currency {value}", value),
        "prices.markup" => phrase!("markup {value}", value),
        "prices.tax" => phrase!("tax {value}", value),
        "site.levelling.adjust" | "site.traverse.adjust" => value.clone(),
        "site.levelling.limit" => phrase!("misclosure of the levelling at most {value}", value),
        "site.traverse.limit" => phrase!("misclosure of the traverse at most {value}", value),
        "site.runoff" => phrase!("runoff {value}", value),
        "site.drains[].set_down" => {
            phrase!("rim of drain {number} set down {value}", number, value)
        }
        "site.services[].zone" => {
            phrase!("zone of buried service {number}: {value}", number, value)
        }
        "site.structures[].wall_clear" => {
            phrase!(
                "finish at least {value} below the wall level of structure {number}",
                value,
                number
            )
        }
        "paving.bond" => value.clone(),
        "paving.turn" => phrase!("bond turned {value}", value),
        "paving.start" => phrase!("start at {value}", value),
        "paving.paver" => phrase!("paver {value}", value),
        "paving.border[].lay" | "paving.border[].corners" => {
            phrase!("border {number}: {value}", number, value)
        }
        "pavers.joint" => phrase!("joint {value}", value),
        "pavers.density" => phrase!("density {value}", value),
        _ => return None,
    })
}

/// What a word of the job file means as the value of a key; none for one that means itself.
pub fn meaning(key: &str, value: &str) -> Option<Phrase> {
    Some(match (key, value) {
        ("levels.rod", "decimal-feet") => phrase!("rod in feet and hundredths"),
        ("levels.rod", "feet-inches") => phrase!("rod in feet, inches and eighths"),
        ("levels.rod", "metric") => phrase!("rod in metres and millimetres"),
        ("site.levelling.adjust", "setups") => {
            phrase!("misclosure of the levelling spread over the set-ups")
        }
        ("site.traverse.adjust", "compass") => {
            phrase!("misclosure of the traverse spread by length of leg")
        }
        ("paving.bond", "running") => phrase!("running bond"),
        ("paving.border[].lay", "soldier") => phrase!("soldier course"),
        ("paving.border[].corners", "mitred") => phrase!("mitred corners"),
        ("bedding.material", material) => Phrase::known(material),
        _ => return None,
    })
}
