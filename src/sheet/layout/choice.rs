//! The paper of a set, and whether section and edge detail stand beside the plan or on a sheet of
//! their own.
//!
//! In: the content. Out: the paper, and the content set on it.
//!
//! The rule: a set is drawn on the smallest paper of an office printer (letter or tabloid, A4 or
//! A3) on which the plan is legible ([`arrange::smallest`]), the key to its signs and the index of
//! the set stand beside it, and the set takes at most so many sheets more than on the next larger
//! paper as the content says (four for a crew, none for a client); if there is none, on the
//! smallest larger paper whose general sheet takes plan, section, edge detail and every essential
//! block. On an office printer's paper section and edge detail move to a sheet of their own where
//! they would be too small beside the plan, and materials and cautions flow on to the next sheets,
//! under their own names in the index. Sheets are counted without drawing a view.

use super::super::content::{Content, FurtherSheet};
use super::further::Decided;
use super::index::IndexRoom;
use super::{Views, arrange, blocks, general, laid_out, left_off, parts, wanted};
use crate::draw::paper::Paper;

/// The papers of office printers are the first of those that are chosen from.
const OFFICE: usize = 2;

/// A content set on a paper.
pub(super) struct Set {
    /// The content, its paper stated.
    pub(super) content: Content,
    /// Its parts, the general sheet first.
    pub(super) parts: Vec<FurtherSheet>,
    /// The general sheet.
    general: arrange::Arrangement,
    /// Whether everything that must stand on the general sheet does, and can be read.
    good: bool,
}

impl Set {
    fn of(content: Content) -> Self {
        let parts = parts(&content);
        let expected = IndexRoom::expected(&parts, content.languages);
        let (blocks, essential) = blocks(&content, &parts, &[], expected);
        let general = general::arrangement(&content, &parts, &blocks, essential);
        let good = match content.plan.parts.is_empty() {
            true => general.is_good(&content),
            // What is read is on the parts.
            false => general.is_complete(),
        };
        Self {
            content,
            parts,
            general,
            good,
        }
    }

    /// How many sheets it takes, before views add tables of what finds no place in them; none where
    /// they are too many.
    fn count(&self) -> Option<usize> {
        let expected = IndexRoom::expected(&self.parts, self.content.languages);
        let mut views = Views {
            dry: true,
            ..Views::default()
        };
        let decided = &mut Decided::default();
        let pages = laid_out(
            &self.content,
            &self.parts,
            &[],
            expected,
            &mut views,
            decided,
        );
        left_off(&pages).is_empty().then_some(pages.len())
    }
}

/// The content on a paper: section and edge detail beside the plan where all of the general sheet
/// is good so, else apart from it where that is better.
pub(super) fn on(content: &Content, paper: Paper) -> Set {
    let with = |apart: bool| {
        Set::of(Content {
            paper: Some(paper),
            apart,
            ..content.clone()
        })
    };
    let together = with(false);
    if together.good {
        return together;
    }
    let apart = with(true);
    match apart.good || apart.general.is_before(&together.general) {
        true => apart,
        false => together,
    }
}

/// The content that states no paper, on the one chosen for it.
pub(super) fn free(content: &Content) -> Set {
    let papers = arrange::papers(content.system);
    let usable = |index: usize| {
        let set = papers.get(index).map(|paper| on(content, *paper));
        set.filter(|set| set.good && (index < OFFICE || !set.content.apart))
    };
    let mut next = usable(0).map(|set| (set.count(), set));
    for index in 0..papers.len() {
        let this = next.take();
        if index >= OFFICE {
            match this {
                Some((_, set)) => return set,
                None => next = usable(index + 1).map(|set| (None, set)),
            }
            continue;
        }
        next = usable(index + 1).map(|set| (set.count(), set));
        let fewer = next.as_ref().and_then(|(count, _)| *count);
        if let Some((Some(count), set)) = this
            && fewer.is_none_or(|fewer| count <= fewer + content.more)
        {
            return set;
        }
    }
    let plain = parts(content);
    let paper = arrange::first(content, wanted(&plain, 0, 0, &[])).paper;
    on(content, paper)
}
