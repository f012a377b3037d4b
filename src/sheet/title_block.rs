//! The title block with its revision table.
//!
//! In: who, where, when, and which sheet of how many. Out: items in a box at the bottom right of
//! the sheet. Fields follow ISO 7200 (title, number, date, sheet, created by, approved by,
//! revision); scale, units and site are added beside them. What the job does not state is left
//! blank: a name that checks the sheet is written by hand. Paper millimetres.

use super::lettering::{HEADING, NOTE, PITCH, TITLE, fitted, wrap};
use super::pen;
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Pt};
use crate::language::{Languages, say};

/// What the title block says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TitleBlock {
    /// Languages of its words.
    pub languages: Languages,
    /// Title of the job.
    pub title: String,
    /// What this sheet shows.
    pub shows: String,
    /// Number of the job.
    pub number: String,
    /// Client.
    pub client: String,
    /// Address of the site.
    pub site: String,
    /// Who prepared it.
    pub prepared: String,
    /// Who checked it.
    pub checked: String,
    /// Date.
    pub date: String,
    /// Scale of the plan; none on a sheet without one.
    pub scale: Option<String>,
    /// Name of the paper.
    pub paper: String,
    /// Units of what is printed.
    pub units: String,
    /// Sheet and number of sheets.
    pub sheet: (usize, usize),
    /// Revisions: mark, date, note.
    pub revisions: Vec<[String; 3]>,
}

/// Height of a row of fields.
const ROW: f64 = 9.4;
/// Height of a row of the revision table.
const REVISION: f64 = 5.2;

impl TitleBlock {
    /// Height at that width.
    pub fn height(&self) -> f64 {
        13.0 + 7.0 + 4.0 * ROW + REVISION * (self.shown().len() + 1) as f64
    }

    /// The revisions shown: the newest six.
    fn shown(&self) -> &[[String; 3]] {
        &self.revisions[self.revisions.len().saturating_sub(6)..]
    }

    /// Draws it; `room` is its place with the height from [`TitleBlock::height`].
    pub fn draw(&self, room: Rect) -> Vec<Item> {
        let languages = self.languages;
        let heavy = pen::solid(LineWidth::W70, Colour::BLACK);
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let (left, width) = (room.left, room.width());
        let mut items = vec![pen::rect(
            Pt::new(left, room.top),
            width,
            room.height(),
            Some(heavy),
            Some(Colour::WHITE),
        )];
        let across = |y: f64| pen::line(Pt::new(left, y), Pt::new(room.right, y), thin);
        let mut y = room.top;
        let columns = [left + 2.0, left + 12.0, left + 34.0];
        let base = y + REVISION - 1.0;
        for (x, head) in columns.iter().zip([
            say!(languages, "Rev"),
            say!(languages, "Date"),
            say!(languages, "Revision"),
        ]) {
            items.push(pen::bold(Pt::new(*x, base), NOTE, Anchor::Start, &head));
        }
        y += REVISION;
        items.push(across(y));
        for revision in self.shown() {
            for (k, x) in columns.iter().enumerate() {
                let limit = columns.get(k + 1).copied().unwrap_or(room.right) - x - 1.0;
                let words = fitted(&revision[k], NOTE, Face::Regular, limit);
                let at = Pt::new(*x, y + REVISION - 1.2);
                items.push(pen::text(at, NOTE, Anchor::Start, &words));
            }
            y += REVISION;
            items.push(across(y));
        }
        y = self.draw_title(&mut items, room, y);
        items.push(across(y));
        let half = left + width * 0.5;
        let third = left + width / 3.0;
        let first = match &self.scale {
            Some(scale) => (say!(languages, "Scale of plan"), scale),
            None => (say!(languages, "Paper"), &self.paper),
        };
        let rows = [
            (
                half,
                [
                    (say!(languages, "Client"), &self.client),
                    (say!(languages, "Site"), &self.site),
                ],
            ),
            (
                half,
                [
                    (say!(languages, "Prepared by"), &self.prepared),
                    (say!(languages, "Checked by"), &self.checked),
                ],
            ),
            // Scales and papers are short, units are not.
            (third, [first, (say!(languages, "Units"), &self.units)]),
        ];
        for (split, [one, other]) in rows {
            self.field(&mut items, Pt::new(left, y), split - left, &one.0, one.1);
            self.field(
                &mut items,
                Pt::new(split, y),
                room.right - split,
                &other.0,
                other.1,
            );
            items.push(pen::line(Pt::new(split, y), Pt::new(split, y + ROW), thin));
            y += ROW;
            items.push(across(y));
        }
        let sheet = say!(
            languages,
            "{number} of {count}",
            number = self.sheet.0,
            count = self.sheet.1
        );
        let step = width / 3.0;
        for (k, (head, words)) in [
            (say!(languages, "Number"), &self.number),
            (say!(languages, "Date"), &self.date),
            (say!(languages, "Sheet"), &sheet),
        ]
        .into_iter()
        .enumerate()
        {
            let x = left + step * k as f64;
            self.field(&mut items, Pt::new(x, y), step, &head, words);
            if k > 0 {
                items.push(pen::line(Pt::new(x, y), Pt::new(x, room.bottom), thin));
            }
        }
        items
    }

    fn draw_title(&self, items: &mut Vec<Item>, room: Rect, top: f64) -> f64 {
        let limit = room.width() - 4.0;
        let height = [TITLE, super::lettering::VIEW, HEADING]
            .into_iter()
            .find(|h| super::lettering::width(&self.title, *h, Face::SemiBold) <= limit)
            .unwrap_or(HEADING);
        let mut lines = wrap(&self.title, height, Face::SemiBold, limit);
        if lines.len() > 2 {
            let rest = lines.split_off(1).join(" ");
            lines.push(fitted(&rest, height, Face::SemiBold, limit));
        }
        let fits = super::lettering::width(&self.shows, HEADING, Face::Regular) <= limit;
        // Two lines of what the sheet shows need the pitch of notes, so the title moves up.
        let lift = if fits { 0.0 } else { 0.5 };
        let step = 13.0 / lines.len().max(1) as f64;
        for (i, line) in lines.iter().enumerate() {
            let base = top - lift + step * i as f64 + (step + height) / 2.0;
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::bold(at, height, Anchor::Start, line));
        }
        let (height, first) = if fits { (HEADING, 4.4) } else { (NOTE, 1.5) };
        let mut lines = wrap(&self.shows, height, Face::Regular, limit);
        if lines.len() > 2 {
            let rest = lines.split_off(1).join(" ");
            lines.push(fitted(&rest, height, Face::Regular, limit));
        }
        for (i, line) in lines.iter().enumerate() {
            let base = top + 13.0 + first + i as f64 * (NOTE * PITCH + 0.2);
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::text(at, height, Anchor::Start, line));
        }
        top + 20.0
    }

    fn field(&self, items: &mut Vec<Item>, at: Pt, width: f64, head: &str, words: &str) {
        let x = at.x + 2.0;
        let mut label = pen::text(Pt::new(x, at.y + 4.0), NOTE, Anchor::Start, head);
        if let Item::Text(text) = &mut label {
            text.colour = pen::GREY;
        }
        items.push(label);
        let words = fitted(words, NOTE, Face::SemiBold, width - 3.0);
        items.push(pen::bold(
            Pt::new(x, at.y + 8.0),
            NOTE,
            Anchor::Start,
            &words,
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a sheet shows, its units and its paper are said whole, in the narrowest block.
    #[test]
    fn nothing_that_the_program_writes_is_cut_short() {
        let block = TitleBlock {
            title: "Rear garden landing".to_string(),
            shows: "Set-out and levels; Survey; Panels and cutting list; Hold points; \
                    Hours and prices; Checks and other notes"
                .to_string(),
            paper: "Tabloid".to_string(),
            units: "Feet and inches; levels in feet".to_string(),
            sheet: (2, 4),
            ..TitleBlock::default()
        };
        let room = Rect::between(Pt::new(0.0, 0.0), Pt::new(90.0, block.height()));
        let words: Vec<String> = block
            .draw(room)
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) => Some(text.text.clone()),
                _ => None,
            })
            .collect();
        assert!(words.iter().all(|w| !w.contains('…')), "{words:?}");
        assert!(words.join(" ").contains(&block.shows));
        assert!(words.contains(&block.units));
    }
}
