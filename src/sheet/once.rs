//! No length is dimensioned twice: of dimensions between the same two stations along one direction
//! only one is printed.
//!
//! In: the chains of one side of the dig, from the innermost out. Out: the same without what is
//! given elsewhere, each on its tier. Running dimensions come first, since each stands for its
//! distance from the base line alone; then the innermost. A chain is cut where a length of it is
//! left out, and stays on one line. ISO 129-1: each feature is dimensioned once.

use super::chains::SAME;
use super::dimension::Origin;
use super::model::SiteChain;
use crate::geom::{Point, Vector};

/// The stations that each dimension of a chain runs between, lower first.
pub fn stations(chain: &SiteChain, along: Vector) -> Vec<[f64; 2]> {
    let station = |index: usize| (chain.features[index] - Point::default()).dot(along);
    let count = chain.features.len().saturating_sub(1);
    let ends = |span: usize| match chain.origin {
        Some(Origin::At(zero) | Origin::Beyond(zero)) if span >= zero => [zero, span + 1],
        Some(Origin::At(zero) | Origin::Beyond(zero)) => [span, zero],
        None => [span, span + 1],
    };
    let spans = (0..count).map(|span| ends(span).map(station));
    spans.map(|[a, b]| [a.min(b), a.max(b)]).collect()
}

/// Whether two dimensions run between the same stations.
pub fn same(one: [f64; 2], other: [f64; 2]) -> bool {
    (one[0] - other[0]).abs() <= SAME && (one[1] - other[1]).abs() <= SAME
}

/// The chains of one side, each on a tier of its own, without lengths that another gives.
pub fn tiers(chains: Vec<SiteChain>, along: Vector) -> Vec<SiteChain> {
    let counted = chains.iter().filter(|chain| chain.origin.is_some());
    let mut given: Vec<[f64; 2]> = counted.flat_map(|chain| stations(chain, along)).collect();
    let mut kept = Vec::new();
    let mut tier = 0;
    for chain in chains {
        let pieces = match chain.origin {
            Some(_) => vec![chain],
            None => {
                let spans = stations(&chain, along);
                let new = |span: &[f64; 2]| !given.iter().any(|known| same(*known, *span));
                let new: Vec<bool> = spans.iter().map(new).collect();
                given.extend(spans);
                pieces(&chain, &new)
            }
        };
        let any = !pieces.is_empty();
        kept.extend(pieces.into_iter().map(|piece| SiteChain { tier, ..piece }));
        tier += usize::from(any);
    }
    kept
}

/// The runs of a chain's lengths that are kept.
fn pieces(chain: &SiteChain, kept: &[bool]) -> Vec<SiteChain> {
    let mut runs: Vec<std::ops::Range<usize>> = Vec::new();
    for (span, _) in kept.iter().enumerate().filter(|(_, kept)| **kept) {
        match runs.last_mut() {
            Some(run) if run.end == span => run.end = span + 1,
            _ => runs.push(span..span + 1),
        }
    }
    let piece = |run: std::ops::Range<usize>| SiteChain {
        features: chain.features[run.start..=run.end].to_vec(),
        words: chain.words[run].to_vec(),
        ..chain.clone()
    };
    runs.into_iter().map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chain(stations: &[f64], words: &[&str], origin: Option<Origin>) -> SiteChain {
        SiteChain {
            features: stations.iter().map(|x| Point::new(*x, 0.0)).collect(),
            words: words.iter().map(|words| words.to_string()).collect(),
            outward: Vector::new(0.0, 1.0),
            tier: 9,
            origin,
        }
    }

    /// The base reaches 150 mm past a paving of 3 m that running dimensions give: the whole stays,
    /// the 150 mm stay on one line, and the 3 m are not said again.
    #[test]
    fn what_running_dimensions_give_is_cut_out_of_a_chain() {
        let along = Vector::new(1.0, 0.0);
        let running = chain(
            &[0.0, 1000.0, 2000.0, 3000.0],
            &["1000", "2000", "3000"],
            Some(Origin::At(0)),
        );
        let parts = chain(
            &[-150.0, 0.0, 3000.0, 3150.0],
            &["150", "3000", "150"],
            None,
        );
        let whole = chain(&[-150.0, 3150.0], &["3300"], None);
        let again = chain(&[-150.0, 3150.0], &["3300"], None);
        let found = tiers(vec![running.clone(), parts, whole, again], along);
        let words: Vec<(usize, Vec<String>)> =
            found.iter().map(|c| (c.tier, c.words.clone())).collect();
        let said = |tier: usize, words: &[&str]| {
            (
                tier,
                words.iter().map(|w| w.to_string()).collect::<Vec<_>>(),
            )
        };
        assert_eq!(
            words,
            [
                said(0, &["1000", "2000", "3000"]),
                said(1, &["150"]),
                said(1, &["150"]),
                said(2, &["3300"]),
            ]
        );
        assert_eq!(
            found[2].features,
            [3000.0, 3150.0].map(|x| Point::new(x, 0.0))
        );
    }

    /// Running dimensions count from their origin both ways.
    #[test]
    fn running_dimensions_run_from_their_origin() {
        let along = Vector::new(1.0, 0.0);
        let both = chain(&[-500.0, 0.0, 800.0], &["500", "800"], Some(Origin::At(1)));
        assert_eq!(stations(&both, along), [[-500.0, 0.0], [0.0, 800.0]]);
    }
}
