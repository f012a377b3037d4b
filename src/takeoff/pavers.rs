//! The takeoff's lines of pavers: one per kind, whatever its places.
//!
//! In: quantities by area and course, and the job's waste, in SI. Out: [`Line`]s. Where pavers come
//! by pallet and by layer they are ordered by the layer, the smaller pack.

use super::lines::{cubic, pack, plain, size, up};
use super::quantities::PaverQuantity;
use super::{Line, Unit};
use crate::job::model::Waste;
use crate::language::{Phrase, phrase};
use crate::paving::{Form, Search};
use crate::units::System;

/// One line per kind, in the order in which the kinds first appear.
pub(super) fn pavers(all: &[PaverQuantity], waste: &Waste, system: System) -> Vec<Line> {
    let mut kinds: Vec<&PaverQuantity> = Vec::new();
    for q in all {
        if kinds.iter().all(|kind| kind.kind != q.kind) {
            kinds.push(q);
        }
    }
    kinds
        .into_iter()
        .map(|kind| {
            let here: Vec<&PaverQuantity> = all.iter().filter(|q| q.kind == kind.kind).collect();
            paver(kind, &here, waste, system)
        })
        .collect()
}

fn paver(kind: &PaverQuantity, here: &[&PaverQuantity], waste: &Waste, system: System) -> Line {
    let net = here.iter().map(|q| q.buy).sum::<u64>() as f64;
    let pack = match (kind.per_layer, kind.per_pallet) {
        (Some(holds), _) => pack("layer", f64::from(holds)),
        (None, Some(holds)) => pack("pallet", f64::from(holds)),
        (None, None) => None,
    };
    let with_waste = up(net * (1.0 + waste.pavers));
    let packs = pack.map(|pack| up(with_waste / pack.holds));
    let how: Vec<String> = here
        .iter()
        .map(|q| {
            let for_cuts = q.buy.saturating_sub(q.whole);
            format!(
                "{}: {} whole + {for_cuts} for {} cut",
                q.place, q.whole, q.cut
            )
        })
        .collect();
    let gains = here.iter().filter_map(|q| Some(gain(&q.search?)));
    let how: Vec<String> = how.into_iter().chain(gains).collect();
    let order = match (pack, packs) {
        (Some(pack), Some(packs)) => pack.holds * packs,
        _ => with_waste,
    };
    let places: Vec<&str> = here.iter().map(|q| q.place.as_str()).collect();
    Line {
        waste: Some(waste.pavers),
        order,
        pack,
        packs: packs.map(|packs| packs as u64),
        mass_kg: Some(order * cubic(kind.length, kind.width, kind.thickness) * kind.density),
        ..plain(
            paver_item(kind, system),
            &format!("paver.{}", kind.kind),
            &places.join(", "),
            (net, Unit::Piece),
            how.join("; "),
        )
    }
}

/// What is ordered: form, the job's name where that says more than the form, and size.
fn paver_item(kind: &PaverQuantity, system: System) -> Phrase {
    let size = size(&[kind.length, kind.width, kind.thickness], system);
    match kind.form {
        Form::Paver if kind.kind.eq_ignore_ascii_case("paver") => phrase!("Paver {size}", size),
        Form::Slab if kind.kind.eq_ignore_ascii_case("slab") => phrase!("Slab {size}", size),
        Form::Paver => phrase!("Paver {kind} {size}", kind = kind.kind, size),
        Form::Slab => phrase!("Slab {kind} {size}", kind = kind.kind, size),
    }
}

/// What the search for the start gained, in words.
fn gain(search: &Search) -> String {
    format!(
        "start of the bond searched: slivers {} to {}, cuts {} to {}, {} places tried",
        search.fixed.slivers,
        search.best.slivers,
        search.fixed.cuts,
        search.best.cuts,
        search.tried
    )
}
