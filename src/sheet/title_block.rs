//! The title block with its revision table.
//!
//! In: who, where, when, and which sheet of how many. Out: items in a box at the bottom right of
//! the sheet, or along the whole foot of a small one, where a corner of it would be a fifth of the
//! paper. Fields follow ISO 7200 (title, number, date, sheet, created by, approved by,
//! revision); scale, units and site are added beside them. What the job does not state is left
//! blank: a name that checks the sheet is written by hand. Paper millimetres.

use super::lettering::{HEADING, NOTE, PITCH, TITLE, fitted, wrap};
use super::pen;
use crate::draw::paper::{Orientation, Paper, Rect};
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
/// How much farther the first and the last row keep from the outline, which is heavier than the
/// other lines.
const CLEAR: f64 = 0.8;
/// Breadth from which a block along the foot has its fields in two rows; narrower ones have three.
const WIDE: f64 = 230.0;
/// Height of a row of the revision table.
const REVISION: f64 = 5.2;

/// Where the title block of a sheet stands, and how high it is, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// In the bottom right corner.
    Corner(f64),
    /// Along the whole foot.
    Foot(f64),
}

impl TitleBlock {
    /// Where it stands on a paper.
    pub fn standing(&self, paper: Paper, turned: Orientation) -> Standing {
        if paper.is_small() {
            let revisions = match self.shown().len() {
                0 => 0,
                shown => 1 + shown.div_ceil(2),
            };
            let rows = match paper.frame(turned).width() >= WIDE {
                true => 2.0,
                false => 3.0,
            };
            Standing::Foot(rows * ROW + 2.0 * CLEAR + REVISION * revisions as f64)
        } else {
            Standing::Corner(self.height())
        }
    }

    /// Height in a corner.
    pub fn height(&self) -> f64 {
        13.0 + 7.0 + 4.0 * ROW + REVISION * (self.shown().len() + 1) as f64
    }

    /// The revisions shown: the newest six.
    fn shown(&self) -> &[[String; 3]] {
        &self.revisions[self.revisions.len().saturating_sub(6)..]
    }

    /// Draws it on a paper; `room` is its place with the height from [`TitleBlock::standing`].
    pub fn draw(&self, room: Rect, paper: Paper) -> Vec<Item> {
        match paper.is_small() {
            false => self.in_corner(room),
            true => self.along_foot(room),
        }
    }

    fn in_corner(&self, room: Rect) -> Vec<Item> {
        let languages = self.languages;
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let (left, width) = (room.left, room.width());
        let mut items = vec![boxed(room)];
        let across = |y: f64| pen::line(Pt::new(left, y), Pt::new(room.right, y), thin);
        let mut y = self.revision_table(&mut items, room, self.shown(), self.shown().len());
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
        let sheet = self.number_words();
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

    /// Revisions under their heads, with room for so many; gives the y below them.
    fn revision_table(
        &self,
        items: &mut Vec<Item>,
        room: Rect,
        shown: &[[String; 3]],
        rows: usize,
    ) -> f64 {
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let across = |y: f64| pen::line(Pt::new(room.left, y), Pt::new(room.right, y), thin);
        let languages = self.languages;
        let columns = [2.0, 12.0, 34.0].map(|x| room.left + x);
        let mut y = room.top;
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
        for revision in shown {
            for (k, x) in columns.iter().enumerate() {
                let limit = columns.get(k + 1).copied().unwrap_or(room.right) - x - 1.0;
                let words = fitted(&revision[k], NOTE, Face::Regular, limit);
                let at = Pt::new(*x, y + REVISION - 1.2);
                items.push(pen::text(at, NOTE, Anchor::Start, &words));
            }
            y += REVISION;
            items.push(across(y));
        }
        y + REVISION * (rows - shown.len()) as f64
    }

    /// Title and what the sheet shows to the left, fields in two or three rows to the right of them,
    /// revisions above.
    fn along_foot(&self, room: Rect) -> Vec<Item> {
        let languages = self.languages;
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let mut items = vec![boxed(room)];
        let shown = self.shown();
        let rows = shown.len().div_ceil(2);
        let mut y = room.top;
        if rows > 0 {
            let half = room.centre().x;
            let (older, newer) = shown.split_at(rows);
            let left = Rect {
                right: half,
                ..room
            };
            let right = Rect { left: half, ..room };
            y = self.revision_table(&mut items, left, older, rows);
            if !newer.is_empty() {
                self.revision_table(&mut items, right, newer, rows);
                items.push(pen::line(Pt::new(half, room.top), Pt::new(half, y), thin));
            }
        }
        let split = room.left + room.width() * 0.42;
        items.push(pen::line(
            Pt::new(split, y),
            Pt::new(split, room.bottom),
            thin,
        ));
        let words = Rect {
            top: y,
            right: split,
            ..room
        };
        self.title_in(&mut items, words);
        let first_row = y;
        y += CLEAR;
        let first = match &self.scale {
            Some(scale) => (say!(languages, "Scale of plan"), scale),
            None => (say!(languages, "Paper"), &self.paper),
        };
        let sheet = self.number_words();
        let client = (say!(languages, "Client"), &self.client);
        let site = (say!(languages, "Site"), &self.site);
        let prepared = (say!(languages, "Prepared by"), &self.prepared);
        let checked = (say!(languages, "Checked by"), &self.checked);
        let number = (say!(languages, "Number"), &self.number);
        let date = (say!(languages, "Date"), &self.date);
        let units = (say!(languages, "Units"), &self.units);
        let which = (say!(languages, "Sheet"), &sheet);
        // Each field with its share of the row's breadth.
        let rows = match room.width() >= WIDE {
            true => vec![
                vec![
                    (client, 0.25),
                    (site, 0.29),
                    (prepared, 0.23),
                    (checked, 0.23),
                ],
                vec![
                    (first, 0.22),
                    (units, 0.34),
                    (number, 0.16),
                    (date, 0.15),
                    (which, 0.13),
                ],
            ],
            false => vec![
                vec![(client, 0.5), (site, 0.5)],
                vec![
                    (prepared, 0.28),
                    (checked, 0.28),
                    (number, 0.22),
                    (date, 0.22),
                ],
                vec![(first, 0.3), (units, 0.52), (which, 0.18)],
            ],
        };
        let count = rows.len();
        for (index, row) in rows.into_iter().enumerate() {
            if index > 0 {
                items.push(pen::line(Pt::new(split, y), Pt::new(room.right, y), thin));
            }
            let mut x = split;
            for (k, ((head, words), share)) in row.into_iter().enumerate() {
                let wide = (room.right - split) * share;
                if k > 0 {
                    let foot = match index + 1 == count {
                        true => room.bottom,
                        false => y + ROW,
                    };
                    let from = if index == 0 { first_row } else { y };
                    items.push(pen::line(Pt::new(x, from), Pt::new(x, foot), thin));
                }
                self.field(&mut items, Pt::new(x, y), wide, &head, words);
                x += wide;
            }
            y += ROW;
        }
        items
    }

    /// Title over what the sheet shows, each as large as its place takes.
    fn title_in(&self, items: &mut Vec<Item>, room: Rect) {
        let limit = room.width() - 4.0;
        let height = [super::lettering::VIEW, HEADING]
            .into_iter()
            .find(|h| super::lettering::width(&self.title, *h, Face::SemiBold) <= limit)
            .unwrap_or(HEADING);
        let title = within(&self.title, height, Face::SemiBold, limit, 2);
        let mut base = room.top + 2.0 + height;
        for line in &title {
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::bold(at, height, Anchor::Start, line));
            base += height * 1.4;
        }
        let shows = &self.shows;
        let fits = super::lettering::width(shows, HEADING, Face::Regular) <= limit;
        let (low, down) = if fits { (HEADING, 5.6) } else { (NOTE, 4.6) };
        base += down - height * 1.4;
        let pitch = NOTE * PITCH + 0.2;
        let most = ((room.bottom - 1.2 - base) / pitch + 1.0).floor().max(1.0) as usize;
        for line in within(shows, low, Face::Regular, limit, most) {
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::text(at, low, Anchor::Start, &line));
            base += pitch;
        }
    }

    /// Which sheet of how many.
    fn number_words(&self) -> String {
        say!(
            self.languages,
            "{number} of {count}",
            number = self.sheet.0,
            count = self.sheet.1
        )
    }

    fn draw_title(&self, items: &mut Vec<Item>, room: Rect, top: f64) -> f64 {
        let limit = room.width() - 4.0;
        let height = [TITLE, super::lettering::VIEW, HEADING]
            .into_iter()
            .find(|h| super::lettering::width(&self.title, *h, Face::SemiBold) <= limit)
            .unwrap_or(HEADING);
        let fits = super::lettering::width(&self.shows, HEADING, Face::Regular) <= limit;
        // Two lines of what the sheet shows need the pitch of notes, so the title moves up.
        let lift = if fits { 0.0 } else { 0.5 };
        let lines = within(&self.title, height, Face::SemiBold, limit, 2);
        let step = 13.0 / lines.len().max(1) as f64;
        for (i, line) in lines.iter().enumerate() {
            let base = top - lift + step * i as f64 + (step + height) / 2.0;
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::bold(at, height, Anchor::Start, line));
        }
        let (height, first) = if fits { (HEADING, 4.4) } else { (NOTE, 1.5) };
        let lines = within(&self.shows, height, Face::Regular, limit, 2);
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

/// The box of a block.
fn boxed(room: Rect) -> Item {
    let heavy = pen::solid(LineWidth::W70, Colour::BLACK);
    let at = Pt::new(room.left, room.top);
    let (wide, high) = (room.width(), room.height());
    pen::rect(at, wide, high, Some(heavy), Some(Colour::WHITE))
}

/// Words in at most so many lines, the last cut short where they take more.
fn within(words: &str, height: f64, face: Face, limit: f64, most: usize) -> Vec<String> {
    let mut lines = wrap(words, height, face, limit);
    if lines.len() > most {
        let rest = lines.split_off(most - 1).join(" ");
        lines.push(fitted(&rest, height, face, limit));
    }
    lines
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
        let corner = Pt::new(90.0, block.height());
        let foot = |turned| {
            let Standing::Foot(high) = block.standing(Paper::A4, turned) else {
                panic!("a small sheet has it along its foot");
            };
            (Paper::A4, Pt::new(Paper::A4.frame(turned).width(), high))
        };
        for (paper, to) in [
            (Paper::A3, corner),
            foot(Orientation::Portrait),
            foot(Orientation::Landscape),
        ] {
            let room = Rect::between(Pt::default(), to);
            let drawn = block.draw(room, paper);
            let words: Vec<String> = drawn
                .iter()
                .filter_map(|item| match item {
                    Item::Text(text) => Some(text.text.clone()),
                    _ => None,
                })
                .collect();
            assert!(words.iter().all(|w| !w.contains('…')), "{words:?}");
            assert!(words.join(" ").contains(&block.shows));
            assert!(words.contains(&block.units));
            let heights = drawn.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text.at.y),
                _ => None,
            });
            assert!(heights.fold(0.0, f64::max) < room.bottom, "{words:?}");
        }
    }
}
