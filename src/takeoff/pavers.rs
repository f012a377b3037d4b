//! The takeoff's lines of pavers: one per kind, whatever its places.
//!
//! In: quantities by area and course, and the job's waste, in SI. Out: [`Line`]s. Where pavers come
//! by pallet and by layer they are ordered by the layer, the smaller pack.

use super::line::{cubic, pack, plain, size, up};
use super::quantities::PaverQuantity;
use super::{Line, PackKind, Unit};
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
        (Some(holds), _) => pack(PackKind::Layer, f64::from(holds)),
        (None, Some(holds)) => pack(PackKind::Pallet, f64::from(holds)),
        (None, None) => None,
    };
    let with_waste = up(net * (1.0 + waste.pavers));
    let packs = pack.map(|pack| up(with_waste / pack.holds));
    let how: Vec<Phrase> = here
        .iter()
        .map(|q| {
            let for_cuts = q.buy.saturating_sub(q.whole);
            phrase!(
                "{place}: {whole} whole + {for_cuts} for {cut} cut",
                place = q.place,
                whole = q.whole,
                for_cuts,
                cut = q.cut
            )
        })
        .collect();
    let gains = here.iter().filter_map(|q| Some(gain(&q.search?)));
    let how = Phrase::listed(how.into_iter().chain(gains));
    let order = match (pack, packs) {
        (Some(pack), Some(packs)) => pack.holds * packs,
        _ => with_waste,
    };
    let places = here.iter().map(|q| q.place.clone());
    Line {
        waste: Some(waste.pavers),
        order,
        pack,
        packs: packs.map(|packs| packs as u64),
        mass_kg: Some(order * cubic(kind.length, kind.width, kind.thickness) * kind.density),
        ..plain(
            paver_item(kind, system),
            &format!("paver.{}", kind.kind),
            Phrase::row(places, ", "),
            (net, Unit::Piece),
            how,
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
fn gain(search: &Search) -> Phrase {
    phrase!(
        "start of the bond searched: slivers {slivers} to {fewer}, cuts {cuts} to {fewer_cuts}, {tried} places tried",
        slivers = search.fixed.slivers,
        fewer = search.best.slivers,
        cuts = search.fixed.cuts,
        fewer_cuts = search.best.cuts,
        tried = search.tried
    )
}
