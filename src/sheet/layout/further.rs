//! The sheets after the general one: those with views, and those that hold blocks alone.
//!
//! In: the parts of the set, and the blocks that the general sheet left. Out: pages in the order of
//! their parts. Each part with views has paper of its own, with its own blocks beside them; what
//! else there is stands on sheets of blocks, or in columns that views leave free, where it fits one
//! of them completely. Method: the set is laid both ways before anything is drawn, and what takes
//! fewer sheets is kept, then what parts fewer blocks over sheets, and fewer over columns, but
//! columns beside a section apart from its plan are filled; where sheets of blocks remain, they are not left nearly empty.

use super::super::column::Block;
use super::super::content::{Content, FurtherSheet};
use super::super::flow::Flow;
use super::arrange::{self, Arrangement, Wanted};
use super::tables::{self, Waiting};
use super::{MOST, NOTES, Page, left_off, zones};

/// A sheet of blocks of which this share is taken does not look empty.
const WELL_TAKEN: f64 = 0.6;

/// Lower blocks than this wait for the next sheet rather than being parted over two.
const SHORT: f64 = 80.0;

/// Sets with more sheets of views than this keep blocks apart from them.
const MOST_SHARED: usize = 12;

/// Blocks that keep from columns beside views of another part, and which of the others are first to
/// find a place there; none where all keep from them.
type Kept = Option<(Vec<Waiting>, First)>;

/// Rounds of the layout in which it is decided anew which blocks stand beside views.
const DECIDING: usize = 2;

/// What earlier rounds of the layout decided.
#[derive(Default)]
pub(super) struct Decided {
    rounds: usize,
    kept: Kept,
}

/// The sheets after the general one.
pub(super) struct Further<'a> {
    /// What is set.
    pub(super) content: &'a Content,
    /// The parts of the set, the general sheet first.
    pub(super) parts: &'a [FurtherSheet],
    /// The general sheet, with the paper of the set.
    pub(super) set: &'a Arrangement,
    /// What it left.
    pub(super) left: &'a [Waiting],
    /// Whether it only matters how many pages there are.
    pub(super) only_counted: bool,
}

/// Gives the view of a part in an arrangement, and the tables of what found no place in it.
type Draw<'a> = &'a mut dyn FnMut(usize, &Arrangement) -> (Option<usize>, Vec<Block>);

/// Pages as they were laid.
struct Laid {
    /// Each with the index of its part.
    pages: Vec<(usize, Page)>,
    /// How many blocks are parted over sheets.
    parted: usize,
    /// How often a block goes on in another column.
    breaks: usize,
    /// The least share that is taken of a sheet of blocks.
    taken: f64,
    /// Blocks beside views of another part.
    beside: Vec<Waiting>,
}

impl Laid {
    fn none() -> Self {
        Self {
            pages: Vec::new(),
            parted: 0,
            breaks: 0,
            taken: 1.0,
            beside: Vec::new(),
        }
    }

    /// Lower is better.
    fn rank(&self) -> (usize, usize, usize) {
        (self.pages.len(), self.parted, self.breaks)
    }
}

/// Which blocks may stand beside views of another part.
#[derive(Clone, Copy)]
enum Beside<'a> {
    None,
    /// All but those, in that order.
    AllBut(&'a [Waiting], First),
}

/// Which blocks are first to find a place beside views.
#[derive(Clone, Copy, Debug)]
enum First {
    /// What comes last: it is looked up in the office and may stand anywhere.
    Last,
    /// What comes first.
    First,
}

impl Further<'_> {
    /// The pages; `known` gives the tables of views that are drawn already, `views` draws them.
    pub(super) fn pages(
        &self,
        decided: &mut Decided,
        known: &dyn Fn(usize, &Arrangement) -> Vec<Block>,
        views: Draw,
    ) -> Vec<(usize, Page)> {
        if decided.rounds < DECIDING {
            decided.rounds += 1;
            decided.kept = self.kept(&mut |part, chosen| (None, known(part, chosen)));
        }
        let beside = match &decided.kept {
            Some((kept, first)) => Beside::AllBut(kept, *first),
            None => Beside::None,
        };
        self.laid(beside, views).pages
    }

    /// Which blocks keep from columns beside views of another part.
    fn kept(&self, views: Draw) -> Kept {
        let with_views = self.parts.iter().filter(|part| part.has_views());
        if with_views.count() > MOST_SHARED {
            return None;
        }
        let apart = self.laid(Beside::None, views);
        let ways = [First::Last, First::First].map(|first| {
            let laid = self.laid(Beside::AllBut(&[], first), views);
            (laid, first)
        });
        let (shared, first) = ways.into_iter().min_by_key(|(laid, _)| laid.rank())?;
        // Where section and detail stand apart, there is room beside them for what flowed on.
        let better = match self.content.apart {
            true => shared.pages.len() <= apart.pages.len(),
            false => shared.rank() < apart.rank(),
        };
        if !better {
            return None;
        }
        if self.only_counted {
            return Some((Vec::new(), first));
        }
        // A sheet of blocks that has to be is not left nearly empty.
        let mut candidates = shared.beside.clone();
        candidates.retain(|w| self.place(&w.name) > 0);
        candidates.sort_by_key(|w| self.place(&w.name));
        let (mut kept, mut taken) = (Vec::new(), shared.taken);
        for block in candidates {
            if taken >= WELL_TAKEN {
                break;
            }
            kept.push(block);
            let with = self.laid(Beside::AllBut(&kept, first), views);
            if (with.pages.len(), with.parted) > (shared.pages.len(), shared.parted) {
                kept.pop();
            } else {
                taken = with.taken;
            }
        }
        Some((kept, first))
    }

    /// Every page after the general one.
    fn laid(&self, beside: Beside, views: Draw) -> Laid {
        let mut laid = Laid::none();
        let mut waiting = self.left.to_vec();
        for (part, sheet) in self.parts.iter().enumerate().skip(1) {
            if sheet.has_views() {
                waiting = self.with_views(part, waiting, beside, views, &mut laid);
            }
        }
        waiting.sort_by_key(|w| self.place(&w.name));
        let bare = self.bare(&waiting, laid.pages.len());
        laid.parted += bare.parted;
        laid.breaks += bare.breaks;
        laid.taken = bare.taken;
        laid.pages.extend(bare.pages);
        laid.pages.sort_by_key(|(part, _)| *part);
        laid
    }

    /// Blocks go in the order of their parts; first what flowed on from the general sheet under its
    /// own title, and the notes last.
    fn place(&self, name: &str) -> usize {
        if name == NOTES {
            return self.parts.len();
        }
        let found = self.parts.iter().position(|part| part.name == name);
        found.unwrap_or(0)
    }

    /// The page of a part with views; gives back what waits after it.
    fn with_views(
        &self,
        part: usize,
        mut waiting: Vec<Waiting>,
        shared: Beside,
        views: Draw,
        laid: &mut Laid,
    ) -> Vec<Waiting> {
        let sheet = &self.parts[part];
        let (mut others, kept): (Vec<Waiting>, Vec<Waiting>) = match shared {
            Beside::None => (Vec::new(), waiting),
            Beside::AllBut(kept, _) => waiting.into_iter().partition(|w| !kept.contains(w)),
        };
        waiting = kept;
        // The key to the signs of a view stands beside it, whatever else moves on.
        let (keys, rest): (Vec<&Block>, Vec<&Block>) =
            sheet.blocks.iter().partition(|block| block.is_key());
        let mut blocks: Vec<Block> = keys.iter().chain(&rest).copied().cloned().collect();
        blocks.extend(others.iter().map(|w| w.block.clone()));
        let wanted = Wanted {
            plan: sheet.plan.as_deref(),
            sections: &sheet.sections,
            detail: sheet.detail.as_ref(),
            essential: keys.len(),
            blocks: &blocks,
        };
        let chosen = arrange::further(self.content, wanted, self.set);
        let (view, keyed) = views(part, &chosen);
        let empty = Flow::new(chosen.columns.clone(), self.content.languages);
        let in_order: Vec<&Block> = keyed.iter().chain(&sheet.blocks).collect();
        let (mut flow, mut left) = own(empty.clone(), &in_order);
        if left.iter().any(|(whole, _)| whole.is_key()) {
            let keys_first: Vec<&Block> = keys.into_iter().chain(&keyed).chain(rest).collect();
            (flow, left) = own(empty, &keys_first);
        }
        for (whole, rest) in left {
            laid.parted += usize::from(rest != *whole);
            waiting.push(Waiting::one_of_several(&sheet.name, whole.clone()).rest(rest));
        }
        let mut beside = Vec::new();
        others.sort_by_key(|w| self.place(&w.name));
        if let Beside::AllBut(_, First::Last) = shared {
            // What flowed on from the general sheet stands as near to it as it can.
            let flowed = others.partition_point(|w| self.place(&w.name) == 0);
            others[flowed..].sort_by_key(|w| std::cmp::Reverse(self.place(&w.name)));
        }
        for other in others {
            if !flow.put_as_it_is(&other.block) {
                waiting.push(other);
                continue;
            }
            beside.push(other);
        }
        let mut names = vec![sheet.name.clone()];
        names.extend(tables::called(&beside));
        laid.beside.extend(beside);
        laid.breaks += flow.breaks;
        let page = Page {
            names,
            view,
            arrangement: chosen,
            text: flow.items,
            left_off: Vec::new(),
        };
        laid.pages.push((part, page));
        waiting
    }

    /// The sheets of blocks alone.
    fn bare(&self, waiting: &[Waiting], before: usize) -> Laid {
        let ways = [tables::Keep::Together, tables::Keep::InOrder];
        let [together, in_order] = ways.map(|keep| self.bare_so(waiting, before, keep));
        match together.rank() <= in_order.rank() {
            true => together,
            false => in_order,
        }
    }

    fn bare_so(&self, waiting: &[Waiting], before: usize, keep: tables::Keep) -> Laid {
        let (mut waiting, mut laid) = (waiting.to_vec(), Laid::none());
        let most = MOST.saturating_sub(before + 1).max(1);
        let languages = self.content.languages;
        while !waiting.is_empty() && laid.pages.len() < most {
            let last = laid.pages.len() + 1 == most;
            let full = last.then(|| left_off::last(self.set, &waiting, languages));
            let (filled, left_off) = full.flatten().unwrap_or_else(|| {
                let filled = tables::fill(self.set, &waiting, keep, languages);
                (filled, Vec::new())
            });
            laid.parted += filled.parted;
            laid.breaks += filled.breaks;
            laid.taken = laid.taken.min(filled.taken);
            let page = Page {
                view: None,
                arrangement: self.set.clone(),
                text: filled.items,
                names: tables::called(&filled.stands),
                left_off,
            };
            let first = filled.stands.iter().map(|w| self.place(&w.name)).min();
            let first = match page.left_off.is_empty() {
                true => first.unwrap_or(0),
                false => usize::MAX,
            };
            laid.pages.push((first, page));
            waiting = filled.left;
        }
        laid
    }
}

/// The blocks of a view's sheet put beside it in that order, and what of them found no room, each
/// with what it was.
fn own<'b>(mut flow: Flow, blocks: &[&'b Block]) -> (Flow, Vec<(&'b Block, Block)>) {
    let mut left = Vec::new();
    for block in blocks {
        let rest = if flow.put_all(block) {
            None
        } else if block.height(zones::NARROW) < SHORT {
            Some((*block).clone())
        } else {
            flow.put(block)
        };
        left.extend(rest.map(|rest| (*block, rest)));
    }
    (flow, left)
}
