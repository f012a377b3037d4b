//! `bonds`: repeating cells of the job's own, and which bond an area is laid in.
//!
//! In: the nodes. Out: [`Modular`] bonds in millimetres, each proved to tile, and the [`Bond`] and
//! [`Shift`] of an area.

use super::reader::{Bound, Map, Reader};
use super::tree::{Node, Value};
use super::values::{angle, nearest, shorten};
use crate::diag::{Diagnostic, Place};
use crate::geom::Vector;
use crate::language::{Phrase, phrase};
use crate::paving::modular::{self, Fault, MOST_PAVERS};
use crate::paving::{self, Axis, Bond, Modular, ModularPaver, PaverSpec, Shift};

/// Most bonds of a job.
const MOST: usize = 50;

/// The bonds that every job knows.
const KNOWN: [(&str, Bond); 4] = [
    ("running", Bond::Running),
    ("stack", Bond::Stack),
    ("herringbone", Bond::Herringbone),
    ("basketweave", Bond::Basketweave),
];

/// A bond of the job; `None` for one that could not be read, so that its name stays known.
type Named = (String, Option<Modular>);

/// Reads `bonds`.
pub fn bonds(r: &mut Reader, root: &Map<'_>, pavers: &[PaverSpec]) -> Vec<Named> {
    let Some(map) = root.get("bonds").and_then(|node| r.open_map(node, "bonds")) else {
        return Vec::new();
    };
    if map.entries().len() > MOST {
        r.error(
            "too-many",
            map.place,
            phrase!("more than {most} bonds", most = MOST),
            phrase!("at most {most}", most = MOST),
        );
    }
    let mut out = Vec::new();
    for entry in map.entries().iter().take(MOST) {
        if KNOWN.iter().any(|(name, _)| *name == entry.key) {
            let found = phrase!(
                "the name `{name}` is that of a bond every job knows",
                name = entry.key
            );
            r.error("bond", entry.place, found, phrase!("a name of its own"));
            continue;
        }
        let bond = bond(r, &entry.node, &entry.key, pavers);
        out.push((entry.key.clone(), bond));
    }
    out
}

/// One bond, proved to tile.
fn bond(r: &mut Reader, node: &Node, name: &str, pavers: &[PaverSpec]) -> Option<Modular> {
    let path = format!("bonds.{name}");
    let map = r.map(node, &path, &["cell", "pavers"])?;
    let wanted = &phrase!(
        "the cell's width and height such as [16\", 8\"], or the two steps by which it \
                  repeats such as [[12\", 6\"], [-6\", 12\"]]"
    );
    let cell = r.required(&map, "cell", wanted);
    let steps = cell.and_then(|node| steps(r, node, &map.key("cell"), wanted));
    let wanted = &phrase!(
        "a list such as {example}",
        example = "[{paver: large, at: [0, 0]}, {paver: small, at: [8\", 0]}]"
    );
    let list = r.required(&map, "pavers", wanted);
    let path = map.key("pavers");
    let list = list.and_then(|node| r.list(node, &path, wanted).map(|items| (node, items)));
    let (list, items) = list?;
    if items.is_empty() || items.len() > MOST_PAVERS {
        r.wrong(
            list,
            &path,
            phrase!("1 to {most} pavers", most = MOST_PAVERS),
        );
        return None;
    }
    let parts: Vec<Option<ModularPaver>> = items
        .iter()
        .enumerate()
        .map(|(index, item)| part(r, item, &format!("{path}[{index}]"), pavers))
        .collect();
    let modular = Modular {
        name: name.to_owned(),
        steps: steps?,
        pavers: parts.into_iter().collect::<Option<Vec<_>>>()?,
    };
    let Err(fault) = modular::check(&modular, pavers) else {
        return Some(modular);
    };
    let at = |index: usize| items.get(index).map_or(list.place, |item| item.place);
    let (place, wanted) = match &fault {
        Fault::Paver(index, _) => (
            at(*index),
            phrase!("pavers of one thickness that fit what they take"),
        ),
        Fault::Steps(_) => (cell.map_or(map.place, |cell| cell.place), wanted_steps()),
        Fault::Areas { .. } => (
            cell.map_or(map.place, |cell| cell.place),
            phrase!(
                "a cell that its pavers and their joints fill: no gap and no overlap; where \
                 joints are made up, say so with `takes: [width, height]`"
            ),
        ),
        Fault::Overlap(_, other) => (at(*other), phrase!("places that leave each paver its own")),
    };
    r.error(
        "bond",
        place,
        phrase!(
            "{area}: {fault}",
            area = format!("bonds.{name}"),
            fault = fault.phrase(r.system())
        ),
        wanted,
    );
    None
}

fn wanted_steps() -> Phrase {
    phrase!("two steps in different directions, such as [[12\", 6\"], [-6\", 12\"]]")
}

/// The steps by which a cell repeats.
fn steps(r: &mut Reader, node: &Node, path: &str, wanted: &Phrase) -> Option<[Vector; 2]> {
    let Some([first, second]) = r.list(node, path, wanted) else {
        if matches!(node.value, Value::List(_)) {
            r.wrong(node, path, wanted);
        }
        return None;
    };
    if matches!(first.value, Value::Scalar(..)) {
        let wide = r.length(first, &format!("{path}[0]"), Bound::Positive);
        let tall = r.length(second, &format!("{path}[1]"), Bound::Positive);
        return Some([Vector::new(wide?, 0.0), Vector::new(0.0, tall?)]);
    }
    let first = pair(r, first, &format!("{path}[0]"), Bound::Any, wanted);
    let second = pair(r, second, &format!("{path}[1]"), Bound::Any, wanted);
    let vector = |[x, y]: [f64; 2]| Vector::new(x, y);
    Some([vector(first?), vector(second?)])
}

/// Two lengths.
fn pair(
    r: &mut Reader,
    node: &Node,
    path: &str,
    bound: Bound,
    wanted: &Phrase,
) -> Option<[f64; 2]> {
    let Some([x, y]) = r.list(node, path, wanted) else {
        if matches!(node.value, Value::List(_)) {
            r.wrong(node, path, wanted);
        }
        return None;
    };
    let x = r.length(x, &format!("{path}[0]"), bound);
    let y = r.length(y, &format!("{path}[1]"), bound);
    Some([x?, y?])
}

/// A paver of a cell.
fn part(r: &mut Reader, node: &Node, path: &str, pavers: &[PaverSpec]) -> Option<ModularPaver> {
    let map = r.map(node, path, &["paver", "at", "turn", "takes"])?;
    let paver = r.required(&map, "paver", phrase!("a name under pavers"));
    let paver = paver.and_then(|node| kind(r, node, &map.key("paver"), pavers));
    let wanted = &phrase!("the place of its lower left corner in the cell, such as [8\", 0]");
    let at = r.required(&map, "at", wanted);
    let at = at.and_then(|node| pair(r, node, &map.key("at"), Bound::Any, wanted));
    let long_side = match map.get("turn") {
        None => Some(Axis::X),
        Some(node) => {
            let turn = r.value(node, &map.key("turn"), Bound::Any, angle);
            let side = turn.and_then(|turn| match turn {
                0.0 | 180.0 => Some(Axis::X),
                90.0 | -90.0 => Some(Axis::Y),
                _ => None,
            });
            if turn.is_some() && side.is_none() {
                r.wrong(
                    node,
                    &map.key("turn"),
                    phrase!("0° (long side along x) or 90°"),
                );
            }
            side
        }
    };
    let takes = match map.get("takes") {
        None => Some(None),
        Some(node) => {
            let wanted = &phrase!("width and height that it takes up as laid, joints included");
            pair(r, node, &map.key("takes"), Bound::Positive, wanted).map(Some)
        }
    };
    Some(ModularPaver {
        paver: paver?,
        at: at?,
        long_side: long_side?,
        takes: takes?,
    })
}

/// A kind of paver by name.
pub fn kind(r: &mut Reader, node: &Node, path: &str, pavers: &[PaverSpec]) -> Option<usize> {
    let name = r.text(node, path)?;
    let index = pavers.iter().position(|paver| paver.name == name);
    if index.is_some() || pavers.is_empty() {
        return index;
    }
    let names: Vec<&str> = pavers.iter().map(|paver| paver.name.as_str()).collect();
    let found = phrase!(
        "{path} is `{name}`, which is not under pavers",
        path,
        name = shorten(&name)
    );
    unknown(r, "unknown-paver", node.place, found, &name, &names);
    None
}

/// Says that a name is not one of those known.
fn unknown(
    r: &mut Reader,
    code: &'static str,
    place: Place,
    found: Phrase,
    name: &str,
    names: &[&str],
) {
    let mut finding = Diagnostic::error(code, found)
        .at(place)
        .wanted(phrase!("one of {names}§names", names = names.join(", ")));
    if let Some(near) = nearest(&shorten(name), names) {
        finding = finding.hint(phrase!("perhaps `{near}` is meant", near));
    }
    r.add(finding);
}

/// The bond of an area and its first kind of paver.
pub fn laid_in(
    r: &mut Reader,
    area: &Map<'_>,
    bonds: &[Named],
    pavers: &[PaverSpec],
) -> (Bond, usize) {
    let bond = match area.get("bond") {
        Some(node) => named(r, node, &area.key("bond"), bonds),
        None => {
            r.assume(area.key("bond"), "running");
            Some(Bond::Running)
        }
    };
    if let Some(Bond::Modular(modular)) = bond {
        if let Some(node) = area.get("paver") {
            let found = phrase!(
                "{key} beside a bond that names its pavers",
                key = area.key("paver")
            );
            r.error("bond", node.place, found, phrase!("the bond alone"));
        }
        let first = modular.pavers[0].paver;
        return (Bond::Modular(modular), first);
    }
    let paver = match area.get("paver") {
        Some(node) => kind(r, node, &area.key("paver"), pavers).unwrap_or(0),
        None => {
            if let Some(first) = pavers.first()
                && bond.is_some()
            {
                r.assume(area.key("paver"), first.name.clone());
            }
            0
        }
    };
    let bond = bond.unwrap_or(Bond::Running);
    if let Some(Err(why)) = pavers.get(paver).map(|paver| paving::check(&bond, paver)) {
        let place = area.get("bond").map_or(area.place, |node| node.place);
        let wanted = &phrase!("a bond that this paver can be laid in");
        r.error("bond", place, why.phrase(r.system()), wanted);
    }
    (bond, paver)
}

/// A bond by name; `None` (said here or where the bond stands) when there is none to lay.
fn named(r: &mut Reader, node: &Node, path: &str, bonds: &[Named]) -> Option<Bond> {
    let name = r.text(node, path)?;
    if let Some((_, bond)) = KNOWN.iter().find(|(known, _)| *known == name) {
        return Some(bond.clone());
    }
    if let Some((_, bond)) = bonds.iter().find(|(known, _)| *known == name) {
        return bond.clone().map(Bond::Modular);
    }
    let mut names: Vec<&str> = KNOWN.iter().map(|(name, _)| *name).collect();
    names.extend(bonds.iter().map(|(name, _)| name.as_str()));
    let found = phrase!("{owner} is `{text}`", owner = path, text = shorten(&name));
    unknown(r, "type", node.place, found, &name, &names);
    None
}

/// Where the bond of an area sits against its start corner: `start: best`, or `shift` in `start`.
pub fn shift(r: &mut Reader, area: &Map<'_>) -> Shift {
    let here = Shift::Stated([0.0, 0.0]);
    let Some(node) = area.get("start") else {
        return here;
    };
    if is_best(node) {
        return Shift::Best;
    }
    let Value::Map(entries) = &node.value else {
        return here;
    };
    let Some(entry) = entries.iter().find(|entry| entry.key == "shift") else {
        return here;
    };
    if is_best(&entry.node) {
        return Shift::Best;
    }
    let path = format!("{}.shift", area.key("start"));
    let wanted = &phrase!("best, or how far along the bond's axes such as [2\", 0]");
    pair(r, &entry.node, &path, Bound::Any, wanted).map_or(here, Shift::Stated)
}

/// Whether a node is the word `best`.
pub fn is_best(node: &Node) -> bool {
    matches!(&node.value, Value::Scalar(text, _) if text == "best")
}
