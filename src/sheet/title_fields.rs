//! The fields of a title block: heads and words, in the order of ISO 7200, and how one is drawn.
//!
//! In: the title block. Out: its fields; items of one in its box. Paper millimetres, y down.

use super::lettering::{NOTE, fitted};
use super::pen;
use super::title_block::TitleBlock;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::language::say;

/// The fields of a block.
pub struct Fields {
    /// Client.
    pub client: Field,
    /// Address of the site.
    pub site: Field,
    /// Who prepared it.
    pub prepared: Field,
    /// Who checked it.
    pub checked: Field,
    /// Number of the job.
    pub number: Field,
    /// Date.
    pub date: Field,
    /// Scale of the plan, or on a sheet without one the paper.
    pub scale_or_paper: Field,
    /// Units of what is printed.
    pub units: Field,
    /// Which sheet of how many.
    pub sheet: Field,
}

/// A field: its head and what stands under it.
pub struct Field {
    head: String,
    words: String,
}

impl Fields {
    /// Those of a title block.
    pub fn of(block: &TitleBlock) -> Self {
        let languages = block.languages;
        let (number, count) = block.sheet;
        let field = |head: String, words: &str| Field {
            head,
            words: words.to_string(),
        };
        Self {
            client: field(say!(languages, "Client"), &block.client),
            site: field(say!(languages, "Site"), &block.site),
            prepared: field(say!(languages, "Prepared by"), &block.prepared),
            checked: field(say!(languages, "Checked by"), &block.checked),
            number: field(say!(languages, "Number"), &block.number),
            date: field(say!(languages, "Date"), &block.date),
            scale_or_paper: match &block.scale {
                Some(scale) => field(say!(languages, "Scale of plan"), scale),
                None => field(say!(languages, "Paper"), &block.paper),
            },
            units: field(say!(languages, "Units"), &block.units),
            sheet: field(
                say!(languages, "Sheet"),
                &say!(languages, "{number} of {count}", number, count),
            ),
        }
    }
}

impl Field {
    /// Draws it from its top left corner on, the words cut short where they are too long.
    pub fn draw(&self, items: &mut Vec<Item>, at: Pt, width: f64) {
        let x = at.x + 2.0;
        let mut head = pen::text(Pt::new(x, at.y + 4.0), NOTE, Anchor::Start, &self.head);
        if let Item::Text(text) = &mut head {
            text.colour = pen::GREY;
        }
        items.push(head);
        let words = fitted(&self.words, NOTE, Face::SemiBold, width - 3.0);
        let base = Pt::new(x, at.y + 8.0);
        items.push(pen::bold(base, NOTE, Anchor::Start, &words));
    }
}
